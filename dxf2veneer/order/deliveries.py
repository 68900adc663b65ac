"""The order parted into deliveries, one for each phase of the job.

Each phase gets the packages that it needs beyond those that came before and are not used up, so
that all of them together are the order's: for phase k

    packages = up(needed * shares of phases 1 to k) - packages of phases 1 to k - 1

A phase's share of an item is its walls' part of what the item was counted from. Of panels counted
piece by piece, phases 1 to k need each panel that any of their pieces is cut from, whichever wall
it is first cut for: offcuts of a later phase are not there yet. Walls known by their area alone are
of no phase, and come first.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Sequence
from decimal import Decimal

from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    Delivered,
    Delivery,
    OrderLine,
    Pallet,
    Part,
    StockUnit,
    Wall,
)
from dxf2veneer.order.arithmetic import cents, packages_of

_KINDS = {"flat_panel": "flat", "corner_panel": "corner"}
"""What panels are called in a course plan."""


def deliveries(
    lines: Sequence[OrderLine],
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    parts: Sequence[Part] = (),
) -> tuple[Delivery, ...]:
    """What is delivered for each phase.

    Args:
        lines: The order's lines; what others supply is left out.
        walls: The walls.
        corners: The corners, which go with the wall that is named first.
        plan: The course plan, where there is one: which pieces are cut from one panel.
        job: The phases of walls, walls by their area, and what a truck takes.
        product: The panel line, for the unit of the truck's payload.
        parts: The walls of each product with its plan, where the job has several.

    Returns:
        The deliveries in the order in which the job file names the phases, walls of none and
        those known by their area first.
    """
    phase_of = {w.id: job.walls.phase_of(w.id, w.name) for w in walls}
    named = [t.phase for t in job.walls.treatments if t.phase]
    there = {*phase_of.values(), *("" for one in job.order.additions if one.area)}
    phases = [p for p in dict.fromkeys(["", *named]) if p in there]
    at = phase_of | {o.id: phase_of[w.id] for w in walls for o in w.openings}
    at |= {c.id: phase_of[c.edges[0][0]] for c in corners if c.edges}
    ours = [line for line in lines if not line.by_others]
    parted = [
        _parted(line, phases, at, _panels(line, _plan_of(line, plan, parts))) for line in ours
    ]
    made = []
    for n, phase in enumerate(phases):
        items = tuple(each[n] for each in parted if each[n].packages)
        ids = tuple(id_ for id_, own in phase_of.items() if own == phase)
        made.append(Delivery(phase, ids, items, _loads(items, job, product)))
    return tuple(made)


def with_pallets(lines: Sequence[OrderLine], parts: Sequence[Delivery]) -> tuple[OrderLine, ...]:
    """The lines with the pallets that their deliveries begin.

    Args:
        lines: The order's lines.
        parts: Their deliveries.

    Returns:
        The lines; where an item comes in several deliveries, each begins pallets of its own.
    """
    begun = dict.fromkeys((line.key for line in lines), 0)
    for one in (item for part in parts for item in part.items):
        begun[one.key] += sum(p.pallets for p in one.pallets)
    return tuple(
        dataclasses.replace(line, parted_pallets=max(0, begun[line.key] - (line.pallets or 0)))
        for line in lines
    )


def _panels(line: OrderLine, plan: CoursePlan | None) -> list[StockUnit]:
    """The panels that a line was counted from; none where it was counted in another way."""
    if plan is None or line.mode != "layout" or line.item_key not in _KINDS:
        return []
    color = line.plain_key.partition(" ")[2]
    kind = _KINDS[line.item_key]
    return [u for u in plan.units if u.kind == kind and (not color or color_key(u.color) == color)]


def _plan_of(line: OrderLine, plan: CoursePlan | None, parts: Sequence[Part]) -> CoursePlan | None:
    """The plan that a line was counted from: that of its product."""
    return next((p.plan for p in parts if p.name == line.product), plan)


def _parted(
    line: OrderLine, phases: Sequence[str], at: dict[str, str], panels: Sequence[StockUnit]
) -> list[Delivered]:
    """A line's part in each phase."""
    chosen, needed, came, paid = line.chosen, 0.0, 0, Decimal(0)
    spans = [sorted({phases.index(at[ref.wall]) for ref in unit.parts}) for unit in panels]
    begun = [sum(span[0] == n for span in spans) for n in range(len(phases))]
    shares = [b / len(spans) for b in begun] if spans else _shares(line, phases, at)
    shares = _with_walls_by_area(shares, line)
    found = []
    for n, share in enumerate(shares):
        needed += share * chosen.needed
        is_last = n == len(shares) - 1
        packages = chosen.packages if is_last else packages_of(needed, line.per_package)
        packages, came = packages - came, packages
        cost = None if chosen.cost is None else chosen.cost - paid
        if cost is not None and not is_last:
            cost = cents(packages * chosen.cost / max(1, chosen.packages)) if chosen.cost else cost
        paid += cost or Decimal(0)
        each = line.package_weight_lb
        found.append(
            Delivered(
                line.key,
                line.item,
                line.package,
                packages,
                None if each is None else packages * each,
                cost,
                tuple(_pallets(packages, line)),
                sum(span[0] == n < span[-1] for span in spans),
            )
        )
    return found


