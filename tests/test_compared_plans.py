"""Plans side by side: no listed one beats another, and each word gives the plan that it stands
for."""

from __future__ import annotations

import dataclasses
import json
import math

import pytest
from builders import drawing, job, write_dxf
from houses import house
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.aims import AIMS
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Planning, load_job, with_settings
from dxf2veneer.wording.choices import choice_notes, over_line, plan_cells
from dxf2veneer.writers.result import result_dict
from dxf2veneer.writers.workbook.writing import _book

HOUSES = (3, 4)
"""A bay, a wainscot."""


@pytest.fixture(scope="module")
def compared(tmp_path_factory):
    """The takeoffs of houses with their plans side by side, prices and a wage."""
    folder = tmp_path_factory.mktemp("houses")
    prices = folder / "prices.csv"
    prices.write_text("item,price,unit\nflat_panel,10,each\ncorner_panel,15,each\n")
    found = {}
    for seed in HOUSES:
        path, rules = house(seed, folder)
        asked = with_settings(
            rules,
            plan__compare=True,
            plan__look="quiet",
            plan__offcuts="near",
            plan__tolerance=Planning.tolerance,
            order__prices=str(prices),
            labour__wage=40.0,
        )
        found[seed] = path, asked, take_off([path], asked)
    return found


@pytest.mark.parametrize("seed", HOUSES)
def test_no_listed_plan_beats_another(compared, seed):
    listed = compared[seed][2].choices.listed
    assert len(listed) > 2
    for one in listed:
        for other in listed:
            pairs = list(zip(one.figures, other.figures, strict=True))
            assert one is other or any(a < b for a, b in pairs)


@pytest.mark.parametrize("seed", HOUSES)
def test_every_word_is_listed_or_left_out_once(compared, seed):
    choices = compared[seed][2].choices
    words = [w for c in (*choices.listed, *(b.plan for b in choices.beaten)) for w in c.aims]
    assert sorted(words) == sorted(AIMS)
    for left in choices.beaten:
        pairs = list(zip(left.by.figures, left.plan.figures, strict=True))
        assert left.by in choices.listed
        assert all(a <= b for a, b in pairs)
        assert left.by.figures != left.plan.figures


@pytest.mark.parametrize("aim", list(AIMS))
@pytest.mark.parametrize("seed", HOUSES)
def test_the_plan_that_a_word_takes_is_what_the_table_says(compared, seed, aim):
    path, asked, takeoff = compared[seed]
    choices = takeoff.choices
    every = (*choices.listed, *(b.plan for b in choices.beaten))
    row = next(c for c in every if aim in c.aims)
    other = take_off([path], with_settings(asked, plan__compare=False, plan__aim=aim))
    plan, lines = other.plan, {line.key: line for line in other.order.lines}
    assert (row.flat, row.corner, row.cuts) == (plan.flat.units, plan.corner.units, plan.cuts)
    found = plan.handling
    assert (row.lengths, row.waiting, row.far) == (found.lengths, found.waiting, found.far)
    assert row.in_line == plan.look.in_line_share
    assert row.patterns == sum(f.kind not in ("in-line", "ladder") for f in plan.look.flaws)
    assert row.broken == sum(not b.forced for b in plan.breaks)
    assert row.flat_packages in (None, lines["flat_panel"].chosen.packages)
    goods = sum(n.chosen.cost for n in other.order.lines if n.chosen.cost is not None)
    cutting = next(n.cost for n in other.order.labour if n.key == "cut")
    assert (row.goods, row.cutting, row.money) == (goods, cutting, goods + cutting)


def test_the_takeoffs_own_plan_is_marked_whichever_it_is(compared):
    path, asked, takeoff = compared[4]
    assert [c.aims[0] for c in takeoff.choices.listed if c.is_taken] == ["balance"]
    other = take_off([path], with_settings(asked, plan__aim="cuts")).choices
    every = (*other.listed, *(b.plan for b in other.beaten))
    assert [c.aims[0] for c in every if c.is_taken] == ["cuts"]
    unmarked = [dataclasses.replace(c, is_taken=False, aims=tuple(sorted(c.aims))) for c in every]
    first = takeoff.choices
    before = (*first.listed, *(b.plan for b in first.beaten))
    for one in before:
        plain = dataclasses.replace(one, is_taken=False, aims=tuple(sorted(one.aims)))
        assert plain in unmarked


