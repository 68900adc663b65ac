"""Values of settings as people read them in the list of assumptions."""

from __future__ import annotations

from dxf2veneer.basics.messages import Area, Length, Message, Value
from dxf2veneer.wording.measures import area_text, setting_text
from dxf2veneer.wording.say import say


def setting_value_text(value: Value, display: str) -> str:
    """A setting's value.

    Args:
        value: The value; a list may hold tables, whose empty parts are left out.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        Such as ``2'-0"``, ``yes``, ``wrb, caulk``, ``Tax 6 materials``; ``none`` where there is
        nothing.
    """
    if isinstance(value, tuple):
        listed = (_entry(v, display) for v in value)
        return ", ".join(listed) or "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return _plain(value, display)


def _entry(value: Value, display: str) -> str:
    """One entry of a list."""
    if isinstance(value, tuple):
        return " ".join(setting_value_text(v, display) for v in value if v is not None)
    return say(value, display) if isinstance(value, Message) else str(value)


def _plain(value: Value, display: str) -> str:
    match value:
        case None:
            return "none"
        case Length(inches):
            return setting_text(inches, display)
        case Area(square_inches):
            return area_text(square_inches / 144.0, display)
        case float():
            return f"{value:g}"
        case Message():
            return say(value, display)
    return str(value)
