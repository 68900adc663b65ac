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

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import (
    COARSE_FLATTEN_IN,
    ON_OUTLINE_IN,
    OPEN_OUTLINE_LARGER,
    THIN_IN,
)
from dxf2veneer.drawing.notice_collector import Report
from dxf2veneer.drawing.outlines.ends import Joined, join_ends
from dxf2veneer.drawing.outlines.heads import report_headless
from dxf2veneer.drawing.outlines.noding import LooseLine, distinct, grid_of, linestrings, noded
from dxf2veneer.drawing.outlines.tidying import polygon_of
from dxf2veneer.geometry.boundary import straightened
from dxf2veneer.geometry.chords import Chords
from dxf2veneer.model import Shape


@dataclass(frozen=True)
class Loops:
    """What became of the loose lines of one layer."""

    outlines: tuple[Shape, ...]
    """From left to right and upward."""
    joined: tuple[Joined, ...]
    """Gaps that were closed."""
    unused: tuple[Shape, ...]
    """Shapes that bound no outline and lie inside none."""


def find_loops(shapes: Sequence[Shape], *, gap_in: float, taken: Sequence[Polygon] = ()) -> Loops:
    """The outlines that open shapes bound, whatever their order in the drawing.

    Args:
        shapes: The open shapes of one layer, in inches.
        gap_in: The widest gap that is closed, in inches.
        taken: Ground of other outlines: faces on it are left out.

    Returns:
        The outlines by place, the gaps that were closed, and what is left over.
    """
    if not shapes:
        return Loops((), (), ())
    lines, joined, grid, chords, pieces = _mended(shapes, gap_in)
    faces = _beside(shapely.polygonize(pieces).geoms, taken)
    groups = shapely.get_parts(shapely.union_all(list(faces), grid_size=grid)) if len(faces) else []
    groups = [
        g for g in groups if g.area > THIN_IN * g.length
    ]  # doubled curves that differ a little
    finder = shapely.STRtree(
        linestrings([n.segment.flatten(rise_in=ON_OUTLINE_IN / 2) for n in lines])
    )
    outlines = [
        _outline(Polygon(g.exterior), chords, lines, finder, shapes[0].layer) for g in groups
    ]
    outlines.sort(key=lambda s: s.path.box)
    return Loops(
        tuple(outlines),
        tuple(joined),
        tuple(_unused(shapes, [Polygon(g.exterior) for g in groups])),
    )


def _beside(faces: Sequence[Polygon], taken: Sequence[Polygon]) -> Sequence[Polygon]:
    """The faces that don't lie on ground that is taken."""
    if not taken or not len(faces):
        return faces
    middles = shapely.point_on_surface(np.array(faces, dtype=object))
    held = set(shapely.STRtree(list(taken)).query(middles, predicate="within")[0].tolist())
    return [face for i, face in enumerate(faces) if i not in held]


def noded_faces(shapes: Sequence[Shape], *, gap_in: float) -> list[Shape]:
    """Every single face that shapes bound; faces inside it are not taken out.

    Args:
        shapes: The shapes, open or closed, in inches.
        gap_in: The widest gap that is closed, in inches.

    Returns:
        The faces by place.
    """
    if not shapes:
        return []
    lines, _, _, chords, pieces = _mended(shapes, gap_in)
    finder = shapely.STRtree(
        linestrings([n.segment.flatten(rise_in=ON_OUTLINE_IN / 2) for n in lines])
    )
    found = [
        _outline(face, chords, lines, finder, shapes[0].layer)
        for face in shapely.polygonize(pieces).geoms
    ]
    return sorted(found, key=lambda s: s.path.box)


def _mended(
    shapes: Sequence[Shape], gap_in: float
) -> tuple[list[LooseLine], list[Joined], float, Chords, Any]:
    """The lines with short ends joined, the gaps closed, the grid, and the noded pieces."""
    lines = distinct(shapes)
    grid = grid_of(lines)
    first = noded(lines, grid)
    lines, joined = join_ends(lines, first, grid, gap_in)
    chords, pieces, _ = noded(lines, grid) if joined else first
    return lines, joined, grid, chords, pieces


# ----------------------------------------------------------------- outlines


def _outline(
    group: Polygon, chords: Chords, lines: Sequence[LooseLine], finder: shapely.STRtree, layer: str
) -> Shape:
    """The outline of one group of faces, with the handles of the lines along it."""
    path = chords.restore(group.exterior.coords).counter_clockwise
    middles = shapely.points([s.point_at(0.5) for s in path.segments])
    near = finder.query(middles, predicate="dwithin", distance=ON_OUTLINE_IN)[1]
    handles = sorted({lines[int(i)].handle for i in near})
    return Shape(straightened(path), layer, handles[0], "loose lines", tuple(handles[1:]))


