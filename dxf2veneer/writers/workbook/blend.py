"""The part of the sheet of panels about colors: panels and shares by wall, spread, open boxes."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from dxf2veneer.model import CoursePlan, Takeoff
from dxf2veneer.wording.blend import boxes_line, colors_over_line, spread_rows
from dxf2veneer.writers.workbook.cells import PlacedTable, place
from dxf2veneer.writers.workbook.columns import COUNT, Column, Row
from dxf2veneer.writers.workbook.page import write_note


def write_colors(
    sheet: Worksheet, row: int, takeoff: Takeoff, plan: CoursePlan, above: list[Column]
) -> tuple[int, PlacedTable | None]:
    """Write how colors lie, where the product has several, and which boxes to have open.

    Args:
        sheet: The sheet.
        row: The first row to use.
        takeoff: The takeoff.
        plan: Its course plan.
        above: The columns of the table above.

    Returns:
        The last row used, and the table of walls and colors, where there is one.
    """
    if plan.spread is None:
        write_note(sheet, row, boxes_line(takeoff.job, takeoff.product), columns=len(above))
        return row, None
    write_note(sheet, row, "Colors", columns=len(above), bold=True)
    counts = {(w.wall, c.color): c for w in plan.walls for c in w.colors}
    columns = [
        Column("wall", "Wall", 9),
        Column("color", "Color", 22),
        Column("flat", "Flat\npanels", 10, COUNT, summed=True),
        Column("corner", "Corner\npanels", 10, COUNT, summed=True),
        Column("units", "Panels\nin all", 10, COUNT, "{flat}+{corner}", summed=True),
        Column("wanted", "Share\nwanted", 10, "0.0%"),
        Column("laid", "Share\nlaid", 10, "0.0%"),
        Column("off", "Panels off\nthe share", 10, "+0.0;-0.0;0.0"),
    ]
    rows: list[Row] = [
        {
            "wall": one.wall,
            "color": one.color,
            "flat": counts[one.wall, one.color].flat,
            "corner": counts[one.wall, one.color].corner,
            "wanted": one.share,
            "laid": one.laid,
            "off": one.off,
        }
        for one in plan.spread.walls
    ]
    placed = place(sheet, row + 1, columns, rows, total=True)
    row = placed.last + 1
    for what, found in spread_rows(plan.spread):
        row += 1
        write_note(sheet, row, f"{what}: {found}", columns=len(above))
    if takeoff.order and takeoff.order.colors_over:
        row += 1
        write_note(sheet, row, colors_over_line(takeoff.order), columns=len(above))
    write_note(sheet, row + 1, boxes_line(takeoff.job, takeoff.product), columns=len(above))
    return row + 1, placed
