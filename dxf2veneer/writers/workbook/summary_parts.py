"""Parts of the summary below its boxes: walls, drawings, notices, cautions."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from openpyxl.styles import Alignment
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.basics.notices import Level
from dxf2veneer.model import Drawing, Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.words import file_name
from dxf2veneer.writers.workbook.cells import (
    PlacedTable,
    font,
    place,
    put,
    put_text,
    style_header,
    style_total,
)
from dxf2veneer.writers.workbook.checks import level_word
from dxf2veneer.writers.workbook.columns import CAUTIONS_SHOWN, Column, Display, Formula, Row
from dxf2veneer.writers.workbook.page import write_note

WIDTH = 8


WIDTHS = (11, 24, 12, 13, 12, 12, 12, 15)


LINE = 112
"""Characters that fit on one line across the page."""


UNITS_FROM = {"header": "file header", "option": "option", "job": "job file"}


@dataclass(frozen=True)
class Sources:
    """The tables that the summary adds up."""

    walls: PlacedTable
    openings: PlacedTable
    trim: PlacedTable
    corners: PlacedTable
    edges: PlacedTable
    notices: PlacedTable
    panels: PlacedTable | None = None
    """The panels by wall; None for an estimate by area."""

    def corner_run(self, kind: str) -> str:
        """Formula text: run of the corners of one kind."""
        return self.corners.sum_where("run", kind=f'"{kind}"')


def write_headings(sheet: Worksheet, row: int, texts: dict[str, str]) -> None:
    """Write headings over columns of the summary.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        texts: Headings by the letter of their column.
    """
    for letter, text in texts.items():
        cell: Any = sheet[f"{letter}{row}"]
        put_text(cell, text)
        style_header(cell, "left" if letter in "ABEF" else "right")


def write_line(
    sheet: Worksheet, row: int, values: Row, number_format: str, *, bold: bool = False
) -> None:
    """Write one line of the summary.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        values: Values by the letter of their column.
        number_format: Number format of the cell.
        bold: Whether it stands out.
    """
    for letter, value in values.items():
        cell: Any = sheet[f"{letter}{row}"]
        put(cell, value, number_format)
        if isinstance(value, str):
            cell.alignment = Alignment(horizontal="left", vertical="top", indent=1)
        if bold:
            style_total(cell)


def write_walls(
    sheet: Worksheet, row: int, takeoff: Takeoff, display: Display, sources: Sources
) -> int:
    """The walls with their areas and runs.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        takeoff: The takeoff.
        display: Units of the sheets.
        sources: The tables that the summary adds up.

    Returns:
        The last row used.
    """
    area, run = display.area_unit, display.run_unit
    titles = (
        "Wall",
        "Name",
        f"Gross\n{area}",
        f"Deducted\n{area}",
        f"Trim, cap\n{area}",
        f"Net\n{area}",
        f"Starter\n{run}",
        f"Trim stone\n{run}",
    )
    walls, formats = (
        sources.walls,
        ("General", "General", *["#,##0.00"] * 4, *[display.run_format] * 2),
    )
    columns = [
        Column(k, t, w, f, summed=k > "B")
        for k, t, w, f in zip("ABCDEFGH", titles, WIDTHS, formats, strict=True)
    ]
    rows: list[Row] = [
        {
            "A": w.wall.id,
            "B": w.wall.name,
            "C": Formula(walls.cell("gross", n)),
            "D": Formula(walls.cell("deducted", n)),
            "E": Formula(f"{walls.cell('trim', n)}+{walls.cell('cap', n)}"),
            "F": Formula(walls.cell("net", n)),
            "G": Formula(walls.cell("starter", n)),
            "H": Formula(sources.trim.sum_where("all", wall="{A}")),
        }
        for n, w in enumerate(takeoff.walls)
    ]
    return place(sheet, row, columns, rows, empty="no walls", total=True).last + 1


def write_drawings(
    sheet: Worksheet, row: int, takeoff: Takeoff, display: Display, sources: Sources
) -> int:
    """The drawings with their units and sums.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        takeoff: The takeoff.
        display: Units of the sheets.
        sources: The tables that the summary adds up.

    Returns:
        The last row used.
    """
    area = display.area_unit
    titles = (
        "Drawing",
        "File",
        "Unit",
        "Unit from",
        "Walls",
        f"Gross\n{area}",
        f"Net\n{area}",
        "File begins\nSHA-256",
    )
    formats = ("0", "General", "General", "General", "0", "#,##0.00", "#,##0.00", "General")
    columns = [
        Column(k, t, w, f) for k, t, w, f in zip("ABCDEFGH", titles, WIDTHS, formats, strict=True)
    ]
    walls = sources.walls
    rows: list[Row] = [
        {
            "A": d.index + 1,
            "B": file_name(d),
            "C": _unit(d, takeoff),
            "D": UNITS_FROM[d.units_from],
            "E": Formula(f"COUNTIF({walls.range('drawing')},{{A}})"),
            "F": Formula(walls.sum_where("gross", drawing="{A}")),
            "G": Formula(walls.sum_where("net", drawing="{A}")),
            "H": d.sha256[:12],
        }
        for d in takeoff.drawings
    ]
    return place(sheet, row, columns, rows, empty="no drawings").last


def _unit(drawing: Drawing, takeoff: Takeoff) -> str:
    scale = takeoff.job.drawing.scale
    return drawing.units if scale == 1.0 else f"{drawing.units}, scale {scale:g}"


def write_notices(sheet: Worksheet, row: int, takeoff: Takeoff, sources: Sources) -> int:
    """How many notices of each level there are, counted by the sheet.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        takeoff: The takeoff.
        sources: The tables that the summary adds up.

    Returns:
        The last row used.
    """

    def found(word: str) -> str:
        return sources.notices.sum_where("count", level=f'"{word}"')

    write_headings(
        sheet,
        row,
        {"A": "Notices", "B": "", "C": "each", "D": "", "E": "", "F": "", "G": "", "H": ""},
    )
    texts = {
        Level.ERROR: "do not use the numbers before it is cleared up",
        Level.WARNING: "check each one on the sheet Notices",
        Level.INFO: "what was taken and what was left",
    }
    for at, (level, advice) in enumerate(texts.items(), row + 1):
        word = level_word(level)
        write_line(
            sheet,
            at,
            {"A": word, "B": "", "C": Formula(found(word)), "D": advice},
            "#,##0",
        )
        sheet.cell(at, 1).font = font(bold=level is not Level.INFO)
    return row + len(texts)


def write_cautions(sheet: Worksheet, row: int, takeoff: Takeoff) -> int:
    """The cautions, and where all of them stand.

    Args:
        sheet: The sheet.
        row: The first row to fill.
        takeoff: The takeoff.

    Returns:
        The last row used.
    """
    write_note(sheet, row, "Cautions", columns=WIDTH, bold=True)
    shown = [say(caution) for caution in takeoff.cautions[:CAUTIONS_SHOWN]]
    for down, text in enumerate(shown, 1):
        write_note(sheet, row + down, text, columns=WIDTH, lines=math.ceil(len(text) / LINE))
    row += len(shown) + 1
    more = "All cautions, and the settings these numbers rest on, stand on the sheet Assumptions."
    write_note(sheet, row, more, columns=WIDTH)
    return row
