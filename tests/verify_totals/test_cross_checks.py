"""The cross-checks: silent about every sound takeoff, and each one speaks where a number is wrong.

   W1                                   W2                         panels 36 x 8 in
80 .------------------------.        .---------------.
   |      .----.            |        |               |             window 60..96 x 30..54
   |      |    |  .----. [] |        |     .----.    |             door 140..176 x 0..60
   |      '----'  |    |    |        |     '----'    |             light 186..194 x 40..52
 0 '--------------'----'----'        '---------------'             vent 280..300 x 30..40
   0                        200     240             336
  end                     outside A  outside A      butt           cap along the top of W1
"""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal

import ezdxf
import openpyxl
import pytest
from builders import JOB, drawing, line, write_dxf
from click.testing import CliRunner
from houses import house

from dxf2veneer.app import laying
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.notices import Level
from dxf2veneer.cli import main
from dxf2veneer.config.charges import Charge
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.geometry import Path, Region
from dxf2veneer.model import Takeoff
from dxf2veneer.verify.totals import check_laid, check_takeoff
from dxf2veneer.wording import say

PRICES = """item,unit,price
flat_panel,box,54.00
corner_panel,each,22.00
starter_strip,each,9.50
"""
FRONT = drawing(
    wall=[(0, 0, 200, 80), (240, 0, 336, 80)],
    window=[(60, 30, 96, 54)],
    door=[(140, 0, 176, 60)],
    fixture=[(186, 40, 194, 52)],
    vent=[Path(((280.0, 30.0, 0.0), (300.0, 30.0, 1.0), (300.0, 40.0, 0.0), (280.0, 40.0, 0.0)))],
    cap=[line(0, 80, 200, 80)],
    outside_corner=[line(200, 0, 200, 80), line(240, 0, 240, 80)],
    texts=[("outside_corner", "A", (203, 20)), ("outside_corner", "A", (237, 20))],
)


@pytest.fixture(scope="module")
def sound(tmp_path_factory) -> Takeoff:
    folder = tmp_path_factory.mktemp("front")
    (folder / "prices.csv").write_text(PRICES)
    settings = {
        "trim__head": 8.0,
        "trim__jambs": 4.0,
        "trim__sill": 4.0,
        "deduction__threshold_sqft": 2.0,
        "recognise__edge_kind": "end",
        "labour__wage": 40.0,
        "order__prices": str(folder / "prices.csv"),
        "order__by_others": (
            "cap_stone",
            "head_stone",
            "jamb_stone",
            "sill_stone",
            "fixture_block",
            "panel_fastener",
            "starter_fastener",
            "cap_fastener",
            "wrb",
            "lath",
            "adhesive",
            "caulk",
        ),
        "bid__lines": (
            Charge("Overhead", "overhead", percent=12.5),
            Charge("Tax", "tax", percent=6.0, of=("materials",)),
            Charge("Freight", "freight", rate=95.0, per="pallets", least=50.0),
            Charge("Office", "overhead", margin=10.0),
            Charge("Profit", "profit", margin=8.0),
        ),
        "bid__round_to": 10.0,
        "labour__layout": 0.01,
    }
    return take_off([write_dxf(FRONT, folder / "front.dxf")], with_settings(JOB, **settings))


def checked(takeoff: Takeoff) -> list[str]:
    """What the checks say of a takeoff."""
    laid = check_laid(takeoff.walls, takeoff.corners, takeoff.plan, takeoff.job, takeoff.product)
    return [say(n.message) for n in (*laid, *check_takeoff(takeoff))]


# ---------------------------------------------------------------- sound takeoffs


def test_the_front_has_everything_that_is_checked_and_agrees(sound):
    assert sound.order.bid.total is not None
    assert {p.unit for w in sound.walls for p in w.courses.pieces} == {"flat", "corner"}
    assert [o.deducted for w in sound.walls for o in w.quantities.openings] == [
        True,
        True,
        False,
        False,
    ]
    assert checked(sound) == []
    assert "CROSS_CHECK" not in [n.code for n in sound.notices]


@pytest.mark.parametrize("name", ["gatehouse", "boathouse"])
def test_the_samples_agree(samples, name):
    assert checked(take_off([samples / f"{name}.dxf"], load_job(samples / f"{name}.toml"))) == []


