"""``cover``: the pieces of a wall cover its field exactly."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.tolerances import JUDGE_CRUMB_SQIN, JUDGE_PLACE_IN
from dxf2veneer.config.job import Job
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


def overhang_at(end: RunEnd, job: Job) -> float:
    """How far the piece at a run's end runs past it.

    Args:
        end: The end of the run.
        job: The overhangs in force.

    Returns:
        Inches: the job's overhang where the course carries a corner piece there, 0 elsewhere.
    """
    if not end.carries:
        return 0.0
    return {"end": job.plan.end_overhang, "outside": job.plan.outside_overhang}.get(end.kind, 0.0)


def cover_breaks(wall: JudgedWall, job: Job) -> Iterator[RuleBreak]:
    """Places of one wall that no piece covers, that two cover, and pieces that leave their run.

    Pieces are looked at in their own run and course, so that a piece which leaves its course's band
    leaves its run as well.

    Args:
        wall: The wall with its runs.
        job: The overhangs in force.

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
        if not _is_plainly_covered(run, job):
            yield from _run_breaks(run, job)


def _is_plainly_covered(run: JudgedRun, job: Job) -> bool:
    """Whether run and pieces are plain rectangles from end to end: the usual case, fast."""
    slack = JUDGE_PLACE_IN / 2
    x0, y0, x1, y1 = run.field.bounds
    if (x1 - x0) * (y1 - y0) - run.field.area > JUDGE_CRUMB_SQIN:
        return False
    at = x0 - overhang_at(run.left, job)
    for one in run.laid:
        piece = one.pieces[0]
        if len(one.pieces) > 1 or piece.outline or piece.holes or abs(piece.x0 - at) > slack:
            return False
        if abs(piece.y0 - y0) > slack or abs(piece.y1 - y1) > slack:
            return False
        at = piece.x1
    return bool(abs(at - x1 - overhang_at(run.right, job)) <= slack)


def _run_breaks(run: JudgedRun, job: Job) -> Iterator[RuleBreak]:
    pieces = [(one, p) for one in run.laid for p in one.pieces]
    shapes = np.array([shape_of(p) for _, p in pieces], dtype=object)
    permitted = [_permitted(run, one, job) for one, _ in pieces]
    for (one, _), beyond in zip(pieces, shapely.difference(shapes, permitted), strict=True):
        for part in thick_parts(beyond):
            what = message("piece-beyond-field", pieces=one.numbers, size=_size(part))
            yield _broken(run, part, what)
    for i, j in _near_pairs([p for _, p in pieces]):
        for part in thick_parts(shapes[i].intersection(shapes[j])):
            numbers = pieces[i][1].number, pieces[j][1].number
            yield _broken(run, part, message("pieces-overlap", pieces=numbers, size=_size(part)))
    for part in thick_parts(run.field.difference(shapely.union_all(shapes))):
        yield _broken(run, part, message("field-uncovered", size=_size(part)))


def _permitted(run: JudgedRun, one: LaidPart, job: Job) -> BaseGeometry:
    """What a piece may cover: its run, and for a corner piece the job's overhang at the edge."""
    shape: BaseGeometry = run.field
    _, y0, _, y1 = run.field.bounds
    for end, laid in ((run.left, run.laid[0]), (run.right, run.laid[-1])):
        over = overhang_at(end, job)
        if over > 0.0 and one is laid and one.unit == "corner":
            reach = end.x - over if end.side == "left" else end.x + over
            low, high = (max(y0, end.edge.y0), min(y1, end.edge.y1)) if end.edge else (y0, y1)
            shape = shape.union(shapely.box(min(reach, end.x), low, max(reach, end.x), high))
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
