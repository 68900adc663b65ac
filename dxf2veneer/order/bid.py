"""The bid: materials, labor, and the user's percentages one after the other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal

from dxf2veneer.config.bidding import Percentage
from dxf2veneer.model import BidLine, BidSum, LabourLine, OrderLine
from dxf2veneer.order.arithmetic import cents, exact


def bid_sum(
    lines: Sequence[OrderLine], labour: Sequence[LabourLine], percentages: Sequence[Percentage]
) -> BidSum:
    """The bid.

    Args:
        lines: The order's lines.
        labour: The lines of labor.
        percentages: The user's percentages, in order.

    Returns:
        Its lines; amounts are None from the first one that rests on a missing price or wage.
    """
    ours = [line for line in lines if not line.by_others]
    materials = total(line.chosen.cost for line in ours)
    work = total(line.cost for line in labour)
    direct = total((materials, work))
    listed = [
        BidLine("materials", "", None, None, None, materials, materials),
        BidLine("labour", "", None, None, None, work, direct),
    ]
    for share in percentages:
        running = listed[-1].running
        bases = {"running": running, "direct": direct, "materials": materials, "labour": work}
        base, percent = bases[share.on], exact(share.percent)
        amount = None if base is None else cents(base * percent / 100)
        after = total((running, amount))
        listed.append(BidLine("percentage", share.name, percent, share.on, base, amount, after))
    missing = [line.key for line in ours if line.chosen.cost is None]
    missing += ["labour"] if work is None else []
    priced = sum((line.chosen.cost for line in ours if line.chosen.cost is not None), Decimal(0))
    return BidSum(tuple(listed), priced, tuple(missing))


def total(amounts: Iterable[Decimal | None]) -> Decimal | None:
    """A sum of amounts.

    Args:
        amounts: Money; None where an amount is not known.

    Returns:
        The sum, or None where one of the amounts is missing.
    """
    summed = Decimal(0)
    for amount in amounts:
        if amount is None:
            return None
        summed += amount
    return summed
