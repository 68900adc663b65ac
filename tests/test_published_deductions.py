"""Published rules of deducting openings, found again from drawings.

The openings are drawn just under, at and just over the threshold that the code has; which of them
come off shows it, and it is held against the number in the source.
"""

from __future__ import annotations

import pytest
from book_walls import SQFT, SQM, box, taken_off
from published import READ, SUMMARY, published

from dxf2veneer.config.deductions import DEDUCTION_RULES

STAGE = "drawing to takeoff"
STEP = 1e-4

RULES = [
    # the rule's key, what the source says: threshold in its unit, whether one at it comes off
    ("every", SQFT, "sq ft", 0, 1, "NCMA TEK 14 (1969)", "p. 22", READ),
    ("stone", SQM, "m2", 0.1, 0, "IS 1200 (Part 4):1976, Stone masonry", "", SUMMARY),
    ("building", SQFT, "sq ft", 2, 0, "Del Pico, Estimating Building Costs for the Residential & "
     "Light Commercial Construction Professional", "p. 128", READ),
    ("carpentry", SQFT, "sq ft", 2 * 2, 0, "Griffith, Carpentry", "", READ),
    ("block", SQFT, "sq ft", 10, 0, "Dagostino & Peterson, Estimating in Building Construction",
     "p. 123", READ),
    ("masonry", SQFT, "sq ft", 70, 1, "Masonry Structures (1921)", "section 54", READ),
    ("trades", SQFT, "sq ft", 100, 1, "ICS Building Trades Pocketbook", "Brickwork", READ),
]  # fmt: skip


def test_every_rule_of_deducting_is_tried():
    assert [rule for rule, *_ in RULES] == list(DEDUCTION_RULES)


@pytest.mark.parametrize(
    ("rule", "measure"),
    [
        pytest.param(
            rule,
            measure,
            id=rule,
            marks=published(
                f"openings under, at and over the threshold of the rule `{rule}`",
                {f"threshold, {unit}": value, "one at it comes off": at},
                source, place, known,
            ),
        )
        for rule, measure, unit, value, at, source, place, known in RULES
    ],
)  # fmt: skip
def test_threshold(tmp_path, rule, measure):
    threshold = DEDUCTION_RULES[rule].threshold_sqft
    areas = [threshold * (1 + k * STEP) for k in (-1, 0, 1)] if threshold else [0.08]
    height = 8 if threshold > 1 else 1
    openings = [box(5 + 20 * i, 1, area / height, height) for i, area in enumerate(areas)]
    takeoff = taken_off(
        tmp_path,
        wall=[box(0, 0, 80, 10)],
        opening=openings,
        job=f'[deduction]\nrule = "{rule}"',
    )
    found = sorted(takeoff.walls[0].quantities.openings, key=lambda o: o.area)
    assert takeoff.totals.net_area == pytest.approx(
        takeoff.totals.gross_area - sum(o.area for o in found if o.deducted)
    )
    if not threshold:
        assert [o.deducted for o in found] == [True]
        at, where = 1, 0.0
    else:
        under, here, over = found
        assert (under.deducted, over.deducted) == (False, True)
        at, where = int(here.deducted), (under.area + over.area) / 2
    unit = "m2" if measure == SQM else "sq ft"
    return {f"threshold, {unit}": where / measure, "one at it comes off": at}
