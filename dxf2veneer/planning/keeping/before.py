"""The runs of the plan before, read from its pieces alone, and which of them is which now."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, TOUCH_IN, WHOLE_PANEL_IN
from dxf2veneer.model import CoursePlan, Piece, PieceUnit, WallTakeoff
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.runs import Run

Place = tuple[str, int]
"""A wall's id and a course."""


class OldPart(NamedTuple):
    """A part of the plan before: its length, its panel, and the end of it that it keeps."""

    length: float
    unit: PieceUnit
    stock: str
    hand: Hand


class OldRun(NamedTuple):
    """A run of the plan before: where its pieces begin and end, and its parts from the left."""

    x0: float
    x1: float
    parts: tuple[OldPart, ...]

    @property
    def joints(self) -> list[float]:
        """The x of its joints."""
        found, x = [], self.x0
        for part in self.parts[:-1]:
            x += part.length
            found.append(x)
        return found


def runs_before(walls: Sequence[WallTakeoff], plan: CoursePlan) -> Mapping[Place, Sequence[OldRun]]:
    """The runs of a plan.

    Args:
        walls: The walls with their pieces.
        plan: Their panels.

    Returns:
        By wall and course the runs from the left; none for a course in which pieces of two runs
        stand one above the other.
    """
    lengths = {unit.id: unit.length for unit in plan.units}
    found: dict[Place, Sequence[OldRun]] = {}
    for wall in walls:
        by_course: dict[int, dict[object, Piece]] = defaultdict(dict)
        for piece in wall.courses.pieces:
            key = piece.stock, round(piece.at, 6), round(piece.x0, 6)
            by_course[piece.course].setdefault(key, piece)
        for course, pieces in by_course.items():
            listed = sorted(pieces.values(), key=lambda p: (p.x0, p.x1))
            found[wall.wall.id, course] = _runs(listed, lengths)
    return found


def _runs(pieces: Sequence[Piece], lengths: Mapping[str, float]) -> list[OldRun]:
    """Pieces that touch, as runs; nothing where some overlap."""
    groups: list[list[Piece]] = []
    for piece in pieces:
        gap = piece.x0 - groups[-1][-1].x1 if groups else TOUCH_IN
        if gap < -TOUCH_IN:
            return []
        if gap <= EXACT_IN:
            groups[-1].append(piece)
        else:
            groups.append([piece])
    return [
        OldRun(group[0].x0, group[-1].x1, tuple(_part(p, lengths[p.stock]) for p in group))
        for group in groups
    ]


def _part(piece: Piece, length: float) -> OldPart:
    hand: Hand = "any"
    if piece.at <= WHOLE_PANEL_IN:
        hand = "left"
    elif piece.at + piece.length >= length - WHOLE_PANEL_IN:
        hand = "right"
    return OldPart(piece.length, piece.unit, piece.stock, hand)


def matched(runs: Sequence[Run], before: Mapping[Place, Sequence[OldRun]]) -> list[OldRun | None]:
    """Which run of the plan before each run is.

    Args:
        runs: The runs of a job, as measured, wall by wall.
        before: Those of the plan before.

    Returns:
        For each run the one before, in order where a course has as many, else the one that it
        shares most with; None for one that was not there.
    """
    by_place: dict[Place, list[int]] = defaultdict(list)
    for i, run in enumerate(runs):
        by_place[run.wall, run.course].append(i)
    found: list[OldRun | None] = [None] * len(runs)
    for place, own in by_place.items():
        old = list(before.get(place, ()))
        if len(old) == len(own):
            for i, one in zip(own, old, strict=True):
                found[i] = one
            continue
        shared = sorted(
            (max(runs[i].x0, one.x0) - min(runs[i].x1, one.x1), i, k)
            for i in own
            for k, one in enumerate(old)
        )
        taken: set[int] = set()
        for apart, i, k in shared:
            if apart < 0.0 and found[i] is None and k not in taken:
                found[i] = old[k]
                taken.add(k)
    return found
