"""Published areas, corners, openings and counts of units through the whole way,
from a drawing to the takeoff.

Books count units as area over a unit's face, which is compared as areas and as courses; how many
pieces are really laid is another question (tests/planning/test_plan_by_hand.py).
"""

from __future__ import annotations

import math

import pytest
from book_walls import FOOT, SQFT, box, sides, taken_off, units
from published import published

STAGE = "drawing to takeoff"
NAVY = "US Navy, Builder Advanced, NAVEDTRA 14045"
BLOCK = ("8", "16")


# ----------------------------------------------------------------- areas and units


@published(
    "block wall 100 x 10 ft: area, courses, blocks of a course, blocks",
    {"sq ft": 1000, "courses": 15, "a course": 75, "blocks": 1125},
    NAVY, "ch. 4, beside Table 4-3",
)  # fmt: skip
def test_block_wall(tmp_path):
    takeoff = taken_off(tmp_path, wall=[box(3, 2, 100, 10)], unit=BLOCK)
    return {
        "sq ft": takeoff.totals.net_area / SQFT,
        "courses": len(takeoff.walls[0].courses.courses),
        "a course": takeoff.totals.base_run / takeoff.product.panel.length,
        "blocks": units(takeoff),
    }


@published(
    "building 20 x 8 ft, 8 ft high: areas and blocks of a side, courses, blocks of a round, in all",
    {"long sq ft": 160, "short sq ft": 64, "long": 180, "short": 72, "courses": 12, "a round": 42,
     "blocks": 504},
    NAVY, "ch. 4, estimating page after Table 4-3",
)  # fmt: skip
def test_four_elevations_of_a_building(tmp_path):
    takeoff = taken_off(tmp_path, **sides(8, 20, 8, 20, 8), unit=BLOCK)
    long, short, *others = (w.quantities.net_area for w in takeoff.walls)
    assert others == pytest.approx([long, short])
    return {
        "long sq ft": long / SQFT,
        "short sq ft": short / SQFT,
        "long": units(takeoff, long),
        "short": units(takeoff, short),
        "courses": len(takeoff.walls[0].courses.courses),
        "a round": takeoff.totals.base_run / takeoff.product.panel.length,
        "blocks": units(takeoff),
    }


@published(
    "the same building: half a block a course less at each corner",
    {"corners": 4, "less": 24, "blocks": 480},
    NAVY, "ch. 4, estimating page after Table 4-3",
)  # fmt: skip
def test_blocks_less_those_of_the_corners(tmp_path):
    takeoff = taken_off(tmp_path, **sides(8, 20, 8, 20, 8), unit=BLOCK)
    courses = math.fsum(c.run for c in takeoff.corners) / takeoff.product.panel.height
    return {
        "corners": len(takeoff.corners),
        "less": courses / 2,
        "blocks": units(takeoff) - courses / 2,
    }


@published(
    "house 30 x 28 x 20 ft, walls 13 in, openings 200 sq ft: outside area, what comes off, bricks "
    "at 21 a sq ft",
    {"outside": 2320, "off": "286.67", "bricks": 42700},
    "Minick, Arithmetic for Business (1904)", "example 1 of brickwork",
)  # fmt: skip
def test_house_with_openings_and_corners_taken_off(tmp_path):
    windows = [box(2 + 7 * i, 5, 4, 5) for i in range(4)]
    windows += [box(2 + 7 * i, 12, 4, 5) for i in range(4)]
    windows += [box(45, 5, 4, 5), box(55, 5, 4, 5)]
    takeoff = taken_off(tmp_path, **sides(20, 30, 28, 30, 28), window=windows)
    thick = math.fsum(c.run for c in takeoff.corners) * 13
    assert takeoff.totals.openings == 10
    return {
        "outside": takeoff.totals.gross_area / SQFT,
        "off": (takeoff.totals.deducted_area + thick) / SQFT,
        "bricks": (takeoff.totals.net_area - thick) / SQFT * 21,
    }


@published(
    "corner casings of a building with studding of 18 ft: board measure of each corner at 1 ft a "
    "lineal foot of height",
    {"corners": 4, "feet a corner": 18},
    "Builders' Guide", "Estimating Corner Casings (copy at chestofbooks.com)",
)  # fmt: skip
def test_corner_casing(tmp_path):
    takeoff = taken_off(tmp_path, **sides(18, 30, 28, 30, 28))
    assert {c.run for c in takeoff.corners} == {takeoff.corners[0].run}
    return {"corners": len(takeoff.corners), "feet a corner": takeoff.corners[0].run / FOOT}


