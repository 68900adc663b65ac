"""Items of the order one by one, on walls small enough to count by hand. Sizes are inches and our
own.

80 .------------------------------.    A window 36 x 24, a door 36 x 60 and a light 8 x 12 stand
   |   .----.               []    |    in a wall 240 x 80; each test draws what it needs of them.
   |   |    |    .----.           |
   |   '----'    |    |           |
 0 '-------------'----'-----------'
   0   60  96  140  176  200 208  240
"""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from builders import ARCH, PRODUCT, drawing, job, line
from jobs import line as item
from jobs import ordered, product
from refusals import refused

from dxf2veneer.app.laying import lay_out
from dxf2veneer.basics.messages import message
from dxf2veneer.config.bidding import ItemAllowance
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import PanelFastener
from dxf2veneer.config.origin import Origin
from dxf2veneer.model import PieceRef
from dxf2veneer.order import PriceItem, Prices
from dxf2veneer.order.panels import few_studs
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

WALL = (0, 0, 240, 80)
WINDOW = (60, 30, 96, 54)
DOOR = (140, 0, 176, 60)
LIGHT = (200, 40, 208, 52)
PLAIN = {"recognise__edge_kind": "butt"}
TRIM = {"trim__head": 8.0, "trim__jambs": 4.0, "trim__sill": 6.0, **PLAIN}
LONG = product(trim_stone={"length": 100.0, "joint": 0.0, "per_package": 1.0})
"""Stones so long that what an item measures by run is its length over 100."""


def keys(made):
    return [entry.key for entry in made.lines]


def area(made, key):
    """What an item measures by area or run."""
    return counted(made, key, "area").measured


def layout(made, key):
    """What an item measures piece by piece."""
    return counted(made, key, "layout").measured


def counted(made, key, mode):
    """An item as counted in one way, in a line of its own or as a part of one."""
    for way in (w for entry in made.lines for w in entry.ways if w.mode == mode):
        for part in way.parts:
            if part.key == key:
                return part
    return next(w for w in item(made, key).ways if w.mode == mode)


def parts(made):
    """Keys of what is bought together."""
    return [p.key for entry in made.lines for p in entry.chosen.parts]


def priced(**items):
    """Prices by item: (unit, price, package, weight)."""
    listed = [
        PriceItem(
            key,
            unit,
            Decimal(price),
            package and Decimal(package),
            weight and Decimal(weight),
            Origin("file", Path("prices.csv"), n, in_table=True),
        )
        for n, (key, (unit, price, package, weight)) in enumerate(items.items(), 2)
    ]
    return Prices(Path("prices.csv"), "2026-03-02", "USD", tuple(listed))


# ------------------------------------------------------------------ allowances


def test_an_items_own_allowance_and_way_of_counting():
    rules = (
        ItemAllowance("caulk", None, 5.0),
        ItemAllowance("starter_strip", "area", None),
        ItemAllowance("starter_fastener", "area", 7.0),
        ItemAllowance("cap_stone", "layout", 0.0),
    )
    made = ordered(
        drawing(wall=[WALL], cap=[line(0, 80, 240, 80)]),
        order__items=rules,
        order__breakage=3.0,
        order__scrap=10.0,
        **PLAIN,
    )
    found = {e.key: (e.mode, {w.mode: w.allowance_pct for w in e.ways}) for e in made.lines}
    assert found["caulk"] == ("area", {"area": 5.0})
    assert found["starter_strip"] == ("area", {"layout": 3.0, "area": 10.0})
    assert found["starter_fastener"] == (
        "area",
        {"layout": 3.0, "area": 7.0},
    )  # the percentage is about that way only
    assert found["cap_stone"] == ("layout", {"layout": 0.0, "area": 10.0})
    assert found["cap_fastener"] == ("layout", {"layout": 3.0, "area": 10.0})
    assert item(made, "caulk").chosen.needed == pytest.approx(
        item(made, "caulk").chosen.measured * 1.05
    )


def test_the_jobs_way_of_counting_where_an_item_has_it():
    made = ordered(drawing(wall=[WALL]), order__allowance="area", **PLAIN)
    assert {e.key: e.mode for e in made.lines} == dict.fromkeys(keys(made), "area")
    by_piece = ordered(drawing(wall=[WALL]), order__allowance="layout", **PLAIN)
    assert item(by_piece, "starter_strip").mode == "layout"
    assert item(by_piece, "wrb").mode == "area"  # has no other
    assert item(by_piece, "starter_strip").other.mode == "area"
    assert item(by_piece, "wrb").other is None


# -------------------------------------------------------------------- by others


