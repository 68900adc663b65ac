"""Prices by product, supplier and day, and a supplier's own list."""

import datetime
import re
import tomllib
from decimal import Decimal

import pytest
from builders import drawing, write_dxf
from conftest import ROOT
from jobs import line, ordered
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job
from dxf2veneer.config.pricing import PriceColumn, PriceName, Pricing
from dxf2veneer.order import load_prices
from dxf2veneer.wording import say

WALL = drawing(wall=[(0, 0, 288, 96)])  # 192 sq ft, 96 panels of 2 sq ft, 32 boxes of 3
LOW = """[product]
name = "Low panel"
[panel]
length = 36
height = 4
[laying]
stagger = 8
least_piece = 8
[cap]
height = 2.25
"""
JOB = """[layers]
wall = ["WALL"]
[plan]
panels = false
[order]
prices = "p.csv"
scrap = 0
[bid]
alternates = [{ name = "Low", product = "low.toml" }]
"""


def file(folder, name, text):
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def taken_off(folder, prices):
    file(folder, "low.toml", LOW)
    file(folder, "p.csv", prices)
    job = load_job(file(folder, "job.toml", JOB))
    return take_off([write_dxf(WALL, folder / "wall.dxf")], job)


def codes(takeoff):
    return {n.code: say(n.message) for n in takeoff.notices}


def test_another_products_panels_are_not_priced_by_the_jobs_own(tmp_path):
    made = taken_off(tmp_path, "item,unit,price\nflat_panel,box,54\ncaulk,tube,6\n")
    other = made.order.alternates[0].order
    assert line(made.order, "flat_panel").price == 54
    assert line(other, "flat_panel").price is None
    assert line(other, "caulk").price == 6  # goes with any line
    assert other.bid.total is None
    told = codes(made)["PRICE_OF_PRODUCT"]
    assert "prices of flat_panel" in told
    assert "'Low panel'" in told


@pytest.mark.parametrize("name", ["Low panel", "low.toml", "LOW"])
def test_each_product_has_its_own_price(tmp_path, name):
    table = f"item,unit,price,product\nflat_panel,box,54,\nflat_panel,box,48,{name}\n"
    made = taken_off(tmp_path, table + "flat_panel,box,99,Tall panel\n")
    assert line(made.order, "flat_panel").price == 54
    assert line(made.order.alternates[0].order, "flat_panel").price == 48
    assert "PRICE_OF_PRODUCT" not in codes(made)


def test_a_products_own_price_goes_before_one_that_names_none(tmp_path):
    table = "item,unit,price,product\nflat_panel,box,54,\ncaulk,tube,6,\ncaulk,tube,7,Low panel\n"
    made = taken_off(tmp_path, table)
    assert line(made.order, "caulk").price == 6
    assert line(made.order.alternates[0].order, "caulk").price == 7


def test_an_alternates_own_expired_price_is_told(tmp_path):
    table = "item,unit,price,product,valid_until\nflat_panel,box,54,,\n"
    made = taken_off(tmp_path, table + "flat_panel,box,48,Low panel,2020-03-31\n")
    assert "flat_panel until 2020-03-31" in codes(made)["PRICE_EXPIRED"]
    assert codes(made)["PRICE_EXPIRED"].startswith("alternate ")


QUOTES = (
    "item,unit,price,supplier,valid_until,date\n"
    "flat_panel,box,54,Yard North,2026-03-31,2026-03-02\n"
    "flat_panel,box,52,Yard South,2026-04-30,2026-02-01\n"
    "caulk,tube,6,Yard South,2026-02-28,2026-02-01\n"
)


@pytest.mark.parametrize(("first", "price"), [("Yard North", 54), ("yard  south", 52)])
def test_the_supplier_who_goes_first_is_taken(tmp_path, first, price):
    how = Pricing(suppliers=(first,), as_of="2026-03-31")
    prices = load_prices(file(tmp_path, "p.csv", QUOTES), how)
    assert prices.of("flat_panel").price == price
    assert prices.of("caulk").price == 6  # nobody else has one
    assert prices.date == "2026-02-01, 2026-03-02"