@published(
    "basement 22 x 32 ft, ten courses of 8 x 16 in block: blocks of a course, corners counted "
    "once, and of the solid wall",
    {"a course": 79, "blocks": 790},
    "US Navy, NAVEDTRA 14043", "ch. 8, text to Table 8-5 (copy at constructionmanuals.tpub.com)",
)  # fmt: skip
def test_basement(tmp_path):
    takeoff = taken_off(tmp_path, **sides(80 / 12, 22, 32, 22, 32), unit=BLOCK)
    courses = math.fsum(c.run for c in takeoff.corners) / takeoff.product.panel.height
    blocks = units(takeoff) - courses / 2
    return {"a course": blocks / len(takeoff.walls[0].courses.courses), "blocks": blocks}


@published(
    "three sides of an addition, 20, 16 and 20 ft, 6 ft high, block 8 x 16 in: blocks of a course, "
    "courses, blocks, corner blocks at two corners, others",
    {"a course": 42, "courses": 9, "blocks": 378, "corner": 18, "others": 360},
    "How-to article on block walls (myoldworkshop.com, part 1)",
)  # fmt: skip
def test_corner_blocks_of_an_addition(tmp_path):
    takeoff = taken_off(tmp_path, **sides(6, 20, 16, 20, ends=""), unit=BLOCK)
    corner = math.fsum(c.run for c in takeoff.corners) / takeoff.product.panel.height
    return {
        "a course": takeoff.totals.base_run / takeoff.product.panel.length,
        "courses": len(takeoff.walls[0].courses.courses),
        "blocks": units(takeoff),
        "corner": corner,
        "others": units(takeoff) - corner,
    }


@published(
    "building 20 x 16 ft, 8 ft high, block 8 x 16 in, corners counted once: courses, blocks of a "
    "course, blocks",
    {"courses": 12, "a course": 52, "blocks": 624},
    "Answer on a mathematics site (allexperts.com, 2014)",
)
def test_building_with_corners_counted_once(tmp_path):
    takeoff = taken_off(tmp_path, **sides(8, 20, 16, 20, 16), unit=BLOCK)
    courses = len(takeoff.walls[0].courses.courses)
    corner = math.fsum(c.run for c in takeoff.corners) / takeoff.product.panel.height
    blocks = units(takeoff) - corner / 2
    return {"courses": courses, "a course": blocks / courses, "blocks": blocks}


PRESSED = [
    # windows of 32 ft together, casements, lavatory window, door: (width, height, how many)
    ("window", 32 / 9, 6.5, 9),
    ("window", (7 + 4 / 12) / 2, 8, 2),
    ("window", 2.5, 5.5, 1),
    ("door", 3 + 5 / 12, 8.5, 1),
]


@published(
    "facing of 125' x 8'-9\" with 12 windows and a door: gross, openings, pressed brick at 7 1/2 a "
    "sq ft, 5 percent of waste, together",
    {"gross": "1093.8", "openings": "309.5", "brick": "5,882", "waste": "294", "all": "6,176"},
    "Building Construction, vol. 4", "section 66 (copy at chestofbooks.com)",
)  # fmt: skip
def test_pressed_brick(tmp_path):
    outlines: dict[str, list] = {"window": [], "door": []}
    x = 1.0
    for role, width, height, number in PRESSED:
        for _ in range(number):
            outlines[role].append(box(x, 0.0 if role == "door" else 0.2, width, height))
            x += width + 4
    totals = taken_off(tmp_path, wall=[box(0, 0, 125, 8.75)], **outlines).totals
    assert totals.openings == 13
    brick = totals.net_area / SQFT * 7.5
    return {
        "gross": totals.gross_area / SQFT,
        "openings": totals.deducted_area / SQFT,
        "brick": brick,
        "waste": brick * 0.05,
        "all": brick * 1.05,
    }


@published(
    "brick wall 8 x 14 ft, brick with joint 2 3/4 x 8 1/2 in: face, bricks of a sq ft, "
    "area, bricks",
    {"sq in": 23.375, "a sq ft": "6.16", "sq ft": 112, "bricks": "690"},
    NAVY, "ch. 4, beside Table 4-5",
)  # fmt: skip
def test_brick_wall(tmp_path):
    takeoff = taken_off(tmp_path, wall=[box(0, 0, 14, 8)], unit=("2 3/4", "8 1/2"))
    face = takeoff.product.coverage_area
    return {
        "sq in": face,
        "a sq ft": SQFT / face,
        "sq ft": takeoff.totals.net_area / SQFT,
        "bricks": units(takeoff),
    }


