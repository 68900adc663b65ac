"""One elevation: its openings, its walls, and which opening lies in which wall."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon, box

from dxf2veneer.basics.tolerances import OPENING_REACHES
from dxf2veneer.propose import constants
from dxf2veneer.propose.curved import with_curves
from dxf2veneer.propose.lines.along import drawn_along
from dxf2veneer.propose.lines.noding import Polygons
from dxf2veneer.propose.lines.runs import Runs, runs_of
from dxf2veneer.propose.notes import stone_notes
from dxf2veneer.propose.openings import above_foot, find_openings, kinds_of
from dxf2veneer.propose.openings.leaves import Chosen
from dxf2veneer.propose.outlined import OutlinedWall
from dxf2veneer.propose.patterns import patterns_of
from dxf2veneer.propose.proposal import OpeningKind, Outline, Reason
from dxf2veneer.propose.scene import Floats, Integers, Scene
from dxf2veneer.propose.shadows import without_shadows
from dxf2veneer.propose.views import View
from dxf2veneer.propose.walls import find_walls
from dxf2veneer.propose.walls.areas import borders_of_areas
from dxf2veneer.propose.walls.parts import Part, is_large
from dxf2veneer.propose.walls.surfaces import Pattern


class FoundOpening(NamedTuple):
    """An opening of a wall."""

    kind: OpeningKind
    outline: Outline
    confidence: float
    reason: Reason


class FoundWall(NamedTuple):
    """A wall with its openings, from left to right and upward."""

    outline: Outline
    confidence: float
    reason: Reason
    openings: tuple[FoundOpening, ...]


class Elevation(NamedTuple):
    """The walls of one elevation, from left to right, and the layers that they and their openings
    lie on."""

    walls: tuple[FoundWall, ...]
    layers: Mapping[str, tuple[str, ...]]


def elevation_of(scene: Scene, view: View, *, metre: float) -> Elevation:
    """The walls and openings of a view.

    Args:
        scene: the drawing.
        view: an elevation.
        metre: drawing units in a metre.

    Returns:
        What was found; no walls where nothing is closed.
    """
    gap = constants.JOIN_GAP_M * metre
    numbers = view.segments[scene.lengths[view.segments] > gap / 100.0]
    segments = scene.segments[numbers]
    if not len(segments):
        return Elevation((), {})
    runs = runs_of(segments, gap=gap)
    view = without_shadows(scene, view, runs, metre=metre)
    areas = borders_of_areas(_large_loops(scene, view, metre), segments, gap=gap)
    patterns = patterns_of(scene, view)
    drawn = ~_broken(scene, numbers)
    seen = runs if drawn.all() else runs_of(segments[drawn], gap=gap)
    opened = _without_material(
        find_openings(segments[drawn], np.empty(0, dtype=object), metre=metre, runs=seen), patterns
    )
    outlines = np.array([c.polygon for c in opened], dtype=object)
    layers = _layers(scene, numbers, outlines, runs)
    walls = find_walls(
        np.vstack([segments, areas]),
        np.concatenate([drawn, np.ones(len(areas), bool)]),
        _spoken(scene, numbers, layers, len(outlines)),
        outlines,
        _more_certain(opened, constants.FRAMED_SCORE),
        _more_certain(opened, constants.PLAIN_SCORE + _HAIR),
        patterns,
        metre=metre,
    )
    walls = [w for w in walls if not _is_opening(w.polygon, walls, opened)]
    of_wall = _told(_held([w.polygon for w in walls], opened), walls, runs, metre)
    every = [o.polygon for some in of_wall for o in some]
    bare = [w.polygon.difference(shapely.union_all(every)) for w in walls]
    notes = stone_notes(scene, view, bare)
    found = tuple(
        FoundWall(
            _points(w.polygon),
            w.confidence,
            _reason(w, every, notes.get(n, "")),
            tuple(
                FoundOpening(o.kind, _points(o.polygon), o.confidence, o.reason) for o in openings
            ),
        )
        for n, (w, openings) in enumerate(zip(walls, of_wall, strict=True))
    )
    of_walls = _layers(scene, numbers, [w.polygon for w in walls], runs)
    return Elevation(found, {"wall": _most_frequent(of_walls), "opening": _most_frequent(layers)})


def _reason(wall: Part, openings: Sequence[Polygon], note: str) -> Reason:
    """Why it is a wall, with the number of openings that reach into it, what is drawn on it, and
    what a note says that it is."""
    drawn = list(dict.fromkeys(_plainly(kind) for kind in wall.cladding))
    shared = shapely.area(shapely.intersection(openings, wall.polygon))
    count = int((shared > OPENING_REACHES * shapely.area(openings)).sum())
    values = {**wall.reason.values, "openings": count, "cladding": drawn}
    return Reason(wall.reason.code, {**values, "note": note} if note else values)


def _plainly(kind: str) -> str:
    """A kind of cladding as people call it: of a hatch the pattern's name without its steps."""
    what, *named = kind.split()
    return "".join(named[:1]) or what


