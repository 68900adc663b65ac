"""Shares by wall and by elevation: they sum up exactly, and walls alike get alike."""

from __future__ import annotations

from decimal import Decimal
from functools import cache

import pytest
from builders import JOB, drawing, write_dxf
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.additions import as_additions
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.treatments import Treatment
from dxf2veneer.order.shares import apportion

CENT = Decimal("0.01")
AMOUNTS = st.integers(0, 10**9).map(lambda n: Decimal(n) / 100)
WEIGHTS = st.lists(st.floats(0, 1e6, allow_nan=False), min_size=1, max_size=40)


@given(AMOUNTS, WEIGHTS)
def test_parts_sum_up_exactly_and_lie_within_a_cent_of_their_proportion(amount, weights):
    parts = apportion(amount, weights)
    assert sum(parts) == amount and all(part >= 0 for part in parts)
    whole = sum(weights)
    if whole > 1e-3:
        for part, weight in zip(parts, weights, strict=True):
            near = float(amount) * 1e-6 * len(weights) / whole
            assert abs(float(part) - float(amount) * weight / whole) <= 0.0100001 + near


@given(AMOUNTS, st.floats(0, 1e6), st.integers(1, 20))
def test_equal_weights_are_equal_within_a_cent(amount, weight, number):
    parts = apportion(amount, [weight] * number)
    assert max(parts) - min(parts) <= CENT


@pytest.mark.parametrize(("amount", "weights", "parts"), [
    # 10.00 in three: running totals 3.333, 6.667, 10 are 3.33, 6.67, 10.00 to the cent
    ("10.00", [1, 1, 1], ["3.33", "3.34", "3.33"]),
    # 1.00 by 1 : 2 : 3: running totals 0.1667, 0.5, 1 are 0.17, 0.50, 1.00
    ("1.00", [1, 2, 3], ["0.17", "0.33", "0.50"]),
    ("0.02", [0, 0], ["0.01", "0.01"]),
])  # fmt: skip
def test_by_hand(amount, weights, parts):
    assert apportion(Decimal(amount), weights) == [Decimal(p) for p in parts]


@cache
def gatehouse(panels):
    samples = ROOT / "samples"
    job = with_settings(load_job(samples / "gatehouse.toml"), plan__panels=panels)
    return take_off([samples / "gatehouse.dxf"], job)


def test_a_wall_by_its_area_has_what_was_added_for_it(tmp_path):
    #  LOW and WIDE have 80 sq ft each, the garage as much; pieces, cuts and partial pieces alike
    #  (all three plain), so each wall has a third of work by area and of panels. Nine panels off by
    #  hand come off all three.
    more = as_additions([
        {"area": 80, "reason": "Garage"}, {"item": "flat_panel", "quantity": -9, "reason": "Yard"},
    ])  # fmt: skip
    job = with_settings(
        JOB, plan__panels=False, order__additions=more, recognise__edge_kind="butt",
        labour__wage=40.0, labour__cleanup=0.01, **IDLE,
    )  # fmt: skip
    made = take_off([write_dxf(TWO, tmp_path / "two.dxf")], job)
    assert [s.wall for s in made.shares] == ["W1", "W2", "Garage"]
    assert [s.hours for s in made.shares] == [Decimal("0.80")] * 3
    panels = next(n for n, o in enumerate(made.order.lines) if o.key == "flat_panel")
    assert [s.of_items[panels] for s in made.shares] == pytest.approx([1 / 3] * 3)
    assert [e.name for e in made.elevations] == ["LOW", "WIDE", "Garage"]
    assert sum(s.labour for s in made.shares) == made.order.bid.lines[1].amount


@pytest.mark.parametrize("panels", [True, False])
def test_walls_and_elevations_sum_up_to_the_order_to_the_cent(panels):
    made = gatehouse(panels)
    order = made.order
    ours = [line for line in order.lines if not line.by_others]
    for shares in (made.shares, made.elevations):
        assert sum(s.materials for s in shares) == order.materials
        assert sum(s.labour for s in shares) == sum(w.cost for w in order.labour if not w.is_open)
        assert sum(s.hours for s in shares) == order.hours
        assert sum(s.price for s in shares) == order.bid.total
        for n, line in enumerate(ours):
            assert {s.packages[n].key for s in shares} == {line.key}
            assert sum(s.packages[n].packages for s in shares) == line.chosen.packages
    assert [w.wall.id for w in made.walls] == [s.wall for s in made.shares]


