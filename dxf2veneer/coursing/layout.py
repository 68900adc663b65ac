"""Where the joints go: lengths of the pieces of every run, and the units they are cut from.

A run of length m is a first piece, whole panels, and a last piece:

    |  first t  |   whole   |   whole   |  last  |        t + 36 k + last = m
    x0          joint       joint       joint    x1

Whole panels lie between, because inside a run factory end meets factory end (rule L9): so one
number, t, places every joint of a run. Where the run's end is a finished one, the first or last
piece is a corner piece, and its length is free within limits; so corner pieces take up what the
run is more than whole panels.

The lengths t worth trying are few: those that make a piece whole or the least there may be, those
that use an offcut up, those that stand just far enough from the joints of the course below, and
the middles between. Plans grow run by run, course by course, wall by wall, as a crew lays them; of
the plans so far the cheapest few are kept (a beam), counted in length of panel: units opened, cuts,
and what the offcuts at hand are worth. A rule that can't hold costs far more than any panel.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.coursing.offcuts import (
    EXACT_IN,
    HALF_WORTH,
    CornerOffcut,
    Hand,
    Offcut,
    Sizes,
    get_corner,
    get_part,
    worth,
)
from dxf2veneer.coursing.runs import Run

_BROKEN_IN = 2000.0
"""Cost of a rule that does not hold, as length of panel."""
_CLOSE_IN = 0.02
"""Cost of each inch that joints stand nearer to those below than half a panel: looks, among equals."""
_NARROW_IN = 5.0
"""Cost of a leg beside an opening narrower than the least strip."""
_FIRST_SIDE = 0.3
"""Cost of each inch that the first side of a bay's mitre is longer than a third of a panel."""
_BLOCKED_IN = 300.0
"""Cost of joints that leave the run above no place for its own."""
_ROOM_IN = 6.0
"""With this much free to choose from the run above is not hampered."""
_GRAIN = 1.0
_AT_HAND = 16
"""Offcuts of a kind that are kept at hand; a crew would not turn over a bigger heap."""
_EFFORT = 1600
_WIDEST, _NARROWEST = 24, 3


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
    lengths: tuple[float, ...]
    cuts: tuple[Cut, ...]

    @property
    def joints(self) -> tuple[float, ...]:
        """The x of the joints between its pieces."""
        xs, x = [], self.run.x0
        for length in self.lengths[:-1]:
            x += length
            xs.append(x)
        return tuple(xs)


class _State:
    """A plan so far, one link of a chain: costs, offcuts at hand, joints of this course and the last."""

    __slots__ = ("corners", "cost", "halves", "joints", "laid", "last", "opened", "parent", "pool", "score", "under")

    def __init__(self, parent: _State | None, laid: Laid | None) -> None:
        self.parent, self.laid = parent, laid
        self.cost = self.score = 0.0
        self.opened = self.corners = 0
        self.pool: tuple[Offcut, ...] = ()
        self.halves: tuple[CornerOffcut, ...] = ()
        self.joints: tuple[float, ...] = ()
        self.under: tuple[float, ...] = ()
        self.last: dict[tuple[str, float], float] = {}

    def chain(self) -> list[Laid]:
        """The runs laid, in order."""
        found, state = [], self
        while state.parent is not None:
            if state.laid is not None:
                found.append(state.laid)
            state = state.parent
        return found[::-1]


class _Ahead(NamedTuple):
    """What is still to come after a run: how lively offcuts are wanted, corner pieces by hand, and the lengths
    that the next corner piece at the left and right edge must have because it fills its run alone."""

    demand: float
    left: int
    right: int
    forced: Mapping[str, float]
    mates: Mapping[str, float]
    """The length that the other side of a bay's mitre at the left or right end must have, still to be laid."""


