"""Units of length: exact factors, lengths as people write them, lengths as people read them.

Inside the package every length is in inches. The factors are exact fractions of the meter (NIST
SP 811 App. B.8: 1 in = 25.4 mm; the $INSUNITS codes after the DXF reference), because a factor for
feet that is off in the last digit shows up as 11.999999999999998.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from dxf2veneer.basics.messages import Message, TakeoffError, message

INCH_M = Fraction(254, 10_000)
MM_PER_INCH = 25.4
FOOT_M = float(INCH_M * 12)
SQUARE_INCHES_PER_SQUARE_FOOT = 144.0
SQUARE_FEET_PER_SQUARE_METER = float(1 / (INCH_M * 12) ** 2)
POUND_KG = 0.45359237


class WrongValueError(TakeoffError, ValueError):
    """What was written is no value of the kind that was wanted."""


class WrongItemError(WrongValueError):
    """One of several texts is no value of the kind that was wanted."""

    def __init__(self, message: Message, item: str) -> None:
        """An error of a message about one text."""
        super().__init__(message)
        self.item = item


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of length."""

    code: int
    """Its $INSUNITS code."""
    name: str
    """Its short name."""
    title: str
    """Its full name, in the plural."""
    meters: Fraction
    """Its exact size in meters."""

    @property
    def inches(self) -> float:
        """Inches in one of the unit, correctly rounded."""
        return float(self.meters / INCH_M)


def _f(text: str) -> Fraction:
    return Fraction(text)


UNITS: tuple[Unit, ...] = (
    Unit(1, "in", "inches", INCH_M),
    Unit(2, "ft", "feet", INCH_M * 12),
    Unit(3, "mi", "miles", INCH_M * 63_360),
    Unit(4, "mm", "millimeters", _f("0.001")),
    Unit(5, "cm", "centimeters", _f("0.01")),
    Unit(6, "m", "meters", _f("1")),
    Unit(7, "km", "kilometers", _f("1000")),
    Unit(8, "uin", "microinches", INCH_M / 1_000_000),
    Unit(9, "mil", "mils", INCH_M / 1000),
    Unit(10, "yd", "yards", INCH_M * 36),
    Unit(11, "angstrom", "angstroms", _f("1e-10")),
    Unit(12, "nm", "nanometers", _f("1e-9")),
    Unit(13, "um", "micrometers", _f("1e-6")),
    Unit(14, "dm", "decimeters", _f("0.1")),
    Unit(15, "dam", "decameters", _f("10")),
    Unit(16, "hm", "hectometers", _f("100")),
    Unit(17, "Gm", "gigameters", _f("1e9")),
    Unit(18, "au", "astronomical units", _f("149597870700")),
    Unit(19, "ly", "light years", _f("9460730472580800")),
    Unit(20, "pc", "parsecs", _f("3.0856775814914e16")),
    Unit(21, "ft-us", "US survey feet", Fraction(1200, 3937)),
    Unit(22, "in-us", "US survey inches", Fraction(100, 3937)),
    Unit(23, "yd-us", "US survey yards", Fraction(3600, 3937)),
    Unit(24, "mi-us", "US survey miles", Fraction(6_336_000, 3937)),
)
"""Every unit of $INSUNITS; code 0 (unspecified) is deliberately not among them."""

PLAUSIBLE: tuple[str, ...] = ("in", "ft", "mm", "cm", "m")
"""The units in which elevations are really drawn."""

_METRIC_UNITS = ("mm", "cm", "dm", "m")

_BY_NAME = {u.name.lower(): u for u in UNITS}
_BY_CODE = {u.code: u for u in UNITS}
_ALIASES = {
    '"': "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "foot": "ft",
    "feet": "ft",
    "millimeter": "mm",
    "millimetre": "mm",
    "millimeters": "mm",
    "millimetres": "mm",
    "centimeter": "cm",
    "centimetre": "cm",
    "centimeters": "cm",
    "centimetres": "cm",
    "meter": "m",
    "metre": "m",
    "meters": "m",
    "metres": "m",
    "yard": "yd",
    "yards": "yd",
}


def unit_by_code(code: int) -> Unit | None:
    """The unit of an $INSUNITS code (DXF reference, HEADER section).

    Args:
        code: The header's value.

    Returns:
        The unit; None for 0 (unspecified) and codes outside the table.
    """
    return _BY_CODE.get(code)


def unit_by_name(name: str) -> Unit:
    """The unit of a name or a usual alias, upper and lower case alike.

    Args:
        name: Such as ``ft``, ``feet``, ``mm``.

    Returns:
        The unit.

    Raises:
        WrongValueError: There is no such unit; the message names the everyday ones.
    """
    key = name.strip().lower()
    unit = _BY_NAME.get(_ALIASES.get(key, key))
    if unit is None:
        raise WrongValueError(message("unit-unknown", text=name, units=PLAUSIBLE))
    return unit


def is_metric(name: str) -> bool:
    """Whether a unit belongs to the metric system.

    Args:
        name: Its name or a usual alias.

    Returns:
        True for those in which metric buildings are drawn.

    Raises:
        WrongValueError: There is no such unit.
    """
    return unit_by_name(name).name in _METRIC_UNITS


