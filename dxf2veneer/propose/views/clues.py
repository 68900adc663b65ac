"""What speaks for a view's kind: what is drawn and written in it."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from dxf2veneer.propose.arrays import among, distinct, distinct_of
from dxf2veneer.propose.constants import (
    CUT_SLABS,
    CUT_TALL,
    CUT_WALL,
    FRAMING,
    FRAMING_TALL,
    RINGED,
    STRAIGHT,
)
from dxf2veneer.propose.scene import Box, Floats, Hatch, Integers, Scene, Text
from dxf2veneer.propose.views.boxes import boxes_of_segments, may_touch
from dxf2veneer.propose.views.dimlines import NUMBER
from dxf2veneer.propose.views.grids import Bubble
from dxf2veneer.propose.views.levels import LevelMark, level_value
from dxf2veneer.propose.views.titles import kind_named, plain


@dataclass(frozen=True)
class Clues:
    """What speaks for a view's kind.

    Attributes:
        swings: doors seen from above: quarter circles with a leaf.
        rooms: texts that name rooms or floor areas.
        levels: level marks beside it.
        ground: how far a line at the foot alone runs past everything else, as a share of the width.
        grid_both: whether grid lines run both ways.
        grid_upright: whether all grid lines are upright.
        ratio: width over height.
        notes: texts in it that are neither levels nor names of rooms.
        strokes: number of segments.
        letters: height as a multiple of the usual text's height; 0 where there is no text.
        cut: whether it shows walls cut through: a pair of uprights on either side, and slabs
            between them.
        trees: circles with a mark in their middle: trees seen from above.
        hips: whether slanting lines start from corners of a rectangle round it all: a roof seen
            from above.
        lot: whether four lines round it all run nearly upright and level, but not quite: a lot.
        studs: number of pairs of tall uprights that stand apart: studs of a frame.
        upright: whether it is much taller than wide.
        ringed: whether a circle is as high as it all: a detail, a symbol.
        marks: number of entities beside that circle.
    """

    swings: int
    rooms: int
    levels: int
    ground: float
    grid_both: bool
    grid_upright: bool
    ratio: float
    notes: int
    strokes: int
    letters: float
    cut: bool
    trees: int
    hips: bool
    lot: bool
    studs: int
    upright: bool
    ringed: bool
    marks: int


_ROOM = frozenset(
    [
        "kitchen",
        "bath",
        "bedroom",
        "bed",
        "living",
        "dining",
        "hall",
        "garage",
        "office",
        "closet",
        "laundry",
        "entry",
        "foyer",
        "wc",
        "toilet",
        "storage",
        "utility",
        "study",
        "porch",
        "pantry",
        "den",
        "kuche",
        "bad",
        "zimmer",
        "schlafen",
        "wohnen",
        "flur",
        "diele",
        "garderobe",
        "keller",
        "buro",
        "abstellraum",
        "hauswirtschaft",
        "kind",
        "eltern",
        "essen",
        "cuisine",
        "chambre",
        "sejour",
        "salon",
        "entree",
        "degagement",
        "bains",
        "sdb",
        "cellier",
        "bureau",
        "couloir",
        "placard",
        "cocina",
        "bano",
        "dormitorio",
        "comedor",
        "pasillo",
        "aseo",
        "garaje",
        "despacho",
        "lavadero",
        "vestidor",
        "recibidor",
        "trastero",
        "keuken",
        "badkamer",
        "slaapkamer",
        "woonkamer",
        "gang",
        "berging",
        "overloop",
        "zolder",
        "entree",
        "cucina",
        "bagno",
        "camera",
        "soggiorno",
        "corridoio",
        "ingresso",
        "ripostiglio",
        "studio",
        "cantina",
    ]
)
"""Names of rooms, as plain words."""
_RATIO = re.compile(r"\b1\s*:\s*\d+|=\s*1\s*'")
_AREA = re.compile(r"\d+[.,]?\d*\s*(?:m2|m²|qm|sq\.?\s*ft|sf)\b", re.IGNORECASE)


def clues_of(
    scene: Scene,
    segments: Integers,
    core: Box,
    past: float,
    texts: Sequence[Text],
    levels: Sequence[LevelMark],
    bubbles: Sequence[Bubble],
    hatches: Sequence[Hatch],
) -> Clues:
    """Gather what speaks for a group's kind.

    Args:
        scene: everything visible in the drawing.
        segments: numbers of the group's segments.
        core: box of those segments.
        past: how far the ground line runs past the group, as ``ground_of`` gives it.
        texts: the group's texts.
        levels: the group's level marks.
        bubbles: the group's grid bubbles.
        hatches: the group's hatches.

    Returns:
        What ``judge`` weighs.
    """
    least = _LONG * min(core[2] - core[0], core[3] - core[1])
    long = scene.segments[segments[scene.lengths[segments] > least]]
    rooms = sum(_is_room(t.text) for t in texts)
    usual = scene.letters
    owners = _owners(scene, segments)
    ways = {b.upright for b in bubbles if b.upright is not None}
    return Clues(
        swings=len(quarter_arcs(scene, segments)),
        rooms=rooms,
        levels=len(levels),
        ground=past,
        grid_both=len(ways) == 2,
        grid_upright=ways == {True},
        ratio=(core[2] - core[0]) / max(core[3] - core[1], 1e-300),
        notes=sum(_is_note(t.text) for t in texts) - rooms,
        strokes=len(segments),
        letters=(core[3] - core[1]) / usual if usual > 0.0 else 0.0,
        cut=len(segments) >= 8 and _is_cut(long, core),
        trees=_trees(scene, segments, core),
        hips=_has_hips(long, core),
        lot=_is_lot(long, core),
        studs=_studs(long, core),
        upright=(core[3] - core[1]) > 1.5 * (core[2] - core[0]),
        ringed=_is_ringed(scene, owners, core),
        marks=len(owners) - 1,
    )


def _is_ringed(scene: Scene, owners: Integers, core: Box) -> bool:
    """Whether one of some entities is a circle as high as all of them."""
    high = core[3] - core[1]
    x0, y0, x1, y1 = scene.boxes[owners].T
    round_ = (scene.entities.kind[owners] == "CIRCLE") & (y1 - y0 >= RINGED * high)
    return bool((round_ & (x1 - x0 >= RINGED * high)).any())


def _is_note(text: str) -> bool:
    """Whether a text is words, no number, level, title or scale."""
    if (
        NUMBER.fullmatch(text.strip())
        or level_value(text) is not None
        or kind_named(text) is not None
    ):
        return False
    return len(re.findall(r"[a-z]", plain(text))) >= 4 and not _RATIO.search(text)


@lru_cache(maxsize=1 << 16)
def _is_room(text: str) -> bool:
    if _AREA.search(text):
        return True
    return any(word in _ROOM for word in re.findall(r"[a-z]+", plain(text)))


def quarter_arcs(scene: Scene, segments: Integers) -> list[float]:
    """Radii of doors seen from above: quarter arcs from whose centre a leaf of their radius starts.

    Args:
        scene: the scene.
        segments: numbers of the segments that are looked at.

    Returns:
        Radii, in drawing units.
    """
    bent = _bent(scene, _owners(scene, segments)).tolist()
    arcs = [arc for n in bent if (arc := _quarter(scene.segments_of(n))) is not None]
    if not arcs:
        return []
    centres, radii = np.array([arc[0] for arc in arcs]), np.array([arc[1] for arc in arcs])
    reach = 2.0 * _LEAF_SLACK * radii
    rooms = np.hstack([centres - reach[:, None], centres + reach[:, None]])
    lengths = scene.lengths[segments]
    least, most = 1.0 - 3.0 * _LEAF_SLACK, 1.0 + 3.0 * _LEAF_SLACK
    near = segments[(lengths > least * radii.min()) & (lengths < most * radii.max())]
    near = near[may_touch(boxes_of_segments(scene.segments[near]), rooms)]
    tree = shapely.STRtree(shapely.linestrings(scene.segments[near].reshape(-1, 2, 2)))
    beside: list[list[int]] = [[] for _ in arcs]
    pairs = tree.query(shapely.points(centres), predicate="dwithin", distance=reach)
    for arc, line in pairs.T.tolist():
        beside[arc].append(line)
    return [
        arc[1]
        for arc, lines in zip(arcs, beside, strict=True)
        if _has_leaf(arc, scene.segments[near[lines]])
    ]


def _has_leaf(arc: _Quarter, own: Floats) -> bool:
    """Whether one of some segments runs from an arc's centre to one of its ends."""
    (cx, cy), radius, ends = arc
    slack = _LEAF_SLACK * radius
    from_first = np.hypot(own[:, 0] - cx, own[:, 1] - cy) <= slack
    from_last = np.hypot(own[:, 2] - cx, own[:, 3] - cy) <= slack
    for ex, ey in ends:
        one = from_first & (np.hypot(own[:, 2] - ex, own[:, 3] - ey) <= slack)
        two = from_last & (np.hypot(own[:, 0] - ex, own[:, 1] - ey) <= slack)
        if (one | two).any():
            return True
    return False


