"""What is drawn all over a stretch of wall: boards, battens, stones, slabs, hatches, or nothing.

--------------     boards: their step is that of most of their length; lines at other steps
--| door |----     (a sill, a shutter's slats) don't count, and lines in the same rhythm beyond
--|      |----     an opening do
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons
from dxf2veneer.propose.walls.ends import loose_ends
from dxf2veneer.propose.walls.strips import covered_area
from dxf2veneer.propose.walls.structure import Structure

Flags = NDArray[np.bool_]
Pattern = tuple[str, Polygon]
"""Name of a hatch's pattern and the area that it fills."""


class Surface(NamedTuple):
    """What is drawn all over a stretch of wall.

    ``kinds``: boards and battens with their number on a meter, stones and slabs, hatches by the
    names of their patterns; ``purity``: the share of the stretch that they make up, or that is left
    where there are none.
    """

    kinds: Mapping[str, float]
    purity: float
    patches: Mapping[str, float] = {}

    @property
    def shown(self) -> Mapping[str, float]:
        """The cladding, be it drawn all over the stretch or in patches."""
        return self.kinds or self.patches

    @property
    def is_told(self) -> bool:
        """Whether it is known: lines all over a stretch that make no cladding tell nothing."""
        return bool(self.shown) or self.purity >= constants.CLADDING_SHARE

    def differs(self, other: Surface) -> bool:
        """Whether another is a different cladding or the same at other steps; where both are
        hatched the hatches tell, not what stands before them."""
        own, others = self.shown, other.shown
        hatches = [{kind for kind in s if kind.startswith("hatch ")} for s in (own, others)]
        if all(hatches):
            return hatches[0] != hatches[1]
        if own.keys() != others.keys():
            return True
        ratios = [max(n, others[k]) / min(n, others[k]) for k, n in own.items()]
        return any(r > constants.CLADDING_STEP_RATIO for r in ratios)


class Stretch(NamedTuple):
    """A stretch of wall and the runs on it.

    ``inner``: the stretch without its edges and openings; ``own``: for each run of the elevation
    whether it may be cladding of the wall that the stretch is part of: uprights that run far beyond
    its foot or top are axes; ``touches``: whether it touches the stretch.
    """

    inner: Any
    own: Flags
    touches: Flags


def stretch_of(zone: Any, wall: Polygon, s: Structure, openings: Polygons) -> Stretch:
    """A stretch of wall and the runs on it.

    Args:
        zone: the stretch.
        wall: outline of the wall that it is part of.
        s: the structure of the elevation.
        openings: its openings, which are left out.

    Returns:
        The stretch.
    """
    inner = zone.buffer(-2.0 * s.gap)
    if len(openings):
        inner = inner.difference(shapely.union_all(openings[shapely.intersects(openings, inner)]))
    _, low, _, high = wall.bounds
    slack = constants.CLADDING_BEYOND_M * s.metre
    own = (s.runs.lines[:, 1] >= low - slack) & (s.runs.lines[:, 3] <= high + slack)
    touches = np.zeros(len(own), bool)
    touches[s.runs.tree.query(inner, predicate="intersects")] = True
    return Stretch(inner, own, touches)


def may_differ(one: Stretch, two: Stretch, s: Structure, patterns: list[Pattern]) -> bool:
    """Whether two stretches may have different claddings, slabs left out: told by the kinds and
    steps of their lines, which is far quicker than to measure how far these spread.

    Args:
        one: a stretch.
        two: another.
        s: the structure of the elevation.
        patterns: its hatched areas.

    Returns:
        False where both have no hatch and no lines but those of one kind at one step.
    """
    if any(area.intersects(st.inner) for _, area in patterns for st in (one, two)):
        return True
    first, second = (
        [Surface({kind: many}, 1.0) for kind, many in _choices(stretch, s)]
        for stretch in (one, two)
    )
    return any(a.differs(b) for a in first for b in second)


def _choices(stretch: Stretch, s: Structure) -> Iterator[tuple[str, float]]:
    """The kinds of lines on a stretch but for slabs, with the numbers on a meter they may have."""
    for kind, lines in _kinds(stretch, s):
        if kind == "stones":
            yield kind, 1.0
        elif kind != "slabs":
            for step in _steps(stretch, lines.known, s):
                yield kind, s.metre / step
    if _rubble(stretch.inner, s) >= constants.CLADDING_SHARE:
        yield "stones", IRREGULAR


IRREGULAR = 2.0
"""The number that stands for irregular stones, so that they are not those in courses."""


