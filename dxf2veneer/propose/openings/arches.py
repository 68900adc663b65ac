"""Curved heads among the lines of a view.

  .---.        a chain of short chords, each turned a little against the one before, that rises
.'     '.      from one end and comes down to the same height at the other
|       |
"""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.lines.runs import Runs


def in_arches(segments: Floats, *, gap: float, metre: float) -> NDArray[np.bool_]:
    """Which segments are chords of curved heads.

    Args:
        segments: shape (n, 4), those of an entity one after the other, in drawing units.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    arch, first, last = _arches(segments, gap, metre)
    return np.repeat(arch, last - first + 1)


def arched(segments: Floats, runs: Runs, *, gap: float, metre: float) -> Polygons:
    """Outlines of curved heads on two jambs that stand at the same height: doors without a sill.

      .---.
    .'     '.      where the ground under it is drawn in pieces, or lines cross it, no face may
    |       |      lie behind its outline
    |       |

    Args:
        segments: shape (n, 4), those of an entity one after the other, in drawing units.
        runs: the same lines joined.
        gap: ends this near to each other meet, in drawing units.
        metre: drawing units in a metre.

    Returns:
        The outlines, each closed along its foot.
    """
    jambs = runs.lines[runs.upright]
    found = []
    arch, first, last = _arches(segments, gap, metre)
    for i, k in zip(first[arch].tolist(), last[arch].tolist(), strict=True):
        head = np.vstack([segments[i : k + 1, :2], segments[k, 2:]])
        low = [_foot(jambs, head[end], gap) for end in (0, -1)]
        if low[0] is not None and low[1] is not None and abs(low[0] - low[1]) <= gap:
            foot = min(low[0], low[1])
            feet = [(head[-1, 0], foot), (head[0, 0], foot)]
            found.append(shapely.Polygon([*head.tolist(), *feet]))
    return np.array(found, dtype=object)


def rounds(segments: Floats, *, gap: float) -> Polygons:
    """Outlines of circles and ovals: round windows and vents.

      .---.
     /-----\\      slats or bars from rim to rim part it, and stones meet it anywhere
     \\-----/
      '---'

    Args:
        segments: shape (n, 4), those of an entity one after the other, in drawing units.
        gap: ends this near to each other meet, in drawing units.

    Returns:
        The outlines.
    """
    first, last = _ends(segments, gap)
    back = np.abs(segments[first, :2] - segments[last, 2:]).max(axis=1, initial=0.0) <= gap
    whole = back & (last - first >= _CHORDS_LEAST)
    rings = [segments[i : k + 1, :2] for i, k in zip(first[whole], last[whole], strict=True)]
    return np.array([shapely.Polygon(ring) for ring in rings], dtype=object)


def have_curved_heads(found: Polygons, boxes: Floats, gap: float) -> NDArray[np.bool_]:
    """Which outlines are a curved head on two upright jambs over a level foot.

    Args:
        found: outlines, in drawing units.
        boxes: their boxes, shape (n, 4).
        gap: ends this near to each other meet, in drawing units.

    Returns:
        One truth value for each.
    """
    corners, owner = shapely.get_coordinates(found, return_index=True)
    x0, y0, x1, y1 = boxes[owner].T
    aside = (np.abs(corners[:, 0] - x0) <= gap) | (np.abs(corners[:, 0] - x1) <= gap)
    low, high = np.abs(corners[:, 1] - y0) <= gap, np.abs(corners[:, 1] - y1) <= gap
    curve = ~low & ~aside
    feet, shoulders, chords = (
        np.bincount(owner[some], minlength=len(found))
        for some in (low & aside, high & aside, curve)
    )
    return np.asarray((feet >= 2) & (shoulders == 0) & (chords >= _CHORDS_LEAST))


_CHORDS_LEAST = 5
"""Fewest corners of a curved head between its jambs: a gable or a clipped corner has fewer."""


def stones_over(found: Polygons, curved: NDArray[np.bool_], lines: Floats, *, gap: float) -> Ints:
    r"""How many joints of stones lie between each curved outline and the next one in it.

     _.-'\'-._
    /_.---._\     sloped lines from the one curve to the other: an arch of stones, and no frame
    |/     \|

    Args:
        found: outlines, in drawing units.
        curved: which of them have curved heads.
        lines: lines that are neither level nor upright, shape (m, 4).
        gap: ends this near to each other meet, in drawing units.

    Returns:
        One number for each; 0 where there is none within it.
    """
    result = np.zeros(len(found), dtype=np.int64)
    some = np.flatnonzero(curved)
    if not len(some) or not len(lines):
        return result
    ends = shapely.points(lines.reshape(-1, 2, 2))
    areas, edges = shapely.area(found[some]), shapely.get_exterior_ring(found[some])
    order = np.argsort(-areas, kind="stable")
    for place, i in enumerate(order.tolist()):
        grown = found[some[i]].buffer(gap)
        within = [k for k in order[place + 1 :].tolist() if grown.covers(found[some[k]])]
        if within:
            x0, y0, x1, y1 = grown.bounds
            own = ends[((lines >= (x0, y0, x0, y0)) & (lines <= (x1, y1, x1, y1))).all(axis=1)]
            out, into = (shapely.distance(edges[k], own) <= gap for k in (i, within[0]))
            across = (out[:, 0] & into[:, 1]) | (out[:, 1] & into[:, 0])
            result[some[i]] = int((across & ~out.all(axis=1) & ~into.all(axis=1)).sum())
    return result


def _foot(jambs: Floats, head: Floats, gap: float) -> float | None:
    """The foot of the upright whose top is at a point."""
    at = jambs[np.abs(jambs[:, 2:] - head).max(axis=1, initial=0.0) <= gap]
    return float(at[0, 1]) if len(at) else None


def _ends(segments: Floats, gap: float) -> tuple[Ints, Ints]:
    """The first and the last segment of each chain of chords."""
    first = np.flatnonzero(np.diff(_chains(segments, gap), prepend=-1))
    return first, np.append(first[1:], len(segments)) - 1


def _arches(segments: Floats, gap: float, metre: float) -> tuple[NDArray[np.bool_], Ints, Ints]:
    """Which chains of chords are curved heads, with the first and the last segment of each."""
    first, last = _ends(segments, gap)
    start, end = segments[first, :2], segments[last, 2:]
    low = np.minimum.reduceat(segments[:, [1, 3]].min(axis=1), first)
    high = np.maximum.reduceat(segments[:, [1, 3]].max(axis=1), first)
    foot = np.minimum(start[:, 1], end[:, 1])
    arch = (
        (last - first >= 2)
        & (np.abs(start[:, 1] - end[:, 1]) <= gap)
        & (np.abs(start[:, 0] - end[:, 0]) >= constants.OPENING_LEAST_M * metre)
        & (np.abs(start[:, 0] - end[:, 0]) <= constants.OPENING_WIDEST_M * metre)
        & (low >= foot - gap)
        & (high > foot + gap)
    )
    return arch, first, last


def _chains(segments: Floats, gap: float) -> Ints:
    """The number of the chain of chords that each segment belongs to."""
    run = segments[:, 2:] - segments[:, :2]
    length = np.maximum(np.hypot(*run.T), 1e-300)
    joined = np.abs(segments[1:, :2] - segments[:-1, 2:]).max(axis=1, initial=0.0) <= gap / 10.0
    a, b = run[:-1] / length[:-1, None], run[1:] / length[1:, None]
    turn = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
    joined &= (turn <= np.sin(np.radians(constants.CHORD_TURN_DEG))) & (
        np.einsum("ij,ij->i", a, b) > 0.0
    )
    shorter = np.minimum(length[1:], length[:-1])
    joined &= (np.maximum(length[1:], length[:-1]) <= constants.CHORD_RATIO * shorter) & (
        turn > 1e-4
    )
    return np.cumsum(np.concatenate([[True], ~joined])) - 1