def _broken(scene: Scene, numbers: Integers) -> NDArray[np.bool_]:
    """Which segments are drawn in a line type that is broken: hidden edges, axes, level lines. One
    that draws much of a view is a hand's habit and tells nothing."""
    names = scene.entities.linetype[scene.owner[numbers]]
    result = np.zeros(len(numbers), bool)
    lengths = scene.lengths[numbers]
    for name in set(names.tolist()) - {"CONTINUOUS", "BYBLOCK", "BYLAYER", ""}:
        own = names == name
        if lengths[own].sum() <= constants.BROKEN_MOST * lengths.sum():
            result |= own
    return result


_HAIR = 1e-9
"""Less than any two scores differ."""


def _without_material(opened: Sequence[Chosen], patterns: Sequence[Pattern]) -> list[Chosen]:
    """The openings without outlines that nothing but a hatch makes look like more than a shape: a
    pier, a base of stone. A pattern that fills a frame too is glass or a leaf."""
    framed = _more_certain(opened, constants.FRAMED_SCORE)
    most = 0.5 * shapely.area(framed)
    glass = {
        name
        for name, area in patterns
        if (shapely.area(shapely.intersection(framed, area)) > most).any()
    }
    material = [area for name, area in patterns if name not in glass]
    tree = shapely.STRtree(material)
    return [
        c
        for c in opened
        if c.confidence >= constants.FRAMED_SCORE
        or not any(
            material[i].intersection(c.polygon).area
            >= constants.MATERIAL_SHARE * material[i].union(c.polygon).area
            for i in tree.query(c.polygon).tolist()
        )
    ]


def _more_certain(opened: Sequence[Chosen], least: float) -> Polygons:
    """Outlines of the openings with at least a score."""
    return np.array([c.polygon for c in opened if c.confidence >= least], dtype=object)


def _spoken(scene: Scene, numbers: Integers, layers: Counter[str], count: int) -> Floats | None:
    """The lines of the layer that most of some openings lie on, None where there is no such
    layer."""
    for name, drawn in layers.most_common(1):
        if drawn >= constants.SPEAKING_LAYER * count:
            own = scene.entities.layer[scene.owner[numbers]] == name
            return np.asarray(scene.segments[numbers[own]])
    return None


def with_outlined(
    elevation: Elevation, outlined: Sequence[OutlinedWall], *, metre: float
) -> Elevation:
    """The elevation with walls that layers of their own name, in place of what was made of lines.

    Args:
        elevation: what was found by its lines.
        outlined: walls that are closed outlines.
        metre: drawing units in a metre.

    Returns:
        The elevation itself where there are none.
    """
    if not outlined:
        return elevation
    ground = shapely.union_all([w.polygon for w in outlined])
    kept = [
        wall
        for wall in elevation.walls
        if ground.intersection(Polygon(wall.outline)).area
        <= constants.OUTLINED_OVERLAP * Polygon(wall.outline).area
    ]
    walls = [*kept, *(_outlined(w, metre) for w in outlined)]
    names = tuple(dict.fromkeys(w.layer for w in outlined))
    layers = {**elevation.layers, "wall": (*names, *elevation.layers.get("wall", ()))}
    return Elevation(tuple(sorted(walls, key=lambda w: w.outline)), layers)


def _outlined(wall: OutlinedWall, metre: float) -> FoundWall:
    score = constants.OUTLINED_SCORE
    held = sorted(wall.openings, key=lambda o: o[0].bounds)
    no_lines = runs_of(np.zeros((0, 4)), gap=constants.JOIN_GAP_M * metre)
    kinds = kinds_of([o for o, _ in held], [wall.polygon], no_lines, metre=metre)
    openings = [
        FoundOpening(kind, _points(o), score, Reason("OPENING_OUTLINED", {"layer": name}))
        for (o, name), kind in zip(held, kinds, strict=True)
    ]
    reason = Reason("WALL_OUTLINED", {"layer": wall.layer})
    return FoundWall(_points(wall.polygon), score, reason, tuple(openings))


def _most_frequent(names: Counter[str]) -> tuple[str, ...]:
    """Names, the most frequent first."""
    return tuple(name for name, _ in names.most_common())


class _Told(NamedTuple):
    """An opening of which it is told what it is."""

    polygon: Polygon
    kind: OpeningKind
    confidence: float
    reason: Reason