_NUMBER = r"(?:\d+(?:\.\d*)?|\.\d+)"
_FRACTION = rf"(?:(?P<whole>\d+)[ -]+)?(?P<num>\d+)/(?P<den>\d+)|(?P<dec>{_NUMBER})"
_FEET_INCHES = re.compile(
    rf"""(?P<sign>[-+]?)\s*(?:(?P<feet>{_NUMBER})\s*(?:'|ft|feet)\s*-?\s*)?
         (?:(?:{_FRACTION})\s*(?:"|''|in|inches)?)?""",
    re.VERBOSE | re.IGNORECASE,
)
_METRIC = re.compile(rf"(?P<sign>[-+]?)\s*(?P<value>{_NUMBER})\s*(?P<unit>[A-Za-z][A-Za-z-]*)")
_PRIMES = str.maketrans(
    {"’": "'", "′": "'", "”": '"', "″": '"', "½": " 1/2", "¼": " 1/4", "¾": " 3/4"}
)


def parse_length(text: str | float) -> float:
    """A length as people write it.

    Args:
        text: Inches as a number, or text: ``8``, ``8.5``, ``8 1/2``, ``8-1/2"``, ``4'``,
            ``4'-6 1/2"``, ``203 mm``, ``-1 1/4``.

    Returns:
        Inches.

    Raises:
        WrongValueError: It is no finite length; the message has an example.
    """
    if isinstance(text, bool):
        raise WrongValueError(message("length-wanted"))
    exact = _fraction(text) if isinstance(text, str) else text
    if exact is None:
        raise WrongValueError(message("length-unreadable", text=str(text)))
    try:
        value = float(exact)
    except OverflowError:  # hundreds of digits
        value = math.inf
    if not math.isfinite(value):
        raise WrongValueError(message("length-infinite", text=str(value)))
    return value


def _fraction(text: str) -> Fraction | None:
    """Inches of a written length; None where it is none."""
    plain = text.translate(_PRIMES).strip()
    metric = _METRIC.fullmatch(plain)
    found = _FEET_INCHES.fullmatch(plain)
    try:
        if metric:
            value = Fraction(metric["value"]) * unit_by_name(metric["unit"]).meters / INCH_M
            return -value if metric["sign"] == "-" else value
        if not found or not (found["feet"] or found["num"] or found["dec"]):
            return None
        inches = Fraction(found["feet"] or 0) * 12
        if found["num"]:
            inches += int(found["whole"] or 0) + Fraction(int(found["num"]), int(found["den"]))
        elif found["dec"]:
            inches += Fraction(found["dec"])
    except (ValueError, ZeroDivisionError):  # no unit, more digits than Python reads, over nothing
        return None
    return -inches if found["sign"] == "-" else inches


_AREA = re.compile(rf"\s*(?P<value>{_NUMBER})\s*(?P<unit>\S.*?)?\s*")
_AREA_UNITS = {
    "sqft": ("", "sqft", "sq ft", "sq.ft.", "sf", "ft2", "ft²", "square foot", "square feet"),
    "m2": ("m2", "m²", "sqm", "sq m", "square meter", "square meters", "square metre"),
}


def parse_area(text: str | float) -> float:
    """An area as people write it.

    Args:
        text: Square feet as a number, or text: ``130``, ``130 sq ft``, ``12 m2``, ``12.5 m²``.

    Returns:
        Square feet.

    Raises:
        WrongValueError: It is no finite area; the message has an example.
    """
    found = _AREA.fullmatch(str(text))
    if isinstance(text, bool) or found is None:
        raise WrongValueError(message("area-unreadable", text=str(text)))
    unit = " ".join((found["unit"] or "").casefold().split())
    area = float(found["value"])
    if unit in _AREA_UNITS["m2"]:
        area *= SQUARE_FEET_PER_SQUARE_METER
    elif unit not in _AREA_UNITS["sqft"]:
        raise WrongValueError(message("area-unreadable", text=str(text)))
    if not math.isfinite(area):
        raise WrongValueError(message("area-unreadable", text=str(text)))
    return area


def parse_plot_scale(text: str | float) -> float:
    """A plotting scale as people write it.

    Args:
        text: ``48``, ``1:48`` or ``1/4" = 1'-0"``.

    Returns:
        How many times larger than the plot the building is: 48.

    Raises:
        WrongValueError: It is no scale; the message has an example.
    """
    error = WrongValueError(message("scale-unreadable", text=str(text)))
    if isinstance(text, bool):
        raise error
    paper, mark, real = str(text).translate(_PRIMES).partition("=" if "=" in str(text) else ":")
    try:
        scale = parse_length(real) / parse_length(paper) if mark else float(paper)
    except (ValueError, ZeroDivisionError):
        raise error from None
    if not math.isfinite(scale) or scale <= 0.0:
        raise error
    return scale


def square_feet(square_inches: float) -> float:
    """Square feet of an area.

    Args:
        square_inches: The area in square inches.

    Returns:
        Square feet, 144 square inches to one, exactly.
    """
    return square_inches / SQUARE_INCHES_PER_SQUARE_FOOT
