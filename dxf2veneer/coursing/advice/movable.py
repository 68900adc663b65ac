"""What may move: rows of like openings and caps, with their limits as the wall leaves room."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import LINE_MEETS_IN, TOUCH_IN
from dxf2veneer.config.advice import CAP
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.advice.room import cap_room, has_level_top, room_of
from dxf2veneer.coursing.groups import CourseGroup
from dxf2veneer.coursing.meetings import Meeting, meetings
from dxf2veneer.geometry.boundary import boundary
from dxf2veneer.model import (
    DOORS,
    Held,
    HeldBy,
    NoMultiple,
    OpeningQuantities,
    WallQuantities,
)

_PLACES = 2
"""Heights that agree to so many decimals of an inch are one height."""


@dataclass(frozen=True)
class Movable:
    """A row of like openings, or caps at one height. Lengths in inches."""

    ids: tuple[str, ...]
    kind: str
    drawn: tuple[float, ...]
    """Height at which the head of each, or the cap's line, is drawn."""
    line: float | None
    """Height of the head over a course line at a shift of 0; None for caps."""
    heads: tuple[int, ...]
    """Indices of what their heads meet, in the arrays of the group; of caps what they meet."""
    sills: tuple[int, ...]
    move: float
    """How far head and sill may be from where they are drawn."""
    up: float
    """How far of that there is room over the head; over a cap likewise."""
    down: float
    """How far of that there is room under the sill."""
    resize: float
    """How much their height may change."""
    sill_stays: bool

    @property
    def can_move(self) -> bool:
        """Whether anything of it can change."""
        return self.up > 0.0 or self.down > 0.0 or self.resize > 0.0

    @property
    def head_range(self) -> tuple[float, float]:
        """Least and greatest move of the head; where the height stays, of the whole."""
        return -self.move if self.resize else -self.down, self.up

    @property
    def sill_range(self) -> tuple[float, float]:
        """Least and greatest move of the sill."""
        if self.sill_stays:
            return 0.0, 0.0
        return -self.down, self.move if self.resize else self.up


class Movables(NamedTuple):
    """All that a group's course lines meet, by what it belongs to."""

    movables: tuple[Movable, ...]
    """Those that can't move among them: their heads count for head lines."""
    still: tuple[int, ...]
    """Indices of what belongs to none of them."""
    no_multiples: tuple[NoMultiple, ...]
    held: tuple[Held, ...]


class _One(NamedTuple):
    """One opening or the caps of one wall at one height, before rows are made."""

    key: tuple[object, ...]
    id: str
    kind: str
    drawn: float
    line: float | None
    heads: tuple[int, ...]
    sills: tuple[int, ...]
    move: float
    up: float
    down: float
    resize: float
    sill_stays: bool
    held: HeldBy | None


def movables_of(
    group: CourseGroup, walls: Sequence[WallQuantities], job: Job, product: Product
) -> Movables:
    """What may move of a group of walls, and how far.

    Args:
        group: The walls whose courses run together.
        walls: The same walls, measured, in the same order.
        job: Its section ``advice`` says what may move.
        product: Height of a course and of a cap stone.

    Returns:
        Rows and caps, in the order of the walls; what has no limit is among them and can't move.
    """
    by_owner: dict[tuple[int, str], list[tuple[int, Meeting]]] = defaultdict(list)
    caps: dict[tuple[int, float], list[tuple[int, Meeting]]] = defaultdict(list)
    still = []
    met = [(i, m) for i, w in enumerate(walls) for m in meetings(w, job, product)]
    for index, (wall, m) in enumerate(met):
        if m.opening is not None:
            by_owner[wall, m.opening].append((index, m))
        elif m.what == "cap":
            caps[wall, round(m.y, _PLACES)].append((index, m))
        else:
            still.append(index)
    ones = [
        one
        for i, w in enumerate(walls)
        for one in (
            *(_opening(group, i, w, o, by_owner[i, o.opening.id], job) for o in w.openings),
            *(_cap(group, i, w, met, job) for (k, _), met in caps.items() if k == i),
        )
    ]
    rows: dict[tuple[object, ...], list[_One]] = defaultdict(list)
    for one in ones:
        rows[one.key].append(one)
    movables = tuple(_row(row) for row in rows.values())
    held: dict[HeldBy, list[str]] = defaultdict(list)
    for one in ones:
        if one.held:
            held[one.held].append(one.id)
    return Movables(
        movables,
        tuple(still),
        tuple(_no_multiples(group, walls, movables, met)),
        tuple(Held(tuple(dict.fromkeys(ids)), why) for why, ids in held.items()),
    )