def _unused(shapes: Sequence[Shape], groups: Sequence[Polygon]) -> list[Shape]:
    """Shapes with no part in any outline."""
    if not groups:
        return list(shapes)
    tree = shapely.STRtree(groups)
    middles = [shapely.Point(s.path.segments[0].point_at(0.5)) for s in shapes]
    held = set(tree.query(middles, predicate="dwithin", distance=ON_OUTLINE_IN)[0].tolist())
    return [s for i, s in enumerate(shapes) if i not in held]


def close_loose(
    shapes: Sequence[Shape],
    *,
    gap_in: float,
    report: Report,
    walls: bool = False,
    inches: float | None = None,
) -> list[Shape]:
    """The shapes of one layer with its loose lines made outlines; closed shapes stay.

    Reported: each gap closed, and lines that bound nothing. An open polyline that bounds nothing is
    handed on, to be reported as the open outline it is. Outlines of loose lines inside a closed
    outline of the layer are its panel lines and are dropped.

    Args:
        shapes: The shapes, in inches.
        gap_in: The widest gap that is closed, in inches.
        report: Takes the notices.
        walls: Whether the layer holds walls: lines that reach round all outlines are then told.
        inches: On a layer of openings inches in a drawing unit: openings without a head are then
            told.

    Returns:
        Closed shapes, then outlines of loose lines, then open outlines.
    """
    closed = [s for s in shapes if s.path.closed]
    loose = [s for s in shapes if not s.path.closed]
    if not loose:
        return list(shapes)
    loops = find_loops(loose, gap_in=gap_in)
    _report_gaps(loops, loose[0].layer, report)
    hosts = [polygon_of(s.path, rise_in=COARSE_FLATTEN_IN).buffer(ON_OUTLINE_IN) for s in closed]
    made = [
        s
        for s in loops.outlines
        if not any(h.covers(polygon_of(s.path, rise_in=COARSE_FLATTEN_IN)) for h in hosts)
    ]
    if walls:
        _report_round([*closed, *made], loops.unused, report)
    if inches is not None:
        report_headless(loops.unused, gap_in=gap_in, inches=inches, report=report)
    open_outlines = [s for s in loops.unused if len(s.path.vertices) > 2 and s.entity != "SPLINE"]
    single = [s for s in loops.unused if s not in open_outlines]
    stray = [
        s
        for s in single
        if not any(h.intersects(shapely.Point(s.path.segments[0].point_at(0.5))) for h in hosts)
    ]
    if stray:
        lowest = stray[0]
        report(
            "LOOSE_LINES_UNUSED",
            message("loose-lines", n=len(stray), layer=lowest.layer),
            layer=lowest.layer,
            handle=lowest.handle,
            at=lowest.path.vertices[0][:2],
        )
    return closed + made + open_outlines


def _report_gaps(loops: Loops, layer: str, report: Report) -> None:
    """Report the gaps that were closed."""
    for gap in loops.joined:
        first, second = gap.handles
        closed_gap = message("gap-between", gap=Length(gap.gap_in), first=first, second=second)
        report("GAP_CLOSED", closed_gap, layer=layer, handle=first, at=gap.at)


def _report_round(outlines: Sequence[Shape], unused: Sequence[Shape], report: Report) -> None:
    """Report lines that bound nothing and yet reach round all outlines of a wall layer: the wall's
    own outline, perhaps, which does not close, so that only what lies in it is measured."""
    if not outlines or not unused:
        return
    inner = shapely.total_bounds(shapely.box(*np.array([s.path.box for s in outlines]).T))
    x0, y0, x1, y1 = shapely.total_bounds(shapely.box(*np.array([s.path.box for s in unused]).T))
    around = x0 <= inner[0] and y0 <= inner[1] and x1 >= inner[2] and y1 >= inner[3]
    wide, high = inner[2] - inner[0], inner[3] - inner[1]
    if not around or (x1 - x0) * (y1 - y0) < OPEN_OUTLINE_LARGER * wide * high:
        return
    first = unused[0]
    report(
        "WALL_OUTLINE_OPEN",
        message(
            "wall-outline-open",
            layer=first.layer,
            width=Length(float(x1 - x0)),
            height=Length(float(y1 - y0)),
        ),
        layer=first.layer,
        handle=first.handle,
        at=first.path.vertices[0][:2],
    )


def by_layer(shapes: Iterable[Shape]) -> dict[str, list[Shape]]:
    """The shapes by layer, case aside.

    Args:
        shapes: The shapes.

    Returns:
        By lower-case name of the layer, in order of first appearance.
    """
    found: dict[str, list[Shape]] = defaultdict(list)
    for shape in shapes:
        found[shape.layer.lower()].append(shape)
    return dict(found)
