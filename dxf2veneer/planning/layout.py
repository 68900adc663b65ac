"""Where the joints go: lengths of the pieces of every run, and the units they are cut from.

Plans grow run by run, course by course, wall by wall, as a crew lays them. Of the plans so far the
cheapest few are kept (a beam), counted in length of panel: units opened, cuts, and what the offcuts
at hand are worth. A rule that can't hold costs far more than any panel. ``ways`` has the ways to lay
a run that are tried, ``costing`` what each costs, ``room`` what it leaves to the runs above.

    states -- each way of the next run, costed --> the cheapest few that differ, laid --> states
"""

from __future__ import annotations

import dataclasses
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heapreplace
from types import MappingProxyType
from typing import NamedTuple

from dxf2veneer.model import Side
from dxf2veneer.planning.ahead import Ahead, look_ahead
from dxf2veneer.planning.costing import AT_HAND, Costed, Costing, Cut, Store
from dxf2veneer.planning.offcuts import EXACT_IN, Halves, Offcut, Sizes
from dxf2veneer.planning.room import rooms
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.ways import REPEATED_IN, Lengths, Place, Way, joints_of, ways

_BLOCKED_IN = 300.0
"""Cost of joints that leave the run above no place for its own."""
_HAMPERED_IN, _ROOM_IN = 30.0, 6.0
"""Cost of leaving it hardly one, and what it has to choose from where that costs nothing."""
_GRAIN_IN = 1.0
"""Plans whose joints and offcuts differ by less are alike."""
_TRIED = 5
"""Offcuts of a kind that a run with a corner piece is tried with: its length is free, so that few will do."""
_EFFORT = 1500
"""Plans looked at, runs times plans kept; big jobs keep fewer, as a big job has more ways to use an offcut."""
_WIDEST, _NARROWEST = 16, 2
_WIDER = 4
"""So many times more plans are kept where a wall is laid again because the first few broke a rule on it."""
_SMALL_RUNS = 200
"""A job no bigger is laid twice, with offcuts worth a little less than their length and just that."""

Corners = Mapping[tuple[Side, float], float]
"""By side and x of an edge, the length of the last corner piece at it."""


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


class Layout(NamedTuple):
    """The runs of a job as laid, and on how many of them a rule is broken."""

    laid: list[Laid]
    broken: int


class _State(NamedTuple):
    """A plan so far, one link of a chain: cost, what is at hand, joints of this course and the last."""

    parent: _State | None = None
    laid: Laid | None = None
    cost: float = 0.0
    store: Store = Store()
    joints: tuple[float, ...] = ()
    under: tuple[float, ...] = ()
    last: Corners = MappingProxyType({})
    broken: int = 0
    """Runs laid with a broken rule."""

    def chain(self) -> list[Laid]:
        """The runs laid, in order."""
        found: list[Laid] = []
        state: _State | None = self
        while state is not None:
            if state.laid is not None:
                found.append(state.laid)
            state = state.parent
        return found[::-1]


class _Tried(NamedTuple):
    """A way to lay the next run after a state, with a score that it can't be below until it is costed."""

    score: float
    order: int
    state: _State
    way: Way
    costing: Costing
    costed: Costed | None = None


def lay(
    walls: Sequence[Sequence[Sequence[Run]]], sizes: Sizes, *, within_walls: bool = False
) -> Layout:
    """Lay the runs of all walls, courses and runs in order.

    Offcuts go on from wall to wall, or with ``within_walls`` stay where they were cut (a bay's mitred
    panel serves both its walls all the same).
    """
    ahead = look_ahead(walls, sizes, within_walls=within_walls)
    moods = [
        sizes,
        *(
            [dataclasses.replace(sizes, worth=1.0, holding=0.0)]
            if len(ahead) <= _SMALL_RUNS
            else []
        ),
    ]
    best = min(
        (_laid(walls, ahead, mood, within_walls) for mood in moods), key=lambda state: state.cost
    )
    return Layout(best.chain(), best.broken)


