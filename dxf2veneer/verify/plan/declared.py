"""``declared``: what a piece says of itself agrees with the ground it covers; and L24, strips too low to hold.

.----------.  course top         level edges of a piece bound its strips:
|   top    |
|    .-----'  <- top of strip b
| a  |  b  |                     strip a is as high as the course, strip b lower: the piece
'----'-----'  course bottom      is notched and ripped
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry import Region
from dxf2veneer.geometry.boundary import LEVEL_SLOPE
from dxf2veneer.model import Course, Piece, PieceKind, RuleBreak
from dxf2veneer.tolerances import (
    JUDGE_ANGLE_DEG,
    JUDGE_LENGTH_IN,
    JUDGE_NARROW_IN,
    JUDGE_PLACE_IN,
    JUDGE_SHALLOW_IN,
)
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart, outline_of
from dxf2veneer.wording.measures import length_text


class _Line(NamedTuple):
    """A stretch of boundary from (xa, ya) to (xb, yb)."""

    xa: float
    ya: float
    xb: float
    yb: float

    @property
    def is_level(self) -> bool:
        return abs(self.yb - self.ya) <= LEVEL_SLOPE * abs(self.xb - self.xa)

    @property
    def is_sloped(self) -> bool:
        """Neither level nor upright, and long enough to be meant."""
        dx, dy = abs(self.xb - self.xa), abs(self.yb - self.ya)
        return not self.is_level and dx > LEVEL_SLOPE * dy and math.hypot(dx, dy) > JUDGE_NARROW_IN

    def y_at(self, x: float) -> float:
        return self.ya + (x - self.xa) / (self.xb - self.xa) * (self.yb - self.ya)


class Strip(NamedTuple):
    """A stretch of a piece between two level lines, a course line or a level side of the field each."""

    x0: float
    x1: float
    y0: float
    y1: float


def declared_breaks(wall: JudgedWall, job: Job, product: Product) -> Iterator[RuleBreak]:
    """Numbers, kinds, flags and outlines of one wall's pieces that are not what they cover, and L24."""
    all_level = _level_lines(ground.wall.courses.field)
    yield from _numbers(ground)
    for run in ground.runs:
        y0, y1 = run.course.y0 - JUDGE_PLACE_IN, run.course.y1 + JUDGE_PLACE_IN
        level = [v for v in all_level if min(v.ya, v.yb) < y1 and max(v.ya, v.yb) > y0]
        for one in run.laid:
            for piece in one.pieces:
                yield from _piece(run, one, piece, level, job, product)


def _numbers(wall: JudgedWall) -> Iterator[RuleBreak]:
    """Pieces of a course count from 1 at the left, the lower first of two that begin together."""
    for index, runs in ground.by_course.items():
        pieces = sorted(
            (p for run in runs for one in run.laid for p in one.pieces), key=lambda p: p.number
        )
        for number, (piece, before) in enumerate(zip(pieces, [None, *pieces], strict=False), 1):
            if piece.number != number or (
                before is not None and piece.x0 < before.x0 - JUDGE_PLACE_IN
            ):
                message = f"piece {piece.number} is number {number} of its course or not right of the one before"
                yield RuleBreak(
                    "declared", ground.wall.wall.id, index, (piece.x0, piece.y0), message
                )
                break


def _piece(
    run: JudgedRun, one: LaidPart, piece: Piece, level: Sequence[_Line], job: Job, product: Product
) -> Iterator[RuleBreak]:
    lines = _lines(piece) if piece.outline or piece.holes else []
    strips = (
        _strips(lines, level, run.course)
        if lines
        else [Strip(piece.x0, piece.x1, piece.y0, piece.y1)]
    )
    where = ((piece.x0 + piece.x1) / 2, (piece.y0 + piece.y1) / 2)
    for wrong in (
        *_box_faults(one, piece, lines, job.output.display),
        *_flag_faults(piece, run.course, lines, strips, job.output.display),
        *_kind_faults(piece, run.course, lines, product),
    ):
        yield run.broken("declared", where, f"piece {piece.number} {wrong}")
    yield from _slivers(run, piece, strips, level, job)