def _row(row: Sequence[_One]) -> Movable:
    """Things that move together: as far as the nearest limit of any."""
    first = row[0]
    return Movable(
        ids=tuple(one.id for one in row),
        kind=first.kind,
        drawn=tuple(one.drawn for one in row),
        line=first.line,
        heads=tuple(i for one in row for i in one.heads),
        sills=tuple(i for one in row for i in one.sills),
        move=min(one.move for one in row),
        up=min(one.up for one in row),
        down=min(one.down for one in row),
        resize=min(one.resize for one in row),
        sill_stays=any(one.sill_stays for one in row),
    )


def _opening(
    group: CourseGroup,
    index: int,
    wall: WallQuantities,
    measured: OpeningQuantities,
    met: Sequence[tuple[int, Meeting]],
    job: Job,
) -> _One:
    """One opening, with its limits as the job gives them and the wall leaves room."""
    opening = measured.opening
    named = opening.name, opening.id, opening.kind
    move, resize = job.advice.move_of(*named), job.advice.resize_of(*named)
    stays = opening.kind in DOORS or opening.touches_base
    curved = any(s.is_arc for path in opening.region.paths for s in path.segments)
    held: HeldBy | None = None
    if move and (opening.whole_area or opening.part_of):
        move, held = 0.0, "across"
    if resize and move and curved:
        resize, held = 0.0, "curve"
    resize = min(resize, move, measured.height / 2.0)
    if stays:
        move = resize
    heads = tuple(i for i, m in met if m.what == "head")
    sills = tuple(i for i, m in met if m.what == "sill")
    stands_against = not heads or not (sills or stays)
    up, down = (0.0, 0.0) if stands_against else room_of(wall, measured, job, move)
    if stands_against:
        resize = 0.0
    if move and not (up or down or resize):
        held = held or "no-room"
    over_line = group.over_line(index)
    line, foot = measured.head_y - over_line, measured.sill_y - over_line
    key = (opening.kind, round(line, _PLACES), round(foot, _PLACES), move, resize, held, stays)
    return _One(
        key, opening.id, opening.kind, measured.head_y, round(line, _PLACES), heads, sills,
        move, up, down, resize, stays, held,
    )  # fmt: skip


def _cap(
    group: CourseGroup,
    index: int,
    wall: WallQuantities,
    met: Sequence[tuple[int, Meeting]],
    job: Job,
) -> _One:
    """The caps of a wall at one height, by what course lines meet under them."""
    move = job.advice.move_of("", "", CAP)
    held: HeldBy | None = None
    foot = met[0][1].y
    line = min(c.y for c in wall.wall.caps if c.y >= foot - TOUCH_IN)
    at_top = any(
        b.what in ("top", "rake")
        and max(b.segment.start[1], b.segment.end[1]) >= line - TOUCH_IN
        and min(b.segment.start[1], b.segment.end[1]) <= line + TOUCH_IN
        for b in boundary(wall.wall.region)
    )
    if move and at_top and not has_level_top(wall):
        move, held = 0.0, "stepped-top"
    up, down = cap_room(wall, (line, foot), [m for _, m in met], job, move, at_top=at_top)
    if move and not (up or down):
        held = "no-room"
    key = (CAP, round(foot - group.over_line(index), _PLACES))
    indices = tuple(i for i, _ in met)
    return _One(key, wall.wall.id, CAP, line, None, indices, (), move, up, down, 0.0, False, held)


# ------------------------------------------------------------------- heights and courses


def _no_multiples(
    group: CourseGroup,
    walls: Sequence[WallQuantities],
    movables: Sequence[Movable],
    met: Sequence[tuple[int, Meeting]],
) -> Iterator[NoMultiple]:
    """Openings with head and sill among panels whose height is no whole number of courses."""
    heights = {o.opening.id: o.height for w in walls for o in w.openings}
    found: dict[tuple[float, bool], list[str]] = defaultdict(list)
    for row in movables:
        if not (row.heads and row.sills):
            continue
        high = met[row.heads[0]][1].y - met[row.sills[0]][1].y
        over = high % group.height
        if min(over, group.height - over) > 2.0 * LINE_MEETS_IN:
            trimmed = abs(high - heights[row.ids[0]]) > LINE_MEETS_IN
            found[round(high, 4), trimmed] += row.ids
    for (high, trimmed), ids in found.items():
        yield NoMultiple(tuple(ids), high, trimmed, high % group.height)
