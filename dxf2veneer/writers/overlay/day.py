"""The day in the overlay's title. It comes from the drawing itself: the file's own date
changes with every copy."""

from __future__ import annotations

import datetime as dt
import os
import re
import struct

_LAST_SAVED = re.compile(rb"\$TDUPDATE\r?\n *40\r?\n *([0-9.Ee+]+)")
_LAST_SAVED_BINARY = re.compile(rb"\$TDUPDATE\x00\x28(?:\x00(.{8})|(.{8}))", re.DOTALL)
_HEADER = 1_000_000
"""Bytes at the beginning of a drawing in which its header lies."""
_DAY_0 = 1_721_425
"""Day 0 of the calendar in the dates of DXF headers: Julian day numbers, each day from midnight
(DXF reference)."""
_YEARS = range(1980, 2200)


def day_words(drawing: bytes) -> str:
    """What the title says of the date.

    Args:
        drawing: The bytes of the drawing.

    Returns:
        The day in SOURCE_DATE_EPOCH, else the one on which the drawing says that it was last saved;
        empty without either.
    """
    given = os.environ.get("SOURCE_DATE_EPOCH", "")
    if given.isdigit():
        return f"overlay of {dt.datetime.fromtimestamp(int(given), dt.UTC):%Y-%m-%d}"
    saved = last_saved(drawing)
    return f"last saved {saved:%Y-%m-%d}" if saved else ""


def last_saved(drawing: bytes) -> dt.date | None:
    """The day on which a text or binary drawing says that it was last saved; None where it gives
    none that can be.

    Args:
        drawing: The bytes of the drawing.

    Returns:
        The day; None where the drawing gives none that can be.
    """
    header = drawing[:_HEADER]
    if text := _LAST_SAVED.search(header):
        return _date(text[1])
    if binary := _LAST_SAVED_BINARY.search(header):
        return next(
            filter(
                None, (_date(struct.unpack("<d", value)[0]) for value in binary.groups() if value)
            ),
            None,
        )
    return None


def _date(julian: bytes | float) -> dt.date | None:
    try:
        found = dt.date.fromordinal(int(float(julian)) - _DAY_0)
    except (ValueError, OverflowError):
        return None
    return found if found.year in _YEARS else None
