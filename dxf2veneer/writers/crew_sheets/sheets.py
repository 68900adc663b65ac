"""The sheets of a set: which part of which wall, at which scale, with which cuts."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import CoursePlan, Piece, Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.cautions import BRIEF, Reader, caution_for
from dxf2veneer.wording.measures import length_text
from dxf2veneer.writers.crew_sheets.labels import TEXT_PT, Label
from dxf2veneer.writers.crew_sheets.rows import CutRow, is_cut, rows_of
from dxf2veneer.writers.crew_sheets.windows import Window, windows_of
from dxf2veneer.writers.sizes import scale_words
from dxf2veneer.writers.typeset import PAPERS
from dxf2veneer.writers.words import datum_words, opening_words, wall_title
from dxf2veneer.writers.workbook.cuts import PanelParts, listed

MARGIN, HEAD, LIST = 10.0, 17.0, 108.0
"""Margin of a sheet, what head and foot take of its height, and what the cut list takes of its
width, in millimeters."""

LEFT_PT, RIGHT_PT, FOOT_PT, TOP_PT = 20.0, 46.0, 24.0, 6.0
"""Room around the part of the wall for course numbers, heights and ruler, in points."""

KEY = (
    "Course 3/2: course 3, piece 2. L, R: left-hand and right-hand corner piece. # and a number: "
    "see that number in the list."
)
"""How to read a sheet."""

SAFETY = f"Check a length on the wall before you cut. {caution_for(Reader.SAW)} {' '.join(BRIEF)}"
"""What is said on every sheet beside the caution of all outputs."""


class CrewSheet(NamedTuple):
    """One sheet."""

    entry: WallTakeoff
    window: Window
    """The part of the wall."""
    scale: float
    """How many times larger the building is than the sheet."""
    title: str
    about: str
    """Scale, datum of heights, how courses and pieces count."""
    numbers: Mapping[Piece, int]
    """The pieces that are cut, with their numbers in the list."""
    rows: list[CutRow]
    """The list in the order of laying."""


def paper_of(takeoff: Takeoff) -> str:
    """The paper that the sheets are made for.

    Args:
        takeoff: The takeoff.

    Returns:
        A name of ``PAPERS``.
    """
    output = takeoff.job.output
    return output.paper or ("A3" if output.display == "metric" else "tabloid")


def title_of(takeoff: Takeoff) -> str:
    """What the set is called.

    Args:
        takeoff: The takeoff.

    Returns:
        The job's name where it has one.
    """
    return legible(takeoff.job.job.name) or "Crew sheets"


def list_head(takeoff: Takeoff) -> tuple[str, ...]:
    """Headings of the cut list.

    Args:
        takeoff: The takeoff, for its units.

    Returns:
        One for each field of a row.
    """
    unit = "mm" if takeoff.job.output.display == "metric" else "in"
    return ("No.", "Course", "From left", f"Size, {unit}", "Panel", "Work; rest of its panel")


def sheets_of(takeoff: Takeoff) -> Iterator[CrewSheet]:
    """The sheets of all walls.

    Args:
        takeoff: The takeoff; without a course plan there is none.

    Yields:
        Them in the order of the walls, each wall from the bottom up and from left to right.
    """
    plan = takeoff.plan
    for wall in takeoff.walls:
        if plan is not None and wall.courses.pieces:
            yield from _of_wall(takeoff, plan, wall, PAPERS[paper_of(takeoff)])


def _of_wall(
    takeoff: Takeoff, plan: CoursePlan, entry: WallTakeoff, paper: tuple[float, float]
) -> Iterator[CrewSheet]:
    """The sheets of one wall."""
    product, display = takeoff.product_of(entry.wall.id), takeoff.job.output.display
    course = product.panel.height
    parts = PanelParts.of(takeoff, plan)
    cut = [p for own, p in listed(takeoff) if own.wall.id == entry.wall.id and is_cut(p)]
    scale, windows = windows_of(entry, cut, _room(paper), course, product.panel.length, display)
    for window in windows:
        if not any(map(window.shows, entry.courses.pieces)):
            continue
        own = [p for p in cut if window.holds(p)]
        yield CrewSheet(
            entry,
            window,
            scale,
            _title(entry, window),
            f"{scale_words(scale, display)}; {datum_words(entry)}; a course has one number on all "
            "walls of a level line, piece 1 is the leftmost, as you face the wall",
            {piece: n for n, piece in enumerate(own, 1)},
            rows_of(entry, own, course, display, parts),
        )


def _title(entry: WallTakeoff, window: Window) -> str:
    title = wall_title(entry)
    return title if window.of == 1 else f"{title}, part {window.number} of {window.of}"


def _room(paper: tuple[float, float]) -> tuple[float, float]:
    """Width and height of the room for a wall on a sheet, in inches on paper."""
    long, short = paper
    wide = long - 2 * MARGIN - LIST - 4.0 - (LEFT_PT + RIGHT_PT) / 72.0 * MM_PER_INCH
    high = short - 2 * MARGIN - HEAD - (FOOT_PT + TOP_PT) / 72.0 * MM_PER_INCH
    return wide / MM_PER_INCH, high / MM_PER_INCH


def opening_labels(sheet: CrewSheet, display: str) -> Iterator[Label]:
    """Names and sizes of the openings that have room for them on a sheet.

    Args:
        sheet: The sheet.
        display: Units for the reader: ``imperial`` or ``metric``.

    Yields:
        Two lines in the middle of what the sheet shows of the opening.
    """
    window, point = sheet.window, sheet.scale / 72.0
    for measured in sheet.entry.quantities.openings:
        x0, y0, x1, y1 = measured.opening.box
        x0, x1 = max(x0, window.x0), min(x1, window.x1)
        y0, y1 = max(y0, window.y0), min(y1, window.y1)
        lines = opening_words(measured, display)
        if x1 - x0 > 0.6 * TEXT_PT * point * max(map(len, lines)) and y1 - y0 > 20.0 * point:
            yield Label(lines, (x0 + x1) / 2, (y0 + y1) / 2)


def ruler_of(
    entry: WallTakeoff, window: Window, scale: float, display: str
) -> Iterator[tuple[float, str]]:
    """Running dimensions from a wall's left edge, as far as a part of it reaches.

    Args:
        entry: The wall.
        window: The part.
        scale: How many times larger the building is than the sheet.
        display: Units for the reader: ``imperial`` or ``metric``.

    Yields:
        x of a tick in the drawing, and what stands at it; nothing at a short one.
    """
    step = 500.0 / MM_PER_INCH if display == "metric" else 12.0
    left = entry.wall.box[0]
    every = 1 if step > 34.0 * scale / 72.0 else 2
    last = math.floor((window.x1 - left) / step + 1e-9)
    for n in range(math.ceil((window.x0 - left) / step - 1e-9), last + 1):
        words = length_text(n * step, display) if n % every == 0 else ""
        yield left + n * step, words
