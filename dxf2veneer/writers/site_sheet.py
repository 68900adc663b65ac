"""A file of site measures to fill in: every drawn size beside an empty field, every course with its
planned joints."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

from dxf2veneer.basics.tolerances import SITE_INSIDE_IN, TOUCH_IN
from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.config.settings import toml
from dxf2veneer.geometry.boundary import boundary, level_stretches
from dxf2veneer.model import Opening, Piece, Takeoff, Wall, WallTakeoff
from dxf2veneer.textio.escaping import for_terminal
from dxf2veneer.wording.measures import feet_inches

_HEAD = """\
Site measures of {drawings}. Fill in what was measured; an empty field stays as drawn.
Lengths are inches, or text such as "24'-0 1/2" or "7328 mm". Measure the veneer's own ground.
Edges are left and right as seen from outside. From the fixed edge of a wall is measured; the other
one moves. Heights are above the wall's lowest point. More heights can be added to widths.
laid says how many courses are laid already, from the bottom; a course that was not laid as planned
gets its real joints, each from the fixed edge, at its "at".
Then: dxf2veneer takeoff DRAWING --site THIS_FILE with the options of the first takeoff."""
_WIDTHS_AT = (0.0, 0.5, 1.0)
"""Where between base and top of its upright sides a wall's width is asked for."""


def write_site_sheet(takeoff: Takeoff, file: Path) -> None:
    """Write a file of site measures to fill in.

    Args:
        takeoff: Walls, openings and courses as drawn and planned.
        file: The file to write (TOML).
    """
    file.write_text(sheet_text(takeoff), encoding="utf-8")


def sheet_text(takeoff: Takeoff) -> str:
    """The file of site measures of a takeoff, nothing filled in.

    Args:
        takeoff: Walls, openings and courses as drawn and planned.

    Returns:
        TOML text.
    """
    is_metric = takeoff.job.output.display == "metric"
    names = ", ".join(for_terminal(Path(d.file).name) for d in takeoff.drawings)
    out = [f"# {line}" for line in _HEAD.format(drawings=names).splitlines()]
    out += ["", "[site]", 'note = ""  # who measured, and when']
    out += [f"most_off = {_length(6.0, is_metric)}  # what is farther off is taken for a slip"]
    for taken in takeoff.walls:
        out += _wall_lines(taken, is_metric)
        for opening in taken.wall.openings:
            if not opening.whole_area:
                out += _opening_lines(taken.wall, opening, is_metric)
    return "\n".join(out) + "\n"


def _wall_lines(taken: WallTakeoff, is_metric: bool) -> Iterator[str]:
    wall = taken.wall
    _, y0, _, y1 = wall.box
    yield ""
    yield f"[{wall.id}]{f'  # {for_terminal(wall.name)}' if wall.name else ''}"
    yield 'fixed = "left"'
    yield "widths = ["
    for at, width in _widths(wall):
        yield f"    {{ at = {_length(at, is_metric)}, {_drawn(width, is_metric)} }},"
    yield "]"
    if _has_level_top(wall):
        yield f"height = {{ {_drawn(y1 - y0, is_metric)} }}"
    yield f"laid = 0  # of {len(taken.courses.courses)} courses"
    if taken.courses.pieces:
        yield "joints = ["
        for course in taken.courses.courses:
            own = [p for p in taken.courses.pieces if p.course == course.index]
            planned = [_length(x - wall.box[0], is_metric) for x in _joints(own)]
            said = f"planned [{', '.join(planned)}]" if planned else "planned without joints"
            yield f"    {{ course = {taken.courses.number(course.index)}, at = [] }},  # {said}"
        yield "]"


def _opening_lines(wall: Wall, opening: Opening, is_metric: bool) -> Iterator[str]:
    x0, y0, x1, y1 = opening.box
    base = wall.box[1]
    spans = level_stretches(wall.region, (y0 + y1) / 2.0)
    name = f", {for_terminal(opening.name)}" if opening.name else ""
    yield ""
    yield f"[{opening.id}]  # {opening.kind}{name}"
    yield f"edge = {{ {_drawn(x0 - spans[0][0], is_metric)} }}  # from the fixed edge"
    yield f"width = {{ {_drawn(x1 - x0, is_metric)} }}"
    if not opening.touches_base:
        yield f"sill = {{ {_drawn(y0 - base, is_metric)} }}"
    yield f"head = {{ {_drawn(y1 - base, is_metric)} }}"


def _widths(wall: Wall) -> Iterator[tuple[float, float]]:
    """Heights and drawn widths: at foot, middle and top of each upright right edge."""
    base = wall.box[1]
    asked: dict[float, float] = {}
    for side in boundary(wall.region):
        if side.what != "right" or side.is_riser:
            continue
        low, high = side.segment.start[1], side.segment.end[1]
        for share in _WIDTHS_AT:
            y = low + share * (high - low)
            inside = min(max(y, low + SITE_INSIDE_IN), max(high - SITE_INSIDE_IN, low))
            spans = level_stretches(wall.region, inside)
            if spans and abs(spans[-1][1] - side.segment.start[0]) <= 0.1:
                asked.setdefault(round(y - base, 6), spans[-1][1] - spans[0][0])
    yield from sorted(asked.items())


def _has_level_top(wall: Wall) -> bool:
    """Whether the wall has one height."""
    tops = [b for b in boundary(wall.region) if b.what in ("top", "rake")]
    return bool(tops) and all(
        b.what == "top" and math.isclose(b.segment.start[1], wall.box[3], abs_tol=TOUCH_IN)
        for b in tops
    )


def _joints(pieces: list[Piece]) -> list[float]:
    """Where two pieces of a course meet."""
    ends = {round(p.x1, 4) for p in pieces}
    return sorted({p.x0 for p in pieces if round(p.x0, 4) in ends})


def _drawn(inches: float, is_metric: bool) -> str:
    return f'drawn = {_length(inches, is_metric)}, measured = ""'


def _length(inches: float, is_metric: bool) -> str:
    """A length as the file takes it: to a sixteenth of an inch or a millimeter."""
    if is_metric:
        return toml(f"{round(inches * MM_PER_INCH)} mm")
    return toml(feet_inches(inches).removesuffix('"'))
