"""Cost, hours, packages and price by wall and by elevation.

Each number is shared in proportion to what caused it, as far as that is known (below), and what is
left of a cent or of a hundredth goes to the walls with the greatest remainders, the earlier wall
first, so that the shares sum up exactly (largest remainders).

- Panels of a course plan: each panel is shared by the length of the pieces cut from it, wherever
  they lie, its waste with them. So an offcut costs the wall that uses it what it costs the wall it
  came from, length for length. Breakage and what is rounded up to whole boxes follow in proportion.
- Other items: by what they were counted from. A corner counts half for each wall that it joins.
  An item counted from areas and runs together goes by the areas.
- Labor: pieces, cuts and partial pieces by the plan's pieces and cuts; openings by their number;
  cap and trim stones by their run; work that goes by a measure by that of each wall, a corner's
  run half by each; all else, and pieces without a plan, by net area.
- Price: what is added to costs follows costs (materials and labor together).

An elevation is the walls of one drawing that carry one name, upper and lower case alike; walls
without a name go by their drawing's file name. Where drawings have elevations of one name, the
drawing stands behind it.
"""

from __future__ import annotations

import dataclasses
import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import ROUND_FLOOR, Decimal
from pathlib import PurePath
from typing import TypeVar

from dxf2veneer.config.blend import color_key
from dxf2veneer.config.checks import plain
from dxf2veneer.config.wall_rows import Walls
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    Drawing,
    ElevationShare,
    LabourLine,
    Order,
    OrderLine,
    OrderShare,
    PackageShare,
    Part,
    WallTakeoff,
)
from dxf2veneer.order.arithmetic import CENT, tidy
from dxf2veneer.order.bid import total
from dxf2veneer.order.measured import Pieces, measures

Weights = Mapping[str, float]
"""How much of something each wall causes, by its id."""
_PANELS = {"flat_panel": "flat", "corner_panel": "corner"}
_T = TypeVar("_T")


def apportion(amount: Decimal, weights: Sequence[float]) -> list[Decimal]:
    """An amount in parts that sum up to it exactly, in steps of a hundredth.

    Args:
        amount: Money, hours or packages, in whole hundredths.
        weights: How much each part weighs, none below 0; all alike where all are 0.

    Returns:
        The parts: each within a hundredth of its proportion, equal weights within a hundredth of
        each other (method of largest remainders).
    """
    if not weights:
        return []
    tidied = [tidy(weight) for weight in weights]
    if not sum(tidied):
        tidied = [Decimal(1)] * len(weights)
    whole = sum(tidied)
    exact = [amount * weight / whole for weight in tidied]
    parts = [part.quantize(CENT, rounding=ROUND_FLOOR) for part in exact]
    left = int((amount - sum(parts)) / CENT)
    first = sorted(range(len(parts)), key=lambda n: (parts[n] - exact[n], n))
    for n in first[:left]:
        parts[n] += CENT
    return parts


def wall_shares(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    order: Order,
    drawings: Sequence[Drawing],
    treated: Walls,
    parts: Sequence[Part] = (),
) -> tuple[OrderShare, ...]:
    """Each wall's part of the order, by the rule above.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan, where there is one.
        order: The order.
        drawings: The drawings that the walls are on.
        treated: Which walls have no barrier.
        parts: The walls of each product with its plan, where the job has several.

    Returns:
        A share for each wall, in their order.
    """
    ids = [w.wall.id for w in walls]
    elevations = _elevations(walls, drawings)
    ours = [line for line in order.lines if not line.by_others]
    works = [work for work in order.labour if not work.is_open]
    net = {w.wall.id: w.quantities.net_area for w in walls}
    by_line = [_of_line(line, walls, corners, plan, parts) or net for line in ours]
    measured = _measured(walls, corners, plan, treated)
    by_work = [_work_weights(line, walls, plan, measured) or net for line in works]

    def shared(
        amounts: Sequence[Decimal | None], weights: Sequence[Weights]
    ) -> list[Decimal | None]:
        """Amounts of several kinds, each by weights of its own, summed and rounded once."""
        summed = total(amounts)
        if summed is None:
            return [None] * len(ids)
        parts = [0.0] * len(ids)
        for amount, weight in zip(amounts, weights, strict=True):
            whole = math.fsum(weight.values()) or 1.0
            for n, id in enumerate(ids):
                parts[n] += float(amount or 0) * weight.get(id, 0.0) / whole
        return list(apportion(summed, parts))

    packages = [
        shared([Decimal(o.chosen.packages)], [w]) for o, w in zip(ours, by_line, strict=True)
    ]
    hours = shared([o.hours for o in works], by_work)
    materials = shared([o.chosen.cost for o in ours], by_line)
    labour = shared([o.cost for o in works], by_work)
    direct = [float((a or 0) + (b or 0)) for a, b in zip(materials, labour, strict=True)]
    price = shared([order.bid.total], [dict(zip(ids, direct, strict=True))])
    return tuple(
        OrderShare(
            wall=w.wall.id,
            elevation=elevations[n],
            net_area=net[w.wall.id],
            materials=materials[n],
            labour=labour[n],
            price=price[n],
            hours=hours[n] or Decimal(0),
            packages=tuple(
                PackageShare(o.key, p[n] or Decimal(0)) for o, p in zip(ours, packages, strict=True)
            ),
        )
        for n, w in enumerate(walls)
    )


