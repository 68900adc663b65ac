"""The bid: materials, labor, the user's lines one after the other, the least price, rounding."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import QUOTIENT_PLACES
from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config.bidding import Bid, Labour
from dxf2veneer.config.charges import Charge, margins_from
from dxf2veneer.config.tasks import in_rate_unit
from dxf2veneer.model import BidLine, BidSum, LabourLine, OrderLine
from dxf2veneer.model.order import pallets_of, weight_of
from dxf2veneer.order.arithmetic import cents, exact, tidy


def bid_sum(
    lines: Sequence[OrderLine],
    labour: Sequence[LabourLine],
    bid: Bid,
    counts: Mapping[str, Decimal | None],
    is_metric: bool = False,
) -> BidSum:
    """The bid.

    Args:
        lines: The order's lines.
        labour: The lines of labor.
        bid: The user's lines, the least price and how it is rounded.
        counts: What rates go by, as ``counts_of`` gives it.
        is_metric: Whether rates go by square meters and meters.

    Returns:
        Its lines; amounts are None from the first one that rests on a missing price or wage. Work
        without a rate is left out and named.
    """
    ours = [line for line in lines if not line.by_others]
    materials = total(line.chosen.cost for line in ours)
    work = total(line.cost for line in labour if not line.is_open)
    by_items, by_hours = message("bid-by-items"), message("bid-by-hours")
    listed = [
        BidLine("materials", "", "materials", by_items, materials, materials),
        BidLine("labour", "", "labour", by_hours, work, total((materials, work))),
    ]
    for number, charge in enumerate(bid.lines):
        listed.append(_charged(charge, listed, margins_from(bid.lines, number), counts, is_metric))
    listed += _least(bid, listed[-1].running)
    listed += _rounded(bid, listed[-1].running)
    missing = [line.key for line in ours if line.chosen.cost is None]
    missing += ["labour"] if work is None else []
    weightless = any(c.per is not None and counts[c.per] is None for c in bid.lines)
    missing += ["weight"] if weightless else []
    priced = sum((line.chosen.cost for line in ours if line.chosen.cost is not None), Decimal(0))
    unrated = tuple(line.what for line in labour if line.is_open)
    return BidSum(tuple(listed), priced, tuple(missing), unrated)


def counts_of(
    measured: Mapping[str, float],
    lines: Sequence[OrderLine],
    labour: Sequence[LabourLine],
    work: Labour,
) -> dict[str, Decimal | None]:
    """What rates of the bid go by.

    Args:
        measured: The takeoff's measures.
        lines: The order's lines.
        labour: The lines of labor.
        work: Crew and hours of a day.

    Returns:
        By the keys of measures, deliveries and work; None for weights where one is not known.
        Days are those of the crew, a begun one whole.
    """
    pounds, hours = weight_of(lines), sum((line.hours for line in labour), Decimal(0))
    weight = None if pounds is None else tidy(pounds)
    days = float(hours) / (work.crew * work.day)
    return {
        **{key: tidy(value) for key, value in measured.items()},
        "pallets": Decimal(pallets_of(lines)),
        "pounds": weight,
        "hundredweight": None if weight is None else weight / 100,
        "kilograms": None if weight is None else weight * exact(POUND_KG),
        "hours": hours,
        "days": Decimal(math.ceil(round(days, QUOTIENT_PLACES))),
    }


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


def _charged(
    charge: Charge,
    above: Sequence[BidLine],
    share: float,
    counts: Mapping[str, Decimal | None],
    is_metric: bool,
) -> BidLine:
    """A line of the user's, below those above; ``share`` is its per cent of the price and that of
    the margins right after it.

    A margin m of the price P on costs C, alone: P = C + P m / 100, so that P m / 100 = C m /
    (100 - m). Of several that stand together the first has C m / (100 - all of them) and leaves
    the others the same question with what is then above them.
    """
    of = [line for line in above if not charge.of or line.kind in charge.of]
    base, value = total(line.amount for line in of), exact(charge.value)
    quantity = None if charge.per is None else counts[charge.per]
    raw: Decimal | None = value
    if charge.how == "rate":
        raw = None if quantity is None else quantity * value
    elif charge.how == "percent":
        raw = None if base is None else base * value / 100
    elif charge.how == "margin":
        raw = None if base is None else base * value / (100 - exact(share))
    if charge.least is not None and raw is not None:
        raw = max(raw, exact(charge.least))
    if charge.below is not None:
        raw = None if base is None else raw if base < exact(charge.below) else Decimal(0)
    amount = None if raw is None else cents(raw)
    return BidLine(
        "charge",
        charge.name,
        charge.kind,
        charge.working(is_metric),
        amount,
        total((above[-1].running, amount)),
        how=charge.how,
        value=value,
        per=charge.per,
        unit=in_rate_unit(charge.per or "", is_metric)[0],
        quantity=quantity,
        of=charge.of,
        base=base if charge.how in ("percent", "margin") or charge.below is not None else None,
        share=exact(share) if charge.how == "margin" else None,
    )


def _least(bid: Bid, running: Decimal | None) -> list[BidLine]:
    """The line that lifts the price to the least; none where no least is given."""
    if bid.minimum is None:
        return []
    least = exact(bid.minimum)
    amount = None if running is None else cents(max(least - running, Decimal(0)))
    working = message("bid-by-minimum", least=bid.minimum)
    return [BidLine("minimum", "", "", working, amount, total((running, amount)), value=least)]


def _rounded(bid: Bid, running: Decimal | None) -> list[BidLine]:
    """The line that rounds the price, up where the nearest step is below the least price; none
    where no step is given."""
    if bid.round_to is None:
        return []
    step, up = exact(bid.round_to), bid.rounding == "up"
    amount = None
    if running is not None:
        nearest = (running / step).quantize(Decimal(1), ROUND_HALF_UP) * step
        up = up or (bid.minimum is not None and nearest < exact(bid.minimum))
        above = (running / step).quantize(Decimal(1), ROUND_CEILING) * step
        amount = cents((above if up else nearest) - running)
    working = message("bid-by-rounding", step=bid.round_to, up=up)
    return [BidLine("rounding", "", "", working, amount, total((running, amount)), value=step)]
