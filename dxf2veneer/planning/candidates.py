"""The candidate layouts of a run: its divisions that are worth trying.

A run of length m is a corner piece, if its end is a finished one, then a first flat piece, whole
panels, a last flat piece, and perhaps a corner piece again:

    | corner a |  first t  |   whole   |   whole   |  last  | corner b |
    x0       joint       joint       joint       joint    joint       x1

Whole panels lie between, because inside a run factory end meets factory end (rule L9): so the few
numbers a, t, b place every joint of a run. Worth trying are those that make a piece whole or the
least there may be, those that use an offcut up, those that stand just far enough from the joints of
the course below, and the middles between.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from dxf2veneer.basics.tolerances import (
    CUT_REPEATED_COST_IN,
    EXACT_IN,
    LENGTH_GRID,
    RULE_BROKEN_COST_IN,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.cutting_stock.run_kinds import is_one_corner_piece
from dxf2veneer.planning.lookahead import longest_alone
from dxf2veneer.planning.rule_costs import corner_and_row_costs
from dxf2veneer.planning.situation import Candidate, Ground, Lengths, Row, Situation, unique
from dxf2veneer.planning.sizes import LayingSizes


def candidates(situation: Situation) -> list[Candidate]:
    """The candidates of a run; those that break rules only where none keeps them.

    Args:
        situation: The run, what lies below, what is at hand and what is to come.

    Returns:
        Candidates with the cost of the rules they break, each division once.
    """
    found = _divisions(situation, strict=True)
    if found:
        return found
    found = _divisions(situation, strict=False) or [_in_need(situation.ground)]
    limit = min(candidate.broken for candidate in found) + EXACT_IN
    return [candidate for candidate in found if candidate.broken <= limit]


def _divisions(situation: Situation, *, strict: bool) -> list[Candidate]:
    """Each division once that keeps the rules of length.

    ``strict``: only those that keep all other rules as well.
    """
    ground = situation.ground
    run, sizes = ground.run, ground.sizes
    m, most = run.length, CUT_REPEATED_COST_IN if strict else math.inf
    found: dict[tuple[int, int], list[Candidate]] = {}
    if m <= longest_alone(run, sizes) + EXACT_IN:
        alone = _alone(ground)
        own = [alone] if alone.broken < most else []
        if is_one_corner_piece(run, sizes):
            return own
        found[round(alone.left * LENGTH_GRID), round(alone.right * LENGTH_GRID)] = own
    if m < 2.0 * sizes.least - EXACT_IN:
        return [candidate for own in found.values() for candidate in own]
    for left, right in _corner_pieces(situation, strict=strict):
        key = round(left * LENGTH_GRID), round(right * LENGTH_GRID)
        if key not in found or not (left or right):
            flat = m - left - right
            rows = _flat_divisions(situation, left, flat)
            if left and right and abs(flat) <= EXACT_IN:
                rows = [(0.0, 0, 0.0)]
            if not rows:
                found.setdefault(key, [])
                continue
            costs = corner_and_row_costs(ground, left, right, rows, strict=strict)
            found.setdefault(key, []).extend(
                Candidate(broken, left, first, whole, last, right, sizes.panel)
                for broken, (first, whole, last) in zip(costs, rows, strict=True)
                if broken < most and (last or left or right)
            )
    return [candidate for own in found.values() for candidate in own]


def _alone(ground: Ground) -> Candidate:
    """One piece for the whole run; between two finished ends the two hands take turns.

    A corner piece alone has to differ from the one before only where that was cut at choice.
    """
    run, m = ground.run, ground.run.length
    if "corner" not in (run.left, run.right):
        return Candidate(0.0, 0.0, m, 0, 0.0, 0.0, 0.0)
    is_left = run.left == "corner" and (run.right != "corner" or run.course % 2 == 1)
    before = ground.before.get("left" if is_left else "right")
    is_repeated = before is not None and before.is_free and before.is_near(m, ground.sizes.vary)
    cost = CUT_REPEATED_COST_IN if is_repeated else 0.0
    return Candidate(cost, m if is_left else 0.0, 0.0, 0, 0.0, 0.0 if is_left else m, 0.0)


def _in_need(ground: Ground) -> Candidate:
    """A layout for a run that no division keeps the rules in: pieces as even as can be."""
    run, sizes = ground.run, ground.sizes
    has_corner = "corner" in (run.left, run.right)
    longest = min(sizes.panel, sizes.corner) if has_corner else sizes.panel
    if run.length <= longest + EXACT_IN:
        return _alone(ground)
    count = math.ceil(run.length / longest)
    each = run.length / count
    left, right = (each if end == "corner" else 0.0 for end in (run.left, run.right))
    flats = count - (left > 0.0) - (right > 0.0)
    return Candidate(
        RULE_BROKEN_COST_IN,
        left,
        each if flats else 0.0,
        max(0, flats - 2),
        each if flats > 1 else 0.0,
        right,
        each,
    )


def repeated(ground: Ground, lengths: Lengths) -> Candidate:
    """The candidate that repeats the layout of a run like this one.

    Args:
        ground: The run, what lies below and what is to come.
        lengths: The lengths of that run's pieces, from the left.

    Returns:
        It with the cost of the rules it breaks.
    """
    run = ground.run
    if len(lengths) == 1:
        return _alone(ground)
    flats = list(lengths)
    left = flats.pop(0) if run.left == "corner" else 0.0
    right = flats.pop() if run.right == "corner" else 0.0
    first, last = (flats or [0.0])[0], flats[-1] if len(flats) > 1 else 0.0
    whole, each = max(0, len(flats) - 2), flats[1] if len(flats) > 2 else ground.sizes.panel
    rows = [(first, whole, last)]
    (broken,) = corner_and_row_costs(ground, left, right, rows, strict=False)
    return Candidate(broken, left, first, whole, last, right, each)


# ------------------------------------------------------------ corner pieces


def _corner_pieces(situation: Situation, *, strict: bool) -> Iterator[tuple[float, float]]:
    """Lengths of the corner pieces at both ends worth trying; 0 where the end has none."""
    ground = situation.ground
    run, sizes = ground.run, ground.sizes

    def kept(side: Side, lengths: Iterable[float]) -> Iterator[float]:
        return (n for n in lengths if not strict or _keeps_rules(ground, side, n))

    lefts = (
        list(kept("left", _corner_lengths(situation, "left"))) if run.left == "corner" else [0.0]
    )
    rights = (
        list(kept("right", _corner_lengths(situation, "right"))) if run.right == "corner" else [0.0]
    )
    if not run.left == run.right == "corner":
        yield from ((a, b) for a in lefts for b in rights)
        return
    whole = sizes.corner - sizes.kerf
    halves = [*situation.halves["right"], *([] if strict else [sizes.least])]
    for a in lefts:
        beside = _within([*_filling(situation, run.length - a), whole - a], sizes)
        yield from ((a, b) for b in kept("right", unique([*beside, *halves])))
    for b in rights:
        yield from (
            (a, b)
            for a in kept("left", _within([*_filling(situation, run.length - b), whole - b], sizes))
        )


def _keeps_rules(ground: Ground, side: Side, length: float) -> bool:
    """Whether a corner piece varies from its neighbors, and its joint keeps the stagger."""
    known = ground.kept.get((side, length))
    if known is None:
        vary, stagger = ground.sizes.vary - EXACT_IN, ground.sizes.stagger - EXACT_IN
        at = length if side == "left" else ground.run.length - length
        known = ground.kept[side, length] = all(
            [abs(n - length) >= vary for n in ground.varied.get(side, ())]
        ) and all([abs(x - at) >= stagger for x in ground.below])
    return known


def _corner_lengths(situation: Situation, side: Side) -> list[float]:
    """Lengths of one corner piece worth trying: halves at hand, limits, whole panels, stagger."""
    ground = situation.ground
    run, sizes = ground.run, ground.sizes
    raw = [
        *situation.halves[side],
        sizes.least,
        sizes.longest_corner,
        *_filling(situation, run.length),
    ]
    for residue in ground.residues:
        at = residue if side == "left" else run.length - residue
        raw += [at - sizes.stagger, at + sizes.stagger]
    before = ground.before.get(side)
    raw += (
        [0.5 * (sizes.least + sizes.longest_corner) - sizes.vary]
        if before is None
        else [before.length - sizes.vary, before.length + sizes.vary]
    )
    return _within(raw, sizes)


def _filling(situation: Situation, m: float) -> list[float]:
    """Lengths of a corner piece that leave whole panels of the length m, and beside them an offcut,
    or an even part of a panel: a half or a third."""
    sizes = situation.ground.sizes
    panel, kerf = sizes.panel, sizes.kerf
    parts = [m - (panel - cuts * kerf) / (cuts + 1) for cuts in (1, 2)]
    return [m, *parts, *[m - o.length for o in situation.pool if o.end != "none"]]


def _within(raw: Sequence[float], sizes: LayingSizes) -> list[float]:
    """Those lengths, whole panels added or taken off, that a corner piece may have; each once."""
    panel, least, longest = sizes.panel, sizes.least - EXACT_IN, sizes.longest_corner + EXACT_IN
    rests = [t % panel for t in raw]
    return unique([u for u in [*rests, *[t + panel for t in rests]] if least <= u <= longest])


# -------------------------------------------------------------- flat pieces


def _flat_divisions(situation: Situation, start: float, m: float) -> list[Row]:
    """(first, whole ones, last) of a flat stretch of length m, ``start`` into the run."""
    ground = situation.ground
    sizes, residues = ground.sizes, ground.residues
    panel, least, stagger = sizes.panel, sizes.least, sizes.stagger
    if m < least - EXACT_IN:
        return []
    raw = [panel, m, least, m - least, *_using_up(situation, m)]
    beside_corner = "corner" in (ground.run.left, ground.run.right)
    if not beside_corner or len(residues) > 1:
        raw += [r - start + d for r in residues for d in (-stagger, stagger, panel / 2.0)]
    if not beside_corner:
        raw += [panel / 2.0, panel / 3.0, panel - panel / 3.0]
        raw += [x - ground.run.x0 - start for x in ground.run.notches]
    rests = [t % panel for t in raw]
    rests += [t + panel for t in rests if t < EXACT_IN]
    low, high = least - EXACT_IN, min(panel, m - least) + EXACT_IN
    rests = [t for t in rests if low <= t <= high]
    rows = [(t, *divmod(m - t - EXACT_IN, panel)) for t in unique(rests)] if rests else []
    shortest = least - 2.0 * EXACT_IN
    found: list[Row] = [(m, 0, 0.0)] if m <= panel + EXACT_IN else []
    found += [(t, int(n), last + EXACT_IN) for t, n, last in rows if last >= shortest]
    return found


def _using_up(situation: Situation, m: float) -> Iterator[float]:
    """First pieces that use an offcut up, or whose last piece does.

    Or that suit the other side of a bay's mitre.
    """
    for side, end in situation.ground.lookahead.bays.items():
        behind = situation.ground.run.lost[side == "right"]
        offcuts = (o.length - behind for o in situation.pool if o.key == end.key)
        for length in (end.room, end.wanted, *offcuts):
            yield length if side == "left" else m - length
    for length, keeps, _, key in situation.pool:
        if key or keeps == "none":
            continue
        if keeps != "left":
            yield length
        if keeps != "right":
            yield m - length
