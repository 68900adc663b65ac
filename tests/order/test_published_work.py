"""Published examples of labor and money through tasks, rates and crew days. Sizes, rates and
results are the books'; other work is set to take no time."""

from decimal import Decimal

import pytest
from builders import drawing
from jobs import ordered, product

from dxf2veneer.config.tasks import Task

FOOT = 12.0
LAID = ("flat", "corner", "cut", "partial", "opening", "stone")
NONE = {f"labour__{key}": 0.0 for key in LAID}
ALONE = {"labour__wage": 1.0, "labour__crew": 1.0, "labour__day": 8.0, **NONE}
BLOCK = product(length=16.0, height=8.0)


def feet(width, height, x=0.0):
    return (x * FOOT, 0.0, (x + width) * FOOT, height * FOOT)


def by_area(hours):
    return Task("Lay", "net_area", None, None, hours, None)


def test_hours_and_days_of_a_block_building():
    # US Navy, Builder Advanced, NAVEDTRA 14045, ch. 4, "Estimating Labor" beside Table 4-4 (taken
    # from NAVFAC P-405): 160 man-hours for 1,000 sq ft; a 20 x 8 ft building 8 ft high, 448 sq ft:
    # 71.68 man-hours, which one person does in 9 days of 8 hours (8.96)
    walls = [feet(20, 8), feet(8, 8, 30), feet(20, 8, 50), feet(8, 8, 80)]
    tasks = (by_area(0.16),)
    made = ordered(drawing(wall=walls), product=BLOCK, labour__tasks=tasks, **ALONE)
    assert made.labour[-1].quantity == pytest.approx(448)
    assert made.hours == Decimal("71.68")
    assert made.days == pytest.approx(8.96)


def test_man_days_of_wallboard():
    # The same book, ch. 2, "Man-day estimates and durations": 16,000 sq ft at 33 man-hours for
    # 1,000 sq ft, by 8 hours: 66 man-days, delays aside
    walls = [feet(100, 40, 110 * n) for n in range(4)]
    tasks = (by_area(0.033),)
    made = ordered(drawing(wall=walls), product=BLOCK, labour__tasks=tasks, **ALONE)
    assert made.hours == 528
    assert made.days == pytest.approx(66)


def test_cost_of_ashlar():
    # "Building Construction", vol. 4, "Estimating the Stonework (continued)" (copy at
    # chestofbooks.com): facing 78 ft and piers 29 1/4 ft, each 2 ft 3 in high: 241.3 sq ft at 44
    # cents, stone, hauling, mortar and labor together: 106.17. The book rounds the area first;
    # unrounded 241.3125 x 0.44 = 106.1775
    measured = Task("Ashlar", "net_area", None, None, None, 0.44)
    rounded = Task("Ashlar of the book", None, 241.3, "sqft", None, 0.44)
    walls = [feet(78, 2.25), feet(29.25, 2.25, 90)]
    tasks = (measured, rounded)
    made = ordered(drawing(wall=walls), product=BLOCK, labour__tasks=tasks, **ALONE)
    assert made.labour[-2].quantity == pytest.approx(241.3125)
    assert [str(w.cost) for w in made.labour[-2:]] == ["106.18", "106.17"]


def test_labor_of_a_perch_of_rubble():
    # "Building Trades Pocketbook", "Methods of Estimating Masonry" (copy at chestofbooks.com): a
    # perch takes a third of a mason's day at 2.50, 0.83, and a quarter of a helper's at 1.50, 0.38
    tasks = (
        Task("Mason", None, 1 / 3, "day", None, 2.50),
        Task("Helper", None, 1 / 4, "day", None, 1.50),
    )
    made = ordered(drawing(wall=[feet(8, 8)]), product=BLOCK, labour__tasks=tasks, **ALONE)
    assert [str(w.cost) for w in made.labour[-2:]] == ["0.83", "0.38"]
    assert made.bid.lines[1].amount == Decimal("1.21")


def test_a_day_by_hand_is_one_of_the_whole_crew():
    # three people, 7.5 hours, half a day: 11.25 hours at a wage of 30
    task = Task("Mock-up", None, 0.5, "day", None, None)
    given = {**ALONE, "labour__crew": 3.0, "labour__day": 7.5, "labour__wage": 30.0}
    made = ordered(drawing(wall=[feet(8, 8)]), product=BLOCK, labour__tasks=(task,), **given)
    assert (made.hours, str(made.labour[-1].cost)) == (Decimal("11.25"), "337.50")
    assert made.days == pytest.approx(0.5)
