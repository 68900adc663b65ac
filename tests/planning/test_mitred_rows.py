"""Runs that meet at a bay's mitres, both sides of each from one panel (L13): the bound of their
rows, and joints that are moved together.

     W0                 W1
    | first | whole | a \\ / b | whole | last |      a + saw cut + b <= panel

Oracle: the proven optimum over all real lengths (``exact_reals``).
"""

import dataclasses
import itertools
import math
import random

import pytest
from exact_reals import Rules, fewest_panels
from exact_reals import Run as ExactRun
from shapely import box
from small_walls import exact_job, planned_job, random_job

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import load_product
from dxf2veneer.model import Edge
from dxf2veneer.planning.balancing.search import balanced
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.dual_bound import dual_bound
from dxf2veneer.planning.cutting_stock.panels import cut_stock
from dxf2veneer.planning.layout import LaidRun, lay
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

SIZES = LayingSizes.of(Job(), load_product())
PANEL, KERF, LEAST, STAGGER = 36.0, 0.125, 8.0, 8.0


def row_of(*lengths, course=0):
    """Runs of a course that meet one after another at mitres, each on a wall of its own."""
    found = []
    for n, m in enumerate(lengths):
        ends = ["mitre" if n else "plain", "mitre" if n < len(lengths) - 1 else "plain"]
        edges = [
            Edge(side, x, 0.0, 96.0, "mitre", corner=f"B{k}") if end == "mitre" else None
            for side, x, end, k in (("left", 0.0, ends[0], n - 1), ("right", m, ends[1], n))
        ]
        ground = box(0.0, 8.0 * course, m, 8.0 * course + 8.0)
        found.append(Run(f"W{n}", course, 0.0, m, *ends, ground, *edges, turn=course))
    return found


def proved(*rows, parted=0):
    return dual_bound(
        [], SIZES, known=0, enough=1000, stacks=[[row] for row in rows], parted=parted
    )


# ------------------------------------------------------------------ the bound


@pytest.mark.parametrize("seed", range(12))
def test_the_bound_of_rows_is_never_above_the_proven_optimum(seed):
    walls = random_job("bay", seed)
    courses, mitres = exact_job(walls)
    try:
        best = fewest_panels(courses, Rules(), mitres=mitres, seconds=20)
    except (ValueError, TimeoutError):
        pytest.skip("no layout keeps all rules, or no proof in time")
    runs = [run for wall in planned_job(walls) for course in wall for run in course]
    rows = [row for own in chains_of(runs, SIZES).values() for row in own]
    assert sum(map(len, rows)) == len(runs)
    assert proved(*rows) <= best


@pytest.mark.parametrize("seed", range(12))
def test_nor_of_a_single_row_with_faces_of_any_length(seed):
    """One course, three or four runs, lengths off every grid."""
    chance = random.Random(seed)
    middle = [chance.uniform(9.0, 60.0) for _ in range(1 + seed % 2)]
    lengths = [chance.uniform(20.0, 80.0), *middle, chance.uniform(20.0, 80.0)]
    ends = ["plain", *["mitre"] * (2 * len(lengths) - 2), "plain"]
    runs = [
        ExactRun(1000.0 * n, 1000.0 * n + m, *ends[2 * n : 2 * n + 2])
        for n, m in enumerate(lengths)
    ]
    courses = [part for run in runs for part in ([run], [])]
    mitres = [((2 * n, 0), (2 * n + 2, 0)) for n in range(len(runs) - 1)]
    try:
        best = fewest_panels(courses, Rules(), mitres=mitres, seconds=20)
    except ValueError:
        best = math.inf
    assert proved(row_of(*lengths)) <= best


def test_rows_of_two_short_runs_take_a_panel_and_a_half_each():
    """Two runs of 20 in that meet at a mitre.

    ::

        |     20     \\ / 8 to 12 | 12 to 8 |     20 + 20 are no panel: one run is divided

    The mitre's panel holds 28 to 32 in, and no room for 8 more. The part beside it keeps an end of
    its panel, so that two of them share one: 8 rows take 8 + 4 panels, by their length 8.9.
    """
    rows = [row_of(20.0, 20.0, course=c) for c in range(8)]
    assert proved(*rows) == 12
    runs = [run for row in rows for run in row]
    assert dual_bound(runs, SIZES, known=0, enough=1000) < 12


def test_without_a_layout_the_runs_count_one_by_one():
    """A face of 9 in between runs of 40 in is one piece, and its panel serves both corners."""
    assert proved(row_of(40.0, 9.0, 40.0)) == dual_bound(
        row_of(40.0, 9.0, 40.0), SIZES, known=0, enough=1000
    )


# ------------------------------------------------------------------ joints moved


