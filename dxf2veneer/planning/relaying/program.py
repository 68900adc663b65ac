"""A mixed-integer program, put together row by row and solved by HiGHS."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

Term = tuple[float, int]
"""Factor and column."""
_GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
"""The ratio whose multiples fill the space between whole numbers most evenly."""


class Program:
    """Columns with bounds and costs, rows from low to high; the least cost is looked for."""

    def __init__(self) -> None:
        """An empty program."""
        self._low: list[float] = []
        self._high: list[float] = []
        self._cost: list[float] = []
        self._whole: list[bool] = []
        self._rows: list[tuple[dict[int, float], float, float]] = []

    def column(self, low: float, high: float, *, is_whole: bool = False, cost: float = 0.0) -> int:
        """A new column; its number."""
        self._low.append(low)
        self._high.append(high)
        self._cost.append(cost)
        self._whole.append(is_whole)
        return len(self._low) - 1

    def switch(self, cost: float = 0.0) -> int:
        """A new column that is 0 or 1."""
        return self.column(0.0, 1.0, is_whole=True, cost=cost)

    def high(self, column: int) -> float:
        """The upper bound of a column."""
        return self._high[column]

    def row(self, terms: Iterable[Term], low: float = -math.inf, high: float = math.inf) -> None:
        """The sum of the terms lies from low to high."""
        summed: dict[int, float] = {}
        for factor, column in terms:
            summed[column] = summed.get(column, 0.0) + factor
        self._rows.append((summed, low, high))

    def limit(self, most: float) -> None:
        """The cost is at most so much."""
        self.row([(cost, i) for i, cost in enumerate(self._cost) if cost], high=most)

    def tell_apart(self, most: float) -> None:
        """Every column gets a cost of its own, less than so much, so that no two answers cost the
        same and every solver finds the same one."""
        self._cost = [
            cost + most * (_GOLDEN * number % 1.0) for number, cost in enumerate(self._cost, 1)
        ]

    def least(self, nodes: int) -> tuple[list[float] | None, bool]:
        """Solve the program.

        Args:
            nodes: How often the search may branch.

        Returns:
            Values of the columns, None where there are none, or none were found; and whether the
            search came to its end.
        """
        import highspy  # heavy, and many plans never need it

        new_solver: Any = highspy.Highs  # it has no types
        solver: Any = new_solver()
        solver.setOptionValue("output_flag", False)
        solver.setOptionValue("threads", 1)
        solver.setOptionValue("mip_max_nodes", nodes)
        solver.setOptionValue("mip_abs_gap", 0.5)
        solver.passModel(self._model(highspy))
        solver.run()
        statuses, status = highspy.HighsModelStatus, solver.getModelStatus()
        is_proved = status in (statuses.kOptimal, statuses.kInfeasible)
        is_there = solver.getInfo().primal_solution_status == 2 and status != statuses.kInfeasible
        return (list(solver.getSolution().col_value) if is_there else None), is_proved

    def _model(self, highspy: Any) -> Any:
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self._low), len(self._rows)
        lp.col_cost_, lp.col_lower_ = np.array(self._cost), np.array(self._low)
        lp.col_upper_ = np.array(self._high)
        lp.row_lower_ = np.array([low for _, low, _ in self._rows])
        lp.row_upper_ = np.array([high for _, _, high in self._rows])
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lengths = [len(row) for row, _, _ in self._rows]
        lp.a_matrix_.start_ = np.concatenate([[0], np.cumsum(lengths)]).astype(np.int32)
        lp.a_matrix_.index_ = np.array([c for row, _, _ in self._rows for c in row], np.int32)
        lp.a_matrix_.value_ = np.array([v for row, _, _ in self._rows for v in row.values()])
        kinds = highspy.HighsVarType
        lp.integrality_ = [kinds.kInteger if whole else kinds.kContinuous for whole in self._whole]
        return lp
