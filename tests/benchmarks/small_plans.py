"""Plans of small random walls beside their proven optima, by kind: panels over the optimum.

    python tests/benchmarks/small_plans.py [first seed] [seeds]

The exact model is that of the tests (``tests/planning/exact_reals.py``). The aim: at most 1 % over
in all, and one panel on each.
"""

from __future__ import annotations

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS), str(TESTS / "planning")]

from small_walls import KINDS, planned_job, random_job  # noqa: E402
from test_bounds_exact import SIZES, optimum  # noqa: E402

from dxf2veneer.config.job import Planning  # noqa: E402
from dxf2veneer.planning.search import cheapest_plan  # noqa: E402


def main() -> None:
    """Print a line for each kind, and the whole."""
    first, count = [int(text) for text in [*sys.argv[1:], *("1000", "20")[len(sys.argv) - 1 :]]]
    nodes = round(Planning().search)
    sums = [0, 0, 0]
    print(f"{'kind':12} {'optimum':>8} {'layout':>8} {'exact':>8} {'most over':>10}")
    for kind in KINDS:
        own, worst = [0, 0, 0], 0
        for seed in range(first, first + count):
            walls = random_job(kind, seed)
            best = optimum(walls)
            if best is None:
                continue
            runs = planned_job(walls)
            found = [
                len(cheapest_plan(runs, SIZES, within_walls=False, nodes=n).units)
                for n in (0, nodes)
            ]
            own = [a + b for a, b in zip(own, (best, *found), strict=True)]
            worst = max(worst, found[1] - best)
        print(f"{kind:12} {own[0]:8} {own[1]:8} {own[2]:8} {worst:10}", flush=True)
        sums = [a + b for a, b in zip(sums, own, strict=True)]
    print(f"{'all':12} {sums[0]:8} {sums[1]:8} {sums[2]:8}   {sums[2] / sums[0] - 1:.2%} over")


if __name__ == "__main__":
    main()
