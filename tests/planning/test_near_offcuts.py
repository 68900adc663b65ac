"""Offcuts that are used near the panel that they come from: what that may cost, and what it is good
for (rule L26). Where they go is counted by the judge, which shares nothing with the planner."""

from __future__ import annotations

from functools import cache

import pytest
from builders import drawing, job, write_dxf
from houses import house

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.writers.workbook.cuts import listed

HOUSES = (1, 3, 7)
"""A wing, a bay, a chimney breast."""


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    """The takeoff of a house with a word for its offcuts."""

    @cache
    def made(seed: int, offcuts: str):
        path, rules = house(seed, tmp_path_factory.mktemp("house"))
        return take_off([path], with_settings(rules, plan__offcuts=offcuts, plan__look="quiet"))

    return made


@pytest.mark.parametrize("seed", HOUSES)
def test_near_offcuts_cost_three_panels_in_two_hundred_at_most_and_say_what(planned, seed):
    anywhere, near = planned(seed, "job").plan, planned(seed, "near").plan
    assert near.total <= 1.015 * anywhere.total
    assert near.near_panels == near.total - anywhere.total
    assert near.near_cuts == near.cuts - anywhere.cuts
    assert (anywhere.near_panels, anywhere.near_cuts) == (0, 0)
    assert near.look_panels == anywhere.look_panels


@pytest.mark.parametrize("seed", HOUSES)
def test_few_offcuts_go_far_or_wait_long(planned, seed):
    anywhere, near = (planned(seed, word).plan.handling for word in ("job", "near"))
    assert anywhere.far + anywhere.late > 50
    assert near.far + near.late <= 0.1 * near.offcuts
    assert near.waiting <= 0.7 * anywhere.waiting


@pytest.mark.parametrize("seed", HOUSES)
def test_no_rule_of_laying_is_broken_for_it(planned, seed):
    anywhere, near = planned(seed, "job").plan, planned(seed, "near").plan
    assert sum(not b.forced for b in near.breaks) <= sum(not b.forced for b in anywhere.breaks)


@pytest.mark.parametrize("seed", HOUSES)
def test_joints_stay_as_much_out_of_line_as_they_were(planned, seed):
    anywhere, near = (planned(seed, word).plan.look for word in ("job", "near"))
    assert near.in_line_share <= anywhere.in_line_share + 0.01


@pytest.mark.parametrize("word", ["job", "near"])
@pytest.mark.parametrize("seed", HOUSES)
def test_panels_are_numbered_as_the_cut_list_comes_to_them(planned, seed, word):
    seen = {"F": [], "C": []}
    for _, piece in listed(planned(seed, word)):
        number = int(piece.stock[1:])
        if number not in seen[piece.stock[0]]:
            seen[piece.stock[0]].append(number)
    assert all(numbers == list(range(1, len(numbers) + 1)) for numbers in seen.values())


def test_the_same_house_twice_gives_the_same_plan(planned, tmp_path):
    path, rules = house(3, tmp_path)
    again = take_off([path], with_settings(rules, plan__offcuts="near", plan__look="quiet"))
    assert again.plan.units == planned(3, "near").plan.units


def test_an_offcut_waits_for_no_more_courses_than_the_job_says(tmp_path):
    # 53 in by 24 courses: a whole panel and 17 in each, first on one side, then on the other; two
    # of 17 and a saw cut make 34 1/8, so that any two courses that differ may share a panel
    path = write_dxf(drawing(wall=[(0, 0, 53, 192)]), tmp_path / "wall.dxf")
    plan = take_off([path], job(plan__offcuts="near", plan__offcut_wait=1.0)).plan
    assert plan.total == 24 + 12
    assert (plan.handling.offcuts, plan.handling.longest, plan.handling.late) == (12, 1, 0)
    assert plan.handling.waiting == 1


def test_where_a_panel_is_worth_more_than_the_way_an_offcut_goes_far(tmp_path):
    # two walls with no corner in common, one course each: 36 + 17 in; a panel more would be a third
    walls = [(0, 0, 53, 8), (400, 0, 453, 8)]
    path = write_dxf(drawing(wall=walls), tmp_path / "walls.dxf")
    plan = take_off([path], job(plan__offcuts="near", plan__alike=False)).plan
    assert (plan.total, plan.handling.far, plan.near_panels) == (3, 1, 0)


def test_a_wall_that_leaves_no_offcut_is_laid_as_it_is(tmp_path):
    path = write_dxf(drawing(wall=[(0, 0, 30, 32)]), tmp_path / "pier.dxf")
    near, anywhere = (take_off([path], job(plan__offcuts=word)) for word in ("near", "job"))
    assert near.walls == anywhere.walls
    assert near.plan.handling.offcuts == 0