# ------------------------------------------------------------------ faults


def _box_faults(one: LaidPart, piece: Piece, lines: Sequence[_Line], show: str) -> Iterator[str]:
    """The outline reaches just as far as the piece's numbers say; parts beside a slot share the x-range."""
    if not lines:
        return
    x0, x1 = min(v.xa for v in lines), max(v.xa for v in lines)
    y0, y1 = min(v.ya for v in lines), max(v.ya for v in lines)
    off = max(abs(y0 - piece.y0), abs(y1 - piece.y1), piece.x0 - x0, x1 - piece.x1)
    if len(one.pieces) == 1:
        off = max(off, x0 - piece.x0, piece.x1 - x1)
    if off > JUDGE_PLACE_IN:
        said, drawn = (
            f"{length_text(w, show)} by {length_text(h, show)}"
            for w, h in ((piece.length, piece.height), (x1 - x0, y1 - y0))
        )
        yield f"says {said}, its outline is {drawn}"


def _flag_faults(
    piece: Piece, course: Course, lines: Sequence[_Line], strips: Sequence[Strip], show: str
) -> Iterator[str]:
    """``ripped`` and ``glued``. What is cut out of a piece's inside leaves open whether it is ripped; half
    a flange is left open too."""
    low = any(s.y1 - s.y0 < course.y1 - course.y0 - JUDGE_SHALLOW_IN for s in strips)
    if low != piece.ripped and not piece.holes:
        yield f"is {'' if low else 'not '}lower than its course along a level stretch, and says ripped = {piece.ripped}"
    reach = piece.length if piece.y1 >= course.y1 - JUDGE_SHALLOW_IN else 0.0
    if lines:
        reach = sum(
            abs(v.xb - v.xa)
            for v in lines
            if v.is_level and min(v.ya, v.yb) >= course.y1 - JUDGE_SHALLOW_IN
        )
    if abs(reach - piece.length / 2) > JUDGE_PLACE_IN and (reach < piece.length / 2) != piece.glued:
        yield f"keeps {length_text(reach, show)} of the flange of its {length_text(piece.length, show)}, and says glued = {piece.glued}"


def _kind_faults(
    piece: Piece, course: Course, lines: Sequence[_Line], product: Product
) -> Iterator[str]:
    """The kind, which is the most telling thing done to the piece, and the angle of a raked one."""
    kinds = _kinds(piece, course, lines, product)
    if piece.kind not in kinds:
        yield f"is {' or '.join(kinds)}, and says {piece.kind}"
    slopes = [
        math.degrees(math.atan2(abs(v.yb - v.ya), abs(v.xb - v.xa))) for v in lines if v.is_sloped
    ]
    off = (
        piece.angle is not None
        and slopes
        and not min(slopes) - JUDGE_ANGLE_DEG <= piece.angle <= max(slopes) + JUDGE_ANGLE_DEG
    )
    if piece.kind == "raked" and off:
        yield f"is cut at {min(slopes):.1f} to {max(slopes):.1f} degrees, and says {piece.angle:.1f}"


def _kinds(
    piece: Piece, course: Course, lines: Sequence[_Line], product: Product
) -> tuple[PieceKind, ...]:
    """What the piece may be called. Where only round holes slope, it may be raked or notched."""
    if "mitre" in (piece.left, piece.right):
        return ("mitred",)
    if any(v.is_sloped for v in lines):
        return ("raked", "notched") if piece.holes else ("raked",)
    if piece.holes or (lines and not _is_box(lines)):
        return ("notched",)
    if piece.height < course.y1 - course.y0 - JUDGE_SHALLOW_IN:
        return ("ripped",)
    whole = piece.unit == "flat" and piece.length > product.panel.length - JUDGE_LENGTH_IN
    return ("whole",) if whole else ("crosscut",)


