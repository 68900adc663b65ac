"""Window, door, garage door or vent: by size and by where it stands."""

from __future__ import annotations

from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.proposal import OpeningKind


def kind_of(opening: Polygon, *, above: float = 0.0, metre: float) -> OpeningKind:
    """The kind of an opening.

    Args:
        opening: its outline.
        above: how high it stands above the foot of its wall, in drawing units.
        metre: drawing units in a metre.

    Returns:
        ``vent`` where it is small both ways, ``door`` where a person passes, ``garage`` where a car
        does: not over a step, where it is the glass of a shop or a living room.
    """
    x0, y0, x1, y1 = opening.bounds
    width, height = (x1 - x0) / metre, (y1 - y0) / metre
    if max(width, height) <= constants.VENT_MOST_M:
        return "vent"
    if height < constants.DOOR_LEAST_M:
        return "window"
    if width < constants.GARAGE_LEAST_M:
        return "door"
    return "garage" if above <= constants.GARAGE_STEP_M * metre else "window"
