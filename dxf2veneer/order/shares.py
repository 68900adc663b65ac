"""Cost, hours, packages and price by wall and by elevation.

Each number is shared in proportion to what caused it, as far as that is known (below), and rounded
as a running total, wall after wall, so that the shares sum up exactly.

- Panels of a course plan: each panel is shared by the length of the pieces cut from it, wherever
  they lie, its waste with them. So an offcut costs the wall that uses it what it costs the wall it
  came from, length for length. Breakage and what is rounded up to whole boxes follow in proportion.
- Other items: by what they were counted from. A corner counts half for each wall that it joins.
  An item counted from areas and runs together goes by the areas.
- Labor: pieces, cuts and partial pieces by the plan's pieces and cuts; openings by their number;
  cap and trim stones by their run; work that goes by a measure by that of each wall, a corner's
  run half by each; all else, and pieces without a plan, by net area.
- Walls known by their area alone: what was added for them. What else is added or taken off by hand
  follows what was counted.
- Price: what is added to costs follows costs (materials and labor together).

An elevation is the walls of one drawing in a box that the job file names, else those that carry one
name, upper and lower case alike; walls without either go by their drawing's file name. Where
drawings have elevations of one name, the drawing stands behind it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from itertools import accumulate
from pathlib import PurePath
from typing import TypeVar

from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.checks import plain
from dxf2veneer.config.job import Job
from dxf2veneer.config.treatments import NOT_DRAWN
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    Drawing,
    ElevationShare,
    OfArea,
    Order,
    OrderShare,
    PackageShare,
    Part,
    WallTakeoff,
)
from dxf2veneer.order.arithmetic import cents, tidy
from dxf2veneer.order.bid import total
from dxf2veneer.order.share_weights import (
    Weights,
    item_weights,
    measured_by_wall,
    work_weights,
)

_FINE = Decimal("0.000001")
_BY_AREA = "by area: "
"""Before the name of a wall known by its area alone, which may be called like the id of another."""
_T = TypeVar("_T")


def apportion(amount: Decimal, weights: Sequence[float]) -> list[Decimal]:
    """An amount in parts that sum up to it exactly, in steps of a hundredth.

    Args:
        amount: Money, hours or packages, in whole hundredths.
        weights: How much each part weighs, none below 0; all alike where all are 0.

    Returns:
        The parts, differences of the running totals, each rounded half up: each part within a
        hundredth of its proportion, equal weights within a hundredth of each other.
    """
    tidied = [tidy(weight) for weight in weights]
    if not sum(tidied):
        tidied = [Decimal(1)] * len(weights)
    whole, sums = sum(tidied), accumulate(tidied)
    ends = [cents((amount * upto / whole).quantize(_FINE, ROUND_HALF_UP)) for upto in sums]
    return [end - start for start, end in zip([Decimal(0), *ends], ends, strict=False)]


def wall_shares(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    order: Order,
    drawings: Sequence[Drawing],
    job: Job,
    parts: Sequence[Part] = (),
) -> tuple[OrderShare, ...]:
    """Each wall's part of the order, by the rule above.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan, where there is one.
        order: The order.
        drawings: The drawings that the walls are on.
        job: The job: which walls have no barrier, which phase they are of, walls by their area.
        parts: The walls of each product with its plan, where the job has several.

    Returns:
        A share for each wall, in their order, then for those known by their area alone.
    """
    elevations = _elevations(walls, drawings)
    lines, works = order.lines, order.labour
    drawn = {w.wall.id: w.quantities.net_area for w in walls}
    areas: dict[str, float] = defaultdict(float)
    for one in (one for one in job.order.additions if one.area):
        areas[_BY_AREA + one.reason] += one.area * SQUARE_INCHES_PER_SQUARE_FOOT
    net = drawn | areas
    ids = list(net)

    def parted(weights: Weights, whole: float, more: Sequence[OfArea]) -> Weights:
        """Each wall's part of 1, of which walls known by their area have theirs of the whole."""
        if not weights and not more:
            weights = net
        elif more:
            weights = _scaled(weights or drawn, whole - math.fsum(one.value for one in more))
            weights = {**weights, **_summed(more)}
        return _scaled(weights, 1.0)

    by_line = [
        parted(
            item_weights(line, walls, corners, plan, parts),
            line.chosen.measured - line.chosen.added + _value(line.chosen.by_area),
            line.chosen.by_area,
        )
        for line in lines
    ]
    measured = measured_by_wall(walls, corners, plan, job.walls)
    by_work = [
        parted(work_weights(line, walls, plan, measured), line.quantity, line.by_area)
        for line in works
    ]

    def shared(
        amounts: Sequence[Decimal | None], weights: Sequence[Weights]
    ) -> list[Decimal | None]:
        """Amounts of several kinds, each by weights of its own, summed and rounded once."""
        summed = total(amounts)
        if summed is None:
            return [None] * len(ids)
        parts = [0.0] * len(ids)
        for amount, weight in zip(amounts, weights, strict=True):
            for n, id in enumerate(ids):
                parts[n] += float(amount or 0) * weight.get(id, 0.0)
        return list(apportion(summed, parts))

    ours = [(o, parts) for o, parts in zip(lines, by_line, strict=True) if not o.by_others]
    packages = [shared([Decimal(o.chosen.packages)], [parts]) for o, parts in ours]
    hours = shared([o.hours for o in works], by_work)
    materials = shared([o.chosen.cost for o, _ in ours], [parts for _, parts in ours])
    labour = shared([Decimal(0) if o.is_open else o.cost for o in works], by_work)
    direct = [float((a or 0) + (b or 0)) for a, b in zip(materials, labour, strict=True)]
    price = shared([order.bid.total], [dict(zip(ids, direct, strict=True))])
    return tuple(
        OrderShare(
            wall=id.removeprefix(_BY_AREA),
            elevation=elevations[n] if n < len(walls) else id.removeprefix(_BY_AREA),
            phase=job.walls.phase_of(walls[n].wall.id, walls[n].wall.name)
            if n < len(walls)
            else "",
            net_area=net[id],
            materials=materials[n],
            labour=labour[n],
            price=price[n],
            hours=hours[n] or Decimal(0),
            packages=tuple(
                PackageShare(o.key, p[n] or Decimal(0))
                for (o, _), p in zip(ours, packages, strict=True)
            ),
            of_items=tuple(weights.get(id, 0.0) for weights in by_line),
            of_work=tuple(weights.get(id, 0.0) for weights in by_work),
        )
        for n, id in enumerate(ids)
    )