@pytest.mark.parametrize("seed", range(12))
def test_houses_agree_without_a_plan(seed, tmp_path):
    path, job = house(seed, tmp_path)
    assert checked(take_off([path], with_settings(job, plan__panels=False))) == []


@pytest.mark.parametrize("seed", [4, 11])
def test_houses_agree_with_their_plan(seed, tmp_path):
    path, job = house(seed, tmp_path)
    found = take_off([path], job)
    assert found.plan is not None
    assert checked(found) == []


def test_a_wall_round_an_open_corner_agrees(tmp_path):
    # 80 .--------.     a porch is cut into the wall's right side: two stretches of base, one above
    # the other     |    .---'     |    |  60    and the wall goes on below it  0  '--------'
    cut = [(0, 0), (120, 0), (120, 30), (60, 30), (60, 60), (120, 60), (120, 80), (0, 80)]
    job = with_settings(JOB, courses__clearance=2.0)
    assert checked(take_off([write_dxf(drawing(wall=[cut]), tmp_path / "cut.dxf")], job)) == []


@pytest.mark.parametrize("panels", [True, False])
def test_a_pier_that_corner_pieces_cover_alone_needs_no_flat_panel(panels, tmp_path):
    #  80 .--.      both ends finished: two corner pieces of 18 in a course reach across its 12 in
    #   0 '--'
    job = with_settings(JOB, recognise__edge_kind="end", plan__panels=panels)
    found = take_off([write_dxf(drawing(wall=[(0, 0, 12, 80)]), tmp_path / "pier.dxf")], job)
    assert checked(found) == []


# ------------------------------------------------------------- doctored takeoffs


def wall(takeoff: Takeoff, index: int = 0, **changes) -> Takeoff:
    """With other quantities of one wall."""
    one = takeoff.walls[index]
    return walls(takeoff, index, replace(one, quantities=replace(one.quantities, **changes)))


def walls(takeoff: Takeoff, index: int, other) -> Takeoff:
    return replace(
        takeoff, walls=tuple(other if i == index else w for i, w in enumerate(takeoff.walls))
    )


def courses(takeoff: Takeoff, index: int = 0, **changes) -> Takeoff:
    one = takeoff.walls[index]
    return walls(takeoff, index, replace(one, courses=replace(one.courses, **changes)))


def drawn(takeoff: Takeoff, index: int, **changes) -> Takeoff:
    one = takeoff.walls[index]
    return walls(takeoff, index, replace(one, wall=replace(one.wall, **changes)))


def opening(takeoff: Takeoff, index: int, **changes) -> Takeoff:
    """With other values of one opening of W1: 0 window, 1 door, 2 light."""
    found = takeoff.walls[0].quantities.openings
    return wall(
        takeoff,
        openings=tuple(replace(o, **changes) if i == index else o for i, o in enumerate(found)),
    )


def edges(takeoff: Takeoff, index: int, **changes) -> Takeoff:
    """With other edges of W1: 0 the left, 1 the right one."""
    found = takeoff.walls[0].wall.edges
    return drawn(
        takeoff,
        0,
        edges=tuple(replace(e, **changes) if i == index else e for i, e in enumerate(found)),
    )


def corner(takeoff: Takeoff, **changes) -> Takeoff:
    return replace(takeoff, corners=(replace(takeoff.corners[0], **changes),))


def total(takeoff: Takeoff, **changes) -> Takeoff:
    return replace(takeoff, totals=replace(takeoff.totals, **changes))


def plan(takeoff: Takeoff, **changes) -> Takeoff:
    return replace(takeoff, plan=replace(takeoff.plan, **changes))


def counts(takeoff: Takeoff, kind: str, **changes) -> Takeoff:
    return plan(takeoff, **{kind: replace(getattr(takeoff.plan, kind), **changes)})


def long_pieces(takeoff: Takeoff) -> Takeoff:
    """The two parts of the first unit that gives two, each longer by an inch."""
    unit = next(u for u in takeoff.plan.units if len(u.parts) == 2 and u.waste < 1.0)
    grown = [
        replace(p, x1=p.x1 + 1.0) if p.stock == unit.id else p
        for p in takeoff.walls[0].courses.pieces
    ]
    return courses(takeoff, pieces=tuple(grown))


def of_order(takeoff: Takeoff, **changes) -> Takeoff:
    return replace(takeoff, order=replace(takeoff.order, **changes))