def _shares(line: OrderLine, phases: Sequence[str], at: dict[str, str]) -> list[float]:
    """Each phase's part of what a line was counted from; all in the first where that is not
    known."""
    sources = [s for s in line.chosen.sources if s.unit == line.chosen.sources[0].unit]
    total = math.fsum(s.value for s in sources)
    if not total:
        return [1.0, *(0.0 for _ in phases[1:])]
    sums = dict.fromkeys(phases, 0.0)
    for s in sources:
        sums[at.get(s.ref, phases[0])] += s.value
    return [one / total for one in sums.values()]


def _with_walls_by_area(shares: Sequence[float], line: OrderLine) -> list[float]:
    """Each phase's part, of which walls known by their area take theirs in the first."""
    chosen = line.chosen
    by_area = math.fsum(one.value for one in chosen.by_area)
    of_walls = chosen.measured - chosen.added
    if not by_area:
        return list(shares)
    first, *later = (share * of_walls / (of_walls + by_area) for share in shares)
    return [first + by_area / (of_walls + by_area), *later]


def _pallets(packages: int, line: OrderLine) -> Iterator[Pallet]:
    """Full pallets and the one with the rest."""
    if not line.per_pallet or not packages:
        return
    each, pounds = line.per_pallet, line.package_weight_lb
    for pallets, holds in ((packages // each, each), (1, packages % each)):
        if pallets and holds:
            yield Pallet(pallets, holds, None if pounds is None else holds * pounds)


def too_heavy(
    items: Sequence[Delivered], job: Job, product: Product
) -> Iterator[tuple[Delivered, float]]:
    """Items of a delivery that no load of the truck can hold.

    Args:
        items: Items of a delivery.
        job: What a truck takes.
        product: The panel line, for the unit of the truck's payload.

    Yields:
        Each item with a pallet, or without pallets a package, above the payload, and the weight of
        that in pounds.
    """
    payload = _payload(job, product)
    for item in items:
        if item.weight_lb is None:
            continue
        weights = [p.weight_lb for p in item.pallets if p.weight_lb is not None]
        heaviest = max(weights, default=item.weight_lb / item.packages)
        if heaviest > payload:
            yield item, heaviest


def _payload(job: Job, product: Product) -> float:
    """Pounds that the truck takes; infinite where that is not given."""
    if job.delivery.payload is None:
        return math.inf
    return job.delivery.payload / (POUND_KG if product.is_metric else 1.0)


def _loads(items: Sequence[Delivered], job: Job, product: Product) -> int | None:
    """Loads of the truck: pallets, the heaviest first, each in the first load with room for it;
    what comes on none fills up what payload is left."""
    truck = job.delivery
    weights = [one.weight_lb for one in items]
    if (truck.payload is None and truck.pallets is None) or None in weights:
        return None
    places = math.inf if truck.pallets is None else truck.pallets
    payload = _payload(job, product)
    if any(True for _ in too_heavy(items, job, product)):
        return None
    heavy = sorted(
        (p.weight_lb or 0.0 for one in items for p in one.pallets for _ in range(p.pallets)),
        reverse=True,
    )
    loads: list[list[float]] = []
    for weight in heavy:
        room = (x for x in loads if len(x) < places and math.fsum(x) + weight <= payload)
        first = next(room, None)
        if first is None:
            loads.append([weight])
        else:
            first.append(weight)
    left = math.fsum(w for w in weights if w is not None) - math.fsum(heavy)
    spare = math.fsum(max(0.0, payload - math.fsum(x)) for x in loads) if loads else 0.0
    if left <= spare:
        return len(loads)
    return len(loads) + (1 if math.isinf(payload) else math.ceil((left - spare) / payload))
