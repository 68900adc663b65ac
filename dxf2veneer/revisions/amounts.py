"""Differences of areas, runs, panels, hours and money."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import (
    FIGURES,
    Figure,
    Figures,
    LineChange,
    OpeningQuantities,
    RecordedLine,
    WallChange,
)


def difference(old: Figures | None, new: Figures | None) -> Figures:
    """New less old, figure by figure.

    Args:
        old: Amounts before; None for what was not there, which counts as nothing of each.
        new: Amounts now; None for what is no longer there.

    Returns:
        The differences by the same keys; None where one of the two is not known.
    """
    keys = list(dict.fromkeys([*(new or {}), *(old or {})]))
    return {key: _less(_of(new, key, old), _of(old, key, new)) for key in keys}


def _of(own: Figures | None, key: str, other: Figures | None) -> Figure:
    """An amount; nothing of it where there is no thing to have it."""
    if own is not None:
        return own.get(key)
    value = (other or {}).get(key)
    return Decimal(0) if isinstance(value, Decimal) else 0


def _less(new: Figure, old: Figure) -> Figure:
    if new is None or old is None:
        return None
    if isinstance(new, Decimal) and isinstance(old, Decimal):
        return new - old
    return new - old if isinstance(new, int) and isinstance(old, int) else float(new) - float(old)


def opening_figures(measured: OpeningQuantities | None) -> Figures | None:
    """The amounts of an opening.

    Args:
        measured: The opening, if there is one.

    Returns:
        Amounts by the keys of ``model.OPENING_FIGURES``; None without an opening.
    """
    if measured is None:
        return None
    area = square_feet(measured.area)
    return {
        "area_sqft": area,
        "deducted_area_sqft": area if measured.deducted else 0.0,
        "width_in": measured.width,
        "height_in": measured.height,
        "perimeter_in": measured.perimeter,
        "trim_head_in": measured.trim_head,
        "trim_jamb_in": measured.trim_jambs,
        "trim_sill_in": measured.trim_sill,
    }


def added(walls: Iterable[WallChange], total: Figures) -> Figures:
    """Of each figure what changed walls have more.

    Args:
        walls: All walls.
        total: The difference of the whole, which names the figures.

    Returns:
        The sums; None where the difference of a wall is not known.
    """
    touched = [wall for wall in walls if wall.touched]
    return {key: _summed(touched, key, 1) for key in total}


def deducted(walls: Iterable[WallChange], total: Figures) -> Figures:
    """Of each figure what changed walls have less.

    Args:
        walls: All walls.
        total: The difference of the whole, which names the figures.

    Returns:
        The sums, 0 or below; None where the difference of a wall is not known.
    """
    touched = [wall for wall in walls if wall.touched]
    return {key: _summed(touched, key, -1) for key in total}


def _summed(walls: Sequence[WallChange], key: str, sign: int) -> Figure:
    found = [wall.delta.get(key) for wall in walls]
    if any(value is None for value in found):
        return None
    wanted = [value for value in found if value is not None and value * sign > 0]
    if FIGURES[key] == "money":
        return sum((Decimal(value) for value in wanted), Decimal(0))
    return math.fsum(float(value) for value in wanted)


def line_changes(old: Sequence[RecordedLine], new: Sequence[RecordedLine]) -> Iterator[LineChange]:
    """Lines of order, work and charges that differ.

    Args:
        old: Lines before.
        new: Lines now.

    Returns:
        Pairs of one kind and key, in the order of the new lines; those that are gone last.
    """
    before = {(line.kind, line.key): line for line in old}
    for line in new:
        was = before.pop((line.kind, line.key), None)
        if was is None or not _is_same(was, line):
            yield LineChange(was, line)
    for was in before.values():
        yield LineChange(was, None)


def _is_same(old: RecordedLine, new: RecordedLine) -> bool:
    """Whether two lines have the same amounts, but for the error of sums."""
    if old.cost != new.cost:
        return False
    pairs = (
        (old.quantity, new.quantity), (old.hours, new.hours), (old.weight_lb, new.weight_lb)
    )  # fmt: skip
    return all(
        a == b or (a is not None and b is not None and math.isclose(a, b, rel_tol=1e-6))
        for a, b in pairs
    )
