"""Messages as plain values for programs: lengths in inches, areas in square feet."""

from __future__ import annotations

from typing import Any

from dxf2veneer.messages import Area, Length, Message, Value
from dxf2veneer.units import square_feet


def message_data(said: Message | str | None) -> dict[str, Any] | None:
    """A message as data for JSON.

    Args:
        said: The message.

    Returns:
        Its code and values: lengths under the name with ``_in``, areas under the name with
        ``_sqft``, messages inside it as objects, the rest as it stands. None without a message.
    """
    if not isinstance(said, Message):
        return None
    return {"code": said.code, "values": {n + _unit(v): _plain(v) for n, v in said}}


def _unit(value: Value) -> str:
    return "_in" if isinstance(value, Length) else "_sqft" if isinstance(value, Area) else ""


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
