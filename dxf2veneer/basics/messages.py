"""What there is to report to a person, as data: a code with typed values, never a sentence.

A stage that computes makes a ``Message``; the room ``wording`` alone turns it into English with
lengths and areas in the reader's units. Code never compares, searches or parses a text.

    message("opening-outside", area=Area(412.5))
      ->  {"code": "opening-outside", "area_sqin": 412.5}
      ->  "opening of 2.86 sq ft lies in no wall ..."
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Union


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length in inches."""

    inches: float


@dataclass(frozen=True, slots=True, order=True)
class Area:
    """An area in square inches."""

    square_inches: float


Value = Union[str, int, float, bool, Length, Area, "Message", tuple["Value", ...], None]
"""What a message may hold: names, ids, layers, handles and words as they stand in the drawing or
the settings (text), counts, plain numbers, lengths, areas, other messages, and lists of those."""


@dataclass(frozen=True, slots=True)
class Message:
    """A code of the sentence catalog and the values that its sentence speaks of."""

    code: str
    values: tuple[tuple[str, Value], ...] = ()

    def __getitem__(self, name: str) -> Value:
        """The value of a name. Raises KeyError."""
        return dict(self.values)[name]

    def get(self, name: str) -> Value:
        """The value of a name, None where the message has none of it."""
        return dict(self.values).get(name)

    def __iter__(self) -> Iterator[tuple[str, Value]]:
        """Names and values in order."""
        return iter(self.values)


def message(code: str, /, **values: Value) -> Message:
    """A message.

    Args:
        code: Key of the sentence in ``wording.sentences``.
        **values: What the sentence speaks of, by the name of its place in the sentence.

    Returns:
        The message; two messages of the same code and values are equal.
    """
    return Message(code, tuple(values.items()))


class TakeoffError(Exception):
    """What can't be done, for a reason that the user reads in one line.

    ``message`` is the reason as data. Where the error leaves the package (the command line, the
    public functions) ``wording.say`` has made its English line, which ``str`` gives.
    """

    def __init__(self, message: Message, words: str | None = None) -> None:
        """An error of a message; ``words`` is its line once it has been worded."""
        super().__init__(message, words)
        self.message = message
        self.words = words

    def __str__(self) -> str:
        """The English line, or code and values where no one has worded it yet."""
        if self.words is not None:
            return self.words
        return f"{self.message.code}: {', '.join(f'{k}={v}' for k, v in self.message)}"
