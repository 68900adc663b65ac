"""What of an item or of a kind of work each wall causes, by which it is shared."""

from __future__ import annotations

import dataclasses
import math
from collections import defaultdict
from collections.abc import Mapping, Sequence

from dxf2veneer.config.blend import color_key
from dxf2veneer.config.wall_rows import Walls
from dxf2veneer.model import Corner, CoursePlan, LabourLine, OrderLine, Part, WallTakeoff
from dxf2veneer.order.measured import Pieces, measures

Weights = Mapping[str, float]
"""How much of something each wall causes, by its id."""
_PANELS = {"flat_panel": "flat", "corner_panel": "corner"}


def item_weights(
    line: OrderLine,
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    parts: Sequence[Part] = (),
) -> Weights:
    """What of an item each wall causes: of a product's item its own walls alone.

    Args:
        line: The item.
        walls: The walls.
        corners: The corners.
        plan: The course plan, where there is one.
        parts: The walls of each product with its plan, where the job has several.

    Returns:
        Weights; empty where nothing says.
    """
    part = next((p for p in parts if p.name == line.product), None)
    if part is None:
        return _item_weights(line, walls, corners, plan)
    own = [w for w in walls if w.wall.id in part.walls]
    net = {w.wall.id: w.quantities.net_area for w in own}
    return _item_weights(line, own, part.corners, part.plan) or net


def _item_weights(
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


def measured_by_wall(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    treated: Walls,
) -> Mapping[str, Mapping[str, float]]:
    """Each wall's measures.

    Args:
        walls: The walls.
        corners: The corners, whose run goes half to each wall.
        plan: The course plan, where there is one.
        treated: Which walls have no barrier.

    Returns:
        The measures by the wall's id; no pieces without a plan.
    """
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


def work_weights(
    line: LabourLine,
    walls: Sequence[WallTakeoff],
    plan: CoursePlan | None,
    measured: Mapping[str, Mapping[str, float]],
) -> Weights:
    """What of a kind of work each wall causes.

    Args:
        line: The work.
        walls: The walls.
        plan: The course plan, where there is one.
        measured: Each wall's measures.

    Returns:
        Weights; empty where nothing says.
    """
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
