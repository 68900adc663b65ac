"""Values of a job that are more than a text or a number: units, code pages, points, windows, scales. Each is checked
as it is read; a ValueError says what it should look like."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from dxf2veneer.config.settings import as_choice, as_names, as_number, as_text
from dxf2veneer.textio.codepage import code_page
from dxf2veneer.units import parse_plot_scale, unit_by_name


def as_unit(value: Any) -> str:
    """The short name of a unit of length."""
    return unit_by_name(as_text(value)).name


def as_encoding(value: Any) -> str:
    """The name of a code page, as Python names them, in which DXF can be written: ASCII is part of it."""
    return code_page(as_text(value))


def as_prefix(value: Any) -> str:
    """The beginning of a layer name: letters, digits, hyphens, underscores."""
    if not as_text(value) or not all(c.isascii() and (c.isalnum() or c in "-_$") for c in value):
        raise ValueError("wants letters, digits, - and _ only")
    return str(value)


def as_dxf_version(value: Any) -> str:
    """A DXF version by the name of its release, upper and lower case alike."""
    return as_choice("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")(
        as_text(value).upper()
    )


def as_points(value: Any) -> tuple[tuple[float, float], ...]:
    """Points written as X,Y in the drawing's units."""
    return tuple((x, y) for x, y in (_numbers(text, 2) for text in as_names(value)))


class Window(NamedTuple):
    """A box in the drawing's units that holds an elevation, with a name or an empty one."""

    name: str
    box: tuple[float, float, float, float]


def as_windows(value: Any) -> tuple[Window, ...]:
    """Windows written as X0,Y0,X1,Y1 (any two opposite corners) or NAME=X0,Y0,X1,Y1."""
    windows = []
    for text in as_names(value):
        name, _, corners = text.rpartition("=")
        a, b, c, d = _numbers(corners, 4)
        if a == c or b == d:
            raise ValueError("wants two corners that are apart both ways")
        windows.append(Window(name.strip(), (min(a, c), min(b, d), max(a, c), max(b, d))))
    return tuple(windows)


def _numbers(text: str, count: int) -> tuple[float, ...]:
    try:
        numbers = tuple(float(part) for part in text.split(","))
    except ValueError:
        numbers = ()
    if len(numbers) != count or not all(map(math.isfinite, numbers)):
        raise ValueError(f"wants {count} numbers between commas")
    return numbers


def as_plot_scale(value: Any) -> float:
    """How many times larger than the plot the building is, from 1 to 2000."""
    if not isinstance(value, int | float | str):
        raise ValueError("wants a scale")
    return as_number(1.0, 2000.0)(parse_plot_scale(value))
