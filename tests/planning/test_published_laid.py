"""Published walls of block and brick laid out piece by piece, from a drawing to the plan. Books
count such walls by area, which is the same where a wall is a whole multiple of the unit both ways.
"""

from __future__ import annotations

import pytest
from book_walls import FOOT, box, taken_off
from published import published

STAGE = "drawing to laid pieces"
NAVY = "US Navy, Builder Advanced, NAVEDTRA 14045"
PLAN = '[plan]\npanels = true\nlook = "off"\ntolerance = 0\noffcuts = "job"\nkerf = 0\n'


def laid(folder, unit, *walls):
    """Walls laid out with as few units as can be found."""
    takeoff = taken_off(folder, wall=walls, unit=unit, job=PLAN)
    assert not takeoff.errors
    return takeoff


@published(
    "block wall 100 x 10 ft: courses, blocks",
    {"courses": 15, "blocks": 1125},
    NAVY, "ch. 4, beside Table 4-3",
)  # fmt: skip
def test_block_wall(tmp_path):
    takeoff = laid(tmp_path, ("8", "16"), box(0, 0, 100, 10))
    courses = takeoff.walls[0].courses
    return {"courses": len({p.y0 for p in courses.pieces}), "blocks": takeoff.plan.flat.units}


@published(
    "building 20 x 8 ft, 8 ft high: blocks of each side, of all",
    {"front": 180, "left": 72, "back": 180, "right": 72, "all": 504},
    NAVY, "ch. 4, estimating page after Table 4-3",
)  # fmt: skip
def test_four_elevations_of_a_building(tmp_path):
    walls = [box(x, 0, width, 8) for x, width in ((0, 20), (30, 8), (50, 20), (80, 8))]
    plan = laid(tmp_path, ("8", "16"), *walls).plan
    names = ("front", "left", "back", "right")
    return {**dict(zip(names, (w.flat for w in plan.walls), strict=True)), "all": plan.flat.units}


@pytest.mark.parametrize(
    ("unit", "top"),
    [
        pytest.param(
            unit,
            top,
            id=f"{unit.replace('/', '_')}-{top}",
            marks=published(
                f"courses of {unit} in laid in a wall {top} in high, none of them ripped",
                {"courses": courses, "ripped": 0},
                source, place,
            ),
        )
        for unit, courses, top, source, place in [
            ("2 2/3", 36, 96, "BIA Technical Notes 10B (June 1993)", "Table 3"),
            ("3 1/5", 50, 160, "BIA Technical Notes 10B (June 1993)", "Table 3"),
            ("8", 12, 96, NAVY, "ch. 4"),
        ]
    ],
)  # fmt: skip
def test_courses_laid(tmp_path, unit, top):
    pieces = laid(tmp_path, (unit, "8"), box(0, 0, 16 / FOOT, top / FOOT)).walls[0].courses.pieces
    return {
        "courses": len({round(p.y1, 6) for p in pieces}),
        "ripped": sum(p.ripped for p in pieces),
    }
