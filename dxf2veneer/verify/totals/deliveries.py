"""Deliveries against the order that they are parts of."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.model import Order
from dxf2veneer.verify.totals.comparing import compare


def check_deliveries(order: Order) -> Iterator[Notice]:
    """Deliveries together are the order, and pallets hold what comes on them.

    Args:
        order: An order.

    Yields:
        What does not agree.
    """
    by_order = message("by-the-order")
    for line in (one for one in order.lines if not one.by_others):
        parts = [i for d in order.deliveries for i in d.items if i.key == line.key]
        what = message("delivered-of-item", item=line.key)
        came = sum(part.packages for part in parts)
        yield from compare(what, came, line.chosen.packages, by_order)
        if line.per_pallet:
            held = sum(p.pallets * p.packages for part in parts for p in part.pallets)
            yield from compare(what, held, came, message("by-its-pallets"))
        paid = math.fsum(float(part.cost or 0) for part in parts)
        what = message("cost-of-deliveries", item=line.key)
        yield from compare(what, paid, float(line.chosen.cost or 0), by_order)