def test_what_others_supply_is_counted_but_neither_priced_nor_weighed():
    prices = priced(wrb=("roll", "89", None, None), caulk=("tube", "6.49", None, None))
    front = drawing(wall=[WALL])
    mine, theirs = (
        ordered(front, prices=prices, order__by_others=others, **PLAIN) for others in ((), ("wrb",))
    )
    roll = item(theirs, "wrb")
    assert roll.by_others and not item(theirs, "caulk").by_others
    assert roll.chosen.packages == item(mine, "wrb").chosen.packages == 1
    assert (roll.chosen.cost, roll.chosen.weight_lb) == (None, None)
    assert "wrb" not in theirs.bid.missing
    assert mine.bid.priced - theirs.bid.priced == Decimal("89.00")
    assert mine.weight_lb - theirs.weight_lb == pytest.approx(30)  # a roll


def test_pallets_of_what_others_supply_are_not_ours():
    front = drawing(wall=[WALL])
    mine = ordered(front, **PLAIN)
    assert mine.pallets == 1  # 24 boxes of panels, 30 on a pallet
    assert ordered(front, order__by_others=("flat_panel",), **PLAIN).pallets == 0


# ----------------------------------------------------------- price and package


def test_prices_of_a_unit_and_of_a_package():
    #  starter 240 by run: 2 pieces, with 3 % 2.06: 3 pieces; in bundles of 2 of the price file: 2
    #  bundles
    front = drawing(wall=[WALL])
    by_piece = ordered(front, prices=priced(starter_strip=("each", "9.50", "2", "7")), **PLAIN)
    by_bundle = ordered(front, prices=priced(starter_strip=("package", "18", "2", "7")), **PLAIN)
    for made, price, per in ((by_piece, "19.0", "unit"), (by_bundle, "18", "package")):
        strip = item(made, "starter_strip")
        assert (
            strip.per_package,
            strip.chosen.packages,
            strip.chosen.weight_lb,
            strip.price_per,
        ) == (2.0, 2, 14.0, per)
        assert strip.package_price == Decimal(price)
        assert strip.chosen.cost == 2 * Decimal(price)


@pytest.mark.parametrize(
    ("key", "unit"),
    [*(("starter_strip", u) for u in ("each", "ea", "piece", "pieces", "pc", "pcs.")), *(("caulk",
    u) for u in ("ft", "foot", "feet", "lf", "lin. ft", "linear foot")),
     *(("wrb", u) for u in ("sqft", "sq. ft.", "sf", "square foot", "square feet"))],
)  # fmt: skip
def test_words_for_the_unit_an_item_is_counted_in(key, unit):
    made = ordered(drawing(wall=[WALL]), prices=priced(**{key: (unit, "2", None, None)}), **PLAIN)
    entry = item(made, key)
    assert entry.price_per == "unit"
    assert entry.chosen.cost == entry.chosen.packages * Decimal(repr(entry.per_package)) * 2


def test_an_item_that_is_not_sold_by_that_unit_is_told_with_its_line():
    with refused(
        SettingsError, match=r"prices.csv, row 2: caulk is not sold by 'roll'; write ft .* or tube"
    ):
        ordered(drawing(wall=[WALL]), prices=priced(caulk=("roll", "2", None, None)), **PLAIN)


# ----------------------------------------------------------------------- panels


def test_panels_by_layout_are_those_of_the_plan_and_say_where_they_go():
    #  10 courses of 72: one corner piece a course at the left end, which takes turns with nobody
    found = recognise([drawing(wall=[(0, 0, 72, 80)])], job(recognise__edge_kind="end"))
    laid = lay_out(found.walls, found.corners, job(recognise__edge_kind="end"), PRODUCT)
    made = ordered(drawing(wall=[(0, 0, 72, 80)]), panels=True, recognise__edge_kind="end")
    for key, count in (("flat_panel", laid.plan.flat), ("corner_panel", laid.plan.corner)):
        entry = item(made, key)
        assert (entry.mode, entry.chosen.measured) == ("layout", count.units)
        assert [(s.ref, s.value, s.unit) for s in entry.chosen.sources] == [
            ("W1", count.units, "each")
        ]
        assert f"{count.units} by the course plan, cut into {count.pieces} pieces" in say(
            entry.chosen.why
        )
        assert f"can use fewer than {count.lower_bound}" in say(entry.chosen.why)
    assert "10 left-hand and 10 right-hand pieces" in say(item(made, "corner_panel").chosen.why)
    hours = {w.key: w.quantity for w in made.labour}
    assert (hours["corner"], hours["cut"]) == (20, laid.plan.cuts)


