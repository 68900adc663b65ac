"""`dxf2veneer job new` and `dxf2veneer job check`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.cli.making import job_of
from dxf2veneer.cli.options import FILE
from dxf2veneer.config.job import new_job_text
from dxf2veneer.config.settings import SettingsError
from dxf2veneer.wording import error_line
from dxf2veneer.wording.table import safe


@click.group()
def job() -> None:
    """Write or check a job file."""


@job.command("new")
@click.argument("file", type=FILE, default=Path("job.toml"))
def job_new(file: Path) -> None:
    """Write a commented job file with every setting at its default."""
    from dxf2veneer.textio.whole_files import write_whole

    if file.exists():
        raise click.UsageError(
            safe(f"{file} is there already; name another file, or take it away first")
        )
    try:
        write_whole(file, lambda draft: draft.write_text(new_job_text(), encoding="utf-8"))
    except OSError as error:
        raise click.ClickException(safe(f"can't write {file}: {error.strerror}")) from None
    click.echo(safe(f"{file} written; take away the # before a setting to change it"))


@job.command("check")
@click.argument("file", type=FILE)
def job_check(file: Path) -> None:
    """Say whether a job file, and the product and price files it names, are right, and which line is wrong."""
    from dxf2veneer.config.product import load_product
    from dxf2veneer.order.alternates import prices_of

    checked = job_of(file, {})
    try:
        product = load_product(checked.product_path)
        for other in filter(None, map(checked.alternate_path, checked.bid.alternates)):
            load_product(other)
        prices = prices_of(checked)
    except SettingsError as error:
        raise click.UsageError(safe(error_line(error))) from None
    click.echo(
        safe(
            f"{file} is right: {len(checked.origins)} settings, product {product.product.name}, {len(prices.items)} prices"
        )
    )