def _is_box(lines: Sequence[_Line]) -> bool:
    """Whether the boundary is a plain rectangle's, drawn with as many points as you like."""
    xs, ys = [v for a in lines for v in (a.xa, a.xb)], [v for a in lines for v in (a.ya, a.yb)]
    around = 2.0 * (max(xs) - min(xs) + max(ys) - min(ys))
    area = abs(sum(v.xa * v.yb - v.xb * v.ya for v in lines)) / 2.0
    return (max(xs) - min(xs)) * (max(ys) - min(ys)) - area <= JUDGE_PLACE_IN * around


# ------------------------------------------------------------------ strips


def _slivers(
    run: JudgedRun, piece: Piece, strips: Sequence[Strip], level: Sequence[_Line], job: Job
) -> Iterator[RuleBreak]:
    """L24: level strips lower than the job's limit; forced where the field itself is that low there."""
    for s in strips:
        height = s.y1 - s.y0
        if height < job.courses.sliver - JUDGE_PLACE_IN:
            x = (s.x0 + s.x1) / 2
            own = all(_on_level(x, y, level, run.course) for y in (s.y0, s.y1))
            high, long = (length_text(v, job.output.display) for v in (height, s.x1 - s.x0))
            message = f"piece {piece.number} has a strip {high} high and {long} long"
            yield run.broken("L24", (x, (s.y0 + s.y1) / 2), message, forced=own)


def _level_lines(field: Region) -> list[_Line]:
    """The straight level sides of a field, from left to right."""
    found = []
    for path in field.paths:
        for segment in path.segments:
            line = _Line(*segment.start, *segment.end)
            if not segment.is_arc and line.xa != line.xb and line.is_level:
                found.append(
                    line if line.xa < line.xb else _Line(line.xb, line.yb, line.xa, line.ya)
                )
    return found


def _on_level(x: float, y: float, level: Sequence[_Line], course: Course) -> bool:
    """Whether a point lies on a course line or a level side of the field: not on an arc's flattened crown."""
    if min(abs(y - course.y0), abs(y - course.y1)) <= JUDGE_PLACE_IN:
        return True
    return any(
        v.xa - JUDGE_PLACE_IN <= x <= v.xb + JUDGE_PLACE_IN and abs(v.y_at(x) - y) <= JUDGE_PLACE_IN
        for v in level
    )


def _lines(piece: Piece) -> list[_Line]:
    """The boundary of a piece, what is cut out of its inside included."""
    rings = [outline_of(piece), *piece.holes]
    return [_Line(*a, *b) for ring in rings for a, b in pairwise((*ring, *ring[:1]))]


def _strips(lines: Sequence[_Line], level: Sequence[_Line], course: Course) -> list[Strip]:
    """Stretches of a piece that lie between two level lines, those of one height together."""
    across = [v for v in lines if v.xa != v.xb]
    flat = [(min(v.xa, v.xb), max(v.xa, v.xb)) for v in across if v.is_level]
    strips: list[Strip] = []
    for a, b in pairwise(sorted({x for v in across for x in (v.xa, v.xb)})):
        x = (a + b) / 2
        if b - a <= JUDGE_LENGTH_IN or sum(lo <= x <= hi for lo, hi in flat) < 2:
            continue
        met = sorted(
            (v.y_at(x), v.is_level) for v in across if min(v.xa, v.xb) < x < max(v.xa, v.xb)
        )
        for (low, low_level), (high, high_level) in zip(met[::2], met[1::2], strict=False):
            if (
                low_level
                and high_level
                and _on_level(x, low, level, course)
                and _on_level(x, high, level, course)
            ):
                _add(strips, Strip(a, b, low, high))
    return [s for s in strips if s.x1 - s.x0 > JUDGE_NARROW_IN]


def _add(strips: list[Strip], more: Strip) -> None:
    """Add a strip, or lengthen the one it goes on from."""
    for i, s in enumerate(strips):
        if (
            abs(s.x1 - more.x0) <= JUDGE_LENGTH_IN
            and abs(s.y0 - more.y0) <= JUDGE_PLACE_IN
            and abs(s.y1 - more.y1) <= JUDGE_PLACE_IN
        ):
            strips[i] = Strip(s.x0, more.x1, s.y0, s.y1)
            return
    strips.append(more)
