"""Walls of two products in one job, counted by hand.

        96                      72
    .--------.               .------.
 48 | Ledge  |               | Block| 40      Ledge 24 x 6, Block 36 x 8
    '--------'               '------'
    W1, drawn                South, by its sizes

Ledge: 8 courses of 96 / 24 = 4 panels, 32. Block: 5 courses of 72 / 36 = 2 panels, 10. Every second
course begins with half a panel and ends with the other half (the saw takes nothing here), so that
plans and bounds are these. Boxes: 32 / 5 up to 7; 10 and 10 % for breakage, 11 / 4 up to 3.
Every value is invented.
"""

import dataclasses
import json
from decimal import Decimal

import jsonschema
import pytest
from builders import drawing, write_dxf
from conftest import ROOT
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job
from dxf2veneer.order.letter import letter_of
from dxf2veneer.verify.totals import check_takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.basis import assumption_words
from dxf2veneer.writers.result.writing import result_dict

HEAD = """[layers]
wall = ["WALL"]
[product]
file = "ledge.toml"
[courses]
clearance = 0
[plan]
kerf = 0
aim = "panels"
[order]
prices = "prices.csv"
breakage = 0
[labour]
wage = 40
"""
SOUTH = '[[walls.rows]]\nname = "South"\nwidth = 72\nheight = 40\n'
BLOCK = '[[walls.treatments]]\nwalls = ["South"]\nproduct = "block.toml"\nbreakage = 10\n'
PRICES = """item,unit,price,product
flat_panel,box,10,Ledge
flat_panel,box,20,Block
corner_panel,box,9,Ledge
corner_panel,box,19,Block
starter_strip,piece,3,Ledge
starter_strip,piece,4,Block
"""
OTHER_GOODS = ("panel_fastener", "starter_fastener", "wrb", "lath", "adhesive", "caulk")


def product_text(name, length, height, boxes):
    return (
        f'[product]\nname = "{name}"\norigin = "invented"\n'
        f"[panel]\nlength = {length}\nheight = {height}\n"
        f"[laying]\nstagger = {length / 4}\nleast_piece = {length / 4}\n[cap]\nheight = 2\n"
        f'[flat_panel]\npackage = "box"\nper_package = {boxes}\nweight = 50\nper_pallet = 4\n'
        f'[corner_panel]\npackage = "box"\nper_package = {boxes}\nweight = 50\nper_pallet = 4\n'
    )


def folder_of(tmp_path, text=SOUTH + BLOCK, head=HEAD):
    files = {
        "ledge.toml": product_text("Ledge", 24, 6, 5),
        "block.toml": product_text("Block", 36, 8, 4),
        "twin.toml": product_text("ledge", 30, 6, 5),
        "meters.toml": product_text("Meters", 30, 6, 5).replace(
            "[panel]", 'units = "metric"\n[panel]'
        ),
        "colors.toml": product_text("Colors", 30, 6, 5)
        + '[blend]\ncolors = [{ name = "A", share = 50 }, { name = "B", share = 50 }]\n',
        "prices.csv": PRICES + "".join(f"{key},package,1,\n" for key in OTHER_GOODS),
        "job.toml": head + text,
    }
    for name, content in files.items():
        (tmp_path / name).write_text(content, encoding="utf-8")
    return tmp_path


def taken_off(tmp_path, text=SOUTH + BLOCK, head=HEAD):
    folder = folder_of(tmp_path, text, head)
    drawn = write_dxf(drawing(wall=[(0, 0, 96, 48)]), folder / "front.dxf")
    return take_off([drawn], load_job(folder / "job.toml"))


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return taken_off(tmp_path_factory.mktemp("two"))


def lines(takeoff):
    return {line.key: line for line in takeoff.order.lines}


def test_each_wall_is_laid_with_its_own_product_and_counted_by_hand(made):
    assert made.errors == ()
    assert [(p.name, p.walls) for p in made.parts] == [("Ledge", ("W1",)), ("Block", ("W2",))]
    assert [(p.plan.flat.units, p.plan.bound) for p in made.parts] == [(32, 32), (10, 10)]
    assert (made.plan.flat.units, made.plan.bound, made.plan.corner.units) == (42, 42, 0)
    assert [len(w.courses.courses) for w in made.walls] == [8, 5]
    assert made.waste == pytest.approx(0.0, abs=1e-9)
    assert made.estimate.walls[0].faces == pytest.approx(32)
    assert made.estimate.walls[1].faces == pytest.approx(10)