def test_panels_by_area_are_the_face_less_what_corner_pieces_cover():
    #  72 x 80 = 5,760 sq in; 20 pieces of 18 x 8 cover 2,880; the rest is 10 panels of 288
    made = ordered(drawing(wall=[(0, 0, 72, 80)]), recognise__edge_kind="end")
    assert (area(made, "flat_panel"), area(made, "corner_panel")) == (
        pytest.approx(10),
        pytest.approx(10),
    )
    assert "net area 40.00 sq ft less 20.00 sq ft of corner pieces, at 2.00 sq ft a panel" in say(
        item(made, "flat_panel").chosen.why
    )
    assert [(s.ref, say(s.what)) for s in item(made, "corner_panel").chosen.sources] == [
        ("W1", "left end"),
        ("W1", "right end"),
    ]
    plain = ordered(drawing(wall=[(0, 0, 72, 80)]), **PLAIN)
    assert "corner_panel" not in keys(plain)
    assert say(item(plain, "flat_panel").chosen.why).startswith(
        "net area 40.00 sq ft, at 2.00 sq ft a panel; course plans of such walls buy "
    )


def test_a_narrow_column_is_all_corner_pieces():
    #  16 x 80 in: its 20 pieces could cover more than there is
    made = ordered(drawing(wall=[(0, 0, 16, 80)]), recognise__edge_kind="end")
    assert area(made, "corner_panel") == pytest.approx(10)
    assert "flat_panel" not in keys(made)


# ------------------------------------------------------------------ starter strip


def test_bases_one_over_the_other_whose_strips_lie_at_one_height_are_two_runs():
    #        |          the upper base, 60..80, begins at 3 and its strip lies at 4, at the
    #     __/ ____      height of the lower one's: runs of 120 and 20 from strips of 10 ft less
    #   |________|      the lap
    wall = [(0, 0), (120, 0), (120, 3), (60, 3), (80, 3.9), (80, 100), (0, 100)]
    strip = item(ordered(drawing(wall=[wall]), courses__clearance=4.0, **PLAIN), "starter_strip")
    assert [s.value for s in strip.chosen.sources] == [pytest.approx(140 / 12)]


# ------------------------------------------------------------------ trim stones


def test_butted_stones_run_over_the_jambs_and_mitred_jambs_over_head_and_sill():
    #  window: head 36 + 2 x 4, jambs 24 each, sill 36 + 2 x 4; door: head 36 + 2 x 4, jambs 60
    #  each, no sill
    front = drawing(wall=[WALL], window=[WINDOW], door=[DOOR])
    butt = ordered(front, product=LONG, **TRIM)
    assert 100 * area(butt, "head_stone") == pytest.approx(44 + 44)
    assert 100 * area(butt, "jamb_stone") == pytest.approx(2 * 24 + 2 * 60)
    assert 100 * area(butt, "sill_stone") == pytest.approx(44)
    mitre = ordered(front, product=LONG, order__trim_joint="mitre", **TRIM)
    assert 100 * area(mitre, "head_stone") == pytest.approx(44 + 44)
    assert 100 * area(mitre, "jamb_stone") == pytest.approx(2 * (24 + 8 + 6) + 2 * (60 + 8))
    assert 100 * area(mitre, "sill_stone") == pytest.approx(44)
    assert "long points" in say(counted(mitre, "jamb_stone", "layout").why)
    assert "long points" not in say(counted(butt, "jamb_stone", "layout").why)


def test_an_opening_at_the_walls_edge_has_one_jamb():
    #  .------     window 0..36 x 30..54 at the left edge: one jamb of 24, head and sill over
    #  |__         its width once
    front = drawing(wall=[WALL], window=[(0, 30, 36, 54)])
    made = ordered(front, product=LONG, order__trim_joint="mitre", **TRIM)
    assert 100 * area(made, "jamb_stone") == pytest.approx(24 + 8 + 6)
    assert 100 * area(made, "head_stone") == pytest.approx(36 + 4)
    assert layout(made, "jamb_stone") == 1
    between = drawing(wall=[(0, 0, 36, 80)], window=[(0, 30, 36, 54)])  # from edge to edge: no jamb
    assert 100 * area(ordered(between, product=LONG, **TRIM), "head_stone") == pytest.approx(36)


def test_where_the_wall_leaves_no_head_mitred_jambs_run_over_the_sill_alone():
    #  | window | its head is the wall's top: jambs of 24 that run over the sill's 6
    front = drawing(wall=[WALL], window=[(60, 56, 96, 80)])
    made = ordered(front, product=LONG, order__trim_joint="mitre", **TRIM)
    assert "head_stone" not in parts(made) or area(made, "head_stone") == 0.0
    assert 100 * area(made, "jamb_stone") == pytest.approx(2 * (24 + 6))


