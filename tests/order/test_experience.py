"""Estimates without a course plan beside the plans themselves, on walls that nobody tuned on."""

import dataclasses
import math

import pytest
from builders import PRODUCT, drawing, job, line
from houses import house

from dxf2veneer.app.laying import lay_out
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.order import order
from dxf2veneer.order.experience import EXPERIENCE, estimate, expected, kind_of
from dxf2veneer.order.labour import labour_of
from dxf2veneer.recognise import recognise

NEW_SEEDS = (31, 32, 33, 34, 35)
"""Houses of every style beyond the twenty that the table is made of."""


def walls_of(**outlines):
    rules = job()
    found = recognise([drawing(**outlines)], rules)
    return lay_out(found.walls, found.corners, rules, PRODUCT).walls


def test_kinds_of_walls():
    r"""| 24 |   200   |   200, a window   |   200, bay at its right |"""
    wall = [(0, 0, 24, 40), (100, 0, 300, 40), (400, 0, 600, 40), (700, 0, 900, 40)]
    walls = walls_of(
        wall=wall,
        window=[(450, 12, 480, 30)],
        outside_corner=[line(0, 0, 0, 40), line(24, 0, 24, 40)],
        bay=[line(900, 0, 900, 40)],
    )
    assert [kind_of(w, PRODUCT) for w in walls] == ["column", "plain", "openings", "bay"]


def test_what_is_expected_is_weighted_by_area():
    # two plain walls of 100 and 300 sq ft, 36 x 8 in a panel: twice the table's row for 100 panels
    walls = walls_of(wall=[(0, 0, 150, 96), (200, 0, 650, 96)])
    row = EXPERIENCE["plain"]
    assert expected(walls, PRODUCT) == pytest.approx(
        (2 * row.flat, 2 * row.corner, 2 * row.cuts, 2 * row.partial, row.panels, row.low, row.high)
    )


def test_panels_twice_as_large_make_half_the_pieces_and_hours():
    walls = walls_of(wall=[(0, 0, 150, 96), (200, 0, 650, 96)])
    larger = dataclasses.replace(PRODUCT, panel=dataclasses.replace(PRODUCT.panel, height=16))
    usual, half = (labour_of(walls, (), None, job(), p).lines for p in (PRODUCT, larger))
    assert half[0].quantity == pytest.approx(usual[0].quantity / 2, abs=0.5)
    assert half[0].rates == tuple(rate / 2 for rate in usual[0].rates)


@pytest.mark.parametrize("seed", NEW_SEEDS)
def test_labor_of_a_new_house_is_within_a_fifth_of_its_plan_s(seed, tmp_path):
    path, rules = house(seed, tmp_path)
    by_plan, by_area = (
        sum(
            line.hours
            for line in take_off([path], with_settings(rules, plan__panels=on)).order.labour
        )
        for on in (True, False)
    )
    assert float(by_area) == pytest.approx(float(by_plan), rel=0.2)


@pytest.mark.parametrize("seed", NEW_SEEDS)
def test_panels_of_a_new_house_lie_in_the_spread_that_is_told(seed, tmp_path):
    takeoff = take_off([house(seed, tmp_path)[0]], house(seed, tmp_path)[1])
    net = sum(w.quantities.net_area for w in takeoff.walls) / PRODUCT.coverage_area
    told = expected(takeoff.walls, PRODUCT)
    assert told.low <= takeoff.plan.total / net <= told.high


def test_panels_by_area_are_what_plans_took_and_breakage():
    """| 120 x 96, nothing in it |   plain, 80 sq ft: 40 panels of 2 sq ft; a row of its own kind"""
    walls = walls_of(wall=[(0, 0, 120, 96)])
    row, breakage = EXPERIENCE["plain"], 1 + job().order.breakage / 100
    made = estimate(walls, PRODUCT, None)
    assert [(w.kind, w.faces, w.rate) for w in made.walls] == [("plain", 40.0, row.panels)]
    assert made.panels == math.ceil(40 * row.panels)
    assert made.spread == (math.ceil(40 * row.low), math.ceil(40 * row.high))
    flat = order(walls, (), None, job(), PRODUCT).lines[0]
    assert flat.key == "flat_panel"
    assert flat.chosen.needed == pytest.approx(40 * row.panels * breakage)


def test_a_scrap_of_the_job_s_own_takes_the_place_of_what_plans_took():
    walls = walls_of(wall=[(0, 0, 120, 96)])
    own = with_settings(job(), order__scrap=25.0)
    assert estimate(walls, PRODUCT, 25.0).spread == (50, 50)
    flat = order(walls, (), None, own, PRODUCT).lines[0]
    assert (flat.chosen.allowance_pct, flat.chosen.needed) == (25.0, 50.0)


def test_what_plans_took_counts_corner_panels_once():
    """Two walls of 120 x 96 round a corner: 12 courses, a corner piece each, two from a panel."""
    walls = [(0, 0, 120, 96), (120, 0, 240, 96)]
    marks = {"outside_corner": [line(120, 0, 120, 96)]}
    rules = job()
    found = recognise([drawing(wall=walls, **marks)], rules)
    laid = lay_out(found.walls, found.corners, rules, PRODUCT).walls
    lines = order(laid, found.corners, None, rules, PRODUCT).lines
    flat, corner = (next(x for x in lines if x.key == k) for k in ("flat_panel", "corner_panel"))
    assert corner.chosen.measured == 6
    both = (flat.chosen.needed + corner.chosen.needed) / (1 + rules.order.breakage / 100)
    assert both == pytest.approx(80 * EXPERIENCE["corners"].panels, rel=0.001)  # told to 0.1 %
