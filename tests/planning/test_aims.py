"""Plans that are best at one thing: what each word is good for, and what it may cost.

What is counted comes from the judge, which shares nothing with the planner.
"""

from __future__ import annotations

from functools import cache

import pytest
from builders import drawing, job, write_dxf
from houses import house
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.aims import AIMS, without_aim
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job, with_settings

HOUSES = (2, 3, 4)
"""A chimney breast, a bay, a wainscot."""


@pytest.fixture(scope="module")
def planned(tmp_path_factory):
    """The plan of a house that is best at something."""

    @cache
    def made(seed: int, aim: str):
        path, rules = house(seed, tmp_path_factory.mktemp("house"))
        return take_off([path], with_settings(rules, plan__aim=aim)).plan

    return made


@pytest.mark.parametrize("seed", HOUSES)
def test_few_lengths_are_half_as_many_for_a_panel_in_a_hundred(planned, seed):
    plain, few = planned(seed, "panels"), planned(seed, "lengths")
    assert few.total <= 1.01 * plain.total
    assert few.handling.lengths <= 0.6 * plain.handling.lengths
    assert (few.over, few.cuts_over) == (few.total - plain.total, few.cuts - plain.cuts)
    assert (few.lengths_panels, few.lengths_cuts) == (few.over, few.cuts_over)


@pytest.mark.parametrize("seed", HOUSES)
def test_few_cuts_are_no_more_than_in_the_plan_of_fewest_panels(planned, seed):
    assert planned(seed, "cuts").cuts <= planned(seed, "panels").cuts


@pytest.mark.parametrize("seed", HOUSES)
def test_offcuts_that_stay_on_their_wall_stay_there(planned, seed):
    plan = planned(seed, "wall")
    at_bays = {b.wall for b in plan.breaks} if seed == 3 else set()
    assert plan.handling.far == 0 or at_bays  # both sides of a bay's mitre come from one panel


@pytest.mark.parametrize("seed", HOUSES)
@pytest.mark.parametrize("aim", list(AIMS))
def test_no_rule_is_broken_for_an_aim(planned, seed, aim):
    assert all(b.forced for b in planned(seed, aim).breaks)


@pytest.mark.parametrize("seed", HOUSES)
def test_what_the_default_costs_over_the_cheapest_is_the_difference_of_both(planned, seed):
    usual, plain = planned(seed, "balance"), planned(seed, "panels")
    assert (usual.over, usual.cuts_over) == (usual.total - plain.total, usual.cuts - plain.cuts)
    assert usual.plain == (plain.flat.units, plain.corner.units, plain.cuts)
    assert (plain.over, plain.cuts_over, plain.plain) == (0, 0, None)


def test_courses_of_equal_length_are_cut_to_two_lengths(tmp_path):
    # 53 in by 24 courses: 36 and 17, the stagger met by changing sides. One length is cut.
    path = write_dxf(drawing(wall=[(0, 0, 53, 192)]), tmp_path / "wall.dxf")
    plan = take_off([path], job(plan__aim="lengths")).plan
    assert plan.handling.lengths == 1


def test_a_word_brings_its_settings_with_its_own_origin():
    made = load_job(None, {"plan.aim": "look"})
    assert (made.plan.look, made.plan.offcuts) == ("quiet", "job")
    assert made.origin_of("plan.offcuts").option == "aim"
    assert with_settings(load_job(), plan__aim="wall").plan.offcuts == "wall"


def test_a_word_that_is_an_option_wins_over_the_file(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text('[plan]\nlook = "free"\noffcuts = "wall"\n')
    made = load_job(path, {"plan.aim": "balance"})
    assert (made.plan.look, made.plan.offcuts) == ("quiet", "near")


def test_a_single_setting_that_says_otherwise_is_refused(tmp_path):
    with refused(SettingsError, 'plan.look = "off", and option --look says "quiet"'):
        load_job(None, {"plan.aim": "panels", "plan.look": "quiet"})
    path = tmp_path / "job.toml"
    path.write_text('[plan]\naim = "cuts"\ncuts_per_panel = 5\n')
    with refused(SettingsError, r"job\.toml, line 2: plan\.aim = cuts .* line 3 says 5; leave"):
        load_job(path)
    assert load_job(None, {"plan.aim": "panels", "plan.look": "off"}).plan.look == "off"


def test_a_job_without_its_word_has_what_its_file_says(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text('[plan]\nlook = "free"\ntolerance = 1\n')
    own = load_job(path)
    for asked in (load_job(path, {"plan.aim": "cuts"}), with_settings(own, plan__aim="cuts")):
        assert (asked.plan.look, asked.plan.tolerance) == ("off", 0.0)
        assert without_aim(asked).plan == own.plan
        assert dict(without_aim(asked).origins) == dict(own.origins)


def test_the_same_house_twice_gives_the_same_few_lengths(planned, tmp_path):
    path, rules = house(4, tmp_path)
    again = take_off([path], with_settings(rules, plan__aim="lengths")).plan
    assert again.units == planned(4, "lengths").units
