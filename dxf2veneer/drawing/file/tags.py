"""Where the structure of a text DXF file stands, without reading what it holds.

A text file is pairs of lines: a group code, then its value. Lines are paired from the first to
the last, so a value never passes for a group code, and every group code is checked. Only the
codes that tell entities apart are noted; numbers and texts are left unread.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import TAG_CHUNK_BYTES

Integers = NDArray[np.int64]

STRUCTURE, NAME, HANDLE, LAYER, PAPER, SUBCLASS, GROUP = 0, 2, 5, 8, 67, 100, 102
"""Group codes (DXF reference): entity type, name, handle, layer, paper space, subclass marker,
group of an application."""

_NOTED = (STRUCTURE, NAME, HANDLE, LAYER, PAPER, SUBCLASS, GROUP)
_WIDTH = 4
"""Group codes have up to four digits."""
_LONGEST = 16
"""Longest line of a group code, blanks before it included; longer ones are read in full."""

_OTHER, _NO_CODE = -1, -2


@dataclass(frozen=True)
class TagTable:
    """The noted tags of a file in order: group code, where tag and value begin, where it ends."""

    code: NDArray[np.int16]
    """Group codes."""
    at: Integers
    """Where each tag begins."""
    start: Integers
    """Where its value begins."""
    end: Integers
    """Where its value ends."""


def tags_of(content: bytes) -> TagTable | None:
    """The noted tags of a text file up to its last line.

    Args:
        content: The file's bytes.

    Returns:
        The tags in columns; None where lines can't be told apart for sure.
    """
    return _tags(content, _TABLE)


def every_tag_of(content: bytes) -> TagTable | None:
    """All tags of a stretch of a text file that begins with a group code.

    Args:
        content: The bytes of the stretch.

    Returns:
        The tags in columns; None where lines can't be told apart for sure.
    """
    return _tags(content, _EVERY)


def _tags(content: bytes, table: NDArray[np.int16]) -> TagTable | None:
    """The tags whose codes a table notes."""
    ends = _line_end(content)
    if ends is None or not content.endswith(b"\n"):
        return None
    parts: list[tuple[NDArray[np.int16], Integers, Integers, Integers]] = []
    position = 0
    while position < len(content):
        found = _chunk(content, position, ends, table)
        if found is None:
            return None
        tags, position = found
        parts.append(tags)
    code, at, start, end = (np.concatenate(column) for column in zip(*parts, strict=True))
    return TagTable(code, at, start, end)


def _line_end(content: bytes) -> int | None:
    """1 where every line ends with carriage return and line feed, 0 where none does, else None."""
    returns = content.count(b"\r")
    if not returns:
        return 0
    return 1 if returns == content.count(b"\r\n") == content.count(b"\n") else None


def _chunk(
    content: bytes, position: int, returns: int, table: NDArray[np.int16]
) -> tuple[tuple[NDArray[np.int16], Integers, Integers, Integers], int] | None:
    """The noted tags from a position on for a few megabytes, and the position after them."""
    size = TAG_CHUNK_BYTES
    while True:
        lines = np.flatnonzero(
            np.frombuffer(content, np.uint8, min(size, len(content) - position), position)
            == ord("\n")
        )
        if len(lines) >= 2:
            break
        if position + size >= len(content):
            return None  # a group code without a value
        size *= 2
    lines = lines[: len(lines) // 2 * 2] + position
    code_end, value_end = lines[0::2], lines[1::2]
    at = np.concatenate(([position], value_end[:-1] + 1))
    keys = _keys(content, at, code_end - returns)
    if keys is None:
        return None
    codes = table[keys]
    if codes.min() == _NO_CODE:
        return None
    noted = np.flatnonzero(codes >= 0)
    return (codes[noted], at[noted], code_end[noted] + 1, value_end[noted] - returns), int(
        value_end[-1]
    ) + 1


def _keys(content: bytes, start: Integers, end: Integers) -> NDArray[np.uint32] | None:
    """The last four letters of each line as the table's key; None where a line holds more."""
    length = end - start
    if length.min() < 1 or length.max() > _LONGEST:
        return None
    if end[0] < _WIDTH:  # the first line of the file has nothing before it
        first = content[start[0] : end[0]].rjust(_WIDTH)
        words = np.concatenate((np.frombuffer(first, "<u4"), _words(content, end[1:])))
    else:
        words = _words(content, end)
    words = (words & _INSIDE[np.minimum(length, _WIDTH)]) | _BLANKS[np.minimum(length, _WIDTH)]
    if np.any((words & 0xE0E0E0E0) != 0x20202020):
        return None
    longer = np.flatnonzero(length > _WIDTH)
    text = np.frombuffer(content, np.uint8)
    for before in range(_WIDTH + 1, int(length.max()) + 1):
        longer = longer[length[longer] >= before]
        if np.any(text[end[longer] - before] != ord(" ")):
            return None
    return _key(words)


def _words(content: bytes, end: Integers) -> NDArray[np.uint32]:
    """The four bytes before each place as one number."""
    everywhere: NDArray[np.uint32] = np.ndarray(
        (len(content) - 3,), np.dtype("<u4"), content, strides=(1,)
    )
    return everywhere[end - _WIDTH]


def _key(words: NDArray[np.uint32]) -> NDArray[np.uint32]:
    """Four characters between blank and question mark, five bits each."""
    pairs = (words & np.uint32(0x001F001F)) | (words >> np.uint32(3) & np.uint32(0x03E003E0))
    return (pairs & np.uint32(0x3FF)) | (pairs >> np.uint32(6) & np.uint32(0xFFC00))


def _tables() -> tuple[NDArray[np.int16], NDArray[np.int16]]:
    """By key: the noted group codes, another code's mark, or that it is no group code; and every
    group code."""
    every = np.full(1 << 20, _NO_CODE, np.int16)
    codes = np.array([f"{code:4d}" for code in range(10_000)], "S4").view("<u4")
    every[_key(codes)] = np.arange(10_000)
    return np.where((every < 0) | np.isin(every, _NOTED), every, np.int16(_OTHER)), every


_TABLE, _EVERY = _tables()
_INSIDE = np.array([0, 0xFF000000, 0xFFFF0000, 0xFFFFFF00, 0xFFFFFFFF], np.uint32)
_BLANKS = 0x20202020 & ~_INSIDE