def test_bands_and_openings_of_half_an_inch_bear_stones_too():
    slit = drawing(wall=[WALL], window=[(60, 30, 60.5, 54)])
    made = ordered(slit, product=LONG, trim__head=0.5, trim__jambs=0.5, trim__sill=0.5, **PLAIN)
    assert 100 * area(made, "head_stone") == pytest.approx(0.5 + 2 * 0.5)
    assert 100 * area(made, "sill_stone") == pytest.approx(0.5 + 2 * 0.5)
    assert 100 * area(made, "jamb_stone") == pytest.approx(2 * 24)


def test_stones_over_an_arch_follow_it():
    #  the door of radius 18 in builders.py: half a circle over the springing at 60, jambs of 60
    made = ordered(drawing(wall=[WALL], door=[ARCH]), product=LONG, **TRIM)
    assert 100 * area(made, "head_stone") == pytest.approx(math.pi * 18)
    assert 100 * area(made, "jamb_stone") == pytest.approx(2 * 60)


def test_no_stones_where_the_job_gives_no_width_and_none_for_a_light():
    made = ordered(drawing(wall=[WALL], window=[WINDOW], fixture=[LIGHT]), trim__head=8.0, **PLAIN)
    assert [k for k in keys(made) if "_stone" in k] == ["trim_stone"]
    assert parts(made) == ["head_stone"]
    assert [s.ref for s in item(made, "trim_stone").chosen.sources] == ["W1-O1"]


@pytest.mark.parametrize(("width", "stones"), [(4.0, 2), (4.01, 3)])
def test_stones_are_ripped_into_two_for_bands_half_as_wide_at_most(width, stones):
    #  jambs 100 in all directions: three windows with heads of 36 + 2 x width: 44 from stones of
    #  50, so 3 stones or halves
    windows = [(x, 30, x + 36, 54) for x in (20, 90, 160)]
    stone = product(trim_stone={"length": 50.0, "joint": 0.0, "height": 8.0})
    made = ordered(
        drawing(wall=[WALL], window=windows),
        product=stone,
        trim__head=width,
        trim__jambs=4.0,
        order__rip_trim=True,
        **PLAIN,
    )
    assert layout(made, "head_stone") == stones
    assert area(made, "head_stone") == pytest.approx(3 * 44 / 50 / (2 if width == 4.0 else 1))
    by_run = say(counted(made, "head_stone", "area").why)
    assert by_run.endswith(
        "a stone and its joint, halved" if width == 4.0 else "a stone and its joint"
    )
    plain = ordered(
        drawing(wall=[WALL], window=windows),
        product=stone,
        trim__head=width,
        trim__jambs=4.0,
        **PLAIN,
    )
    assert layout(plain, "head_stone") == 3
    assert next(w.quantity for w in plain.labour if w.key == "stone") == next(
        w.quantity for w in made.labour if w.key == "stone"
    )


def test_stones_of_heads_jambs_and_sills_come_out_of_the_same_boxes():
    #  a window with butted stones of 100, no joint, 6 in a box, 3 % for breakage: head 44 and sill
    #  44 from one stone each, two jambs of 24 from one; three lines would be three boxes
    front = drawing(wall=[WALL], window=[WINDOW])
    boxes = product(trim_stone={"length": 100.0, "joint": 0.0, "per_package": 6.0})
    stones = item(ordered(front, product=boxes, **TRIM), "trim_stone").chosen
    assert [(p.key, p.measured) for p in stones.parts] == [
        ("head_stone", 1),
        ("jamb_stone", 1),
        ("sill_stone", 1),
    ]
    assert (stones.measured, stones.packages) == (3, 1)
    assert stones.needed == pytest.approx(3.09)
    assert say(stones.why).startswith("Trim stone, heads, 1: 1 runs of 3'-8\" together")


@pytest.mark.parametrize(
    "apart",
    [
        {"order__by_others": ("head_stone",)},
        {"order__items": (ItemAllowance("head_stone", None, 5.0),)},
        {"prices": priced(head_stone=("box", "60", None, None))},
    ],
)
def test_a_stone_that_the_job_or_the_prices_tell_apart_is_bought_apart(apart):
    front = drawing(wall=[WALL], window=[WINDOW])
    made = ordered(front, **TRIM, **apart)
    assert [k for k in keys(made) if "_stone" in k] == ["head_stone", "trim_stone"]
    assert parts(made) == ["jamb_stone", "sill_stone"]


def test_others_may_supply_all_trim_stones():
    front = drawing(wall=[WALL], window=[WINDOW])
    made = ordered(front, **TRIM, order__by_others=("trim_stone",))
    assert item(made, "trim_stone").by_others


# ---------------------------------------------------------------- fixture blocks


