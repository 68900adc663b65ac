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


class UnitMissingError(DrawingError):
    """Neither the file nor the user names a unit."""

    def advised(self, evidence: Message | None, unit: str | None) -> UnitMissingError:
        """The error with what the whole drawing says of its unit.

        Args:
            evidence: The strongest evidence; None where there is none.
            unit: The unit where the evidence settles it.

        Returns:
            The same error with both in its message.
        """
        file, why = self.message["file"], self.message["why"]
        assert isinstance(why, Message)
        values = {**dict(why.values), "evidence": evidence}
        if "unit" in values:
            values["unit"] = unit or values["unit"]
        told = Message(why.code, tuple(values.items()))
        return UnitMissingError(message("of-drawing", file=file, why=told))


class EntityError(TakeoffError):
    """One entity can't be used; the message says why and becomes part of a notice."""