def order_line(takeoff: Takeoff, key: str, **changes) -> Takeoff:
    return of_order(
        takeoff,
        lines=tuple(
            replace(entry, **changes) if entry.key == key else entry
            for entry in takeoff.order.lines
        ),
    )


def way(takeoff: Takeoff, key: str, **changes) -> Takeoff:
    """With another reckoning of one item, in the way that counts."""
    entry = next(entry for entry in takeoff.order.lines if entry.key == key)
    return order_line(
        takeoff,
        key,
        ways=tuple(replace(w, **changes) if w is entry.chosen else w for w in entry.ways),
    )


def without_line(takeoff: Takeoff, key: str) -> Takeoff:
    return of_order(
        takeoff, lines=tuple(entry for entry in takeoff.order.lines if entry.key != key)
    )


def bid(takeoff: Takeoff, **changes) -> Takeoff:
    return of_order(takeoff, bid=replace(takeoff.order.bid, **changes))


def bid_line(takeoff: Takeoff, index: int, **changes) -> Takeoff:
    found = takeoff.order.bid.lines
    return bid(
        takeoff,
        lines=tuple(replace(b, **changes) if i == index else b for i, b in enumerate(found)),
    )


def labour(takeoff: Takeoff, **changes) -> Takeoff:
    first, *rest = takeoff.order.labour
    return of_order(takeoff, labour=(replace(first, **changes), *rest))


def work(takeoff: Takeoff, key: str, **changes) -> Takeoff:
    listed = takeoff.order.labour
    changed = tuple(replace(w, **changes) if w.key == key else w for w in listed)
    return of_order(takeoff, labour=changed)


