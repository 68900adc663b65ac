"""Which layers a takeoff could name: as guessed from their outlines, and tried against what the
drawing proposes as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from dxf2veneer.app.proposing import Seen
from dxf2veneer.app.second_look import flattened
from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.basics.tolerances import ADVICE_SHARE
from dxf2veneer.config.job import Job, with_settings

if TYPE_CHECKING:
    from dxf2veneer.drawing.survey import Survey

_SETTINGS = {"wall": "wall", "openings": "opening", "names": "name"}
"""What a layer is guessed to hold -> the setting of the section ``layers`` that names it."""
Layers = Mapping[str, Sequence[str]]
"""Layers by the setting that names them."""


def layers_to_name(survey: Survey, seen: Seen, job: Job) -> Layers | None:
    """Layers by which a takeoff covers the ground that the drawing itself proposes.

    Tried are those that look like walls and openings by their outlines, and those on which the
    proposal's outlines lie, all or the commonest of each kind.

    Args:
        survey: What was found on each layer.
        seen: The drawing and its proposal.
        job: How the drawing is read.

    Returns:
        The layers; None where none of this agrees with the proposal, or where it has no wall.
    """
    guessed = {
        setting: [e.name for e in survey.layers if e.state == "on" and e.guess == guess]
        for guess, setting in _SETTINGS.items()
    }
    lain = {what: list(names) for what, names in seen.proposal.layers.items()}
    commonest = {what: names[:1] for what, names in lain.items()}
    for tried in (guessed, {**guessed, **lain}, {**guessed, **commonest}):
        if seen.proposal.walls and tried["wall"] and _agrees(tried, seen, job):
            return {setting: names for setting, names in tried.items() if names}
    return None


def _agrees(layers: Layers, seen: Seen, job: Job) -> bool:
    """Whether a takeoff with these layers covers the ground that the drawing itself proposes.

    The walls are read and recognised as a takeoff would read them. Openings count, by their ground
    and one by one, so that neither an outline with half of its windows agrees nor one with a
    window's panes or sill as openings of their own.

    Args:
        layers: Layers by their settings; names a wall layer.
        seen: The drawing and its proposal.
        job: How the drawing is read.

    Returns:
        True where the ground of either alone is at most ``ADVICE_SHARE`` of the proposal's, and the
        openings are as many but for that share.
    """
    from dxf2veneer.drawing import load_drawing
    from dxf2veneer.recognise import recognise

    units = job.drawing.units or seen.unit.unit or seen.unit.header or "in"
    tried = with_settings(
        job,
        drawing__units=units,
        layers__wall=tuple(layers["wall"]),
        layers__opening=tuple(layers["opening"]),
    )
    try:
        drawing = load_drawing(seen.path, tried, 0)
        walls = recognise([drawing], tried).walls
    except TakeoffError:
        return False
    back = 1.0 / drawing.inches_per_unit
    openings = [o.region for w in walls for o in w.openings]
    ground = shapely.difference(flattened([w.region for w in walls]), flattened(openings))
    taken = shapely.affinity.scale(ground, back, back, origin=(0.0, 0.0))
    proposal = seen.proposal
    proposed = shapely.difference(
        shapely.union_all([_polygon(w.outline) for w in proposal.walls]),
        shapely.union_all([_polygon(o.outline) for o in proposal.openings]),
    )
    count, most = sum(len(w.openings) for w in walls), len(proposal.openings)
    return bool(
        taken.symmetric_difference(proposed).area <= ADVICE_SHARE * proposed.area
        and abs(count - most) <= ADVICE_SHARE * most
    )


def _polygon(points: Sequence[tuple[float, float]]) -> BaseGeometry:
    return Polygon(points).buffer(0)
