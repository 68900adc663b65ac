"""Where offcuts go, counted on walls laid by hand: what a crew would carry and keep (rule L26)."""

from __future__ import annotations

import pytest
from hand_plans import BOND, HOUSE, Hand, bare_wall

from dxf2veneer.verify.handling import handling_of

SHED = Hand(
    (*HOUSE.bare, bare_wall("W3", (400, 0, 416, 16), "butt butt")),
    {**HOUSE.rows, ("W3", 0): "400 F10> 416", ("W3", 1): "400 F5> 416"},
)
"""HOUSE, and a wall by itself that lives on two of its offcuts.

   W3  16 +---F5>---+      F5 is cut in course 1 of W1 (counted from 0), F10 in course 3
        8 |--F10>---|
        0 +---------+
"""


def handling(hand: Hand, wait: float = 6.0):
    planned = hand.planned()
    return handling_of(planned.walls, planned.plan, wait)


def test_offcuts_round_a_corner_wait_from_the_course_where_their_panel_is_cut():
    # C1 serves both walls in course 0; C2, C3 and C5 serve W1 and one course later W2
    found = handling(HOUSE)
    assert (found.offcuts, found.far, found.late, found.longest) == (4, 0, 0, 1)
    assert found.waiting == 1  # in turn those of C2, C3 and C5


def test_what_waits_longer_than_the_job_allows_is_late():
    assert handling(HOUSE, wait=1).late == 0
    assert handling(HOUSE, wait=0).late == 3


def test_offcuts_for_a_wall_with_no_corner_in_common_go_far_and_wait_until_it_is_laid():
    found = handling(SHED)
    assert (found.offcuts, found.far) == (6, 2)
    assert found.waiting == 2  # with F5's that of C3, then of C5, then of F10
    assert found.longest == 1  # how long they wait for another group of walls is not in courses


def test_offcuts_on_one_wall_are_near():
    # F4 serves courses 0 and 1, F7 courses 1 and 2
    found = handling(BOND)
    assert (found.offcuts, found.far, found.longest, found.waiting) == (2, 0, 1, 1)


def test_different_lengths_to_cut_are_those_of_corner_pieces_and_of_cut_panels():
    corner = {20, 8, 9, 19, 10, 11, 12}
    flat = {19, 18, 33, 24, 32}
    assert handling(HOUSE).lengths == len(corner | flat)
    assert handling(BOND).lengths == len({12, 24})


@pytest.mark.parametrize("wait", [0, 6])
def test_a_plan_without_panels_has_nothing_to_carry(wait):
    empty = Hand((bare_wall("W1", (0, 0, 36, 8), "butt butt"),), {})
    found = handling(empty, wait)
    assert (found.offcuts, found.waiting, found.lengths) == (0, 0, 0)
