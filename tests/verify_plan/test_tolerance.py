"""Edges that are off by half an inch, on walls laid by hand: what would happen on site (rule L27).

A run may be an inch longer or shorter then. No saw cuts, panels of 36 in, least piece and stagger
8 in, halves of a corner panel an inch apart.
"""

from __future__ import annotations

import pytest
from builders import job
from hand_plans import Hand, bare_wall

from dxf2veneer.verify.tolerance import tolerance_of

RULES = job(plan__kerf=0.0, plan__tolerance=0.5)


def seen(width: float, *rows: str, edges: str = "butt butt", rules=RULES):
    """What becomes of a wall of so many courses: runs that hold, and the places by kind, with
    course and what is missing."""
    wall = bare_wall("W1", (0, 0, width, 8.0 * len(rows)), edges)
    hand = Hand((wall,), {("W1", n): row for n, row in enumerate(rows)}, job=rules)
    planned = hand.planned()
    found = tolerance_of(planned.walls, rules, planned.product)
    return found.held, [(p.kind, p.course, round(p.by, 6)) for p in found.places]


def test_end_pieces_of_panels_with_enough_left_take_up_every_error():
    # 20 of F1 and 16 of F3 may be longer and shorter by far more than half an inch
    assert seen(72, "0 F1> 20 F2 56 F3< 72") == (1, [])


def test_a_run_of_whole_panels_can_not_be_longer():
    assert seen(72, "0 F1 36 F2 72") == (0, [("long", 0, 1.0)])


def test_one_end_that_can_grow_by_all_of_it_is_enough():
    # F1 is whole; F2 is cut at 30 and may be 6 longer
    assert seen(66, "0 F1 36 F2< 66") == (1, [])


@pytest.mark.parametrize(("second", "held"), [(16.0, 2), (17.0, 2), (17.5, 1), (18.5, 0)])
def test_runs_that_share_a_panel_share_what_is_left_of_it(second, held):
    # 36 | 17 of F2 below, F2's other part above: they need an inch each of 36 - 17 - second
    wall = bare_wall("W1", (0, 0, 53, 8), "butt butt")
    other = bare_wall("W2", (100, 0, 100 + second + 36, 8), "butt butt")
    rows = {("W1", 0): "0 F1 36 F2< 53", ("W2", 0): f"100 F2> {100 + second} F3 {second + 136}"}
    hand = Hand((wall, other), rows, job=RULES).planned()
    assert tolerance_of(hand.walls, RULES, hand.product).held == held


def test_a_run_that_shares_a_panel_leaves_it_to_one_that_has_no_other():
    # F2 has an inch to spare; the lower run can take its own from F1 (30 of 36), the upper, whose
    # other end is whole, can not
    lower = bare_wall("W1", (0, 0, 47, 8), "butt butt")
    upper = bare_wall("W2", (100, 0, 154, 8), "butt butt")
    rows = {("W1", 0): "0 F1> 30 F2< 47", ("W2", 0): "100 F2> 118 F3 154"}
    hand = Hand((lower, upper), rows, job=RULES).planned()
    assert tolerance_of(hand.walls, RULES, hand.product).held == 2


def test_a_lone_piece_of_less_than_an_inch_over_the_least_comes_to_be_too_short():
    assert seen(8.6, "0 F1< 8.6") == (0, [("short", 0, 0.4)])
    assert seen(9.0, "0 F1< 9") == (1, [])


def test_a_short_end_piece_hands_the_error_to_the_other_end():
    # 8.1 can lose 0.1 only: the row moves right by 0.4, and the piece at the right loses 0.9
    assert seen(64.1, "0 F1> 8.1 F2 44.1 F3< 64.1") == (1, [])


def test_joints_of_corner_pieces_go_with_their_corner_together():
    # both corner pieces stand at the one finished end: 8.2 apart they stay
    rows = "0 C1< 12 F1> 40 F2< 70", "0 C2< 20.2 F3> 50 F4< 70"
    assert seen(70, *rows, edges="end butt") == (2, [])


def test_a_joint_of_a_corner_piece_may_come_too_near_to_one_below():
    # the corner half an inch in, the joint at 31.7 comes to 32.2, 7.8 from the one at 40 below
    rows = "0 C1< 12 F1> 40 F2< 70", "0 C2< 31.7 F3> 56 F4< 70"
    assert seen(70, *rows, edges="end butt") == (1, [("stagger", 1, 0.2)])


def test_rows_that_have_to_move_may_come_too_near_to_one_another():
    # F1 and F3 are whole: both ends half an inch out, the lower row goes left and the upper one
    # right by as much, 36 - 27.5 = 8.5 comes to 7.5
    rows = "0 F1 36 F2< 63.5", "0 F5> 27.5 F3 63.5"
    assert seen(63.5, *rows) == (1, [("stagger", 1, 0.5)])


def test_halves_that_fill_a_run_may_come_to_be_equal():
    # 17 and 18 of one panel: half an inch more and half an inch less are 17.5 and 17.5
    assert seen(35, "0 C1< 17 C1> 35", edges="end end") == (0, [("halves", 0, 1.0)])


def test_places_where_a_rule_is_broken_as_drawn_are_told_by_the_judge_alone():
    assert seen(6, "0 F1< 6") == (1, [])


def test_a_job_that_allows_for_no_errors_has_none():
    planned = Hand((bare_wall("W1", (0, 0, 36, 8), "butt butt"),), {}).planned()
    assert tolerance_of(planned.walls, job(), planned.product) is None
