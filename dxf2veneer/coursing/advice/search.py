"""The search: every start at which anything can turn, with all that movables can reach at it."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from dxf2veneer.basics.tolerances import ADVICE_STARTS, ADVICE_SUMS
from dxf2veneer.coursing.advice.movable import Movable, Movables
from dxf2veneer.coursing.advice.moves import Ease, Lines, Option, heads_of, options_of
from dxf2veneer.coursing.groups import CourseGroup
from dxf2veneer.coursing.search import breaks_of

Losses = tuple[int, int, int, int]
"""Slivers, pieces to rip, heads out of line, things changed: less is better in each."""


class Sum(NamedTuple):
    """What some movables leave together."""

    losses: Losses
    ease: Ease
    chosen: tuple[tuple[int, Option], ...]
    """Index of each movable that changes, with its move."""


class Found(NamedTuple):
    """A start with moves."""

    losses: Losses
    bare: float
    """Square inches of level ground below the starter."""
    ease: Ease
    start: float
    chosen: tuple[tuple[int, Option], ...]


_NOTHING = Sum((0, 0, 0, 0), Ease(0, 0, 0), ())


@dataclass(frozen=True)
class Searched:
    """What was found for one group of walls."""

    present: Found
    front: tuple[Found, ...]
    """What no other beats, the present one among them where none does."""
    starts: int
    is_exact: bool


def search(
    group: CourseGroup,
    found: Movables,
    present: float,
    bare: Callable[[float], float],
) -> Searched:
    """All starts with moves that no other beats.

    Args:
        group: The walls, with the permitted range of their starters.
        found: What may move.
        present: The start that stands.
        bare: Square inches below the starter at a start.

    Returns:
        The front, with what stands.
    """
    stands = _stands(group, found, present, bare)
    starts, is_exact = _starts(group, found.movables)
    *scores, (outside, *_) = group.scores([*starts, present])
    best: dict[Losses, Found] = {}
    for start in (s for s, score in zip(starts, scores, strict=True) if score[0] <= outside):
        sums, whole = _sums(Lines(group, start), found, stands.losses[0])
        is_exact, below = is_exact and whole, bare(start)
        for one in sums:
            new = Found(one.losses, below, one.ease, start, one.chosen)
            old = best.get(one.losses)
            if old is None or _worth(new, present) < _worth(old, present):
                best[one.losses] = new
    front = [f for f in best.values() if not any(_beats(g, f) for g in best.values())]
    front.sort(key=lambda f: (f.losses, f.bare))
    return Searched(stands, tuple(front), len(starts), is_exact)


def _worth(found: Found, present: float) -> tuple[object, ...]:
    """What decides between finds of the same losses."""
    near = abs(found.start - present)
    return round(found.bare, 3), found.ease, near, found.start


def _beats(one: Found, other: Found) -> bool:
    """Whether a find is worse in nothing and better in something."""
    mine = (*one.losses, round(one.bare, 3))
    others = (*other.losses, round(other.bare, 3))
    return mine != others and all(a <= b for a, b in zip(mine, others, strict=True))


def _stands(
    group: CourseGroup, found: Movables, present: float, bare: Callable[[float], float]
) -> Found:
    """What stands."""
    lines = Lines(group, present)
    met = [*found.still, *(i for m in found.movables for i in (*m.heads, *m.sills))]
    slivers, ripped = lines.counts(met, 0.0)
    return Found((slivers, ripped, 0, 0), bare(present), Ease(0, 0, 0), present, ())


# ----------------------------------------------------------------- what movables leave together


def _sums(lines: Lines, found: Movables, most_slivers: int) -> tuple[list[Sum], bool]:
    """What all movables can leave together at one start, without what another beats; and whether
    nothing else was left out."""
    slivers, ripped = lines.counts(found.still, 0.0)
    total, is_whole = [Sum((slivers, ripped, 0, 0), Ease(0, 0, 0), ())], True
    for line in _head_lines(found.movables):
        reach, whole = _reach(lines, found.movables, line)
        is_whole = is_whole and whole
        total = _unbeaten(
            _added(a, b) for a in total for b in reach if a.losses[0] + b.losses[0] <= most_slivers
        )
        if len(total) > ADVICE_SUMS:
            total, is_whole = total[:ADVICE_SUMS], False
    return total, is_whole


def _head_lines(movables: Sequence[Movable]) -> list[list[int]]:
    """Indices of movables by the height of their heads; each cap by itself."""
    lines: dict[object, list[int]] = defaultdict(list)
    for index, one in enumerate(movables):
        lines[("cap", index) if one.line is None else one.line].append(index)
    return list(lines.values())


def _reach(
    lines: Lines, movables: Sequence[Movable], line: Sequence[int]
) -> tuple[list[Sum], bool]:
    """What the movables of one head line can leave together, and whether nothing was left out."""
    heads = {h for i in line for h in heads_of(lines, movables[i])} if len(line) > 1 else set()
    partial, is_whole = [_Partial(frozenset(), _NOTHING)], True
    for index in line:
        options = options_of(lines, movables[index], sorted(heads))
        partial = _unbeaten_partials(
            _Partial(p.heads | {round(o.head, 6)}, _added(p.sum, _of(index, o)))
            for p in partial
            for o in options
        )
        if len(partial) > ADVICE_SUMS:
            partial, is_whole = partial[:ADVICE_SUMS], False
    reach = []
    for used, one in partial:
        a, b, _, d = one.losses
        reach.append(one._replace(losses=(a, b, len(used) - 1, d)))
    return _unbeaten(reach), is_whole


class _Partial(NamedTuple):
    """Some movables of a head line with their moves."""

    heads: frozenset[float]
    """How far their heads go."""
    sum: Sum


def _unbeaten_partials(partials: Iterable[_Partial]) -> list[_Partial]:
    """Those that no other beats: one with no other heads than a second, and no more losses, goes
    no worse with whatever comes."""
    best: dict[tuple[frozenset[float], Losses], _Partial] = {}
    for one in partials:
        key = one.heads, one.sum.losses
        if key not in best or one.sum.ease < best[key].sum.ease:
            best[key] = one
    kept: list[_Partial] = []
    for one in sorted(best.values(), key=lambda p: (len(p.heads), p.sum.losses, sorted(p.heads))):
        if not any(k.heads <= one.heads and _no_more(k.sum, one.sum) for k in kept):
            kept.append(one)
    return kept


def _of(index: int, option: Option) -> Sum:
    chosen = ((index, option),) if option.changed else ()
    return Sum((option.slivers, option.ripped, 0, option.changed), option.ease, chosen)


def _no_more(one: Sum, other: Sum) -> bool:
    """Whether a sum leaves no more than another in anything."""
    return all(a <= b for a, b in zip(one.losses, other.losses, strict=True))


def _added(one: Sum, other: Sum) -> Sum:
    a, b, c, d = one.losses
    e, f, g, h = other.losses
    ease = Ease(*(x + y for x, y in zip(one.ease, other.ease, strict=True)))
    return Sum((a + e, b + f, c + g, d + h), ease, one.chosen + other.chosen)


def _unbeaten(sums: Iterable[Sum]) -> list[Sum]:
    """Sums that no other beats, one of each losses, the least first."""
    best: dict[Losses, Sum] = {}
    for one in sums:
        if one.losses not in best or one.ease < best[one.losses].ease:
            best[one.losses] = one
    kept: list[Sum] = []
    for losses in sorted(best):
        if not any(_no_more(k, best[losses]) for k in kept):
            kept.append(best[losses])
    return kept


# ----------------------------------------------------------------------------------- starts


def _starts(group: CourseGroup, movables: Sequence[Movable]) -> tuple[list[float], bool]:
    """Starts to try, from the lowest up, and whether they are all that matter.

    They read well: breaks at which a line meets something or a strip is as high as the limit, and
    of each stretch between neighboring breaks the legible starts next to its ends, since all
    others in it leave the same.
    """
    (low, high), step = group.range, group.step
    breaks: dict[float, bool] = {low: not group.is_free, high: not group.is_free}
    for at, reads_well in _breaks(group, movables).items():
        first = math.ceil((low - at) / group.height)
        for k in range(first - 1, math.floor((high - at) / group.height) + 2):
            start = at + k * group.height + 0.0
            if low <= start <= high:
                breaks[start] = reads_well or breaks.get(start, False)
    tried = {start for start, reads_well in breaks.items() if reads_well}
    for a, b in pairwise(sorted(breaks)):
        near = (math.floor(a / step + 1) * step, math.ceil(b / step - 1) * step)
        tried |= {start + 0.0 for start in near if a < start < b}
    if low <= group.shift <= high:
        tried.add(group.shift)
    found = sorted({round(start, 9) for start in tried})
    if len(found) <= ADVICE_STARTS:
        return found, True
    return found[:: math.ceil(len(found) / ADVICE_STARTS)], False


def _breaks(group: CourseGroup, movables: Sequence[Movable]) -> dict[float, bool]:
    """Where what can be reached turns, as any one of the shifts that are congruent mod H."""
    found = dict(breaks_of(group))
    for one in movables:
        if not one.can_move:
            continue
        indices = [*one.heads, *one.sills]
        own = replace(
            group,
            y=group.y[indices],
            is_head=group.is_head[indices],
            pieces=group.pieces[indices],
            owner=group.owner[indices],
        )
        ends = {*one.head_range, *one.sill_range}
        far = ends | {end + by for end in (*ends, 0.0) for by in (one.resize, -one.resize)}
        for at, reads_well in breaks_of(own).items():
            for move in far:
                found[at + move] = reads_well or found.get(at + move, False)
    return found