def test_two_suppliers_without_a_word_who_goes_first_are_a_question(tmp_path):
    with refused(SettingsError, match=r"row 3: flat_panel has prices of Yard North and Yard South"):
        load_prices(file(tmp_path, "p.csv", QUOTES))


@pytest.mark.parametrize(
    ("day", "late"),
    [
        ("2026-02-28", None),
        ("2026-04-01", "p.csv: the bid is of 2026-04-01, prices held for flat_panel until "
         "2026-03-31 and caulk until 2026-02-28"),
    ],
)  # fmt: skip
def test_prices_that_no_longer_hold_are_told(tmp_path, day, late):
    how = Pricing(suppliers=("Yard North",), as_of=day)
    prices = load_prices(file(tmp_path, "p.csv", QUOTES), how)
    made = ordered(WALL, prices=prices, prices__as_of=day)
    told = {n.code: say(n.message) for n in made.notices}
    assert told.get("PRICE_EXPIRED") == late


def test_without_a_day_prices_must_hold_on_the_day_they_are_read_which_is_recorded(tmp_path):
    today = {datetime.date.today()}
    made = taken_off(tmp_path, QUOTES.replace("54,Yard North", "54,Yard South").split("flat")[0]
                     + "caulk,tube,6,Yard South,2026-02-28,2026-02-01\n")  # fmt: skip
    today.add(datetime.date.today())  # midnight may have passed
    assert made.order.priced_on in today
    assert made.order.alternates[0].order.priced_on == made.order.priced_on
    told = {a.key: a for a in made.assumptions}["prices.as_of"]
    assert (told.value, told.origin.kind) == (made.order.priced_on.isoformat(), "default")
    assert made.order.priced_on.isoformat() in codes(made)["PRICE_EXPIRED"]


def test_prices_without_a_last_day_ask_for_no_day(tmp_path):
    made = taken_off(tmp_path, "item,unit,price\ncaulk,tube,6\n")
    assert made.order.priced_on is None
    assert {a.key: a.value for a in made.assumptions}["prices.as_of"] is None


def test_a_day_that_is_none_is_told(tmp_path):
    text = "item,unit,price,valid_until\ncaulk,tube,6,spring\n"
    with refused(SettingsError, match=r"row 2: valid_until = 'spring': wants a day"):
        load_prices(file(tmp_path, "p.csv", text))


LIST = (
    "Article;Description;Per;Net;Good until\n"
    "SF-3608;Panel, split face;box;54.20;2099-12-31\n"
    "sf-3608-c;Corner, split face;box;66.00;2099-12-31\n"
    "XX-1;Gloves;pair;3.00;\n"
    "TUBE-10;Construction adhesive;tube;7.95;\n"
)


def test_a_suppliers_list_by_the_example_of_the_docs(tmp_path):
    page = (ROOT / "docs" / "prices.md").read_text(encoding="utf-8")
    written = tomllib.loads(re.search(r"```toml\n(.*?)```", page, re.DOTALL)[1])["prices"]
    how = Pricing(
        columns=tuple(PriceColumn(**c) for c in written["columns"]),
        names=tuple(PriceName(**{"product": ""} | n) for n in written["names"]),
    )
    prices = load_prices(file(tmp_path, "list.csv", LIST), how)
    assert [(p.item, p.product, p.price) for p in prices.items] == [
        ("flat_panel", "Split-face panel", Decimal("54.20")),
        ("corner_panel", "Split-face panel", Decimal("66.00")),
        ("adhesive", "", Decimal("7.95")),
    ]
    assert (prices.left_out, prices.unknown) == (1, ())


def test_a_column_that_the_list_does_not_have_is_told(tmp_path):
    how = Pricing(columns=(PriceColumn("Nett", "price"),))
    with refused(SettingsError, match=r"row 1: there is no column nett"):
        load_prices(file(tmp_path, "p.csv", "item,unit,net\ncaulk,tube,6\n"), how)


