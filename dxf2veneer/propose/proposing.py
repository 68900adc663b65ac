"""A drawing to a proposal: the stages in order."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

from shapely.geometry import Polygon

from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.propose.corners import corners_of
from dxf2veneer.propose.elevations import Elevation, elevation_of, with_outlined
from dxf2veneer.propose.outlined import as_elevation, by_view, outlined_walls
from dxf2veneer.propose.patterns import Hatched, hatched, hatched_outside
from dxf2veneer.propose.proposal import (
    Outline,
    Proposal,
    ProposedLevel,
    ProposedOpening,
    ProposedView,
    ProposedWall,
)
from dxf2veneer.propose.reading import read_scene
from dxf2veneer.propose.scene import Scene
from dxf2veneer.propose.unit import UnitFinding, find_unit
from dxf2veneer.propose.views import View, find_views, reconsidered
from dxf2veneer.propose.views.dimlines import drawn_dimensions

_METRE_IN = 1000.0 / 25.4
"""Inches in a metre (1 in = 25.4 mm exactly, international yard and pound agreement of 1959)."""


def propose(path: Path, *, encoding: str | None = None, include_hidden: bool = False) -> Proposal:
    """What a drawing proposes for its own takeoff.

    Args:
        path: a DXF file.
        encoding: code page of its texts, instead of the one that it declares.
        include_hidden: whether layers that are off or frozen are read too.

    Returns:
        The proposal, in drawing units. Nobody has confirmed it.

    Raises:
        DrawingError: in one line, where the file can't be read.
    """
    return proposal_of(read_scene(path, encoding=encoding, include_hidden=include_hidden))


class Looked(NamedTuple):
    """What was seen of a drawing: its proposal, and what the unit rests on."""

    proposal: Proposal
    unit: UnitFinding


def proposal_of(scene: Scene) -> Proposal:
    """The proposal of a scene.

    Args:
        scene: everything visible in the drawing.

    Returns:
        Views, walls, openings, corners and levels, in drawing units.
    """
    return look_at(scene).proposal


def look_at(scene: Scene, *, inches: float | None = None) -> Looked:
    """The proposal of a scene and the finding about its unit.

    Args:
        scene: everything visible.
        inches: inches in one drawing unit where that is known; None to go by the evidence.

    Returns:
        Both.
    """
    drawn = drawn_dimensions(scene)
    views = find_views(scene, drawn)
    unit = find_unit(scene, views, drawn[0])
    inches = inches or unit_by_name(_likeliest(unit)).inches
    views = reconsidered(views, inches)
    metre = _METRE_IN / inches
    outlined = by_view(scene, outlined_walls(scene, metre=metre), views)
    views = tuple(as_elevation(v, outlined.get(v.id, ())) for v in views)
    elevations = {
        v.id: with_outlined(
            elevation_of(scene, v, metre=metre), outlined.get(v.id, ()), metre=metre
        )
        for v in views
        if v.kind == "elevation"
    }
    walls, openings = _numbered(elevations, inches=inches)
    proposal = Proposal(
        unit=unit.unit,
        unit_sure=unit.sure,
        unit_evidence=tuple(e.as_json() for e in unit.evidence),
        views=tuple(_view(v) for v in views),
        walls=walls,
        openings=openings,
        corners=corners_of(walls, metre=metre),
        levels=tuple(
            ProposedLevel(v.id, m.y, m.value_text, m.value, m.notation)
            for v in views
            if v.id in elevations
            for m in v.levels
        ),
        layers=_layers(elevations.values()),
        outside=hatched_outside(
            [
                _hatched(scene, v, elevations[v.id])
                for v in views
                if v.hatches and v.id in elevations
            ],
            metre=metre,
        ),
        waver=scene.waver,
    )
    return Looked(proposal, unit)


def _hatched(scene: Scene, view: View, elevation: Elevation) -> Hatched:
    walls = [Polygon(w.outline) for w in elevation.walls]
    openings = [Polygon(o.outline) for w in elevation.walls for o in w.openings]
    return hatched(scene, view, walls, openings)


def _numbered(
    elevations: Mapping[str, Elevation], *, inches: float
) -> tuple[tuple[ProposedWall, ...], tuple[ProposedOpening, ...]]:
    """The walls and openings of elevations by the views' ids, numbered as a takeoff does."""
    walls: list[ProposedWall] = []
    openings: list[ProposedOpening] = []
    found = [(view, wall) for view, elevation in elevations.items() for wall in elevation.walls]
    for view, wall in sorted(found, key=lambda f: _corner(f[1].outline)):
        name = f"W{len(walls) + 1}"
        walls.append(ProposedWall(name, view, wall.outline, wall.confidence, wall.reason))
        across = sorted(wall.openings, key=lambda o: _place(o.outline, inches))
        openings += [
            ProposedOpening(f"{name}-O{n}", name, o.kind, o.outline, o.confidence, o.reason)
            for n, o in enumerate(across, 1)
        ]
    return tuple(walls), tuple(openings)


def _layers(elevations: Iterable[Elevation]) -> dict[str, tuple[str, ...]]:
    """The layers of walls and of openings, those of most elevations first."""
    counts: dict[str, Counter[str]] = {"wall": Counter(), "opening": Counter()}
    for elevation in elevations:
        for what, names in elevation.layers.items():
            counts[what].update(names)
    return {what: tuple(name for name, _ in c.most_common()) for what, c in counts.items()}


def _corner(outline: Outline) -> tuple[float, float]:
    """The lower left corner of the box round an outline."""
    xs, ys = zip(*outline, strict=True)
    return min(xs), min(ys)


def _place(outline: Outline, inches: float) -> tuple[float, float]:
    """The lower left corner to a thousandth of an inch, finer than which nothing is drawn."""
    x, y = _corner(outline)
    return round(x * inches, 3), round(y * inches, 3)


def _likeliest(unit: UnitFinding) -> str:
    """The unit, or where the evidence is silent the one that most speaks for."""
    return unit.unit or max(unit.chances, key=lambda name: unit.chances[name])


def _view(view: View) -> ProposedView:
    return ProposedView(view.id, view.kind, view.title, view.box, view.confidence, view.reason)
