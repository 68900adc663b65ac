"""The outline of a wall as it was measured: its free edge and its top moved.

fixed edge                 free edge      Widths are measured from the fixed edge at some
 |<------- 24'-0 1/4 ------->|            heights. Between two of them the free edge runs
 |                           |            straight, beyond them upright. Steps, rakes and
 |<------- 24'-0 1/2 -------->|           edges at whose height nothing was measured stay
 |<------- 24'-0 ----------->|            as drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import LEVEL_SLOPE, SITE_INSIDE_IN, TOUCH_IN
from dxf2veneer.config.site_file import MeasureAt, WallMeasures
from dxf2veneer.geometry import Path, Point, Region, Segment
from dxf2veneer.geometry.boundary import boundary, level_stretches, straightened
from dxf2veneer.geometry.paths import Vertex
from dxf2veneer.geometry.region import RegionPart
from dxf2veneer.model import CapMark, Edge, Side, Wall
from dxf2veneer.site.slips import Sizes, slip


@dataclass(frozen=True)
class EdgeMove:
    """An upright stretch of a wall's free side, and how far it is moved at each height measured."""

    segment: Segment
    ys: tuple[float, ...]
    """Heights in the drawing, from the bottom up."""
    offs: tuple[float, ...]
    """How far it is moved there, to the right."""

    def at(self, y: float) -> float:
        """How far it is moved at a height."""
        return float(np.interp(y, self.ys, self.offs))

    @property
    def reach(self) -> tuple[float, float]:
        """Its lower and its upper end."""
        low, high = sorted((self.segment.start[1], self.segment.end[1]))
        return low, high

    def kinks(self, low: float, high: float) -> list[float]:
        """Heights between two others at which it bends."""
        return [y for y in self.ys if low + TOUCH_IN < y < high - TOUCH_IN] if self.leans else []

    @property
    def leans(self) -> bool:
        """Whether it is moved farther at one height than at another."""
        return len(set(self.offs)) > 1

    def holds(self, x: float, y: float) -> bool:
        """Whether a place lies on it as drawn."""
        (xa, _), (xb, _), (low, high) = self.segment.start, self.segment.end, self.reach
        return (
            min(xa, xb) - TOUCH_IN <= x <= max(xa, xb) + TOUCH_IN
            and low - TOUCH_IN <= y <= high + TOUCH_IN
        )


def fixed_x(wall: Wall, side: Side, y: float) -> float:
    """Where a wall's fixed edge stands.

    Args:
        wall: The wall as drawn.
        side: The side from which is measured.
        y: A height in the drawing.

    Returns:
        x in inches.
    """
    spans = level_stretches(wall.region, _inside(wall, y))
    x0, _, x1, _ = wall.box
    if side == "left":
        return spans[0][0] if spans else x0
    return spans[-1][1] if spans else x1


def edge_moves(wall: Wall, own: WallMeasures, sizes: Sizes) -> list[EdgeMove]:
    """How far the free edge of a wall is moved.

    Args:
        wall: The wall as drawn.
        own: What was measured of it.
        sizes: Takes the widths.

    Returns:
        The upright stretches that were measured.

    Raises:
        SettingsError: A width was measured where the wall has no upright free edge, or is too far
            from the drawn one, or the edge would lean so far that it is none.
    """
    free: Side = "right" if own.fixed == "left" else "left"
    uprights = [b.segment for b in boundary(wall.region) if b.what == free]
    offs: dict[Segment, dict[float, float]] = {}
    for width in own.widths:
        y = _height(wall, width, sizes)
        spans = level_stretches(wall.region, _inside(wall, y))
        x0, x1 = spans[0][0], spans[-1][1]
        x = x1 if free == "right" else x0
        edge = next((s for s in uprights if EdgeMove(s, (), ()).holds(x, _inside(wall, y))), None)
        if edge is None and width.measured is not None:
            at = message("site-no-upright", wall=wall.id, at=Length(width.at), side=free)
            raise slip(sizes.sheet, wall.id, "widths", at)
        off = sizes.taken((wall.id, ""), "width", "widths", width, x1 - x0)
        if off is None or edge is None:
            continue
        offs.setdefault(edge, {})[y] = off if free == "right" else -off
    found = []
    for segment, known in offs.items():
        ys = tuple(sorted(known))
        move = EdgeMove(segment, ys, tuple(known[y] for y in ys))
        _refuse_leaning(wall, move, sizes)
        if any(move.offs):
            found.append(move)
    return found


