"""Which opening was which, and how its edges went."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import (
    REVISION_OPENING_RIVAL,
    REVISION_OVERLAP,
)
from dxf2veneer.model import (
    Change,
    EdgeShifts,
    Figures,
    Opening,
    OpeningChange,
    OpeningQuantities,
    RecordedWall,
)
from dxf2veneer.revisions.amounts import difference, opening_figures
from dxf2veneer.revisions.assignment import best_pairs
from dxf2veneer.revisions.outlines import Box, Outline, Shift, apart, common_share, moved
from dxf2veneer.revisions.telling import told_of_opening
from dxf2veneer.revisions.walls import WallPair

_OTHER_KIND_IN = 24.0
"""What it counts against two openings that they are of different kinds, in inches of move."""
_SAME_NAME, _SAME_HANDLE = 0.5, 0.5
"""What of the way between two openings counts where they have one name, or one handle."""


class _Found(NamedTuple):
    """An opening of one side, where it lies now."""

    measured: OpeningQuantities
    wall: RecordedWall
    outline: Outline
    shift: Shift
    """How far its wall went; of a new one (0, 0)."""

    @property
    def opening(self) -> Opening:
        """The opening itself."""
        return self.measured.opening

    @property
    def box(self) -> Box:
        """Where it lies, or would lie had it stayed in its wall."""
        return moved(self.outline.box, self.shift)


class _Pair(NamedTuple):
    old: _Found
    new: _Found
    unsure: tuple[Message, ...] = ()


def opening_changes(
    pairs: Sequence[WallPair], tolerance: float, scale: float
) -> list[OpeningChange]:
    """The openings of two takeoffs, each with the one that it was.

    Args:
        pairs: The walls.
        tolerance: Edges that are off by no more did not move, in inches.
        scale: What lengths before are multiplied by.

    Returns:
        Every opening once: by the order of the walls, in each in that of the new ones, then those
        that were removed.
    """
    matched: list[_Pair] = []
    old_left: list[_Found] = []
    new_left: list[_Found] = []
    for pair in pairs:
        old = list(_openings(pair.old, pair.shift, scale))
        new = list(_openings(pair.new, (0.0, 0.0), 1.0))
        found = [*_still(old, new, tolerance)]
        old, new = _left(old, new, found)
        found += _likely(old, new, tolerance)
        old, new = _left(old, new, found)
        matched += found
        old_left += [one._replace(shift=pair.sheet) for one in old]
        new_left += new
    elsewhere = list(_still(old_left, new_left, tolerance))
    old_left, new_left = _left(old_left, new_left, elsewhere)
    by_new = {id(p.new.measured): p for p in (*matched, *elsewhere)}
    gone = {id(one.measured) for one in old_left}
    changes = []
    for pair in pairs:
        for measured in pair.new.openings if pair.new else ():
            found_pair = by_new.get(id(measured))
            if found_pair:
                changes.append(_change(found_pair, tolerance))
            elif pair.new:
                changes.append(_of_one(None, measured, None, pair.new.id))
        for measured in pair.old.openings if pair.old else ():
            if id(measured) in gone and pair.old:
                changes.append(_of_one(measured, None, pair.old.id, None))
    return changes


def _openings(wall: RecordedWall | None, shift: Shift, scale: float) -> Iterator[_Found]:
    for measured in wall.openings if wall else ():
        if wall:
            yield _Found(measured, wall, Outline(measured.opening.region, scale), shift)


def _left(
    old: Sequence[_Found], new: Sequence[_Found], pairs: Sequence[_Pair]
) -> tuple[list[_Found], list[_Found]]:
    """What no pair has."""
    taken = {id(one.measured) for pair in pairs for one in (pair.old, pair.new)}
    return (
        [one for one in old if id(one.measured) not in taken],
        [one for one in new if id(one.measured) not in taken],
    )


def _still(old: Sequence[_Found], new: Sequence[_Found], tolerance: float) -> Iterator[_Pair]:
    """Openings that lie where they lay; where several do, those of one name, kind and handle
    first."""
    if not old or not new:
        return
    away = _away(old, new).max(axis=2)
    worth = np.where(away <= tolerance, 1.0, 0.0)
    for row, column in zip(*np.nonzero(worth), strict=True):
        a, b = old[row].opening, new[column].opening
        worth[row, column] += 2.0 * (a.kind == b.kind) + (a.name == b.name)
        worth[row, column] += bool({*a.handles} & {*b.handles})
    yield from (_Pair(old[row], new[column]) for row, column in _sparse_pairs(worth))


def _sparse_pairs(worth: NDArray[np.float64]) -> list[tuple[int, int]]:
    """Best pairs of a table in which few are worth anything: what has one choice takes it."""
    some = worth > 0.0
    alone = some & (some.sum(axis=1) == 1)[:, None] & (some.sum(axis=0) == 1)[None, :]
    pairs = [(int(row), int(column)) for row, column in zip(*np.nonzero(alone), strict=True)]
    some &= ~alone
    rows, columns = np.flatnonzero(some.any(axis=1)), np.flatnonzero(some.any(axis=0))
    rest = best_pairs(worth[np.ix_(rows, columns)])
    return sorted([*pairs, *((int(rows[row]), int(columns[column])) for row, column in rest)])


def _away(old: Sequence[_Found], new: Sequence[_Found]) -> NDArray[np.float64]:
    """How far each side of each new opening lies from that of each old one: left, sill, right,
    head."""
    here, there = np.array([o.box for o in old]), np.array([n.box for n in new])
    away: NDArray[np.float64] = np.abs(there[None, :, :] - here[:, None, :])
    return away


def _likely(old: Sequence[_Found], new: Sequence[_Found], tolerance: float) -> list[_Pair]:
    """Openings of one wall that were moved or resized, and what speaks against it."""
    if not old or not new:
        return []
    cost = np.full((len(old), len(new)), np.inf)
    for row, was in enumerate(old):
        for column, now in enumerate(new):
            if _may_be(was, now, tolerance):
                cost[row, column] = _way(was, now)
    finite = cost[np.isfinite(cost)]
    most = float(finite.max()) + 1.0 if len(finite) else 1.0
    pairs = best_pairs(np.where(np.isfinite(cost), 2.0 * most - cost, 0.0))
    return [
        _Pair(old[row], new[column], tuple(_rivals(cost, pairs, row, column, old, new)))
        for row, column in pairs
    ]


def _may_be(was: _Found, now: _Found, tolerance: float) -> bool:
    """Whether two openings can be one at all: they overlap, are of one size or have one name."""
    a, b = was.opening, now.opening
    return (
        common_share(was.box, now.box) >= REVISION_OVERLAP
        or (a.name != "" and a.name == b.name)
        or (_size_off(was, now) <= 2.0 * tolerance and a.kind == b.kind)
    )


def _size_off(was: _Found, now: _Found) -> float:
    return max(
        abs(was.outline.width - now.outline.width), abs(was.outline.height - now.outline.height)
    )


def _way(was: _Found, now: _Found) -> float:
    """How far one opening is from being another, in inches of moved edges."""
    a, b = was.opening, now.opening
    way = sum(abs(p - q) for p, q in zip(was.box, now.box, strict=True)) / 2.0
    way += _OTHER_KIND_IN * (a.kind != b.kind)
    way *= _SAME_NAME if a.name and a.name == b.name else 1.0
    return way * (_SAME_HANDLE if {*a.handles} & {*b.handles} else 1.0)


def _rivals(
    cost: NDArray[np.float64],
    pairs: Sequence[tuple[int, int]],
    row: int,
    column: int,
    old: Sequence[_Found],
    new: Sequence[_Found],
) -> Iterator[Message]:
    """Other openings that it may as well have been: an exchange would make the way little
    longer."""
    row_of = {b: a for a, b in pairs}
    column_of = dict(pairs)
    for other in map(int, np.flatnonzero(np.isfinite(cost[:, column]))):
        at = column_of.get(other)
        ways = (cost[row, column], cost[other, column])
        if other != row and _is_near(
            ways, (cost[other, at], cost[row, at]) if at is not None else None
        ):
            yield message(
                "opening-could-be-old",
                opening=new[column].opening.id,
                other=old[other].opening.id,
            )
    for other in map(int, np.flatnonzero(np.isfinite(cost[row]))):
        at = row_of.get(other)
        ways = (cost[row, column], cost[row, other])
        if other != column and _is_near(
            ways, (cost[at, other], cost[at, column]) if at is not None else None
        ):
            yield message(
                "opening-could-be-new",
                opening=old[row].opening.id,
                other=new[other].opening.id,
            )


def _is_near(ways: tuple[float, float], others: tuple[float, float] | None) -> bool:
    """Whether the way of an exchange, that of the other pair with it, is about as short."""
    own, exchanged = (sum(both) for both in zip(ways, others or (0.0, 0.0), strict=True))
    return bool(exchanged <= REVISION_OPENING_RIVAL * own)


# -------------------------------------------------------------------------- changes


def _change(pair: _Pair, tolerance: float) -> OpeningChange:
    old, new = pair.old, pair.new
    here, there = old.box, new.box
    shifts = EdgeShifts(
        left=there[0] - here[0],
        right=there[2] - here[2],
        sill=there[1] - here[1],
        head=there[3] - here[3],
    )
    laid = _laid_shift(shifts, tolerance)
    off = apart(old.outline, new.outline, (old.shift[0] + laid[0], old.shift[1] + laid[1]))
    changes: list[Change] = []
    if off > tolerance or _unscaled_size_off(old, new) > 2.0 * tolerance:
        changes.append("resized")
    if abs(laid[0]) > tolerance or abs(laid[1]) > tolerance:
        changes.append("moved")
    a, b = old.opening, new.opening
    if (a.kind, a.name) != (b.kind, b.name):
        changes.append("renamed")
    if pair.unsure:
        changes.insert(0, "unsure")
    return OpeningChange(
        told=told_of_opening(old.measured, new.measured, tuple(changes), shifts, pair.unsure),
        old=old.measured,
        new=new.measured,
        wall_old=old.wall.id,
        wall_new=new.wall.id,
        change=changes[0] if changes else "same",
        changes=tuple(changes),
        edges=shifts,
        outline_off=off,
        delta=_delta(old.measured, new.measured),
        why=pair.unsure,
    )


def _unscaled_size_off(old: _Found, new: _Found) -> float:
    """How far sizes as they are measured differ; other than by ``_size_off`` only where a drawing
    was read in another scale."""
    return max(
        abs(old.measured.width - new.measured.width),
        abs(old.measured.height - new.measured.height),
    )


def _laid_shift(shifts: EdgeShifts, tolerance: float) -> Shift:
    """How far an opening was moved apart from being resized: 0 along an axis on which an edge
    stayed or it grew to both sides alike."""

    def along(low: float, high: float) -> float:
        middle = (low + high) / 2.0
        if abs(low - high) <= 2.0 * tolerance:
            return middle
        if min(abs(low), abs(high), abs(middle)) <= tolerance or low * high < 0.0:
            return 0.0
        return middle

    return along(shifts.left, shifts.right), along(shifts.sill, shifts.head)


def _of_one(
    old: OpeningQuantities | None,
    new: OpeningQuantities | None,
    wall_old: str | None,
    wall_new: str | None,
) -> OpeningChange:
    change: Change = "removed" if new is None else "added"
    told = told_of_opening(old, new, (change,), None, ())
    return OpeningChange(
        old, new, wall_old, wall_new, change, told, (change,), delta=_delta(old, new)
    )


def _delta(old: OpeningQuantities | None, new: OpeningQuantities | None) -> Figures:
    return difference(opening_figures(old), opening_figures(new))
