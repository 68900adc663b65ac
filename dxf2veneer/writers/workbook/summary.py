"""The summary: one page for the house, every number of it a live formula over the other sheets.

job name
company, note
[ price ][ net area ][ price per sq ft ][ open questions ]     what people look for first
[ flat boxes ][ corner boxes ][ corners ][ weight ]
[ hours ][ crew days ][ pallets ][ walls ]
open questions
[ net area ][ outside corners ][ inside corners ][ trim ]      read at a glance
[ flat panels ][ corner panels ][ lower bound ][ waste ]       or the estimate by area
areas                    runs
walls
drawings
notices, cautions
"""

from __future__ import annotations

from typing import Any

from openpyxl.styles import Alignment
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import Takeoff
from dxf2veneer.writers.words import by_area_words
from dxf2veneer.writers.workbook.cells import ACCENT, PlacedTable, font, put, put_text
from dxf2veneer.writers.workbook.columns import Display, Formula, Value
from dxf2veneer.writers.workbook.page import set_page
from dxf2veneer.writers.workbook.plan import by_area, faces_rates
from dxf2veneer.writers.workbook.summary_order import OrderCells, write_first
from dxf2veneer.writers.workbook.summary_parts import (
    WIDTH,
    WIDTHS,
    Sources,
    write_cautions,
    write_drawings,
    write_headings,
    write_line,
    write_notices,
    write_walls,
)
from dxf2veneer.writers.workbook.tiles import Tile, write_tiles
from dxf2veneer.writers.workbook.weighted import weighted

_ON_ONE_PAGE = 12
"""Walls and drawings up to which the summary is printed on one page and can be read there."""


def add_summary(
    sheet: Worksheet,
    takeoff: Takeoff,
    display: Display,
    sources: Sources,
    cells: OrderCells | None = None,
) -> None:
    """Fill the summary sheet.

    Args:
        sheet: The sheet.
        takeoff: The takeoff.
        display: Units of the sheets.
        sources: The tables that the summary adds up.
        cells: Where the order stands; None without one.
    """
    for number, width in enumerate(WIDTHS):
        sheet.column_dimensions["ABCDEFGH"[number]].width = width
    _head(sheet, takeoff)
    row = 5
    if takeoff.order and cells:
        last = write_first(sheet, row, takeoff, takeoff.order, display, sources, cells)
        row = last + 2
    _glance(sheet, row, display, sources)
    row = (
        _plan(sheet, row + 4, takeoff, sources.panels)
        if sources.panels
        else _by_area(sheet, row + 4, takeoff, display, sources)
    )
    row = _totals(sheet, row + 2, takeoff, display, sources) + 2
    row = write_walls(sheet, row, takeoff, display, sources) + 2
    row = write_drawings(sheet, row, takeoff, display, sources) + 2
    row = write_notices(sheet, row, takeoff, sources) + 2
    row = write_cautions(sheet, row, takeoff)
    one_page = len(takeoff.walls) + len(takeoff.drawings) <= _ON_ONE_PAGE
    set_page(
        sheet,
        takeoff.job.job.name,
        display,
        last=f"H{row}",
        wide=False,
        header=None,
        one_page=one_page,
    )


def _head(sheet: Worksheet, takeoff: Takeoff) -> None:
    about = takeoff.job.job
    for row, text, look, height in (
        (1, about.name or "Veneer takeoff", font(bold=True, size=18, color=ACCENT), 26),
        (2, about.company, font(bold=True), 16),
        (3, about.note, font(color="444444"), 16),
    ):
        sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=WIDTH)
        cell: Any = sheet.cell(row, 1)
        put_text(cell, text)
        cell.font = look
        cell.alignment = Alignment(vertical="center", shrink_to_fit=True)
        sheet.row_dimensions[row].height = height


def _glance(sheet: Worksheet, row: int, display: Display, sources: Sources) -> None:
    """Four boxes: what a person looks for first."""
    runs = (
        ("Outside corners", sources.corner_run("outside")),
        ("Inside corners", sources.corner_run("inside")),
        ("Trim stone runs", sources.trim.sum("all")),
    )
    net = Tile(
        f"Net area, {display.area_unit}",
        sources.walls.sum("net"),
        "#,##0.00",
        "gross less deducted, trim bands, cap",
    )
    tiles = [
        Tile(
            f"{title}, {display.run_unit}",
            formula,
            display.run_format,
            "=" + display.reading(f"{letter}{row + 1}"),
            '#,##0" mm"',
        )
        for letter, (title, formula) in zip("CEG", runs, strict=True)
    ]
    write_tiles(sheet, row, (net, *tiles))


