"""A mitred piece at a bay, out of the panel that the other side comes from too (rule L13).

What is left of the panel of the side that is laid first is kept for the other side, under the key
of their corner. A piece between two mitres takes its own out of the middle.
"""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.planning.bays import BayEnd
from dxf2veneer.planning.offcuts import Got, Hand, Offcut, get_part
from dxf2veneer.planning.sizes import LayingSizes


def get_mitred(
    length: float,
    behind: float,
    hand: Hand,
    ends: Sequence[BayEnd],
    pool: tuple[Offcut, ...],
    opened: int,
    sizes: LayingSizes,
    demand: float,
) -> tuple[Got, int, bool]:
    """A mitred piece out of the panel that its other sides come from.

    Args:
        length: Length of the piece's face in inches.
        behind: What its mitres take of the panel behind that.
        hand: The end of the panel that it keeps.
        ends: Its ends at mitres, from the left.
        pool: Offcuts at hand, the one cut last at the end.
        opened: The number that a new panel would get.
        sizes: Lengths and limits, in inches.
        demand: How sure offcuts are to be wanted, from 0 to 1.

    Returns:
        The piece; how many of its mitres can't have both sides from one panel any more, of those
        that could; and whether it is longer than leaves the other side its room.
    """
    laid = [end for end in ends if end.is_second and _is_at_hand(pool, end)]
    coming = [end for end in ends if not end.is_second]
    keep = coming[0].key if coming else ""
    key = laid[0].key if laid else keep  # its panel has to serve the other side: nothing loose
    got = get_part(length + behind, hand, pool, opened, sizes, demand, key, keep)
    served = laid[:1] if not got.is_new else []
    if laid and got.is_new and not keep:
        got = get_part(length + behind, hand, pool, opened, sizes, demand)
    if not laid and len(coming) == 2:
        got = got._replace(pool=_shared_out(got.pool, coming, sizes))
    missed = sum(end.is_sure and end not in served for end in laid)
    missed += sum(end.is_sure and not _is_at_hand(got.pool, end) for end in coming)
    tight = len(ends) == 1 and bool(coming) and length > coming[0].room + EXACT_IN
    return got, missed, tight


def _is_at_hand(pool: Sequence[Offcut], end: BayEnd) -> bool:
    """Whether an offcut is kept for that mitre."""
    return any(o.key == end.key for o in pool)


def _shared_out(
    pool: tuple[Offcut, ...], coming: Sequence[BayEnd], sizes: LayingSizes
) -> tuple[Offcut, ...]:
    """The pool with what is left of a panel round a piece between two mitres kept for both."""
    share = sizes.panel - sizes.kerf - coming[0].room
    rest = next((o for o in pool[-1:] if o.key == coming[0].key), None)
    if rest is None or rest.length - sizes.kerf - share < sizes.least - EXACT_IN:
        return pool
    left = Offcut(share, "left", rest.unit, coming[0].key)
    right = Offcut(rest.length - sizes.kerf - share, "right", rest.unit, coming[1].key)
    return (*pool[:-1], left, right)