def _value(parts: Iterable[OfArea]) -> float:
    return math.fsum(one.value for one in parts)


def _summed(parts: Iterable[OfArea]) -> Weights:
    """Parts of walls known by their area, by their keys."""
    found: dict[str, float] = defaultdict(float)
    for one in parts:
        found[_BY_AREA + one.wall] += one.value
    return found


def _scaled(weights: Weights, whole: float) -> dict[str, float]:
    """Weights that sum up to something else; as they are where they are all 0."""
    sum_of = math.fsum(weights.values()) or 1.0
    return {key: weight * whole / sum_of for key, weight in weights.items()}


def _elevations(walls: Sequence[WallTakeoff], drawings: Sequence[Drawing]) -> list[str]:
    """The elevation of each wall: one name for the walls of one, and no name for two."""
    files = [PurePath(d.file).name for d in drawings]
    numbers = [f" {n}" if files.count(file) > 1 else "" for n, file in enumerate(files, 1)]
    names: dict[tuple[int, str], str] = {}
    keys = []
    for wall in (w.wall for w in walls):
        drawing = drawings[wall.drawing]
        titled = "" if wall.name.endswith(NOT_DRAWN) else drawing.elevation_at(wall.box)
        name = titled or wall.name or PurePath(drawing.file).stem
        keys.append((wall.drawing, plain(name)))
        names.setdefault(keys[-1], name)
    on = {small: {drawing for drawing, other in names if other == small} for _, small in names}
    return [
        f"{names[n, small]} ({files[n]}{numbers[n]})" if len(on[small]) > 1 else names[n, small]
        for n, small in keys
    ]


def elevation_shares(shares: Sequence[OrderShare]) -> tuple[ElevationShare, ...]:
    """The walls' shares summed by elevation.

    Args:
        shares: Each wall's part.

    Returns:
        The elevations, in the order of their first walls.
    """
    return _sums(_grouped(shares, lambda s: s.elevation))


def phase_shares(shares: Sequence[OrderShare], job: Job) -> tuple[ElevationShare, ...]:
    """The walls' shares summed by phase.

    Args:
        shares: Each wall's part.
        job: The job, which names the phases.

    Returns:
        The phases in the job's order, walls of none first; none where no wall has a phase.
    """
    found = _grouped(shares, lambda s: s.phase)
    named = dict.fromkeys(("", *(t.phase for t in job.walls.treatments)))
    return _sums({p: found[p] for p in named if p in found}) if set(found) > {""} else ()


def _sums(groups: Mapping[str, Sequence[OrderShare]]) -> tuple[ElevationShare, ...]:
    """Sums of shares, group by group."""
    made = []
    for name, group in groups.items():
        keys = [p.key for p in group[0].packages]
        summed = [
            PackageShare(key, sum((s.packages[n].packages for s in group), Decimal(0)))
            for n, key in enumerate(keys)
        ]
        made.append(
            ElevationShare(
                name,
                tuple(group),
                math.fsum(s.net_area for s in group),
                total(s.materials for s in group),
                total(s.labour for s in group),
                total(s.price for s in group),
                sum((s.hours for s in group), Decimal(0)),
                tuple(summed),
            )
        )
    return tuple(made)


def _grouped(items: Iterable[_T], key: Callable[[_T], str]) -> dict[str, list[_T]]:
    found: dict[str, list[_T]] = defaultdict(list)
    for item in items:
        found[key(item)].append(item)
    return dict(found)
