"""Where the joints go: lengths of the pieces of every run, and the units they are cut from.

Plans grow run by run, course by course, wall by wall, as a crew lays them. Of the plans so far the
cheapest few are kept (a beam), counted in length of panel: units opened, cuts, and what the offcuts
at hand are worth. A rule that can't hold costs far more than any panel. The ways to lay a run that
are tried come from ``ways``.

    states -- each way of the next run --> more states -- the cheapest few that differ --> states
"""

from __future__ import annotations

import dataclasses
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.model import Side
from dxf2veneer.planning.ahead import Ahead, look_ahead
from dxf2veneer.planning.offcuts import (
    EXACT_IN,
    WHOLE_IN,
    CornerOffcut,
    Hand,
    Offcut,
    Sizes,
    get_corner,
    get_part,
    worth,
)
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.ways import BROKEN_IN, Lengths, Place, joints_of, ways

_FIRST_SIDE = 0.3
"""Cost of each inch that the first side of a bay's mitre is longer than a third of a panel."""
_BLOCKED_IN = 300.0
"""Cost of joints that leave the run above no place for its own."""
_ROOM_IN = 6.0
"""With this much free to choose from the run above is not hampered."""
_GRAIN_IN = 1.0
"""Plans whose joints and offcuts differ by less are alike."""
_AT_HAND = 16
"""Offcuts of a kind that are kept at hand; a crew would not turn over a bigger heap."""
_FEW, _HEAPED = 3, 0.6
"""So many corner halves of a hand are worth their length; those beyond that share of it, lest they heap up."""
_TRIED = 5
"""Offcuts of a kind that a run with a corner piece is tried with: its length is free, so that few will do."""
_EFFORT = 1000
"""Plans looked at, runs times plans kept; big jobs keep fewer, as a big job has more ways to use an offcut."""
_WIDEST, _NARROWEST = 16, 3
_SMALL_RUNS = 200
"""A job no bigger is laid twice, with offcuts worth a little less than their length and just that."""


class Cut(NamedTuple):
    """A part of a run that is no whole panel: its place in the run's pieces, hand, unit and kind of unit."""

    piece: int
    hand: Hand
    unit: int
    is_corner: bool


@dataclass(frozen=True)
class Laid:
    """A run with the lengths of its pieces from the left, and the parts that are cut from units shared."""

    run: Run
    lengths: Lengths
    cuts: tuple[Cut, ...]

    @property
    def joints(self) -> list[float]:
        """The x of the joints between its pieces."""
        return joints_of(self.run, self.lengths)


class _State:
    """A plan so far, one link of a chain: costs, offcuts at hand, joints of this course and the last."""

    __slots__ = ("corners", "cost", "halves", "joints", "laid", "last", "opened", "parent", "pool", "score", "under")

    def __init__(self, parent: _State | None) -> None:
        self.parent = parent
        self.laid: Laid | None = None
        self.cost: float = parent.cost if parent else 0.0
        self.score: float = parent.score if parent else 0.0
        self.opened: int = parent.opened if parent else 0
        self.corners: int = parent.corners if parent else 0
        self.pool: tuple[Offcut, ...] = parent.pool if parent else ()
        self.halves: tuple[CornerOffcut, ...] = parent.halves if parent else ()
        self.joints: tuple[float, ...] = parent.joints if parent else ()
        self.under: tuple[float, ...] = parent.under if parent else ()
        self.last: dict[tuple[Side, float], float] = parent.last if parent else {}

    def chain(self) -> list[Laid]:
        """The runs laid, in order."""
        found: list[Laid] = []
        state: _State | None = self
        while state is not None:
            if state.laid is not None:
                found.append(state.laid)
            state = state.parent
        return found[::-1]


def lay(walls: Sequence[Sequence[Sequence[Run]]], sizes: Sizes, *, within_walls: bool = False) -> list[Laid]:
    """Lay the runs of all walls, courses and runs in order; the runs as laid.

    Offcuts go on from wall to wall, or with ``within_walls`` stay where they were cut (a bay's mitred
    panel serves both its walls all the same).
    """
    ahead = look_ahead(walls, sizes, within_walls=within_walls)
    moods = [sizes, *([dataclasses.replace(sizes, worth=1.0, holding=0.0)] if len(ahead) <= _SMALL_RUNS else [])]
    return min((_laid(walls, ahead, mood, within_walls) for mood in moods), key=lambda state: state.cost).chain()