def _laid(
    walls: Sequence[Sequence[Sequence[Run]]],
    ahead: Sequence[Ahead],
    sizes: Sizes,
    within_walls: bool,
) -> _State:
    """The cheapest plan found with offcuts at this worth."""
    width = max(_NARROWEST, min(_WIDEST, _EFFORT // max(1, len(ahead))))
    done, states = 0, [_State()]
    for courses in walls:
        own = ahead[done : done + sum(map(len, courses))]
        done += len(own)
        begun = [_on_new_wall(s, within_walls) for s in states]
        states = _on_wall(begun, courses, own, sizes, width)
        if min(s.broken for s in states) > min(s.broken for s in begun):
            wider = _on_wall(begun, courses, own, sizes, _WIDER * width)
            states = min(states, wider, key=lambda found: min(s.cost for s in found))[:width]
    return min(states, key=lambda s: s.cost)


def _on_wall(
    states: list[_State],
    courses: Sequence[Sequence[Run]],
    ahead: Sequence[Ahead],
    sizes: Sizes,
    width: int,
) -> list[_State]:
    """The cheapest few states with a wall laid, the cheapest first."""
    coming = iter(ahead)
    for course in courses:
        for run in course:
            states = _grown(states, run, next(coming), sizes, width)
        states = [s._replace(under=tuple(sorted(s.joints)), joints=()) for s in states]
    return states


def _on_new_wall(state: _State, within_walls: bool) -> _State:
    """The state at the beginning of the next wall: nothing below, and no offcuts where they stay on their wall."""
    store = state.store
    if within_walls:
        store = store._replace(pool=tuple(o for o in store.pool if o.key), left=(), right=())
    return state._replace(store=store, under=(), joints=(), last={})


# -------------------------------------------------------------- one run


def _grown(
    states: Sequence[_State], run: Run, ahead: Ahead, sizes: Sizes, width: int
) -> list[_State]:
    """The cheapest few states with the run laid that differ in joints or offcuts.

    What a way costs in full, and leaves to the runs above, is looked at only when it may be the cheapest so far.
    """
    heap = [
        tried for i, state in enumerate(states) for tried in _tried(state, run, ahead, sizes, i)
    ]
    heapify(heap)
    kept: dict[object, _State] = {}
    while heap and len(kept) < width:
        best = heap[0]
        if best.costed is None:
            heapreplace(heap, _costed(best))
            continue
        heappop(heap)
        after = _after(best, best.costed)
        kept.setdefault(_sign(after), after)
    return list(kept.values())


def _tried(state: _State, run: Run, ahead: Ahead, sizes: Sizes, rank: int) -> Iterator[_Tried]:
    """Each way to lay the run after the state, with its score."""
    near = slice(
        bisect_left(state.under, run.x0 - sizes.stagger),
        bisect_right(state.under, run.x1 + sizes.stagger),
    )
    pool: Sequence[Offcut] = state.store.pool
    halves: dict[Side, Sequence[float]] = {}
    if "corner" in (run.left, run.right):
        pool = pool[-_TRIED:]
        halves = {"left": _spread(state.store.left), "right": _spread(state.store.right)}
    place = Place(run, ahead, sizes, pool, halves, state.under[near], state.last)
    costing = Costing(place, state.store)
    for i, way in enumerate(ways(place)):
        yield _Tried(state.cost + costing.least(way), 1000 * rank + i, state, way, costing)


def _costed(tried: _Tried) -> _Tried:
    """The same costed, with what it leaves to the runs above in its score."""
    costed = tried.costing.of(tried.way)
    return tried._replace(score=tried.state.cost + costed.score + _hampered(tried), costed=costed)


def _spread(halves: Halves) -> Sequence[float]:
    """The lengths of a few of the halves, from the longest to the shortest."""
    return [h.length for h in halves[:: -(-len(halves) // _TRIED)]] if halves else ()


def _after(tried: _Tried, costed: Costed) -> _State:
    """The state with the run laid that way."""
    state, place = tried.state, tried.costing.place
    laid = Laid(place.run, tried.way.lengths, costed.cuts)
    store = costed.store._replace(
        pool=_kept(costed.store.pool, place.ahead.keys, state.store.opened)
    )
    broken = state.broken + (tried.way.broken >= REPEATED_IN)
    return _State(
        state,
        laid,
        state.cost + costed.spent,
        store,
        (*state.joints, *laid.joints),
        state.under,
        _last(tried),
        broken,
    )


def _last(tried: _Tried) -> Corners:
    """The last corner pieces after the run is laid."""
    own = {"left": tried.way.left, "right": tried.way.right}
    new = {(side, edge.x): own[side] for side, edge in tried.costing.place.run.edges if own[side]}
    return {**tried.state.last, **new} if new else tried.state.last


def _kept(pool: tuple[Offcut, ...], keys: Mapping[Side, str], opened: int) -> tuple[Offcut, ...]:
    """The offcuts that stay at hand: those kept for this run's mitres that it did not take are free for any use."""
    if keys:
        pool = tuple(
            [o._replace(key="") if o.key in keys.values() and o.unit < opened else o for o in pool]
        )
    if len(pool) > AT_HAND:
        loose = [o for o in pool if not o.key]
        pool = (*[o for o in pool if o.key], *loose[-AT_HAND:])
    return pool


def _sign(state: _State) -> object:
    """What tells states apart that are worth keeping both."""
    store = state.store
    return (
        tuple([round(x / _GRAIN_IN) for x in state.joints]),
        tuple(sorted([(round(o.length / _GRAIN_IN), o.end) for o in store.pool])),
        tuple([round(o.length / _GRAIN_IN) for o in store.left]),
        tuple([round(o.length / _GRAIN_IN) for o in store.right]),
    )


def _hampered(tried: _Tried) -> float:
    """Cost of joints that leave runs above no place for their own, or hardly one where more joints are to come."""
    place = tried.costing.place
    above, own = place.ahead.above, place.run
    if not above:
        return 0.0
    joints, last = (*tried.state.joints, *joints_of(own, tried.way.lengths)), _last(tried)
    sizes, cost = place.sizes, 0.0
    for run in above:
        under = [x for x in joints if run.x0 - sizes.stagger < x < run.x1 + sizes.stagger]
        before = [(side, last[side, edge.x]) for side, edge in run.edges if (side, edge.x) in last]
        room = min([room for _, room in rooms(run, under, sizes, before)], default=_ROOM_IN)
        if room < 0.0:
            cost += _BLOCKED_IN
        elif run.x0 < own.x0 - EXACT_IN or run.x1 > own.x1 + EXACT_IN:
            cost += _HAMPERED_IN * max(0.0, 1.0 - room / _ROOM_IN)
    return cost