def surface_of(stretch: Stretch, s: Structure, patterns: list[Pattern]) -> Surface:
    """What is drawn on a stretch of wall.

    Args:
        stretch: the stretch.
        s: the structure of the elevation.
        patterns: its hatched areas.

    Returns:
        The cladding that covers most of it.
    """
    inner = stretch.inner
    if inner.is_empty:
        return Surface({}, 1.0)
    name, share, pitch = _lined(stretch, s)
    hatches: Counter[str] = Counter()
    for pattern, area in patterns:
        hatches[f"hatch {pattern}"] += area.intersection(inner).area / inner.area
    kinds = {k: 1.0 for k, part in hatches.items() if part >= constants.CLADDING_SHARE}
    if share >= constants.CLADDING_SHARE:
        kinds[name] = s.metre / pitch if np.isfinite(pitch) else 1.0
    if kinds:
        return Surface(kinds, max(share, *hatches.values()) if hatches else share)
    t = s.texture
    some = (t.boards | t.battens | t.stones | t.joints) & stretch.own & stretch.touches
    patches = _patches(stretch, hatches, s)
    return Surface({}, 1.0 - _spread(inner, np.flatnonzero(some), s), patches)


def _patches(stretch: Stretch, hatches: Mapping[str, float], s: Structure) -> dict[str, float]:
    """What patches on a stretch show, the widest of them: hatches, stones, and boards and battens
    that end on nothing, as slats of a shutter don't."""
    loose = np.asarray(loose_ends(s.runs).any(axis=1))
    found = {kind: (share, 1.0) for kind, share in hatches.items()}
    for kind, lines in _kinds(stretch, s):
        if kind == "stones":
            which = lines.near[s.runs.upright[lines.near]]
            half = constants.STONE_WIDEST_M * s.metre / 8.0
            found[kind] = _covered(stretch.inner, which, half, s), 1.0
        elif kind != "slabs":
            free = _Lines(*(n[loose[n]] for n in lines))
            share, step = _in_steps(stretch, free, s) if len(free.known) else (0.0, np.nan)
            found[kind] = share, s.metre / step
    kind, (share, many) = max(found.items(), key=lambda f: f[1][0], default=("", (0.0, 1.0)))
    return {kind: many} if share >= constants.CLADDING_PATCH else {}


class _Lines(NamedTuple):
    """Runs on a stretch: those that are of one kind of cladding, those of them surely in a rhythm,
    and all that lie the same way."""

    near: Ints
    known: Ints
    alike: Ints


def _kinds(stretch: Stretch, s: Structure) -> Iterator[tuple[str, _Lines]]:
    """The kinds of lines that are surely on a stretch."""
    t, own = s.texture, stretch.own
    drawn = {
        "stones": (t.stones, t.stones, s.runs.upright),
        "boards": (t.boards & s.runs.level & ~t.stones, t.steady, s.runs.level),
        "battens": (t.battens & ~t.stones & own, t.steady, s.runs.upright & own),
        "slabs": ((t.joints | t.crossed) & ~t.stones & own, t.joints, s.runs.upright),
    }
    for kind, (flags, sure, alike) in drawn.items():
        near = np.flatnonzero(flags & stretch.touches)
        known = near[sure[near]]
        if kind == "slabs":
            known = known[_far_inside(known, stretch.inner, s)]
        if len(known):
            yield kind, _Lines(near, known, np.flatnonzero(alike & stretch.touches))


def _lined(stretch: Stretch, s: Structure) -> tuple[str, float, float]:
    """The kind of lines that spreads widest, the share that it spreads over, and its step; of two
    as widespread the first."""
    name, share, pitch = "", 0.0, np.nan
    for kind, lines in _kinds(stretch, s):
        if kind == "slabs":
            spread, step = _spread(stretch.inner, lines.near, s), np.nan
        elif kind == "stones":
            half = constants.STONE_WIDEST_M * s.metre / 2.0
            which = lines.near[s.runs.upright[lines.near]]
            spread, step = _covered(stretch.inner, which, half, s), np.nan
        else:
            spread, step = _in_steps(stretch, lines, s)
        if spread > share + constants.CLADDING_AS_PURE:
            name, share, pitch = kind, spread, step
        if kind == "stones" and share >= constants.CLADDING_SHARE:
            break  # their courses may run in even steps, but boards have no joints
    irregular = _rubble(stretch.inner, s)
    if irregular > share + constants.CLADDING_AS_PURE:
        return "stones", irregular, s.metre / IRREGULAR
    return name, share, pitch


