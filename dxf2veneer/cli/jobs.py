"""The job of a command, from its job file and options, and the files that a job names."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dxf2veneer.app.outputs import Asked
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.config.job import Job, load_job

if TYPE_CHECKING:
    from dxf2veneer.config.product import Product
    from dxf2veneer.order import Prices


def job_of(job_file: Path | None, options: Mapping[str, Any]) -> Job:
    """The job of a file, or none, and options.

    Args:
        job_file: The job file.
        options: Values by ``section.key``, None or () where an option was not given.

    Returns:
        The job.

    Raises:
        UsageError: A setting is wrong.
    """
    with in_one_line():
        return load_job(job_file, options)


def job_asked(asked: Asked) -> Job:
    """The job that a takeoff was asked for.

    Args:
        asked: Job file and options.

    Returns:
        The job.

    Raises:
        UsageError: A setting is wrong, no wall layer is named, or a PDF can't be made.
    """
    job = job_of(asked.job_file, asked.settings)
    if not job.layers.wall:
        raise click.UsageError(
            "no wall layer is named; add --wall-layer LAYER or layers.wall in the job file "
            "(dxf2veneer layers DRAWING shows the layers)"
        )
    if asked.pdf_file:
        from dxf2veneer.writers.report import pdf

        if not pdf.is_available():
            raise click.UsageError(f"--pdf: {pdf.INSTALL}")
    return job


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
