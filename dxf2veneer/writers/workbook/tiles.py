"""The boxes on top of the summary: a number in large type, what it is over it, a word more under
it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from openpyxl.styles import Alignment, Border, Side
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.writers.workbook.cells import ACCENT, font, put_text


@dataclass(frozen=True)
class Tile:
    """One box: its title, the formula in it, and what stands under it: plain words, or a formula
    with its ``=``."""

    title: str
    formula: str
    format: str
    under: str
    under_format: str = "General"

    @property
    def is_live(self) -> bool:
        """Whether what stands under it is a formula too."""
        return self.under.startswith("=")


def write_tiles(sheet: Worksheet, row: int, tiles: Sequence[Tile]) -> None:
    """Write boxes side by side, each two columns wide, on three rows.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        tiles: The boxes, from left to right.
    """
    for box, tile in enumerate(tiles):
        first = 1 + 2 * box
        for offset in range(3):
            sheet.merge_cells(
                start_row=row + offset,
                start_column=first,
                end_row=row + offset,
                end_column=first + 1,
            )
        cells: list[Any] = [sheet.cell(row + offset, first) for offset in range(3)]
        put_text(cells[0], tile.title)
        cells[1].value = f"={tile.formula}"
        cells[1].number_format = tile.format
        if tile.is_live:
            cells[2].value = tile.under
            cells[2].number_format = tile.under_format
        else:
            put_text(cells[2], tile.under)
        _box(sheet, row, first, cells)
    for offset, height in enumerate((18, 30, 18)):
        sheet.row_dimensions[row + offset].height = height


def _box(sheet: Worksheet, row: int, first: int, cells: Sequence[Any]) -> None:
    line = Side(style="medium", color=ACCENT)
    for offset in range(3):
        for side in range(2):
            sheet.cell(row + offset, first + side).border = Border(
                top=line if offset == 0 else None,
                bottom=line if offset == 2 else None,
                left=line if side == 0 else None,
                right=line if side == 1 else None,
            )
    fonts = (font(bold=True, color=ACCENT), font(bold=True, size=20), font(size=10, color="444444"))
    for cell, look in zip(cells, fonts, strict=True):
        cell.font = look
        cell.alignment = Alignment(horizontal="center", vertical="center", shrink_to_fit=True)
