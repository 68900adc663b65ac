"""Published values through the whole way, from a drawing to the takeoff. The source stands beside
each.

Books count units as area over a unit's face, which is compared as areas and as courses; how many
pieces are really laid is another question.
"""

from __future__ import annotations

import math

import ezdxf
import pytest

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.deductions import DEDUCTION_RULES
from dxf2veneer.config.job import load_job

SQFT = 144.0
FOOT = 12.0


def rectangle(x0, y0, width, height):
    return [(x0, y0), (x0 + width, y0), (x0 + width, y0 + height), (x0, y0 + height)]


@pytest.fixture
def measured(tmp_path):
    """Take off walls and openings given in feet; extra text goes into the job file."""

    def run(walls, openings=(), job="", product=None):
        doc = ezdxf.new("R2010", units=2)
        for layer, outlines in (("WALL", walls), ("OPENING", openings)):
            for points in outlines:
                doc.modelspace().add_lwpolyline(
                    points, format="xyb", close=True, dxfattribs={"layer": layer}
                )
        doc.saveas(tmp_path / "drawing.dxf")
        text = f'[layers]\nwall = "WALL"\nopening = "OPENING"\n{job}\n'
        if product:
            height, length = product
            panel = (
                f'[panel]\nheight = "{height}"\nlength = "{length}"\n'
                "[laying]\nstagger = 4\nleast_piece = 4\n[cap]\nheight = 2\n"
            )
            (tmp_path / "panel.toml").write_text(panel)
            text += '[product]\nfile = "panel.toml"\n'
        (tmp_path / "job.toml").write_text(text)
        return take_off([tmp_path / "drawing.dxf"], load_job(tmp_path / "job.toml"))

    return run


def test_block_wall(measured):
    # A1. US Navy, Builder Advanced, NAVEDTRA 14045, ch. 4, beside Table 4-3: wall 100 x 10 ft,
    # block 16 x 8 in nominal: 1,000 sq ft; 75 a course, 15 courses, 1,125 blocks
    takeoff = measured([rectangle(3, 2, 100, 10)], product=("8", "16"))
    net = takeoff.totals.net_area
    assert net / SQFT == pytest.approx(1000, rel=1e-12)
    assert len(takeoff.walls[0].courses.courses) == 15
    assert takeoff.totals.base_run / takeoff.product.panel.length == pytest.approx(75)
    assert net / takeoff.product.coverage_area == pytest.approx(1125)


def test_four_elevations_of_a_building(measured):
    # A2. Same source: a 20 x 8 ft building 8 ft high, same block: sides of 160 sq ft, 180 blocks,
    # and of 64 sq ft, 72 blocks; 504 in all, 12 courses of 42
    walls = [rectangle(x, 0, width, 8) for x, width in [(0, 20), (30, 8), (50, 20), (80, 8)]]
    takeoff = measured(walls, product=("8", "16"))
    areas = [w.quantities.net_area for w in takeoff.walls]
    assert [a / SQFT for a in areas] == pytest.approx([160, 64, 160, 64])
    assert [a / takeoff.product.coverage_area for a in areas] == pytest.approx([180, 72, 180, 72])
    assert takeoff.totals.net_area / takeoff.product.coverage_area == pytest.approx(504)
    assert {len(w.courses.courses) for w in takeoff.walls} == {12}
    assert takeoff.totals.base_run / takeoff.product.panel.length == pytest.approx(42)


def test_brick_wall(measured):
    # A3. Same source, beside Table 4-5: wall 8 x 14 ft; brick with joint 2 3/4 x 8 1/2 in: 23.375
    # sq in, 6.16 per sq ft, 112 sq ft, 690 bricks; with 10 % waste 759 (the book prints 760)
    takeoff = measured([rectangle(0, 0, 14, 8)], product=("2 3/4", "8 1/2"))
    bricks = takeoff.totals.net_area / takeoff.product.coverage_area
    assert takeoff.product.coverage_area == 23.375
    assert SQFT / takeoff.product.coverage_area == pytest.approx(6.16, abs=0.005)
    assert takeoff.totals.net_area / SQFT == pytest.approx(112)
    assert round(bricks) == 690
    assert 1.1 * round(bricks) == pytest.approx(759)


def test_end_wall_with_gable(measured):
    # A4. Builder-Mechanic, Measurement of Bricklayers' Work: 28 ft wide, 37 ft to the eaves, gable
    # 12 ft high: 1,204 sq ft
    totals = measured([[(0, 0), (28, 0), (28, 37), (14, 49), (0, 37)]]).totals
    assert totals.gross_area / SQFT == pytest.approx(1204, rel=1e-12)
    assert totals.rake_run / FOOT == pytest.approx(2 * math.hypot(14, 12))


def test_gable_wall_with_openings(measured):
    # A5. Florida State University, Mathematics, Unit 2 Module 6, Ex. 2.6.5: 264 gross, 69 openings,
    # 195 net
    wall = [(0, 0), (24, 0), (24, 8), (12, 14), (0, 8)]
    openings = [rectangle(1, 3, 6, 4), rectangle(17, 3, 6, 4), rectangle(10, 0, 3, 7)]
    takeoff = measured([wall], openings)
    totals = takeoff.totals
    found = [v / SQFT for v in (totals.gross_area, totals.opening_area, totals.net_area)]
    assert found == pytest.approx([264, 69, 195], rel=1e-12)
    assert sorted(o.kind for o in takeoff.walls[0].wall.openings) == ["door", "window", "window"]


