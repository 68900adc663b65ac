"""Decimal numbers read from letters, many at once.

A number of up to eighteen digits is a whole number m over a power of ten p. Both are exact up to
2^53 and 10^22, and then their quotient is the nearest float of the number (IEEE 754, correctly
rounded division). Beyond, m = a + b with a the nearest float, and the quotient a / p is mended by
what the division left over: a - (a / p) p, which is exact once the product is split into halves.
Where the mended quotient lies too near the middle of two floats to be sure, and where a number is
written in any other way, NumPy reads it.

    Clinger: How to read floating point numbers accurately, PLDI 1990, 92-101.
    Dekker: A floating-point technique for extending the available precision, Numerische Mathematik
    18 (1971), 224-242.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import PLAIN_LETTERS
from dxf2veneer.drawing.file.string_table import Integers, Mask

Floats = NDArray[np.float64]

_BLOCK = 1 << 13
"""Numbers that are read at once: what is reckoned of them stays in the processor's cache."""
_BEFORE, _BEHIND, _MOST = 8, 16, 18
"""Most digits before the point, behind it, and together: so many fit into 63 bits."""
_POWERS: Floats = np.array([float(10**n) for n in range(_BEHIND + 1)])
_WHOLE_POWERS = 10 ** np.arange(_BEHIND + 1, dtype=np.int64)
_EXACT = 1 << 53
"""Whole numbers up to it are floats."""
_HALVES = float((1 << 27) + 1)
_SURE = 2.0**-40
"""Share by which a quotient's mending may be off; it is by less than 2^-50."""
_ZEROS = np.uint64(0x3030303030303030)
"""Eight zeros as letters; the first letter is the lowest byte."""
_LAST = np.array([0, *(((1 << 8 * n) - 1) << (64 - 8 * n) for n in range(1, 9))], np.uint64)
"""The bytes of so many last letters of eight."""


def decimals(content: bytes, start: Integers, end: Integers) -> Floats:
    """The numbers that stand at places, each the float nearest to it.

    Args:
        content: ASCII letters, sixteen of them at least.
        start: where each number begins.
        end: where it ends, at most PLAIN_LETTERS after its beginning.

    Returns:
        An item for each.

    Raises:
        ValueError: a word says no number or is longer.
    """
    result = np.empty(len(start))
    for first in range(0, len(start), _BLOCK):
        part = slice(first, first + _BLOCK)
        words = words_at(content, start[part], end[part])
        result[part], sure = _plain(content, words, start[part], end[part])
        if not sure.all():
            result[part][~sure] = words[~sure].astype(np.float64)
    return result


def _plain(
    content: bytes, words: NDArray[np.bytes_], start: Integers, end: Integers
) -> tuple[Floats, Mask]:
    """The numbers between places, and which of them are sure: a minus or none, digits, a point and
    more digits, or no point."""
    letters = words.view(np.uint8).reshape(len(words), -1)
    negative = letters[:, 0] == ord("-")
    is_point = letters == ord(".")
    point = start + is_point.argmax(axis=1)
    pointed = is_point.any(axis=1)
    point[~pointed] = end[~pointed]
    before, behind = point - start - negative, end - point - pointed
    sure = (before <= _BEFORE) & (behind <= _BEHIND) & (before + behind <= _MOST)
    sure &= before + behind > 0
    behind = np.minimum(behind, _BEHIND)
    eights = (
        (point, np.clip(before, 0, 8)),
        (end - 8, np.clip(behind - 8, 0, 8)),
        (end, np.minimum(behind, 8)),
    )
    whole, digits = zip(*(_eight(content, at, count) for at, count in eights), strict=True)
    for plain in digits:
        sure &= plain
    number = whole[0] * _WHOLE_POWERS[behind] + whole[1] * 100_000_000 + whole[2]
    value, near = _quotients(number, behind)
    return np.where(negative, -value, value), sure & near


def _eight(content: bytes, end: Integers, count: Integers) -> tuple[Integers, Mask]:
    """The whole numbers of some letters, at most eight, before places, and whether all of them are
    digits."""
    everywhere: NDArray[np.uint64] = np.ndarray(
        (len(content) - 7,), np.dtype("<u8"), content, strides=(1,)
    )
    digits = (everywhere[end - 8] ^ _ZEROS) & _LAST[count]
    odd = (digits | (digits + np.uint64(0x7676767676767676))) & np.uint64(0x8080808080808080)
    digits = digits * np.uint64(10) + (digits >> np.uint64(8))  # of every two letters a number
    pairs = np.uint64(0x000000FF000000FF)
    upper = (digits & pairs) * np.uint64(100 + (1_000_000 << 32))
    lower = (digits >> np.uint64(16) & pairs) * np.uint64(1 + (10_000 << 32))
    return ((upper + lower) >> np.uint64(32)).view(np.int64), odd == 0


def _quotients(whole: Integers, power: Integers) -> tuple[Floats, Mask]:
    """Whole numbers over powers of ten, and which quotients are surely the nearest floats."""
    a, p = whole.astype(np.float64), _POWERS[power]
    result = a / p
    sure = np.ones(len(whole), bool)
    large = np.flatnonzero(whole > _EXACT)
    if len(large):
        a, p, q = a[large], p[large], result[large]
        left = _difference(a, q, p) + (whole[large] - a.astype(np.int64))
        mend = left / p
        result[large] = q + mend
        sure[large] = q + mend * (1.0 - _SURE) == q + mend * (1.0 + _SURE)
    return result, sure


def _difference(a: Floats, q: Floats, p: Floats) -> Floats:
    """a - q p without rounding, where that is a float."""
    product = q * p
    q0, p0 = _upper_half(q), _upper_half(p)
    q1, p1 = q - q0, p - p0
    error = ((q0 * p0 - product) + q0 * p1 + q1 * p0) + q1 * p1
    return (a - product) - error


def _upper_half(number: Floats) -> Floats:
    """The upper half of the digits of each number."""
    far = number * _HALVES
    return far - (far - number)


def words_at(content: bytes, start: Integers, end: Integers) -> NDArray[np.bytes_]:
    """The texts between places of a stretch.

    Args:
        content: The bytes that they stand in, and PLAIN_LETTERS more.
        start: Where each begins.
        end: Where it ends.

    Returns:
        An item for each.

    Raises:
        ValueError: One is longer than a number is.
    """
    wide = int((end - start).max())
    if wide > PLAIN_LETTERS:
        raise ValueError
    wide = max(wide, 1)
    everywhere: NDArray[np.void] = np.ndarray(
        (len(content) - wide + 1,), np.dtype(f"V{wide}"), content, strides=(1,)
    )
    letters = everywhere[start].view(np.uint8).reshape(-1, wide)
    letters *= np.arange(wide) < (end - start)[:, None]
    return letters.view(f"S{wide}").ravel()
