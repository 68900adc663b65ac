"""The stages of finding openings in order."""

from __future__ import annotations

import numpy as np
import shapely

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.crossing import run_through
from dxf2veneer.propose.lines.noding import Floats, Polygons, faces_of
from dxf2veneer.propose.lines.runs import Runs, runs_of
from dxf2veneer.propose.openings.arches import arched, in_arches, rounds
from dxf2veneer.propose.openings.candidates import candidates, distinct, of_size
from dxf2veneer.propose.openings.casings import cased
from dxf2veneer.propose.openings.choosing import choose
from dxf2veneer.propose.openings.features import features_of
from dxf2veneer.propose.openings.leaves import Chosen


def find_openings(
    segments: Floats, closed: Polygons, *, metre: float, runs: Runs | None = None
) -> list[Chosen]:
    """The openings of an elevation, wherever they lie.

    Args:
        segments: its lines, shape (n, 4), in drawing units.
        closed: outlines that were drawn or hatched closed.
        metre: drawing units in a metre.
        runs: the same lines joined, where they are.

    Returns:
        Openings that don't overlap, the largest first.
    """
    runs = runs or runs_of(segments, gap=constants.JOIN_GAP_M * metre)
    return chosen_openings(runs, weighed_outlines(segments, runs, closed, metre=metre), metre=metre)


def weighed_outlines(segments: Floats, runs: Runs, closed: Polygons, *, metre: float) -> Polygons:
    """Every outline of an elevation that is weighed as an opening.

    Args:
        segments: its lines, shape (n, 4), in drawing units.
        runs: the same lines joined.
        closed: outlines that were drawn or hatched closed.
        metre: drawing units in a metre.

    Returns:
        Polygons without holes, by falling area.
    """
    gap = constants.JOIN_GAP_M * metre
    if not len(segments):
        return np.empty(0, dtype=object)
    short = (runs.length < constants.LONG_LINE_M * metre)[runs.member]
    straight = (runs.level | runs.upright)[runs.member]
    straight |= in_arches(segments, gap=gap, metre=metre)
    long = np.hypot(*(segments[:, 2:] - segments[:, :2]).T) >= constants.LONG_LINE_M * metre
    through = run_through(runs, beyond=constants.OVERSHOOT_M * metre)
    every = np.ones(len(segments), dtype=bool)
    choices = (every, short, straight, straight & ~long, straight & ~through)
    meshes = faces_of(segments, choices, gap=gap)
    curved = arched(segments, runs, gap=gap, metre=metre), rounds(segments, gap=gap)
    closed = np.concatenate([closed, *curved])
    lines = np.vstack([segments, runs.lines])
    found = candidates(meshes, lines, closed, gap=gap, metre=metre)
    trimmed = cased(found, lines, gap=gap, metre=metre)
    return distinct(np.concatenate([found, trimmed[of_size(trimmed, metre)]]), gap)


def chosen_openings(runs: Runs, found: Polygons, *, metre: float) -> list[Chosen]:
    """Those of many outlines that are openings.

    Args:
        runs: the lines of the elevation joined.
        found: outlines, by falling area.
        metre: drawing units in a metre.

    Returns:
        Openings that don't overlap, the largest first.
    """
    if not len(found):
        return []
    features = features_of(found, runs, gap=constants.JOIN_GAP_M * metre, metre=metre)
    return [
        Chosen(shapely.normalize(c.polygon), c.confidence, c.reason)
        for c in choose(found, features, metre=metre)
    ]
