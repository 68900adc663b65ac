"""The sheets that hold what was measured: openings, trim, walls, corners.

Openings carry the areas, and a wall's opening and deducted areas are sums over them, so that a
corrected row there corrects the wall, the drawing and the summary.
"""

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import Corner, Edge, OpeningQuantities, Takeoff, WallTakeoff
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import Column, Display, Row
from dxf2veneer.writers.workbook.input_cells import allow_words, mark_columns
from dxf2veneer.writers.workbook.page import set_page, write_note, write_title
from dxf2veneer.writers.workbook.scope import scope_columns, scope_row

HEADER = 4


def finish(
    sheet: Worksheet,
    takeoff: Takeoff,
    placed: PlacedTable,
    *,
    last_row: int,
    freeze: str = "B",
    filtered: bool = True,
    one_page: bool = False,
    printed_to: str = "",
) -> None:
    """Freeze the header and the first columns, let rows be filtered, and set the page up.

    Columns after the one whose key is ``printed_to`` are for the screen and not printed.

    Args:
        sheet: The sheet.
        takeoff: The takeoff.
        placed: Where the table stands.
        last_row: The last row that is printed.
        freeze: The first column that scrolls.
        filtered: Whether rows can be filtered.
        one_page: Whether it is printed on one page.
        printed_to: Key of the last printed column; those behind it are for the screen.
    """
    width = len(placed.letters)
    last = get_column_letter(width)
    sheet.freeze_panes = f"{freeze}{placed.header + 1}"
    if filtered:
        sheet.auto_filter.ref = f"A{placed.header}:{last}{placed.last}"
    job = takeoff.job
    set_page(
        sheet,
        job.job.name,
        Display(job.output.display),
        last=f"{placed.letters.get(printed_to, last)}{last_row}",
        wide=True,
        header=placed.header,
        one_page=one_page,
    )


def _openings_of(takeoff: Takeoff) -> Iterable[tuple[WallTakeoff, OpeningQuantities]]:
    return ((w, o) for w in takeoff.walls for o in w.quantities.openings)


def add_openings(book: Workbook, takeoff: Takeoff, display: Display) -> PlacedTable:
    """One row an opening.

    ``Deducted`` may be changed between yes and no.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Openings")
    columns = _opening_columns(display)
    rows = [_opening_row(w, o, display) for w, o in _openings_of(takeoff)]
    note = (
        "Change an area, or yes to no, and the walls and the summary follow. Areas are of the "
        "part inside the wall, common ground counted once."
    )
    write_title(sheet, "Openings", note, columns)
    placed = place(sheet, HEADER, columns, rows, empty="no openings", total=True)
    choice = DataValidation(
        type="list", formula1='"yes,no"', allow_blank=False, showErrorMessage=True
    )
    choice.error = "yes or no"
    mark_columns(sheet, placed, ("area", "deducted"))
    choice.add(placed.range("deducted").partition("!")[2].replace("$", ""))
    sheet.add_data_validation(choice)
    finish(sheet, takeoff, placed, last_row=placed.last + 1)
    return placed


def _opening_columns(display: Display) -> list[Column]:
    return [
        Column("opening", "Opening", 10),
        Column("wall", "Wall", 8),
        Column("kind", "Kind", 10),
        Column("name", "Name", 16),
        *display.sizes("width", "Width"),
        *display.sizes("height", "Height"),
        *display.sizes("sill", "Sill above starter line"),
        *display.sizes("head", "Head above starter line"),
        display.areas("area", "Area"),
        Column("deducted", "Deducted\nyes or no", 11),
        display.areas("off", "Area taken off", formula='IF({deducted}="yes",{area},0)'),
        Column("handles", "Handles in the drawing", 14),
    ]


def _opening_row(w: WallTakeoff, o: OpeningQuantities, display: Display) -> Row:
    return {
        "opening": o.opening.id,
        "wall": w.wall.id,
        "kind": o.opening.kind,
        "name": o.opening.name or (f"part of {o.opening.part_of}" if o.opening.part_of else ""),
        "width": display.size(o.width),
        "height": display.size(o.height),
        "sill": display.size(o.sill_y - w.courses.starter_y),
        "head": display.size(o.head_y - w.courses.starter_y),
        "area": display.area(o.area),
        "deducted": "yes" if o.deducted else "no",
        "handles": ", ".join(o.opening.handles),
    }


def add_trim(book: Workbook, takeoff: Takeoff, display: Display) -> PlacedTable:
    """One row an opening: the runs of trim around it.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Trim")
    columns = [
        Column("opening", "Opening", 10),
        Column("wall", "Wall", 8),
        Column("kind", "Kind", 10),
        *display.runs("head", "Head"),
        *display.runs("jambs", "Jambs"),
        *display.runs("sill", "Sill"),
        *display.runs("all", "Head, jambs and sill", formula="{head}+{jambs}+{sill}"),
        *display.runs("perimeter", "Perimeter of the opening"),
    ]
    rows: list[Row] = [
        {
            "opening": o.opening.id,
            "wall": w.wall.id,
            "kind": o.opening.kind,
            "head": display.run(o.trim_head),
            "jambs": display.run(o.trim_jambs),
            "sill": display.run(o.trim_sill),
            "perimeter": display.run(o.perimeter),
        }
        for w, o in _openings_of(takeoff)
    ]
    note = "Runs along the opening's own boundary; a curved head is measured along its curve."
    write_title(sheet, "Trim", note, columns)
    placed = place(sheet, HEADER, columns, rows, empty="no openings", total=True)
    mark_columns(sheet, placed, ("head", "jambs", "sill", "perimeter"))
    finish(sheet, takeoff, placed, last_row=placed.last + 1)
    return placed