def test_the_same_job_twice_gives_the_same_table(compared):
    path, asked, takeoff = compared[4]
    assert take_off([path], asked).choices == takeoff.choices


def test_settings_that_no_word_stands_for_are_a_row_of_their_own(compared):
    path, asked, _ = compared[4]
    choices = take_off([path], with_settings(asked, plan__offcut_wait=1.0, plan__look="free"))
    every = (*choices.choices.listed, *(b.plan for b in choices.choices.beaten))
    (own,) = [c for c in every if c.is_taken]
    assert own.aims == () or plan_cells(own)[0].endswith("(this plan)")


def test_without_prices_there_is_no_money(tmp_path):
    # 53 in by 4 courses: a whole panel and 17 in each; 17 + 17 and a cut fit in a panel of 36, so
    # 4 whole panels and 2 cut twice; either all joints of courses 3 and 4 stand over those two
    # below and one length is cut, or the joints are moved and more lengths are
    path = write_dxf(drawing(wall=[(0, 0, 53, 32)]), tmp_path / "wall.dxf")
    takeoff = take_off([path], job(plan__compare=True, plan__look="quiet", labour__wage=40.0))
    quiet, plain = takeoff.choices.listed
    assert quiet.aims == ("balance", "look")
    assert plain.aims == ("panels", "cuts", "lengths", "wall")
    assert (quiet.is_taken, plain.is_taken) == (True, False)
    assert (plain.flat, plain.corner, plain.cuts, plain.lengths) == (6, 0, 4, 1)
    assert (plain.in_line, quiet.in_line, plain.broken) == (1.0, 0.0, 0)
    assert (plain.goods, plain.cutting, plain.money) == (None, 8, None)  # 4 x 0.05 h x 40
    assert plan_cells(plain)[-1] == ""
    assert "No money" in " ".join(choice_notes(takeoff.choices, ""))
    assert takeoff.choices.beaten == ()


def test_it_stands_in_result_and_workbook(compared):
    takeoff = compared[3][2]
    found = json.loads(json.dumps(result_dict(takeoff)))["plans"]
    assert [p["aims"] for p in found["listed"]] == [list(c.aims) for c in takeoff.choices.listed]
    sheet = _book(takeoff)[0]["Plans"]
    names = {str(cell.value) for cell in sheet["A"]}
    assert any("balance (this plan)" in name for name in names)
    without = dataclasses.replace(takeoff, choices=None)
    assert "Plans" not in _book(without)[0].sheetnames
    assert result_dict(without)["plans"] is None


def test_what_the_default_costs_over_the_cheapest_is_told_in_money(compared):
    # panels at 10 and 15 each with 3 % for breakage, whole packages, and cuts at 0.05 h x 40
    _, _, takeoff = compared[3]
    plan, order = takeoff.plan, takeoff.order
    lines = {line.key: line for line in order.lines}

    def cost(key, panels):
        per, price = lines[key].per_package, {"flat_panel": 10.0, "corner_panel": 15.0}[key]
        return math.ceil(round(panels * 1.03 / per, 9)) * per * price

    now = cost("flat_panel", plan.flat.units) + cost("corner_panel", plan.corner.units)
    then = cost("flat_panel", plan.plain.flat) + cost("corner_panel", plan.plain.corner)
    labor = (plan.cuts - plan.plain.cuts) * 0.05 * 40.0
    assert float(order.over) == pytest.approx(now - then + labor, abs=0.02)
    assert f"{abs(order.over):,.2f}" in over_line(plan, order)


def test_comparing_without_a_plan_is_refused_in_one_line():
    with refused(SettingsError, "option --compare-plans: plans are compared panel by panel"):
        load_job(None, {"plan.compare": True, "plan.panels": False})


def test_a_job_too_big_for_a_plan_has_none_to_compare(tmp_path):
    path = write_dxf(drawing(wall=[(0, 0, 53, 32)]), tmp_path / "wall.dxf")
    assert take_off([path], job(plan__compare=True, plan__most=1.0)).choices is None
