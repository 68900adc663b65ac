"""Course tables of modular masonry against course lines, and heads and sills against them: from a
drawing to the takeoff."""

from __future__ import annotations

import pytest
from book_walls import FOOT, box, taken_off
from published import published

STAGE = "drawing to takeoff"
SOURCE = ("BIA Technical Notes 10B (June 1993)", "Table 3 (copy in Masonry Magazine, April 1994)")
NAVY = "US Navy, Builder Advanced, NAVEDTRA 14045"

TABLE = [
    # height of the unit as the table has it, then courses and the height it prints, in inches
    ("2", "2C = 4 in", {1: 2, 6: 12, 10: 20, 18: 36, 33: 66, 41: 82, 50: 100}),
    ("2 2/3", "3C = 8 in", {3: 8, 6: 16, 9: 24, 18: 48, 21: 56, 30: 80, 33: 88, 45: 120, 48: 128}),
    ("3 1/5", "5C = 16 in", {5: 16, 10: 32, 15: 48, 25: 80, 30: 96, 40: 128, 45: 144, 50: 160}),
    ("4", "1C = 4 in", {1: 4, 10: 40, 20: 80, 21: 84, 22: 88, 24: 96, 26: 104, 49: 196, 50: 200}),
]


@pytest.mark.parametrize(
    ("unit", "courses"),
    [
        pytest.param(
            unit,
            list(rows),
            id=unit.replace("/", "_"),
            marks=published(
                f"tops of courses of {unit} in ({name}) over the starter line, in inches",
                {f"{n}C": top for n, top in rows.items()},
                *SOURCE,
            ),
        )
        for unit, name, rows in TABLE
    ],
)
def test_tops_of_courses(tmp_path, unit, courses):
    takeoff = taken_off(tmp_path, wall=[box(2, 3, 10, 16 + 8 / 12)], unit=(unit, "8"))
    laid = takeoff.walls[0].courses
    return {f"{n}C": laid.courses[n - 1].y1 - laid.starter_y for n in courses}


OPENINGS = [
    # unit, feet of the sill and of the head, courses that the table has to each
    ("2 2/3", 2 + 8 / 12, 7 + 4 / 12, 12, 33),
    ("2 2/3", 2, 6 + 8 / 12, 9, 30),
    ("3 1/5", 2 + 8 / 12, 8, 10, 30),
    ("4", 3 + 4 / 12, 7, 10, 21),
    ("2", 3, 6 + 10 / 12, 18, 41),
]


@pytest.mark.parametrize(
    ("unit", "sill", "head"),
    [
        pytest.param(
            unit,
            sill,
            head,
            id=f"{unit.replace('/', '_')}-{to_head}",
            marks=published(
                f"window from {sill * 12:g} to {head * 12:g} in over the base, units of {unit} in: "
                "courses under its sill and under its head, and what is left to cut there",
                {
                    "to the sill": to_sill,
                    "to the head": to_head,
                    "cut at sill": 0,
                    "cut at head": 0,
                },
                *SOURCE,
            ),
        )
        for unit, sill, head, to_sill, to_head in OPENINGS
    ],
)
def test_sills_and_heads(tmp_path, unit, sill, head):
    takeoff = taken_off(
        tmp_path, wall=[box(0, 0, 12, 13 + 4 / 12)], window=[box(4, sill, 3, head - sill)],
        unit=(unit, "8"),
    )  # fmt: skip
    laid = takeoff.walls[0].courses
    met = {c.what: c for c in laid.conflicts if c.opening}
    under = {what: sum(c.y1 <= met[what].y + 1e-6 for c in laid.courses) for what in met}
    assert (met["sill"].y, met["head"].y) == pytest.approx((sill * FOOT, head * FOOT))
    return {
        "to the sill": under["sill"],
        "to the head": under["head"],
        "cut at sill": met["sill"].strip,
        "cut at head": met["head"].strip,
    }


HEIGHTS = [
    ("2 2/3", 3, 8, *SOURCE), ("2 2/3", 12, 32, *SOURCE), ("2 2/3", 36, 96, *SOURCE),
    ("3 1/5", 5, 16, *SOURCE), ("3 1/5", 50, 160, *SOURCE),
    ("8", 3, 24, NAVY, "ch. 4"), ("8", 12, 96, NAVY, "ch. 4"), ("8", 15, 120, NAVY, "ch. 4"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("unit", "top"),
    [
        pytest.param(
            unit,
            top,
            marks=published(
                f"courses of {unit} in in a wall {top} in high, the last one whole",
                {"courses": courses, "rest in": 0},
                source, place,
            ),
        )
        for unit, courses, top, source, place in HEIGHTS
    ],
)  # fmt: skip
def test_heights_of_courses(tmp_path, unit, top):
    takeoff = taken_off(tmp_path, wall=[box(0, 0, 20, top / FOOT)], unit=(unit, "8"))
    courses = takeoff.walls[0].courses.courses
    height = takeoff.product.panel.height
    return {"courses": len(courses), "rest in": height - (courses[-1].y1 - courses[-1].y0)}
