"""The job of a command, from its job file and options, and the files that a job names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dxf2veneer.app.outputs import Asked
from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job, load_job

if TYPE_CHECKING:
    from dxf2veneer.config.product import Product
    from dxf2veneer.order import Prices


def job_asked(asked: Asked) -> Job:
    """The job that a takeoff was asked for.

    Args:
        asked: Job file and options.

    Returns:
        The job.

    Raises:
        SettingsError: A setting is wrong, no wall layer is named, or a PDF can't be made.
    """
    job = load_job(asked.job_file, asked.settings)
    if not (job.layers.wall or job.drawing.wall_outline or job.walls.rows):
        raise SettingsError(message("wall-layer-not-named"))
    _check_endings(asked)
    if asked.pdf_file or (asked.bid_file and asked.bid_file.suffix.lower() != ".xlsx"):
        from dxf2veneer.writers.report import pdf

        if not pdf.is_available():
            raise SettingsError(message("pdf-not-available", install=pdf.INSTALL))
    return job


def _check_endings(asked: Asked) -> None:
    """The customer's bid and the request are files of kinds that can be made; with ``--each`` the
    options name folders. Raises SettingsError."""
    kinds = (
        ("--bid", asked.bid_file, (".xlsx", ".pdf")),
        ("--request", asked.request_file, (".xlsx", ".csv")),
    )
    for option, file, endings in kinds:
        if file and file.suffix and file.suffix.lower() not in endings:
            what = message("ending-unknown", option=option, file=str(file), endings=endings)
            raise SettingsError(what)


def named_files(job: Job) -> tuple[Product, Prices]:
    """Read every file that a job names.

    Args:
        job: Names product and price file, and the product files of alternates.

    Returns:
        The job's own product, and the prices.

    Raises:
        SettingsError: One of them can't be used.
    """
    from dxf2veneer.config.product import load_product
    from dxf2veneer.order.alternates import prices_of

    product = load_product(job.product_path)
    for other in filter(None, map(job.alternate_path, job.bid.alternates)):
        load_product(other)
    return product, prices_of(job)
