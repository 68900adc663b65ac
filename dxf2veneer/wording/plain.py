"""Messages as plain values for programs: numbers in inches and square feet, never a sentence."""

from __future__ import annotations

from typing import Any

from dxf2veneer.messages import Area, Length, Message, Value
from dxf2veneer.units import square_feet


def plain_values(what: Message) -> dict[str, Any]:
    """The values of a message for JSON.

    Args:
        what: The message.

    Returns:
        By name: lengths under the name with ``_in`` (inches), areas with ``_sqft`` (square feet),
        a message inside it as its code and values, the rest as it stands.
    """
    return {name + _unit(value): _plain(value) for name, value in what}


def _unit(value: Value) -> str:
    return "_in" if isinstance(value, Length) else "_sqft" if isinstance(value, Area) else ""


def _plain(value: Value) -> Any:
    match value:
        case Length(inches):
            return inches
        case Area(square_inches):
            return square_feet(square_inches)
        case Message():
            return {"code": value.code, "values": plain_values(value)}
        case tuple():
            return [_plain(v) for v in value]
    return value
