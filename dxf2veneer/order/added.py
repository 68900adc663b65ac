"""What the job adds to the counts or takes off them, each with its reason.

A wall by its area takes panels, fasteners and barrier as a drawn one does by area; where panels are
counted piece by piece, what course plans of such walls took comes on top.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.additions import Addition
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import OfArea
from dxf2veneer.order.arithmetic import Count, CountMethod, Mode, count
from dxf2veneer.order.experience import EXPERIENCE
from dxf2veneer.order.lines import mode_of, unit_of
from dxf2veneer.order.panels import fasteners_of
from dxf2veneer.order.prices import Prices
from dxf2veneer.order.sheets import barrier_of

_BY_AREA = ("wrb", "caulk")
"""Items that are counted by area or run alone."""


class _More(NamedTuple):
    """So much more of an item, by the way of counting."""

    item: str
    layout: float
    area: float
    reason: str
    is_wall: bool = False
    """Whether a wall by its area needs it."""

    def of(self, mode: Mode) -> float:
        return self.layout if mode == "layout" else self.area


def with_additions(
    counts: Sequence[Count], job: Job, product: Product, prices: Prices
) -> list[Count]:
    """The counts with what the job adds or takes off.

    Args:
        counts: The items as counted.
        job: The job, with its additions.
        product: The panel line.
        prices: The prices, which may sell the barrier in rolls of another size.

    Returns:
        The counts; an item that was not counted stands at its place in the list of items.

    Raises:
        SettingsError: More is taken off an item than the way of counting that is used has. The
            other way stops at none.
    """
    more = [m for one in job.order.additions for m in _more(one, product, prices)]
    there = {c.item.key for c in counts}
    found = [*counts, *(_none_of(key) for key in ITEMS if key in {m.item for m in more} - there)]
    places = list(ITEMS)
    made = [_added(c, [m for m in more if m.item == c.item.key], job, product) for c in found]
    return sorted(made, key=lambda c: places.index(c.item.key)) if more else list(counts)


def _none_of(key: str) -> Count:
    modes: tuple[Mode, ...] = ("area",) if key in _BY_AREA else ("layout", "area")
    return count(key, *(CountMethod(mode, 0.0, message("none-counted")) for mode in modes))


def _more(one: Addition, product: Product, prices: Prices) -> Iterator[_More]:
    if one.item:
        quantity = one.quantity / unit_of(ITEMS[one.item], product)[1]
        yield _More(one.item, quantity, quantity, one.reason)
        return
    pieces = one.corners / product.panel.height
    area = one.area * SQUARE_INCHES_PER_SQUARE_FOOT
    covered = min(area, pieces * product.corner.length / 2.0 * product.panel.height)
    flat = (area - covered) / product.coverage_area
    rate = EXPERIENCE["corners" if pieces else "plain"].panels
    yield _More("flat_panel", flat * rate, flat, one.reason, is_wall=True)
    if pieces:
        yield _More("corner_panel", pieces / 2.0 * rate, pieces / 2.0, one.reason, is_wall=True)
    fasteners = fasteners_of(flat, pieces, product)
    yield _More("panel_fastener", fasteners, fasteners, one.reason, is_wall=True)
    barrier = barrier_of(area, one.corners, product, prices)
    yield _More("wrb", barrier, barrier, one.reason, is_wall=True)


def _added(counted: Count, more: Sequence[_More], job: Job, product: Product) -> Count:
    if not more:
        return counted
    methods, told_in, counts = [], unit_of(counted.item, product)[1], mode_of(counted, job)
    for m in counted.methods:
        added = counted.share * sum(one.of(m.mode) for one in more)
        if m.measured + added < 0.0 and m.mode != counts:
            added = -m.measured
        if m.measured + added < 0.0:
            raise SettingsError(
                message(
                    "taken-off-too-much",
                    place=job.origin_of("order.additions").place(folders=True),
                    item=counted.key,
                    measured=m.measured * told_in,
                    off=-added * told_in,
                )
            )
        told: tuple[Message, ...] = tuple(
            message(
                "added",
                quantity=abs(counted.share * one.of(m.mode) * told_in),
                is_more=one.of(m.mode) >= 0.0,
                reason=one.reason,
                unit="",
            )
            for one in more
        )
        why = message("with-added", why=m.why, added=told)
        walls = tuple(
            OfArea(one.reason, counted.share * one.of(m.mode)) for one in more if one.is_wall
        )
        measured = m.measured + added
        methods.append(m._replace(measured=measured, added=added, by_area=walls, why=why))
    return counted._replace(methods=tuple(methods))