def test_fixture_blocks_by_size_to_a_sixteenth():
    lights = [LIGHT, (20, 40, 28.02, 52.03), (40, 10, 46, 22), (220, 60, 228, 72)]
    made = ordered(drawing(wall=[WALL], fixture=lights), **PLAIN)
    blocks = {
        e.key: (e.chosen.measured, [s.ref for s in e.chosen.sources])
        for e in made.lines
        if e.key.startswith("fixture")
    }
    assert blocks == {
        "fixture_block 6x12": (1, ["W1-O2"]),
        "fixture_block 8x12": (3, ["W1-O1", "W1-O3", "W1-O4"]),
    }
    assert say(item(made, "fixture_block 8x12").item) == 'Fixture block 8" x 1\'-0"'
    metric = ordered(drawing(wall=[WALL], fixture=lights), output__display="metric", **PLAIN)
    assert say(item(metric, "fixture_block 8x12").item, "metric") == "Fixture block 203 mm x 305 mm"
    by_size = priced(
        **{
            "fixture_block": ("each", "10", None, None),
            "fixture_block 6x12": ("each", "7", None, None),
        }
    )
    costs = {
        e.key: e.price
        for e in ordered(drawing(wall=[WALL], fixture=lights), prices=by_size, **PLAIN).lines
        if "fixture" in e.key
    }
    assert costs == {"fixture_block 6x12": 7, "fixture_block 8x12": 10}


# ------------------------------------------------------------------- the barrier

ROLL = {
    "per_package": 150.0,
    "width": 36.0,
    "lap_level": 4.0,
    "lap_upright": 6.0,
    "lap_corner": 18.0,
}
"""150 sq ft, 36 in wide: 600 in long."""


def test_barrier_with_its_laps_layers_and_corners():
    #  12,000 sq in x 36/32 x 600/594 + 100 in of corner x 18 in, twice
    front = drawing(
        wall=[(0, 0, 120, 100)], outside_corner=[line(0, 0, 0, 100)], window=[(40, 30, 76, 54)]
    )
    expected = (120 * 100 * 36 / 32 * 600 / 594 + 18 * 100) / 144
    once, twice = (
        ordered(front, product=product(wrb={**ROLL, "layers": n}), **PLAIN) for n in (1.0, 2.0)
    )
    assert area(once, "wrb") == pytest.approx(expected)
    assert area(twice, "wrb") == pytest.approx(2 * expected)
    assert "in 2 layers" in say(item(twice, "wrb").chosen.why)
    assert "layers" not in say(item(once, "wrb").chosen.why)


def test_the_laps_are_those_of_the_roll_that_is_bought():
    #  the price file sells rolls of 75 sq ft: 300 in long, so the laps at their ends come twice as
    #  often
    front = drawing(wall=[(0, 0, 120, 100)])
    made = ordered(
        front, product=product(wrb=ROLL), prices=priced(wrb=("roll", "50", "75", None)), **PLAIN
    )
    assert area(made, "wrb") == pytest.approx(120 * 100 * 36 / 32 * 300 / 294 / 144)
    assert item(made, "wrb").per_package == 75
    unchanged = ordered(
        front, product=product(wrb=ROLL), prices=priced(wrb=("roll", "50", None, None)), **PLAIN
    )
    assert area(unchanged, "wrb") == pytest.approx(120 * 100 * 36 / 32 * 600 / 594 / 144)


def test_a_roll_shorter_than_its_lap_is_told_where_it_stands():
    front = drawing(wall=[(0, 0, 120, 100)])
    with refused(
        SettingsError,
        match=r"test.toml: wrb.per_package = 1.5: .*3'-0\" wide, is shorter than its lap of 6\"",
    ):
        ordered(front, product=product(wrb={**ROLL, "per_package": 1.5}), **PLAIN)  # 6 in long
    with refused(SettingsError, match=r"prices.csv, row 2: package = 1: .*"):
        ordered(
            front, product=product(wrb=ROLL), prices=priced(wrb=("roll", "50", "1", None)), **PLAIN
        )


# ----------------------------------------------------- backing, adhesive and caulk


def test_backing_and_adhesive_of_a_rake_and_a_low_top():
    #      .           a gable of 12 in over 96, 20 high at its ends: two rakes of sqrt(48^2 +
    #   .-' '-.         12^2), each a course high
    #   |     |         the light 8 x 12 is glued too
    peak = [(0, 0), (96, 0), (96, 20), (48, 32), (0, 20)]
    rake = 2 * math.hypot(48, 12)
    made = ordered(
        drawing(wall=[peak], fixture=[(40, 8, 48, 20)]),
        product=product(lath={"margin": 3.0}, adhesive={"spacing": 10.0}),
        **PLAIN,
    )
    assert area(made, "lath") == pytest.approx((rake * (8 + 3) + 8 * (12 + 3)) / 144)
    beads = (math.ceil(rake / 10) + 1) * 8 + (1 + 1) * 12
    assert area(made, "adhesive") == pytest.approx(beads / 12)
    assert [(s.ref, s.unit) for s in item(made, "adhesive").chosen.sources] == [
        ("W1", "ft"),
        ("W1-O1", "ft"),
    ]


