"""Questions about long arrays that the library answers in more time than it takes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray


def among(words: NDArray[np.object_], names: Iterable[str]) -> NDArray[np.bool_]:
    """Which words are one of some names.

    Args:
        words: an array of words.
        names: the names.

    Returns:
        For each word whether it is.
    """
    none = np.zeros(len(words), bool)
    return np.asarray(np.logical_or.reduce([none, *(words == name for name in names)]), bool)


def distinct(numbers: NDArray[Any]) -> NDArray[Any]:
    """The different numbers of an array in order.

    Args:
        numbers: none of them not-a-number.

    Returns:
        Each of them once. NumPy's own ``unique`` looks each up in a table, which takes longer for
        many numbers than to sort them.
    """
    ordered = np.sort(numbers, axis=None)
    return ordered[np.concatenate(([True], ordered[1:] != ordered[:-1]))[: len(ordered)]]


def distinct_of(numbers: NDArray[np.int64], count: int) -> NDArray[np.int64]:
    """The different ones of small numbers in order.

    Args:
        numbers: from 0 to below a count.
        count: the count.

    Returns:
        Each of them once.
    """
    there = np.zeros(count, bool)
    there[numbers] = True
    return np.flatnonzero(there)
