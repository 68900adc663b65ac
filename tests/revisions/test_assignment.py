"""Pairs of greatest worth, against SciPy's solver (scipy.optimize.linear_sum_assignment)."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from dxf2veneer.revisions.assignment import best_pairs


@pytest.mark.parametrize("seed", range(200))
def test_pairs_are_worth_as_much_as_those_of_another_solver(seed):
    rng = np.random.default_rng(seed)
    worth = rng.normal(size=rng.integers(1, 12, 2)).round(int(rng.integers(0, 4)))
    pairs = best_pairs(worth)
    rows, columns = linear_sum_assignment(np.maximum(worth, 0.0), maximize=True)
    assert sum(worth[row, column] for row, column in pairs) == pytest.approx(
        np.maximum(worth, 0.0)[rows, columns].sum()
    )
    assert len({row for row, _ in pairs}) == len({column for _, column in pairs}) == len(pairs)
    assert all(worth[row, column] > 0.0 for row, column in pairs)


@pytest.mark.parametrize("shape", [(0, 0), (0, 3), (3, 0)])
def test_nothing_has_no_pairs(shape):
    assert best_pairs(np.zeros(shape)) == []
