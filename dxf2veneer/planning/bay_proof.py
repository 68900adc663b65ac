"""The fewest corners of a bay that any layout of a course leaves with their sides from two panels.

Rule L13 wants both sides of a mitred corner from one panel. The joints of the course below are
given, and those of this course keep the stagger from them (L3), pieces their least length (L4), and
inside a run factory end meets factory end (L9). Then each face between two mitres has few layouts:
its first piece places all its joints, or it is one piece.

**Exhaustive look.** The faces of a course stand in a row. Going along it, all that matters of what
stands to the left of a corner is how many corners were parted so far, and how much of its panel is
taken: the less of either, the more can follow, because whatever fits beside a longer piece fits
beside a shorter one. So for each number of parted corners the least that can be taken is kept, and
at the end the fewest is the answer (dynamic programming). The lengths that a first piece may have
are whole stretches, so that "the least" is exact. What the other ends of the row do (corner pieces,
cuts that vary) is left out, which only lets more layouts in: the number is never above the true
one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Stretch = tuple[float, float]


def fewest_parted(
    chain: Sequence[Run], under: Sequence[Sequence[float]], sizes: LayingSizes
) -> int:
    """The fewest corners of a row of runs whose two sides can't come from one panel.

    Args:
        chain: Runs that meet one after another at mitred corners, from left to right.
        under: For each the x of the joints in the course below.
        sizes: Lengths and limits, in inches.

    Returns:
        A number that no layout of these runs over those joints is below.
    """
    first = chain[0]
    alone = first.length if first.left != "corner" and first.length <= sizes.panel else math.inf
    taken = {0: min(alone, _least_right(first, sizes.panel, under[0], sizes))}
    for i, run in enumerate(chain[1:], 1):
        after: dict[int, float] = {}
        for parted, used in taken.items():
            room = sizes.panel - sizes.kerf - used
            for count, free, before in (
                (parted, room, used + sizes.kerf),
                (parted + 1, sizes.panel, 0.0),
            ):
                if free < sizes.least - EXACT_IN:
                    continue
                least = (
                    _least_last(run, free, under[i], sizes)
                    if i == len(chain) - 1
                    else _least_between(run, free, before, under[i], sizes)
                )
                if count > parted and math.isinf(least):
                    least = sizes.least  # no layout keeps the stagger: nothing is said of it here
                if least < after.get(count, math.inf):
                    after[count] = least
        taken = after
    return min(taken)


def _least_between(
    run: Run, room: float, before: float, under: Sequence[float], sizes: LayingSizes
) -> float:
    """The least of a panel that is taken at the right end of a face between two mitres.

    ``room`` is the longest first piece, ``before`` what else of that panel is taken already.
    """
    rows = _least_right(run, room, under, sizes)
    alone = before + run.length if run.length <= sizes.panel + EXACT_IN else math.inf
    return min(rows, alone) if run.length <= room + EXACT_IN else rows


def _least_right(run: Run, room: float, under: Sequence[float], sizes: LayingSizes) -> float:
    """The least length of the last piece where the first is no longer than ``room``."""
    if run.left == "corner":
        free = _free(run, _mirrored(run, under), 0, (sizes.least, run.length - sizes.least), sizes)
        return min((low for low, _ in free), default=math.inf)
    least = math.inf
    for whole, rest in _wholes(run, sizes):
        reach = (max(sizes.least, rest - sizes.panel), min(room, rest - sizes.least))
        for _, high in _free(run, [x - run.x0 for x in under], whole, reach, sizes):
            least = min(least, rest - high)
    return least


def _least_last(run: Run, room: float, under: Sequence[float], sizes: LayingSizes) -> float:
    """The least length of the first piece of the last run, infinite where none fits the room."""
    at = [x - run.x0 for x in under]
    found = [run.length] if run.right != "corner" and run.length <= sizes.panel + EXACT_IN else []
    if run.right == "corner":
        found += [
            low for low, _ in _free(run, at, 0, (sizes.least, run.length - sizes.least), sizes)
        ]
    else:
        for whole, rest in _wholes(run, sizes):
            reach = (max(sizes.least, rest - sizes.panel), min(sizes.panel, rest - sizes.least))
            found += [low for low, _ in _free(run, at, whole, reach, sizes)]
    least = min(found, default=math.inf)
    return least if least <= room + EXACT_IN else math.inf


def _mirrored(run: Run, under: Sequence[float]) -> list[float]:
    return [run.x1 - x for x in under]


def _wholes(run: Run, sizes: LayingSizes) -> Iterator[tuple[int, float]]:
    """How many whole panels may stand in a row, and what the first and the last piece share."""
    for whole in range(int(run.length / sizes.panel + EXACT_IN) + 1):
        rest = run.length - whole * sizes.panel
        if 2.0 * sizes.least - EXACT_IN <= rest <= 2.0 * sizes.panel + EXACT_IN:
            yield whole, rest


def _free(
    run: Run, under: Sequence[float], whole: int, reach: Stretch, sizes: LayingSizes
) -> Iterator[Stretch]:
    """Lengths of a first piece within reach whose joints keep the stagger from those below.

    ``under`` counts from the end at which the piece stands.
    """
    low, high = reach
    taken = sorted(
        (x - j * sizes.panel - sizes.stagger + EXACT_IN, x - j * sizes.panel + sizes.stagger)
        for x in under
        for j in range(whole + 1)
    )
    at = low
    for begin, end in taken:
        if begin > high:
            break
        if begin >= at - EXACT_IN:
            yield at, max(at, min(begin, high))
        at = max(at, end - EXACT_IN)
    if at <= high + EXACT_IN:
        yield min(at, high), high
