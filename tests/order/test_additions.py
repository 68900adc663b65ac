"""Quantities added or taken off by hand, and walls of which the area alone is known.

The wall is 288 x 96, 192 sq ft, with plain edges: by area 96 panels of 2 sq ft.
"""

from decimal import Decimal
from types import SimpleNamespace

import pytest
from builders import JOB, PRODUCT, drawing
from jobs import line, ordered
from refusals import refused

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import with_settings
from dxf2veneer.order import load_prices
from dxf2veneer.order.arithmetic import CountMethod, count
from dxf2veneer.order.over import money_over
from dxf2veneer.wording import say

WALL = drawing(wall=[(0, 0, 288, 96)])
PLAIN = {"recognise__edge_kind": "butt"}


def with_(*tables, **settings):
    return ordered(WALL, order__additions=as_additions(list(tables)), **PLAIN, **settings)


def measured(made, key, mode="area"):
    return next(w.measured for w in line(made, key).ways if w.mode == mode)


@pytest.mark.parametrize("quantity", [6, -6])
def test_spare_panels_are_added_or_taken_off_with_their_reason(quantity):
    made = with_({"item": "flat_panel", "quantity": quantity, "reason": "Owner"}, panels=True)
    plain = ordered(WALL, **PLAIN, panels=True)
    for mode in ("layout", "area"):
        assert measured(made, "flat_panel", mode) == pytest.approx(
            measured(plain, "flat_panel", mode) + quantity
        )
    panels = line(made, "flat_panel").chosen
    assert panels.added == quantity
    assert say(panels.why).endswith(f"{'plus' if quantity > 0 else 'less'} 6 by hand: Owner")
    told = {n.code: say(n.message) for n in made.notices}
    assert told["ADDED"] == "by hand, in the job file: Owner"


def test_a_wall_by_its_area_takes_panels_corners_fasteners_and_barrier():
    #  120 sq ft with 16 ft of corners: 192 / 8 = 24 pieces of 18 x 8 = 1 sq ft, 12 corner panels;
    #  (120 - 24) / 2 = 48 flat panels; fasteners 4 for each of 48 + 24;
    #  barrier 120 x 36/34 x 1200/1194 + 16 in x 192 in
    more = {"area": 120, "corners": "16'", "reason": "Garage side"}
    made, plain = with_(more), ordered(WALL, **PLAIN)
    assert measured(made, "flat_panel") == pytest.approx(96 + 48)
    assert measured(made, "corner_panel") == pytest.approx(12)
    assert measured(made, "panel_fastener") == pytest.approx(4 * 96 + 4 * 72)
    barrier = 120 * 36 / 34 * 1200 / 1194 + 16 * 192 / 144
    assert measured(made, "wrb") == pytest.approx(measured(plain, "wrb") + barrier)
    told = {n.code: say(n.message) for n in made.notices}
    assert "without openings" in told["ADDED"] and told["ADDED"].endswith("labor: Garage side")


@pytest.mark.parametrize("panels", [False, True])
def test_a_wall_by_its_area_has_the_work_that_plans_had_and_what_goes_by_area(panels):
    #  120 sq ft are 60 panels' worth; walls with corners had, of 100 of them, 105.0 flat pieces,
    #  58.4 cuts and 29.0 partial pieces (order/experience.py); corner pieces are counted: 24
    more = {"area": 120, "corners": "16'", "reason": "Garage side"}
    rated = ("layout", "barrier", "strips", "cleanup", "scaffold")
    work = {f"labour__{key}": 0.01 for key in rated}
    made, plain = (
        ordered(WALL, order__additions=as_additions(list(tables)), panels=panels, **PLAIN, **work)
        for tables in ([more], [])
    )
    of = {line.key: line for line in plain.labour}
    told = {line.key: round(line.quantity - of[line.key].quantity, 6) for line in made.labour}
    areas = dict.fromkeys(("layout", "barrier", "cleanup", "scaffold"), 120.0)
    pieces = {"flat": 63.0, "corner": 24.0, "cut": 35.0, "partial": 17.0}
    assert {key: many for key, many in told.items() if many} == areas | pieces
    assert say(made.labour[0].why).endswith("plus 63 by hand: Garage side")
    area = next(work for work in made.labour if work.measure == "net_area")
    assert " sq ft by hand: Garage side" in say(area.why)