def add_walls(
    book: Workbook, takeoff: Takeoff, display: Display, openings: PlacedTable
) -> PlacedTable:
    """One row a wall; its opening areas are sums over the openings, its net area a difference.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.
        openings: The table of openings.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Walls")
    columns = [
        Column("wall", "Wall", 8),
        Column("name", "Name", 18),
        Column("drawing", "Drawing\nno.", 8, "0"),
        Column("layer", "Layer", 14),
        Column("handles", "Handles", 9),
        display.areas("gross", "Gross"),
        display.areas("openings", "Openings", formula=openings.sum_where("area", wall="{wall}")),
        display.areas("deducted", "Deducted", formula=openings.sum_where("off", wall="{wall}")),
        display.areas("trim", "Trim bands"),
        display.areas("cap", "Cap"),
        display.areas("net", "Net", formula="{gross}-{deducted}-{trim}-{cap}"),
        *display.runs("starter", "Starter"),
        *display.runs("base", "Base"),
        *display.runs("caps", "Cap run"),
        *display.runs("rake", "Rake"),
        display.runs("perimeter", "Peri-\nmeter")[0],
        *scope_columns(takeoff.order),
    ]
    stays = [False, *(a.adds for a in takeoff.order.alternates)] if takeoff.order else []
    note = (
        "Net = gross - deducted - trim bands - cap. Openings and deducted areas are sums over "
        "the sheet Openings. "
        + ("Say yes or no in the last columns, and the price follows." if takeoff.order else "")
        + (" An alternate that adds walls stays as computed." if any(stays) else "")
    )
    write_title(sheet, "Walls", note, columns)
    rows = [_wall_row(w, display) | scope_row(w.wall.id, takeoff.order) for w in takeoff.walls]
    placed = place(sheet, HEADER, columns, rows, empty="no walls", total=True)
    mark_columns(sheet, placed, ("gross", "trim", "cap", "starter", "base", "caps", "rake"))
    for column, is_fixed in zip(scope_columns(takeoff.order), stays, strict=True):
        if is_fixed:
            continue
        letter = placed.letters[column.key]
        allow_words(sheet, f"{letter}{placed.first}:{letter}{placed.last}", "yes,no")
        mark_columns(sheet, placed, (column.key,))
    finish(sheet, takeoff, placed, last_row=placed.last + 1, freeze="C")
    return placed


def _wall_row(entry: WallTakeoff, display: Display) -> Row:
    wall, sums = entry.wall, entry.quantities
    return {
        "wall": wall.id,
        "name": wall.name,
        "drawing": wall.drawing + 1,
        "layer": wall.layer,
        "handles": ", ".join(wall.handles),
        "gross": display.area(sums.gross_area),
        "trim": display.area(sums.trim_area),
        "cap": display.area(sums.cap_area),
        "starter": display.run(sums.starter_run),
        "base": display.run(sums.base_run),
        "caps": display.run(sums.cap_run),
        "rake": display.run(sums.rake_run),
        "perimeter": display.run(sums.perimeter),
    }


def add_corners(
    book: Workbook, takeoff: Takeoff, display: Display
) -> tuple[PlacedTable, PlacedTable]:
    """The corners, each once, and under them the side edges of every wall.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.

    Returns:
        Where the two tables stand.
    """
    sheet = sheet_of(book, "Corners")
    columns = [
        Column("corner", "Corner", 9),
        Column("kind", "Kind", 12),
        *display.runs("run", "Run"),
        Column("first", "Edge", 16),
        Column("second", "Edge", 16),
        Column("paired", "Counts", 20),
        Column("tag", "Tag", 14),
    ]
    note = (
        "Seen from outside. A corner that two walls share is counted once; one without a "
        "partner counts by itself."
    )
    write_title(sheet, "Corners", note, columns)
    rows = [_corner_row(c, display) for c in takeoff.corners]
    corners = place(sheet, HEADER, columns, rows, empty="no corners", total=False)
    top = corners.last + 2
    write_note(sheet, top, "Side edges of the walls", columns=len(columns), bold=True)
    edge_columns = [
        Column("wall", "Wall", 9),
        Column("kind", "Kind", 12),
        *display.runs("run", "Height"),
        Column("side", "Side", 16),
        Column("corner", "Corner", 16),
        Column("handle", "Mark's handle", 20),
    ]
    edge_rows = [_edge_row(w, e, display) for w in takeoff.walls for e in w.wall.edges]
    edges = place(sheet, top + 1, edge_columns, edge_rows, empty="no side edges")
    mark_columns(sheet, corners, ("run",))
    mark_columns(sheet, edges, ("run",))
    finish(sheet, takeoff, corners, last_row=edges.last, filtered=False)
    return corners, edges


def _edge_row(entry: WallTakeoff, edge: Edge, display: Display) -> Row:
    return {
        "wall": entry.wall.id,
        "kind": edge.kind,
        "run": display.run(edge.length),
        "side": edge.side,
        "corner": edge.corner or "",
        "handle": edge.handle or "",
    }


def _corner_row(corner: Corner, display: Display) -> Row:
    right, left = (
        ", ".join(f"{wall} {side}" for wall, side in corner.edges if side == s)
        for s in ("right", "left")
    )
    return {
        "corner": corner.id,
        "kind": corner.kind,
        "run": display.run(corner.run),
        "first": right or left,
        "second": left if right else "",
        "paired": "once, for both sides" if corner.is_paired else "UNPAIRED, by itself",
        "tag": corner.tag or "",
    }