def test_flashing_in_place_of_lath_has_its_own_margin():
    front = drawing(wall=[(0, 0, 96, 12)])  # the top leaves a strip of 4
    goods = product(lath={"margin": 3.0}, flashing={"margin": 5.0})
    lath, flashing = (
        ordered(front, product=goods, order__backing=b, **PLAIN) for b in ("lath", "flashing")
    )
    assert area(lath, "lath") == pytest.approx(96 * (4 + 3) / 144)
    assert area(flashing, "flashing") == pytest.approx(96 * (4 + 5) / 144)
    assert "lath" not in keys(flashing) and "flashing" not in keys(lath)


def test_glued_pieces_of_the_plan_are_backed_piece_by_piece():
    #  12 high: course 2 is ripped to 4 and has lost its flange: 96 in of it, in pieces
    made = ordered(drawing(wall=[(0, 0, 96, 12)]), panels=True, **PLAIN)
    assert layout(made, "lath") == pytest.approx(96 * (4 + 4) / 144)
    assert item(made, "lath").mode == "layout"


def test_no_backing_where_courses_end_under_the_top():
    made = ordered(drawing(wall=[(0, 0, 96, 16)]), **PLAIN)
    assert not {"lath", "adhesive"} & set(keys(made))


def test_caulk_round_openings_along_plain_edges_and_behind_caps():
    #  window 36 + 2 x 24 + 36; light all round 2 x (8 + 12); right edge 80, the left one is a
    #  corner; cap 100
    front = drawing(
        wall=[WALL],
        window=[WINDOW],
        fixture=[LIGHT],
        outside_corner=[line(0, 0, 0, 80)],
        cap=[line(100, 80, 200, 80)],
    )
    made = ordered(front, **PLAIN)
    assert 12 * area(made, "caulk") == pytest.approx(120 + 40 + 80 + 100)
    assert [(s.ref, say(s.what), 12 * s.value) for s in item(made, "caulk").chosen.sources] == [
        ("W1-O1", "joint round it", pytest.approx(120)), ("W1-O2", "joint round it",
        pytest.approx(40)),
        ("W1", "right edge, butt", pytest.approx(80)), ("W1", "cap run", pytest.approx(100)),
    ]  # fmt: skip
    assert "13'-4\" round openings, 6'-8\" along plain edges, 8'-4\" behind caps" in say(
        item(made, "caulk").chosen.why
    )


# --------------------------------------------------------------- fasteners, studs

RULE = PanelFastener(
    "box", 250.0, 5.0, 0.0, long_from=18.0, long=4.0, short=2.0, studs=2.0, edge=1.0
)


def planned(wall, **settings):
    """The walls of a drawing laid panel by panel, with plain ends."""
    asked = job(**PLAIN, **settings)
    found = recognise([drawing(wall=[wall])], asked)
    return lay_out(found.walls, found.corners, asked, PRODUCT).walls


@pytest.mark.parametrize(
    ("framing", "few"),
    [
        # one course of three whole panels; from the wall's left edge they span 0..36, 36..72,
        # 72..108, an inch less at each end
        (16.0, []),  # 16 32 | 48 64 | 80 96
        (24.0, [1, 1, 1]),  # 24 | 48 | 96; the studs at 72 and at 0 are in no piece's reach
        (17.0, []),  # 17 34 | 51 68 | 85 102
        (35.0, [1, 1, 1]),  # 35 is just in reach | 70 | 105
        (36.5, [0, 0, 1]),  # 73 is just in reach of the third piece
        (35.5, [0, 1, 1]),  # 35.5 is not | 71 is | 106.5
    ],
)
def test_pieces_that_reach_too_few_studs(framing, few):
    walls = planned((10, 0, 118, 8))
    found = few_studs(walls, RULE, framing)
    assert [r.studs for r in found] == few
    if len(few) == 3:
        assert [r.piece for r in found] == [PieceRef("W1", 0, n) for n in (1, 2, 3)]
        assert [(r.x0, r.x1) for r in found] == [(10, 46), (46, 82), (82, 118)]
    assert few_studs(walls, replace(RULE, studs=0.0), framing) == []


