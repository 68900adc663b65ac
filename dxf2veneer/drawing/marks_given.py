"""What the job file marks by coordinates itself, made shapes and labels as if it were drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from dxf2veneer.config.job import Reading
from dxf2veneer.config.job_values import Window
from dxf2veneer.config.treatments import NOT_DRAWN
from dxf2veneer.config.wall_rows import GivenEdge, WallRow
from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import Shape

_KINDS = {"bay": "mitre"}
"""What the model calls what a line marks, where that is another word."""
_FROM = "job file"


@dataclass(frozen=True)
class MarksGiven:
    """The marks of a job file, in inches."""

    shapes: tuple[Shape, ...]
    """Outlines and lines, each traced as what it is."""
    names: tuple[Window, ...]
    """A window round each wall that has a name, which names the wall."""


def marks_given(asked: Reading, to_inches: float) -> MarksGiven:
    """The outlines and lines of a job file.

    Args:
        asked: Its section ``drawing``, in the drawing's units.
        to_inches: Inches in one of them.

    Returns:
        The same in inches.
    """

    def scaled(points: Iterable[Point]) -> list[Point]:
        return [(x * to_inches, y * to_inches) for x, y in points]

    outlines = [("wall", o.points) for o in asked.wall_outline]
    outlines += [(o.name, o.points) for o in asked.opening_outline]
    shapes = [_shape(Path.polygon(scaled(p)).counter_clockwise, role) for role, p in outlines]
    shapes += [
        _shape(
            Path.polygon(scaled(n.points), closed=False),
            _KINDS.get(n.kind, n.kind),
            n.tag.upper(),
        )
        for n in asked.mark_line
    ]
    boxes = [(o.name, Path.polygon(scaled(o.points)).box) for o in asked.wall_outline if o.name]
    return MarksGiven(tuple(shapes), tuple(Window(*box) for box in boxes))


def _shape(path: Path, role: str, tag: str = "") -> Shape:
    return Shape(path, "", "", _FROM, traced=role, tag=tag)


_APART_IN = 240.0
"""From what is drawn to the first wall that is not, and half as much from one to the next."""


def walls_given(rows: Sequence[WallRow], beside: Sequence[Shape]) -> MarksGiven:
    """Walls that no drawing shows, side by side to the right of what is drawn.

    Args:
        rows: Their sizes.
        beside: What is drawn, in inches.

    Returns:
        Outlines, lines and names, as if they were drawn.
    """
    boxes = [s.path.box for s in beside]
    x = max((b[2] for b in boxes), default=-_APART_IN) + _APART_IN
    y = min((b[1] for b in boxes), default=0.0)
    shapes: list[Shape] = []
    names = []
    for row in rows:
        shapes += _wall_given(row, x, y)
        top = y + max(row.height, row.peak)
        names.append(Window(row.name + NOT_DRAWN, (x, y, x + row.width, top)))
        x += row.width + _APART_IN / 2.0
    return MarksGiven(tuple(shapes), tuple(names))


def _wall_given(row: WallRow, x: float, y: float) -> Iterator[Shape]:
    """A wall's outline from its left lower corner on, its openings, edges and cap."""
    right, top = x + row.width, y + row.height
    peak = [(x + row.width / 2.0, y + row.peak)] if row.peak else []
    yield _shape(Path.polygon([(x, y), (right, y), (right, top), *peak, (x, top)]), "wall")
    for o, from_edge in zip(row.openings, row.lefts, strict=True):
        left = x + from_edge
        yield _shape(Path.box_of(left, y + o.sill, left + o.width, y + o.sill + o.height), o.kind)
    for edge, at in ((row.left, x), (row.right, right)):
        if edge is not None:
            yield _edge_given(edge, at, y, top)
    if row.cap:
        yield _shape(Path.polygon([(x, top), (right, top)], closed=False), "cap")


def _edge_given(edge: GivenEdge, x: float, y0: float, y1: float) -> Shape:
    line = Path.polygon([(x, y0), (x, y1)], closed=False)
    return _shape(line, _KINDS.get(edge.kind, edge.kind), edge.tag.upper())
