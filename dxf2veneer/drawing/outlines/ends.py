"""Ends of loose lines that fall short, brought together.

two lines at their crossing        a line that stops before another by running on to it

   ----.  .  becomes  -----+          ----.  |   becomes  ------|
          |                |                 |                  |
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely

from dxf2veneer.basics.tolerances import FLATTEN_IN
from dxf2veneer.drawing.outlines.noding import Key, LooseLine, Noded, end_keys, linestrings
from dxf2veneer.geometry import Point, Segment


@dataclass(frozen=True)
class Joined:
    """A gap that was closed."""

    at: Point
    """A loose end at the gap, in inches."""
    gap_in: float
    """How wide it was, in inches."""
    handles: tuple[str, str]
    """Handles of the entities at its two sides."""


@dataclass(frozen=True)
class _End:
    """A loose end of a line."""

    line: int
    """Number of the line."""
    which: int
    """0 for its start, 1 for its end."""
    at: Point
    """Where it is, in inches."""


def join_ends(
    lines: list[LooseLine], noded: Noded, grid: float, gap_in: float
) -> tuple[list[LooseLine], list[Joined]]:
    """Bring together ends of loose lines that fall short by at most the gap.

    Args:
        lines: The lines, in inches.
        noded: The same, cut where they meet.
        grid: Step of the grid of their ends, in inches.
        gap_in: The widest gap that is closed, in inches.

    Returns:
        The lines with their ends mended, and each gap that was closed.
    """
    if gap_in <= 0.0:
        return lines, []
    loose = _loose_ends(lines, noded, grid, gap_in)
    mended, bridges, joined = list(lines), [], []
    left = dict.fromkeys(range(len(loose)))
    for distance, i, j in _near_pairs(loose, gap_in):
        if i in left and j in left:
            del left[i], left[j]
            bridges += _meet(mended, loose[i], loose[j], gap_in)
            joined.append(
                Joined(
                    loose[i].at,
                    distance,
                    (lines[loose[i].line].handle, lines[loose[j].line].handle),
                )
            )
    tree = shapely.STRtree(linestrings([n.segment.flatten(rise_in=FLATTEN_IN) for n in mended]))
    for i in left:
        reached = _reach(mended, loose[i], tree, gap_in)
        if reached:
            other, at = reached
            bridges += _run_on(mended, loose[i], at)
            joined.append(
                Joined(
                    loose[i].at,
                    math.dist(loose[i].at, at),
                    (lines[loose[i].line].handle, lines[other].handle),
                )
            )
    return [n for n in (*mended, *bridges) if n.segment.start != n.segment.end], joined


def _loose_ends(lines: Sequence[LooseLine], noded: Noded, grid: float, gap_in: float) -> list[_End]:
    """Ends where nothing else ends or passes, but for tips of lines that run a little too far."""
    chords, pieces, ends = noded
    tips = set()
    short = pieces[shapely.length(pieces) <= gap_in]
    for keys in end_keys(short, grid):
        for here, there in (keys, keys[::-1]):
            if ends[here] == 1 and ends[there] > 2:
                tips.add(here)
    found: dict[Key, _End] = {}
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
    near = [
        (math.dist(loose[i].at, loose[j].at), int(i), int(j))
        for i, j in zip(*pairs, strict=True)
        if i < j
    ]
    return sorted(n for n in near if loose[n[1]].line != loose[n[2]].line)


def _meet(lines: list[LooseLine], one: _End, two: _End, gap_in: float) -> list[LooseLine]:
    """Bring two loose ends together: at their crossing, or by a bridge between them."""
    a, b = lines[one.line].segment, lines[two.line].segment
    crossing = None if a.is_arc or b.is_arc else _crossing(a, b)
    if crossing and max(math.dist(crossing, one.at), math.dist(crossing, two.at)) <= gap_in:
        for end in (one, two):
            _move_end(lines, end, crossing)
        return []
    return [LooseLine(Segment(one.at, two.at), lines[one.line].handle)]


def _reach(
    lines: Sequence[LooseLine], end: _End, tree: shapely.STRtree, gap_in: float
) -> tuple[int, Point] | None:
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


def _run_on(lines: list[LooseLine], end: _End, at: Point) -> list[LooseLine]:
    """Let a loose end run on to a point: in its own line where it is straight, else by a bridge."""
    line = lines[end.line]
    if line.segment.is_arc:
        return [LooseLine(Segment(end.at, at), line.handle)]
    _move_end(lines, end, at)
    return []


def _move_end(lines: list[LooseLine], end: _End, at: Point) -> None:
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