def test_glued_pieces_need_no_studs_and_no_fasteners():
    walls = planned((0, 0, 108, 12))  # course 2 is ripped to 4 and glued
    assert {r.piece.course for r in few_studs(walls, RULE, 24.0)} == {0}
    made = ordered(drawing(wall=[(0, 0, 108, 12)]), panels=True, **PLAIN)
    assert layout(made, "panel_fastener") == 3 * 4


def test_few_studs_are_told_with_the_first_place():
    made = ordered(drawing(wall=[(10, 0, 118, 8)]), panels=True, order__framing=24.0, **PLAIN)
    (told,) = [say(n.message) for n in made.notices if n.code == "FEW_STUDS"]
    assert (
        told == "3 pieces reach fewer than 2 studs at 2'-0\" on center, the first in W1, course 1, "
        "piece 1"
    )
    assert "FEW_STUDS" not in [
        n.code
        for n in ordered(
            drawing(wall=[(10, 0, 118, 8)]), panels=True, order__framing=16.0, **PLAIN
        ).notices
    ]


def test_fasteners_of_long_and_short_pieces():
    #  a course of 108 + 17.5: three whole panels and one of 17.5, too short for four
    made = ordered(drawing(wall=[(0, 0, 125.5, 8)]), panels=True, **PLAIN)
    assert layout(made, "panel_fastener") == 3 * 4 + 2
    (source,) = next(w.sources for w in item(made, "panel_fastener").ways if w.mode == "layout")
    assert (source.ref, source.value) == ("W1", 3 * 4 + 2)
    longer = ordered(drawing(wall=[(0, 0, 126, 8)]), panels=True, **PLAIN)
    assert layout(longer, "panel_fastener") == 4 * 4


def test_fasteners_by_area_take_half_a_corner_panel_for_a_piece():
    #  80 in of corner are 10 pieces; of 18 in they take four each, of half a 34 in panel two
    front = drawing(wall=[WALL], outside_corner=[line(0, 0, 0, 80)])
    made = ordered(front, **PLAIN)
    assert area(made, "panel_fastener") == pytest.approx(4 * area(made, "flat_panel") + 4 * 10)
    short = ordered(front, product=product(length=34.0), **PLAIN)
    assert area(short, "panel_fastener") == pytest.approx(4 * area(short, "flat_panel") + 2 * 10)


# ------------------------------------------------------- starter strip and caps


def test_starter_runs_join_at_one_height_and_break_at_steps_and_doors():
    #        ______          base at 0 up to 100, at 16 from there: two runs of 100 and 140, less
    #  _____|                a door 160..196
    stepped = [(0, 0), (100, 0), (100, 16), (240, 16), (240, 80), (0, 80)]
    made = ordered(
        drawing(wall=[stepped], door=[(160, 16, 196, 76)]),
        product=product(starter_strip={"length": 200.0, "lap": 0.0}),
        **PLAIN,
    )
    strip = item(made, "starter_strip")
    assert "3 runs of 17'-0\" together" in next(
        say(w.why) for w in strip.ways if w.mode == "layout"
    )  # 100 + 60 + 44
    assert layout(made, "starter_fastener") == (13 + 1) + (8 + 1) + (
        6 + 1
    )  # one at most every 8 in and one at each end
    assert area(made, "starter_fastener") == pytest.approx(204 / 8)
    assert area(made, "starter_strip") == pytest.approx(204 / 200)


def test_starter_over_a_base_that_dips_is_one_run():
    #  base 4 in up at both ends and 0 in the middle: both slopes lie under one course
    dip = [(0, 4), (60, 0), (120, 4), (120, 80), (0, 80)]
    made = ordered(drawing(wall=[dip]), **PLAIN)
    assert layout(made, "starter_fastener") == 120 / 8 + 1


def test_laps_of_the_starter_strip():
    #  240 in from pieces of 100 that lap by 4: 100 + 96 and a rest of 44
    made = ordered(
        drawing(wall=[WALL]), product=product(starter_strip={"length": 100.0, "lap": 4.0}), **PLAIN
    )
    assert layout(made, "starter_strip") == 3
    assert area(made, "starter_strip") == pytest.approx(240 / 96)


def test_caps_of_several_runs_share_their_offcuts():
    #  runs of 30 and 30 from stones of 24 with joints of 1: 24 + joint + 5 twice; both rests from
    #  one stone
    made = ordered(
        drawing(wall=[(0, 0, 30, 40), (100, 0, 130, 40)], cap=[line(0, 40, 30, 40), line(100, 40,
        130, 40)]),
        product=product(cap_stone={"length": 24.0, "joint": 1.0}, cap_fastener={"per_cap": 5.0}),
        **PLAIN,
    )  # fmt: skip
    assert layout(made, "cap_stone") == 3
    assert layout(made, "cap_fastener") == 4 * 5  # of four stones as laid
    assert area(made, "cap_stone") == pytest.approx(60 / 25)
    assert area(made, "cap_fastener") == pytest.approx(60 / 25 * 5)