def test_the_docs_tell_this_example():
    text = (ROOT / "docs" / "products.md").read_text(encoding="utf-8")
    assert HEAD + SOUTH + BLOCK in text


def test_panels_are_numbered_on_and_none_is_cut_for_both(made):
    ids = [u.id for u in made.plan.units]
    assert sorted(ids, key=lambda i: int(i[1:])) == [f"F{n}" for n in range(1, 43)]
    of = {u.id: {part.wall for part in u.parts} for u in made.plan.units}
    assert all(len(walls) == 1 for walls in of.values())
    stocks = {p.stock for w in made.walls if w.wall.id == "W2" for p in w.courses.pieces}
    assert stocks == {f"F{n}" for n in range(33, 43)}


def test_lines_say_their_product_and_have_its_boxes_allowance_and_price(made):
    ledge, block = lines(made)["flat_panel of Ledge"], lines(made)["flat_panel of Block"]
    assert (ledge.product, ledge.chosen.measured, ledge.chosen.packages) == ("Ledge", 32, 7)
    assert (block.product, block.chosen.measured, block.chosen.packages) == ("Block", 10, 3)
    assert block.chosen.needed == pytest.approx(11)
    assert (ledge.chosen.cost, block.chosen.cost) == (Decimal(70), Decimal(60))
    areas = [next(w.measured for w in n.ways if w.mode == "area") for n in (ledge, block)]
    assert areas == pytest.approx([32, 10])


def test_barrier_and_caulk_are_bought_once_for_all_walls(made):
    barrier = lines(made)["wrb"]  # 32 + 20 sq ft with the laps of the generic roll
    assert (barrier.product, barrier.chosen.packages) == ("", 1)
    assert barrier.chosen.measured == pytest.approx(52 * 36 / 34 * 1200 / 1194)
    assert sum(line.item_key == "wrb" for line in made.order.lines) == 1


def test_weight_pallets_shares_and_bid_are_of_all_products(made):
    own = [n for n in made.order.lines if n.item_key == "flat_panel"]
    assert [line.pallets for line in own] == [2, 1]  # 7 / 4 up, 3 / 4 up
    assert sum(line.chosen.weight_lb for line in own) == pytest.approx(50 * 10)
    costs = sum(line.chosen.cost for line in made.order.lines)
    assert made.order.bid.lines[0].amount == costs
    shares = {s.wall: dict((p.key, p.packages) for p in s.packages) for s in made.shares}
    assert shares["W1"]["flat_panel of Ledge"] == 7
    assert shares["W1"]["flat_panel of Block"] == 0
    assert shares["W2"]["flat_panel of Block"] == 3
    assert sum(s.price for s in made.shares) == made.order.bid.total


def test_labor_has_the_pieces_of_all_products(made):
    #  Ledge 4 courses of 4 pieces and 4 of 5; Block 3 courses of 2 and 2 of 3
    pieces = next(line for line in made.order.labour if line.key == "flat")
    assert pieces.quantity == 4 * 4 + 4 * 5 + 3 * 2 + 2 * 3
    assert {s.ref: s.value for s in pieces.sources} == {"W1": 36, "W2": 12}


