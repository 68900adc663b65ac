"""Loose lines to closed outlines.

Lines, arcs and open curves of one layer are noded where they cross or touch; the faces that they
bound are found, and the outer boundary of each group of connected faces is an outline. Board, joint
and panel lines inside do not split it, doubled lines and ends that lead nowhere change nothing.

        ____________            a  ends that fall short by at most the gap are brought together:
       |     |      |              two lines at their crossing, a line that stops before another
      a|_____|______|b             by running on to it
             |                  b  lines that run too far are cut by the noding itself
             '- leads nowhere

Arcs stay arcs, and the corners stay exactly where the lines put them.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.drawing.outlines.tidying import polygon_of
from dxf2veneer.geometry import Point, Segment
from dxf2veneer.geometry.boundary import straightened
from dxf2veneer.geometry.chords import Chords, node_arcs
from dxf2veneer.model import Shape
from dxf2veneer.units import setting_text

_Key = tuple[int, int]
_Noded = tuple[Chords, Any, Counter[_Key]]
"""The memory of arcs, the pieces between meetings, and how many pieces end at each place."""

_ON_IN = 1e-3
"""How near its middle must lie to an outline for a line to be part of it."""

_THIN_IN = 0.01
"""Between doubled curves that differ a little stand faces thinner than this; they are no outlines."""


@dataclass(frozen=True)
class Joined:
    """A gap that was closed: where, how wide, and the handles at its two sides."""

    at: Point
    gap_in: float
    handles: tuple[str, str]


@dataclass(frozen=True)
class Loops:
    """What became of the loose lines of one layer."""

    outlines: tuple[Shape, ...]
    joined: tuple[Joined, ...]
    unused: tuple[Shape, ...]
    """Shapes that bound no outline and lie inside none."""


@dataclass(frozen=True)
class _Line:
    segment: Segment
    handle: str


def find_loops(shapes: Sequence[Shape], *, gap_in: float) -> Loops:
    """The outlines that the open shapes of one layer bound, whatever their order in the drawing."""
    if not shapes:
        return Loops((), (), ())
    lines, joined, grid, chords, pieces = _mended(shapes, gap_in)
    faces = shapely.polygonize(pieces).geoms
    groups = shapely.get_parts(shapely.union_all(list(faces), grid_size=grid)) if len(faces) else []
    groups = [g for g in groups if g.area > _THIN_IN * g.length]
    finder = shapely.STRtree(_linestrings([n.segment.flatten(rise_in=_ON_IN / 2) for n in lines]))
    outlines = [_outline(Polygon(g.exterior), chords, lines, finder, shapes[0].layer) for g in groups]
    outlines.sort(key=lambda s: s.path.box)
    return Loops(tuple(outlines), tuple(joined), tuple(_unused(shapes, [Polygon(g.exterior) for g in groups])))


def noded_faces(shapes: Sequence[Shape], *, gap_in: float) -> list[Shape]:
    """Every single face that the shapes, open or closed, bound; faces inside it are not taken out."""
    if not shapes:
        return []
    lines, _, _, chords, pieces = _mended(shapes, gap_in)
    finder = shapely.STRtree(_linestrings([n.segment.flatten(rise_in=_ON_IN / 2) for n in lines]))
    found = [_outline(face, chords, lines, finder, shapes[0].layer) for face in shapely.polygonize(pieces).geoms]
    return sorted(found, key=lambda s: s.path.box)


def _mended(shapes: Sequence[Shape], gap_in: float) -> tuple[list[_Line], list[Joined], float, Chords, Any]:
    """The lines of shapes with short ends joined, the gaps closed, the grid, and the noded pieces."""
    lines = _distinct(shapes)
    grid = _grid(lines)
    noded = _noded(lines, grid)
    lines, joined = _join_ends(lines, noded, grid, gap_in)
    chords, pieces, _ = _noded(lines, grid) if joined else noded
    return lines, joined, grid, chords, pieces


def _distinct(shapes: Iterable[Shape]) -> list[_Line]:
    """Every segment once, turned and ordered by its ends alone, so that file order tells nothing."""
    found: dict[tuple[float, ...], _Line] = {}
    for shape in shapes:
        for s in shape.path.segments:
            one = s if (s.start, s.end) <= (s.end, s.start) else s.reversed
            key = tuple(round(v, 7) for v in (*one.start, *one.end, one.bulge))
            if key not in found or shape.handle < found[key].handle:
                found[key] = _Line(one, shape.handle)
    return [found[key] for key in sorted(found)]


def _grid(lines: Sequence[_Line]) -> float:
    reach = max(abs(v) for n in lines for v in (*n.segment.start, *n.segment.end))
    return max(2.0**-27, 2.0 ** math.ceil(math.log2(max(reach, 1.0) * 2.0**-50)))


def _noded(lines: Sequence[_Line], grid: float) -> _Noded:
    """The lines cut at all meetings, and how many pieces end at each place of the grid."""
    chords = Chords(grid_in=grid)
    parts = [p for cut in node_arcs([n.segment for n in lines], touch_in=grid * 16) for p in cut]
    flat = [points for points in map(chords.enter, parts) if points[0] != points[-1] or len(points) > 2]
    pieces = shapely.unary_union(_linestrings(flat), grid_size=grid)
    parted = shapely.get_parts(pieces)
    return chords, parted, Counter(key for pair in _end_keys(parted, grid) for key in pair)


def _linestrings(paths: Sequence[Sequence[Point]]) -> Any:
    """All the paths as shapely lines, made at once."""
    owners = np.repeat(np.arange(len(paths)), [len(p) for p in paths])
    return shapely.linestrings([point for path in paths for point in path], indices=owners)


def _end_keys(pieces: Any, grid: float) -> list[tuple[_Key, _Key]]:
    """The places on the grid of each piece's two ends, as ``Chords.key`` gives them."""
    ends = [shapely.get_coordinates(shapely.get_point(pieces, i)) / grid for i in (0, -1)]
    first, last = ([(int(x), int(y)) for x, y in np.rint(e).tolist()] for e in ends)
    return list(zip(first, last, strict=True))


