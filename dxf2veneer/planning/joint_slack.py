"""Joint slack: how far the joints of a run may move between those of the course below.

under      |           |           |           joints stand the stagger apart from each of these,
run     |------ t ------|----- panel -----|    so that t has a few free stretches, or none
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Literal

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.model import Side
from dxf2veneer.planning.lookahead import longest_alone
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Joint = Literal["left", "right", "one", "row", "mitre"]
"""A corner piece's joint at either end, the one joint of a short run, those of its row of panels,
or that of a mitred piece opposite a corner piece."""
_ANY: Mapping[Side, float] = MappingProxyType({})
_HAIR_IN = 2.0 * EXACT_IN
"""Stretches end this far beyond the outermost places of a joint, so that they take those too."""
Stretch = tuple[float, float]


def joint_slacks(
    run: Run,
    under: Sequence[float],
    sizes: LayingSizes,
    before: Sequence[tuple[Side, float]] = (),
    rooms: Mapping[Side, float] = _ANY,
) -> Iterator[tuple[Joint, float]]:
    """The longest free stretch for each kind of joint of a run.

    Kinds of joints are looked at apart, so that there may be less slack than that.

    Args:
        run: The run to be laid.
        under: The x of joints in the course below.
        sizes: Lengths and limits, in inches.
        before: (side, length) of the corner piece before at each of the run's edges, which the next
            one has to differ from.
        rooms: The longest piece that there may be at a bay's mitre, by side.

    Yields:
        The kind of joint and its slack in inches; negative where it finds no place.
    """
    m = run.length
    if m <= longest_alone(run, sizes, rooms) + EXACT_IN:
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
    if corners and rooms:
        yield "mitre", _mitre_room(run, under, sizes, rooms)
    if m - len(corners) * most <= sizes.panel and (corners or not rooms):
        return
    if not corners and m < sizes.panel + 2.0 * sizes.least:
        low = max(sizes.least, m - rooms.get("right", sizes.panel))
        reach = (low, min(rooms.get("left", sizes.panel), m - sizes.least))
        yield "one", _longest_gap(reach, [_around(x - run.x0, sizes.stagger) for x in under])
    else:
        yield "row", _row_room(run, under, sizes, rooms)


def _mitre_room(
    run: Run, under: Sequence[float], sizes: LayingSizes, rooms: Mapping[Side, float]
) -> float:
    """The longest free stretch for the joint of a mitred piece whose run ends in a corner piece."""
    ((side, room),) = rooms.items()
    taken = [_around(x - run.x0 if side == "left" else run.x1 - x, sizes.stagger) for x in under]
    return _longest_gap((sizes.least, min(room, run.length - sizes.least)), taken)


def _row_room(
    run: Run, under: Sequence[float], sizes: LayingSizes, rooms: Mapping[Side, float]
) -> float:
    """The longest free stretch for the first joint of a row of whole panels that begins at a plain
    end, or anywhere beside a corner piece."""
    panel, least, m = sizes.panel, sizes.least, run.length
    low = (2.0 * least if run.left == "corner" else least) - _HAIR_IN
    high = m - (2.0 * least if run.right == "corner" else least) + _HAIR_IN
    near = [_around(x - run.x0, sizes.stagger) for x in under]
    taken = [(max(a, low), min(b, high)) for a, b in near if a < high and b > low]
    if run.right != "corner":
        taken.append((m - least, m))
    if "right" in rooms:
        taken.append((m - panel + _HAIR_IN, m - rooms["right"] - _HAIR_IN))
    first = (0.0 if run.left == "corner" else least, rooms.get("left", panel))
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
