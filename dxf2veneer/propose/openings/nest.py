"""Which outlines lie in which, and how far panes and leaves fill the outlines around them.

+-----------+
| +--+ +--+ |     panes that lie in an outline fill it where no more than a frame is left round
| |  | |  | |     them and no more than bars between them
| +--+ +--+ |
+-----------+
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from dxf2veneer.propose import constants
from dxf2veneer.propose.lines.noding import Floats, Ints, Polygons

_MITRE_MOST = 5.0
"""How far a mitre reaches at most from its corner, in widths of the margin around a polygon."""


class Pairs(NamedTuple):
    """Numbers of outlines and of those that lie in them, each itself too, in order."""

    outer: Ints
    inner: Ints

    def of(self, some: NDArray[np.bool_]) -> Pairs:
        """The pairs of which the inner outline is one of some.

        Args:
            some: one truth value for each outline.

        Returns:
            Those pairs, in order.
        """
        which = some[self.inner]
        return Pairs(self.outer[which], self.inner[which])

    def counted(self, some: NDArray[np.bool_]) -> Ints:
        """How many of some outlines lie in each.

        Args:
            some: one truth value for each outline.

        Returns:
            One number for each outline.
        """
        return np.bincount(self.of(some).outer, minlength=len(some))


@dataclass(frozen=True, eq=False)
class Nest:
    """Outlines and what lies in what.

    Attributes:
        boxes: the box of each, shape (c, 4).
        areas: the area of each.
        within: which lie in which.
        about: the same where on a line that both stand on they don't quite agree.
        metre: drawing units in a metre.
    """

    boxes: Floats
    areas: Floats
    within: Pairs
    about: Pairs
    metre: float

    def innermost(self, some: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Those of some outlines that hold no other of them.

        Args:
            some: one truth value for each outline.

        Returns:
            One truth value for each outline.
        """
        outer, inner = self.within.of(some)
        result = some.copy()
        result[outer[outer != inner]] = False
        return result

    def leaves_of(self, lites: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """The innermost lites, each with stiles and rails around it as the leaf that these make.

        Args:
            lites: which outlines are lites.

        Returns:
            Which outlines are leaves, or lites without one.
        """
        panes = self.innermost(lites)
        outer, inner = self.within.of(panes)
        alone = lites[outer] & (np.bincount(outer, minlength=len(lites))[outer] == 1)
        outer, inner = outer[alone], inner[alone]
        margin = np.abs(self.boxes[outer] - self.boxes[inner]).max(axis=1, initial=0.0)
        near = margin <= constants.STILE_MOST_M * self.metre
        leaf = np.arange(len(lites))
        for number in np.flatnonzero(near)[np.argsort(self.areas[outer[near]])].tolist():
            leaf[inner[number]] = outer[number]
        result = np.zeros(len(lites), dtype=bool)
        result[leaf[panes]] = True
        return result

    def filled(self, panes: NDArray[np.bool_]) -> tuple[Floats, NDArray[np.bool_]]:
        """How far panes fill each outline, shutters left out.

        Args:
            panes: which outlines are panes.

        Returns:
            The share of each outline that they fill, and whether they do so from jamb to jamb and
            from foot to head but for a frame, with no more than bars between them.
        """
        own, count = panes.copy(), len(panes)
        number = np.flatnonzero(panes)
        own[number[attached(self.boxes[number], panes[number], self.metre)]] = False
        outer, inner = self.about.of(own)
        share = np.bincount(outer, self.areas[inner], minlength=count) / self.areas
        close = np.ones(count, dtype=bool)
        for axis in (0, 1):
            order = np.lexsort((self.boxes[inner, axis], outer))
            low, high = self.boxes[inner[order]][:, axis::2].T
            room = widest_room(low, high, outer[order], self.boxes[:, axis::2])
            close &= room <= constants.FRAME_MOST_M * self.metre
        return share, close


def nest_of(found: Polygons, boxes: Floats, metre: float) -> Nest:
    """What lies in what.

    Args:
        found: outlines, in drawing units.
        boxes: the box of each, shape (c, 4).
        metre: drawing units in a metre.

    Returns:
        The nest.
    """
    margin = constants.FRAME_LEAST_M / 2.0 * metre
    reach = 2.0 * _MITRE_MOST * margin
    outer, inner = shapely.STRtree(found).query(found)
    room = (boxes[inner] - boxes[outer]) * np.array([1.0, 1.0, -1.0, -1.0])
    may = (room >= -reach).all(axis=1)
    outer, inner, room = outer[may], inner[may], room[may]
    order = np.lexsort((inner, outer))
    outer, inner, room = outer[order], inner[order], room[order]
    within = outer == inner
    asked = np.flatnonzero((room >= 0.0).all(axis=1) & ~within)
    shapely.prepare(found)
    within[asked] = shapely.covers(found[outer[asked]], found[inner[asked]])
    about = within.copy()
    asked = np.flatnonzero(~within)
    around, place = np.unique(outer[asked], return_inverse=True)
    grown = shapely.buffer(found[around], margin, join_style="mitre", mitre_limit=_MITRE_MOST)
    shapely.prepare(grown)
    about[asked] = shapely.covers(grown[place], found[inner[asked]])
    return Nest(
        boxes,
        np.asarray(shapely.area(found)),
        Pairs(outer[within], inner[within]),
        Pairs(outer[about], inner[about]),
        metre,
    )


def widest_room(low: Floats, high: Floats, whole: Ints, ends: Floats) -> Floats:
    """The widest room that spans leave in the whole that each belongs to.

    Args:
        low, high: the spans, those of a whole one after the other by rising ``low``.
        whole: the number of the whole of each span.
        ends: both ends of each whole, shape (w, 2).

    Returns:
        For each whole the widest room between its ends and its spans; infinite without spans.
    """
    result = np.full(len(ends), np.inf)
    if not len(whole):
        return result
    begins = np.diff(whole, prepend=-1) != 0
    at = np.flatnonzero(begins)
    values, rank = np.unique(high, return_inverse=True)
    ranked = (np.cumsum(begins) - 1) * len(values) + rank
    first, last = ends[whole].T
    reached = np.maximum(first, values[np.maximum.accumulate(ranked) % len(values)])
    before = np.where(begins, first, np.roll(reached, 1))
    closing = np.append(at[1:], len(whole)) - 1
    result[whole[at]] = np.maximum(np.maximum.reduceat(low - before, at), (last - reached)[closing])
    return result


def attached(boxes: Floats, framed: NDArray[np.bool_], metre: float) -> NDArray[np.bool_]:
    """Which outlines belong to another: shutters beside, steps, sills and aprons below, lintels
    above.

    Args:
        boxes: boxes of outlines that don't overlap.
        framed: whether each has a frame.
        metre: drawing units in a metre.

    Returns:
        One truth value for each.
    """
    near = constants.ATTACHED_M * metre
    made = shapely.box(*(boxes + near * np.array([-1.0, -1.0, 1.0, 1.0])).T)
    one, other = shapely.STRtree(made).query(made)
    (x0, y0, x1, y1), (left, foot, right, head) = boxes[one].T, boxes[other].T
    width, height = x1 - x0, y1 - y0
    tall = (
        (np.abs(foot - y0) < 0.15 * height)
        & (head - foot >= 0.7 * height)
        & (head - foot <= 1.1 * height)
        & (right - left < 0.8 * width)
    )
    result = np.zeros(len(boxes), dtype=bool)
    before = np.flatnonzero(tall & (np.abs(right - x0) <= near))
    after = np.flatnonzero(tall & (np.abs(left - x1) <= near))
    wide = (boxes[:, 2] - boxes[:, 0])[other]
    for a in before.tolist():
        alike = after[(one[after] == one[a]) & (np.abs(wide[a] - wide[after]) <= 0.1 * wide[a])]
        if len(alike):
            result[other[a]] = result[other[alike]] = True
    over = np.minimum(right, x1) - np.maximum(left, x0) >= 0.9 * width
    below, above = np.abs(head - y0) <= near, np.abs(foot - y1) <= near
    apron = below & (right - left <= constants.APRON_WIDE * width)
    low = (below | above) & (head - foot < 0.5 * height)
    belongs = framed[one] & ~framed[other] & over & (low | apron)
    result[other[belongs]] = True
    return result