# --------------------------------------------------------------- short ends


@dataclass(frozen=True)
class _End:
    """A loose end: which line, and whether its start (0) or its end (1)."""

    line: int
    which: int
    at: Point


def _join_ends(lines: list[_Line], noded: _Noded, grid: float, gap_in: float) -> tuple[list[_Line], list[Joined]]:
    """The lines with ends that fall short by at most the gap brought together, and each such gap."""
    if gap_in <= 0.0:
        return lines, []
    loose = _loose_ends(lines, noded, grid, gap_in)
    mended, bridges, joined = list(lines), [], []
    left = dict.fromkeys(range(len(loose)))
    for distance, i, j in _near_pairs(loose, gap_in):
        if i in left and j in left:
            del left[i], left[j]
            bridges += _meet(mended, loose[i], loose[j], gap_in)
            joined.append(Joined(loose[i].at, distance, (lines[loose[i].line].handle, lines[loose[j].line].handle)))
    tree = shapely.STRtree(_linestrings([n.segment.flatten(rise_in=_ON_IN) for n in mended]))
    for i in left:
        reached = _reach(mended, loose[i], tree, gap_in)
        if reached:
            other, at = reached
            bridges += _run_on(mended, loose[i], at)
            joined.append(Joined(loose[i].at, math.dist(loose[i].at, at), (lines[loose[i].line].handle, lines[other].handle)))
    return [n for n in (*mended, *bridges) if n.segment.start != n.segment.end], joined


def _loose_ends(lines: Sequence[_Line], noded: _Noded, grid: float, gap_in: float) -> list[_End]:
    """Ends where nothing else ends or passes, but for the tips of lines that run a little too far."""
    chords, pieces, ends = noded
    tips = set()
    short = pieces[shapely.length(pieces) <= gap_in]
    for keys in _end_keys(short, grid):
        for here, there in (keys, keys[::-1]):
            if ends[here] == 1 and ends[there] > 2:
                tips.add(here)
    found: dict[_Key, _End] = {}
    for i, n in enumerate(lines):
        for which, at in enumerate((n.segment.start, n.segment.end)):
            key = chords.key(at)
            if ends[key] == 1 and key not in tips:
                found.setdefault(key, _End(i, which, at))
    return list(found.values())


def _near_pairs(loose: Sequence[_End], gap_in: float) -> list[tuple[float, int, int]]:
    """(distance, one, other) of loose ends within the gap of each other, nearest first."""
    if not loose:
        return []
    points = shapely.points([e.at for e in loose])
    pairs = shapely.STRtree(points).query(points, predicate="dwithin", distance=gap_in)
    near = [(math.dist(loose[i].at, loose[j].at), int(i), int(j)) for i, j in zip(*pairs, strict=True) if i < j]
    return sorted(n for n in near if loose[n[1]].line != loose[n[2]].line)


def _meet(lines: list[_Line], one: _End, two: _End, gap_in: float) -> list[_Line]:
    """Bring two loose ends together: at their crossing, or by a bridge between them."""
    a, b = lines[one.line].segment, lines[two.line].segment
    crossing = None if a.is_arc or b.is_arc else _crossing(a, b)
    if crossing and max(math.dist(crossing, one.at), math.dist(crossing, two.at)) <= gap_in:
        for end in (one, two):
            _move_end(lines, end, crossing)
        return []
    return [_Line(Segment(one.at, two.at), lines[one.line].handle)]


