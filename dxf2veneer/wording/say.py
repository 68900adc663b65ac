"""A message to a sentence."""

from __future__ import annotations

from dxf2veneer.basics.messages import Message, TakeoffError, Value
from dxf2veneer.wording.phrases import Words
from dxf2veneer.wording.sentences import SENTENCES


def say(said: Message, display: str = "imperial") -> str:
    """The English line of a message.

    Args:
        said: The message.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        One line without a full stop.

    Raises:
        KeyError: No sentence of that code, or no value of a name that the sentence has.
    """
    return Words(display, SENTENCES).say(said)


def error_line(error: Exception, display: str = "imperial") -> str:
    """The English line of an error.

    Args:
        error: A ``TakeoffError``, or any other exception, whose own text is taken.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        One line.
    """
    if isinstance(error, TakeoffError):
        return say(error.message, display)
    return str(error)


def shown(value: Value, display: str, spec: str = "") -> str:
    """One value as a sentence shows it.

    Args:
        value: The value.
        display: Units for the reader: ``imperial`` or ``metric``.
        spec: How, as ``wording/phrases.py`` describes.

    Returns:
        The text.
    """
    return Words(display, SENTENCES).show(value, spec)
