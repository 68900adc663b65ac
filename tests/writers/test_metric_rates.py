"""Rates of work and of the bid go by square meters and meters in a metric job.

A wall of 6 x 2.5 m, plain edges, no openings, and 2 m2 more by area, by hand: net area 17 m2,
starter strip 6 m.
    layout    17 m2 x 0.05 h = 0.85 h        at 40 for an hour    34.00
    strips     6 m  x 0.10 h = 0.60 h                             24.00
    wash      17 m2 x 2.10                                        35.70
    protect    8 m  x 1.25                                        10.00
    insurance 17 m2 x 3                                           51.00
"""

from decimal import Decimal

import openpyxl
import pytest
from builders import drawing, write_dxf
from sheets import column, needs_office, recalculated, written

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.wording import say
from dxf2veneer.writers.result import result_dict

WALL = drawing(wall=[(0, 0, 6000 / 25.4, 2500 / 25.4)])
JOB = """[layers]
wall = ["WALL"]
[recognise]
edge_kind = "butt"
[plan]
panels = false
[order]
additions = [{ area = "2 m2", reason = "Plinth" }]
[labour]
wage = 40
layout = 0.05
strips = 0.1
tasks = [
  { name = "Wash", measure = "net_area", rate = 2.1 },
  { name = "Protect", quantity = 8, unit = "m", rate = 1.25 },
]
[bid]
lines = [{ name = "Insurance", rate = 3, per = "net_area" }]
"""
BY_HAND = {"layout": "34", "strips": "24", "task Wash": "35.7", "task Protect": "10"}
METRIC = '[output]\ndisplay = "metric"\n'
BY_METRIC_RATES = JOB.replace("wage", 'rates = "metric"\nwage')


def made(folder, text, **options):
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    job = load_job(path, {key.replace("__", "."): value for key, value in options.items()})
    return take_off([write_dxf(WALL, folder / "wall.dxf")], job)


def work(takeoff):
    return {line.key: line for line in takeoff.order.labour}


@pytest.mark.parametrize("text", [JOB + METRIC, BY_METRIC_RATES, BY_METRIC_RATES + METRIC])
def test_each_rate_goes_by_the_metric_measure(text, tmp_path):
    takeoff = made(tmp_path, text)
    lines = work(takeoff)
    assert {key: lines[key].cost for key in BY_HAND} == {
        key: Decimal(cost) for key, cost in BY_HAND.items()
    }
    assert [lines[key].unit for key in BY_HAND] == ["m2", "m", "m2", "m"]
    assert takeoff.order.bid.lines[2].amount == Decimal("51.00")
    assert not [n for n in takeoff.notices if n.level == "error"]


def test_the_option_that_changes_what_is_read_changes_no_money(tmp_path):
    """17 m2 are 182.9865 sq ft, of 0.05 h each."""
    feet, read = made(tmp_path, JOB), made(tmp_path, JOB, output__display="metric")
    assert work(feet)["layout"].quantity == pytest.approx(17 / 0.3048**2)
    assert work(feet)["layout"].hours == Decimal("9.15")
    assert feet.order.bid.total == read.order.bid.total
    assert work(read)["layout"].unit == "sqft"


def test_the_unit_is_said_wherever_the_rate_is(tmp_path):
    takeoff = made(tmp_path, JOB + METRIC)
    told = result_dict(takeoff)
    charge = told["bid"]["lines"][2]
    assert charge["per_unit"] == "m2"
    assert charge["working"] == "3 for each m² of net area"
    assert [n["unit"] for n in told["bid"]["labour"] if n["key"] == "layout"] == ["m2"]
    says = {a.key: say(a.effect) for a in takeoff.assumptions}
    assert says["labour.strips"].startswith("for each m: ")
    tasks = next(a.value for a in takeoff.assumptions if a.key == "labour.tasks")
    assert [say(task) for task in tasks] == [
        "Wash: net area in m², 2.1 each",
        "Protect: 8 m, 1.25 each",
    ]
    rates = next(a for a in takeoff.assumptions if a.key == "labour.rates")
    assert rates.value == "metric"


@needs_office
@pytest.mark.parametrize(("text", "less"), [(JOB + METRIC, 1.0), (BY_METRIC_RATES, 1 / 0.3048**2)])
def test_a_square_meter_less_by_hand_is_one_less_to_work_on(text, less, tmp_path):
    path = written(tmp_path, made(tmp_path, text))
    before = rows(recalculated(path, tmp_path))
    book = openpyxl.load_workbook(path)
    walls = book["Walls"]
    walls.cell(5, column(walls, "Gross")).value -= less
    book.save(path)
    after = rows(recalculated(path, tmp_path))
    for now, area in ((before, 17.0), (after, 16.0)):
        hours = round(0.05 * area, 2)
        assert now["Lay out courses"][1:5] == pytest.approx((area, "m²", 0.05, hours))
        assert now["Wash"][1:3] == (pytest.approx(area), "m²")
        assert now["Insurance"][1:3] == ("3 x net_area, m²", pytest.approx(3 * area))


def rows(book):
    return {
        row[0]: row for name in ("Labor", "Price") for row in book[name].iter_rows(values_only=True)
    }
