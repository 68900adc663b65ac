"""``cover``: the pieces of a wall cover its field exactly."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.tolerances import JUDGE_CRUMB_SQIN, JUDGE_PLACE_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import Piece, RuleBreak
from dxf2veneer.verify.plan.runs import (
    JudgedRun,
    JudgedWall,
    LaidPart,
    RunEnd,
    shape_of,
    thick_parts,
)


def reach_at(end: RunEnd, job: Job, product: Product) -> float:
    """How far the piece at a run's end runs past it.

    Args:
        end: The end of the run.
        job: The overhangs in force.
        product: The stone's thickness, and how pieces end at inside corners, openings and ends.

    Returns:
        Inches: the overhang of the course's corner piece; below 0 where the piece butts against the
        back of the other wall's at an outside corner (L6), or leaves a joint; 0 elsewhere.
    """
    if end.carries:
        behind = product.panel.thickness if product.corner.inside == "behind" else 0.0
        past = {"end": job.plan.end_overhang, "outside": job.plan.outside_overhang}
        return {**past, "inside": behind}.get(end.kind, 0.0)
    if end.kind == "outside":
        return min(0.0, job.plan.outside_overhang - product.panel.thickness)
    if end.is_jamb:
        return -product.laying.opening_joint
    return -product.laying.end_joint if end.edge and end.kind == "butt" else 0.0


def behind_at(end: RunEnd, job: Job, product: Product) -> float:
    """What a mitre at a run's end takes of the panel beyond the piece's face.

    Where a bay corner turns toward you the stone's back is longer than its face: cut at half the
    angle b between the walls, by thickness / tan b.

    Args:
        end: The end of the run.
        job: The angle of bays, and which of their corners turn toward you.
        product: The stone's thickness.

    Returns:
        Inches; 0 at other ends.
    """
    names = {name.upper() for name in job.recognise.bay_inside}
    if end.kind != "mitre" or end.edge is None or not names & {end.edge.tag, end.edge.corner}:
        return 0.0
    half = math.radians(job.recognise.bay_angle) / 2.0
    return product.panel.thickness * math.cos(half) / math.sin(half)


def behind_of(run: JudgedRun, one: LaidPart, job: Job, product: Product) -> tuple[float, float]:
    """What the mitres at both ends of a piece take of its panel beyond its face.

    Args:
        run: The run.
        one: A piece of it.
        job: The angle of bays, and which of their corners turn toward you.
        product: The stone's thickness.

    Returns:
        Inches, at its left and at its right.
    """
    left = behind_at(run.left, job, product) if one is run.laid[0] else 0.0
    right = behind_at(run.right, job, product) if one is run.laid[-1] else 0.0
    return left, right


def length_to_cover(run: JudgedRun, job: Job, product: Product) -> float:
    """Length that the pieces of a run make up.

    Args:
        run: The run.
        job: The overhangs in force.
        product: How pieces end at corners and openings.

    Returns:
        The run's length in inches and what its pieces reach past its ends.
    """
    return run.length + reach_at(run.left, job, product) + reach_at(run.right, job, product)


def cover_breaks(wall: JudgedWall, job: Job, product: Product) -> Iterator[RuleBreak]:
    """Places of one wall that no piece covers, that two cover, and pieces that leave their run.

    Pieces are looked at in their own run and course, so that a piece which leaves its course's band
    leaves its run as well.

    Args:
        wall: The wall with its runs.
        job: The overhangs in force.
        product: How pieces end at corners and openings.

    Yields:
        Breaks of ``cover``, at a point of what is wrong.
    """
    for one in wall.stray:
        yield RuleBreak(
            RuleId.COVER,
            wall.wall.wall.id,
            one.pieces[0].course,
            one.middle,
            message("piece-off-field", pieces=one.numbers, length=Length(one.length)),
        )
    for run in wall.runs:
        left, right = (reach_at(end, job, product) for end in (run.left, run.right))
        if not _is_plainly_covered(run, left, right):
            yield from _run_breaks(run, left, right)


def _is_plainly_covered(run: JudgedRun, left: float, right: float) -> bool:
    """Whether run and pieces are plain rectangles from end to end: the usual case, fast."""
    slack = JUDGE_PLACE_IN / 2
    x0, y0, x1, y1 = run.field.bounds
    if (x1 - x0) * (y1 - y0) - run.field.area > JUDGE_CRUMB_SQIN:
        return False
    at = x0 - left
    for one in run.laid:
        piece = one.pieces[0]
        if len(one.pieces) > 1 or piece.outline or piece.holes or abs(piece.x0 - at) > slack:
            return False
        if abs(piece.y0 - y0) > slack or abs(piece.y1 - y1) > slack:
            return False
        at = piece.x1
    return bool(abs(at - x1 - right) <= slack)


def _run_breaks(run: JudgedRun, left: float, right: float) -> Iterator[RuleBreak]:
    ground = _ground(run, left, right)
    pieces = [(one, p) for one in run.laid for p in one.pieces]
    shapes = np.array([shape_of(p) for _, p in pieces], dtype=object)
    reach = ((run.left, left), (run.right, right))
    permitted = [_permitted(run, ground, one, reach) for one, _ in pieces]
    for (one, _), beyond in zip(pieces, shapely.difference(shapes, permitted), strict=True):
        for part in thick_parts(beyond):
            what = message("piece-beyond-field", pieces=one.numbers, size=_size(part))
            yield _broken(run, part, what)
    for i, j in _near_pairs([p for _, p in pieces]):
        for part in thick_parts(shapes[i].intersection(shapes[j])):
            numbers = pieces[i][1].number, pieces[j][1].number
            yield _broken(run, part, message("pieces-overlap", pieces=numbers, size=_size(part)))
    for part in thick_parts(ground.difference(shapely.union_all(shapes))):
        yield _broken(run, part, message("field-uncovered", size=_size(part)))


def _ground(run: JudgedRun, left: float, right: float) -> BaseGeometry:
    """What pieces have to cover: the run less what they stop short of its ends."""
    if left >= 0.0 and right >= 0.0:
        return run.field
    x0, y0, x1, y1 = run.field.bounds
    low, high = x0 - min(0.0, left), x1 + min(0.0, right)
    if high <= low:
        return Polygon()
    return run.field.intersection(shapely.box(low, y0 - 1.0, high, y1 + 1.0))


def _permitted(
    run: JudgedRun,
    ground: BaseGeometry,
    one: LaidPart,
    reach: Sequence[tuple[RunEnd, float]],
) -> BaseGeometry:
    """What a piece may cover: its ground, and for a corner piece its overhang at the edge."""
    shape = ground
    _, y0, _, y1 = run.field.bounds
    for (end, over), laid in zip(reach, (run.laid[0], run.laid[-1]), strict=True):
        if over > 0.0 and one is laid and one.unit == "corner":
            past = end.x - over if end.side == "left" else end.x + over
            low, high = (max(y0, end.edge.y0), min(y1, end.edge.y1)) if end.edge else (y0, y1)
            shape = shape.union(shapely.box(min(past, end.x), low, max(past, end.x), high))
    return shape


def _near_pairs(pieces: Sequence[Piece]) -> Iterator[tuple[int, int]]:
    """Pairs of pieces whose boxes overlap, found along x."""
    order = sorted(range(len(pieces)), key=lambda i: pieces[i].x0)
    for k, i in enumerate(order):
        for j in order[k + 1 :]:
            if pieces[j].x0 >= pieces[i].x1:
                break
            if min(pieces[i].y1, pieces[j].y1) > max(pieces[i].y0, pieces[j].y0):
                yield i, j


def _broken(run: JudgedRun, part: BaseGeometry, what: Message) -> RuleBreak:
    at = part.representative_point()
    return run.broken(RuleId.COVER, (at.x, at.y), what)


def _size(part: BaseGeometry) -> Message:
    x0, y0, x1, y1 = part.bounds
    return message(
        "box-and-area", width=Length(x1 - x0), height=Length(y1 - y0), area=Area(part.area)
    )
