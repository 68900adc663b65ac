"""The look of laid walls, counted on walls laid by hand: what a mason would see (rule L25).

Joints within 1 in of each other, sideways, are in line.
"""

from __future__ import annotations

import dataclasses

from hand_plans import BOND, HOUSE, Hand, bare_wall

from dxf2veneer.verify.look import look_of


def look(hand: Hand):
    planned = hand.planned()
    return look_of(planned.walls, planned.product)


def flaws(hand: Hand, kind: str):
    return [(f.wall, f.course, f.at[0], f.courses) for f in look(hand).flaws if f.kind == kind]


def laid(outline, *rows: str, **openings) -> Hand:
    """A wall between butt ends, its courses from the bottom up."""
    wall = bare_wall("W1", outline, "butt butt", **openings)
    return Hand((wall,), {("W1", i): row for i, row in enumerate(rows)})


HALVES = laid(
    (0, 0, 72, 40),
    "0 F1 36 F2 72",
    "0 F3> 18 F4 54 F5< 72",
    "0 F6 36 F7 72",
    "0 F8> 18 F9 54 F10< 72",
    "0 F11 36 F12 72",
)
"""Halves over halves: every second course is the same.

40 |-------|-------|
   |---|-------|---|
   |-------|-------|
   |---|-------|---|
 0 |-------|-------|
   0  18  36  54  72
"""


def test_joints_in_line_two_courses_apart_are_counted_where_there_is_ground_below():
    found = look(HALVES)
    assert found.joints == 1 + 2 + 1 + 2 + 1
    assert (found.over, found.in_line) == (4, 4)
    assert found.in_line_share == 1.0


def test_a_ladder_is_told_once_at_its_top_with_the_courses_it_runs_through():
    assert look(HALVES).ladder == 3
    assert flaws(HALVES, "ladder") == [("W1", 4, 36.0, 5)]
    assert flaws(HALVES, "in-line") == [("W1", 3, 18.0, 3), ("W1", 3, 54.0, 3)]


def test_a_course_of_three_pieces_that_repeats_the_one_two_below_is_told():
    assert look(HALVES).repeats == 1  # that of two pieces has no pattern to repeat
    assert flaws(HALVES, "repeat") == [("W1", 3, 18.0, 3)]


def test_joints_more_than_an_inch_apart_are_not_in_line():
    rows = {("W1", 2): "0 F6< 34.9 F7> 72", ("W1", 4): "0 F11< 33.8 F12> 72"}
    assert look(HALVES.relaid(rows)).in_line == 2  # 34.9 is 1.1 from 36 and from 33.8
    rows = {("W1", 2): "0 F6< 35.1 F7> 72"}
    assert look(HALVES.relaid(rows)).in_line == 4


def test_a_good_bond_has_no_pattern():
    found = look(BOND)  # joints at 36 72 108; 24 60 96; 12 48 84
    assert (found.over, found.in_line, found.ladder, found.repeats) == (3, 0, 1, 0)


def test_joints_that_climb_by_one_step_make_a_stair():
    assert look(BOND).stair == 3  # 36, 24, 12
    rows = [f"0 F{2 * i}< {10 * (i + 1)} F{2 * i + 1}> 60" for i in range(5)]
    stair = laid((0, 0, 60, 40), *rows)
    assert look(stair).stair == 5
    assert flaws(stair, "stair") == [("W1", 4, 50.0, 5)]
    broken = stair.relaid({("W1", 2): "0 F4< 45 F5> 60"})
    assert look(broken).stair == 2  # 10, 20 | 45 | 40, 50: no two steps alike
    assert flaws(broken, "stair") == []


def test_corner_pieces_of_one_length_round_a_corner_are_told():
    # at K1, course by course and turn by turn: 8 on W1, 11 on W2, 9 on W1, 12 on W2
    found = look(HOUSE)
    assert (found.turns, found.equal_turns) == (3, 0)  # at K2 one wall alone is drawn
    rows = {("W2", 1): "200 C2< 208.5 F13 244.5 F14< 280"}
    assert look(HOUSE.relaid(rows)).equal_turns == 2  # 8.5 beside 8 below and 9 above
    assert {f[:2] for f in flaws(HOUSE.relaid(rows), "corner")} == {("W2", 1), ("W1", 2)}


WINDOW = laid(
    (0, 0, 108, 40),
    "0 F1 36 F2 72 F3 108",
    "0 F4< 28 F5 64 F6 100 F7< 108",
    "0 F8< 9 F9> 40 | 76 F10< 108",
    "0 F11> 31 F12< 40 | 76 F13< 86 F14> 108",
    "0 F15< 10 F16> 40 F17 76 F18> 108",
    opening=[(40, 16, 76, 32)],
)
"""A window from 40 to 76, two courses high, with joints over both its jambs.

40 |-|------|-------|------|
   |------|-|       |-|----|
16 |-|------|_______|------|
   |-----|-------|------|--|
 0 |------|-------|--------|
   0        40     76     108
"""


def test_joints_in_line_with_a_jamb_are_told_over_the_head_and_under_the_sill():
    assert flaws(WINDOW, "jamb") == [("W1", 4, 40.0, 1), ("W1", 4, 76.0, 1)]
    under = WINDOW.relaid({("W1", 1): "0 F4< 28 F5> 40 F6 75.5 F7< 108"})
    assert ("W1", 1, 40.0, 1) in flaws(under, "jamb")
    assert ("W1", 1, 75.5, 1) in flaws(under, "jamb")


def test_short_pieces_one_above_the_other_beside_an_opening_are_told():
    rows = [f"0 F{i}< 10 F{i + 9}> 60 | 90 F{i + 20} 120" for i in range(3)]
    wall = laid((0, 0, 120, 24), *rows, opening=[(60, 0, 90, 24)])
    assert look(wall).shorts == 0  # the short ones stand at the wall's edge
    rows = [f"0 F{i}< 50 F{i + 9}> 60 | 90 F{i + 20} 120" for i in range(3)]
    wall = laid((0, 0, 120, 24), *rows, opening=[(60, 0, 90, 24)])
    assert look(wall).shorts == 3
    assert flaws(wall, "short") == [("W1", 2, 60.0, 3)]


def test_a_wall_without_pieces_has_no_look():
    bare = dataclasses.replace(BOND, rows={})
    found = look(bare)
    assert (found.joints, found.over, found.ladder, found.flaws) == (0, 0, 0, ())
