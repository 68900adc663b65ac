"""``declared``: what a piece says of itself agrees with what it covers; and L24, strips too low.

.----------.  course top         level sides of a piece bound its strips:
|   top    |
|    .-----'  <- top of strip b
| a  |  b  |                     strip a is as high as the course, strip b lower: the piece
'----'-----'  course bottom      is notched and ripped
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import (
    JUDGE_ANGLE_DEG,
    JUDGE_LENGTH_IN,
    JUDGE_NARROW_IN,
    JUDGE_PLACE_IN,
    JUDGE_SHALLOW_IN,
    LEVEL_SLOPE,
)
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import Course, Piece, PieceKind, RuleBreak
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart, shape_of
from dxf2veneer.verify.plan.strips import (
    Floats,
    LevelSides,
    Slices,
    Strip,
    level_strips,
    reach,
    slices_of,
)


class _Drawn(NamedTuple):
    """The shape of a piece that is no plain rectangle, and what is measured of it."""

    shape: BaseGeometry
    slices: Slices
    slopes: Floats
    """Angles above level of its sloped sides, in degrees."""

    @classmethod
    def of(cls, piece: Piece) -> _Drawn | None:
        """A piece measured; None where it is its plain rectangle."""
        if not piece.outline and not piece.holes:
            return None
        shape = shape_of(piece)
        return cls(shape, slices_of(shape), _slopes(shape))


def declared_breaks(wall: JudgedWall, job: Job, product: Product) -> Iterator[RuleBreak]:
    """Numbers, kinds, flags and outlines of pieces that are not what they cover, and L24.

    Args:
        wall: The wall with its runs.
        job: The least strip in force.
        product: The length of a flat panel.

    Yields:
        Breaks of ``declared`` and of the least strip.
    """
    sides = LevelSides(wall.wall.courses.field)
    yield from _numbers(wall)
    for run in wall.runs:
        for one in run.laid:
            for piece in one.pieces:
                yield from _piece(run, one, piece, sides, job, product)


def _numbers(wall: JudgedWall) -> Iterator[RuleBreak]:
    """Pieces of a course count from 1 at the left, the lower first of two that begin together."""
    for index, runs in wall.by_course.items():
        pieces = sorted(
            (p for run in runs for one in run.laid for p in one.pieces), key=lambda p: p.number
        )
        for number, (piece, before) in enumerate(zip(pieces, [None, *pieces], strict=False), 1):
            is_left = before is not None and piece.x0 < before.x0 - JUDGE_PLACE_IN
            if piece.number != number or is_left:
                yield RuleBreak(
                    RuleId.DECLARED,
                    wall.wall.wall.id,
                    index,
                    (piece.x0, piece.y0),
                    message("piece-number-wrong", piece=piece.number, number=number),
                )
                break


def _piece(
    run: JudgedRun, one: LaidPart, piece: Piece, sides: LevelSides, job: Job, product: Product
) -> Iterator[RuleBreak]:
    drawn = _Drawn.of(piece)
    strips = (
        level_strips(drawn.slices, sides, run.course)
        if drawn
        else [Strip(piece.x0, piece.x1, piece.y0, piece.y1)]
    )
    where = ((piece.x0 + piece.x1) / 2, (piece.y0 + piece.y1) / 2)
    for wrong in (
        *_box_faults(one, piece, drawn),
        *_flag_faults(piece, run.course, drawn, strips),
        *_kind_faults(piece, run.course, drawn, product),
    ):
        yield run.broken(RuleId.DECLARED, where, wrong)
    yield from _slivers(run, piece, strips, sides, job)


# ------------------------------------------------------------------ faults


def _box_faults(one: LaidPart, piece: Piece, drawn: _Drawn | None) -> Iterator[Message]:
    """The outline reaches as far as the piece's numbers say; parts beside a slot share the
    x-range."""
    if drawn is None or drawn.shape.is_empty:
        return
    x0, y0, x1, y1 = drawn.shape.bounds
    off = max(abs(y0 - piece.y0), abs(y1 - piece.y1), piece.x0 - x0, x1 - piece.x1)
    if len(one.pieces) == 1:
        off = max(off, x0 - piece.x0, piece.x1 - x1)
    if off > JUDGE_PLACE_IN:
        yield message(
            "piece-box-wrong",
            piece=piece.number,
            length=Length(piece.length),
            height=Length(piece.height),
            drawn_length=Length(x1 - x0),
            drawn_height=Length(y1 - y0),
        )


def _flag_faults(
    piece: Piece, course: Course, drawn: _Drawn | None, strips: Sequence[Strip]
) -> Iterator[Message]:
    """``ripped`` and ``glued``. What is cut out of a piece's inside leaves open whether it is
    ripped; half a flange is left open too."""
    low = any(s.y1 - s.y0 < course.y1 - course.y0 - JUDGE_SHALLOW_IN for s in strips)
    if low and not piece.ripped and not piece.holes:
        yield message("piece-not-marked-ripped", piece=piece.number)
    if piece.ripped and not low and not piece.holes:
        yield message("piece-marked-ripped", piece=piece.number)
    flange = course.y1 - JUDGE_SHALLOW_IN
    kept = reach(drawn.slices, flange) if drawn else piece.length * (piece.y1 >= flange)
    is_clear = abs(kept - piece.length / 2) > JUDGE_PLACE_IN
    if is_clear and (kept < piece.length / 2) != piece.glued:
        number, of, whole = piece.number, Length(kept), Length(piece.length)
        yield (
            message("piece-marked-glued", piece=number, kept=of, length=whole)
            if piece.glued
            else message("piece-not-marked-glued", piece=number, kept=of, length=whole)
        )


def _kind_faults(
    piece: Piece, course: Course, drawn: _Drawn | None, product: Product
) -> Iterator[Message]:
    """The kind, which is the most telling thing done to the piece, and the angle of a raked one."""
    kinds = _kinds(piece, course, drawn, product)
    if piece.kind not in kinds:
        yield message("piece-kind-wrong", piece=piece.number, kinds=kinds, said=piece.kind)
    if piece.kind != "raked" or piece.angle is None or drawn is None or not len(drawn.slopes):
        return
    least, most = float(drawn.slopes.min()), float(drawn.slopes.max())
    if not least - JUDGE_ANGLE_DEG <= piece.angle <= most + JUDGE_ANGLE_DEG:
        yield message(
            "rake-angle-wrong", piece=piece.number, least=least, most=most, said=piece.angle
        )


def _kinds(
    piece: Piece, course: Course, drawn: _Drawn | None, product: Product
) -> tuple[PieceKind, ...]:
    """What the piece may be called. Where only round holes slope, it may be raked or notched."""
    if "mitre" in (piece.left, piece.right):
        return ("mitred",)
    if drawn is not None and len(drawn.slopes):
        return ("raked", "notched") if piece.holes else ("raked",)
    if piece.holes or (drawn is not None and not _is_box(drawn.shape)):
        return ("notched",)
    if piece.height < course.y1 - course.y0 - JUDGE_SHALLOW_IN:
        return ("ripped",)
    whole = piece.unit == "flat" and piece.length > product.panel.length - JUDGE_LENGTH_IN
    return ("whole",) if whole else ("crosscut",)


def _is_box(shape: BaseGeometry) -> bool:
    """Whether a shape fills its box, whatever number of corners it is drawn with."""
    box = shapely.box(*shape.bounds)
    return bool(box.area - shape.area <= JUDGE_PLACE_IN * box.length)


def _slopes(shape: BaseGeometry) -> Floats:
    """Angles of the sides that are neither level nor upright, and long enough to be meant."""
    rings = shapely.get_rings(shapely.get_parts(shape))
    sides = [np.abs(np.diff(shapely.get_coordinates(ring), axis=0)) for ring in rings]
    across, up = np.concatenate([*sides, np.zeros((0, 2))]).T
    slopes = (up > LEVEL_SLOPE * across) & (across > LEVEL_SLOPE * up)
    meant = slopes & (np.hypot(across, up) > JUDGE_NARROW_IN)
    return np.asarray(np.degrees(np.arctan2(up[meant], across[meant])))


# ------------------------------------------------------------------ strips


def _slivers(
    run: JudgedRun, piece: Piece, strips: Sequence[Strip], sides: LevelSides, job: Job
) -> Iterator[RuleBreak]:
    """L24: strips lower than the job's limit; forced where the field itself is that low there."""
    for s in strips:
        if s.y1 - s.y0 >= job.courses.sliver - JUDGE_PLACE_IN:
            continue
        x = (s.x0 + s.x1) / 2
        own = sides.meet(np.array([x, x]), np.array([s.y0, s.y1]), run.course)
        what = message(
            "strip-too-low",
            piece=piece.number,
            height=Length(s.y1 - s.y0),
            length=Length(s.x1 - s.x0),
        )
        yield run.broken(RuleId.LEAST_STRIP, (x, (s.y0 + s.y1) / 2), what, forced=bool(own.all()))