def test_the_result_names_products_and_follows_its_schema(made):
    found = json.loads(json.dumps(result_dict(made)))
    schema = json.loads((ROOT / "docs" / "result.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(found, schema)
    assert [(p["product"]["name"], p["walls"], p["flat"]) for p in found["products"]] == [
        ("Ledge", ["W1"], 32),
        ("Block", ["W2"], 10),
    ]
    named = {line["key"]: line.get("product") for line in found["order"]}
    assert named["flat_panel of Block"] == "Block"
    assert named["wrb"] is None


def test_a_panel_cut_for_walls_of_two_products_is_an_error(made):
    last = made.plan.units[-1]
    ref = made.plan.units[0].parts[0]
    wrong = dataclasses.replace(last, parts=(*last.parts, ref))
    plan = dataclasses.replace(made.plan, units=(*made.plan.units[:-1], wrong))
    told = check_takeoff(dataclasses.replace(made, plan=plan))
    assert "panel-of-products" in {n.message.code for n in told}


@pytest.mark.parametrize(
    "meant", ['elevations = ["front"]', 'elevations = ["FRONT.DXF"]', 'layers = ["wall"]']
)
def test_an_elevation_or_a_layer_means_all_its_walls(tmp_path, meant):
    text = f'[[walls.treatments]]\n{meant}\nproduct = "block.toml"\n'
    found = taken_off(tmp_path, text, HEAD.replace("[plan]", "[plan]\npanels = false"))
    assert [(p.name, p.walls) for p in found.parts] == [("Block", ("W1",))]
    area = next(w for w in lines(found)["flat_panel of Block"].ways if w.mode == "area")
    assert area.measured == pytest.approx(96 * 48 / (36 * 8))
    assert area.cost is not None


@pytest.mark.parametrize(
    ("meant", "walls"),
    [('elevations = ["front"]', ("W1",)), ('elevations = ["south"]', ("W2",))],
)
def test_a_wall_by_its_sizes_is_an_elevation_of_its_own_and_on_no_drawing(tmp_path, meant, walls):
    text = SOUTH + f'[[walls.treatments]]\n{meant}\nproduct = "block.toml"\n'
    found = taken_off(tmp_path, text, HEAD.replace("[plan]", "[plan]\npanels = false"))
    assert {p.name: p.walls for p in found.parts}["Block"] == walls


def test_a_corner_of_two_products_has_pieces_of_each_for_its_own_side(tmp_path):
    #  North 48 high: 8 courses of Ledge, 8 pieces, 4 panels; South 40: 5 pieces of Block, 2.5
    north = '[[walls.rows]]\nname = "North"\nwidth = 96\nheight = 48\nright = "outside A"\n'
    text = north + SOUTH + 'left = "outside A"\n' + BLOCK
    found = taken_off(tmp_path, text, HEAD.replace("[plan]", "[plan]\npanels = false"))
    assert found.errors == ()
    by_area = {
        key: next(w.measured for w in line.ways if w.mode == "area")
        for key, line in lines(found).items()
        if line.item_key == "corner_panel"
    }
    assert by_area == {
        "corner_panel of Ledge": pytest.approx(4),
        "corner_panel of Block": pytest.approx(2.5),
    }
    (told,) = [n for n in found.notices if n.code == "CORNER_OF_PRODUCTS"]
    assert told.message["products"] == ("Ledge", "Block")
    assert sum(c.run for c in found.corners) == pytest.approx(48)


def test_an_alternate_leaves_a_product_out(tmp_path):
    text = SOUTH + BLOCK + '[bid]\nalternates = [{ name = "North", without = ["South"] }]\n'
    found = taken_off(tmp_path, text, HEAD.replace("[plan]", "[plan]\npanels = false"))
    assert found.errors == ()
    kept = {line.product for line in found.order.alternates[0].order.lines}
    assert kept == {"Ledge", ""}


@pytest.mark.parametrize(("file", "panels", "boxes", "price"), [
    ("block", 26, 7, 20),  # 4608 / 288 + 2880 / 288 = 16 + 10; 26 / 4, the job's breakage is 0
    ("ledge", 52, 11, 10),  # 4608 / 144 + 2880 / 144 = 32 + 20; 52 / 5
])  # fmt: skip
def test_an_alternate_lays_all_walls_with_one_product(tmp_path, file, panels, boxes, price):
    text = SOUTH + BLOCK + f'[bid]\nalternates = [{{ name = "One", product = "{file}.toml" }}]\n'
    found = taken_off(
        tmp_path, text, BY_AREA.replace("breakage = 0", 'scrap = 0\nallowance = "area"')
    )
    assert found.errors == ()
    (alternate,) = found.order.alternates
    (line,) = [n for n in alternate.order.lines if n.item_key == "flat_panel"]
    assert (line.product, alternate.parts) == ("", ())
    assert line.chosen.measured == pytest.approx(panels)
    assert (line.chosen.packages, line.chosen.cost) == (boxes, Decimal(boxes * price))
    assert alternate.difference == alternate.order.bid.total - found.order.bid.total


TREAT = '[[walls.treatments]]\nwalls = ["South"]\n'


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (TREAT + "breakage = 3\n", "wants product in table 1 beside breakage"),
        (TREAT + 'product = "none.toml"\n', "none.toml: there is no such file"),
        (TREAT + 'product = "job.toml"\n', "job.toml"),
        (TREAT + 'product = "twin.toml"\n', "two product files carry the name"),
        (TREAT + 'product = "meters.toml"\n', "sold by feet and products sold by meters"),
        (TREAT + 'product = "colors.toml"\n', "can't divide a product into colors yet"),
        (
            TREAT + 'product = "ledge.toml"\nbreakage = 9\n',
            "a treatment gives breakage for 'Ledge', which is the job's own product here",
        ),
        (TREAT + 'product = "."\n', "is a folder"),
        (BLOCK + BLOCK.replace("10", "9"), "different things of the product 'Block'"),
        (
            BLOCK + BLOCK.replace('"block', '"ledge').replace("breakage = 10", ""),
            "treatments give the wall 'South .not drawn.' more than one product",
        ),
        (
            '[[walls.treatments]]\nelevations = ["East"]\nphase = "A"\n',
            "no wall is on the elevation 'East'; there are front, front.dxf, South$",
        ),
        (
            '[[walls.treatments]]\nlayers = ["L"]\nphase = "A"\n',
            "no wall is on the layer 'L'; there are WALL$",
        ),
        ('[[walls.treatments]]\nphase = "A"\n', "table 1 has no walls"),
        (BLOCK.replace("South", "East"), "no wall is called 'East'"),
        (
            BLOCK + '[site]\nfile = "site.toml"\nbefore = "none.json"\n',
            "can't keep the plan of an earlier result yet; leave out --site-before",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(tmp_path, text, told):
    (tmp_path / "site.toml").write_text("", encoding="utf-8")
    head = HEAD.replace("[plan]", "[plan]\npanels = false")
    with refused(SettingsError, match=told):
        taken_off(tmp_path, SOUTH + text, head)


def test_ground_below_the_starter_is_told_once_for_all_products(tmp_path):
    #  the first course 4 in above the base: (96 + 72) x 4 = 672 of 4608 + 2880 = 7488 sq in
    head = BY_AREA.replace("clearance = 0", "clearance = 4")
    found = taken_off(tmp_path, head=head)
    (told,) = [say(n.message) for n in found.notices if n.code == "BELOW_STARTER"]
    assert told.startswith("4.67 sq ft ") and "net area of 52.00 sq ft" in told


def test_plans_of_several_products_are_not_compared(tmp_path):
    with refused(SettingsError, match="plans of a job of several products can't be compared"):
        taken_off(tmp_path, head=HEAD.replace("[plan]", "[plan]\ncompare = true"))


# ------------------------------------------------------------- in or out of the base bid

OUT = TREAT + "bid = false\n"
ADDS = '[bid]\nalternates = [{ name = "With South", adds = ["south"] }]\n'
BY_AREA = HEAD.replace("[plan]", "[plan]\npanels = false")


def by_area(order, key):
    line = next((n for n in order.lines if n.item_key == key), None)
    return 0.0 if line is None else next(w.measured for w in line.ways if w.mode == "area")


def test_a_wall_out_of_the_base_bid_comes_in_with_an_alternate(tmp_path):
    #  Ledge on both walls: 32 panels' worth on W1, 72 x 40 / (24 x 6) = 20 on South
    found = taken_off(tmp_path, SOUTH + OUT + ADDS, BY_AREA)
    assert found.errors == ()
    assert [w.wall.id for w in found.walls] == ["W1"]
    assert [w.id for w in found.out_of_bid] == ["W2"]
    (other,) = found.order.alternates
    assert by_area(found.order, "flat_panel") == pytest.approx(32)
    assert by_area(other.order, "flat_panel") == pytest.approx(52)
    assert (say(other.what), other.walls) == ("with South (not drawn)", ("W1", "W2"))
    assert other.difference == other.order.bid.total - found.order.bid.total > 0
    (told,) = [n for n in found.notices if n.code == "OUT_OF_BID"]
    assert say(told.message).endswith("South (not drawn)")
    letter = letter_of(found, found.order)
    assert "stone on South" in [say(what) for what in letter.unrated]


def test_the_assumptions_say_what_treatments_say(tmp_path):
    text = SOUTH + BLOCK + '[[walls.treatments]]\nwalls = ["W1"]\nbarrier = false\nclearance = 2\n'
    found = taken_off(tmp_path, text, BY_AREA)
    listed = {a.key: assumption_words(a, "imperial").value for a in found.assumptions}
    assert listed["walls.treatments"] == (
        'South: product block.toml, breakage 10 %, W1: no barrier, clearance 2"'
    )
    own = [assumption_words(a, "imperial") for a in found.assumptions if "Block" in say(a.name)]
    assert ("order.breakage, Block", "10") in {(a.name, a.value) for a in own}


def test_an_alternate_may_add_a_wall_of_another_product(tmp_path):
    found = taken_off(
        tmp_path, SOUTH + BLOCK.replace("breakage", "bid = false\nbreakage") + ADDS, BY_AREA
    )
    assert {line.product for line in found.order.lines} == {"Ledge", ""}
    (other,) = found.order.alternates
    assert {line.product for line in other.order.lines} == {"Ledge", "Block", ""}
    block = next(n for n in other.order.lines if n.key == "flat_panel of Block")
    assert next(w.measured for w in block.ways if w.mode == "area") == pytest.approx(10)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (SOUTH + ADDS, "no wall south is out of the base bid; out of it are: none"),
        (SOUTH + OUT + ADDS.replace("south", "W1"), "out of it are: South"),
        (
            SOUTH + OUT + ADDS.replace("adds", "without"),
            "wall south is out of the base bid already",
        ),
        (
            SOUTH + OUT + ADDS.replace(" }", ', without = ["South"] }'),
            "wall South is out of the base bid already; take it out of without",
        ),
        (
            SOUTH + OUT.replace('["South"]', '["South", "W1"]'),
            "leave every wall out of the base bid",
        ),
        (SOUTH + OUT + TREAT + "bid = true\nphase = 'A'\n", "more than one bid"),
    ],
)
def test_wrong_walls_out_of_the_bid_are_refused_in_one_line(tmp_path, text, told):
    with refused(SettingsError, match=told):
        taken_off(tmp_path, text, BY_AREA)


# ------------------------------------------------------------- barrier of each, additions by hand


def test_a_barrier_of_each_product_has_a_line_for_each(tmp_path):
    #  the file prices the barrier by product: 32 sq ft behind W1 and 20 behind South, with laps
    folder = folder_of(tmp_path, SOUTH + BLOCK, BY_AREA)
    prices = (folder / "prices.csv").read_text(encoding="utf-8")
    priced = prices.replace("wrb,package,1,", "wrb,package,1,Ledge\nwrb,package,2,Block")
    (folder / "prices.csv").write_text(priced, encoding="utf-8")
    drawn = write_dxf(drawing(wall=[(0, 0, 96, 48)]), folder / "front.dxf")
    found = take_off([drawn], load_job(folder / "job.toml"))
    assert found.errors == ()
    laps = 36 / 34 * 1200 / 1194
    barriers = {key: line for key, line in lines(found).items() if line.item_key == "wrb"}
    assert {key: line.chosen.measured for key, line in barriers.items()} == {
        "wrb of Ledge": pytest.approx(32 * laps),
        "wrb of Block": pytest.approx(20 * laps),
    }
    assert [line.chosen.cost for line in barriers.values()] == [Decimal(1), Decimal(2)]
    lines_of_it = [line for line in found.order.lines if line.key != "wrb of Block"]
    order = dataclasses.replace(found.order, lines=tuple(lines_of_it))
    told = check_takeoff(dataclasses.replace(found, order=order))
    assert "order-line-missing" in {n.message.code for n in told}


#  36 sq ft by area alone are 36 x 144 / (24 x 6) = 36 Ledge; W1 in Block is 96 x 48 / 288 = 16
GARAGE = BY_AREA.replace(
    "breakage = 0", 'breakage = 0\nadditions = [{ area = 36, reason = "Garage" }]'
)


def panels_by_area(order):
    return {
        n.product: next(w.measured for w in n.ways if w.mode == "area")
        for n in order.lines
        if n.item_key == "flat_panel"
    }


def test_a_wall_by_area_stays_of_the_jobs_own_product_in_an_alternate(tmp_path):
    text = SOUTH + BLOCK + '[bid]\nalternates = [{ name = "No W1", without = ["W1"] }]\n'
    found = taken_off(tmp_path, text, GARAGE)
    assert found.errors == ()
    assert panels_by_area(found.order) == pytest.approx({"Ledge": 32 + 36, "Block": 10})
    assert panels_by_area(found.order.alternates[0].order) == pytest.approx(
        {"Ledge": 36, "Block": 10}
    )


@pytest.mark.parametrize("head", [GARAGE, GARAGE.replace("panels = false", "")])
def test_a_wall_by_area_is_of_the_jobs_own_product_where_no_wall_is(tmp_path, head):
    found = taken_off(tmp_path, SOUTH + BLOCK.replace('["South"]', '["South", "W1"]'), head)
    assert found.errors == ()
    assert [(p.name, p.walls) for p in found.parts] == [("Ledge", ()), ("Block", ("W1", "W2"))]
    assert panels_by_area(found.order) == pytest.approx({"Ledge": 36, "Block": 16 + 10})
    letter = letter_of(found, found.order)
    assert letter.product == "Ledge on Garage; Block on front, South"


def test_a_wall_by_area_is_not_called_like_another(tmp_path):
    with refused(SettingsError, match="'south' is the name or id of another wall too"):
        taken_off(tmp_path, SOUTH + BLOCK, GARAGE.replace("Garage", "south"))
