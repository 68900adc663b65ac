"""The list of changed cuts: a plan beside the one before, piece by piece."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher

from dxf2veneer.basics.tolerances import CUT_SAME_IN
from dxf2veneer.model import (
    ChangedCut,
    ChangeWhat,
    CoursePlan,
    CutChanges,
    LaidCourse,
    Piece,
    WallTakeoff,
)

Pair = tuple[Piece | None, Piece | None]
"""A piece before and now; None where there was none, or is none any more."""


def changed_cuts(
    before: Sequence[WallTakeoff],
    plan_before: CoursePlan,
    walls: Sequence[WallTakeoff],
    plan: CoursePlan,
    laid: Sequence[LaidCourse],
) -> CutChanges:
    """What changes in the cut list.

    Pieces of a course are held against those before in their order from the left, as few as can be
    told apart by length, unit and shape.

    Args:
        before: The walls with their pieces before.
        plan_before: Their panels.
        walls: The walls with their pieces now.
        plan: Their panels.
        laid: Courses that are laid already.

    Returns:
        The changed cuts in the order of walls and courses, and counts.
    """
    done = {(one.wall, one.course) for one in laid}
    found: list[ChangedCut] = []
    unchanged = count_laid = 0
    used = set()
    for old, new in zip(before, walls, strict=True):
        for course in _courses(old, new):
            was, now = (_pieces(w, course) for w in (old, new))
            if (new.wall.id, course) in done:
                count_laid += len(now)
                used |= {p.stock for p in now}
                continue
            own = [c for pair in _pairs(was, now) if (c := _change(new.wall.id, pair)) is not None]
            found += own
            unchanged += len(now) - sum(c.what != "removed" for c in own)
    return CutChanges(tuple(found), unchanged, count_laid, plan_before.total, plan.total, len(used))


def _courses(old: WallTakeoff, new: WallTakeoff) -> list[int]:
    return sorted({p.course for w in (old, new) for p in w.courses.pieces})


def _pieces(wall: WallTakeoff, course: int) -> list[Piece]:
    return sorted((p for p in wall.courses.pieces if p.course == course), key=lambda p: p.number)


def _pairs(was: Sequence[Piece], now: Sequence[Piece]) -> Iterator[Pair]:
    """Each piece with the one before that it is."""
    keys = [[(p.unit, round(p.length / CUT_SAME_IN / 2.0)) for p in own] for own in (was, now)]
    match = SequenceMatcher(None, keys[0], keys[1], autojunk=False)
    for _, a0, a1, b0, b1 in match.get_opcodes():
        olds, news = list(was[a0:a1]), list(now[b0:b1])
        both = min(len(olds), len(news))
        yield from zip(olds[:both], news[:both], strict=True)
        yield from ((old, None) for old in olds[both:])
        yield from ((None, new) for new in news[both:])


def _change(wall: str, pair: Pair) -> ChangedCut | None:
    old, new = pair
    if old is None and new is not None:
        return ChangedCut(wall, new.course, new.number, "added", None, new.length, "", new.stock)
    if new is None and old is not None:
        return ChangedCut(wall, old.course, old.number, "removed", old.length, None, old.stock, "")
    assert old is not None and new is not None
    if abs(old.length - new.length) > CUT_SAME_IN or old.unit != new.unit:
        what: ChangeWhat = "recut"
    elif not _same_shape(old, new):
        what = "reshaped"
    elif old.stock != new.stock:
        what = "other panel"
    else:
        return None
    return ChangedCut(
        wall, new.course, new.number, what, old.length, new.length, old.stock, new.stock
    )


def _same_shape(old: Piece, new: Piece) -> bool:
    """Whether two pieces of one length are cut alike but for what no saw follows."""
    if abs(old.height - new.height) > CUT_SAME_IN:
        return False
    shapes = [
        [[(x - p.x0, y - p.y0) for x, y in ring] for ring in (p.outline or _box(p), *p.holes)]
        for p in (old, new)
    ]
    if [len(ring) for ring in shapes[0]] != [len(ring) for ring in shapes[1]]:
        return False
    return all(
        max(abs(a[0] - b[0]), abs(a[1] - b[1])) <= 2.0 * CUT_SAME_IN
        for one, other in zip(*shapes, strict=True)
        for a, b in zip(_turned(one), _turned(other), strict=True)
    )


def _box(piece: Piece) -> list[tuple[float, float]]:
    return [(piece.x0, piece.y0), (piece.x0, piece.y1), (piece.x1, piece.y1), (piece.x1, piece.y0)]


def _turned(ring: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """A boundary that begins at its lower left corner."""
    first = min(range(len(ring)), key=lambda k: (round(ring[k][0] + ring[k][1], 1), ring[k][0]))
    return [*ring[first:], *ring[:first]]