@pytest.mark.parametrize("area", ["12 m2", "12 m²", "12 sq m", "129.166925 sq ft", 129.166925])
def test_an_area_is_told_in_either_unit(area):
    # 1 ft = 0.3048 m exactly (international foot), so 12 m2 = 12 / 0.09290304 sq ft
    (one,) = as_additions([{"area": area, "reason": "Rear"}])
    assert one.area == pytest.approx(12 / 0.09290304, rel=1e-8)


@pytest.mark.parametrize("area", ["12 m", "a lot", "-3 m2", True, ["12 m2"], "1e400"])
def test_what_is_no_area_is_refused(area):
    with pytest.raises(WrongValueError):
        as_additions([{"area": area, "reason": "Rear"}])


def test_two_walls_by_their_area_have_names_of_their_own():
    walls = [{"area": 10, "reason": "Rear"}, {"area": 12, "reason": "rear"}]
    with refused(WrongValueError, match="'rear' stands twice"):
        as_additions(walls)
    spare = [{"item": "wrb", "quantity": n, "reason": "spare"} for n in (1, 2)]
    assert len(as_additions([*spare, walls[0]])) == 3


def test_a_way_of_counting_that_is_not_used_stops_at_none():
    #  97 of 96 panels by area; by layout there are 97
    off = {"item": "flat_panel", "quantity": -97, "reason": "In the yard"}
    made = with_(off, panels=True, order__allowance="layout")
    laid = measured(ordered(WALL, **PLAIN, panels=True), "flat_panel", "layout")
    assert measured(made, "flat_panel", "layout") == laid - 97
    assert measured(made, "flat_panel", "area") == 0.0


def test_beside_a_plan_a_wall_by_its_area_has_the_loss_that_plans_took():
    #  120 sq ft without corners: 60 panels, and walls without openings took 1.06 times as many
    #  (order/experience.py)
    made = with_({"area": 120, "reason": "Rear"}, panels=True)
    plain = ordered(WALL, **PLAIN, panels=True)
    more = measured(made, "flat_panel", "layout") - measured(plain, "flat_panel", "layout")
    assert more == pytest.approx(60 * 1.06)


def test_an_item_that_nothing_else_needs_is_ordered_at_its_place():
    made = with_({"item": "cap_stone", "quantity": 3, "reason": "Pillar"})
    assert measured(made, "cap_stone", "layout") == 3
    keys = [entry.key for entry in made.lines]
    assert keys.index("cap_stone") == keys.index("starter_strip") + 1


def test_no_more_is_taken_off_than_there_is():
    with refused(SettingsError, match=r"97 of flat_panel are taken off, but only 96 are counted"):
        with_({"item": "flat_panel", "quantity": -97, "reason": "Typing error"})


@pytest.mark.parametrize(
    "table",
    [
        {"item": "flat_panel", "quantity": 6, "reason": " "},
        {"item": "flat_panel", "reason": "none of it"},
        {"item": "flat_panel", "quantity": 6, "area": 3, "reason": "both"},
        {"corners": 96, "reason": "no area"},
        {"item": "fixture_block", "quantity": 1, "reason": "of which size?"},
        {"item": "flat_panel", "quantity": 6},
    ],
)
def test_an_addition_says_what_and_why(table):
    with pytest.raises(WrongValueError):
        as_additions([table])


def test_what_is_added_by_hand_costs_the_same_with_any_plan(tmp_path):
    #  the plan has 20 panels, as the cheapest has, and 12 crosscuts more: 12 x 0.05 h x 40;
    #  105.8 flat and 9.2 corner panels of a wall by its area are neither plan's
    (tmp_path / "p.csv").write_text("item,unit,price\nflat_panel,each,10\ncorner_panel,each,9\n")
    now = SimpleNamespace(flat=SimpleNamespace(units=20), corner=SimpleNamespace(units=0), cuts=30)
    now.plain = SimpleNamespace(flat=20, corner=0, cuts=18)
    why, counts = message("none-counted"), []
    for key, own, added in (("flat_panel", 20, 105.8), ("corner_panel", 0, 9.2)):
        counts.append(count(key, CountMethod("layout", own + added, why, added=added)))
    job = with_settings(JOB, labour__wage=40.0, labour__cut=0.05)
    prices = load_prices(tmp_path / "p.csv")
    assert money_over(counts, now, job, PRODUCT, prices) == Decimal("24.00")