def _elevations(walls: Sequence[WallTakeoff], drawings: Sequence[Drawing]) -> list[str]:
    """The elevation of each wall: one name for the walls of one, and no name for two."""
    files = [PurePath(d.file).name for d in drawings]
    numbers = [f" {n}" if files.count(file) > 1 else "" for n, file in enumerate(files, 1)]
    names: dict[tuple[int, str], str] = {}
    keys = []
    for wall in (w.wall for w in walls):
        name = wall.name or PurePath(drawings[wall.drawing].file).stem
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
    made = []
    for name, group in _grouped(shares, lambda s: s.elevation).items():
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


# ------------------------------------------------------------------- weights


def _of_line(
    line: OrderLine,
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    parts: Sequence[Part],
) -> Weights:
    """What of an item each wall causes: of a product's item its own walls alone."""
    part = next((p for p in parts if p.name == line.product), None)
    if part is None:
        return _weights_of(line, walls, corners, plan)
    own = [w for w in walls if w.wall.id in part.walls]
    net = {w.wall.id: w.quantities.net_area for w in own}
    return _weights_of(line, own, part.corners, part.plan) or net


def _weights_of(
    line: OrderLine,
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
) -> Weights:
    """What of an item each wall causes; empty where nothing says."""
    kind = _PANELS.get(line.item_key)
    if plan is not None and kind and line.chosen.mode == "layout":
        return _of_panels(line.plain_key.partition(" ")[2], kind, walls, plan)
    places = _places(walls, corners)
    sources = line.chosen.sources
    areas = [s for s in sources if s.unit in ("sqft", "m2")]
    found: dict[str, float] = defaultdict(float)
    for source in areas or sources:
        at = places.get(source.ref, ())
        for wall in at:
            found[wall] += source.value / len(at)
    return found if any(found.values()) else {}


def _places(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner]
) -> Mapping[str, tuple[str, ...]]:
    """The walls that a wall, an opening or a corner belongs to, by its id."""
    found: dict[str, tuple[str, ...]] = {w.wall.id: (w.wall.id,) for w in walls}
    found |= {o.id: (w.wall.id,) for w in walls for o in w.wall.openings}
    listed = set(found)
    found |= {c.id: tuple(wall for wall, _ in c.edges if wall in listed) for c in corners}
    return found


def _of_panels(color: str, kind: str, walls: Sequence[WallTakeoff], plan: CoursePlan) -> Weights:
    """Each wall's length of panels: a panel's length by that of the pieces cut from it."""
    lengths = {(w.wall.id, p.course, p.number): p.length for w in walls for p in w.courses.pieces}
    found: dict[str, float] = defaultdict(float)
    for unit in plan.units:
        if unit.kind != kind or (color and color_key(unit.color) != color):
            continue
        parts = [(part.wall, lengths[part]) for part in unit.parts if part in lengths]
        used = math.fsum(length for _, length in parts)
        for wall, length in parts:
            found[wall] += unit.length * length / used if used else 0.0
    return found


def _measured(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    treated: Walls,
) -> Mapping[str, Mapping[str, float]]:
    """Each wall's measures, by its id; no pieces without a plan."""
    places = _places(walls, corners)
    cuts = {count.wall: float(count.cuts) for count in plan.walls} if plan else {}
    found = {}
    for wall in walls:
        id = wall.wall.id
        own = [
            dataclasses.replace(c, run=c.run / len(places[c.id]))
            for c in corners
            if id in places[c.id]
        ]
        flat, corner, partial = (
            float(_pieces(wall, key)) if plan else 0.0 for key in ("flat", "corner", "partial")
        )
        pieces = Pieces(flat, corner, cuts.get(id, 0.0), partial)
        found[id] = measures([wall], own, pieces, treated)
    return found


def _work_weights(
    line: LabourLine,
    walls: Sequence[WallTakeoff],
    plan: CoursePlan | None,
    measured: Mapping[str, Mapping[str, float]],
) -> Weights:
    """What of a kind of work each wall causes; empty where nothing says."""
    if line.key == "opening":
        found = {
            w.wall.id: float(sum(not o.opening.part_of for o in w.quantities.openings))
            for w in walls
        }
    elif line.key == "stone":
        found = {w.wall.id: _stone_run(w) for w in walls}
    elif line.measure not in ("", "job"):
        found = {id: of_wall[line.measure] for id, of_wall in measured.items()}
    elif plan is None:
        found = {}
    elif line.key == "cut":
        found = {count.wall: float(count.cuts) for count in plan.walls}
    elif line.key in ("flat", "corner", "partial"):
        found = {w.wall.id: float(_pieces(w, line.key)) for w in walls}
    else:
        found = {}
    return found if any(found.values()) else {}


def _stone_run(wall: WallTakeoff) -> float:
    """Run of cap and trim stones on a wall, in inches."""
    trims = (o.trim_head + o.trim_jambs + o.trim_sill for o in wall.quantities.openings)
    return wall.quantities.cap_run + math.fsum(trims)


def _pieces(wall: WallTakeoff, key: str) -> int:
    """Flat, corner or partial pieces of a wall."""
    if key == "partial":
        return sum(p.ripped or p.glued for p in wall.courses.pieces)
    return sum(p.unit == key for p in wall.courses.pieces)
