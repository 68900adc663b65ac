"""The planner beside the optimum of an exact model (SciPy's milp, solved by HiGHS) on small walls.

The model stands joints on a grid of 4 in; off the grid there may be plans with fewer panels still,
and never with fewer than the proven bound. A cut is worth next to nothing here, as the model counts
panels alone. Walls are drawn as their courses of runs, kerf 0.
"""

import random

import exact
import pytest
from shapely.geometry import box

from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.search import cheapest_plan
from dxf2veneer.planning.sizes import LayingSizes

SIZES = LayingSizes(
    panel=36.0,
    corner=36.0,
    kerf=0.0,
    stagger=8.0,
    least=8.0,
    unequal=1.0,
    vary=1.0,
    cut=0.36,
    strip=2.0,
    height=8.0,
)


def planned(courses):
    """The planner's panels and the bound for courses of (x0, x1, left, right)."""
    runs = [
        [
            Run("W1", i, x0, x1, left, right, box(x0, 8 * i, x1, 8 * i + 8), turn=i)
            for x0, x1, left, right in course
        ]
        for i, course in enumerate(courses)
    ]
    return len(cheapest_plan([runs], SIZES, within_walls=False).units), job_bounds(
        [run for course in runs for run in course], SIZES
    ).total


def optimum(courses):
    return exact.fewest_units([[exact.Run(*run) for run in course] for course in courses])


P, C = "plain", "corner"
WALLS = {
    "ten feet": [[(0, 120, P, P)]] * 3,
    "nine feet": [[(0, 108, P, P)]] * 4,
    "piers of 28": [[(0, 28, P, P)]] * 4,
    "a pier beside a wall": [[(0, 20, P, P), (56, 136, P, P)]] * 4,
    "a wall over piers": [[(0, 44, P, P), (80, 124, P, P)]] * 2 + [[(0, 124, P, P)]] * 2,
    "one finished end": [[(0, 100, C, P)]] * 3,
    "a column": [[(0, 16, C, P)], [(0, 16, P, C)]] * 2,
    "corners in turn": [[(0, 88, P, C)], [(0, 88, C, P)]] * 2,
}  # fmt: skip


@pytest.mark.parametrize("name", WALLS)
def test_the_planner_needs_no_more_than_the_optimum_on_the_grid(name):
    found, bound = planned(WALLS[name])
    assert bound <= found <= optimum(WALLS[name])


def test_over_small_walls_at_random_the_planner_is_near_the_optimum():
    """On twelve random walls never more than one panel over, and on most of them none."""
    chance = random.Random(7)
    over = []
    for _ in range(12):
        width = 4 * chance.randint(10, 35)
        gap = 4 * chance.randint(3, max(3, width // 8))
        pierced = [(0, gap, P, P), (gap + 24, width + 24, P, P)]
        courses = [[(0, width + 24, P, P)] if chance.random() < 0.5 else pierced for _ in range(3)]
        found, bound = planned(courses)
        assert found >= bound
        over.append(found - optimum(courses))
    assert max(over) <= 1
    assert sum(o <= 0 for o in over) >= 7
