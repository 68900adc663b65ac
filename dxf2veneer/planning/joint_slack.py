"""Joint slack: how far the joints of a run may move between those of the course below.

under      |           |           |           joints stand the stagger apart from each of these,
run     |------ t ------|----- panel -----|    so that t has a few free stretches, or none
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.model import Side
from dxf2veneer.planning.lookahead import longest_alone
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Joint = Literal["left", "right", "one", "row"]
"""A corner piece's joint at either end, the one joint of a short run, or those of its row of
panels."""
_HAIR_IN = 2.0 * EXACT_IN
"""Stretches end this far beyond the outermost places of a joint, so that they take those too."""
Stretch = tuple[float, float]


def joint_slacks(
    run: Run, under: Sequence[float], sizes: LayingSizes, before: Sequence[tuple[Side, float]] = ()
) -> Iterator[tuple[Joint, float]]:
    """The longest free stretch for each kind of joint of a run.

    Kinds of joints are looked at apart, so that there may be less slack than that.

    Args:
        run: The run to be laid.
        under: The x of joints in the course below.
        sizes: Lengths and limits, in inches.
        before: (side, length) of the corner piece before at each of the run's edges, which the next
            one has to differ from.

    Yields:
        The kind of joint and its slack in inches; negative where it finds no place.
    """
    m = run.length
    if m <= longest_alone(run, sizes) + EXACT_IN:
        return
    most = min(sizes.longest_corner, m - sizes.least)
    corners: tuple[Side, ...] = tuple(
        side for side in ("left", "right") if run.end(side) == "corner"
    )
    for side in corners:
        taken = [
            _around(x - run.x0 if side == "left" else run.x1 - x, sizes.stagger) for x in under
        ]
        taken += [_around(length, sizes.vary) for own, length in before if own == side]
        yield side, _longest_gap((sizes.least, most), taken)
    if m - len(corners) * most <= sizes.panel:
        return
    if not corners and m < sizes.panel + 2.0 * sizes.least:
        reach = (max(sizes.least, m - sizes.panel), min(sizes.panel, m - sizes.least))
        yield "one", _longest_gap(reach, [_around(x - run.x0, sizes.stagger) for x in under])
    else:
        yield "row", _row_room(run, under, sizes)


def _row_room(run: Run, under: Sequence[float], sizes: LayingSizes) -> float:
    """The longest free stretch for the first joint of a row of whole panels that begins at a plain
    end, or anywhere beside a corner piece."""
    panel, least, m = sizes.panel, sizes.least, run.length
    low = (2.0 * least if run.left == "corner" else least) - _HAIR_IN
    high = m - (2.0 * least if run.right == "corner" else least) + _HAIR_IN
    near = [_around(x - run.x0, sizes.stagger) for x in under]
    taken = [(max(a, low), min(b, high)) for a, b in near if a < high and b > low]
    if run.right != "corner":
        taken.append((m - least, m))
    first = (0.0 if run.left == "corner" else least, panel)
    return _longest_gap(
        first, [(a - i * panel, b - i * panel) for a, b in taken for i in _rows(b, panel)]
    )


def _rows(x: float, panel: float) -> tuple[int, ...]:
    """By how many panels a place is moved to the first joint.

    What lies across the end of a panel counts twice.
    """
    whole = math.floor(x / panel)
    return whole - 1, whole


def _around(x: float, reach: float) -> Stretch:
    return x - reach, x + reach


def _longest_gap(whole: Stretch, taken: Iterable[Stretch]) -> float:
    """The longest part of ``whole`` that no open stretch takes; negative where none is left."""
    at, end = whole
    longest = -1.0
    for low, high in sorted(taken):
        if low > end:
            break
        if low >= at - EXACT_IN:
            longest = max(longest, low - at, 0.0)
        at = max(at, high)
    return max(longest, end - at, 0.0) if end >= at - EXACT_IN else longest
