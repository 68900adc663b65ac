"""Joints moved for their look: what it may cost, what it must keep, what it is good for (L25).

What is seen is counted by the judge's look, which shares nothing with the planner.
"""

from __future__ import annotations

import dataclasses
from functools import cache

import pytest
from builders import drawing, job, write_dxf
from houses import house

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings

HOUSES = (1, 3, 7)
"""A wing, a bay, a chimney breast."""


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    """The takeoff of a house with a word for the look."""

    @cache
    def made(seed: int, look: str):
        path, rules = house(seed, tmp_path_factory.mktemp("house"))
        return take_off([path], with_settings(rules, plan__look=look))

    return made


@pytest.mark.parametrize("seed", HOUSES)
def test_a_look_that_is_free_costs_no_panel(planned, seed):
    off, free = planned(seed, "off").plan, planned(seed, "free").plan
    assert free.total == off.total
    assert free.look_panels == 0


@pytest.mark.parametrize("seed", HOUSES)
def test_a_quiet_look_costs_a_panel_in_a_hundred_at_most_and_says_what(planned, seed):
    off, quiet = planned(seed, "off").plan, planned(seed, "quiet").plan
    assert quiet.total <= 1.01 * off.total
    assert quiet.look_panels == quiet.total - off.total
    assert quiet.look_cuts == quiet.cuts - off.cuts


@pytest.mark.parametrize("seed", (*HOUSES, 64))
def test_no_rule_of_laying_is_broken_for_the_look(planned, seed):
    off, quiet = planned(seed, "off").plan, planned(seed, "quiet").plan
    assert sum(not b.forced for b in quiet.breaks) <= sum(not b.forced for b in off.breaks)


@pytest.mark.parametrize("seed", HOUSES)
def test_a_quiet_look_has_fewer_joints_in_line(planned, seed):
    off, free, quiet = (planned(seed, look).plan.look for look in ("off", "free", "quiet"))
    assert free.in_line <= off.in_line
    assert quiet.in_line_share <= min(0.1, off.in_line_share)
    assert quiet.repeats <= off.repeats


@pytest.mark.parametrize("seed", [3, 23])
def test_no_mitred_pair_of_a_bay_is_parted_for_the_look(planned, seed):
    off, quiet = (planned(seed, look).plan.mitres.count("kept") for look in ("off", "quiet"))
    assert quiet >= off > 0


def test_the_same_house_twice_gives_the_same_plan(planned, tmp_path):
    path, rules = house(1, tmp_path)
    again = take_off([path], with_settings(rules, plan__look="quiet"))
    assert [w.courses.pieces for w in again.walls] == [
        w.courses.pieces for w in planned(1, "quiet").walls
    ]


def test_a_plain_wall_has_hardly_a_joint_in_line(tmp_path):
    # 29'-2" by 16 ft between butt ends: 24 courses of about ten panels
    path = write_dxf(drawing(wall=[(0, 0, 350, 192)]), tmp_path / "wall.dxf")
    plan = take_off([path], with_settings(job(), plan__look="quiet")).plan
    assert plan.look.over > 180
    assert plan.look.in_line_share <= 0.05
    assert plan.look.stair <= 4
    assert plan.look.repeats == 0


def test_offcuts_that_stay_on_their_wall_leave_joints_where_they_are(tmp_path):
    path = write_dxf(drawing(wall=[(0, 0, 360, 96)]), tmp_path / "wall.dxf")
    rules = job(plan__offcuts="wall")
    quiet, off = (take_off([path], with_settings(rules, plan__look=x)) for x in ("quiet", "off"))
    assert [w.courses.pieces for w in quiet.walls] == [w.courses.pieces for w in off.walls]
    assert (quiet.plan.look_panels, quiet.plan.look_cuts) == (0, 0)


def test_a_wall_of_one_piece_each_course_has_no_joints_to_move(tmp_path):
    path = write_dxf(drawing(wall=[(0, 0, 30, 32)]), tmp_path / "pier.dxf")
    plan = take_off([path], job()).plan
    assert dataclasses.asdict(plan.look)["joints"] == 0


@pytest.mark.parametrize("seed", [14, 19])
def test_no_course_of_a_wall_of_three_panels_and_more_repeats_the_one_two_below(planned, seed):
    """Long low walls of few courses: the runs beside a course keep it in line, until one of them
    is moved too."""
    quiet = planned(seed, "quiet")
    wide = {w.wall.id for w in quiet.walls if w.wall.box[2] - w.wall.box[0] >= 3.0 * 36.0}
    assert wide
    assert not [f for f in quiet.plan.look.flaws if f.kind == "repeat" and f.wall in wide]