def _laid(walls: Sequence[Sequence[Sequence[Run]]], ahead: Sequence[Ahead], sizes: Sizes, within_walls: bool) -> _State:
    """The cheapest plan found with offcuts at this worth."""
    width = max(_NARROWEST, min(_WIDEST, _EFFORT // max(1, len(ahead))))
    coming = iter(ahead)
    states = [_State(None)]
    for courses in walls:
        states = [_on_new_wall(s, within_walls) for s in states]
        for course in courses:
            for run in course:
                after = next(coming)
                states = _best([g for s in states for g in _grown(s, run, after, sizes)], width)
            states = [_on_new_course(s) for s in states]
    return min(states, key=lambda s: s.cost)


def _on_new_course(state: _State) -> _State:
    """The state at the beginning of the next course: its joints are now those below."""
    after = _State(state)
    after.under, after.joints = tuple(sorted(state.joints)), ()
    return after


def _on_new_wall(state: _State, within_walls: bool) -> _State:
    """The state at the beginning of the next wall: nothing below, and no offcuts where they stay on their wall."""
    after = _on_new_course(state)
    after.under, after.last = (), {}
    if within_walls:
        after.pool, after.halves = tuple(o for o in state.pool if o.key), ()
    return after


def _best(states: list[_State], width: int) -> list[_State]:
    """The cheapest few that differ in joints or offcuts."""
    states.sort(key=lambda s: s.score)
    kept: dict[object, _State] = {}
    for state in states:
        sign = (
            tuple([round(x / _GRAIN_IN) for x in state.joints]),
            tuple(sorted([(round(o.length / _GRAIN_IN), o.end) for o in state.pool])),
            tuple(sorted([(round(o.length / _GRAIN_IN), o.hand) for o in state.halves])),
        )
        kept.setdefault(sign, state)
        if len(kept) == width:
            break
    return list(kept.values())


# -------------------------------------------------------------- one run


def _grown(state: _State, run: Run, ahead: Ahead, sizes: Sizes) -> Iterator[_State]:
    """The state with the run laid, once for each way worth trying."""
    near = slice(bisect_left(state.under, run.x0 - sizes.stagger), bisect_right(state.under, run.x1 + sizes.stagger))
    pool, halves = state.pool, state.halves
    if "corner" in (run.left, run.right):
        pool = pool[-_TRIED:]
        halves = tuple(h for side in ("left", "right") for h in _spread([o for o in halves if o.hand == side]))
    place = Place(run, ahead, sizes, pool, halves, state.under[near], state.last)
    for broken, lengths in ways(place):
        yield _with(state, place, lengths, broken)


def _spread(halves: Sequence[CornerOffcut]) -> Sequence[CornerOffcut]:
    """A few of the halves, from the longest to the shortest."""
    return halves[:: -(-len(halves) // _TRIED)] if halves else halves


def _with(state: _State, place: Place, lengths: Lengths, broken: float) -> _State:
    """The state with the run laid in these lengths."""
    run, ahead, sizes = place.run, place.ahead, place.sizes
    after = _State(state)
    cuts: list[Cut] = []
    count = len(lengths)
    first = 1 if run.left == "corner" and (count > 1 or run.right != "corner") else 0
    flats = range(first, count - (run.right == "corner" and count > first))
    spent = broken + sizes.panel * len(flats)
    for i in sorted({0, count - 1, *flats[:1], *flats[-1:]}):
        if i not in flats:
            cut, cost = _corner_cut(after, place, lengths, i)
            cuts.append(cut)
            spent += cost
        elif lengths[i] < sizes.panel - WHOLE_IN or _key_of(i, count, ahead.keys):
            cut, cost = _flat_cut(after, place, lengths, i, flats)
            cuts.append(cut)
            spent += cost - sizes.panel
    if len(ahead.keys) == 2 and count == 1:
        spent += BROKEN_IN  # one panel can't serve both neighbours of a bay's face
    if ahead.keys:
        after.pool = tuple(_released(o, ahead.keys, after.opened, state.opened) for o in after.pool)
    after.cost += spent
    after.laid = Laid(run, lengths, tuple(cuts))
    after.joints = (*state.joints, *after.laid.joints)
    after.halves, halves_worth = _wanted(after.halves, ahead, sizes)
    if len(after.pool) > _AT_HAND:
        loose = [o for o in after.pool if not o.key]
        after.pool = (*(o for o in after.pool if o.key), *loose[-_AT_HAND:])
    after.score = after.cost - halves_worth - sum([worth(o.length, o.end, sizes, ahead.demand) for o in after.pool])
    after.score += sum([_blocked(after.joints, bridge, sizes) for bridge in ahead.bridges])
    return after


def _corner_cut(after: _State, place: Place, lengths: Lengths, i: int) -> tuple[Cut, float]:
    """The corner piece got out of a half at hand or a new corner panel, and what it costs."""
    run, ahead, sizes = place.run, place.ahead, place.sizes
    hand = _corner_hand(run, i, len(lengths))
    wanted = ahead.right + (run.right == "corner" and len(lengths) > 1) if hand == "left" else ahead.left
    got = get_corner(lengths[i], hand, len(lengths) > 1, after.halves, after.corners, sizes, wanted)
    after.halves, after.corners = got.pool, after.corners + got.is_new
    after.last = {**after.last, **{(side, edge.x): lengths[i] for side, edge in run.edges if side == hand}}
    return Cut(i, hand, got.unit, True), got.is_new * sizes.corner + got.cuts * sizes.cut


def _flat_cut(after: _State, place: Place, lengths: Lengths, i: int, flats: range) -> tuple[Cut, float]:
    """The flat part got out of an offcut or a new panel, and what it costs."""
    ahead, sizes = place.ahead, place.sizes
    key = _key_of(i, len(lengths), ahead.keys)
    hand = _flat_hand(i, flats, ahead.keys)
    got = get_part(lengths[i], hand, after.pool, after.opened, sizes, ahead.demand, key)
    cost = got.is_new * sizes.panel + got.cuts * sizes.cut
    if key:
        cost += _mitre_cost(key, lengths[i], got.is_new, after.pool, ahead.mates.get("left" if hand == "right" else "right"), sizes)
    after.pool, after.opened = got.pool, after.opened + got.is_new
    return Cut(i, hand, got.unit, False), cost


def _corner_hand(run: Run, piece: int, count: int) -> Side:
    """Left-hand or right-hand; a lone piece between two finished ends takes turns by course."""
    if count == 1 and run.left == run.right == "corner":
        return "left" if run.course % 2 else "right"
    return "left" if piece == 0 and run.left == "corner" else "right"


def _flat_hand(piece: int, flats: range, keys: Mapping[Side, str]) -> Hand:
    """The factory end that a flat piece keeps: the one toward the other flat pieces of its run; a lone
    mitred piece keeps the one away from the mitre that it shares its panel at."""
    if len(flats) == 1:
        return "right" if "left" in keys else "left" if "right" in keys else "any"
    return "right" if piece == flats[0] else "left"


# ---------------------------------------------------------------- bays


def _key_of(piece: int, count: int, keys: Mapping[Side, str]) -> str:
    """The key of the bay's mitre at that piece of a run, if any."""
    if count == 1:
        return keys.get("left") or keys.get("right") or ""
    return keys.get("left" if piece == 0 else "right", "") if piece in (0, count - 1) else ""


def _mitre_cost(key: str, length: float, is_new: bool, pool: tuple[Offcut, ...], mate: float | None, sizes: Sizes) -> float:
    """Cost of a mitred piece: high where the two sides can't come from one panel any more (rule L13).

    ``mate`` is the length that the other side must have, 0 where it may choose: then the side laid
    first is kept short, so that the other has room for its stagger; None where it lies already.
    """
    if any(o.key == key for o in pool):
        return BROKEN_IN if is_new else 0.0
    if length > sizes.panel - sizes.kerf - max(mate or 0.0, sizes.least) + EXACT_IN:
        return BROKEN_IN
    return 0.0 if mate else _FIRST_SIDE * max(0.0, length - sizes.panel / 3.0)


def _released(offcut: Offcut, keys: Mapping[Side, str], opened: int, before: int) -> Offcut:
    """The offcut, free for any use where it was kept for this run's mitre and the run did not take it."""
    stale = offcut.key and offcut.key in keys.values() and not before <= offcut.unit < opened
    return offcut._replace(key="") if stale else offcut


# -------------------------------------------------------- what it is worth


def _wanted(halves: tuple[CornerOffcut, ...], ahead: Ahead, sizes: Sizes) -> tuple[tuple[CornerOffcut, ...], float]:
    """The corner halves that pieces still to come can use, and what they are worth: the longest first."""
    if not halves:
        return (), 0.0
    left = sorted((o for o in halves if o.hand == "left"), key=lambda o: -o.length)[: min(ahead.left, _AT_HAND)]
    right = sorted((o for o in halves if o.hand == "right"), key=lambda o: -o.length)[: min(ahead.right, _AT_HAND)]
    heap = [*left[_FEW:], *right[_FEW:]]
    total = sum([o.length for o in left[:_FEW]]) + sum([o.length for o in right[:_FEW]])
    return (*left, *right), sizes.worth * (total + _HEAPED * sum([o.length for o in heap]))


def _blocked(joints: tuple[float, ...], above: Run, sizes: Sizes) -> float:
    """Cost of joints below a run that leave no residue, or hardly one, free for its own."""
    residues = sorted({(x - above.x0) % sizes.panel for x in joints if above.x0 < x < above.x1})
    if len(residues) < 2:
        return 0.0
    room = max(b - a for a, b in zip(residues, [*residues[1:], residues[0] + sizes.panel], strict=True)) - 2.0 * sizes.stagger
    return _BLOCKED_IN if room < -EXACT_IN else _BLOCKED_IN / 10.0 * max(0.0, 1.0 - room / _ROOM_IN)
