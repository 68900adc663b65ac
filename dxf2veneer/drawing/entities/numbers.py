"""The gate for the numbers of an entity: finite and of a size that drawings have, or the entity is
not looked at any further.

Coordinates, sizes, bulges, angles, heights of texts, scales, knots: what a later step reckons with
them is finite then too.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
from ezdxf.math import Vec2, Vec3
from numpy.typing import NDArray

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import FARTHEST_DRAWN, LARGEST_BULGE
from dxf2veneer.drawing.errors import EntityError

_LISTS = ("control_points", "fit_points", "knots", "weights", "vertices")


def refuse_numbers(entity: Any) -> None:
    """Stop at an entity whose numbers nothing can be reckoned with.

    Args:
        entity: An entity as the library reads it.

    Raises:
        EntityError: A number of it is not finite, or farther out than any drawing goes.
    """
    for numbers in _numbers(entity):
        if not np.isfinite(numbers).all():
            raise EntityError(message("coordinates-not-finite"))
        if numbers.size and np.abs(numbers).max() > FARTHEST_DRAWN:
            raise EntityError(message("beyond-measure"))
    if not (np.abs(_bulges(entity)) <= LARGEST_BULGE).all():
        raise EntityError(message("beyond-measure"))


def has_usable_numbers(entity: Any) -> bool:
    """Whether an entity passes ``refuse_numbers``.

    Args:
        entity: An entity as the library reads it.

    Returns:
        Whether every number of it can be reckoned with.
    """
    try:
        refuse_numbers(entity)
    except EntityError:
        return False
    return True


def _numbers(entity: Any) -> Iterator[NDArray[np.float64]]:
    """The numbers of an entity: its attributes, then each list of points."""
    single: list[float] = []
    for value in entity.dxfattribs().values():
        if isinstance(value, float):
            single.append(value)
        elif isinstance(value, Vec3):
            single += value.xyz
        elif isinstance(value, Vec2):
            single += (value.x, value.y)
    yield np.array(single, np.float64)
    if entity.dxftype() == "LWPOLYLINE":
        yield np.array(entity.lwpoints.values, np.float64)
    elif entity.dxftype() in ("SPLINE", "LEADER"):
        for name in _LISTS:
            listed = getattr(entity, name, None)
            if listed is not None and len(listed):
                yield np.array([*map(_plain, listed)], np.float64)
    elif entity.dxftype() == "POLYLINE":
        yield np.array([v.dxf.location.xyz for v in _located(entity)], np.float64)


def _plain(value: Any) -> Any:
    return tuple(Vec3(value)) if not isinstance(value, float | int) else value


def _bulges(entity: Any) -> NDArray[np.float64]:
    """The bulges of a polyline of either kind; none of other entities."""
    if entity.dxftype() == "LWPOLYLINE":
        return np.asarray(entity.lwpoints.values, np.float64).reshape(-1, _PER_POINT)[:, -1]
    located = _located(entity) if entity.dxftype() == "POLYLINE" else ()
    return np.array([v.dxf.get("bulge", 0.0) for v in located], np.float64)


_PER_POINT = 5
"""Numbers of each point: x, y, the widths at start and end, the bulge."""


def _located(entity: Any) -> Iterator[Any]:
    return (v for v in entity.vertices if v.is_alive and v.dxf.hasattr("location"))