CENT = Decimal("0.01")
TOTALS = (
    "gross_area",
    "opening_area",
    "deducted_area",
    "trim_area",
    "cap_area",
    "net_area",
    "base_run",
    "starter_run",
    "cap_run",
    "rake_run",
    "trim_head",
    "trim_jambs",
    "trim_sill",
    "openings",
)
DOCTORED = {
    # areas
    "gross area of W1 is 16001, but 16000 by its flattened outline": lambda t:
        wall(t, gross_area=16001.0),
    "trim area of W1 is 1, but": lambda t: wall(t, trim_area=1.0),
    "cap area of W1 is 451, but 450 by its flattened outline": lambda t: wall(t, cap_area=451.0),
    "area of opening W1-O1 of W1 is 865, but 864 by its flattened outline": lambda t:
        opening(t, 0, area=865.0),
    "opening area of W1 is 3121, but 3120 by its openings": lambda t: wall(t, opening_area=3121.0),
    "deducted area of W1 is 3023, but 3024 by its openings": lambda t:
        wall(t, deducted_area=3023.0),
    "gross area of W1 is 16000, but 15999 as net area and what came off": lambda t:
        wall(t, net_area=t.walls[0].quantities.net_area - 1.0),
    "by what is left for panels": lambda t:
        wall(t, veneer=t.walls[0].quantities.veneer.difference(Region.box_of(0, 0, 1, 1))),
    "W1-O1 of 864 sq in is not deducted with a threshold of 288": lambda t:
        opening(t, 0, deducted=False),
    "W1-O3 of 96 sq in is deducted with a threshold of 288": lambda t: opening(t, 2, deducted=True),
    # runs
    "cap run of W1 is 199, which is not between 199.98 and 200.02": lambda t:
        wall(t, cap_run=199.0),
    "cap area of W1 is 450, which is not between 0 and 225": lambda t: wall(t, cap_run=100.0),
    "starter run of W1 is 201, which is not between 154.4 and 200": lambda t:
        wall(t, starter_run=201.0),
    "starter run of W1 is 151, which is not between": lambda t: wall(t, starter_run=151.0),
    "starter run of W1 is 156, but 136 by the stretches where it runs": lambda t:
        courses(t, starter_lines=t.walls[0].courses.starter_lines[:1]),
    "the outside right edge of W1 at x = 200 in belongs to no corner": lambda t:
        edges(t, 1, corner=None),
    "run of corner C1 is 160, but 80 by its edges": lambda t: corner(t, run=160.0),
    "corner C1 does not join the edges that name it": lambda t:
        corner(t, edges=t.corners[0].edges[:1]),
    "corner C1 does not join the edges": lambda t: corner(t, kind="inside"),
    "does not join the edges that name it": lambda t: replace(t, corners=t.corners * 2),
    "edges of W1, W2 name corner C1, which is not there": lambda t: replace(t, corners=()),
    **{
        f"total {name.replace('_', ' ')} is": lambda t, name=name: total(
            t, **{name: getattr(t.totals, name) + 1}
        )
        for name in TOTALS
    },
    "total gross area is 23680, but 23230 as net area": lambda t: total(t, cap_area=0.0),
    # units
    "area of the pieces of W1 in sq in is": lambda t:
        courses(t, pieces=t.walls[0].courses.pieces[1:]),
    "area of the pieces of W2 in sq in is": lambda t:
        courses(t, 1, pieces=t.walls[1].courses.pieces * 2),
    "and the saw cuts between them take": long_pieces,
    "number of flat panels is": lambda t: counts(t, "flat", units=t.plan.flat.units + 1),
    "by the list of panels": lambda t: plan(t, units=t.plan.units[1:]),
    "panel F1 has the color 'Plum', which the product has not": lambda t: plan(
        t, units=(replace(t.plan.units[0], color="Plum"), *t.plan.units[1:])),
    "by the walls' shares": lambda t: plan(t, walls=t.plan.walls[1:]),
    "number of left-hand corner pieces is 2, which is not between": lambda t:
        counts(t, "corner", left=2),
    "number of right-hand corner pieces is 90, which is not between": lambda t:
        counts(t, "corner", right=90),
    "number of corner panels is 3, which is not between": lambda t: counts(t, "corner", units=3),
    # order
    "starter_strip: starter run of its count by layout is": lambda t:
        way(t, "starter_strip", sources=()),
    "head_stone: head of its count by layout is": lambda t: way(t, "head_stone", sources=()),
    "wrb: gross area of its count by area is": lambda t: way(t, "wrb", sources=()),
    "cap_stone is missing from the order": lambda t: without_line(t, "cap_stone"),
    "flat_panel of the order is": lambda t: way(t, "flat_panel", measured=1.0),
    "corner_panel of the order is 0, but": lambda t: without_line(t, "corner_panel"),
    "fixture blocks of the order is 0, but 1 by the fixture outlines": lambda t:
        without_line(t, "fixture_block 8x12"),
    "caulk by area: needed is": lambda t: way(t, "caulk", needed=1.0),
    "flat_panel by layout: what the packages hold is": lambda t: way(t, "flat_panel", packages=3),
    "starter_strip by layout: what the packages hold is": lambda t:
        way(t, "starter_strip", packages=40),
    "corner_panel by layout: cost is 1.00, but": lambda t:
        way(t, "corner_panel", cost=Decimal("1.00")),
    "wrb by area: cost is 1, but not known by packages and price": lambda t:
        way(t, "wrb", cost=Decimal(1)),
    "starter_strip by layout: weight is 1, but": lambda t: way(t, "starter_strip", weight_lb=1.0),
    "wrb by area: weight is 9 lb, that of a package not known": lambda t:
        way(t, "wrb", weight_lb=9),
    # deliveries
    "flat_panel: packages of all deliveries is 0, but": lambda t: of_order(t, deliveries=()),
    "flat_panel: cost of all deliveries is 0, but": lambda t: of_order(t, deliveries=()),
    # bid
    "materials of the bid is 1, but": lambda t: bid_line(t, 0, amount=Decimal(1)),
    "labor of the bid is not known, but": lambda t: bid_line(t, 1, amount=None),
    "priced materials is 0, but": lambda t: bid(t, priced=Decimal(0)),
    "Overhead is": lambda t: bid_line(t, 2, amount=t.order.bid.lines[2].amount + CENT),
    "running total at Tax is": lambda t:
        bid_line(t, 3, running=t.order.bid.lines[3].running - CENT),
    "Freight is": lambda t: bid_line(t, 4, amount=t.order.bid.lines[4].amount + CENT),
    "Office is": lambda t: bid_line(t, 5, amount=t.order.bid.lines[5].amount + 1),
    "Profit is": lambda t: bid_line(t, 6, amount=t.order.bid.lines[6].amount - 1),
    "price is": lambda t: bid_line(t, 7, running=t.order.bid.lines[7].running + 1),
    "quantity of layout is": lambda t: work(t, "layout", quantity=1.0),
    "cost of layout is": lambda t: work(t, "layout", cost=None),
    "hours of flat is": lambda t: labour(t, hours=t.order.labour[0].hours + CENT),
    "cost of flat is": lambda t: labour(t, cost=t.order.labour[0].cost - CENT),
    "working days is": lambda t: of_order(t, days=t.order.days + 1),
}  # fmt: skip


