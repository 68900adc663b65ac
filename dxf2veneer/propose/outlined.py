"""Walls and openings that are drawn as closed outlines on layers of their own.

Where a layer holds nothing but outlines of a wall's size, and outlines of an opening's size lie in
them on other layers, the layers speak: somebody has traced the walls, and what is left to say is
which outline is which.

     WALLS _________________      on WALLS only outlines, most of which hold others;
          |   ____    ____  |     on GLAZING only outlines, most of which lie in one of WALLS
          |  |____|  |____| | GLAZING
          |_________________|
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np
import shapely
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.arrays import among
from dxf2veneer.propose.proposal import Reason
from dxf2veneer.propose.scene import Floats, Integers, Scene
from dxf2veneer.propose.views import View
from dxf2veneer.propose.views.tables import has_labeled_cells


class OutlinedWall(NamedTuple):
    """A wall that is one closed outline, and the closed outlines in it that are openings."""

    polygon: Polygon
    layer: str
    openings: tuple[tuple[Polygon, str], ...]
    """Each with its layer."""


def outlined_walls(scene: Scene, *, metre: float) -> list[OutlinedWall]:
    """The walls that the drawing's layers name by closed outlines.

    Args:
        scene: everything visible.
        metre: drawing units in a metre.

    Returns:
        The walls, in the order of the drawing; none where no layer speaks.
    """
    closed = np.flatnonzero(scene.entities.closed)
    if not 0 < len(closed) <= constants.OUTLINED_MOST:
        return []
    polygons, numbers = _polygons(scene, closed)
    if not len(polygons):
        return []
    layers = scene.entities.layer[numbers].tolist()
    size = np.array(shapely.bounds(polygons)).reshape(-1, 4)
    size = (size[:, 2:] - size[:, :2]) / metre
    walls = _within(size, constants.OUTLINED_WALL_M)
    openings = _within(size, constants.OUTLINED_OPENING_M)
    holder = _holders(polygons, layers, walls, openings)
    drawn = Counter(scene.entities.layer.tolist())
    area = shapely.area(polygons)
    of_walls = _speaking(layers, walls, area, set(holder.values()), drawn)
    in_walls = {o for o, w in holder.items() if layers[w] in of_walls}
    of_openings = _speaking(layers, openings, area, in_walls, drawn)
    held: dict[int, list[int]] = defaultdict(list)
    for o, w in holder.items():
        if layers[w] in of_walls and layers[o] in of_openings:
            held[w].append(o)
    found = [
        OutlinedWall(
            polygons[w], layers[w], _outermost([(polygons[o], layers[o]) for o in held[w]])
        )
        for w in np.flatnonzero(walls).tolist()
        if layers[w] in of_walls
    ]
    return [w for w in found if _is_bare(scene, w, of_walls | of_openings)]


def _polygons(scene: Scene, closed: Integers) -> tuple[Any, list[int]]:
    """The closed entities with an area as polygons, and their numbers."""
    many = closed[np.diff(scene.first)[closed] >= 3]
    place = np.full(len(scene.entities), -1)
    place[many] = np.arange(len(many))
    ring = place[scene.owner]
    points = scene.segments[ring >= 0, :2]
    made = shapely.polygons(shapely.linearrings(points, indices=ring[ring >= 0]))
    good = shapely.is_valid(made) & (shapely.area(made) > 0.0)
    return made[good], many[good].tolist()


def _within(size: Floats, limits: tuple[float, float, float]) -> Any:
    """Which boxes have their sides within limits: least side, least longer side, greatest side."""
    least, longer, most = limits
    return (size.min(1) >= least) & (size.max(1) >= longer) & (size.max(1) <= most)


def _holders(polygons: Any, layers: Sequence[str], walls: Any, openings: Any) -> dict[int, int]:
    """For each outline of an opening's size the smallest one of a wall's size, on another layer,
    that it lies in."""
    inner, outer = np.flatnonzero(openings), np.flatnonzero(walls)
    if not len(inner) or not len(outer):
        return {}
    pairs = shapely.STRtree(polygons[outer]).query(polygons[inner], predicate="intersects")
    found: dict[int, int] = {}
    for a, b in pairs.T.tolist():
        o, w = int(inner[a]), int(outer[b])
        opening, wall = polygons[o], polygons[w]
        if layers[o] == layers[w] or opening.area > constants.OUTLINED_SHARE * wall.area:
            continue
        if wall.intersection(opening).area < constants.OPENING_IN_WALL * opening.area:
            continue
        if o not in found or wall.area < polygons[found[o]].area:
            found[o] = w
    return found


def _speaking(
    layers: Sequence[str], sized: Any, area: Floats, telling: set[int], drawn: Mapping[str, int]
) -> set[str]:
    """The layers on which little else lies than outlines of a size, half of them, by area, telling
    ones."""
    numbers = np.flatnonzero(sized).tolist()
    of_size = Counter(layers[n] for n in numbers)
    return {
        name
        for name in {layers[n] for n in telling}
        if of_size[name] >= constants.OUTLINED_PURE * drawn[name]
        and sum(area[n] for n in telling if layers[n] == name)
        >= constants.OUTLINED_TELLING * sum(area[n] for n in numbers if layers[n] == name)
    }


def _outermost(openings: Sequence[tuple[Polygon, str]]) -> tuple[tuple[Polygon, str], ...]:
    """The openings that lie in no other."""
    return tuple(
        (opening, layer)
        for opening, layer in openings
        if not any(
            other.area > opening.area
            and other.intersection(opening).area >= constants.OPENING_IN_WALL * opening.area
            for other, _ in openings
        )
    )


def _is_bare(scene: Scene, wall: OutlinedWall, layers: set[str]) -> bool:
    """Whether what is drawn in a wall is mostly outlines on the layers that speak."""
    x0, y0, x1, y1 = wall.polygon.bounds
    middle = (scene.segments[:, :2] + scene.segments[:, 2:]) / 2.0
    inside = (
        (middle[:, 0] >= x0) & (middle[:, 0] <= x1) & (middle[:, 1] >= y0) & (middle[:, 1] <= y1)
    )
    lengths = scene.lengths[inside]
    own = among(scene.entities.layer[scene.owner[inside]], layers)
    return bool(lengths[own].sum() >= constants.OUTLINED_BARE * lengths.sum())


def by_view(
    scene: Scene, walls: Sequence[OutlinedWall], views: Sequence[View]
) -> dict[str, list[OutlinedWall]]:
    """The walls of each view; those in a view that its title calls something else are left out, and
    so are the cells of a schedule of windows and the lot of a site plan.

    Args:
        scene: everything visible.
        walls: the walls.
        views: the views.

    Returns:
        By id of the view that each wall lies in, or else stands nearest to.
    """
    boxes = [(v, box(*v.box)) for v in views if v.kind != "sheet"]
    found: dict[str, list[OutlinedWall]] = defaultdict(list)
    for wall in walls:
        point = wall.polygon.representative_point()
        near = min(boxes, key=lambda b: (b[1].distance(point), b[1].area), default=None)
        if near is None:
            continue
        found[near[0].id].append(wall)
    return {v.id: found[v.id] for v, _ in boxes if v.id in found and _may_be_elevation(scene, v)}


def _may_be_elevation(scene: Scene, view: View) -> bool:
    """Whether a view with outlined walls may be an elevation, whatever else it seems to be."""
    if view.kind == "elevation":
        return True
    if view.reason.code == "VIEW_TABLE":
        return not has_labeled_cells(scene, view.segments, view.core)
    sure = view.kind == "plan" and view.confidence >= constants.OUTLINED_NO_PLAN
    return view.reason.code != "VIEW_TITLED" and not sure


def as_elevation(view: View, walls: Sequence[OutlinedWall]) -> View:
    """The view, made an elevation that reaches round its outlined walls.

    Args:
        view: the view.
        walls: the outlined walls in it.

    Returns:
        The view itself where it has none.
    """
    if not walls:
        return view
    x0, y0, x1, y1 = shapely.total_bounds([w.polygon for w in walls])
    a, b, c, d = view.box
    whole = (min(a, float(x0)), min(b, float(y0)), max(c, float(x1)), max(d, float(y1)))
    if view.kind == "elevation":
        return replace(view, box=whole)
    return replace(
        view,
        box=whole,
        kind="elevation",
        confidence=constants.OUTLINED_SCORE,
        reason=Reason("VIEW_OUTLINED", {}),
    )
