"""Kinds of runs, as the bounds look at them: what their corner pieces may cover."""

from __future__ import annotations

from typing import Literal, NamedTuple, Protocol

from dxf2veneer.basics.tolerances import BOUND_IN


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


class PanelSizes(Protocol):
    """Lengths of the flat and the corner panel, of a saw cut and of the least piece, in inches."""

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


def run_kind(
    length: float, left: bool, right: bool, bay: bool, sizes: PanelSizes
) -> RunKind | None:
    """The kind of a run.

    Args:
        length: Its length, overhangs included, in inches.
        left: Whether its left end takes a corner piece.
        right: Whether its right end does.
        bay: Whether it ends at a bay.
        sizes: Lengths of panels, saw cut and least piece.

    Returns:
        The kind; None where two finished ends are too near for two pieces.
    """
    if bay and (left or right):
        return _one_or_more(length, left, right, sizes)
    return _on_wall(length, left, right, sizes)


def _on_wall(length: float, left: bool, right: bool, sizes: PanelSizes) -> RunKind | None:
    """The kind of a run; None where two finished ends are too near for two pieces."""
    least, longest = sizes.least, sizes.corner - sizes.kerf - sizes.least + BOUND_IN
    corners = left + right
    if not corners:
        return RunKind(length, left, right, 0.0, 0.0, False, 0.0, 0.0)
    if corners == 1 and length < 2 * least - BOUND_IN:
        return RunKind(length, left, right, length, length, True, length, length)
    if corners == 1 and length <= longest:
        return _one_or_more(length, left, right, sizes)
    if length < corners * least - BOUND_IN:
        return None
    low = corners * least - BOUND_IN
    high = max(low, min(corners * longest, length - least + BOUND_IN))
    whole = corners == 2 and length <= 2 * longest
    most = length if whole else high
    return RunKind(
        length, left, right, low, high, whole, least, min(longest, most - (corners - 1) * low / 2)
    )


def _one_or_more(length: float, left: bool, right: bool, sizes: PanelSizes) -> RunKind:
    """The kind of a run that may be one corner piece, or a corner piece beside others.

    Both are let stand, from the least corner piece to the whole run where one covers it. That the
    face of a narrow column takes corner pieces alone (rule L12) is dropped.
    """
    longest = sizes.corner - sizes.kerf - sizes.least + BOUND_IN
    shortest, most = min(sizes.least, length) - BOUND_IN, min(longest, length)
    return RunKind(length, left, right, shortest, most, length <= longest, shortest, most)
