"""Kinds of runs, as the bounds look at them: what their corner pieces may cover."""

from __future__ import annotations

import math
from typing import Literal, NamedTuple, Protocol

from dxf2veneer.basics.tolerances import BOUND_IN, COLUMN_IN, EXACT_IN


class RunEnds(Protocol):
    """A run as far as the bounds look at it: its length, overhangs included, and its ends."""

    @property
    def length(self) -> float:
        """Length that pieces have to make up, in inches."""

    @property
    def left(self) -> Literal["plain", "corner", "mitre"]:
        """What happens at its left end."""

    @property
    def right(self) -> Literal["plain", "corner", "mitre"]:
        """What happens at its right end."""

    @property
    def face(self) -> float:
        """Width between two outside corners that bound it, in inches; infinite for other runs."""


class PanelSizes(Protocol):
    """Lengths of panels, a saw cut, the least and the longest corner piece, a narrow column."""

    @property
    def panel(self) -> float:
        """Length of a flat panel."""

    @property
    def corner(self) -> float:
        """Length of a corner panel."""

    @property
    def kerf(self) -> float:
        """Width of a saw cut."""

    @property
    def least(self) -> float:
        """Length of the least piece."""

    @property
    def stagger(self) -> float:
        """How far joints of adjacent courses stand apart."""

    @property
    def column(self) -> float:
        """Width up to which a column's face is laid in corner pieces alone."""

    @property
    def longest_corner(self) -> float:
        """Length of the longest corner piece."""


def is_one_corner_piece(run: RunEnds, sizes: PanelSizes) -> bool:
    """Whether a run with a corner at one end is laid in one corner piece whatever else is tried.

    Two pieces of least length don't fit (rule L4), or it is the face of a narrow column, which is
    laid in corner pieces alone (rule L12). Every other run may be corner piece and flat piece.

    Args:
        run: The run.
        sizes: Lengths of panels, saw cut and least piece.

    Returns:
        False for runs without a corner end, and for those too long for one corner piece.
    """
    if "corner" not in (run.left, run.right):
        return False
    if run.length < 2.0 * sizes.least - EXACT_IN:
        return True
    if run.length > sizes.longest_corner + EXACT_IN:
        return False
    is_at_one_end = {run.left, run.right} == {"corner", "plain"}
    return is_at_one_end and run.face <= sizes.column + COLUMN_IN


class RunKind(NamedTuple):
    """Runs that are alike: what their corner pieces may cover together, and each of them."""

    length: float
    left: bool
    right: bool
    low: float
    high: float
    """Corner pieces cover from ``low`` to ``high`` of it together."""
    all: bool
    """Whether they may cover all of it."""
    shortest: float
    longest: float
    """Of each corner piece."""

    @property
    def most(self) -> float:
        """The most that corner pieces cover."""
        return self.length if self.all else self.high


def run_kind(run: RunEnds, sizes: PanelSizes) -> RunKind | None:
    """The kind of a run.

    Args:
        run: The run; lengths count to a millionth of an inch, less than that left off.
        sizes: Lengths of panels, saw cut and least piece.

    Returns:
        The kind; None where two finished ends are too near for two pieces, or too far for two and
        too near for three.
    """
    length = math.floor(run.length * 1e6) / 1e6
    left, right = run.left == "corner", run.right == "corner"
    if not left and not right:
        return RunKind(length, left, right, 0.0, 0.0, False, 0.0, 0.0)
    if left and right:
        return _between_corners(length, sizes)
    if is_one_corner_piece(run, sizes) and "plain" in (run.left, run.right):
        return RunKind(length, left, right, length, length, True, length, length)
    return _at_corner(length, left, right, sizes)


def _between_corners(length: float, sizes: PanelSizes) -> RunKind | None:
    """A run between two corners: a piece at each, which may meet, or flat pieces between."""
    least, longest = sizes.least, sizes.longest_corner + BOUND_IN
    if length < 2 * least - BOUND_IN or 2 * longest < length < 3 * least - BOUND_IN:
        return None
    low = 2 * least - BOUND_IN
    high = max(low, min(2 * longest, length - least + BOUND_IN))
    whole = length <= 2 * longest
    most = length if whole else high
    return RunKind(length, True, True, low, high, whole, least, min(longest, most - low / 2))


def _at_corner(length: float, left: bool, right: bool, sizes: PanelSizes) -> RunKind:
    """A run with a corner at one end: its piece alone where that may be so long, or beside flat
    ones."""
    longest = sizes.longest_corner + BOUND_IN
    shortest = min(sizes.least, length) - BOUND_IN
    whole = length <= longest
    high = max(shortest, min(longest, length - sizes.least + BOUND_IN))
    return RunKind(length, left, right, shortest, high, whole, shortest, length if whole else high)
