"""Joints moved so that all parts of a job fit into fewer panels.

Oracles: greatest matchings by scipy, and the rules of laying (L3, L4, L5, L9) read off the pieces.
"""

import dataclasses
import itertools
import random
from collections import defaultdict

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching
from shapely import box

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import load_product
from dxf2veneer.model import Edge
from dxf2veneer.planning.balancing.needed import NeededPanels
from dxf2veneer.planning.balancing.search import Balance, balanced
from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.panels import cut_stock
from dxf2veneer.planning.layout import LaidRun, lay
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

SIZES = LayingSizes.of(Job(), load_product())
PANEL, KERF, LEAST, STAGGER = 36.0, 0.125, 8.0, 8.0


# ------------------------------------------------ the panels that parts need


@pytest.mark.parametrize("seed", range(20))
def test_the_greatest_count_is_the_parts_less_the_most_pairs(seed):
    """Lengths in sixty-fourths, so that the counts' grid rounds nothing off."""
    drawn = random.Random(seed)
    left, right = (
        [drawn.randrange(8 * 64, 36 * 64 + 1) / 64 for _ in range(drawn.randrange(1, 25))]
        for _ in range(2)
    )
    needed = NeededPanels(PANEL, KERF)
    for hand, lengths in (("left", left), ("right", right)):
        for length in lengths:
            needed.put(hand, needed.ticks(length))
    fits = np.array([[a + b + KERF <= PANEL for b in right] for a in left])
    pairs = (maximum_bipartite_matching(csr_array(fits)) >= 0).sum()
    assert needed.most == len(left) + len(right) - pairs


def test_a_part_taken_away_leaves_what_was_there():
    needed = NeededPanels(PANEL, KERF)
    needed.put("left", needed.ticks(20.0))
    needed.put("right", needed.ticks(30.0))
    needed.put("right", needed.ticks(30.0), -1)
    assert (needed.most, needed.hands) == (1, 1)


# ------------------------------------------------------------ joints by hand


def run_of(wall, course, length, left="plain", right="plain", edge=None):
    ground = box(0.0, 8.0 * course, length, 8.0 * course + 8.0)
    return Run(wall, course, 0.0, length, left, right, ground, None, edge, turn=course)


def test_a_joint_moved_saves_a_panel():
    """Two walls of one course each, 17.9 and 53.9 in long.

    ::

        before  |= 17.9 =|     |==== 30 ====|=== 23.9 ===|     no two fit together: 3 panels
        after   |= 17.9 =|     |= 17.9 =|====== 36 ======|     17.9 + 1/8 + 17.9 = 35.925: 2
    """
    laid = [
        LaidRun(run_of("W0", 0, 17.9), (17.9,), (Cut(0, "any", 0, False),)),
        LaidRun(
            run_of("W1", 0, 53.9),
            (30.0, 23.9),
            (Cut(0, "right", 1, False), Cut(1, "left", 2, False)),
        ),
    ]
    units = cut_stock(laid, SIZES, within_walls=False)
    assert len(units) == 3
    after = balanced(laid, units, SIZES, enough=2)
    assert after[1].lengths == pytest.approx((17.9, 36.0))
    assert len(cut_stock(after, SIZES, within_walls=False)) == 2


@pytest.mark.parametrize("panel", [36.0, 900 / 25.4, 1000 / 25.4, 35.77])
@pytest.mark.parametrize("seed", range(5))
def test_parts_that_fill_up_a_panel_share_it_whatever_its_length(panel, seed):
    """Courses that are two parts of one panel and a saw cut: half of them, for half the panels.

    ::

        W0  |= a =|     W1  |== panel - 1/8 - a ==|     lengths that lie on no grid
    """
    drawn = random.Random(seed)
    sizes = dataclasses.replace(SIZES, panel=panel)
    laid = []
    for course in range(30):
        a = drawn.uniform(LEAST, panel - LEAST - KERF)
        whole = panel * drawn.randrange(1, 3)
        for wall, part, hand in (("W0", a, "right"), ("W1", panel - KERF - a, "left")):
            n = round(whole / panel)
            lengths = (part, *[panel] * n) if hand == "right" else (*[panel] * n, part)
            cut = Cut(0 if hand == "right" else n, hand, course, False)
            laid.append(LaidRun(run_of(wall, course, part + whole), lengths, (cut,)))
    units = cut_stock(laid, sizes, within_walls=False)
    assert Balance(laid, units, sizes).pairing().panels == len(units)


# ------------------------------------------------------------------ the rules


def wall_of(name, length, courses, *, is_finished):
    """Courses of one run each; a finished right end takes a corner piece in every course."""
    edge = Edge("right", length, 0.0, 8.0 * courses, "end") if is_finished else None
    right = "corner" if is_finished else "plain"
    return [[run_of(name, i, length, right=right, edge=edge)] for i in range(courses)]


@pytest.fixture(scope="module", params=(1, 2, 3))
def moved(request):
    """(as laid, with joints moved, units before, after) of three walls of random lengths."""
    drawn = random.Random(request.param)
    walls = [
        wall_of(f"W{n}", 8.0 * drawn.uniform(8.0, 30.0), 10, is_finished=n != 1) for n in range(3)
    ]
    layout = lay(walls, SIZES)
    assert layout.broken == 0
    before = cut_stock(layout.laid, SIZES, within_walls=False)
    after = balanced(layout.laid, before, SIZES, enough=0)
    assert after is not None
    return layout.laid, after, before, cut_stock(after, SIZES, within_walls=False)


def test_moved_joints_take_no_more_panels(moved):
    _, _, before, after = moved
    assert len(after) <= len(before)


def test_every_run_keeps_its_length(moved):
    laid, after, _, _ = moved
    for old, new in zip(laid, after, strict=True):
        assert new.run is old.run
        assert sum(new.lengths) == pytest.approx(old.run.length, abs=1e-6)
        assert min(new.lengths) >= LEAST - 1e-6


def test_joints_of_adjacent_courses_stay_apart(moved):
    """L3."""
    _, after, _, _ = moved
    for below, above in itertools.pairwise(after):
        if below.run.wall == above.run.wall:
            gaps = [abs(a - b) for a in below.joints for b in above.joints]
            assert min(gaps, default=STAGGER) >= STAGGER - 1e-5


def test_corner_pieces_that_follow_one_another_vary(moved):
    """L4; the least difference of 1 in is a setting."""
    _, after, _, _ = moved
    for below, above in itertools.pairwise(after):
        if below.run.wall == above.run.wall and below.run.right == "corner":
            assert abs(below.lengths[-1] - above.lengths[-1]) >= SIZES.vary - 1e-5


def test_each_part_lies_in_its_panel_beside_no_other_of_its_hand(moved):
    """L5, L9: a panel has one left and one right end."""
    _, after, _, units = moved
    hands = {(i, cut.piece): cut.hand for i, one in enumerate(after) for cut in one.cuts}
    seen = set()
    for unit in units:
        own = defaultdict(int)
        for ref, _ in unit.parts:
            assert ref not in seen
            seen.add(ref)
            own[hands.get((ref.run, ref.piece), "whole")] += 1
        lengths = [after[ref.run].lengths[ref.piece] for ref, _ in unit.parts]
        assert sum(lengths) + KERF * (len(lengths) - 1) <= unit.length + 1e-5
        assert max(own["left"], own["right"]) <= 1
    assert len(seen) == sum(len(one.lengths) for one in after)