def test_the_two_sides_of_the_pier_are_alike_within_a_cent():
    # both are 16 in wide and 104 in high with one corner and one end; by area nothing tells them
    # apart
    pier = [s for s in gatehouse(False).shares if s.elevation.startswith("PIER")]
    assert len(pier) == 2
    for name in ("materials", "labour", "hours", "price"):
        values = [getattr(s, name) for s in pier]
        assert abs(values[0] - values[1]) <= CENT
    for one, other in zip(*(s.packages for s in pier), strict=True):
        assert abs(one.packages - other.packages) <= CENT


#  96 .-----.      48 .-----------.     80 sq ft each, no other work than what a case says
#     | LOW |         |   WIDE    |
#   0 '-----'       0 '-----------'
#     0   120         200       440
TWO = drawing(
    wall=[(0, 0, 120, 96), (200, 0, 440, 48)],
    texts=[("name", "LOW", (50, 50)), ("name", "WIDE", (300, 20))],
)
IDLE = {f"labour__{key}": 0.0 for key in ("flat", "corner", "cut", "partial", "opening", "stone")}


@pytest.mark.parametrize(("work", "hours"), [
    ({"labour__strips": 0.1}, ["1.00", "2.00"]),  # 10 ft and 20 ft of starter
    ({"labour__barrier": 0.1}, ["8.00", "0.00"]),  # none behind the wide one
    ({"labour__setup": 5.0}, ["2.50", "2.50"]),  # of the job as a whole: by net area
])  # fmt: skip
def test_work_by_a_measure_is_shared_by_that_of_each_wall(tmp_path, work, hours):
    bare = (Treatment(("WIDE",), False, None, ""),)
    job = with_settings(JOB, plan__panels=False, walls__treatments=bare, **IDLE, **work)
    made = take_off([write_dxf(TWO, tmp_path / "two.dxf")], job)
    assert [s.hours for s in made.shares] == [Decimal(h) for h in hours]


def test_a_panel_is_shared_by_the_length_of_its_pieces_wherever_they_lie():
    made = gatehouse(True)
    flat = next(n for n, o in enumerate(made.order.lines) if o.key == "flat_panel")
    packages = made.order.lines[flat].chosen.packages
    lengths = {w.wall.id: {} for w in made.walls}
    for w in made.walls:
        lengths[w.wall.id] |= {(p.course, p.number): p.length for p in w.courses.pieces}
    by_wall = dict.fromkeys(lengths, 0.0)
    units = [u for u in made.plan.units if u.kind == "flat"]
    for unit in units:
        parts = {part: lengths[part.wall][part.course, part.number] for part in unit.parts}
        for part, length in parts.items():
            by_wall[part.wall] += length / sum(parts.values())
    for share in made.shares:
        expected = packages * by_wall[share.wall] / len(units)
        assert float(share.packages[flat].packages) == pytest.approx(expected, abs=0.011)


def named_walls(folder, **elevations):
    """A takeoff of drawings, each with walls 96 x 96 of those names."""
    (folder / "job.toml").write_text("[layers]\nwall = ['WALL']\n[plan]\npanels = false\n")
    files = []
    for file, names in elevations.items():
        boxes = [(200 * n, 0, 200 * n + 96, 96) for n in range(len(names))]
        texts = [("name", name, (200 * n + 48, 48)) for n, name in enumerate(names)]
        files.append(write_dxf(drawing(wall=boxes, texts=texts), folder / f"{file}.dxf"))
    job = with_settings(load_job(folder / "job.toml"), layers__name=("NAME",))
    return [(e.name, len(e.walls)) for e in take_off(files, job).elevations]


def test_an_elevation_is_of_one_drawing_whatever_the_case_of_its_letters(tmp_path):
    found = named_walls(tmp_path, a=("FRONT", "Front", "SIDE"), b=("Front",))
    assert found == [("FRONT (a.dxf)", 2), ("SIDE", 1), ("Front (b.dxf)", 1)]


def test_drawings_of_one_file_name_are_told_apart_by_their_number(tmp_path):
    walls = drawing(wall=[(0, 0, 96, 96)])
    files = []
    for name in "ab":
        (tmp_path / name).mkdir()
        files.append(write_dxf(walls, tmp_path / name / "front.dxf"))
    made = take_off(files, with_settings(JOB, plan__panels=False))
    assert [e.name for e in made.elevations] == ["front (front.dxf 1)", "front (front.dxf 2)"]
