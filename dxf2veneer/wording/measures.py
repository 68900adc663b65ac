"""Lengths, areas and units as people read them."""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from dxf2veneer.basics.units import MM_PER_INCH, SQUARE_FEET_PER_SQUARE_METER, unit_by_name

ITEM_UNITS = {"each": "each", "ft": "ft", "sqft": "sq ft", "m": "m", "m2": "m²"}
"""Units that goods and work are counted in, as people write them."""


def titles(names: Iterable[str]) -> str:
    """Units for a sentence, each by its full name: ``inches or feet``.

    Args:
        names: Short names of units, such as ``in``.

    Returns:
        Full names for a sentence: ``inches or feet``.
    """
    return " or ".join(unit_by_name(name).title for name in names)


def unit_options(names: Iterable[str]) -> str:
    """Units as the option that names them: ``--units in or --units ft``.

    Args:
        names: Short names of units.

    Returns:
        The options with ``or`` between them.
    """
    return " or ".join(f"--units {name}" for name in names)


def feet_inches(inches: float, *, denominator: int = 16) -> str:
    """A length as ``4'-6 1/2"``, rounded to the nearest 1/denominator of an inch.

    Under one foot only inches are written; a minus sign stands before the whole.

    Args:
        inches: A length in inches.
        denominator: The finest fraction, such as 16.

    Returns:
        Feet and inches; under one foot inches alone. A minus sign stands before the whole.
    """
    if not math.isfinite(inches):
        return str(inches)
    parts = round(abs(inches) * denominator)
    feet, rest = divmod(parts, 12 * denominator)
    whole, num = divmod(rest, denominator)
    text = str(whole)
    if num:
        part = Fraction(num, denominator)
        text = f"{whole} {part}" if whole or feet else str(part)
    sign = "-" if inches < 0 and parts else ""
    return f"{sign}{feet}'-{text}\"" if feet else f'{sign}{text}"'


def millimeters(inches: float) -> str:
    """A length to the nearest whole millimeter: ``1 403 mm``.

    Args:
        inches: A length in inches.

    Returns:
        Whole millimeters such as ``1 403 mm``.
    """
    return f"{round(inches * MM_PER_INCH):,} mm".replace(",", " ")


def length_text(inches: float, display: str) -> str:
    """A length for a person: feet and inches, or millimeters where ``display`` is ``metric``.

    Args:
        inches: A length in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text such as ``4'-6 1/2"`` or ``1 384 mm``.
    """
    return millimeters(inches) if display == "metric" else feet_inches(inches)


def setting_text(inches: float, display: str) -> str:
    """A length that may be small, a setting or a saw cut: to 1/64 in, or to a hundredth of a
    millimeter.

    Args:
        inches: A length in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text to 1/64 in, or to a hundredth of a millimeter.
    """
    if display == "metric":
        return (
            f"{inches * MM_PER_INCH:,.2f}".rstrip("0").removesuffix(".").replace(",", " ") + " mm"
        )
    return feet_inches(inches, denominator=64)


def exact_text(inches: float, display: str) -> str:
    """A length where hairs count, such as two parts of a panel that overlap: ``0.063 in`` or ``1.59
    mm``.

    Args:
        inches: A length in inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text such as ``0.063 in`` or ``1.59 mm``.
    """
    return f"{inches * MM_PER_INCH:.2f} mm" if display == "metric" else f"{inches:.3f} in"


def small_area_text(square_inches: float, display: str) -> str:
    """A small area for a person: square inches, or square centimeters where ``display`` is
    ``metric``.

    Args:
        square_inches: An area in square inches.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text in square inches, or in square centimeters.
    """
    return (
        f"{square_inches * 2.54**2:,.2f} cm²"
        if display == "metric"
        else f"{square_inches:,.2f} sq in"
    )


def area_text(sqft: float, display: str) -> str:
    """An area for a person: square feet, or square meters where ``display`` is ``metric``.

    Args:
        sqft: An area in square feet.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text in square feet, or in square meters.
    """
    if display == "metric":
        return f"{sqft / SQUARE_FEET_PER_SQUARE_METER:,.2f} m²"
    return f"{sqft:,.2f} sq ft"


def percent_text(percent: float) -> str:
    """A percentage of a setting.

    Args:
        percent: So many per cent.

    Returns:
        A text such as ``10%``.
    """
    return f"{percent:g}%"


def size_text(width: float, height: float, inches: float | None, display: str) -> str:
    """A width and a height, in the display's units where the drawing's unit is known.

    Args:
        width: In drawing units.
        height: In drawing units.
        inches: Inches in one of them; None where nobody knows.
        display: ``imperial``, ``metric`` or ``both``.

    Returns:
        Such as ``3'-0" x 4'-0"``.
    """
    if inches is None:
        return f"{width:.6g} x {height:.6g} units"
    return f"{length_text(width * inches, display)} x {length_text(height * inches, display)}"
