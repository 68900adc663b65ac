"""Parts of given lengths, cut from as few panels as can be found: a cutting-stock problem.

A saw cut, one kerf wide, lies between neighboring parts of a panel.

    |<------------------- panel ------------------>|
    | left part |k| any part |k| any |k| right part|      left, right: they keep the panel's ends

Parts are grouped by length and hand, and all sums are whole numbers of a fine grid, so that equal
lengths are equal and the same parts always give the same panels. Left parts are matched with right
ones (a greatest bipartite matching) and the gaps filled; panels are made one by one, the fullest
around the longest part (greedy). Where neither meets the proven lower bound, panels are made anew
with corrected values of the parts, and then a branch and bound search goes over the patterns of
one panel after another; both have a limit on their steps, never on the clock.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.tolerances import HAND_BOUND_SIZES, PACKING_STEPS, SAW_FIT_IN, SAW_TICK_IN
from dxf2veneer.planning.cutting_stock.patterns import (
    ANY,
    LEFT,
    RIGHT,
    CuttingProblem,
    Demand,
    PartGroup,
    Pattern,
    branch_and_bound,
    fullest_first,
    value_corrected,
)

Hand = Literal["left", "right", "any"]
PackedPanel = tuple[int, ...]

_BITS = {"left": LEFT, "right": RIGHT, "any": ANY}


@dataclass(frozen=True)
class CutPart:
    """A part to cut: its length in inches and the end of the panel that it keeps.

    ``left`` and ``right`` keep the panel's left or right end, ``any`` needs neither. ``free`` is
    whether its length was free to choose, so that it has to differ from the panel's other part
    where that is asked for; a part that spans its whole run is not free.
    """

    length: float
    hand: Hand = "any"
    free: bool = True


def pack(
    parts: Sequence[CutPart],
    length: float,
    kerf: float,
    *,
    apart: float = 0.0,
    effort: int = PACKING_STEPS,
) -> tuple[PackedPanel, ...]:
    """Pack parts into panels, as few as can be found.

    Every part is in one panel. A panel has at most one left part (its first) and at most one right
    part (its last); its parts and a kerf between neighbors are no longer than it. Where all parts
    are left or right ones the number is the least there is.

    Args:
        parts: The parts.
        length: Length of a panel, in inches.
        kerf: Width of a saw cut, in inches.
        apart: Least difference of a panel's left and right part, unless one of them is not free.
        effort: Limit on the steps of the searches for fewer panels; 0 leaves them out.

    Returns:
        Panels as tuples of positions in ``parts``, each from left to right.

    Raises:
        ValueError: A part is longer than a panel.
    """
    groups, members = _grouped(parts, length, kerf)
    problem = CuttingProblem(
        groups,
        math.floor((length + kerf + SAW_FIT_IN) / SAW_TICK_IN),
        math.floor((apart - SAW_FIT_IN) / SAW_TICK_IN),
    )
    counts = [len(m) for m in members]
    best = _matched_first(problem, counts)
    bound = lower_bound(parts, length, kerf)
    if len(best) > bound and any(g.hand == ANY for g in groups):
        best = min(
            best,
            fullest_first(problem, counts),
            fullest_first(problem, counts, handed=True),
            key=len,
        )
        best = value_corrected(problem, counts, best, bound, effort // 3)
        best = branch_and_bound(problem, counts, best, bound, effort - effort // 3)
    left = [deque(m) for m in members]
    panels = [tuple(left[g].popleft() for g in problem.in_order(pattern)) for pattern in best]
    return tuple(sorted(panels, key=min))


def _grouped(
    parts: Sequence[CutPart], length: float, kerf: float
) -> tuple[list[PartGroup], list[list[int]]]:
    """The groups, the longest first, and the positions of each one's parts."""
    found: dict[PartGroup, list[int]] = {}
    for i, part in enumerate(parts):
        if part.length > length + SAW_FIT_IN:
            raise ValueError(f"a part of {part.length} in is longer than the panel of {length} in")
        # rounded up, but for noise far below a tick, so that what fits in ticks fits in inches
        group = PartGroup(
            math.ceil((part.length + kerf) / SAW_TICK_IN - 1 / 64), _BITS[part.hand], part.free
        )
        found.setdefault(group, []).append(i)
    groups = sorted(found, reverse=True)
    return groups, [found[g] for g in groups]


# --------------------------------------------- left matched with right


def _matched_first(problem: CuttingProblem, counts: Sequence[int]) -> list[Pattern]:
    """Left and right parts in the fewest panels, then the others in their gaps, the smallest first.

    What finds no gap gets panels of its own.
    """
    panels = sorted(_matched(problem, counts), key=lambda f: (problem.left_over(f), f))
    demand, sizes = (
        Demand.of(problem, counts, hands=(ANY,)),
        [float(g.size) for g in problem.groups],
    )
    for i, panel in enumerate(panels):
        if not demand.live:
            break
        panels[i] = demand.richest(panel, sizes, problem.capacity)[0]
        demand.take(panels[i][len(panel) :])
    rest = [n if g.hand == ANY else 0 for n, g in zip(demand.counts, problem.groups, strict=True)]
    return panels + fullest_first(problem, rest)