@pytest.mark.parametrize("message", DOCTORED)
def test_a_wrong_number_is_reported(sound, message):
    found = checked(DOCTORED[message](sound))
    assert [m for m in found if message in m], found


def test_a_nan_agrees_with_nothing(sound):
    assert any("net area of W2" in m for m in checked(wall(sound, 1, net_area=float("nan"))))


# ------------------------------------------------------------------ what becomes of it


def test_a_mismatch_is_an_error_at_its_wall(sound):
    doctored = wall(sound, 1, perimeter=0.0, opening_area=1.0)
    found = check_laid(
        doctored.walls, doctored.corners, doctored.plan, doctored.job, doctored.product
    )
    w2 = sound.walls[1].wall
    assert [(n.code, n.level, n.drawing, n.layer, n.handle, n.at_in) for n in found] == [
        ("CROSS_CHECK", Level.ERROR, 0, "WALL", w2.handles[0], (240.0, 0.0))
    ]


def test_what_the_checks_find_is_reported_with_the_takeoff(tmp_path, monkeypatch):
    real = laying.measure_wall
    monkeypatch.setattr(laying, "measure_wall", lambda *given: replace(real(*given), net_area=1.0))
    found = take_off(
        [write_dxf(FRONT, tmp_path / "front.dxf")], with_settings(JOB, plan__panels=False)
    )
    assert found.notices[0].code == "CROSS_CHECK"
    named = {say(n.message).split(" is ")[0] for n in found.notices if n.code == "CROSS_CHECK"}
    assert named == {
        "gross area of W1",
        "net area of W1",
        "gross area of W2",
        "net area of W2",
        "total gross area",
    }


def test_a_mismatch_ends_with_exit_code_1_and_stands_on_top_of_the_files(tmp_path, monkeypatch):
    real = laying.measure_wall
    monkeypatch.setattr(laying, "measure_wall", lambda *given: replace(real(*given), net_area=1.0))
    drawn = write_dxf(FRONT, tmp_path / "front.dxf")
    files = {
        "--json": tmp_path / "front.json",
        "--report": tmp_path / "front.html",
        "--csv": tmp_path,
        "--svg": tmp_path / "svg",
    }
    asked = [
        "takeoff",
        str(drawn),
        "-o",
        str(tmp_path),
        "--wall-layer",
        "WALL",
        "--no-plan",
        *(str(part) for pair in files.items() for part in pair),
    ]
    ended = CliRunner().invoke(main, asked)
    assert ended.exit_code == 1
    assert "gross area of W1 is 16000, but 1 as net area and what came off" in ended.output
    assert json.loads(files["--json"].read_text())["notices"][0]["level"] == "error"
    assert "5 errors: do not use these numbers" in files["--report"].read_text(encoding="utf-8")
    for picture in (tmp_path / "svg").iterdir():
        assert "5 errors: do not use these numbers; see the notices" in picture.read_text(
            encoding="utf-8"
        )
    title = [
        (t.dxf.text, t.dxf.height)
        for t in ezdxf.readfile(tmp_path / "front-courses.dxf")
        .modelspace()
        .query("TEXT[layer=='A-ELEV-VENR-LTTL']")
    ]
    assert title[1][0] == "5 errors: do not use these numbers"
    assert title[1][1] == title[0][1] > title[2][1]
    assert title[2][0].startswith(
        "CROSS_CHECK: total gross area is "
    )  # the others' places are marked on the drawing
    first = (tmp_path / "front-order.csv").read_text(encoding="utf-8-sig").splitlines()[1]
    assert first.startswith('error,"do not order by this list; CROSS_CHECK: ')
    book = openpyxl.load_workbook(tmp_path / "front-takeoff.xlsx", data_only=True)
    words = {"5 errors: do not use these numbers; see the sheet Notices"}
    assert {
        book["Summary"]["A4"].value,
        book["Price"]["A3"].value,
        *(s.oddHeader.center.text for s in book),
    } == words
