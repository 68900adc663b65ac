"""Flights of steps and stoops: what stands on the ground before a wall and carries a door.

      |  d  |         The uppermost tread runs under the door and a little past it on both sides;
    ._|_____|_.       from its ends the sides go down to the ground, straight or one tread wider on
   _|_________|_      one side or both at each step. The wall is not seen behind it and nothing is
  |_____________|     laid there.
--+-------------+--
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Polygon, box

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Polygons
from dxf2veneer.propose.walls.ends import share_drawn
from dxf2veneer.propose.walls.structure import Structure


def flights_of(s: Structure, openings: Polygons) -> Polygons:
    """What flights of steps and stoops under doors hide.

    Args:
        s: the structure of an elevation.
        openings: its openings.

    Returns:
        Their outlines, down to the ground that they stand on.
    """
    if not len(openings) or not s.ground.any():
        return np.empty(0, dtype=object)
    some = s.runs.upright & (s.runs.length <= constants.FLIGHT_HIGHEST_M * s.metre)
    doors = shapely.bounds(openings)
    tall = doors[:, 3] - doors[:, 1] >= constants.FLIGHT_DOOR_M * s.metre
    found = [_under(door, s.runs.lines[some], s) for door in doors[tall]]
    return np.array([f for f in found if f is not None], dtype=object)


def _under(door: Floats, sides: Floats, s: Structure) -> Polygon | None:
    """The flight under a door: a pair of sides under each tread, under the uppermost as far out on
    the left as on the right, the lowest on the ground; None where there is none."""
    left, right, head = float(door[0]), float(door[2]), float(door[1])
    ground = shapely.union_all(shapely.linestrings(s.segments[s.ground].reshape(-1, 2, 2)))
    low, reach = head, constants.FLIGHT_BEYOND_M * s.metre
    slack = constants.POST_SLACK_M * s.metre
    steps: list[Polygon] = []
    while head - low <= constants.FLIGHT_HIGHEST_M * s.metre:
        pair = _pair((left, right, low), reach, slack, sides, s)
        if pair is None:
            return None
        one, other = pair
        left, right, foot = float(one[0]), float(other[0]), float(min(one[1], other[1]))
        steps.append(box(left, foot, right, low))
        if shapely.distance(shapely.multipoints([one[:2], other[:2]]), ground) <= 2.0 * s.gap:
            high = head - foot >= constants.FLIGHT_LEAST_M * s.metre
            return shapely.union_all(steps) if high else None
        low = float(max(one[1], other[1]))
        reach = slack = constants.TREAD_MOST_M * s.metre  # people go down on one side, or on both
    return None


def _pair(
    over: tuple[float, float, float], reach: float, slack: float, sides: Floats, s: Structure
) -> tuple[Floats, Floats] | None:
    """The nearest two sides as far out, but for some slack, from what lies over them, given by its
    left and right end and its foot, with a tread drawn from the one to the other; None where there
    are none."""
    left, right, y = over
    goes_down = sides[:, 1] < y - 2.0 * s.gap  # so that each step is lower than the one before
    at = sides[goes_down & (np.abs(sides[:, 3] - y) <= 2.0 * s.gap)]
    out, far = left - at[:, 0], at[:, 0] - right
    lefts, rights = (at[(d >= -2.0 * s.gap) & (d <= reach)] for d in (out, far))
    level = s.runs.lines[s.runs.level]
    for one in lefts[np.argsort(-lefts[:, 0])]:
        for other in rights[np.argsort(rights[:, 0])]:
            mirrored = abs((left - one[0]) - (other[0] - right)) <= slack
            if mirrored and _has_tread(level, y, one[0], other[0], s):
                return one, other
    return None


def _has_tread(level: Floats, y: float, left: float, right: float, s: Structure) -> bool:
    """Whether a tread is drawn from side to side but for its ends, which what stands on it may
    hide: the piers of an entrance."""
    near = level[np.abs(level[:, 1] - y) <= 2.0 * s.gap]
    feet = s.runs.lines[s.runs.upright, :2]
    feet = feet[np.abs(feet[:, 1] - y) <= 2.0 * s.gap, 0]
    reach = constants.PIER_WIDTH_M[1] * s.metre
    drawn = near[(near[:, 0] < right) & (near[:, 2] > left)]
    if not len(drawn):
        return False
    first, last = float(drawn[:, 0].min()), float(drawn[:, 2].max())
    if left + s.gap < first <= left + reach and (np.abs(feet - first) <= 2.0 * s.gap).any():
        left = first
    if right - reach <= last < right - s.gap and (np.abs(feet - last) <= 2.0 * s.gap).any():
        right = last
    return share_drawn(level, y, left, right, 2.0 * s.gap) >= constants.PORCH_ALONG


def without_flights(wall: Polygon, flights: Polygons, metre: float) -> list[Polygon]:
    """The pieces of a wall that are seen beside flights of steps.

    Args:
        wall: its outline.
        flights: outlines of flights.
        metre: drawing units in a metre.

    Returns:
        The wall itself where none stands before it.
    """
    if not len(flights) or not shapely.intersects(flights, wall).any():
        return [wall]
    rest = wall.difference(shapely.union_all(flights))
    thin = constants.JOIN_GAP_M * metre
    rest = rest.buffer(-thin, join_style="mitre").buffer(thin, join_style="mitre")
    least = constants.BESIDE_FLIGHT_M * metre / 2.0
    seen = (p for p in shapely.get_parts(rest) if not p.buffer(-least).is_empty)
    return [Polygon(p.exterior) for p in seen]
