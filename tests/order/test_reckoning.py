"""Allowance, packages, money: the traps of rounding, and laws that hold for any quantity."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.basics.messages import message
from dxf2veneer.config.bidding import Percentage
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


def test_percentages_run_in_the_users_order():
    # materials 1,000 and labour 500; 10 % of the running total, 5 % of it after that, 6 % of
    # materials alone
    shares = [
        Percentage("Overhead", 10.0, "running"),
        Percentage("Margin", 5.0, "running"),
        Percentage("Tax", 6.0, "materials"),
    ]
    bid = bid_sum([item("caulk", "1000")], work("500"), shares)
    assert amounts(bid) == ["1000", "500", "150.00", "82.50", "60.00"]
    assert bid.total == Decimal("1792.50")
    other = bid_sum([item("caulk", "1000")], work("500"), [shares[2], shares[0], shares[1]])
    assert amounts(other) == ["1000", "500", "60.00", "156.00", "85.80"]


def test_every_base_of_a_percentage_and_a_discount():
    shares = [
        Percentage("a", 10.0, "direct"),
        Percentage("b", 10.0, "labour"),
        Percentage("discount", -2.5, "running"),
    ]
    bid = bid_sum([item("caulk", "1000")], work("501"), shares)
    assert amounts(bid)[2:] == ["150.10", "50.10", "-42.53"]  # 2.5 % of 1,701.20 is 42.53


def test_a_missing_price_leaves_no_total_and_is_named():
    bid = bid_sum(
        [item("caulk", "10.50"), item("wrb", None)],
        work("5"),
        [Percentage("Overhead", 10.0, "running")],
    )
    assert bid.total is None
    assert bid.missing == ("wrb",)
    assert bid.priced == Decimal("10.50")
    assert amounts(bid) == ["None", "5", "None"]


def test_a_missing_wage_is_named_and_what_others_supply_is_not():
    bid = bid_sum(
        [item("caulk", "10.50"), item("wrb", None, by_others=True)],
        work(None),
        [Percentage("Tax", 10.0, "materials")],
    )
    assert bid.missing == ("labour",)
    assert amounts(bid) == ["10.50", "None", "1.05"]
    assert bid.total is None
