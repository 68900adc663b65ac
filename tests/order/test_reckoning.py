"""Allowance, packages, money: the traps of rounding, and laws that hold for any quantity."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.basics.messages import message
from dxf2veneer.config.bidding import Bid
from dxf2veneer.config.charges import Charge
from dxf2veneer.model import LabourLine, OrderLine, Reckoning
from dxf2veneer.order.arithmetic import cents, exact, packages_of, tidy, with_allowance
from dxf2veneer.order.bid import bid_sum
from dxf2veneer.wording.say import shown

NOTHING = message("as-written", text="")
quantities = st.floats(0.0, 1e5, allow_nan=False)


def test_a_hair_over_a_whole_package_buys_no_other():
    assert (1.1 - 1) * 10 > 1  # what makes a naive rounding buy two
    assert packages_of((1.1 - 1) * 10, 1) == 1
    assert packages_of(with_allowance(100, 10), 11) == 10  # 110.00000000000001 / 11
    assert packages_of(1.000002, 1) == 2
    assert packages_of(0.0, 3) == 0


@given(quantities, quantities, st.floats(0.0, 100.0), st.floats(0.1, 1000.0))
def test_more_never_needs_fewer_packages(one, two, percent, per_package):
    less, more = sorted((one, two))
    assert packages_of(with_allowance(less, percent), per_package) <= packages_of(
        with_allowance(more, percent), per_package
    )


@given(quantities, st.floats(0.1, 1000.0))
def test_the_packages_hold_what_is_needed_and_no_package_is_idle(needed, per_package):
    packages = packages_of(needed, per_package)
    assert packages * per_package >= needed - 1e-6 * per_package
    assert (packages - 1) * per_package < needed or packages == 0


@pytest.mark.parametrize(
    ("amount", "rounded"),
    [("0.125", "0.13"), ("0.135", "0.14"), ("2.675", "2.68"), ("-0.125", "-0.13"), ("7", "7.00")],
)
def test_half_a_cent_goes_away_from_zero_as_in_a_spreadsheet(amount, rounded):
    assert str(cents(Decimal(amount))) == rounded


def test_numbers_mean_the_decimal_that_people_read():
    assert exact(0.1) == Decimal("0.1")
    assert tidy(0.1 + 0.2) == Decimal("0.3")
    shown_plainly = [shown(number, "imperial", "plain") for number in (1125.0, 9.28125, 0.5)]
    assert shown_plainly == ["1,125", "9.28", "0.5"]


# --------------------------------------------------------------------- bid


def item(key, cost, *, by_others=False):
    way = Reckoning("area", 1.0, NOTHING, 0.0, None, False, 1.0, 1, cost and Decimal(cost), None)
    return OrderLine(
        key, NOTHING, "each", "area", (way,), "box", 1.0, None, "package", None, None, by_others
    )


def work(cost):
    return [
        LabourLine(
            "flat", NOTHING, 1.0, "piece", Decimal(1), Decimal(1), cost and Decimal(cost), NOTHING
        )
    ]


def amounts(bid):
    return [str(line.amount) for line in bid.lines]


def bid_of(lines, labour, *charges, counts=None, **settings):
    return bid_sum(lines, labour, Bid(lines=charges, **settings), counts or {})


OVERHEAD = Charge("Overhead", "overhead", percent=10.0)
TAX = Charge("Tax", "tax", percent=6.0, of=("materials",))


def test_lines_run_in_the_users_order():
    # materials 1,000 and labour 500; 10 % of the running total, 5 % of it after that, 6 % of
    # materials alone
    risk = Charge("Risk", "contingency", percent=5.0)
    bid = bid_of([item("caulk", "1000")], work("500"), OVERHEAD, risk, TAX)
    assert amounts(bid) == ["1000", "500", "150.00", "82.50", "60.00"]
    assert bid.total == Decimal("1792.50")
    other = bid_of([item("caulk", "1000")], work("500"), TAX, OVERHEAD, risk)
    assert amounts(other) == ["1000", "500", "60.00", "156.00", "85.80"]


def test_per_cent_of_kinds_and_a_discount():
    bid = bid_of(
        [item("caulk", "1000")],
        work("501"),
        Charge("a", "overhead", percent=10.0, of=("materials", "labour")),
        Charge("b", "lump", percent=10.0, of=("labour",)),
        Charge("discount", "lump", percent=-2.5),
    )
    assert amounts(bid)[2:] == ["150.10", "50.10", "-42.53"]  # 2.5 % of 1,701.20 is 42.53


def test_tax_falls_on_the_kinds_that_it_names():
    # 1,000 + 500; lump 300; freight 200; permit 80. 6 % of materials, freight and lump sums:
    # 0.06 x 1,500 = 90
    bid = bid_of(
        [item("caulk", "1000")],
        work("500"),
        Charge("Scaffold", "lump", amount=300.0),
        Charge("Freight", "freight", amount=200.0),
        Charge("Permit", "permit", amount=80.0),
        Charge("Tax", "tax", percent=6.0, of=("materials", "freight", "lump")),
    )
    assert amounts(bid)[-1] == "90.00"
    assert bid.total == Decimal("2170.00")


def test_a_margin_is_of_the_price_and_a_markup_of_the_cost():
    # 920 is 92 % of 1,000, so that a margin of 8 % is 80; a markup of 8 % is 73.60
    margin = bid_of([item("caulk", "920")], work("0"), Charge("P", "profit", margin=8.0))
    assert (amounts(margin)[-1], margin.total) == ("80.00", 1000)
    markup = bid_of([item("caulk", "920")], work("0"), Charge("P", "profit", percent=8.0))
    assert (amounts(markup)[-1], markup.total) == ("73.60", Decimal("993.60"))


def test_margins_that_stand_together_are_of_one_price():
    # 820 is 82 % of 1,000: overhead 10 % is 100, profit 8 % is 80; the bond comes after the price
    lines = [Charge("OH", "overhead", margin=10.0), Charge("P", "profit", margin=8.0)]
    bond = Charge("Bond", "bond", percent=1.5)
    bid = bid_of([item("caulk", "820")], work("0"), *lines, bond)
    assert amounts(bid)[2:] == ["100.00", "80.00", "15.00"]
    apart = bid_of([item("caulk", "820")], work("0"), lines[0], bond, lines[1])
    assert amounts(apart)[2] == "91.11"  # 820 x 10 / 90


@pytest.mark.parametrize(
    ("cost", "charges", "price"),
    [
        # NAVEDTRA has no money. Both as published on the web: engineeringtoolbox.com, "Markup and
        # Gross Profit": 10 % and 10 % of the price on 200,000 make 250,000
        ("200000", (10.0, 10.0), "250000.00"),
        # mikeholt.com, business newsletter 53 of 2002: 15 % of the price on 100,000; it rounds the
        # quotient to 17.65 % and prints 117,650; unrounded 100,000 / 0.85 = 117,647.06
        ("100000", (15.0,), "117647.06"),
    ],
)
def test_published_prices_with_a_margin(cost, charges, price):
    lines = [Charge(f"M{n}", "profit", margin=m) for n, m in enumerate(charges)]
    assert bid_of([item("caulk", cost)], work("0"), *lines).total == Decimal(price)


def test_freight_goes_by_pallets_or_weight_and_has_a_least():
    counts = {"pallets": Decimal(3), "hundredweight": Decimal("12.575"), "days": Decimal(2)}
    bid = bid_of(
        [item("caulk", "1000")],
        work("500"),
        Charge("By pallet", "freight", rate=95.0, per="pallets", least=300.0),  # 285, so 300
        Charge("By weight", "freight", rate=14.0, per="hundredweight"),
        Charge("Lift", "equipment", rate=310.0, per="days"),
        counts=counts,
    )
    assert amounts(bid)[2:] == ["300.00", "176.05", "620.00"]


def test_freight_by_an_unknown_weight_leaves_no_total():
    freight = Charge("Freight", "freight", rate=14.0, per="pounds")
    bid = bid_of([item("caulk", "10")], work("5"), freight, OVERHEAD, counts={"pounds": None})
    assert (amounts(bid)[2:], bid.total, bid.missing) == (["None", "None"], None, ("weight",))


def test_a_small_order_pays_a_charge_and_a_large_one_does_not():
    small = Charge("Small order", "materials", amount=75.0, of=("materials",), below=1500.0)
    taxed = [small, TAX]
    assert amounts(bid_of([item("caulk", "1499.99")], work("0"), *taxed))[2:] == ["75.00", "94.50"]
    assert amounts(bid_of([item("caulk", "1500")], work("0"), *taxed))[2:] == ["0.00", "90.00"]


@pytest.mark.parametrize(
    ("cost", "settings", "added", "price"),
    [
        ("1803.20", {"minimum": 2500.0}, ["696.80"], "2500.00"),
        ("2803.20", {"minimum": 2500.0}, ["0.00"], "2803.20"),
        ("2803.20", {"round_to": 10.0}, ["-3.20"], "2800.00"),
        ("2805.00", {"round_to": 10.0}, ["5.00"], "2810.00"),  # half goes up
        ("2800.01", {"round_to": 100.0, "rounding": "up"}, ["99.99"], "2900.00"),
        ("2800.00", {"round_to": 100.0, "rounding": "up"}, ["0.00"], "2800.00"),
        ("1803.20", {"minimum": 2496.0, "round_to": 5.0}, ["692.80", "4.00"], "2500.00"),
        ("9000", {"minimum": 12504.0, "round_to": 10.0}, ["3504.00", "6.00"], "12510.00"),
    ],
)
def test_least_price_and_rounding(cost, settings, added, price):
    bid = bid_of([item("caulk", cost)], work("0"), **settings)
    assert (amounts(bid)[2:], bid.total) == (added, Decimal(price))


def test_work_without_a_rate_is_named_and_left_out():
    unrated = LabourLine("layout", NOTHING, 40.0, "sqft", None, Decimal(0), None, NOTHING)
    bid = bid_of([item("caulk", "10.50")], [*work("5"), unrated])
    assert (bid.total, bid.open, bid.missing) == (Decimal("15.50"), (NOTHING,), ())


def test_a_missing_price_leaves_no_total_and_is_named():
    bid = bid_of([item("caulk", "10.50"), item("wrb", None)], work("5"), OVERHEAD)
    assert bid.total is None
    assert bid.missing == ("wrb",)
    assert bid.priced == Decimal("10.50")
    assert amounts(bid) == ["None", "5", "None"]


def test_a_missing_wage_is_named_and_what_others_supply_is_not():
    lines = [item("caulk", "10.50"), item("wrb", None, by_others=True)]
    bid = bid_of(lines, work(None), Charge("Tax", "tax", percent=10.0, of=("materials",)))
    assert bid.missing == ("labour",)
    assert amounts(bid) == ["10.50", "None", "1.05"]
    assert bid.total is None
