"""Price files: what is read, what a wrong line is told, what becomes of it in the order."""

from decimal import Decimal

import pandas as pd
import pytest
from builders import drawing
from jobs import line, ordered
from refusals import refused

from dxf2veneer.config.errors import SettingsError
from dxf2veneer.order import load_prices
from dxf2veneer.wording import say

WALL = drawing(wall=[(0, 0, 288, 96)])  # 192 sq ft, 96 panels of 2 sq ft


def file(folder, name, text):
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_one_table_in_three_forms(tmp_path):
    rows = [("flat_panel", "box", 54.25, 4, 60), ("Caulk", "ft", 0.3, None, None)]
    table = pd.DataFrame(rows, columns=["item", "unit", "price", "package", "weight"])
    table["date"], table["currency"] = "2026-03-02", "USD"
    table.to_csv(tmp_path / "p.csv", index=False, sep=";")
    table.to_excel(tmp_path / "p.xlsx", index=False)
    file(
        tmp_path, "p.toml",
        '[prices]\ndate = 2026-03-02\ncurrency = "USD"\n[flat_panel]\nunit = "box"\nprice = '
        '54.25\npackage = 4\nweight = 60\n'
        '[caulk]\nunit = "ft"\nprice = "0.30"\n',
    )  # fmt: skip
    for name in ("p.csv", "p.xlsx", "p.toml"):
        prices = load_prices(tmp_path / name)
        assert (prices.date, prices.currency) == ("2026-03-02", "USD"), name
        made = ordered(WALL, prices=prices, order__scrap=0.0)
        panel, caulk = line(made, "flat_panel"), line(made, "caulk")
        # 96 / 4 = 24 boxes x 54.25 and x 60 lb; two plain edges of 8 ft in one tube of 24 ft at
        # 0.30 a foot
        assert (panel.chosen.packages, panel.chosen.cost, panel.chosen.weight_lb) == (
            24,
            Decimal("1302.00"),
            1440.0,
        ), name
        assert (caulk.chosen.packages, caulk.price_per, caulk.chosen.cost) == (
            1,
            "unit",
            Decimal("7.20"),
        ), name


def test_a_date_that_the_workbook_holds_as_a_date(tmp_path):
    table = pd.DataFrame(
        {"item": ["caulk"], "unit": ["tube"], "price": [6.5], "date": [pd.Timestamp("2026-03-02")]}
    )
    table.to_excel(tmp_path / "p.xlsx", index=False)
    assert load_prices(tmp_path / "p.xlsx").date == "2026-03-02"


def test_items_are_known_by_key_or_title_in_any_spelling_and_blocks_by_their_size(tmp_path):
    listed = (
        "item,unit,price\nFlat Panel,each,1\nFIXTURE_BLOCK  8x12,each,2\n"
        "fixture_block 6x12,each,3\nfixture block,each,4\n"
    )
    prices = load_prices(file(tmp_path, "p.csv", listed))
    found = [
        prices.of(key, key.split()[0])
        for key in ("flat_panel", "fixture_block 8x12", "fixture_block 6x12", "fixture_block 4x4")
    ]
    assert [f and f.price for f in found] == [1, 2, 3, 4]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("item,unit,price\nwrb,roll,x\n", r"row 2: price = 'x': wants a number"),
        ("item,unit,price\n\nwrb,roll,-1\n", r"row 3: price = '-1': wants a number"),
        ("item,unit,price\nwrb,roll,nan\n", r"row 2: price = 'nan'"),
        ("item,unit,price\nwrb,roll,6,49\n", r"row 2: has more cells"),
        ("item,unit,price\nwrb,,6\n", r"row 2: the price of wrb has no unit"),
        (
            "item,unit,price\nwrb,roll,6\nwrb,roll,7\n",
            r"row 3: wrb has a price already, at .*row 2",
        ),
        ("item,unit,price,package\nwrb,roll,6,0\n", r"row 2: package = 0"),
        ("item,unit,price\n,roll,6\n", r"row 2: the item is missing"),
        ("item,price\nwrb,6\n", r"row 1: there is no column unit"),
        (
            "item,unit,price,currency\nwrb,roll,6,USD\ncaulk,tube,6,CAD\n",
            r"row 3: the currency is CAD, but USD above",
        ),
        ("", r"the table is empty"),
    ],
)
def test_a_wrong_row_is_named(tmp_path, text, told):
    with refused(SettingsError, match=told):
        load_prices(file(tmp_path, "p.csv", text))


def test_other_files_are_told_in_one_line(tmp_path):
    for name, told in [
        ("p.pdf", "is TOML, CSV or XLSX"),
        ("none.csv", "there is no such file"),
        ("none.xlsx", "there is no such file"),
    ]:
        with refused(SettingsError, match=told):
            load_prices(tmp_path / name)
    with refused(SettingsError, match="can't be read as a workbook"):
        load_prices(file(tmp_path, "p.xlsx", "not a workbook"))
    with refused(SettingsError, match=r"line 2: wrb\.prise is not a setting; did you mean price"):
        load_prices(file(tmp_path, "p.toml", "[wrb]\nprise = 3\n"))


def test_a_unit_the_item_is_not_sold_in_is_told_where_it_stands(tmp_path):
    prices = load_prices(file(tmp_path, "p.csv", "item,unit,price\nwrb,bag,6\n"))
    with refused(SettingsError, match=r"row 2: wrb is not sold by 'bag'; write sqft .* or roll"):
        ordered(WALL, prices=prices)


def test_missing_prices_and_unknown_items_are_told_and_cost_nothing_known(tmp_path):
    prices = load_prices(
        file(
            tmp_path,
            "p.csv",
            "item,unit,price\nflat_panel,box,54\ncaulk,tube,\nflat_panels,box,1\n",
        )
    )
    made = ordered(WALL, prices=prices, labour__wage=40.0)
    assert line(made, "caulk").chosen.cost is None
    assert made.materials is None
    assert made.bid.total is None
    assert {"wrb", "caulk"} <= set(made.bid.missing)
    told = {n.code: say(n.message) for n in made.notices}
    assert "caulk" in told["PRICE_MISSING"]
    assert "did you mean flat_panel?" in told["PRICE_UNUSED"]
    assert "no date and currency" in told["PRICES_UNDATED"]
