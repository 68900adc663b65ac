"""`dxf2veneer job new` and `dxf2veneer job check`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.cli.errors import in_one_line, write_new
from dxf2veneer.cli.jobs import named_files
from dxf2veneer.cli.options import FILE
from dxf2veneer.config.job import load_job, new_job_text
from dxf2veneer.wording.table import safe


@click.group()
def job() -> None:
    """Write or check a job file."""


@job.command("new")
@click.argument("file", type=FILE, default=Path("job.toml"))
def job_new(file: Path) -> None:
    """Write a commented job file with every setting at its default."""
    write_new(file, new_job_text(), "take away the # before a setting to change it")


@job.command("check")
@click.argument("file", type=FILE)
def job_check(file: Path) -> None:
    """Say whether a job file, and the product and price files it names, are right.

    Where one is not, say which line is wrong.
    """
    with in_one_line():
        checked = load_job(file)
        product, prices = named_files(checked)
    named = f"product {product.product.name}, {len(prices.items)} prices"
    click.echo(safe(f"{file} is right: {len(checked.origins)} settings, {named}"))