def _height(wall: Wall, width: MeasureAt, sizes: Sizes) -> float:
    """The height in the drawing at which a width was measured."""
    _, y0, _, y1 = wall.box
    y = y0 + width.at
    if y > y1 + TOUCH_IN:
        beyond = message(
            "site-above-wall", wall=wall.id, at=Length(width.at), height=Length(y1 - y0)
        )
        raise slip(sizes.sheet, wall.id, "widths", beyond)
    return min(y, y1)


def _inside(wall: Wall, y: float) -> float:
    """A height a little inside the wall, where a level line meets its sides and not its base."""
    _, y0, _, y1 = wall.box
    inset = min(SITE_INSIDE_IN, (y1 - y0) / 4.0)
    return min(max(y, y0 + inset), y1 - inset)


def _refuse_leaning(wall: Wall, move: EdgeMove, sizes: Sizes) -> None:
    """Raises SettingsError for an edge that would lean so far that it is no upright one."""
    drawn = (move.segment.end[0] - move.segment.start[0]) / (
        move.segment.end[1] - move.segment.start[1]
    )
    ys, offs = np.array(move.ys), np.array(move.offs)
    leans = np.abs(np.diff(offs) / np.diff(ys) + drawn) if len(ys) > 1 else np.zeros(0)
    if len(leans) and leans.max() > LEVEL_SLOPE:
        k = int(leans.argmax())
        low, high = (Length(float(y) - wall.box[1]) for y in (ys[k], ys[k + 1]))
        off = Length(abs(float(offs[k + 1] - offs[k])))
        lean = message("site-leans", wall=wall.id, low=low, high=high, off=off)
        raise slip(sizes.sheet, wall.id, "widths", lean)


def raised_by(wall: Wall, own: WallMeasures, sizes: Sizes) -> float:
    """How much higher a wall's level top is than drawn.

    Args:
        wall: The wall as drawn.
        own: What was measured of it.
        sizes: Takes the height.

    Returns:
        Inches; 0 where it is as drawn or was not measured.

    Raises:
        SettingsError: Its top is not level, or the height is too far from the drawn one.
    """
    if own.height is None:
        return 0.0
    _, y0, _, y1 = wall.box
    if not has_level_top(wall):
        raise slip(sizes.sheet, wall.id, "height", message("site-top-not-level", wall=wall.id))
    return sizes.taken((wall.id, ""), "height", "height", own.height, y1 - y0) or 0.0


def has_level_top(wall: Wall) -> bool:
    """Whether a wall has one height: a level top all along.

    Args:
        wall: The wall.

    Returns:
        False for gables, stepped tops and arcs.
    """
    tops = [b for b in boundary(wall.region) if b.what in ("top", "rake")]
    _, _, _, y1 = wall.box
    return bool(tops) and all(
        b.what == "top" and max(b.segment.start[1], b.segment.end[1]) >= y1 - TOUCH_IN for b in tops
    )


