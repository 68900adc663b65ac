"""The job of a command, from its job file and options, and the files that a job names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dxf2veneer.app.outputs import Asked
from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job, load_job

if TYPE_CHECKING:
    from pathlib import Path

    from dxf2veneer.config.product import Product
    from dxf2veneer.order import Prices


def job_asked(asked: Asked, *, each: bool = False) -> Job:
    """The job that a takeoff was asked for.

    Args:
        asked: Job file and options.
        each: Whether every drawing is a job of its own, so that options of files name folders.

    Returns:
        The job.

    Raises:
        SettingsError: A setting is wrong, no wall layer is named, or a PDF can't be made.
    """
    job = load_job(asked.job_file, asked.settings)
    refuse_without_walls(job)
    if not each:
        _check_endings(asked)
    if asked.crew_files and not job.plan.panels:
        raise SettingsError(message("crew-sheets-without-plan"))
    if job.before_path and not job.plan.panels:
        raise SettingsError(message("site-before-without-plan"))
    papers = (
        ("--bid", asked.bid_files),
        ("--story-pole", asked.pole_files),
        ("--crew-sheets", asked.crew_files),
    )
    typeset = ["--pdf"] if asked.pdf_file else []
    typeset += [name for name, named in papers if any(each or _is_pdf(file) for file in named)]
    pictures = (("--unfolded", asked.unfolded_files), ("--sketch", asked.sketch_files))
    typeset += [name for name, named in pictures if not each and any(map(_is_png, named))]
    for option in typeset[:1]:
        from dxf2veneer.writers.typeset import is_available

        if not is_available():
            raise SettingsError(message("pdf-not-available", option=option))
    return job


def refuse_without_walls(job: Job) -> None:
    """Refuse a job that does not say what the walls of a drawing are.

    Args:
        job: The settings.

    Raises:
        SettingsError: No wall layer, outline or row is named.
    """
    if not (job.layers.wall or job.drawing.wall_outline or job.walls.rows):
        raise SettingsError(message("wall-layer-not-named"))


def _is_png(file: Path) -> bool:
    return file.suffix.lower() == ".png"


def _is_pdf(file: Path) -> bool:
    return file.suffix.lower() == ".pdf"


def _check_endings(asked: Asked) -> None:
    """Papers are files of kinds that can be made. Raises SettingsError."""
    kinds = (
        ("--bid", asked.bid_files, (".xlsx", ".pdf")),
        ("--request", asked.request_files, (".xlsx", ".csv")),
        ("--story-pole", asked.pole_files, (".pdf", ".svg")),
        ("--unfolded", asked.unfolded_files, (".svg", ".png", ".dxf")),
        ("--sketch", asked.sketch_files, (".svg", ".png")),
        ("--crew-sheets", asked.crew_files, (".pdf", ".dxf")),
    )
    for option, files, endings in kinds:
        for file in files:
            if file.suffix.lower() not in endings:
                what = message("ending-unknown", option=option, file=str(file), endings=endings)
                raise SettingsError(what)


def named_files(job: Job) -> tuple[Product, Prices]:
    """Read every file that a job names.

    Args:
        job: Names product and price file, and the product files of walls and alternates.

    Returns:
        The job's own product, and the prices.

    Raises:
        SettingsError: One of them can't be used.
    """
    from dxf2veneer.config.product import load_product
    from dxf2veneer.order.alternates import prices_of

    product = load_product(job.product_path)
    for other in job.other_products:
        load_product(other)
    return product, prices_of(job)
