"""Drawings traced from a scan: wavering lines made straight again.

    as traced                  straightened
    .-^-._.-'-.                .---------.      A stroke is parted where it bends by more than it
    |         /                |         |      wavers; each part is a straight line through its
    |        |       ->        |         |      points, level or upright where it nearly is; parts
    '-._.-._.'                 '---------'      meet where their lines cross.

A drawing counts as traced where most of its polylines waver: they have corners of a few degrees to
either side, and are level or upright in the main once they are straight, as contours of terrain are
not. How far they waver is measured, so that no unit has to be known.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import shapely

from dxf2veneer.propose import constants
from dxf2veneer.propose.scene import Entities, Floats, Integers, Mask, Scene

_STROKES = ("LWPOLYLINE", "POLYLINE", "LINE")


def straightened(scene: Scene) -> Scene:
    """The scene with its wavering lines made straight.

    Args:
        scene: everything visible, in drawing units.

    Returns:
        The scene itself where it was not traced.
    """
    wavers, strokes_of = _wavers(scene)
    if not len(wavers):
        return scene
    waver = constants.TRACED_WAVER * float(np.median(wavers))
    if not _is_built(scene, np.unique(strokes_of), constants.TRACED_OFF * waver):
        return scene
    by_stroke = np.full(len(scene.entities), waver)
    for number in np.flatnonzero(np.bincount(strokes_of) >= constants.TRACED_CORNERS).tolist():
        usual = constants.TRACED_WAVER * float(np.median(wavers[strokes_of == number]))
        by_stroke[number] = max(waver, usual)  # terrain is drawn more roughly than the rest
    rows, owners = [], []
    strokes = np.isin(scene.entities.kind.astype(str), _STROKES)
    for number, own_waver in enumerate(by_stroke.tolist()):
        own = scene.segments_of(number)
        chain = _chain(own) if strokes[number] else None
        if chain is not None:
            own = _straight(chain, constants.TRACED_OFF * own_waver)
        rows.append(own)
        owners.append(np.full(len(own), number))
    segments, owner = np.concatenate(rows), np.concatenate(owners)
    segments = _met(segments, strokes[owner], constants.TRACED_REACH * waver)
    return replace(
        scene,
        segments=segments,
        owner=owner,
        entities=_boxed(scene.entities, segments, owner),
        waver=waver,
    )


def _wavers(scene: Scene) -> tuple[Floats, Integers]:
    """How far each wavering corner stands off the line between its neighbors, and its entity; empty
    where the drawing was not traced."""
    nothing = np.zeros(0), np.zeros(0, np.int64)
    is_polyline = (scene.entities.kind == _STROKES[0]) | (scene.entities.kind == _STROKES[1])
    is_polyline &= np.diff(scene.first) >= constants.TRACED_CORNERS
    rows = is_polyline[scene.owner]
    segments, owner = scene.segments[rows], scene.owner[rows]
    if not len(segments):
        return nothing
    before, after = (part[:, 2:] - part[:, :2] for part in (segments[:-1], segments[1:]))
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turn = np.degrees(np.arctan2(cross, (before * after).sum(axis=1)))
    slight = (np.abs(turn) < constants.TRACED_TURN_DEG) & (
        np.abs(turn) > constants.TRACED_LEAST_DEG
    )
    slight &= (owner[1:] == owner[:-1]) & (segments[1:, :2] == segments[:-1, 2:]).all(axis=1)
    to_left, to_right = (
        np.bincount(owner[1:][slight & side], minlength=len(is_polyline)) > 0
        for side in (turn > 0.0, turn < 0.0)
    )
    traced = int((to_left & to_right).sum())
    if traced < max(constants.TRACED_LEAST, constants.TRACED_SHARE * int(is_polyline.sum())):
        return nothing
    across = np.hypot(*(segments[1:, 2:] - segments[:-1, :2]).T)
    return (np.abs(cross) / np.maximum(across, 1e-300))[slight], owner[1:][slight]


def _is_built(scene: Scene, strokes: Integers, off: float) -> bool:
    """Whether enough of the length of strokes is level or upright once they are straight; of many
    strokes some are asked, evenly spread."""
    step = -(-len(strokes) // constants.TRACED_ASKED)
    level = total = 0.0
    for number in strokes[::step].tolist():
        chain = _chain(scene.segments_of(number))
        if chain is None:
            continue
        line = _straight(chain, off)
        runs = np.abs(line[:, 2:] - line[:, :2])
        lengths = np.hypot(*runs.T)
        total += float(lengths.sum())
        level += float(lengths[runs.min(axis=1) <= constants.TRACED_TRUE * lengths].sum())
    return level >= constants.TRACED_LEVEL * total > 0.0


def _chain(segments: Floats) -> Floats | None:
    """The points of segments that follow each other; None where they do not."""
    if not len(segments) or not np.array_equal(segments[1:, :2], segments[:-1, 2:]):
        return None
    return np.vstack([segments[:, :2], segments[-1:, 2:]])


def _straight(chain: Floats, off: float) -> Floats:
    """A stroke as straight segments."""
    is_closed = bool(np.hypot(*(chain[-1] - chain[0])) <= 2.0 * off)
    if len(chain) == 2 and not is_closed:
        lines = [_line(chain, off)]
    else:
        lines = [_line(part, off) for part in _parts(chain, off)]
    if len(lines) < 2:
        only = lines[0]
        return np.array([[*_foot(chain[0], only), *_foot(chain[-1], only)]])
    inner = [_corner(a, b) for a, b in pairwise(lines)]
    if is_closed and len(lines) > 2:
        both = _corner(lines[-1], lines[0])
        points = [both, *inner, both]
    else:
        points = [_foot(chain[0], lines[0]), *inner, _foot(chain[-1], lines[-1])]
    made = np.array(points)
    return np.hstack([made[:-1], made[1:]])


def _parts(chain: Floats, off: float) -> list[Floats]:
    """The stretches between corners that stand off by more than the waver."""
    kept = shapely.get_coordinates(
        shapely.simplify(shapely.LineString(chain), off, preserve_topology=False)
    )
    at = [0]
    for point in kept[1:]:
        ahead = np.flatnonzero((chain[at[-1] + 1 :] == point).all(axis=1))
        at.append(at[-1] + 1 + int(ahead[0]))
    return [chain[a : b + 1] for a, b in pairwise(at)]


def _line(points: Floats, off: float) -> Floats:
    """A straight line x, y, dx, dy through points: level or upright where its ends are off by no
    more than the waver, else from its first to its last point."""
    first, last = points[0], points[-1]
    run = last - first
    weight = np.hypot(*np.diff(points, axis=0).T)
    middles = (points[1:] + points[:-1]) / 2.0
    mean = (
        np.average(middles, axis=0, weights=weight) if weight.sum() > 0.0 else points.mean(axis=0)
    )
    if abs(run[1]) <= off and abs(run[1]) < abs(run[0]):
        return np.array([*mean, 1.0, 0.0])
    if abs(run[0]) <= off and abs(run[0]) < abs(run[1]):
        return np.array([*mean, 0.0, 1.0])
    return np.array([*mean, *(run / max(float(np.hypot(*run)), 1e-12))])


def _foot(point: Floats, line: Floats) -> Floats:
    """The place of a line next to a point."""
    return np.asarray(line[:2] + line[2:] * float((point - line[:2]) @ line[2:]))


def _corner(a: Floats, b: Floats) -> Floats:
    """Where two lines cross; between their places where they nearly run on."""
    cross = a[2] * b[3] - a[3] * b[2]
    if abs(cross) < np.sin(np.radians(constants.TRACED_TURN_DEG)):
        middle = (a[:2] + b[:2]) / 2.0
        return np.asarray((_foot(middle, a) + _foot(middle, b)) / 2.0)
    apart = b[:2] - a[:2]
    return np.asarray(a[:2] + a[2:] * ((apart[0] * b[3] - apart[1] * b[2]) / cross))


def _met(segments: Floats, mine: Mask, reach: float) -> Floats:
    """Ends of straightened strokes moved to the line that they were drawn to meet."""
    made = segments.copy()
    lines = shapely.linestrings(segments.reshape(-1, 2, 2))
    tree = shapely.STRtree(lines)
    ends = np.concatenate([segments[:, :2], segments[:, 2:]])
    own = np.concatenate([np.arange(len(segments))] * 2)
    at, near = tree.query(shapely.points(ends), predicate="dwithin", distance=reach)
    is_mine = mine[own[at]]
    at, near = at[is_mine], near[is_mine]
    runs = segments[:, 2:] - segments[:, :2]
    along = runs / np.maximum(np.hypot(*runs.T), 1e-12)[:, None]
    a, b = along[own[at]], along[near]
    sine = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    crosses = np.abs(sine) >= constants.TRACED_CROSSING
    at, near, a, b, sine = at[crosses], near[crosses], a[crosses], b[crosses], sine[crosses]
    apart = segments[near, :2] - segments[own[at], :2]
    forward = (apart[:, 0] * b[:, 1] - apart[:, 1] * b[:, 0]) / sine
    there = segments[own[at], :2] + a * forward[:, None]
    off = np.hypot(*(there - ends[at]).T)
    order = np.lexsort((near, off, at))
    order = order[off[order] <= reach]
    ended, first = np.unique(at[order], return_index=True)
    places, (at_start, of) = there[order][first], (ended < len(segments), own[ended])
    made[of[at_start], :2] = places[at_start]
    made[of[~at_start], 2:] = places[~at_start]
    return made


def _boxed(entities: Entities, segments: Floats, owner: Integers) -> Entities:
    """The entities with the boxes of their new segments."""
    box = entities.box.copy()
    low = np.minimum(segments[:, :2], segments[:, 2:])
    high = np.maximum(segments[:, :2], segments[:, 2:])
    numbers = np.unique(owner)
    first = np.searchsorted(owner, numbers)
    if len(numbers):
        box[numbers, :2] = np.minimum.reduceat(low, first)
        box[numbers, 2:] = np.maximum.reduceat(high, first)
    return replace(entities, box=box)