def test_pentagon_wall(measured):
    # A6. Alexander & Koeberlein, Elementary Geometry for College Students, 7th ed., 8.1 no. 25 (the
    # inputs were read there): 24 x 10 ft, peak at 15 ft: 300 sq ft
    assert measured(
        [[(0, 0), (24, 0), (24, 10), (12, 15), (0, 10)]]
    ).totals.gross_area / SQFT == pytest.approx(300)


@pytest.mark.parametrize(
    ("width", "height", "sqft"), [(45.75, 34.25, 1566.9375), (59.75, 24.5, 1463.875)]
)
def test_plasterers_walls(measured, width, height, sqft):
    # A7. Arithmetic text, Plasterers' work (the stored copy lacks its title page): 45'-9" x 34'-3"
    # and 59'-9" x 24'-6"
    assert measured([rectangle(0, 0, width, height)]).totals.net_area / SQFT == pytest.approx(sqft)


@pytest.mark.parametrize(
    ("unit", "courses", "top"),
    # A9. BIA TN 10B (June 1993) Table 3: 3 courses = 8 in, 12 = 2'-8", 36 = 8'-0"; 5 courses = 16
    # in, 50 = 13'-4". NAVEDTRA 14045: 8 in unit, 3 courses in 2 ft, 12 in 8 ft, 15 in 10 ft
    [("2 2/3", 3, 8), ("2 2/3", 12, 32), ("2 2/3", 36, 96), ("3 1/5", 5, 16), ("3 1/5", 50, 160),
     ("8", 3, 24), ("8", 12, 96), ("8", 15, 120)],
)  # fmt: skip
def test_heights_of_courses(measured, unit, courses, top):
    wall = measured([rectangle(0, 0, 20, top / FOOT)], product=(unit, "8")).walls[0]
    assert len(wall.courses.courses) == courses
    assert wall.courses.courses[-1].y1 == pytest.approx(top, abs=1e-9)


MM = 1 / 304.8
"""Feet; a foot is 304.8 mm exactly (NIST SP 811 App. B.8)."""
OPENINGS = [
    # The rule that the job names, and openings (width, height in feet) that its source leaves in
    # and takes off, drawn just under and just over the area that it names, and at it.
    # NCMA TEK 14 (1969), block: every opening is deducted
    ("every", [], [(0.05, 0.05), (3, 7)]),
    # IS 1200 (Part 4):1976, stone masonry: openings over 0.1 m2 are deducted (400 x 250 mm is it)
    ("stone", [(400 * MM, 249 * MM), (400 * MM, 250 * MM)], [(400 * MM, 251 * MM)]),
    # Del Pico, Estimating Building Costs for the Residential & Light Commercial Construction
    # Professional, p. 128: over 2 sq ft
    ("building", [(1, 1.99), (1, 2)], [(1, 2.01)]),
    # Griffith, Carpentry: over 2 ft x 2 ft
    ("carpentry", [(2, 1.99), (2, 2)], [(2, 2.01)]),
    # Peterson & Dagostino, Estimating in Building Construction, p. 123: over 10 sq ft (block)
    ("block", [(2.5, 3.99), (2.5, 4)], [(2.5, 4.01)]),
    # Masonry Structures (1921), section 54: openings under 70 sq ft are not deducted
    ("masonry", [(10, 6.99)], [(10, 7), (10, 7.01)]),
    # ICS Building Trades Pocketbook: those of 100 sq ft or over are deducted
    ("trades", [(12.5, 7.99)], [(12.5, 8), (12.5, 8.01)]),
]


def test_every_rule_of_deducting_is_tried():
    assert [rule for rule, _, _ in OPENINGS] == list(DEDUCTION_RULES)


@pytest.mark.parametrize(
    ("rule", "opening", "comes_off"),
    [
        pytest.param(rule, opening, off, id=f"{rule}-{opening[0]:.4g}x{opening[1]:.4g}")
        for rule, stay, go in OPENINGS
        for off, openings in ((False, stay), (True, go))
        for opening in openings
    ],
)
def test_deducting_openings(measured, rule, opening, comes_off):
    totals = measured(
        [rectangle(0, 0, 40, 10)], [rectangle(5, 1, *opening)], f'[deduction]\nrule = "{rule}"\n'
    ).totals
    area = opening[0] * opening[1]
    assert totals.opening_area / SQFT == pytest.approx(area, rel=1e-9)
    assert totals.deducted_area / SQFT == pytest.approx(area if comes_off else 0.0, rel=1e-9)
    assert totals.net_area / SQFT == pytest.approx(400 - (area if comes_off else 0.0), rel=1e-9)


@pytest.mark.parametrize(("width", "springing"), [(3.0, 6.0), (8.8, 14.0385)])
def test_arched_opening(measured, width, springing):
    # G3. CRC Concise Encyclopedia, Segment: a semicircle on a rectangle: w s + pi w^2 / 8
    arch = [(5, 1, 0), (5 + width, 1, 0), (5 + width, 1 + springing, 1), (5, 1 + springing, 0)]
    totals = measured([rectangle(0, 0, 40, 30)], [arch]).totals
    assert totals.opening_area / SQFT == pytest.approx(
        width * springing + math.pi * width**2 / 8, rel=1e-9
    )
    assert totals.trim_head / FOOT == pytest.approx(math.pi * width / 2, rel=1e-9)