def test_both_sides_of_a_mitre_are_moved():
    """A lone piece of 17.9 in, and two runs of 44 in that meet at a mitre.

    ::

        before  |= 17.9 =|  |==== 30 ====|= 14 =\\ /= 8 =|=== 36 ===|     4 panels
        after   |= 17.9 =|  |= 17.9 =|= 26.1 ===\\ /= 8 =|=== 36 ===|     17.9 + 1/8 + 17.9: 3
    """
    row = row_of(44.0, 44.0)
    lone = Run("W9", 0, 0.0, 17.9, "plain", "plain", box(0, 0, 17.9, 8))
    laid = [
        LaidRun(lone, (17.9,), (Cut(0, "any", 0, False),)),
        LaidRun(row[0], (30.0, 14.0), (Cut(0, "right", 1, False), Cut(1, "left", 2, False))),
        LaidRun(row[1], (8.0, 36.0), (Cut(0, "right", 2, False),)),
    ]
    assert len(cut_stock(laid, SIZES, within_walls=False)) == 4
    after = balanced(laid, cut_stock(laid, SIZES, within_walls=False), SIZES, enough=3)
    found = cut_stock(after, SIZES, within_walls=False)
    assert len(found) == 3
    assert after[1].lengths[0] <= 36.0 - 17.9 - KERF + 1e-5
    panel_of = {ref: unit.id for unit in found for ref, _ in unit.parts}
    assert panel_of[1, 1] == panel_of[2, 0]


def test_walls_laid_alike_are_moved_alike():
    """Two walls drawn alike, of 53.9 in each, and a lone piece of 17.9 in.

    ::

        before  |= 17.9 =|   2 x |==== 30 ====|=== 23.9 ===|     no two fit together: 5 panels
        after   |= 17.9 =|   2 x |= 17.9 =|====== 36 ======|     17.9 + 1/8 + 17.9 = 35.925: 4
    """
    ground = box(0, 0, 53.9, 8)
    runs = [Run(f"W{n}", 0, 0.0, 53.9, "plain", "plain", ground) for n in range(2)]
    runs[1] = dataclasses.replace(runs[1], like="W0")
    lone = Run("W2", 0, 0.0, 17.9, "plain", "plain", box(0, 0, 17.9, 8))
    cuts = [(Cut(0, "right", 2 * n, False), Cut(1, "left", 2 * n + 1, False)) for n in range(2)]
    laid = [
        *[LaidRun(run, (30.0, 23.9), own) for run, own in zip(runs, cuts, strict=True)],
        LaidRun(lone, (17.9,), (Cut(0, "any", 4, False),)),
    ]
    units = cut_stock(laid, SIZES, within_walls=False)
    assert len(units) == 5
    after = balanced(laid, units, SIZES, enough=4)
    assert after[0].lengths == after[1].lengths
    assert len(cut_stock(after, SIZES, within_walls=False)) == 4


@pytest.fixture(scope="module", params=(1, 2, 3))
def moved(request):
    """(as laid, with joints moved, panels before and after) of a bay of four walls."""
    chance = random.Random(request.param)
    lengths = [
        chance.uniform(90.0, 150.0),
        chance.uniform(26.0, 60.0),
        chance.uniform(100.0, 130.0),
    ]
    courses = [row_of(*lengths, course=c) for c in range(10)]
    walls = [[[course[n]] for course in courses] for n in range(len(lengths))]
    layout = lay(walls, SIZES)
    before = cut_stock(layout.laid, SIZES, within_walls=False)
    after = balanced(layout.laid, before, SIZES, enough=0)
    assert after is not None
    return layout.laid, after, before, cut_stock(after, SIZES, within_walls=False)


def test_rows_moved_take_no_more_panels_and_keep_their_lengths(moved):
    laid, after, before, units = moved
    assert len(units) <= len(before)
    for old, new in zip(laid, after, strict=True):
        assert sum(new.lengths) == pytest.approx(old.run.length, abs=1e-6)
        assert min(new.lengths) >= LEAST - 1e-6


def corners(laid, units):
    """The corners with both sides from one panel: (wall, course) of the run at the left."""
    panel_of = {ref: unit.id for unit in units for ref, _ in unit.parts}
    at = {(one.run.wall, one.run.course): i for i, one in enumerate(laid)}
    for (wall, course), i in at.items():
        j = at.get((f"W{int(wall[1:]) + 1}", course))
        if j is not None and panel_of[i, len(laid[i].lengths) - 1] == panel_of[j, 0]:
            yield wall, course


def test_no_corner_comes_apart_and_both_sides_are_within_their_panel(moved):
    """L13."""
    laid, after, before, units = moved
    assert {*corners(laid, before)} <= {*corners(after, units)}
    for unit in units:
        lengths = [after[ref.run].lengths[ref.piece] for ref, _ in unit.parts]
        assert sum(lengths) + KERF * (len(lengths) - 1) <= PANEL + 1e-5


def test_joints_of_rows_stay_apart(moved):
    """L3, wherever the plan kept it before."""
    laid, after, _, _ = moved

    def nearest(plan):
        return [
            min((abs(x - y) for x in a.joints for y in b.joints), default=STAGGER)
            for a, b in itertools.pairwise(plan)
            if a.run.wall == b.run.wall
        ]

    for old, new in zip(nearest(laid), nearest(after), strict=True):
        assert new >= min(old, STAGGER) - 1e-5
