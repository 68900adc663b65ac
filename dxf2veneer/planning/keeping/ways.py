"""Ways to lay a run as measured, and how many pieces of the plan before each changes.

before   | corner a | first |  whole  |  whole  | last | corner b |
one      | corner a | first |  whole  |  whole  | last +  | corner b |      one piece takes it all
two      | corner a | first + |  whole  |  whole  | last | corner b |       joints go along
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, KEEP_STEP_IN, WHOLE_PANEL_IN
from dxf2veneer.planning.keeping.before import OldPart, OldRun
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.situation import joints_of
from dxf2veneer.planning.sizes import LayingSizes


@dataclass(frozen=True)
class Way:
    """One way to lay a run."""

    lengths: tuple[float, ...]
    old: tuple[int | None, ...]
    """For each piece its place in the run before, None for one that was not there."""
    changed: int
    """Pieces cut otherwise, added or taken away."""
    is_broken: bool = False
    """Whether a piece is shorter or longer than the rules allow."""
    corners: int = 0
    """How many of the changed ones are corner pieces."""


class Ends(NamedTuple):
    """Lengths to try of the first and of the last flat piece of a run, None for any."""

    first: float | None
    last: float | None


@dataclass(frozen=True)
class _Shape:
    """A run before by its structure: a corner piece or none, flat ones, a corner piece or none."""

    left: OldPart | None
    flats: tuple[OldPart, ...]
    right: OldPart | None

    @classmethod
    def of(cls, old: OldRun) -> _Shape:
        parts = old.parts
        left = parts[0] if parts[0].unit == "corner" and parts[0].hand == "left" else None
        rest = parts[1:] if left else parts
        right = rest[-1] if rest and rest[-1].unit == "corner" else None
        return cls(left, rest[:-1] if right else rest, right)


def narrow_ways(run: Run, old: OldRun, sizes: LayingSizes) -> list[Way]:
    """The ways that keep every piece, or all but one.

    Args:
        run: The run as measured.
        old: The run before.
        sizes: Lengths and limits, in inches.

    Returns:
        The one that keeps every piece where the run is as long as it was; else one for each piece
        beside an end, those that keep the rules first; at least one way.
    """
    lengths = [p.length for p in old.parts]
    more = run.length - math.fsum(lengths)
    places = tuple(range(len(lengths)))
    if abs(more) <= EXACT_IN:
        return [Way(tuple(lengths), places, 0)]
    found = []
    for k in _ends(old):
        new = [n + more if j == k else n for j, n in enumerate(lengths)]
        is_corner = old.parts[k].unit == "corner"
        fits = _fits(new[k], is_corner, len(new) == 1, sizes) or lengths[k] < sizes.least
        found.append(Way(tuple(new), places, 1, not fits or new[k] <= 0.0, int(is_corner)))
    kept = [way for way in found if not way.is_broken]
    return kept or [max(found, key=lambda way: min(way.lengths))]


def _ends(old: OldRun) -> list[int]:
    """Places of the pieces that may be cut otherwise: corner pieces and flat ones beside them."""
    last = len(old.parts) - 1
    corners = [k for k in {0, last} if old.parts[k].unit == "corner"]
    flats = [k for k, part in enumerate(old.parts) if part.unit == "flat"]
    return sorted({*corners, *flats[:1], *flats[-1:]}) or [0]


def _fits(length: float, is_corner: bool, is_alone: bool, sizes: LayingSizes) -> bool:
    most = sizes.panel
    if is_corner:
        most = sizes.corner if is_alone else sizes.longest_corner
    return sizes.least - EXACT_IN <= length <= most + EXACT_IN


def wide_ways(
    run: Run,
    old: OldRun | None,
    near: Sequence[float],
    sizes: LayingSizes,
    ends: Sequence[Ends] = (),
    *,
    few: bool = False,
) -> list[Way]:
    """Ways that change two pieces and more, in steps, and where joints stand just the stagger
    apart from others.

    Args:
        run: The run as measured.
        old: The run before; None for a run that was not there.
        near: Joints of the courses below and above, as they stand now.
        sizes: Lengths and limits, in inches.
        ends: Lengths of a first and last flat piece that are tried besides.
        few: Whether nothing else is tried but keeping a piece before.

    Returns:
        The ways that keep the rules about lengths.
    """
    shape = _Shape.of(old) if old else _Shape(None, (), None)
    has_left = bool(shape.left) if old else run.left == "corner"
    has_right = bool(shape.right) if old else run.right == "corner"
    lefts = _corner_lengths(shape.left, has_left, sizes, few=few)
    rights = _corner_lengths(shape.right, has_right, sizes, few=few)
    lefts += _beside(run, [one.last for one in ends], sizes) if has_left else []
    rights += _beside(run, [one.first for one in ends], sizes) if has_right else []
    found: dict[tuple[float, ...], Way] = {}
    for left in lefts:
        for right in rights:
            both = (left != lefts[0]) + (right != rights[0])
            if both == 2 and old:
                continue
            is_few = few or (bool(both) and bool(old))
            firsts = _firsts(run, shape, left, right, near, sizes, few=is_few)
            firsts += _of_ends(run.length - left - right, ends, sizes)
            for row in _rows(run.length - left - right, firsts, sizes):
                way = _way(shape, left, row, right)
                found.setdefault(tuple(round(n, 6) for n in way.lengths), way)
    if has_left and has_right and not shape.flats:
        for left in lefts:
            right = run.length - left
            if _fits(right, True, False, sizes):
                way = _way(shape, left, (), right)
                found.setdefault(tuple(round(n, 6) for n in way.lengths), way)
    return list(found.values())


def _corner_lengths(
    part: OldPart | None, is_there: bool, sizes: LayingSizes, *, few: bool
) -> list[float]:
    """The lengths of a corner piece that are tried, the one before first; 0 for none."""
    if not is_there:
        return [0.0]
    if few and part:
        return [part.length]
    steps = _steps(sizes.least, sizes.longest_corner)
    return [part.length, *(n for n in steps if n != part.length)] if part else steps


def _steps(low: float, high: float) -> list[float]:
    return [low + n * KEEP_STEP_IN for n in range(1 + math.floor((high - low) / KEEP_STEP_IN))]


def _firsts(
    run: Run,
    shape: _Shape,
    left: float,
    right: float,
    near: Sequence[float],
    sizes: LayingSizes,
    *,
    few: bool,
) -> list[float]:
    """Lengths of the first flat piece that are tried."""
    flat = run.length - left - right
    found = [part.length for part in (*shape.flats[:1], *shape.flats[-1:])]
    if shape.flats:  # the last one kept
        found.append((flat - shape.flats[-1].length) % sizes.panel)
    if not few:
        found += _steps(sizes.least, sizes.panel)
        for x in near:
            for side in (-sizes.stagger, sizes.stagger):
                found.append((x + side - run.x0 - left) % sizes.panel)
    return found


def _beside(run: Run, flats: Sequence[float | None], sizes: LayingSizes) -> list[float]:
    """The corner pieces that leave a flat piece as it is wanted."""
    return [run.length - n for n in flats if n and _fits(run.length - n, True, False, sizes)]


def _of_ends(flat: float, ends: Sequence[Ends], sizes: LayingSizes) -> Iterator[float]:
    """The first piece for each first or last one that is wanted."""
    for one in ends:
        if one.first is not None:
            yield one.first
        if one.last is not None:
            yield (flat - one.last) % sizes.panel


def _rows(flat: float, firsts: Sequence[float], sizes: LayingSizes) -> Iterator[tuple[float, ...]]:
    """Rows of flat pieces: one alone, or a first one, whole panels, a last one."""
    low, high = sizes.least - EXACT_IN, sizes.panel + EXACT_IN
    if low <= flat <= high:
        yield (flat,)
    for first in firsts:
        rest = flat - first
        if not low <= first <= high or rest < low:
            continue
        whole = max(0, math.ceil((rest - sizes.panel) / sizes.panel - WHOLE_PANEL_IN))
        last = rest - whole * sizes.panel
        if low <= last <= high:
            yield (first, *(sizes.panel,) * whole, last)


def _way(shape: _Shape, left: float, row: Sequence[float], right: float) -> Way:
    """The way with those pieces, and which of the pieces before each is."""
    lengths = [*([left] if left else []), *row, *([right] if right else [])]
    old: list[int | None] = [None] * len(lengths)
    kept = corners = 0
    begin = int(shape.left is not None)
    if left and shape.left:
        old[0] = 0
        corners += not _same(left, shape.left.length)
        kept += _same(left, shape.left.length)
    if right and shape.right:
        old[-1] = begin + len(shape.flats)
        corners += not _same(right, shape.right.length)
        kept += _same(right, shape.right.length)
    at = int(bool(left))
    for k, j in _paired(len(row), len(shape.flats)):
        old[at + k] = begin + j
        kept += _same(row[k], shape.flats[j].length)
    before = begin + len(shape.flats) + int(shape.right is not None)
    return Way(tuple(lengths), tuple(old), max(len(lengths), before) - kept, corners=corners)


def _paired(new: int, old: int) -> Iterator[tuple[int, int]]:
    """Places of flat pieces and of those before: first with first, last with last."""
    if not new or not old:
        return
    yield 0, 0
    if new > 1 and old > 1:
        for k in range(1, min(new, old) - 1):
            yield k, k
        yield new - 1, old - 1


def _same(one: float, two: float) -> bool:
    return abs(one - two) <= EXACT_IN


def joints(run: Run, way: Way) -> list[float]:
    """Where the joints of a run stand.

    Args:
        run: The run.
        way: How it is laid.

    Returns:
        Their x from the left, in inches.
    """
    return joints_of(run, way.lengths)
