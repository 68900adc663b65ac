"""Published examples of labor and money through tasks, rates and crew days. Sizes, rates and
results are the books'; other work is set to take no time."""

from decimal import Decimal

import pytest
from builders import drawing
from jobs import ordered, product
from published import published

from dxf2veneer.config.tasks import Task

STAGE = "walls to order"
FOOT = 12.0
LAID = ("flat", "corner", "cut", "partial", "opening", "stone")
NONE = {f"labour__{key}": 0.0 for key in LAID}
ALONE = {"labour__wage": 1.0, "labour__crew": 1.0, "labour__day": 8.0, **NONE}
BLOCK = product(length=16.0, height=8.0)


def feet(width, height, x=0.0):
    return (x * FOOT, 0.0, (x + width) * FOOT, height * FOOT)


def by_area(hours):
    return Task("Lay", "net_area", None, None, hours, None)


@published(
    "block building 20 x 8 ft, 8 ft high, at 160 man-hours for 1,000 sq ft: area, man-hours, days "
    "of 8 hours of one person",
    {"sq ft": 448, "man-hours": 71.68, "days": 8.96},
    "US Navy, Builder Advanced, NAVEDTRA 14045",
    "ch. 4, Estimating Labor beside Table 4-4 (after NAVFAC P-405)",
)
def test_hours_and_days_of_a_block_building():
    walls = [feet(20, 8), feet(8, 8, 30), feet(20, 8, 50), feet(8, 8, 80)]
    tasks = (by_area(0.16),)
    made = ordered(drawing(wall=walls), product=BLOCK, labour__tasks=tasks, **ALONE)
    return {"sq ft": made.labour[-1].quantity, "man-hours": made.hours, "days": made.days}


@published(
    "1,000 sq ft of block at 160 man-hours: days of 8 hours, blocks a day",
    {"days": 20, "blocks a day": 56.25},
    "US Navy, Builder Advanced, NAVEDTRA 14045",
    "ch. 4, Estimating Labor beside Table 4-4",
)
def test_blocks_that_one_person_lays_a_day():
    tasks = (by_area(0.16),)
    made = ordered(drawing(wall=[feet(100, 10)]), product=BLOCK, labour__tasks=tasks, **ALONE)
    blocks = made.labour[-1].quantity * 144 / BLOCK.coverage_area
    return {"days": made.days, "blocks a day": blocks / made.days}


@published(
    "wallboard of 16,000 sq ft at 33 man-hours for 1,000: man-days, delays aside",
    {"man-days": 66},
    "US Navy, Builder Advanced, NAVEDTRA 14045",
    "ch. 2, Man-day estimates and durations",
)
def test_man_days_of_wallboard():
    walls = [feet(100, 40, 110 * n) for n in range(4)]
    tasks = (by_area(0.033),)
    made = ordered(drawing(wall=walls), product=BLOCK, labour__tasks=tasks, **ALONE)
    return {"man-days": made.days}


@published(
    "block wall of 803 sq ft, mason 6 and laborer 8 hours for 100 sq ft: hours of each, and the "
    "wages of these hours at 14.25 and 10.00",
    {"mason": "48", "laborer": "64", "mason's wages": 684, "laborer's wages": 640},
    "Dagostino & Peterson, Estimating in Building Construction, 7th ed. (2011)", "p. 125",
)  # fmt: skip
def test_mason_and_laborer():
    tasks = (
        Task("Mason", "net_area", None, None, 0.06, None),
        Task("Laborer", "net_area", None, None, 0.08, None),
    )
    made = ordered(drawing(wall=[feet(803, 1)]), product=BLOCK, labour__tasks=tasks, **ALONE)
    mason, laborer = (work.hours for work in made.labour[-2:])
    # the book rounds hours before it prices them
    by_hand = (
        Task("Mason", None, float(round(mason)), "hour", None, 14.25),
        Task("Laborer", None, float(round(laborer)), "hour", None, 10.0),
    )
    priced = ordered(drawing(wall=[feet(803, 1)]), product=BLOCK, labour__tasks=by_hand, **ALONE)
    wages = [work.cost for work in priced.labour[-2:]]
    return {
        "mason": mason, "laborer": laborer, "mason's wages": wages[0], "laborer's wages": wages[1],
    }  # fmt: skip


@published(
    "ashlar 78 and 29 1/4 ft long, each 2 ft 3 in high, at 44 cents a sq ft: area, and the cost of "
    "the book's rounded area",
    {"sq ft": "241.3", "cost": "106.17"},
    "Building Construction, vol. 4", "Estimating the Stonework, continued (chestofbooks.com)",
)  # fmt: skip
def test_cost_of_ashlar():
    measured = Task("Ashlar", "net_area", None, None, None, 0.44)
    rounded = Task("Ashlar of the book", None, 241.3, "sqft", None, 0.44)
    walls = [feet(78, 2.25), feet(29.25, 2.25, 90)]
    tasks = (measured, rounded)
    made = ordered(drawing(wall=walls), product=BLOCK, labour__tasks=tasks, **ALONE)
    assert str(made.labour[-2].cost) == "106.18"  # 241.3125 x 0.44 = 106.1775
    return {"sq ft": made.labour[-2].quantity, "cost": made.labour[-1].cost}


@published(
    "perch of rubble: a third of a mason's day at 2.50, a quarter of a helper's at 1.50",
    {"mason": 0.83, "helper": 0.38},
    "Building Trades Pocketbook", "Methods of Estimating Masonry (copy at chestofbooks.com)",
)  # fmt: skip
def test_labor_of_a_perch_of_rubble():
    tasks = (
        Task("Mason", None, 1 / 3, "day", None, 2.50),
        Task("Helper", None, 1 / 4, "day", None, 1.50),
    )
    made = ordered(drawing(wall=[feet(8, 8)]), product=BLOCK, labour__tasks=tasks, **ALONE)
    mason, helper = (w.cost for w in made.labour[-2:])
    assert made.bid.lines[1].amount == mason + helper
    return {"mason": mason, "helper": helper}


def test_a_day_by_hand_is_one_of_the_whole_crew():
    # three people, 7.5 hours, half a day: 11.25 hours at a wage of 30
    task = Task("Mock-up", None, 0.5, "day", None, None)
    given = {**ALONE, "labour__crew": 3.0, "labour__day": 7.5, "labour__wage": 30.0}
    made = ordered(drawing(wall=[feet(8, 8)]), product=BLOCK, labour__tasks=(task,), **given)
    assert (made.hours, str(made.labour[-1].cost)) == (Decimal("11.25"), "337.50")
    assert made.days == pytest.approx(0.5)
