"""What goes wrong while reading."""

from __future__ import annotations

from dxf2veneer.messages import TakeoffError


class DrawingError(TakeoffError):
    """A drawing can't be used at all; the message is one line for the user: what, where, what to do."""


class UnusableError(Exception):
    """One entity can't be used; the message says why and becomes a notice."""