def _rubble(inner: Any, s: Structure) -> float:
    """The share of a stretch of wall that irregular stones cover: what lies no farther than half a
    stone from their joints."""
    half = constants.STONE_MOST_M * s.metre / 2.0
    x0, y0, x1, y1 = inner.bounds
    lines = s.rubble
    boxes = np.hstack(
        [np.minimum(lines[:, :2], lines[:, 2:]), np.maximum(lines[:, :2], lines[:, 2:])]
    )
    near = (boxes[:, 0] < x1) & (boxes[:, 2] > x0) & (boxes[:, 1] < y1) & (boxes[:, 3] > y0)
    if near.sum() < constants.STONE_JOINTS:
        return 0.0
    boxes = boxes[near] + half * np.array([-1.0, -1.0, 1.0, 1.0])
    return covered_area(boxes, inner, constants.CLADDING_ROUND * s.gap) / float(inner.area)


def _far_inside(which: Ints, inner: Any, s: Structure) -> Flags:
    """Which uprights stand away from the sides of a stretch, where boards on corners are."""
    end = constants.SLAB_END_M * s.metre
    x0, _, x1, _ = inner.bounds
    x = s.runs.lines[which, 0]
    return np.asarray((x > x0 + end) & (x < x1 - end))


def _in_steps(stretch: Stretch, lines: _Lines, s: Structure) -> tuple[float, float]:
    """The share of a stretch that boards or battens cover at the step that covers most, and that
    step; of steps that cover as much the one most of them have."""
    best = 0.0, np.nan
    for step in _steps(stretch, lines.known, s):
        off = np.abs(np.log(s.texture.step[lines.near] / step))
        some = lines.near[~(off > np.log(constants.CLADDING_STEP_RATIO))]
        which = np.union1d(some, _in_phase(some, lines.alike, step, s))
        share = _covered(stretch.inner, which, 0.5 * step + s.gap, s)
        if share > best[0] + constants.CLADDING_AS_PURE:
            best = share, step
    return best


def _steps(stretch: Stretch, which: Ints, s: Structure) -> list[float]:
    """The steps that some runs on a stretch have, see ``_common``."""
    return _common(s.texture.step[which], _within(which, stretch.inner, s), s.gap)


def _covered(inner: Any, which: Ints, half: float, s: Structure) -> float:
    """The share of a stretch of wall that lies no farther than this from some runs; at most the
    share of its width from the first end of them to the last: a patch that shows what the cladding
    is like stands at one side."""
    lines = s.runs.lines[which]
    if not len(lines):
        return 0.0
    wide = np.where(s.runs.level[which][:, None], [0.0, half], [half, 0.0])
    strips = np.hstack([lines[:, :2] - wide, np.maximum(lines[:, :2], lines[:, 2:]) + wide])
    covered = covered_area(strips, inner, constants.CLADDING_ROUND * s.gap)
    x0, _, x1, _ = inner.bounds
    first, last = max(lines[:, 0].min(), x0), min(lines[:, 2].max(), x1)
    return float(min(covered / inner.area, (last - first) / (x1 - x0)))


def _within(which: Ints, inner: Any, s: Structure) -> Floats:
    """The lengths of level or upright runs in the box round a stretch of wall."""
    x0, y0, x1, y1 = inner.bounds
    lines = s.runs.lines[which]
    wide = np.minimum(lines[:, 2], x1) - np.maximum(lines[:, 0], x0)
    high = np.minimum(lines[:, 3], y1) - np.maximum(lines[:, 1], y0)
    return np.asarray(np.maximum(wide, high))


def _common(steps: Floats, lengths: Floats, gap: float) -> list[float]:
    """The steps that lines have, that of most of their length first; few have none."""
    size, which = np.unique(np.rint(steps / gap), return_inverse=True)
    along = np.bincount(which, lengths, len(size))
    order = np.argsort(-along, kind="stable")
    order = order[along[order] >= constants.CLADDING_STEP_LEAST * along.sum()]
    return [float(np.median(steps[which == i])) for i in order.tolist()]


def _in_phase(known: Ints, others: Ints, step: float, s: Structure) -> Ints:
    """Which other lines than the known ones lie whole steps from one of them, beyond an opening."""
    if not len(known) or step < constants.RHYTHM_LEAST_M * s.metre:
        return known
    others = np.setdiff1d(others, known, assume_unique=True)
    across = 0 if s.runs.upright[known[0]] else 1
    at = s.runs.lines[others, across]
    away = np.abs(at[:, None] - s.runs.lines[known, across][None, :])
    off = np.abs(away - step * np.rint(away / step))
    return np.asarray(others[(off <= s.gap).any(axis=1)])


def _spread(inner: Any, which: Ints, s: Structure) -> float:
    """The share of a stretch of wall over which some runs spread."""
    parts = shapely.intersection(s.runs.shapes[which], inner)
    hull = shapely.convex_hull(shapely.geometrycollections(parts))
    return float(hull.intersection(inner).area / inner.area)
