"""What goes wrong while reading."""

from __future__ import annotations

from pathlib import Path

from dxf2veneer.basics.messages import Message, TakeoffError, message


class DrawingError(TakeoffError):
    """A drawing can't be used at all: what is wrong with it, where, and what to do."""

    @classmethod
    def of(cls, path: Path, why: Message) -> DrawingError:
        """The error of one file; ``why`` says what is wrong without naming the file."""
        return cls(message("of-drawing", file=str(path), why=why))


class EntityError(TakeoffError):
    """One entity can't be used; the message says why and becomes part of a notice."""