def _matched(problem: CuttingProblem, counts: Sequence[int]) -> list[Pattern]:
    """Left and right parts in the fewest panels.

    The longest left part fits with the fewest right ones, and whatever fits with it fits with every
    shorter one. So, taken from the longest down, each may have any right part that fits (here the
    longest), and the pairs are the most there can be. A least difference breaks that order; then
    ``_rematch`` completes the matching along augmenting paths.
    """
    lefts, rights = (
        [g for g, n in enumerate(counts) for _ in range(n) if problem.groups[g].hand == h]
        for h in (LEFT, RIGHT)
    )
    mate: dict[int, int] = {}  # position in rights -> position in lefts
    free = list(range(len(rights)))
    keys = [-problem.groups[g].size for g in rights]
    alone = []
    for i, g in enumerate(lefts):
        start = bisect_left(keys, problem.groups[g].size - problem.capacity)
        at = next(
            (
                k
                for k in range(start, len(free))
                if problem.agree(problem.groups[g], problem.groups[rights[free[k]]])
            ),
            None,
        )
        if at is None:
            alone.append(i)
        else:
            mate[free.pop(at)] = i
            del keys[at]
    if problem.apart > 0:
        alone = _rematch(problem, lefts, rights, mate, alone)
    panels: list[Pattern] = [(lefts[i], rights[j]) for j, i in mate.items()]
    panels += [(lefts[i],) for i in alone]
    return panels + [(rights[j],) for j in range(len(rights)) if j not in mate]


def _rematch(
    problem: CuttingProblem,
    lefts: list[int],
    rights: list[int],
    mate: dict[int, int],
    alone: list[int],
) -> list[int]:
    """Complete ``mate`` to a greatest matching; the left parts that stay alone.

    Right parts reached in vain from one left part can be left out for the next ones: no augmenting
    path runs through them any more.
    """
    open_ = set(range(len(rights)))
    still = []
    for i in alone:
        came: dict[int, int] = {}
        queue, end = deque([i]), None
        while queue and end is None:
            at = queue.popleft()
            for j in sorted(
                j
                for j in open_
                if j not in came
                and problem.agree(problem.groups[lefts[at]], problem.groups[rights[j]])
            ):
                came[j] = at
                if j not in mate:
                    end = j
                    break
                queue.append(mate[j])
        if end is None:
            still.append(i)
            open_ -= set(came)
            continue
        owner = {left: right for right, left in mate.items()}
        while end is not None:
            mate[end] = came[end]
            end = owner.get(came[end])
    return still


# ------------------------------------------------------------ lower bound


def lower_bound(parts: Sequence[CutPart], length: float, kerf: float) -> int:
    """A number of panels that no way of cutting the parts can do without.

    It is the greatest of three bounds:

    - by length: each part takes its length and one kerf out of (panel length + one kerf), because a
      panel of n parts holds n - 1 kerfs;
    - by hands, for any size a: a panel has one left end and one right end, so left and right parts
      of a or more need at least their number less the most pairs of them that fit in a panel; and
      parts of no hand that leave less than a, and are longer than half a panel, need panels of
      their own beside those;
    - by large parts (Martello and Toth's bound L2 for bin packing): for any size a up to half a
      panel, parts longer than (panel - a) share with no part of a or more, those longer than half a
      panel not with each other, and parts from a to half a panel that find no room beside them need
      panels of their own.

    Args:
        parts: The parts.
        length: Length of a panel, in inches.
        kerf: Width of a saw cut, in inches.

    Returns:
        The number of panels.
    """
    capacity = math.floor((length + kerf + SAW_FIT_IN) / SAW_TICK_IN) + 1
    by_hand: dict[str, list[int]] = {"left": [], "right": [], "any": []}
    for part in parts:
        by_hand[part.hand].append(math.floor((part.length + kerf) / SAW_TICK_IN))
    for row in by_hand.values():
        row.sort(reverse=True)
    sizes = sorted(itertools.chain(*by_hand.values()), reverse=True)
    by_length = -(-sum(sizes) // capacity)
    return max(
        by_length,
        _by_hands(by_hand["left"], by_hand["right"], by_hand["any"], capacity),
        _by_large_parts(sizes, capacity),
    )


def _by_hands(
    left: Sequence[int], right: Sequence[int], others: Sequence[int], capacity: int
) -> int:
    """The bound by hands, at sizes spread over those of left and right parts."""
    steps = sorted({*left, *right})
    best = len([size for size in others if 2 * size > capacity])
    for a in steps[:: 1 + len(steps) // HAND_BOUND_SIZES]:
        ones, twos = (row[: bisect_right(row, -a, key=int.__neg__)] for row in (left, right))
        alone = bisect_left(
            others, -max(capacity - a, capacity // 2), key=int.__neg__
        )  # greater than both
        best = max(best, len(ones) + len(twos) - _most_pairs(ones, twos, capacity) + alone)
    return best


def _most_pairs(left: Sequence[int], right: Sequence[int], capacity: int) -> int:
    """Most pairs of a left and a right size within a panel; both from the greatest down.

    The greatest left size takes the least right one: it fits with the fewest, so any that fits will
    do.
    """
    pairs, j = 0, len(right) - 1
    for size in left:
        if j >= 0 and size + right[j] <= capacity:
            pairs, j = pairs + 1, j - 1
    return pairs


def _by_large_parts(sizes: Sequence[int], capacity: int) -> int:
    """The bound L2 of sizes from the greatest down."""
    sums = [0, *itertools.accumulate(sizes)]
    half = bisect_left(
        sizes, -(capacity // 2), key=int.__neg__
    )  # those before it are greater than half a panel
    best = half
    for a in sorted({*sizes[half:]}):
        alone = min(
            half, bisect_left(sizes, a - capacity, key=int.__neg__)
        )  # greater than capacity - a
        end = bisect_right(sizes, -a, key=int.__neg__)
        room = (half - alone) * capacity - (sums[half] - sums[alone])
        best = max(best, half + max(0, -((room - (sums[end] - sums[half])) // capacity)))
    return best
