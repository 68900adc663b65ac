"""The set of crew sheets as a PDF."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import CoursePlan, Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.writers.crew_sheets.picture import FOOT_PT, LEFT_PT, RIGHT_PT, TOP_PT, part_svg
from dxf2veneer.writers.crew_sheets.rows import is_cut, rows_of
from dxf2veneer.writers.crew_sheets.windows import Window, windows_of
from dxf2veneer.writers.sizes import scale_words
from dxf2veneer.writers.typeset import PAPERS, write_pages
from dxf2veneer.writers.words import alert_words, datum_words, wall_title
from dxf2veneer.writers.workbook.cuts import PanelParts, listed

MARGIN, HEAD, LIST = 10.0, 17.0, 108.0
"""Margin of a sheet, what head and foot take of its height, and what the cut list takes of its
width, in millimeters."""


def write_crew_sheets(takeoff: Takeoff, path: Path) -> None:
    """Write the set, whole or not at all.

    Args:
        takeoff: The takeoff, with a course plan.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    write_pages("dxf2veneer.writers.crew_sheets", "sheet.typ", content_of(takeoff), path)


def content_of(takeoff: Takeoff) -> dict[str, Any]:
    """What stands on the sheets, as texts and pictures.

    Args:
        takeoff: The takeoff; without a course plan there is no sheet.

    Returns:
        What the template sets, by name.
    """
    output, plan = takeoff.job.output, takeoff.plan
    metric = output.display == "metric"
    paper = output.paper or ("A3" if metric else "tabloid")
    return {
        "title": legible(takeoff.job.job.name) or "Crew sheets",
        "paper": PAPERS[paper],
        "list": LIST,
        "alert": alert_words(takeoff),
        "caution": CAUTION,
        "unit": "mm" if metric else "in",
        "sheets": [
            sheet
            for wall in takeoff.walls
            if plan is not None and wall.courses.pieces
            for sheet in _sheets(takeoff, plan, wall, PAPERS[paper])
        ],
    }


def _sheets(
    takeoff: Takeoff, plan: CoursePlan, entry: WallTakeoff, paper: tuple[float, float]
) -> Iterator[dict[str, Any]]:
    """The sheets of one wall."""
    product, display = takeoff.product_of(entry.wall.id), takeoff.job.output.display
    course = product.panel.height
    parts = PanelParts.of(takeoff, plan)
    cut = [p for own, p in listed(takeoff) if own.wall.id == entry.wall.id and is_cut(p)]
    room, longest = _room(paper), product.panel.length
    scale, windows = windows_of(entry, cut, room, course, longest, display)
    for window in windows:
        if not any(map(window.shows, entry.courses.pieces)):
            continue
        own = [p for p in cut if window.holds(p)]
        numbers = {piece: n for n, piece in enumerate(own, 1)}
        yield {
            "title": _title(entry, window),
            "about": f"{scale_words(scale, display)}; {datum_words(entry)}; "
            "a course has one number on all walls of a level line, piece 1 is the leftmost, as you "
            "face the wall",
            "picture": part_svg(takeoff, entry, window, numbers, scale),
            "wide": (window.x1 - window.x0) / scale * MM_PER_INCH
            + (LEFT_PT + RIGHT_PT) / 72.0 * MM_PER_INCH,
            "rows": rows_of(entry, own, course, display, parts),
        }


def _title(entry: WallTakeoff, window: Window) -> str:
    title = wall_title(entry)
    return title if window.of == 1 else f"{title}, part {window.number} of {window.of}"


def _room(paper: tuple[float, float]) -> tuple[float, float]:
    """Width and height of the room for a wall on a sheet, in inches on paper."""
    long, short = paper
    wide = long - 2 * MARGIN - LIST - 4.0 - (LEFT_PT + RIGHT_PT) / 72.0 * MM_PER_INCH
    high = short - 2 * MARGIN - HEAD - (FOOT_PT + TOP_PT) / 72.0 * MM_PER_INCH
    return wide / MM_PER_INCH, high / MM_PER_INCH
