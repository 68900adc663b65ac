"""Which wall was which: by place on the sheet, shape, name and handles, whichever hold."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import REVISION_LEAST_LIKENESS, REVISION_SURE_LIKENESS
from dxf2veneer.model import RecordedWall
from dxf2veneer.revisions.assignment import best_pairs
from dxf2veneer.revisions.outlines import Outline, Shift, common_share, moved
from dxf2veneer.revisions.placing import (
    Marked,
    Places,
    Placing,
    marked_places,
    placing,
    share_laid,
    sheet_placing,
)

_SHAPE, _PLACE, _NEAR, _NAME, _HANDLE = 3.0, 2.0, 0.8, 2.0, 1.5
"""How much it counts that corners and openings lie on each other, that the ground does on the
sheet, that both lie near each other, that both have one name, and one handle."""
_NEAR_IN = 48.0
"""At so many inches from each other being near counts half."""
_OTHER_NAME = 1.0
"""How much it counts against two walls that they have different names."""
_TRUSTED = 0.5
"""Handles count where so many of those that both drawings have are of walls of one size."""


@dataclass(frozen=True)
class WallPair:
    """A wall before and now; one of them None where it was added or removed."""

    old: RecordedWall | None
    new: RecordedWall | None
    shift: Shift = (0.0, 0.0)
    """How far the wall lies from its place before."""
    sheet: Shift = (0.0, 0.0)
    """How far its drawing does."""
    unsure: tuple[Message, ...] = ()
    """What speaks against the pair."""


class _Likeness(NamedTuple):
    """How much two walls are alike, and the shift that lays one on the other."""

    worth: float
    shift: Shift


class _Walls:
    """The walls of one side, ready to be matched."""

    def __init__(self, walls: Sequence[RecordedWall], scale: float) -> None:
        """Walls whose lengths are multiplied by ``scale``."""
        self.walls = walls
        self.outlines = [Outline(w.wall.region, scale) for w in walls]
        marked = [list(marked_places(w, scale)) for w in walls]
        self.places = [Places(found) for found in marked]
        of_drawing: dict[int, list[Marked]] = defaultdict(list)
        for wall, found in zip(walls, marked, strict=True):
            of_drawing[wall.wall.drawing] += found
        self.drawings = {drawing: Places(found) for drawing, found in of_drawing.items()}


def wall_pairs(
    old: Sequence[RecordedWall], new: Sequence[RecordedWall], scale: float
) -> list[WallPair]:
    """The walls of two takeoffs, each with the one that it was.

    Args:
        old: The walls before.
        new: The walls now.
        scale: What lengths before are multiplied by.

    Returns:
        Every wall once: in the order of the new ones, then those that were removed.
    """
    before, now = _Walls(old, scale), _Walls(new, 1.0)
    sheets = {
        (a, b): sheet_placing(here, there)
        for a, here in before.drawings.items()
        for b, there in now.drawings.items()
    }
    likeness = _likenesses(before, now, sheets)
    worth = np.zeros((len(old), len(new)))
    for (row, column), found in likeness.items():
        worth[row, column] = max(0.0, found.worth - REVISION_LEAST_LIKENESS)
    row_of = {column: row for row, column in best_pairs(worth)}
    rivals = _Rivals(worth, row_of, old, new)
    pairs = []
    for column, wall in enumerate(new):
        if column not in row_of:
            pairs.append(WallPair(None, wall))
            continue
        row = row_of[column]
        was = old[row]
        pairs.append(
            WallPair(
                was,
                wall,
                likeness[row, column].shift,
                sheets[was.wall.drawing, wall.wall.drawing].shift,
                tuple(rivals.of(row, column)),
            )
        )
    gone = [w for row, w in enumerate(old) if row not in set(row_of.values())]
    return [*pairs, *(WallPair(w, None) for w in gone)]


class _Rivals:
    """Other walls that may as well be the one of a pair, by what an exchange would lose."""

    def __init__(
        self,
        worth: NDArray[np.float64],
        row_of: Mapping[int, int],
        old: Sequence[RecordedWall],
        new: Sequence[RecordedWall],
    ) -> None:
        """Pairs by the column of each, and what each pair of walls is worth."""
        self.worth, self.row_of, self.old, self.new = worth, row_of, old, new
        self.column_of = {row: column for column, row in row_of.items()}

    def of(self, row: int, column: int) -> Iterator[Message]:
        """What speaks against a pair."""
        worth, own = self.worth, self.worth[row, column]
        for other in map(int, np.flatnonzero(worth[:, column])):
            at = self.column_of.get(other)
            now, then = (worth[other, at], worth[row, at]) if at is not None else (0.0, 0.0)
            if other != row and worth[other, column] + then > own + now - REVISION_SURE_LIKENESS:
                yield message(
                    "wall-could-be-old", wall=self.new[column].id, other=self.old[other].id
                )
        for other in map(int, np.flatnonzero(worth[row])):
            at = self.row_of.get(other)
            now, then = (worth[at, other], worth[at, column]) if at is not None else (0.0, 0.0)
            if other != column and worth[row, other] + then > own + now - REVISION_SURE_LIKENESS:
                yield message("wall-could-be-new", wall=self.old[row].id, other=self.new[other].id)


def _likenesses(
    before: _Walls, now: _Walls, sheets: Mapping[tuple[int, int], Placing]
) -> dict[tuple[int, int], _Likeness]:
    """How much walls are alike, for those that are alike at all."""
    trusted = _handles_hold(before, now)
    found = {}
    for row, was in enumerate(before.walls):
        for column, wall in enumerate(now.walls):
            sheet = sheets[was.wall.drawing, wall.wall.drawing]
            box = now.outlines[column].box
            common = common_share(moved(before.outlines[row].box, sheet.shift), box)
            names = (was.wall.name, wall.wall.name)
            same_name = names[0] != "" and names[0] == names[1]
            same_handle = trusted and bool({*was.wall.handles} & {*wall.wall.handles})
            size = _same_size(before.outlines[row], now.outlines[column])
            if not (common > 0.0 or same_name or same_handle or size):
                continue
            here, there = before.places[row], now.places[column]
            own = placing(here, there)
            on_sheet = share_laid(here, there, sheet.shift)
            best = Placing(sheet.shift, on_sheet) if 2.0 * on_sheet >= own.share else own
            away = math.dist(best.shift, sheet.shift)
            worth = _SHAPE * best.share + _PLACE * common + _NEAR / (1.0 + away / _NEAR_IN)
            worth += _NAME * same_name - _OTHER_NAME * (all(names) and not same_name)
            worth += _HANDLE * same_handle
            found[row, column] = _Likeness(worth, best.shift)
    return found


def _same_size(a: Outline, b: Outline) -> bool:
    return abs(a.width - b.width) < 1.0 and abs(a.height - b.height) < 1.0


def _handles_hold(before: _Walls, now: _Walls) -> bool:
    """Whether handles of one drawing mean anything in the other: a drawing that is saved anew by
    another program may give them to other entities."""
    by_handle = {
        handle: outline
        for wall, outline in zip(now.walls, now.outlines, strict=True)
        for handle in wall.wall.handles
    }
    met = [
        _same_size(outline, by_handle[handle])
        for wall, outline in zip(before.walls, before.outlines, strict=True)
        for handle in wall.wall.handles
        if handle in by_handle
    ]
    return bool(met) and sum(met) >= _TRUSTED * len(met)
