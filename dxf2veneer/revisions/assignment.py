"""Pairs of greatest worth: each of one side with one of the other at most."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray


def best_pairs(worth: NDArray[np.float64]) -> list[tuple[int, int]]:
    """The pairs whose summed worth is the greatest.

    Shortest augmenting paths with potentials (H. W. Kuhn, The Hungarian method for the assignment
    problem, 1955; J. Edmonds and R. M. Karp, 1972), of the order of n² m.

    Args:
        worth: For each of one side (rows) and of the other (columns) what it is worth to pair them;
            0 or below for two that are not to be.

    Returns:
        Pairs of row and column by rows, all of them worth more than 0.
    """
    rows, columns = worth.shape
    if not rows or not columns:
        return []
    if rows > columns:
        return sorted((row, column) for column, row in best_pairs(worth.T))
    row_of = _assigned(-np.maximum(worth, 0.0))
    pairs = [(int(row), column) for column, row in enumerate(row_of) if row >= 0]
    return sorted((row, column) for row, column in pairs if worth[row, column] > 0.0)


def _assigned(cost: NDArray[np.float64]) -> NDArray[np.int64]:
    """For each column the row that has it, -1 for none; every row has one. No more rows than
    columns."""
    rows, columns = cost.shape
    row_price, column_price = np.zeros(rows), np.zeros(columns)
    row_of = np.full(columns, -1)
    for start in range(rows):
        least, came_from = np.full(columns, np.inf), np.full(columns, -1)
        done = np.zeros(columns, dtype=bool)
        row, column = start, -1
        while True:
            if column >= 0:
                done[column] = True
                row = row_of[column]
            reach = cost[row] - row_price[row] - column_price
            nearer = ~done & (reach < least)
            least[nearer], came_from[nearer] = reach[nearer], column
            following = int(np.where(done, np.inf, least).argmin())
            step = least[following]
            row_price[row_of[done]] += step
            row_price[start] += step
            column_price[done] -= step
            least[~done] -= step
            column = following
            if row_of[column] < 0:
                break
        while column >= 0:
            before = int(came_from[column])
            row_of[column] = start if before < 0 else row_of[before]
            column = before
    return row_of
