"""What goes wrong while reading."""

from __future__ import annotations


class DrawingError(Exception):
    """A drawing can't be used at all; the message is one line for the user: what, where, what to do."""


class EntityError(Exception):
    """One entity can't be used; the message says why and becomes a notice."""
