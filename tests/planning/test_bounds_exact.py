"""Bounds and plans beside proven optima of random walls: no bound above, no plan below.

The optimum is that of an exact model over all real lengths (``exact_reals``), written from the
rules of laying and solved by HiGHS through SciPy. Walls are small and of every kind
(``small_walls``), their sizes on the grid of 1/8 in, the saw cut 1/8 in. The profile ``thorough``
tries many more of them.
"""

import dataclasses

import exact
import pytest
from exact import Run
from exact_reals import Rules, fewest_panels
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from small_walls import KINDS, exact_job, planned_job, random_job

from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.cutting_stock.dual_bound import dual_bound
from dxf2veneer.planning.search import cheapest_plan
from dxf2veneer.planning.sizes import LayingSizes

P, C = "plain", "corner"
SIZES = LayingSizes(
    panel=36.0,
    corner=36.0,
    kerf=0.125,
    stagger=8.0,
    least=8.0,
    unequal=1.0,
    vary=1.0,
    cut=3.6,
    strip=2.0,
    height=8.0,
)


def optimum(walls, rules=None, count=("flat", "corner")):
    """The proven optimum of a job; None for one that has none, or takes too long."""
    courses, mitres = exact_job(walls)
    try:
        return fewest_panels(courses, rules, mitres=mitres, count=count, seconds=10)
    except (ValueError, TimeoutError):
        return None


def bounds(walls, sizes=SIZES):
    runs = [run for wall in planned_job(walls) for course in wall for run in course]
    return job_bounds(runs, sizes).total, dual_bound(runs, sizes, known=0, enough=1000)


@given(st.sampled_from(KINDS), st.integers(0, 10**6))
def test_no_bound_is_above_the_proven_optimum(kind, seed):
    walls = random_job(kind, seed)
    best = optimum(walls)
    assume(best is not None)
    by_formula, by_duals = bounds(walls)
    assert by_formula <= best
    assert by_duals <= best


@settings(max_examples=max(20, settings().max_examples // 3))
@given(st.sampled_from(KINDS), st.integers(0, 10**6), st.sampled_from([0.0, 0.25, 0.5]))
def test_no_bound_is_above_it_with_other_saws(kind, seed, kerf):
    walls, sizes = random_job(kind, seed), dataclasses.replace(SIZES, kerf=kerf)
    best = optimum(walls, Rules(kerf=kerf))
    assume(best is not None)
    assert max(bounds(walls, sizes)) <= best


@settings(max_examples=max(20, settings().max_examples // 3))
@given(st.sampled_from(KINDS), st.integers(0, 10**6), st.sampled_from(["flat", "corner"]))
def test_no_bound_of_one_kind_of_panel_is_above_its_optimum(kind, seed, panels):
    walls = random_job(kind, seed)
    best = optimum(walls, count=(panels,))
    assume(best is not None)
    found = job_bounds([r for wall in planned_job(walls) for row in wall for r in row], SIZES)
    assert max(b.units for b in getattr(found, panels)) <= best


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", range(4))
def test_a_plan_is_never_below_the_optimum_and_at_most_one_panel_above(kind, seed):
    walls = random_job(kind, seed)
    best = optimum(walls)
    assert best is not None
    plan = cheapest_plan(planned_job(walls), SIZES, within_walls=False)
    assert not plan.broken
    assert best <= len(plan.units) <= best + 1


def test_small_plans_are_within_one_percent_of_the_optimum():
    """Seeds of their own; bays are not laid by the exact search."""
    jobs = [random_job(kind, seed) for kind in KINDS if kind != "bay" for seed in range(50, 54)]
    best = [optimum(walls) for walls in jobs]
    found = [cheapest_plan(planned_job(w), SIZES, within_walls=False, nodes=200) for w in jobs]
    assert all(plan.broken == 0 for plan in found)
    assert all(len(plan.units) <= least + 1 for plan, least in zip(found, best, strict=True))
    assert sum(len(plan.units) for plan in found) <= 1.01 * sum(best)


@pytest.mark.parametrize("kind", KINDS)
def test_dearer_panels_never_buy_more_of_them(kind):
    runs = planned_job(random_job(kind, 7))
    panels = []
    for cuts_per_panel in (1.0, 5.0, 20.0, 100.0):
        sizes = dataclasses.replace(SIZES, cut=SIZES.panel / cuts_per_panel)
        panels.append(len(cheapest_plan(runs, sizes, within_walls=False, nodes=200).units))
    assert panels == sorted(panels, reverse=True)


# ------------------------------------------------- walls worked out by hand


def column(width, courses=12):
    """Four faces of a column between outside corners, corners in turn."""
    return [
        Run(0, width, *((C, P) if (i + face) % 2 else (P, C)), face=width)
        for face in range(4)
        for i in range(courses)
    ]


def proved(runs, kerf=0.0):
    sizes = exact.Rules(kerf=kerf)
    return dual_bound(runs, sizes, known=job_bounds(runs, sizes).total, enough=1000)


def test_a_narrow_column_takes_half_a_panel_for_each_piece():
    # 4 faces x 12 courses = 48 pieces of 16 in, two of them (16 + 16, with or without 1/8) a panel
    assert (proved(column(16)), proved(column(16), 0.125)) == (24, 24)


def test_a_column_just_over_two_least_pieces_may_be_divided():
    # 17 in: 17 + 17 fit in 36 as well, so 24 do; and by length 48 x 17 / 36 = 22.7
    assert 23 <= proved(column(17)) <= 24


def test_a_column_of_24_in_needs_its_length_in_panels():
    # 48 x 24 = 1152 = 32 panels of 36 without a cut; a false bound says 48, one panel a piece
    assert proved(column(24)) == 32
    # with 1/8 in a panel of two parts covers 35 7/8: 1152 / 35.875 = 32.1; one with 36 is known
    assert 33 <= proved(column(24), 0.125) <= 36


def test_long_courses_with_a_cut_need_more_than_their_length_says():
    # 30 courses of 120 in: 3 whole panels and 12 in, or two parts that make 48. No two 12s and a
    # whole panel come out even with cuts of 1/8 in. By length 100.1, so 101
    runs = [Run(0, 120)] * 30
    assert job_bounds(runs, exact.Rules(kerf=0.125)).total == 101
    assert proved(runs, 0.125) == 105


def test_a_bound_that_is_good_enough_is_not_looked_for():
    assert dual_bound(column(24), exact.Rules(), known=7, enough=7) == 7


def test_no_runs_need_no_panels():
    assert dual_bound([], exact.Rules(), known=0, enough=5) == 0
