"""Settings for people: a value, and where it came from."""

from __future__ import annotations

from typing import Protocol

from dxf2veneer.messages import Length, Message, Value
from dxf2veneer.textio.escaping import without_folder
from dxf2veneer.wording.say import say, shown


class Traced(Protocol):
    """Where a value came from, as ``config`` keeps it."""

    @property
    def kind(self) -> str:
        """``default``, or what gave the value."""
        ...

    def place(self) -> Message:
        """The file and line, or the option."""
        ...


def origin_line(origin: Traced | str) -> str:
    """Where a value came from, in words.

    Args:
        origin: A setting's origin.

    Returns:
        A text such as ``job.toml, line 12``, ``option --scrap`` or ``default``; files without
        their folder, which differs from one machine to the next.
    """
    return without_folder(origin) if isinstance(origin, str) else say(origin.place())


def is_default(origin: Traced | str) -> bool:
    """Whether nobody gave the value.

    Args:
        origin: A setting's origin.

    Returns:
        True where the value is the tool's own default.
    """
    return (origin if isinstance(origin, str) else origin.kind) == "default"


def value_text(value: Value, display: str) -> str:
    """A setting's value for a person.

    Args:
        value: The value; a length in inches as ``Length``.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        A text; lengths as fine as settings are given.
    """
    return shown(value, display, "fine" if isinstance(value, Length) else "")