def lay(walls: Sequence[Sequence[Sequence[Run]]], sizes: Sizes, *, within_walls: bool = False) -> list[Laid]:
    """Lay the runs of all walls, courses and runs in order; the runs as laid.

    Offcuts go on from wall to wall, or with ``within_walls`` stay where they were cut (a bay's mitred
    panel serves both its walls all the same).
    """
    runs = [run for courses in walls for course in courses for run in course]
    if not runs:
        return []
    width = max(_NARROWEST, min(_WIDEST, _EFFORT // len(runs)))
    pairs = Counter(key for run in runs for _, key in _mitre_keys(run, sizes))
    ahead = _look_ahead(runs, sizes, within_walls)
    states = [_State(None, None)]
    at = 0
    for courses in walls:
        states = [_on_new_wall(s, within_walls) for s in states]
        for index, course in enumerate(courses):
            above = courses[index + 1] if index + 1 < len(courses) else ()
            for run in course:
                bridges = [a for a in above if a.x0 < run.x0 - EXACT_IN or a.x1 > run.x1 + EXACT_IN]
                bridges = [a for a in bridges if a.x0 < run.x1 and a.x1 > run.x0]
                grown = [g for s in states for g in _grown(s, run, ahead[at], sizes, pairs, bridges)]
                states = _best(grown, width)
                at += 1
            states = [_on_new_course(s) for s in states]
    return min(states, key=lambda s: s.cost).chain()


def _look_ahead(runs: Sequence[Run], sizes: Sizes, within_walls: bool) -> list[_Ahead]:
    """For each run what comes after it, in the job or on its wall."""
    found: list[_Ahead] = []
    count = left = right = 0
    wall = ""
    alone: dict[tuple[str, str, float], float] = {}
    mates: dict[str, float] = {}
    for run in reversed(runs):
        if within_walls and run.wall != wall:
            count = left = right = 0
        wall = run.wall
        keys = {side: (wall, side, edge.x) for side, edge in run.edges if (run.left if side == "left" else run.right) == "corner"}
        bays = dict(_mitre_keys(run, sizes))
        forced = {side: alone[key] for side, key in keys.items() if key in alone}
        found.append(_Ahead(min(1.0, count / 8.0), left, right, forced, {side: mates[key] for side, key in bays.items() if key in mates}))
        one = run.length <= sizes.panel - sizes.kerf - sizes.least and (run.left != run.right or _is_narrow_bay(run, sizes))
        mates.update({key: run.length if one else 0.0 for key in bays.values()})
        for key in keys.values():
            alone.pop(key, None)
            if run.length <= _longest_alone(run, sizes) + EXACT_IN:
                alone[key] = run.length
        count, left, right = count + 1, left + (run.left == "corner"), right + (run.right == "corner")
    return found[::-1]


def _mitre_keys(run: Run, sizes: Sizes) -> Iterator[tuple[str, str]]:
    """(side, key) of the run's ends at a bay's corner; the two sides of one corner and course share the key.

    A face too narrow for two pieces with stagger is laid in one, whose panel can serve one neighbour
    only: the left one and the right one take turns.
    """
    for side, edge in run.edges:
        if edge.kind == "mitre" and edge.corner and (not _is_narrow_bay(run, sizes) or (side == "left") == (run.turn % 2 == 0)):
            yield side, f"{edge.corner}/{run.turn}"


def _is_narrow_bay(run: Run, sizes: Sizes) -> bool:
    return run.left == run.right == "mitre" and run.length < 2.0 * sizes.least + sizes.stagger


def _on_new_course(state: _State) -> _State:
    """The state at the beginning of the next course: its joints are now those below."""
    after = _copy(state, None)
    after.score, after.under, after.joints = state.score, state.joints, ()
    return after


def _on_new_wall(state: _State, within_walls: bool) -> _State:
    """The state at the beginning of the next wall: nothing below, and no offcuts where they stay on their wall."""
    after = _on_new_course(state)
    after.under, after.last = (), {}
    if within_walls:
        after.pool, after.halves = tuple(o for o in state.pool if o.key), ()
    return after


def _copy(state: _State, laid: Laid | None) -> _State:
    after = _State(state, laid)
    after.cost, after.opened, after.corners = state.cost, state.opened, state.corners
    after.pool, after.halves = state.pool, state.halves
    after.joints, after.under, after.last = state.joints, state.under, state.last
    return after


def _best(states: list[_State], width: int) -> list[_State]:
    """The cheapest few that differ in joints or offcuts."""
    states.sort(key=lambda s: s.score)
    kept: list[_State] = []
    seen = set()
    for state in states:
        sign = (
            tuple(round(x / _GRAIN) for x in state.joints),
            tuple(sorted((round(o.length / _GRAIN), o.end) for o in state.pool)),
            tuple(sorted((round(o.length / _GRAIN), o.hand) for o in state.halves)),
        )
        if sign not in seen:
            seen.add(sign)
            kept.append(state)
            if len(kept) == width:
                break
    return kept


# -------------------------------------------------------------- one run


def _grown(state: _State, run: Run, ahead: _Ahead, sizes: Sizes, pairs: Counter[str], bridges: list[Run]) -> Iterator[_State]:
    """The state with the run laid, once for each way worth trying."""
    keys = {side: key for side, key in _mitre_keys(run, sizes) if pairs[key] == 2}
    ways = [(_broken(state, run, lengths, ahead, sizes), lengths) for lengths in _ways(state, run, ahead, sizes)]
    limit = max(_BROKEN_IN / 4, min(broken for broken, _ in ways) + EXACT_IN)
    for broken, lengths in ways:
        if broken < limit:
            yield _with(state, run, lengths, broken, ahead, sizes, keys, bridges)


def _ways(state: _State, run: Run, ahead: _Ahead, sizes: Sizes) -> list[tuple[float, ...]]:
    """The divisions of the run into pieces worth trying; where none keeps the rules of length, the least bad."""
    m = run.length
    corners = (run.left == "corner", run.right == "corner")
    ways: list[tuple[float, ...]] = []
    if m <= _longest_alone(run, sizes) + EXACT_IN:
        ways.append((m,))
    if m >= 2.0 * sizes.least - EXACT_IN and not (ways and any(corners)):  # a corner piece fills it alone (rule L12)
        for left, right in _corner_pieces(state, run, *corners, sizes):
            flat = m - left - right
            if flat <= EXACT_IN:
                ways += [(left, right)] if flat >= -EXACT_IN and all(corners) else []
                continue
            ends = ((left,) if left else ()), ((right,) if right else ())
            ways += [(*ends[0], *way, *ends[1]) for way in _flat_ways(state, run.x0 + left, flat, any(corners), run, ahead, sizes)]
    if not ways:
        ways.append((m,) if m <= sizes.panel + EXACT_IN else _forced(m, sizes))
    return list({tuple(round(n, 6) for n in way): way for way in ways}.values())


def _longest_alone(run: Run, sizes: Sizes) -> float:
    """The longest run that one piece fills: a corner piece with one finished end, or a flat one."""
    if run.left == "corner" and run.right == "corner":
        return 2.0 * sizes.least - 2.0 * EXACT_IN
    return sizes.longest_corner if "corner" in (run.left, run.right) else sizes.panel


def _forced(m: float, sizes: Sizes) -> tuple[float, ...]:
    """A division that keeps no rule but the panel's length: as even as can be."""
    count = int(-(-m // sizes.panel))
    return (m / count,) * count


def _corner_pieces(state: _State, run: Run, left_corner: bool, right_corner: bool, sizes: Sizes) -> Iterator[tuple[float, float]]:
    """Lengths of the corner pieces at both ends worth trying; 0 where the end has none."""
    if not left_corner and not right_corner:
        yield 0.0, 0.0
        return
    m = run.length
    lefts = _corner_lengths(state, run, "left", sizes) if left_corner else [0.0]
    rights = _corner_lengths(state, run, "right", sizes) if right_corner else [0.0]
    if not (left_corner and right_corner):
        yield from ((a, b) for a in lefts for b in rights)
        return
    whole = sizes.corner - sizes.kerf
    for a in lefts:
        yield from ((a, b) for b in [*_filling(state, m - a, sizes), *_within([whole - a], sizes)])
        yield from ((a, h.length) for h in state.halves if h.hand == "right")
    for b in rights:
        yield from ((a, b) for a in [*_filling(state, m - b, sizes), *_within([whole - b], sizes)])


def _filling(state: _State, m: float, sizes: Sizes) -> list[float]:
    """Lengths of a corner piece that leave whole panels of the length m, or whole ones and an offcut."""
    half = 0.5 * (sizes.panel - sizes.kerf)
    return _within([m, m - half, *(m - o.length for o in state.pool if o.end != "none")], sizes)


def _within(raw: list[float], sizes: Sizes) -> list[float]:
    """Those lengths, whole panels added or taken off, that a corner piece may have; each once."""
    panel, least, longest = sizes.panel, sizes.least - EXACT_IN, sizes.longest_corner + EXACT_IN
    tried = (u for t in raw for u in (t % panel, t % panel + panel))
    return list({round(u, 6): u for u in tried if least <= u <= longest}.values())


def _corner_lengths(state: _State, run: Run, side: Hand, sizes: Sizes) -> list[float]:
    """Lengths of one corner piece worth trying: halves at hand, limits, whole panels beside it, stagger."""
    longest = sizes.longest_corner
    raw = [h.length for h in state.halves if h.hand == side]
    raw += [sizes.least, longest, *_filling(state, run.length, sizes)]
    for residue in _residues(state, run, sizes):
        at = residue if side == "left" else run.length - residue
        raw += [at - sizes.stagger, at + sizes.stagger]
    edge = run.left_edge if side == "left" else run.right_edge
    before = state.last.get((side, edge.x)) if edge else None
    raw += [before - sizes.vary, before + sizes.vary] if before is not None else [0.5 * (sizes.least + longest) - sizes.vary]
    return _within(raw, sizes)


def _residues(state: _State, run: Run, sizes: Sizes) -> list[float]:
    """Where the joints of the course below stand, from the run's beginning, whole panels taken off."""
    return list({round((x - run.x0) % sizes.panel, 6): None for x in state.under if run.x0 < x < run.x1})


def _flat_ways(state: _State, x0: float, m: float, beside_corner: bool, run: Run, ahead: _Ahead, sizes: Sizes) -> Iterator[tuple[float, ...]]:
    """Divisions of a flat stretch of length m: a first piece, whole panels, a last piece."""
    if m < sizes.least - EXACT_IN:
        return
    if m <= sizes.panel + EXACT_IN:
        yield (m,)
    panel = sizes.panel
    raw = [panel, m % panel, sizes.least, m - sizes.least]
    for side, mate in ahead.mates.items():
        beside = panel - sizes.kerf - max(mate, sizes.least)
        raw.append(beside if side == "left" else m - beside)
    for offcut in state.pool:
        if offcut.end in ("right", "either"):
            raw.append(offcut.length)
        if offcut.end in ("left", "either"):
            raw.append(m - offcut.length)
    residues = {round((x - x0) % panel, 6): None for x in state.under if run.x0 < x < run.x1}
    if not beside_corner or len(residues) > 1:
        for residue in residues:
            raw += [residue - sizes.stagger, residue + sizes.stagger, residue + panel / 2.0]
    if not beside_corner:
        raw += [panel / 2.0, 12.0, panel - 12.0, *(x - x0 for x in run.notches)]
    tried = {round(u, 6): u for t in raw for u in (t % panel, t % panel + panel)}
    for t in tried.values():
        way = _division(t, m, sizes)
        if way:
            yield way


def _division(t: float, m: float, sizes: Sizes) -> tuple[float, ...] | None:
    """First piece t, whole panels, last piece; None where a piece would be too short or too long."""
    if not sizes.least - EXACT_IN <= t <= sizes.panel + EXACT_IN or t > m - sizes.least + EXACT_IN:
        return None
    whole, last = divmod(m - t - EXACT_IN, sizes.panel)
    last += EXACT_IN
    return (t, *(sizes.panel,) * int(whole), last) if last >= sizes.least - EXACT_IN else None


def _broken(state: _State, run: Run, lengths: Sequence[float], ahead: _Ahead, sizes: Sizes) -> float:
    """Cost of rules that the lengths break: stagger, least piece, corner cuts that vary, narrow legs."""
    if len(lengths) == 1:
        return 0.0
    cost = sum(_BROKEN_IN + 50.0 * (sizes.least - n) for n in lengths if n < sizes.least - EXACT_IN)
    cost += sum(_BROKEN_IN / 4 for side, edge in run.edges if _repeats(state, run, lengths, side, edge.x, ahead, sizes))
    joints, x = [], run.x0
    for length in lengths[:-1]:
        x += length
        joints.append(x)
    if state.under:
        near = _nearest(joints, state.under, sizes.panel / 2.0)
        cost += _CLOSE_IN * (sizes.panel / 2.0 - near)
        if near < sizes.stagger - EXACT_IN:
            cost += _BROKEN_IN + 50.0 * (sizes.stagger - near)
    for notch in run.notches:
        cost += sum(_NARROW_IN for x in joints if 1e-3 < abs(x - notch) < sizes.strip)
    return cost


def _nearest(ones: Sequence[float], others: Sequence[float], most: float) -> float:
    """The least distance between two rows of joints, both from left to right, and no more than ``most``."""
    near, i = most, 0
    for x in ones:
        while i < len(others) and others[i] < x:
            i += 1
        if i < len(others):
            near = min(near, others[i] - x)
        if i > 0:
            near = min(near, x - others[i - 1])
    return near


def _repeats(state: _State, run: Run, lengths: Sequence[float], side: str, x: float, ahead: _Ahead, sizes: Sizes) -> bool:
    """Whether the corner piece at that end is as long as the one before it there, or as the next one has to be."""
    if (run.left if side == "left" else run.right) != "corner":
        return False
    length = lengths[0 if side == "left" else -1]
    around = (state.last.get((side, x)), ahead.forced.get(side))
    return any(other is not None and abs(other - length) < sizes.vary - EXACT_IN for other in around)


def _with(
    state: _State, run: Run, lengths: tuple[float, ...], broken: float, ahead: _Ahead, sizes: Sizes, keys: dict[str, str], bridges: list[Run]
) -> _State:
    """The state with the run laid in these lengths."""
    after = _copy(state, None)
    cuts: list[Cut] = []
    count = len(lengths)
    alone = count == 1
    flats = [i for i in range(count) if not _is_corner(run, i, count)]
    spent = broken
    for i in dict.fromkeys((0, *(flats[:1]), *(flats[-1:]), count - 1)):
        length = lengths[i]
        if i not in flats:
            hand: Hand = _corner_hand(run, i, count)
            wanted = ahead.right if hand == "left" else ahead.left
            if count > 1 and hand == "left" and run.right == "corner":
                wanted += 1
            corner = get_corner(length, hand, not alone, after.halves, after.corners, sizes, wanted)
            after.halves, after.corners = corner.pool, after.corners + corner.is_new
            spent += corner.is_new * sizes.corner + corner.cuts * sizes.cut
            cuts.append(Cut(i, hand, corner.unit, True))
            after.last = {**after.last, **{(side, e.x): length for side, e in run.edges if side == hand}}
            continue
        key = _key_of(i, count, keys)
        if length >= sizes.panel - EXACT_IN and not key:
            continue
        hand = _flat_hand(run, i, flats, keys)
        got = get_part(length, hand, after.pool, after.opened, sizes, ahead.demand, key)
        spent += _mitre_cost(key, length, got.is_new, state.pool, ahead.mates.get("left" if hand == "right" else "right"), sizes) if key else 0.0
        spent += _BROKEN_IN if alone and len(keys) == 2 else 0.0  # one panel can't serve both neighbours
        after.pool, after.opened = got.pool, after.opened + got.is_new
        spent += got.is_new * sizes.panel + got.cuts * sizes.cut
        cuts.append(Cut(i, hand, got.unit, False))
    if keys:
        after.pool = tuple(_released(o, keys, after.opened, state.opened) for o in after.pool)
    whole = len(flats) - sum(not c.is_corner for c in cuts)
    after.cost = state.cost + spent + whole * sizes.panel
    after.laid = Laid(run, lengths, tuple(cuts))
    after.joints = state.joints + after.laid.joints
    after.halves, halves_worth = _wanted(after.halves, ahead)
    if len(after.pool) > _AT_HAND:
        loose = [o for o in after.pool if not o.key]
        after.pool = (*(o for o in after.pool if o.key), *loose[-_AT_HAND:])
    after.score = after.cost - halves_worth - sum(worth(o.length, o.end, sizes, ahead.demand) for o in after.pool)
    after.score += sum(_blocked(after.joints, bridge, sizes) for bridge in bridges)
    return after


def _key_of(piece: int, count: int, keys: dict[str, str]) -> str:
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
        return _BROKEN_IN if is_new else 0.0
    if length > sizes.panel - sizes.kerf - max(mate or 0.0, sizes.least) + EXACT_IN:
        return _BROKEN_IN
    return 0.0 if mate else _FIRST_SIDE * max(0.0, length - sizes.panel / 3.0)


def _released(offcut: Offcut, keys: dict[str, str], opened: int, before: int) -> Offcut:
    """The offcut, free for any use where it was kept for this run's mitre and the run did not take it."""
    stale = offcut.key and offcut.key in keys.values() and not before <= offcut.unit < opened
    return offcut._replace(key="") if stale else offcut


def _is_corner(run: Run, piece: int, count: int) -> bool:
    """Whether that piece of the run is a corner piece."""
    return (piece == 0 and run.left == "corner") or (piece == count - 1 and run.right == "corner")


def _corner_hand(run: Run, piece: int, count: int) -> Hand:
    """Left-hand or right-hand; a lone piece between two finished ends takes turns by course."""
    if count == 1 and run.left == run.right == "corner":
        return "left" if run.course % 2 else "right"
    return "left" if piece == 0 and run.left == "corner" else "right"


def _flat_hand(run: Run, piece: int, flats: list[int], keys: dict[str, str]) -> Hand:
    """The factory end that a flat piece keeps: the one toward the other flat pieces of its run; a lone
    mitred piece keeps the one away from the mitre that it shares its panel at."""
    if len(flats) == 1:
        at_left = "left" in keys or (run.left == "mitre" and "right" not in keys)
        return "right" if at_left else "left" if run.right == "mitre" else "any"
    return "right" if piece == flats[0] else "left"


def _wanted(halves: tuple[CornerOffcut, ...], ahead: _Ahead) -> tuple[tuple[CornerOffcut, ...], float]:
    """The corner halves that pieces still to come can use, and what they are worth: the longest first."""
    if not halves:
        return (), 0.0
    left = sorted((o for o in halves if o.hand == "left"), key=lambda o: -o.length)[: min(ahead.left, _AT_HAND)]
    right = sorted((o for o in halves if o.hand == "right"), key=lambda o: -o.length)[: min(ahead.right, _AT_HAND)]
    kept = (*left, *right)
    return kept, HALF_WORTH * sum([o.length for o in kept])


def _blocked(joints: tuple[float, ...], above: Run, sizes: Sizes) -> float:
    """Cost of joints below a run that leave no residue, or hardly one, free for its own."""
    residues = sorted({(x - above.x0) % sizes.panel for x in joints if above.x0 < x < above.x1})
    if len(residues) < 2:
        return 0.0
    room = max(b - a for a, b in zip(residues, [*residues[1:], residues[0] + sizes.panel], strict=True)) - 2.0 * sizes.stagger
    return _BLOCKED_IN if room < -EXACT_IN else _BLOCKED_IN / 10.0 * max(0.0, 1.0 - room / _ROOM_IN)