@pytest.mark.parametrize(
    ("section", "told"),
    [
        (
            '[prices]\ncolumns = [{ theirs = "A", ours = "price" }, '
            '{ theirs = "B", ours = "price" }]',
            "wants each name once, and 'price' stands twice",
        ),
        (
            '[prices]\ncolumns = [{ theirs = "A", ours = "item" }, '
            '{ theirs = "a ", ours = "unit" }]',
            "wants each name once, and 'a ' stands twice",
        ),
        (
            '[prices]\nnames = [{ theirs = "X", item = "caulk" }, { theirs = "x", item = "wrb" }]',
            "wants each name once, and 'x' stands twice",
        ),
        (
            '[bid]\nalternates = [{ name = "Low", product = "a.toml" }, '
            '{ name = "low", product = "b.toml" }]',
            "wants each name once, and 'low' stands twice",
        ),
        ('[bid]\nalternates = [{ name = "", product = "a.toml" }]', "a text that is not blank"),
        (
            '[labour]\ntasks = [{ name = "Lift", measure = "job" }, '
            '{ name = "Lift", measure = "walls" }]',
            "wants each name once, and 'Lift' stands twice",
        ),
        (
            '[bid]\nlines = [{ name = "Fee", amount = 1 }, { name = "Fee", amount = 2 }]',
            "wants each name once, and 'Fee' stands twice",
        ),
    ],
)
def test_names_of_the_job_file_stand_once(tmp_path, section, told):
    with refused(SettingsError, match=told):
        load_job(file(tmp_path, "job.toml", section))


def test_a_table_with_two_columns_of_one_name_is_refused(tmp_path):
    path = file(tmp_path, "p.csv", "item,unit,price, Price \nwrb,roll,50,60\n")
    with refused(SettingsError, match="row 1: there are two columns price"):
        load_prices(path)
    other = file(tmp_path, "n.csv", "item,unit,price,note,note\nwrb,roll,50,a,b\n")
    assert load_prices(other).of("wrb").price == 50  # a column that is not ours is let be


def test_a_supplier_whom_the_file_does_not_have_is_refused(tmp_path):
    south = "item,unit,price,supplier\nflat_panel,box,52,Yard South\n"
    with refused(SettingsError, match="no price is of the supplier 'Yard North'.*Yard South"):
        load_prices(file(tmp_path, "p.csv", south), Pricing(suppliers=("Yard North",)))


def test_two_prices_of_a_product_by_its_name_and_by_its_file_are_refused(tmp_path):
    table = "item,unit,price,product\nflat_panel,box,54,\nflat_panel,box,48,Low panel\n"
    with refused(SettingsError, match="row 4: flat_panel has a price already, at .*row 3"):
        taken_off(tmp_path, table + "flat_panel,box,49,low.toml\n")


def test_a_name_for_no_item_is_refused(tmp_path):
    how = Pricing(names=(PriceName("SF-1", "flat_pannel", ""),))
    with refused(SettingsError, match="gives 'flat_pannel', which is no item.*flat_panel"):
        load_prices(file(tmp_path, "p.csv", "item,unit,price\nSF-1,box,54\n"), how)


def test_a_needed_item_with_prices_of_other_products_alone_is_told(tmp_path):
    table = "item,unit,price,product\ncorner_panel,box,6,\n"
    made = taken_off(tmp_path, table + "flat_panel,box,54,Demo product 8 x 36 inn\n")
    told = [say(n.message) for n in made.notices if n.code == "PRICE_MISSING"]
    assert any("prices of flat_panel for Demo product 8 x 36 inn alone" in t for t in told)
    right = taken_off(tmp_path, table + "flat_panel,box,54,Low panel\nflat_panel,box,55,\n")
    assert not any("alone" in say(n.message) for n in right.notices)
