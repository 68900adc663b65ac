"""Messages in plain dicts, for the result file."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from dxf2veneer.basics.messages import Area, Length, Message, Value
from dxf2veneer.basics.units import square_feet
from dxf2veneer.writers.result.shape_values import MessageJson, ValuesJson


def message_data(said: Message | None) -> MessageJson | None:
    """A message as data.

    Args:
        said: The message.

    Returns:
        Its code and values; None without a message.
    """
    if said is None:
        return None
    return {"code": said.code, "values": values_data(said.values)}


def values_data(values: Iterable[tuple[str, Value]]) -> ValuesJson:
    """Values by name.

    Args:
        values: Names and values, as in ``Message.values``.

    Returns:
        Lengths in inches under ``name_in``, areas in square feet under ``name_sqft``, messages as
        objects, all else as it is.
    """
    return {f"{name}{_unit(value)}": _plain(value) for name, value in values}


def _unit(value: Value) -> str:
    """What a name ends in, by the kind of its value; a list goes by its first."""
    match value:
        case Length():
            return "_in"
        case Area():
            return "_sqft"
        case tuple() if value:
            return _unit(value[0])
    return ""


def _plain(value: Value) -> Any:
    match value:
        case Length(inches):
            return inches
        case Area(square_inches):
            return square_feet(square_inches)
        case Message():
            return message_data(value)
        case tuple():
            return [_plain(one) for one in value]
    return value
