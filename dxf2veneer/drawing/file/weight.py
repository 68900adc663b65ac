"""Whether a file is too heavy to be taken on, seen before the library unfolds it in memory.

Two things are looked at: the size of the file, and the points of one polyline, spline or hatch,
with which a file of ordinary size can keep the measuring busy for hours. The second look touches
only a few places: it stops every so many bytes, and where the next entity begins far away, it
counts the points up to there.
"""

from __future__ import annotations

import re
from pathlib import Path

from dxf2veneer.basics.messages import message
from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.drawing.file.form import is_binary
from dxf2veneer.textio.plain_files import name_fault, size_of

_LEAST_BYTES = 10
"""Bytes of a point in a text file: two codes of two digits, two of one, four line ends."""

_START = re.compile(rb"\n[ \t]*0[ \t]*\r?\n[ \t]*(?!VERTEX|ATTRIB|SEQEND)[A-Za-z]")
_BINARY_START = re.compile(rb"\x00(?!VERTEX|ATTRIB|SEQEND)[A-Z][A-Z0-9_]{3,}\x00")
"""Where an entity begins that is not part of the one before."""

_POINT = re.compile(rb"\n[ \t]*10[ \t]*(?=\r?\n)")
_KNOT = re.compile(rb"\n[ \t]*40[ \t]*(?=\r?\n)")
"""Group codes of a point's x and of a knot (DXF reference, LWPOLYLINE, VERTEX, SPLINE, HATCH)."""
_BINARY_POINT = re.compile(rb"\x0a\x00", re.DOTALL)
_HANDLE = re.compile(rb"\n[ \t]*5[ \t]*\r?\n[ \t]*([0-9A-Fa-f]+)")


def refuse_large(path: Path, limits: Limits) -> None:
    """Refuse what is no plain file, or larger than the limit.

    Args:
        path: The file.
        limits: Its ``megabytes`` counts.

    Raises:
        DrawingError: The file is refused.
    """
    fault = name_fault(path)
    if fault:
        raise DrawingError.of(path, message("file-unreadable", reason=fault))
    if path.exists() and not path.is_file() and not path.is_dir():
        raise DrawingError.of(path, message("no-plain-file"))
    size = size_of(path) or 0
    if size > limits.megabytes * 1_000_000:
        why = message("file-too-large", megabytes=size / 1e6, most=limits.megabytes)
        raise DrawingError.of(path, why)


def refuse_bombs(path: Path, content: bytes, limits: Limits) -> None:
    """Refuse a file in which one entity has more points than the limit.

    Args:
        path: The file.
        content: Its bytes.
        limits: Its ``points`` counts.

    Raises:
        DrawingError: The file is refused.
    """
    start = _BINARY_START if is_binary(content) else _START
    step = limits.points * _LEAST_BYTES // 2
    at = step
    while at < len(content):
        following = start.search(content, at)
        end = following.start() if following else len(content)
        if end - at >= step:
            begun = max(
                (m.start() for m in start.finditer(content, at - step, at)), default=at - step
            )
            _refuse_points(path, content[begun:end], limits.points, binary=start is _BINARY_START)
        at = end + step


def refuse_many(count: int, most: int) -> None:
    """Refuse more entities on the named layers than the limit.

    Args:
        count: How many there are.
        most: How many there may be.

    Raises:
        DrawingError: There are more; the error names no file.
    """
    if count > most:
        raise DrawingError(message("too-many-entities", most=most))


def _refuse_points(path: Path, entity: bytes, most: int, *, binary: bool) -> None:
    codes = (_BINARY_POINT,) if binary else (_POINT, _KNOT)
    count = max(sum(1 for _ in code.finditer(entity)) for code in codes)
    if count > most:
        handle = _HANDLE.search(entity[:2000])
        place = handle[1].decode("ascii") if handle else None
        why = message("entity-too-many-points", handle=place, n=count, most=most)
        raise DrawingError.of(path, why)
