"""Where the joints go: a beam search over the runs of a job.

Plans grow run by run, course by course, wall by wall, as a crew lays them. Of the plans so far the
cheapest few are kept (the beam), counted in length of panel: panels opened, cuts, and what the
offcuts at hand are worth. A rule that can't hold costs far more than any panel. ``candidates`` has
the layouts of a run that are tried, ``costing`` what each costs, ``joint_slack`` what it leaves to
the runs above.

    states -- expanded by each candidate of the next run, costed --> the cheapest few that differ
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heapreplace
from types import MappingProxyType
from typing import NamedTuple

from dxf2veneer.basics.giving_up import go_on
from dxf2veneer.basics.tolerances import (
    BEAM_NARROWEST,
    BEAM_STATES,
    BEAM_WIDENING,
    BEAM_WIDEST,
    BLOCKED_COST_IN,
    CORNER_OFFCUTS_TRIED,
    CUT_REPEATED_COST_IN,
    EASY_SLACK_IN,
    EXACT_IN,
    OFFCUTS_AT_HAND,
    STATE_GRAIN_IN,
    TIGHT_COST_IN,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.bays import BayEnd
from dxf2veneer.planning.candidates import candidates, repeated
from dxf2veneer.planning.costing import Costed, Costing, Cut, Store
from dxf2veneer.planning.joint_slack import joint_slacks
from dxf2veneer.planning.lookahead import Lookahead, lookaheads_of
from dxf2veneer.planning.offcuts import Halves, Offcut
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.situation import (
    Candidate,
    Ground,
    LaidCorner,
    Lengths,
    Situation,
    joints_of,
)
from dxf2veneer.planning.sizes import LayingSizes

Corners = Mapping[tuple[Side, float], LaidCorner]
"""By side and x of an edge, the last corner piece at it."""


@dataclass(frozen=True)
class LaidRun:
    """A run with the lengths of its pieces from the left, and the parts whose panels are shared."""

    run: Run
    lengths: Lengths
    cuts: tuple[Cut, ...]

    @property
    def joints(self) -> list[float]:
        """The x of the joints between its pieces."""
        return joints_of(self.run, self.lengths)

    def lost(self, piece: int) -> float:
        """What the mitres of a piece take of its panel behind its face."""
        left, right = self.run.lost
        return left * (piece == 0) + right * (piece == len(self.lengths) - 1)


class Layout(NamedTuple):
    """The runs of a job as laid, and on how many of them a rule is broken."""

    laid: list[LaidRun]
    broken: int


class _State(NamedTuple):
    """A plan so far, one link of a chain: its cost, what is at hand, joints of the last courses."""

    parent: _State | None = None
    laid: LaidRun | None = None
    cost: float = 0.0
    store: Store = Store()
    joints: tuple[float, ...] = ()
    under: tuple[float, ...] = ()
    last: Corners = MappingProxyType({})
    broken: int = 0
    """Runs laid with a broken rule, and mitres with their sides from two panels."""
    model: tuple[LaidRun, ...] = ()
    """Runs of the wall that this one is laid like, from the next one on."""

    def chain(self) -> list[LaidRun]:
        """The runs laid, in order."""
        found: list[LaidRun] = []
        state: _State | None = self
        while state is not None:
            if state.laid is not None:
                found.append(state.laid)
            state = state.parent
        return found[::-1]


class _Tried(NamedTuple):
    """A state with the candidates of the next run."""

    state: _State
    costing: Costing
    candidates: list[Candidate]


class _Extension(NamedTuple):
    """A state and a candidate of the next run, costed, with what they leave to the runs above."""

    score: float
    state: _State
    ground: Ground
    candidate: Candidate
    costed: Costed
    joints: tuple[float, ...]
    """Joints of the course so far."""
    last: Corners


def lay(
    walls: Sequence[Sequence[Sequence[Run]]], sizes: LayingSizes, *, within_walls: bool = False
) -> Layout:
    """Lay the runs of all walls, courses and runs in order, by beam search.

    Args:
        walls: The runs of each course of each wall.
        sizes: Lengths and limits, in inches.
        within_walls: Whether offcuts stay on the wall where they were cut; a bay's mitred panel
            serves both its walls all the same. Otherwise they go on from wall to wall.

    Returns:
        The runs as laid, and on how many of them a rule is broken.
    """
    lookahead = lookaheads_of(walls, sizes, within_walls=within_walls)
    best = _laid(walls, lookahead, sizes, within_walls)
    return Layout(best.chain(), best.broken)


def _laid(
    walls: Sequence[Sequence[Sequence[Run]]],
    lookahead: Sequence[Lookahead],
    sizes: LayingSizes,
    within_walls: bool,
) -> _State:
    """The cheapest plan found with offcuts at this worth."""
    choices = sum(run.like is None for courses in walls for course in courses for run in course)
    width = max(BEAM_NARROWEST, min(BEAM_WIDEST, BEAM_STATES // max(1, choices)))
    done, states = 0, [_State()]
    models: dict[str, str] = {}  # of walls laid alike the one that is laid first
    for courses in walls:
        own = lookahead[done : done + sum(map(len, courses))]
        done += len(own)
        run = next((run for course in courses for run in course), None)
        like = models.setdefault(run.like or run.wall, run.wall) if run else ""
        begun = [_on_new_wall(s, within_walls, like) for s in states]
        states = _on_wall(begun, courses, own, sizes, width)
        if min(s.broken for s in states) > min(s.broken for s in begun):
            wider = _on_wall(begun, courses, own, sizes, BEAM_WIDENING * width)
            states = min(states, wider, key=lambda found: min(s.cost for s in found))[:width]
    return min(states, key=lambda s: s.cost)


def _on_wall(
    states: list[_State],
    courses: Sequence[Sequence[Run]],
    lookahead: Sequence[Lookahead],
    sizes: LayingSizes,
    width: int,
) -> list[_State]:
    """The cheapest few states with a wall laid, the cheapest first."""
    coming = iter(lookahead)
    for course in courses:
        go_on()
        for run in course:
            states = _expanded(states, run, next(coming), sizes, width)
        states = [s._replace(under=tuple(sorted(s.joints)), joints=()) for s in states]
    return states


def _on_new_wall(state: _State, within_walls: bool, like: str) -> _State:
    """The state at the beginning of the next wall: nothing below.

    No offcuts either, where they stay on their wall. ``like`` is the wall that it is laid like.
    """
    model = tuple(one for one in state.chain() if one.run.wall == like)
    store = state.store
    if within_walls:
        store = store._replace(pool=tuple(o for o in store.pool if o.key), left=(), right=())
    return state._replace(store=store, under=(), joints=(), last={}, model=model)


# -------------------------------------------------------------- one run


def _expanded(
    states: Sequence[_State], run: Run, lookahead: Lookahead, sizes: LayingSizes, width: int
) -> list[_State]:
    """The cheapest few states with the run laid that differ in joints or offcuts.

    What a candidate costs in full, and leaves to the runs above, is looked at only when it may be
    the cheapest so far.
    """
    grounds = _grounds(states, run, lookahead, sizes)
    tried = [_tried(*pair) for pair in zip(states, grounds, strict=True)]
    heap = [
        (state.cost + score, rank, i)
        for rank, (state, costing, found) in enumerate(tried)
        for i, score in enumerate(costing.least(found))
    ]
    heapify(heap)
    costed: dict[tuple[int, int], _Extension] = {}
    kept: dict[object, _State] = {}
    while heap and len(kept) < width:
        _, rank, i = heap[0]
        best = costed.get((rank, i))
        if best is None:
            costed[rank, i] = best = _costed(tried[rank], i)
            heapreplace(heap, (best.score, rank, i))
            continue
        heappop(heap)
        after = _after(best)
        kept.setdefault(_state_key(after), after)
    return list(kept.values())


def _grounds(
    states: Sequence[_State], run: Run, lookahead: Lookahead, sizes: LayingSizes
) -> Iterator[Ground]:
    """The run's ground after each state, the same one where it is alike."""
    found: dict[object, Ground] = {}
    for state in states:
        under = state.under[
            bisect_left(state.under, run.x0 - sizes.stagger) : bisect_right(
                state.under, run.x1 + sizes.stagger
            )
        ]
        corners = [(side, state.last.get((side, edge.x))) for side, edge in run.edges]
        key = under, tuple(corners)
        if key not in found:
            before = {side: corner for side, corner in corners if corner is not None}
            found[key] = Ground(run, lookahead, sizes, under, before)
        yield found[key]


