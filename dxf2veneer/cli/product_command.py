"""`dxf2veneer product new` and `dxf2veneer product check`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.cli.errors import in_one_line, write_new
from dxf2veneer.cli.options import FILE
from dxf2veneer.config.product import load_product, new_product_text
from dxf2veneer.wording.table import safe


@click.group()
def product() -> None:
    """Write or check a product file: the panel that you buy."""


@product.command("new")
@click.argument("file", type=FILE, default=Path("panel.toml"))
def product_new(file: Path) -> None:
    """Write a commented product file that asks for the panel's sizes, packages and weights."""
    write_new(
        file, new_product_text(), f"fill it in from the maker's sheet, then: --product {file}"
    )


@product.command("check")
@click.argument("file", type=FILE)
def product_check(file: Path) -> None:
    """Say whether a product file is right, and which of its numbers the demo product stands in for.

    Where it is not, say which line is wrong.
    """
    with in_one_line():
        found = load_product(file)
    invented = sum(1 for key, _ in found.comments if found.is_invented(key))
    told = f"{len(found.comments) - invented} values given"
    stand_in = ", ".join(dict.fromkeys(key.partition(".")[0] for key in found.generic))
    lacking = f"; the demo product stands in for values of: {stand_in}" if stand_in else ""
    marked = f", {invented} marked as invented" if invented else ""
    click.echo(safe(f"{file} is right: {told}{marked}{lacking}"))
