"""Which of many short texts in a file are the same, without making each a string."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Integers = NDArray[np.int64]
Mask = NDArray[np.bool_]

_SPREAD = np.uint64(0x9E3779B97F4A7C15)
"""An odd number that spreads sums over all 64 bits (2^64 over the golden ratio)."""
_FIRST = np.array([(1 << 8 * n) - 1 for n in range(9)], np.uint64)
"""Masks of the first bytes of eight."""


class CollisionError(ValueError):
    """Two different texts could not be told apart."""


@dataclass(frozen=True)
class StringTable:
    """A text for each item: a number into the list of the different texts."""

    of: Integers
    """Number of each item's text."""
    all: tuple[bytes, ...]
    """The different texts."""

    def where(self, known: Sequence[bool]) -> Mask:
        """Which items have a text of the given ones (a truth value for each different text)."""
        return np.array(known, bool)[self.of]

    def among(self, *texts: bytes) -> Mask:
        """Which items have one of these texts."""
        return self.where([t in texts for t in self.all])

    def take(self, items: Integers) -> StringTable:
        """The texts of some items."""
        return StringTable(self.of[items], self.all)


def string_table(content: bytes, start: Integers, end: Integers) -> StringTable:
    """The texts between places of a file, each different one once.

    Args:
        content: The file's bytes.
        start: Where each text begins.
        end: Where it ends.

    Returns:
        For each the number of its text, and the different texts.

    Raises:
        CollisionError: Two texts have one checksum, which no file of this world brings about.
    """
    if not len(start):
        return StringTable(np.zeros(0, np.int64), ())
    pieces = _pieces(content, start, end - start)
    sums = (end - start).astype(np.uint64)
    for piece in pieces:
        sums = (sums + piece) * _SPREAD
        sums ^= sums >> np.uint64(29)
    _, first, of = np.unique(sums, return_index=True, return_inverse=True)
    same = first[of]
    if np.any((end - start)[same] != end - start) or any(
        np.any(piece[same] != piece) for piece in pieces
    ):
        raise CollisionError
    return StringTable(
        of,
        tuple(
            content[a:b] for a, b in zip(start[first].tolist(), end[first].tolist(), strict=True)
        ),
    )


def _pieces(content: bytes, start: Integers, length: Integers) -> list[NDArray[np.uint64]]:
    """Each text's bytes as numbers, eight at a time, zeros after its end."""
    everywhere: NDArray[np.uint64] = np.ndarray(
        (len(content) - 7,), np.dtype("<u8"), content, strides=(1,)
    )
    pieces = []
    for done in range(0, int(length.max()), 8):
        place = start + done
        piece = (
            everywhere[np.minimum(place, len(everywhere) - 1)]
            & _FIRST[np.clip(length - done, 0, 8)]
        )
        for item in np.flatnonzero(place >= len(everywhere)):  # the last few bytes of the file
            text = content[start[item] : start[item] + length[item]]
            piece[item] = int.from_bytes(text[done : done + 8], "little")
        pieces.append(piece)
    return pieces
