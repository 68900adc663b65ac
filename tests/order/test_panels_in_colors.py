"""The order of a product in several colors: a line for each, whole packages of each.

W1                        panels 36 x 8, boxes of 3; gray comes in boxes of 2
.----------------.
|                |  96    20 ft x 8 ft = 160 sq ft, 80 panels by area
'----------------'
       240
"""

from __future__ import annotations

import dataclasses
from decimal import Decimal

import openpyxl
import pytest
from builders import PRODUCT, drawing, job, line, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.blend import Blend, Color
from dxf2veneer.order import load_prices
from dxf2veneer.verify.totals import check_takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.blend import colors_over_line
from dxf2veneer.writers.workbook import write_workbook

MIXED = dataclasses.replace(
    PRODUCT, blend=Blend((Color("Buff", 60.0), Color("Dark gray", 40.0, 2.0)))
)
PRICES = """item,unit,price
flat_panel,each,18.00
flat_panel dark_gray,package,50.00
"Corner panel, Buff",each,22.00
corner_panel plum,each,22.00
"""


def taken(tmp_path, monkeypatch, product=MIXED, **changes):
    (tmp_path / "prices.csv").write_text(PRICES)
    monkeypatch.setattr("dxf2veneer.app.pipeline.load_product", lambda path: product)
    file = write_dxf(
        drawing(wall=[(0, 0, 240, 96)], outside_corner=[line(0, 0, 0, 96)]), tmp_path / "front.dxf"
    )
    rules = job(plan__search=0.0, order__prices=str(tmp_path / "prices.csv"), **changes)
    return take_off(file, rules)


def lines_of(takeoff, item):
    return {n.key.partition(" ")[2]: n for n in takeoff.order.lines if n.item_key == item}


def test_each_color_is_a_line_in_whole_packages(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch, order__breakage=0.0)
    flat = lines_of(found, "flat_panel")
    assert list(flat) == ["buff", "dark_gray"]
    for key, name, holds in (("buff", "Buff", 3), ("dark_gray", "Dark gray", 2)):
        own = [u for u in found.plan.units if u.kind == "flat" and u.color == name]
        assert flat[key].chosen.measured == len(own)
        assert flat[key].chosen.packages == -(-len(own) // holds)
        assert sum(s.value for s in flat[key].chosen.sources) == len(own)
    assert say(flat["dark_gray"].item) == "Flat panel, Dark gray"
    assert sum(n.chosen.measured for n in flat.values()) == found.plan.flat.units
    corner = lines_of(found, "corner_panel")
    assert sum(n.chosen.measured for n in corner.values()) == found.plan.corner.units
    assert not found.errors


def test_prices_of_one_color_go_before_those_of_all(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch)
    flat, corner = lines_of(found, "flat_panel"), lines_of(found, "corner_panel")
    assert (flat["buff"].price, flat["buff"].price_per) == (Decimal("18.00"), "unit")
    assert (flat["dark_gray"].price, flat["dark_gray"].price_per) == (Decimal("50.00"), "package")
    assert corner["buff"].price == Decimal("22.00")
    assert corner["dark_gray"].price is None
    told = [say(n.message) for n in found.notices if n.code == "PRICE_UNUSED"]
    assert any("corner_panel plum" in text and "corner_panel dark_gray" in text for text in told)


def test_a_price_of_other_packages_is_no_price(tmp_path, monkeypatch):
    # a box of three is not what gray comes in
    monkeypatch.setattr(f"{__name__}.PRICES", "item,unit,price\nflat_panel,box,54.00\n")
    flat = lines_of(taken(tmp_path, monkeypatch), "flat_panel")
    assert flat["buff"].price == Decimal("54.00")
    assert flat["dark_gray"].price is None


def test_what_colors_take_more_is_told(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch, order__breakage=0.0)
    flat, over = lines_of(found, "flat_panel"), found.order.colors_over
    one = -(-found.plan.flat.units // 3)
    assert over.flat_packages == sum(n.chosen.packages for n in flat.values()) - one
    assert colors_over_line(found.order).startswith("Packages beside one color for all: ")


def test_by_area_colors_go_by_their_shares(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch, plan__panels=False)
    flat = lines_of(found, "flat_panel")
    every = sum(n.chosen.measured for n in flat.values())
    assert flat["buff"].chosen.measured == pytest.approx(0.6 * every)
    # 12 courses take 12 corner pieces of 18 in, 12 sq ft
    assert every == pytest.approx((160 - 12) / 2)


def test_one_color_has_the_lines_it_had(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch, product=PRODUCT)
    assert [n.key for n in found.order.lines][:2] == ["flat_panel", "corner_panel"]
    assert found.order.colors_over is None


def test_the_workbook_sums_each_color_from_its_walls(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch)
    write_workbook(found, tmp_path / "out.xlsx")
    book = openpyxl.load_workbook(tmp_path / "out.xlsx")
    rows = list(book["Quantities"].iter_rows())
    own = [row for row in rows if row[0].value == "Flat panel, Dark gray"]
    layout, area = (next(r[2].value for r in own if r[1].value == m) for m in ("layout", "area"))
    assert layout.startswith("=SUM(")
    assert area.endswith("*0.4")
    assert any("Panels" in str(row[2].value) for row in own if row[4].value == "W1")
    names = [row[0].value for row in book["Supplier"].iter_rows()]
    assert "Corner panel, Buff" in names


def test_a_doctored_color_is_found(tmp_path, monkeypatch):
    found = taken(tmp_path, monkeypatch)
    lines = [
        dataclasses.replace(n, key=n.key.replace("buff", "plum"), color_share=0.5)
        if n.item_key == "flat_panel"
        else n
        for n in found.order.lines
    ]
    wrong = dataclasses.replace(found, order=dataclasses.replace(found.order, lines=tuple(lines)))
    told = " ".join(say(n.message) for n in check_takeoff(wrong))
    assert "flat_panel buff of the order" in told
    assert "by the whole" not in told  # 0.5 and 0.5
    assert not check_takeoff(found)


def test_price_keys_of_colors(tmp_path):
    path = tmp_path / "p.csv"
    path.write_text("item,unit,price\nFlat panel - Dark Gray,each,1\nflat_panel buff,each,2\n")
    assert [i.item for i in load_prices(path).items] == ["flat_panel dark_gray", "flat_panel buff"]