def _reach(lines: Sequence[_Line], end: _End, tree: shapely.STRtree, gap_in: float) -> tuple[int, Point] | None:
    """The nearest other line that a loose end would meet within the gap, and where."""
    own = lines[end.line].segment
    found: list[tuple[float, int, Point]] = []
    for j in tree.query(shapely.Point(end.at), predicate="dwithin", distance=gap_in):
        if int(j) == end.line:
            continue
        other = lines[int(j)].segment
        foot = other.point_at(other.fraction_of(end.at))
        crossing = None if own.is_arc or other.is_arc else _crossing(own, other)
        if crossing and math.dist(crossing, end.at) <= gap_in:
            near = other.point_at(other.fraction_of(crossing))
            foot = crossing if math.dist(near, crossing) <= gap_in else foot
        found.append((math.dist(foot, end.at), int(j), foot))
    return min(found)[1:] if found else None


def _run_on(lines: list[_Line], end: _End, at: Point) -> list[_Line]:
    """Let a loose end run on to a point: in its own line where it is straight, else by a bridge."""
    line = lines[end.line]
    if line.segment.is_arc:
        return [_Line(Segment(end.at, at), line.handle)]
    _move_end(lines, end, at)
    return []


def _move_end(lines: list[_Line], end: _End, at: Point) -> None:
    line = lines[end.line]
    moved = replace(line.segment, end=at) if end.which else replace(line.segment, start=at)
    lines[end.line] = replace(line, segment=moved)


def _crossing(a: Segment, b: Segment) -> Point | None:
    """Where two straight lines, run on without end, cross; None where they are parallel."""
    (ax, ay), (bx, by) = a.start, b.start
    adx, ady, bdx, bdy = a.end[0] - ax, a.end[1] - ay, b.end[0] - bx, b.end[1] - by
    cross = adx * bdy - ady * bdx
    if abs(cross) <= 1e-6 * a.chord * b.chord:
        return None
    f = ((bx - ax) * bdy - (by - ay) * bdx) / cross
    return ax + f * adx, ay + f * ady


# ----------------------------------------------------------------- outlines


def _outline(group: Polygon, chords: Chords, lines: Sequence[_Line], finder: shapely.STRtree, layer: str) -> Shape:
    """The outline of one group of faces, with the handles of the lines along it."""
    path = chords.restore(group.exterior.coords).counter_clockwise
    middles = shapely.points([s.point_at(0.5) for s in path.segments])
    near = finder.query(middles, predicate="dwithin", distance=_ON_IN)[1]
    handles = sorted({lines[int(i)].handle for i in near})
    return Shape(straightened(path), layer, handles[0], "loose lines", tuple(handles[1:]))


def _unused(shapes: Sequence[Shape], groups: Sequence[Polygon]) -> list[Shape]:
    """Shapes with no part in any outline."""
    if not groups:
        return list(shapes)
    tree = shapely.STRtree(groups)
    middles = [shapely.Point(s.path.segments[0].point_at(0.5)) for s in shapes]
    held = set(tree.query(middles, predicate="dwithin", distance=_ON_IN)[0].tolist())
    return [s for i, s in enumerate(shapes) if i not in held]


Tell = Callable[..., None]


def close_loose(shapes: Sequence[Shape], *, gap_in: float, show: str, tell: Tell) -> list[Shape]:
    """The shapes of one layer with its loose lines made outlines; closed shapes stay as they are.

    Told: each gap closed, and lines that bound nothing. An open polyline that bounds nothing is
    handed on, to be reported as the open outline it is. Outlines of loose lines inside a closed
    outline of the layer are its panel lines and are dropped.
    """
    closed = [s for s in shapes if s.path.closed]
    loose = [s for s in shapes if not s.path.closed]
    if not loose:
        return list(shapes)
    loops = find_loops(loose, gap_in=gap_in)
    for gap in loops.joined:
        message = f"a gap of {setting_text(gap.gap_in, show)} between {gap.handles[0]} and {gap.handles[1]} was closed"
        tell("GAP_CLOSED", message, layer=loose[0].layer, handle=gap.handles[0], at=gap.at)
    hosts = [polygon_of(s.path, rise_in=0.01).buffer(_ON_IN) for s in closed]
    made = [s for s in loops.outlines if not any(h.covers(polygon_of(s.path, rise_in=0.01)) for h in hosts)]
    open_outlines = [s for s in loops.unused if len(s.path.vertices) > 2 and s.entity != "SPLINE"]
    single = [s for s in loops.unused if s not in open_outlines]
    stray = [s for s in single if not any(h.intersects(shapely.Point(s.path.segments[0].point_at(0.5))) for h in hosts)]
    if stray:
        first = stray[0]
        message = f"{len(stray)} loose line{'' if len(stray) == 1 else 's'} on layer {first.layer} bound no closed outline and were left out"
        tell("LOOSE_LINES_UNUSED", message, layer=first.layer, handle=first.handle, at=first.path.vertices[0][:2])
    return closed + made + open_outlines


def by_layer(shapes: Iterable[Shape]) -> dict[str, list[Shape]]:
    """The shapes by layer, case aside, in order of first appearance."""
    found: dict[str, list[Shape]] = defaultdict(list)
    for shape in shapes:
        found[shape.layer.lower()].append(shape)
    return dict(found)