def _told(
    held: Mapping[int, Sequence[Chosen]], walls: Sequence[Part], runs: Runs, metre: float
) -> list[list[_Told]]:
    """The openings of each wall with their kinds; doors, and gaps in boards, that end just over the
    foot of the walls are taken down to it."""
    shapes = [w.polygon for w in walls]
    ground = shapely.union_all(shapes)
    down = [[_to_foot(c.polygon, ground, metre) for c in held[i]] for i in range(len(walls))]
    kinds = iter(kinds_of([d for some in down for d in some], shapes, runs, metre=metre))
    result = []
    for i, some in enumerate(down):
        told = [
            _Told(d, next(kinds), c.confidence, c.reason)
            for c, d in zip(held[i], some, strict=True)
        ]
        result.append(
            [
                o
                if o.kind in ("door", "garage") or o.reason.code == "OPENING_GAP_IN_BOARDS"
                else o._replace(polygon=c.polygon)
                for c, o in zip(held[i], told, strict=True)
            ]
        )
    return result


def _to_foot(opening: Polygon, walls: Any, metre: float) -> Polygon:
    """An opening that ends at a threshold, a step or an apron just over the foot of the walls,
    taken down to it."""
    if not 0.0 < above_foot(opening, walls) <= constants.DOOR_REACH_M * metre:
        return opening
    foot = opening.bounds[1]
    sill = [x for x, y in opening.exterior.coords if y - foot <= constants.JOIN_GAP_M * metre]
    down = opening.union(walls.intersection(box(min(sill), walls.bounds[1], max(sill), foot)))
    return down if isinstance(down, Polygon) and not down.interiors else opening


def _points(polygon: Polygon) -> Outline:
    """Corners counter-clockwise, from the lowest of the leftmost."""
    corners = shapely.get_coordinates(shapely.orient_polygons(polygon).exterior)[:-1]
    points = with_curves(corners)
    first = np.lexsort(points.T[::-1])[0]
    return tuple((x, y) for x, y in np.roll(points, -first, axis=0).tolist())


def _is_opening(wall: Polygon, walls: Sequence[Part], openings: Sequence[Chosen]) -> bool:
    """Whether a wall is but the outline of an opening in another wall: a door among boards."""
    alike = (c.polygon for c in openings if _share(c.polygon, wall) >= constants.OPENING_WHOLE)
    return any(
        w.polygon.area > wall.area
        and w.polygon.intersection(c).area >= constants.OPENING_IN_WALL * c.area
        for c in alike
        for w in walls
    )


def _share(opening: Polygon, wall: Polygon) -> float:
    """How much of a wall and an opening together is common to both."""
    shared = opening.intersection(wall).area
    return float(shared / (opening.area + wall.area - shared))


def _held(walls: Sequence[Polygon], openings: Sequence[Chosen]) -> dict[int, list[Chosen]]:
    """The openings of each wall: that with most of an opening has it; what lies in no wall is
    left out, and what is a whole wall, as a pier with a lamp on it."""
    result: dict[int, list[Chosen]] = {i: [] for i in range(len(walls))}
    for opening in openings:
        shares = [w.intersection(opening.polygon).area / opening.polygon.area for w in walls]
        if shares and sum(shares) >= constants.OPENING_IN_WALL:
            most = int(np.argmax(shares))
            if _share(opening.polygon, walls[most]) < constants.OPENING_WHOLE:
                result[most].append(opening)
    for held in result.values():
        held.sort(key=lambda c: c.polygon.bounds)
    return result


def _large_loops(scene: Scene, view: View, metre: float) -> list[Floats]:
    """The outer borders of the hatches of a view that are as large as a wall; a strip of earth
    under a sloping ground is long, but nowhere as thick."""
    least = constants.WALL_LEAST_M * metre
    loops = [max(scene.hatches[n].loops, key=_area, default=None) for n in view.hatches]
    shapes = [(loop, Polygon(loop).buffer(0)) for loop in loops if loop is not None]
    return [
        loop
        for loop, shape in shapes
        if is_large(shape, metre) and not shape.buffer(-least / 2.0).is_empty
    ]


def _area(loop: Floats) -> float:
    return float(Polygon(loop).area)


def _layers(
    scene: Scene, numbers: Integers, outlines: Iterable[Polygon], runs: Runs
) -> Counter[str]:
    """For each layer the number of outlines of which its lines draw a half or more; layers of many
    lines first."""
    made = np.array(list(outlines), dtype=object)
    if not len(made):
        return Counter()
    edge, line, along = drawn_along(made, runs)
    lines = scene.entities.layer[scene.owner[numbers]].tolist()
    names = [name for name, _ in Counter(lines).most_common()]
    place = {name: n for n, name in enumerate(names)}
    name = np.array([place[name] for name in lines])
    drawn = np.bincount(edge * len(names) + name[line], along, len(made) * len(names))
    most = 0.5 * shapely.length(made)
    counts = (drawn.reshape(-1, len(names)) >= most[:, None]).sum(axis=0)
    return Counter({n: c for n, c in zip(names, counts.tolist(), strict=True) if c})
