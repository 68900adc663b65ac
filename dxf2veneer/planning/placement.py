"""From laid runs to pieces: the ground each covers, what is done to it, and what its ends are."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import shapely
from shapely.geometry import Polygon

from dxf2veneer.basics.tolerances import (
    EXACT_IN,
    PIECE_CRUMB_SQIN,
    SAME_HEIGHT_IN,
    SHALLOW_RIP_IN,
    WHOLE_PANEL_IN,
)
from dxf2veneer.model import Course, Piece, PieceEnd, PieceKind, WallTakeoff
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.strips import BoundaryLine, Levels, levels_of, strips


class PlacedPiece(NamedTuple):
    """A piece and the part it belongs to; several pieces of one part lie above and below a slot."""

    ref: PartRef
    piece: Piece


def place_pieces(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], walls: Sequence[WallTakeoff], mitre: float
) -> dict[str, list[PlacedPiece]]:
    """The pieces of every wall.

    Args:
        laid: The runs as laid.
        units: The panels that their parts are cut from.
        walls: The walls with their courses and fields, in inches.
        mitre: Angle of a bay's mitres, in degrees off the face.

    Returns:
        By the wall's id, its pieces course by course and from the left, numbered.
    """
    at = {ref: (unit, start) for unit in units for ref, start in unit.parts}
    courses = {w.wall.id: w.courses.courses for w in walls}
    levels = {w.wall.id: levels_of(w) for w in walls}
    found: dict[str, list[PlacedPiece]] = defaultdict(list)
    for i, one in enumerate(laid):
        course = courses[one.run.wall][one.run.course]
        heights = _heights(one.run.field)
        xs = [one.run.x0, *one.joints, one.run.x1]
        for j, (x0, x1) in enumerate(pairwise(xs)):
            ref = PartRef(i, j)
            unit, start = at[ref]
            if heights:
                found[one.run.wall].append(
                    PlacedPiece(ref, _plain(one, j, x0, x1, heights, unit, start, course, mitre))
                )
                continue
            for ground in _grounds(one.run, x0, x1):
                plain = _plain(
                    one, j, x0, x1, (ground.bounds[1], ground.bounds[3]), unit, start, course, mitre
                )
                found[one.run.wall].append(
                    PlacedPiece(ref, _shaped(plain, ground, unit, course, levels[one.run.wall]))
                )
    return {wall: _numbered(placed) for wall, placed in found.items()}


def _numbered(placed: list[PlacedPiece]) -> list[PlacedPiece]:
    """In order of course, x and height, with numbers from 1 in each course."""
    order = sorted(placed, key=lambda p: (p.piece.course, p.piece.x0, p.piece.y0))
    numbered, count, course = [], 0, -1
    for ref, piece in order:
        count = count + 1 if piece.course == course else 1
        course = piece.course
        numbered.append(PlacedPiece(ref, Piece(**{**piece.__dict__, "number": count})))
    return numbered


# ------------------------------------------------------------------ ground


def _grounds(run: Run, x0: float, x1: float) -> list[Polygon]:
    """The run's ground between x0 and x1, overhangs beyond its ends added.

    The parts above and below a slot come apart.
    """
    gx0, gy0, gx1, gy1 = run.field.bounds
    cut = shapely.intersection(
        run.field, shapely.box(max(x0, gx0), gy0 - 1.0, min(x1, gx1), gy1 + 1.0)
    )
    for beyond, edge in ((x0, gx0), (x1, gx1)):
        if (beyond < gx0 - EXACT_IN) if edge == gx0 else (beyond > gx1 + EXACT_IN):
            ys = [y for x, y in run.field.exterior.coords if abs(x - edge) <= SAME_HEIGHT_IN]
            cut = shapely.union(
                cut, shapely.box(min(beyond, edge), min(ys), max(beyond, edge), max(ys))
            )
    parts = sorted(
        (p for p in shapely.get_parts(cut) if isinstance(p, Polygon)), key=lambda p: -p.area
    )
    return (
        [part for part in parts if part.area > PIECE_CRUMB_SQIN]
        or parts[:1]
        or [shapely.box(x0, gy0, x1, gy0 + SAME_HEIGHT_IN)]
    )


def _heights(ground: Polygon) -> tuple[float, float] | None:
    """The least and the greatest y of a run that is a plain rectangle, as most are."""
    return (ground.bounds[1], ground.bounds[3]) if _is_box(ground) else None


def _is_box(ground: Polygon) -> bool:
    return _missing(ground) <= PIECE_CRUMB_SQIN


def _missing(ground: Polygon) -> float:
    """By how much a shape is less than its box, in square inches."""
    x0, y0, x1, y1 = ground.bounds
    return float((x1 - x0) * (y1 - y0) - ground.area)


# -------------------------------------------------------------- one piece


def _plain(
    one: LaidRun,
    j: int,
    x0: float,
    x1: float,
    heights: tuple[float, float],
    unit: CutPanel,
    start: float,
    course: Course,
    mitre: float,
) -> Piece:
    """A piece of a run that is a plain rectangle."""
    left, right = _ends(one, j, x1 - x0, unit, start)
    y0, y1 = heights
    is_mitred = "mitre" in (left, right)
    return Piece(
        course=course.index,
        x0=x0,
        x1=x1,
        y0=y0,
        y1=y1,
        unit=unit.kind,
        left=left,
        right=right,
        ripped=y1 - y0 < course.y1 - course.y0 - SHALLOW_RIP_IN,
        glued=y1 < course.y1 - SHALLOW_RIP_IN,
        stock=unit.id,
        kind="mitred" if is_mitred else _kind((), True, False, y1 - y0, course, unit, x1 - x0),
        at=start,
        angle=mitre if is_mitred else None,
    )


def _shaped(plain: Piece, ground: Polygon, unit: CutPanel, course: Course, levels: Levels) -> Piece:
    """The piece as its ground shapes it; ``plain`` is what it would be over its whole box."""
    width, height = plain.x1 - plain.x0, plain.y1 - plain.y0
    box = _is_box(ground)
    nearly = _missing(ground) <= SAME_HEIGHT_IN * 2.0 * (width + height)
    shape = shapely.box(*ground.bounds) if box else ground
    lines = [
        BoundaryLine(*a, *b)
        for ring in (shape.exterior, *shape.interiors)
        for a, b in pairwise(ring.coords)
    ]
    kind, angle = plain.kind, plain.angle
    if kind != "mitred":
        kind = _kind(lines, nearly, bool(ground.interiors), height, course, unit, width)
        angle = _steepest(lines) if kind == "raked" else None
    return replace(
        plain,
        ripped=any(
            high - low < course.y1 - course.y0 - SHALLOW_RIP_IN
            for low, high in strips(lines, levels)
        ),
        glued=_flange(lines, course) < width / 2.0,
        outline=() if box else tuple(ground.exterior.normalize().coords[:-1]),
        holes=tuple(tuple(ring.coords[:-1]) for ring in ground.interiors),
        kind=kind,
        angle=angle,
    )


def _ends(
    one: LaidRun, j: int, length: float, unit: CutPanel, start: float
) -> tuple[PieceEnd, PieceEnd]:
    """What the left and right end of a piece are."""
    own: PieceEnd = "finished" if unit.kind == "corner" else "factory"
    left: PieceEnd = own if start <= WHOLE_PANEL_IN else "cut"
    right: PieceEnd = own if start + length >= unit.length - WHOLE_PANEL_IN else "cut"
    if unit.kind == "flat" and j == 0 and one.run.left == "mitre":
        left = "mitre"
    if unit.kind == "flat" and j == len(one.lengths) - 1 and one.run.right == "mitre":
        right = "mitre"
    return left, right


def _kind(
    lines: Sequence[BoundaryLine],
    box: bool,
    holed: bool,
    height: float,
    course: Course,
    unit: CutPanel,
    length: float,
) -> PieceKind:
    """The most telling thing done to the piece."""
    if any(line.is_sloped for line in lines):
        return "raked"
    if not box or holed:
        return "notched"
    if height < course.y1 - course.y0 - SHALLOW_RIP_IN:
        return "ripped"
    return "whole" if unit.kind == "flat" and length >= unit.length - WHOLE_PANEL_IN else "crosscut"


def _steepest(lines: Sequence[BoundaryLine]) -> float:
    """Angle above level, in degrees, of the longest sloped stretch."""
    longest = max(
        (line for line in lines if line.is_sloped),
        key=lambda line: math.hypot(line.xb - line.xa, line.yb - line.ya),
    )
    return math.degrees(math.atan2(abs(longest.yb - longest.ya), abs(longest.xb - longest.xa)))


def _flange(lines: Sequence[BoundaryLine], course: Course) -> float:
    """Length of the piece that still reaches the course's top line, where its nail flange is."""
    return math.fsum(
        abs(v.xb - v.xa)
        for v in lines
        if v.is_level and min(v.ya, v.yb) >= course.y1 - SHALLOW_RIP_IN
    )