def _owners(scene: Scene, segments: Integers) -> Integers:
    """The entities that some segments belong to, in order."""
    return distinct_of(scene.owner[segments], len(scene.entities))


def _bent(scene: Scene, entities: Integers) -> Integers:
    """Those of some entities that may be quarter arcs: runs of some segments of which the first,
    the middle and the last turn by about a right angle."""
    some = entities[among(scene.entities.kind[entities], _ROUND)]
    first, count = scene.first[some], np.diff(scene.first)[some]
    some, first, count = (c[(count >= 4) & (count <= 64)] for c in (some, first, count))
    chord = scene.segments[first + count - 1, 2:] - scene.segments[first, :2]
    half = scene.segments[first + count // 2, :2] - scene.segments[first, :2]
    straight = np.hypot(*chord.T)
    area = np.abs(chord[:, 0] * half[:, 1] - chord[:, 1] * half[:, 0])
    sides = np.hypot(*half.T) * np.hypot(*(chord - half).T)
    with np.errstate(divide="ignore", invalid="ignore"):
        rise = area / straight**2
        bend = area / sides  # sine of half the arc's angle
    told = (rise > _RISE[0]) & (rise < _RISE[1]) & (bend > _BEND[0]) & (bend < _BEND[1])
    return np.asarray(some[told])


_LONG = 0.19
"""Lines that are shorter, as a share of a view's shorter side, are none of those that tell cuts,
hips, lots and studs: these are at least a fifth of it."""
_LEAF_SLACK = 0.08
"""How far a leaf's ends may lie off an arc's centre and end, as a share of its radius."""
_QUARTER_DEG = (70.0, 110.0)
"""Angles of arcs that are quarter circles."""
_BEND = tuple(math.sin(math.radians(angle / 2.0)) for angle in (69.0, 111.0))
"""Sines of half the angles of arcs that are looked at: somewhat wider."""
_Quarter = tuple[tuple[float, float], float, tuple[tuple[float, float], tuple[float, float]]]
"""Centre, radius and ends of an arc."""
_OF_TREES = ("CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE", "LINE")
_ROUND = ("ARC", "LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE")
_RISE = (0.02, 0.3)
"""Rise of an arc to its chord: the greatest is 0.26 for 110 degrees; points that follow each other
unevenly are looked at nearer an end."""


def _quarter(segments: Floats) -> _Quarter | None:
    """Centre, radius and ends where a run of segments is a quarter of a circle (70 to 110
    degrees)."""
    if not 4 <= len(segments) <= 64:
        return None
    a, m, b = segments[0, :2], segments[len(segments) // 2, :2], segments[-1, 2:]
    det = 2.0 * ((m[0] - a[0]) * (b[1] - a[1]) - (m[1] - a[1]) * (b[0] - a[0]))
    if abs(det) < 1e-12 * float(np.hypot(*(b - a))) ** 2 or not det:
        return None
    u, v = m - a, b - a
    cx = a[0] + (v[1] * (u @ u) - u[1] * (v @ v)) / det
    cy = a[1] + (u[0] * (v @ v) - v[0] * (u @ u)) / det
    radius = float(np.hypot(a[0] - cx, a[1] - cy))
    far = np.hypot(segments[:, 0] - cx, segments[:, 1] - cy)
    chord = float(np.hypot(*(b - a)))
    if far.max() - far.min() > 0.03 * radius or chord > 2.0 * radius:
        return None
    angle = math.degrees(2.0 * math.asin(min(1.0, chord / (2.0 * radius))))
    if not _QUARTER_DEG[0] <= angle <= _QUARTER_DEG[1]:
        return None
    return (float(cx), float(cy)), radius, ((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))


def _is_cut(own: Floats, core: Box) -> bool:
    """Whether a view shows a building cut through.

    ||_______________||      two walls, each a pair of uprights as far apart
    ||_______________||      slabs: pairs of level lines from wall to wall
    ||               ||      the walls go down past the lowest slab, or rooms lie over each other
    """
    wide, high = core[2] - core[0], core[3] - core[1]
    if wide <= 0.0 or high <= 0.0:
        return False
    d = np.abs(own[:, 2:] - own[:, :2])
    upright = own[(d[:, 0] <= STRAIGHT * d[:, 1]) & (d[:, 1] >= CUT_TALL * high)]
    if len(upright) < 4:
        return False
    slack = 0.002 * wide
    xs = distinct(np.round(upright[:, 0] / slack)) * slack
    if len(xs) < 4 or len(xs) > 12:
        return False
    left, right = xs[1] - xs[0], xs[-1] - xs[-2]
    if (
        abs(left - right) > 0.15 * max(left, right) + 2 * slack
        or not CUT_WALL[0] * wide <= left <= CUT_WALL[1] * wide
    ):
        return False
    level = own[(d[:, 1] <= STRAIGHT * d[:, 0]) & (d[:, 0] > 0.2 * wide)]
    ends = np.sort(level[:, [0, 2]], axis=1)
    slabs = (np.abs(ends[:, 0] - xs[1]) <= 3 * slack) & (np.abs(ends[:, 1] - xs[-2]) <= 3 * slack)
    between = (ends[:, 0] >= xs[1] - 3 * slack) & (ends[:, 1] <= xs[-2] + 3 * slack)
    faces = upright[np.abs(upright[:, 0] - xs[1]) <= 2 * slack][:, [1, 3]]
    heights = level[slabs][:, 1]
    amid = (heights > faces.min() + 0.01 * high) & (heights < faces.max() - 0.01 * high)
    return bool(amid.any() and 1 <= slabs.sum() <= CUT_SLABS and between.sum() <= 2 * CUT_SLABS)


def _trees(scene: Scene, segments: Integers, core: Box) -> int:
    """Circles of some size with something small in their middle."""
    own = _owners(scene, segments)
    own = own[among(scene.entities.kind[own], _OF_TREES)]
    if not len(own):
        return 0
    boxes = scene.boxes[own]
    sides = boxes[:, 2:] - boxes[:, :2]
    size = sides.max(1)
    round_ = scene.entities.kind[own] == "CIRCLE"
    large = np.flatnonzero(round_ & (size > 0.03 * (core[2] - core[0])))
    middles = (boxes[:, :2] + boxes[:, 2:]) / 2
    found = 0
    for n in large[:200]:
        far = np.hypot(*(middles - middles[n]).T)
        found += bool(((far < 0.1 * size[n]) & (size < 0.5 * size[n])).any())
    return found


def _has_hips(own: Floats, core: Box) -> bool:
    """Whether slanting lines run inwards from two or more corners of a rectangle round the view.

     _________
    |\\______/|      a corner: a long level and a long upright line end there; the slanting line
    |/      \\|      that starts there runs to the upright's side (a gable's rakes run away from it)
    """
    wide, high = core[2] - core[0], core[3] - core[1]
    slack = 0.015 * max(wide, high)
    d = np.abs(own[:, 2:] - own[:, :2])
    slanting = own[
        (d[:, 0] > 0.3 * d[:, 1]) & (d[:, 1] > 0.3 * d[:, 0]) & (d.max(1) > 0.2 * min(wide, high))
    ]
    level = own[(d[:, 1] <= STRAIGHT * d[:, 0]) & (d[:, 0] > 0.6 * wide)].reshape(-1, 2)
    upright = own[(d[:, 0] <= STRAIGHT * d[:, 1]) & (d[:, 1] > 0.6 * high)]
    found = set()
    for x0, y0, _, y1 in (*slanting.tolist(), *slanting[:, [2, 3, 0, 1]].tolist()):
        if not (np.hypot(level[:, 0] - x0, level[:, 1] - y0) <= slack).any():
            continue
        for ux0, uy0, _, uy1 in (*upright.tolist(), *upright[:, [2, 3, 0, 1]].tolist()):
            if math.hypot(ux0 - x0, uy0 - y0) <= slack and (uy1 - uy0) * (y1 - y0) > 0.0:
                found.add((round(x0 / (4 * slack)), round(y0 / (4 * slack))))
    return len(found) >= 2


def _is_lot(own: Floats, core: Box) -> bool:
    """Whether long lines run along all four sides, at least two of them not quite upright or
    level."""
    wide, high = core[2] - core[0], core[3] - core[1]
    d = np.abs(own[:, 2:] - own[:, :2])
    level, upright = (
        own[(d[:, 0] > 0.75 * wide) & (d[:, 1] < 0.12 * high)],
        own[(d[:, 1] > 0.75 * high) & (d[:, 0] < 0.12 * wide)],
    )
    slants = 0
    for lines, axis, sides in ((level, 1, (core[1], core[3])), (upright, 0, (core[0], core[2]))):
        span = high if axis else wide
        for side in sides:
            near = lines[np.abs((lines[:, axis] + lines[:, axis + 2]) / 2 - side) <= 0.12 * span]
            if not len(near):
                return False
            slants += bool((np.abs(near[:, axis] - near[:, axis + 2]) > 0.004 * span).any())
    return slants >= 3


def _studs(own: Floats, core: Box) -> int:
    """Number of pairs of tall uprights of one width that stand at least twice as far apart."""
    high = core[3] - core[1]
    d = np.abs(own[:, 2:] - own[:, :2])
    tall = own[(d[:, 0] <= STRAIGHT * d[:, 1]) & (d[:, 1] > FRAMING_TALL * high)]
    xs = distinct(np.round(tall[:, 0] / (1e-3 * high))) * 1e-3 * high
    steps = np.diff(xs)
    if len(steps) < 2 * FRAMING - 1:
        return 0
    thin = float(np.percentile(steps, 25))
    small = np.abs(steps - thin) <= 0.25 * thin
    wide = steps >= 2.5 * thin
    return (
        int(small.sum())
        if (small | wide).mean() > 0.8 and abs(int(small.sum()) - int(wide.sum())) <= 3
        else 0
    )