def moved_outline(wall: Wall, moves: Sequence[EdgeMove], raised: float, sizes: Sizes) -> Wall:
    """A wall with its free edge and its top moved, and edges and caps with them.

    Args:
        wall: The wall as drawn.
        moves: How its free edge is moved.
        raised: How much higher its top is.
        sizes: Names the sheet.

    Returns:
        The wall; its openings stand as drawn.

    Raises:
        SettingsError: A curve begins at an end of the edge, or the outline folds over.
    """
    if not moves and not raised:
        return wall
    parts = tuple(
        RegionPart(
            _moved_path(wall, part.outer, moves, raised, sizes).counter_clockwise, part.holes
        )
        for part in wall.region.parts
    )
    region = Region(parts)
    if not region.polygon.is_valid:
        raise slip(sizes.sheet, wall.id, "widths", message("site-outline-folds", wall=wall.id))
    top = wall.box[3]
    edges = [new for edge in wall.edges for new in _moved_edge(edge, moves, raised, top)]
    return replace(
        wall,
        region=region,
        edges=tuple(sorted(edges, key=lambda e: (e.x, e.y0))),
        caps=tuple(_moved_cap(cap, moves, raised, top) for cap in wall.caps),
    )


def _moved_path(
    wall: Wall, path: Path, moves: Sequence[EdgeMove], raised: float, sizes: Sizes
) -> Path:
    whole = straightened(path)
    edges = {(m.segment.start, m.segment.end): m for m in moves}
    shifts: dict[Point, float] = {}
    for move in moves:
        for end in (move.segment.start, move.segment.end):
            shifts[end] = move.at(end[1])
    top = wall.box[3]
    segments = list(whole.segments)
    for s in segments:
        if s.is_arc and any(shifts.get(end, 0.0) for end in (s.start, s.end)):
            curve = message("site-curve", wall=wall.id)
            raise slip(sizes.sheet, wall.id, "widths", curve)
    return Path(tuple(_vertices(segments, edges, shifts, raised, top)))


def _vertices(
    segments: Sequence[Segment],
    edges: Mapping[tuple[Point, Point], EdgeMove],
    shifts: Mapping[Point, float],
    raised: float,
    top: float,
) -> Iterator[Vertex]:
    """The beginning of each segment and the places where a moved edge bends."""

    def up(y: float) -> float:
        return y + raised if y >= top - TOUCH_IN else y

    for s in segments:
        x, y = s.start
        yield x + shifts.get(s.start, 0.0), up(y), s.bulge
        move = edges.get((s.start, s.end))
        if move is None:
            continue
        kinks = move.kinks(*move.reach)
        for y in kinks if s.end[1] > s.start[1] else kinks[::-1]:
            share = (y - s.start[1]) / (s.end[1] - s.start[1])
            yield s.start[0] + share * (s.end[0] - s.start[0]) + move.at(y), y, 0.0


def _moved_edge(edge: Edge, moves: Sequence[EdgeMove], raised: float, top: float) -> Iterator[Edge]:
    """A side edge of the moved wall, in several stretches where it bends."""
    high = edge.y1 + raised if edge.y1 >= top - TOUCH_IN else edge.y1
    middle = (edge.y0 + edge.y1) / 2.0
    move = next((m for m in moves if m.holds(edge.x, middle)), None)
    if move is None:
        yield replace(edge, y1=high)
        return
    ys = [edge.y0, *move.kinks(edge.y0, edge.y1), edge.y1]
    for n, (a, b) in enumerate(pairwise(ys)):
        x = edge.x + (move.at(a) + move.at(b)) / 2.0
        yield replace(edge, x=x, y0=a, y1=high if n == len(ys) - 2 else b)


def _moved_cap(cap: CapMark, moves: Sequence[EdgeMove], raised: float, top: float) -> CapMark:
    """A cap whose end at a moved edge goes with it."""
    off0, off1 = (
        next((m.at(cap.y) for m in moves if m.holds(x, cap.y)), 0.0) for x in (cap.x0, cap.x1)
    )
    y = cap.y + raised if cap.y >= top - TOUCH_IN else cap.y
    return replace(cap, x0=cap.x0 + off0, x1=cap.x1 + off1, y=y)