# ------------------------------------------------------------- work and delivery


def test_hours_of_a_plan():
    #  12 high, 108 wide: three whole panels and three ripped and glued ones; a window is none
    made = ordered(
        drawing(wall=[(0, 0, 108, 12)]),
        panels=True,
        labour__wage=30.0,
        labour__crew=2.0,
        labour__day=8.0,
        **PLAIN,
    )
    hours = {w.key: (w.quantity, w.hours) for w in made.labour}
    laid = hours["flat"][0]
    assert laid >= 6
    assert hours["flat"] == (laid, Decimal("0.1") * int(laid))
    assert hours["corner"] == (0, 0)
    assert hours["partial"][0] == laid - 3
    assert made.days == pytest.approx(float(made.hours) / 16)
    assert made.labour[0].cost == 30 * hours["flat"][1]


def test_hours_say_what_they_count():
    def told(**settings):
        return {
            w.key: (say(w.what), w.unit, say(w.why))
            for w in ordered(drawing(wall=[(0, 0, 108, 12)]), **settings, **PLAIN).labour[:6]
        }

    opening, stone = (
        ("Work round openings", "opening", "openings of all kinds, fixtures included"),
        ("Set caps and trim stones", "stone", "0 cap stones and 0 trim stones as laid"),
    )
    assert told(panels=True) == {
        "flat": ("Lay flat pieces", "piece", "flat pieces of the course plan"),
        "corner": ("Lay corner pieces", "piece", "corner pieces of the course plan"),
        "cut": ("Cut across", "cut", "crosscuts of the course plan"),
        "partial": ("Rip or glue", "piece", "ripped or glued pieces of the course plan"),
        "opening": opening,
        "stone": stone,
    }
    assert told() == {
        "flat": (
            "Lay flat pieces",
            "piece",
            "flat pieces, by area, that course plans of such walls have",
        ),
        "corner": (
            "Lay corner pieces",
            "piece",
            "corner pieces, by area, that course plans of such walls have",
        ),
        "cut": ("Cut across", "cut", "crosscuts, by area, that course plans of such walls take"),
        "partial": (
            "Rip or glue",
            "piece",
            "ripped or glued pieces, by area, that course plans of such walls have",
        ),
        "opening": opening,
        "stone": stone,
    }


@pytest.mark.parametrize(
    ("generic", "told"),
    [
        ((), None),
        (("trim_stone.length",), None),  # no stones in this order
        (
            ("caulk.per_package", "caulk.weight", "trim_stone.joint", "wrb.lap"),
            "ours.toml leaves out how these are packed or counted: caulk, wrb",
        ),
    ],
)
def test_goods_that_the_product_file_leaves_out_are_named_where_they_are_ordered(generic, told):
    made = ordered(
        drawing(wall=[WALL]),
        product=replace(PRODUCT, file=Path("panels/ours.toml"), generic=generic),
        **PLAIN,
    )
    assert {n.code: say(n.message) for n in made.notices}.get("GOODS_GENERIC") == told


def test_dead_load_is_the_weight_on_a_square_foot_and_unknown_without_a_weight():
    front = drawing(wall=[WALL])
    heavy = ordered(
        front, product=product(flat_panel={"weight": 60.0, "per_package": 3.0}), **PLAIN
    )
    assert heavy.dead_load_psf == pytest.approx(60 / 3 / 2)
    assert (
        ordered(front, product=product(flat_panel={"weight": 0.0}), **PLAIN).dead_load_psf is None
    )


def test_notices_about_prices():
    front = drawing(wall=[WALL])
    undated = replace(
        priced(caulk=("tube", "1", None, None)),
        date="",
        unknown=(message("as-written", text="row 9: paint is no item of the order"),),
    )
    told = {n.code: say(n.message) for n in ordered(front, prices=undated, **PLAIN).notices}
    assert told["PRICES_UNDATED"] == "prices.csv gives no date"
    assert told["PRICE_UNUSED"] == "row 9: paint is no item of the order"
    assert told["PRICE_MISSING"].startswith(
        "prices.csv and the job give no price for: flat_panel, "
    )
    assert told["PRICE_MISSING"].endswith(", labour; the bid has no total")
    assert (
        told["ORDER_BY_AREA"]
        == "panels, fasteners and glued strips are estimated by area and run, as there is no "
        "course plan"
    )
    without = {n.code for n in ordered(front, panels=True, **PLAIN).notices}
    assert not without & {"PRICES_UNDATED", "PRICE_MISSING", "PRICE_UNUSED", "ORDER_BY_AREA"}