@published(
    "wall 36'-8\" x 72 in, brick with joint 8 x 2 3/4 in: bricks of a course, courses with the cut "
    "one on top, bricks",
    {"a course": 55, "courses": 27, "bricks": 1485},
    "How-to article on brick estimating (ehow.com 8541588)",
)  # fmt: skip
def test_brick_wall_with_a_cut_course(tmp_path):
    takeoff = taken_off(tmp_path, wall=[box(0, 0, 36 + 8 / 12, 6)], unit=("2 3/4", "8"))
    course = takeoff.totals.base_run / takeoff.product.panel.length
    courses = len(takeoff.walls[0].courses.courses)
    return {"a course": course, "courses": courses, "bricks": course * courses}


@published(
    "west wall of a small building, 15'-4\" x 59'-3\"",
    {"sq ft": "908"},
    "Dagostino & Peterson, Estimating in Building Construction, 7th ed. (2011)", "p. 123, ex. 11-1",
)  # fmt: skip
def test_west_wall(tmp_path):
    takeoff = taken_off(tmp_path, wall=[box(0, 0, 59.25, 15 + 4 / 12)])
    return {"sq ft": takeoff.totals.gross_area / SQFT}


MASONS = "School arithmetic of the 19th century, Masons' Work (title page not stored)"


@pytest.mark.parametrize(
    ("width", "height", "walls"),
    [
        pytest.param(w, h, n, marks=published(what, {"sq ft": area}, source, place))
        for what, w, h, n, area, source, place in [
            ("wall 45'-9\" x 34'-3\"", 45.75, 34.25, 1, 1566.9375,
             "School arithmetic, Plasterers' Work (title page not stored)", ""),
            ("wall 59'-9\" x 24'-6\"", 59.75, 24.5, 1, 1463.875,
             "School arithmetic, Plasterers' Work (title page not stored)", ""),
            ("two walls 24'-3\" x 10'-9\"", 24.25, 10.75, 2, 521.375, MASONS, ""),
            ("two walls 53'-6\" x 12'-3\" (printed without the fraction)", 53.5, 12.25, 2,
             1310.75, MASONS, ""),
            ("17'-7\" x 1'-5\", printed 24 ft 10' 11\" in twelfths", 17 + 7 / 12, 1 + 5 / 12, 1,
             24 + 10 / 12 + 11 / 144, MASONS, "ex. 20"),
        ]
    ],
)  # fmt: skip
def test_walls_of_feet_and_inches(tmp_path, width, height, walls):
    each = [box(70 * i, 0, width, height) for i in range(walls)]
    return {"sq ft": taken_off(tmp_path, wall=each).totals.net_area / SQFT}


@published(
    "24 windows 4'-6\" x 6'-0\" and 4 doors 3 x 7 ft: openings, their areas and jambs, days of one "
    "person at 80 ft of jamb a day",
    {"windows": 24, "doors": 4, "windows' sq ft": 648, "doors' sq ft": 84, "windows' jambs": 288,
     "doors' jambs": 56, "jambs": 344, "days": "4.3"},
    "Masonry Magazine, S. Fechino on estimating window openings", "jamb labor; days follow by hand",
)  # fmt: skip
def test_jambs_of_windows_and_doors(tmp_path):
    windows = [box(3 + 8 * (i % 12), 4 + 9 * (i // 12), 4.5, 6) for i in range(24)]
    doors = [box(100 + 5 * i, 0, 3, 7) for i in range(4)]
    takeoff = taken_off(tmp_path, wall=[box(0, 0, 124, 22)], window=windows, door=doors)
    found = {}
    for kind in ("window", "door"):
        each = [o for o in takeoff.walls[0].quantities.openings if o.opening.kind == kind]
        found[f"{kind}s"] = len(each)
        found[f"{kind}s' sq ft"] = math.fsum(o.area for o in each) / SQFT
        found[f"{kind}s' jambs"] = math.fsum(o.trim_jambs for o in each) / FOOT
    jambs = takeoff.totals.trim_jambs / FOOT
    return {**found, "jambs": jambs, "days": jambs / 80}