def _tried(state: _State, ground: Ground) -> _Tried:
    """The candidates of the run after the state."""
    costing = Costing(ground, state.store)
    if state.model:
        return _Tried(state, costing, [repeated(ground, state.model[0].lengths)])
    pool: Sequence[Offcut] = state.store.pool
    halves: dict[Side, Sequence[float]] = {}
    if "corner" in (ground.run.left, ground.run.right):
        pool = pool[-CORNER_OFFCUTS_TRIED:]
        halves = {"left": _spread(state.store.left), "right": _spread(state.store.right)}
    return _Tried(state, costing, candidates(Situation(ground, pool, halves)))


def _costed(tried: _Tried, i: int) -> _Extension:
    """One of them costed, with what it leaves to the runs above in its score."""
    state, costing, candidate = tried.state, tried.costing, tried.candidates[i]
    ground, costed = costing.ground, costing.of(candidate)
    joints = (*state.joints, *joints_of(ground.run, candidate.lengths))
    last = _last(state, ground.run, candidate)
    score = state.cost + costed.score + _hampering(ground, joints, last)
    return _Extension(score, state, ground, candidate, costed, joints, last)


def _spread(halves: Halves) -> Sequence[float]:
    """The lengths of a few of the halves, from the longest to the shortest."""
    return [h.length for h in halves[:: -(-len(halves) // CORNER_OFFCUTS_TRIED)]] if halves else ()


def _after(extension: _Extension) -> _State:
    """The state with the run laid by that candidate."""
    state, ground, costed = extension.state, extension.ground, extension.costed
    store = costed.store._replace(
        pool=_kept(costed.store.pool, ground.lookahead.bays, state.store.opened)
    )
    broken = state.broken + costed.parted + (extension.candidate.broken >= CUT_REPEATED_COST_IN)
    return _State(
        state,
        LaidRun(ground.run, extension.candidate.lengths, costed.cuts),
        state.cost + costed.spent,
        store,
        extension.joints,
        state.under,
        extension.last,
        broken,
        state.model[1:],
    )


def _last(state: _State, run: Run, candidate: Candidate) -> Corners:
    """The last corner pieces after the run is laid."""
    if not candidate.left and not candidate.right:
        return state.last
    own = {"left": candidate.left, "right": candidate.right}
    new = {
        (side, edge.x): LaidCorner(own[side], candidate.pieces > 1)
        for side, edge in run.edges
        if own[side]
    }
    return {**state.last, **new} if new else state.last


def _kept(pool: tuple[Offcut, ...], bays: Mapping[Side, BayEnd], opened: int) -> tuple[Offcut, ...]:
    """The offcuts that stay at hand.

    Those kept for this run's mitres that it did not take are free for any use.
    """
    met = {end.key for end in bays.values() if end.is_second}
    if met:
        pool = tuple([o._replace(key="") if o.key in met else o for o in pool])
    if len(pool) > OFFCUTS_AT_HAND:
        loose = [o for o in pool if not o.key]
        pool = (*[o for o in pool if o.key], *loose[-OFFCUTS_AT_HAND:])
    return pool


def _state_key(state: _State) -> object:
    """What tells states apart that are worth keeping both."""
    store = state.store
    return (
        tuple([round(x / STATE_GRAIN_IN) for x in state.joints]),
        tuple(sorted([(round(o.length / STATE_GRAIN_IN), o.end) for o in store.pool])),
        tuple([round(o.length / STATE_GRAIN_IN) for o in store.left]),
        tuple([round(o.length / STATE_GRAIN_IN) for o in store.right]),
    )


def _hampering(ground: Ground, joints: tuple[float, ...], last: Corners) -> float:
    """Cost of joints that leave runs above no place for their own, or hardly one."""
    own, sizes, cost = ground.run, ground.sizes, 0.0
    for run, rooms in ground.lookahead.above:
        under = [x for x in joints if run.x0 - sizes.stagger < x < run.x1 + sizes.stagger]
        before = [
            (side, last[side, edge.x].length) for side, edge in run.edges if (side, edge.x) in last
        ]
        key = run.x0, run.x1, tuple(under), tuple(before)
        room = ground.slack.get(key)
        if room is None:
            slacks = [room for _, room in joint_slacks(run, under, sizes, before, rooms)]
            room = ground.slack[key] = min(slacks, default=EASY_SLACK_IN)
        if room < 0.0:
            cost += BLOCKED_COST_IN
        elif run.x0 < own.x0 - EXACT_IN or run.x1 > own.x1 + EXACT_IN:
            cost += TIGHT_COST_IN * max(0.0, 1.0 - room / EASY_SLACK_IN)
    return cost
