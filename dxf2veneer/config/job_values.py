"""Values of a job that are more than a text or a number: units, code pages, points, windows,
scales.

Each is checked as it is read, as those of ``checks`` are.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any, NamedTuple, TypeVar

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongItemError, WrongValueError, parse_plot_scale, unit_by_name
from dxf2veneer.config.checks import as_choice, as_names, as_number, as_text
from dxf2veneer.textio.codepage import code_page

Item = TypeVar("Item")


def as_unit(value: Any) -> str:
    """A unit of length.

    Args:
        value: What was written.

    Returns:
        The unit's short name.

    Raises:
        WrongValueError: There is no such unit.
    """
    return unit_by_name(as_text(value)).name


def as_encoding(value: Any) -> str:
    """A code page in which DXF can be written: ASCII is part of it.

    Args:
        value: What was written.

    Returns:
        Its name, as Python has it.

    Raises:
        WrongValueError: There is no such code page.
    """
    known = code_page(as_text(value))
    if known is None:
        raise WrongValueError(message("wants-code-page"))
    return known


def as_prefix(value: Any) -> str:
    """The beginning of a layer name.

    Args:
        value: What was written.

    Returns:
        The text.

    Raises:
        WrongValueError: It holds other signs than letters, digits, hyphens, underscores and $.
    """
    if not as_text(value) or not all(c.isascii() and (c.isalnum() or c in "-_$") for c in value):
        raise WrongValueError(message("wants-layer-signs"))
    return str(value)


def as_dxf_version(value: Any) -> str:
    """A DXF version by the name of its release, upper and lower case alike.

    Args:
        value: What was written.

    Returns:
        The release: ``R2010``.

    Raises:
        WrongValueError: It is none that can be written.
    """
    return as_choice("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")(
        as_text(value).upper()
    )


def as_points(value: Any) -> tuple[tuple[float, float], ...]:
    """Points in the drawing's units.

    Args:
        value: Texts ``X,Y``.

    Returns:
        (x, y) of each.

    Raises:
        WrongValueError: One is no point.
    """
    return tuple((x, y) for x, y in (_numbers(text, 2) for text in as_names(value)))


class Window(NamedTuple):
    """A box in the drawing's units that holds an elevation, with a name or an empty one."""

    name: str
    box: tuple[float, float, float, float]


def as_windows(value: Any) -> tuple[Window, ...]:
    """Windows of the drawing.

    Args:
        value: Texts ``X0,Y0,X1,Y1`` (any two opposite corners) or ``NAME=X0,Y0,X1,Y1``.

    Returns:
        The windows, each from its least to its greatest corner.

    Raises:
        WrongValueError: One has no four numbers, or no width or height.
    """
    windows = []
    for text in as_names(value):
        name, _, corners = text.rpartition("=")
        a, b, c, d = _numbers(corners, 4)
        if a == c or b == d:
            raise WrongValueError(message("wants-two-corners"))
        windows.append(Window(name.strip(), (min(a, c), min(b, d), max(a, c), max(b, d))))
    return tuple(windows)


class Outline(NamedTuple):
    """Corners of a closed outline in the drawing's units, with a name or an empty one."""

    name: str
    points: tuple[tuple[float, float], ...]


def as_outlines(value: Any) -> tuple[Outline, ...]:
    """Closed outlines in the drawing's units.

    Args:
        value: Texts ``X,Y X,Y X,Y ...`` or ``NAME=X,Y X,Y X,Y ...``, at least three corners.

    Returns:
        The outlines; the first corner is not repeated.

    Raises:
        WrongValueError: One has fewer corners, or a corner is no point.
    """
    return each_of(value, _closed)


def each_of(value: Any, parse: Callable[[str], Item]) -> tuple[Item, ...]:
    """Several texts, each after its own check.

    Args:
        value: The texts.
        parse: The check of one; raises WrongValueError.

    Returns:
        What they come to.

    Raises:
        WrongItemError: The first that is wrong.
    """
    found = []
    for text in as_names(value):
        try:
            found.append(parse(text))
        except WrongValueError as error:
            raise WrongItemError(error.message, text) from None
    return tuple(found)


def _closed(text: str) -> Outline:
    outline = _outline(text)
    if len(outline.points) < 3:
        raise WrongValueError(message("wants-three-corners"))
    return outline


OPENING_KINDS = ("window", "door", "garage", "vent", "fixture")
"""What an opening can be; ``garage`` is a garage door."""


def as_opening_outlines(value: Any) -> tuple[Outline, ...]:
    """Closed outlines of openings in the drawing's units, each named by its kind.

    Args:
        value: Texts ``KIND=X,Y X,Y X,Y ...``; the kind is one of ``OPENING_KINDS``.

    Returns:
        The outlines.

    Raises:
        WrongValueError: One is no outline or of no such kind.
    """
    return each_of(value, _opening)


def _opening(text: str) -> Outline:
    outline = _closed(text)
    as_choice(*OPENING_KINDS)(outline.name)
    return outline


LINE_KINDS = ("outside", "inside", "bay", "end", "butt", "cap", "level")
"""What a line can mark: corners, finished and plain ends, a cap, a level line."""


class MarkLine(NamedTuple):
    """A straight line in the drawing's units that marks an edge, a cap or a level."""

    kind: str
    """One of ``LINE_KINDS``."""
    tag: str
    """Text that two edges of one corner have in common; empty without one."""
    points: tuple[tuple[float, float], tuple[float, float]]
    """Its ends."""


def as_mark_lines(value: Any) -> tuple[MarkLine, ...]:
    """Lines that mark edges, caps and levels, in the drawing's units.

    Args:
        value: Texts ``KIND=X,Y X,Y`` or ``KIND TAG=X,Y X,Y``.

    Returns:
        The lines.

    Raises:
        WrongValueError: One has not two ends, or is of no such kind.
    """
    return each_of(value, _mark_line)


def _mark_line(text: str) -> MarkLine:
    name, _, ends = text.rpartition("=")
    kind, _, tag = name.strip().partition(" ")
    as_choice(*LINE_KINDS)(kind)
    points = [_numbers(end, 2) for end in ends.split()]
    if len(points) != 2 or points[0] == points[1]:
        raise WrongValueError(message("wants-two-corners"))
    (a, b), (c, d) = points
    return MarkLine(kind, tag.strip(), ((a, b), (c, d)))


def _outline(text: str) -> Outline:
    name, _, points = text.rpartition("=")
    return Outline(name.strip(), tuple((x, y) for x, y in (_numbers(p, 2) for p in points.split())))


def _numbers(text: str, count: int) -> tuple[float, ...]:
    try:
        numbers = tuple(float(part) for part in text.split(","))
    except ValueError:
        numbers = ()
    if len(numbers) != count or not all(map(math.isfinite, numbers)):
        raise WrongValueError(message("wants-numbers", count=count))
    return numbers


def as_plot_scale(value: Any) -> float:
    """A plotting scale.

    Args:
        value: A number or text such as ``1:48``.

    Returns:
        How many times larger than the plot the building is, from 1 to 2000.

    Raises:
        WrongValueError: It is no such scale.
    """
    if not isinstance(value, int | float | str):
        raise WrongValueError(message("wants-scale"))
    return as_number(1.0, 2000.0)(parse_plot_scale(value))
