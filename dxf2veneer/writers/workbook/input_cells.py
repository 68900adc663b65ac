"""How cells that a person may change look, and what may be typed into them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from openpyxl.styles import PatternFill
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.writers.workbook.cells import PlacedTable, font
from dxf2veneer.writers.workbook.page import widen

INPUT = PatternFill("solid", fgColor="FFF6D6")


def mark_input(cell: Any) -> None:
    """The look of a cell that may be changed.

    Args:
        cell: The cell.
    """
    cell.fill = INPUT
    cell.font = font(color="1F4E9E")


def mark_columns(sheet: Worksheet, placed: PlacedTable, keys: Iterable[str]) -> None:
    """The look of columns that may be changed, in the rows that have a value there.

    Args:
        sheet: The sheet.
        placed: Where the table stands.
        keys: Keys of the columns.
    """
    for key in keys:
        for at in range(placed.first, placed.last + 1):
            cell = sheet[f"{placed.letters[key]}{at}"]
            if cell.value is not None:
                mark_input(cell)


def allow_words(sheet: Worksheet, cells: str, choices: str) -> None:
    """Let cells hold only some words.

    Args:
        sheet: The sheet.
        cells: A range of cells.
        choices: The words, parted by commas.
    """
    rule = DataValidation(
        type="list", formula1=f'"{choices}"', allow_blank=False, showErrorMessage=True
    )
    rule.error = choices.replace(",", " or ")
    rule.add(cells)
    sheet.add_data_validation(rule)


def allow_from_zero(sheet: Worksheet, cells: str, *, more: bool = False) -> None:
    """Only numbers from 0, or above it.

    Args:
        sheet: The sheet.
        cells: A range of cells.
        more: Whether 0 is left out.
    """
    rule = DataValidation(
        type="decimal",
        operator="greaterThan" if more else "greaterThanOrEqual",
        formula1="0",
        allow_blank=not more,
        showErrorMessage=True,
    )
    rule.error = "a number above 0" if more else "a number from 0"
    rule.add(cells)
    sheet.add_data_validation(rule)


def merge_last(sheet: Worksheet, placed: PlacedTable, width: int) -> None:
    """The last column of a table reaches over the rest of the sheet's columns.

    Args:
        sheet: The sheet.
        placed: Where the table stands.
        width: How many columns the sheet has.
    """
    first = len(placed.letters)
    rows = range(placed.header, placed.last + 1)
    widen(sheet, rows, first, width)
    for at in rows:
        sheet.row_dimensions[at].height = (
            15 if at > placed.header else 34 if {"hand", "per"} & set(placed.letters) else 19
        )
