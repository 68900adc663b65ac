"""The hatched areas of an elevation, and those hatched like a wall that lie in none."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import shapely
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.proposal import Outside
from dxf2veneer.propose.scene import Scene
from dxf2veneer.propose.views import View
from dxf2veneer.propose.walls.surfaces import Pattern


def patterns_of(scene: Scene, view: View) -> list[Pattern]:
    """The hatched areas of a view, solid ones left out, named by pattern and steps.

    Args:
        scene: everything visible in the drawing.
        view: the view.

    Returns:
        Names and areas, in drawing units.
    """
    result: list[Pattern] = []
    for number in view.hatches:
        hatch = scene.hatches[number]
        if hatch.solid:
            continue
        steps = ",".join(f"{angle:.0f}/{step:.3g}" for angle, step, _ in hatch.lines)
        areas = [Polygon(loop).buffer(0) for loop in hatch.loops if len(loop) > 2]
        filled = shapely.get_parts(_without_islands(areas))
        result += [(f"{hatch.pattern} {steps}".strip(), area) for area in filled]
    return result


def _without_islands(areas: Sequence[Polygon]) -> Any:
    """What lies in an odd number of areas, one inside the other: hatches leave islands out (DXF
    reference, HATCH: hatch style normal, odd parity)."""
    filled: Any = Polygon()
    for area in areas:
        filled = filled.symmetric_difference(area)
    return filled


class Hatched(NamedTuple):
    """An elevation with hatches."""

    view: View
    patterns: Mapping[str, Any]
    """The ground of each pattern, by its name and steps."""
    walls: Sequence[Polygon]
    openings: Sequence[Polygon]


def hatched(
    scene: Scene, view: View, walls: Sequence[Polygon], openings: Sequence[Polygon]
) -> Hatched:
    """An elevation with the ground that each pattern covers.

    Args:
        scene: everything visible in the drawing.
        view: the elevation.
        walls: its proposed walls, in drawing units.
        openings: their openings.

    Returns:
        All of it.
    """
    areas: dict[str, list[Any]] = defaultdict(list)
    for name, area in patterns_of(scene, view):
        areas[name].append(area)
    return Hatched(view, {n: shapely.union_all(a) for n, a in areas.items()}, walls, openings)


def hatched_outside(elevations: Sequence[Hatched], *, metre: float) -> tuple[Outside, ...]:
    """What is hatched as a proposed wall of some elevation is, and lies neither in a wall nor in an
    opening.

    Args:
        elevations: the elevations of a drawing that have hatches.
        metre: drawing units in a metre.

    Returns:
        For each pattern in each elevation, by name, what of it is as large as a wall.
    """
    of_walls = {
        name
        for e in elevations
        for name, ground in e.patterns.items()
        if any(ground.intersection(w).area >= 0.5 * w.area for w in e.walls)
    }
    strip = constants.HATCH_STRIP_M / 2.0 * metre
    found = []
    for view, patterns, walls, openings in elevations:
        taken = shapely.union_all([*walls, *openings])
        for name in sorted(of_walls & patterns.keys()):
            rest = patterns[name].difference(taken)
            rest = rest.buffer(-strip).buffer(strip, join_style="mitre")
            if rest.area < constants.WALL_LEAST_M2 * metre**2:
                continue
            largest = max(shapely.get_parts(rest), key=lambda part: part.area)
            at = largest.representative_point()
            found.append(Outside(view.id, name.split()[0], float(rest.area), (at.x, at.y)))
    return tuple(found)