def _plan(sheet: Worksheet, row: int, takeoff: Takeoff, panels: PlacedTable) -> int:
    """Four boxes: what the course plan buys, beside its lower bound; the last row used."""
    total, bound, ordered = (panels.total(key) for key in ("units", "bound", "by_area"))
    tiles = (
        Tile("Flat panels", panels.total("flat"), "#,##0", "laid out panel by panel"),
        Tile(
            "Corner panels",
            panels.total("corner"),
            "#,##0",
            f"={total}",
            '"flat and corner: "#,##0',
        ),
        Tile("Lower bound", bound, "#,##0", f"={total}-{bound}", '"this layout: "#,##0" more"'),
        Tile(
            "Waste by layout",
            panels.total("waste"),
            "0.0%",
            f"={ordered}",
            '"by area: "#,##0',
        ),
    )
    write_tiles(sheet, row, tiles)
    return row + 2


def _by_area(
    sheet: Worksheet, row: int, takeoff: Takeoff, display: Display, sources: Sources
) -> int:
    """A line for panels estimated by area, and that this is what it is; the last row used."""
    title: Any = sheet[f"A{row}"]
    put_text(title, "Panels, by area")
    title.font = font(bold=True, color=ACCENT)
    title.alignment = Alignment(vertical="center", indent=1)
    sheet.merge_cells(start_row=row, start_column=1, end_row=row, end_column=2)
    number: Any = sheet[f"C{row}"]
    made = takeoff.estimate
    net = weighted(sources.walls, "net", faces_rates(takeoff))
    put(number, made.panels if net is None else Formula(by_area(net, display, takeoff)), "#,##0")
    number.font = font(bold=True, size=20)
    number.alignment = Alignment(horizontal="center", vertical="center", shrink_to_fit=True)
    faces = (f"{display.area(p.coverage_area):.4g}" for p in takeoff.products)
    face = f"{' or '.join(faces)} {display.area_unit}"
    text = (
        f"ESTIMATE: net area / {face} of a panel's face, {by_area_words(made)}. "
        "No panel was laid out; flat and corner panels together."
    )
    sheet.merge_cells(start_row=row, start_column=4, end_row=row, end_column=WIDTH)
    cell: Any = sheet.cell(row, 4)
    put_text(cell, text)
    cell.font = font(bold=True)
    cell.alignment = Alignment(wrap_text=True, vertical="center", indent=1)
    sheet.row_dimensions[row].height = 34
    return row


def _totals(
    sheet: Worksheet, row: int, takeoff: Takeoff, display: Display, sources: Sources
) -> int:
    """Areas and counts on the left, runs on the right; the last row used."""
    walls = sources.walls
    areas = (
        ("Gross", "gross"),
        ("Openings, all", "openings"),
        ("Openings deducted", "deducted"),
        ("Trim bands", "trim"),
        ("Cap", "cap"),
        ("Net", "net"),
    )
    write_headings(sheet, row, {"A": "Areas", "B": "", "C": display.area_unit})
    for at, (title, key) in enumerate(areas, row + 1):
        cells: dict[str, Value] = {"A": title, "B": "", "C": Formula(walls.sum(key))}
        write_line(sheet, at, cells, "#,##0.00", bold=key == "net")
    at = row + len(areas) + 1
    counts = {
        "Walls": len(takeoff.walls),
        "Openings": takeoff.totals.openings,
        "Corners counted": len(takeoff.corners),
    }
    write_headings(sheet, at, {"A": "Counts", "B": "", "C": "each"})
    for down, (title, count) in enumerate(counts.items(), 1):
        write_line(sheet, at + down, {"A": title, "B": "", "C": count}, "#,##0")
    return _runs(sheet, row, display, sources)


def _runs(sheet: Worksheet, row: int, display: Display, sources: Sources) -> int:
    """Runs on the right; the last row used."""
    walls, trim = sources.walls, sources.trim
    runs = (
        ("Outside corners", sources.corner_run("outside")),
        ("Inside corners", sources.corner_run("inside")),
        ("Finished ends", sources.edges.sum_where("run", kind='"end"')),
        ("Starter", walls.sum("starter")),
        ("Base", walls.sum("base")),
        ("Cap", walls.sum("caps")),
        ("Rake", walls.sum("rake")),
        ("Trim at heads", trim.sum("head")),
        ("Trim at jambs", trim.sum("jambs")),
        ("Trim at sills", trim.sum("sill")),
    )
    units = {"G": display.run_unit, "H": display.reading_unit}
    write_headings(sheet, row, {"E": "Runs", "F": "", **units})
    for at, (title, formula) in enumerate(runs, row + 1):
        reading = Formula(display.reading(f"G{at}"))
        write_line(sheet, at, {"E": title, "F": "", "G": Formula(formula)}, display.run_format)
        write_line(sheet, at, {"H": reading}, "#,##0")
    return row + len(runs)
