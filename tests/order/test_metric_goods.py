"""Goods that are sold by meters, square meters and kilograms: a wall of 6 x 2.5 m, plain edges."""

from decimal import Decimal

import pytest
from builders import JOB, drawing
from jobs import line, product
from refusals import refused

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.product import load_product
from dxf2veneer.order import load_prices, order
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

MM = 25.4
WALL = drawing(wall=[(0, 0, 6000 / MM, 2500 / MM)])
PANEL = """[product]
units = "metric"
[panel]
length = "900 mm"
height = "200 mm"
[laying]
stagger = "200 mm"
least_piece = "200 mm"
[cap]
height = "60 mm"
[wrb]
package = "roll"
per_package = 75
weight = 15
per_pallet = 0
width = "1500 mm"
layers = 1
lap_level = "100 mm"
lap_upright = "150 mm"
lap_corner = "400 mm"
[caulk]
package = "tube"
per_package = 8
weight = 0.5
per_pallet = 0
"""
#  barrier: 15 m2 x 1500 / 1400 x 50000 / 49850, as a roll of 75 m2 is 50 m long
BARRIER = 15 * 1500 / 1400 * 50000 / 49850


def made(tmp_path, prices="item,unit,price\nwrb,roll,89\n", panel=PANEL, **settings):
    (tmp_path / "panel.toml").write_text(panel, encoding="utf-8")
    (tmp_path / "p.csv").write_text(prices, encoding="utf-8")
    panel_line = load_product(tmp_path / "panel.toml")
    job = with_settings(
        JOB, plan__panels=False, order__scrap=0.0, recognise__edge_kind="butt", **settings
    )
    found = recognise([WALL], job)
    laid = lay_out(found.walls, found.corners, job, panel_line)
    listed = load_prices(tmp_path / "p.csv")
    return order(laid.walls, found.corners, laid.plan, job, panel_line, listed)


def test_runs_are_ordered_in_meters_and_areas_in_square_meters(tmp_path):
    found = made(tmp_path)
    caulk, barrier = line(found, "caulk"), line(found, "wrb")
    assert (caulk.unit, caulk.per_package, caulk.chosen.packages) == ("m", 8.0, 1)
    assert caulk.chosen.measured == pytest.approx(2 * 2.5)  # along two plain edges
    assert [(s.unit, s.value) for s in caulk.chosen.sources] == [("m", pytest.approx(2.5))] * 2
    assert (barrier.unit, barrier.per_package) == ("m2", 75.0)
    assert barrier.chosen.measured == pytest.approx(BARRIER)
    assert barrier.chosen.weight_lb == pytest.approx(15 / 0.45359237)
    assert barrier.chosen.cost == Decimal("89.00")


def test_prices_packages_and_weights_of_the_price_file_are_metric(tmp_path):
    text = "item,unit,price,package,weight\nwrb,m2,1.10,50,12\ncaulk,m,0.80,,\n"
    found = made(tmp_path, text)
    barrier, caulk = line(found, "wrb"), line(found, "caulk")
    assert (barrier.per_package, barrier.chosen.packages) == (50.0, 1)
    assert barrier.chosen.cost == Decimal("55.00")  # 50 m2 at 1.10
    assert barrier.chosen.weight_lb == pytest.approx(12 / 0.45359237)
    assert caulk.chosen.cost == Decimal("6.40")  # a tube of 8 m at 0.80


def test_a_price_by_the_foot_is_refused(tmp_path):
    with refused(SettingsError, match=r"caulk is not sold by 'ft'; write m \(the price of one\)"):
        made(tmp_path, "item,unit,price\ncaulk,ft,0.3\n")


def test_goods_that_the_file_leaves_out_are_the_generic_ones_in_metric(tmp_path):
    #  the generic tube holds 24 ft of bead
    panel = PANEL[: PANEL.index("[caulk]")]
    assert line(made(tmp_path, panel=panel), "caulk").per_package == pytest.approx(24 * 0.3048)


def test_what_is_added_is_in_the_unit_of_the_goods(tmp_path):
    more = as_additions([{"item": "caulk", "quantity": 10, "reason": "Around the hood"}])
    caulk = line(made(tmp_path, order__additions=more), "caulk").chosen
    assert (caulk.measured, caulk.added) == (pytest.approx(15), pytest.approx(10))
    assert caulk.packages == 2


def test_others_goods_stay_in_feet():
    assert not product().is_metric


def test_what_is_added_by_hand_is_told_in_the_unit_of_the_line(tmp_path):
    more = as_additions([{"item": "wrb", "quantity": 10, "reason": "Spare"}])
    line = next(one for one in made(tmp_path, order__additions=more).lines if one.key == "wrb")
    assert line.chosen.measured == pytest.approx(BARRIER + 10)
    assert "plus 10 by hand: Spare" in say(line.chosen.why)
    off = as_additions([{"item": "wrb", "quantity": -20, "reason": "Spare"}])
    with refused(SettingsError, match=r"20 of wrb are taken off, but only 16\.1198 are counted"):
        made(tmp_path, order__additions=off)
