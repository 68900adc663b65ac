"""Numbers read many at once against Python's own ``float``, which rounds correctly.

float(): the nearest float, ties to even (Python library reference, built-in functions; David
Gay: Correctly rounded binary-decimal and decimal-binary conversions, 1990).
"""

from __future__ import annotations

import struct

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from dxf2veneer.drawing.file.decimals import decimals

_DIGITS = st.text("0123456789", max_size=19)
_WRITTEN = st.builds(
    "{}{}{}{}".format, st.sampled_from(["", "-"]), _DIGITS, st.sampled_from(["", "."]), _DIGITS
).filter(lambda word: any(letter.isdigit() for letter in word))
_FLOATS = st.floats(allow_nan=False).map(repr)


def read(*words: str) -> list[float]:
    """The words, one to a line as in a drawing's file."""
    content = "".join(f"  0\nLINE\n 10\n{word}\n" for word in words).encode()
    start, end, at = [], [], 0
    for word in words:
        start.append(at + len("  0\nLINE\n 10\n"))
        end.append(start[-1] + len(word))
        at = end[-1] + 1
    padded = content + bytes(64)
    return decimals(padded, np.array(start, np.int64), np.array(end, np.int64)).tolist()


def bits(numbers: list[float]) -> list[bytes]:
    return [struct.pack("d", number) for number in numbers]


@given(st.lists(st.one_of(_WRITTEN, _FLOATS), min_size=1, max_size=20))
@example(["9007199254740993", "9007199254740993.0"])  # in the middle between two floats
@example(["-0.0", "5.", ".5", "-.5"])
@example(["0.1234567890123456", "12345678.1234567890", "123456789.5", "1.12345678901234567"])
@example(["+1.5", " 2.5", "1e3", "1.5E-7"])
def test_every_number_is_the_nearest_float(words: list[str]) -> None:
    assert bits(read(*words)) == bits([float(word) for word in words])


@pytest.mark.parametrize(
    "word", ["", "-", ".", "-.", "1.2.3", "--1", "1-", "1:5", "/1", "1.5 2", "1\x002"]
)
def test_what_is_no_number_is_an_error(word: str) -> None:
    with pytest.raises(ValueError, match="float"):
        read("1.5", word)


def test_a_word_longer_than_any_number_is_an_error() -> None:
    with pytest.raises(ValueError):
        read("1.5", "0" * 60)
