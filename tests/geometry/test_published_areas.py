"""Areas, lengths and bulges against published values, on paths and regions alone."""

import math

import pytest

from dxf2veneer.basics.units import square_feet
from dxf2veneer.geometry import Path, Region, Segment

FOOT = 12.0


def feet(*points: tuple[float, float]) -> Path:
    return Path.polygon([(x * FOOT, y * FOOT) for x, y in points])


def box(x0: float, y0: float, x1: float, y1: float) -> Region:
    return Region.of(feet((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


# "Builder-Mechanic", Measurement of Bricklayers' Work: end wall 28 ft wide, 37 ft to the eaves,
# gable 12 ft high, taken in three lifts of 15, 12 and 10 ft.
#        /\         49
#       /  \
#      |    |       37
#      |____|
#      0   28
END_WALL = Region.of(feet((0, 0), (28, 0), (28, 37), (14, 49), (0, 37)))


@pytest.mark.parametrize(
    ("bottom", "top", "sqft"),
    [(0, 15, 420), (15, 27, 336), (27, 37, 280), (37, 49, 168), (0, 49, 1204)],
)
def test_end_wall_with_gable_in_lifts(bottom, top, sqft):
    lift = END_WALL.intersection(box(-1, bottom, 29, top))
    assert square_feet(lift.area) == pytest.approx(sqft, rel=1e-12)


def test_wall_with_gable_and_openings():
    # Florida State University, Mathematics, Unit 2 Module 6, Ex. 2.6.5: wall 24 x 8 ft, gable of
    # base 24 and height 6; two windows 6 x 4, one door 3 x 7: 264 gross, 69 openings, 195 net
    wall = Region.of(feet((0, 0), (24, 0), (24, 8), (12, 14), (0, 8)))
    openings = [box(1, 3, 7, 7), box(17, 3, 23, 7), box(10, 0, 13, 7)]
    net = wall.difference(*openings)
    assert square_feet(wall.area) == pytest.approx(264, rel=1e-12)
    assert square_feet(math.fsum(o.area for o in openings)) == pytest.approx(69, rel=1e-12)
    assert square_feet(net.area) == pytest.approx(195, rel=1e-12)


def test_pentagon_wall():
    # Alexander & Koeberlein, Elementary Geometry for College Students, 7th ed., 8.1 no. 25
    # (inputs read there, the area follows by hand): 24 x 10 ft, peak at 15 ft
    wall = feet((0, 0), (24, 0), (24, 10), (12, 15), (0, 10))
    assert square_feet(wall.area) == pytest.approx(300, rel=1e-12)


@pytest.mark.parametrize(
    ("width", "height", "sqft"), [(45 + 9 / 12, 34.25, 1566.9375), (59.75, 24.5, 1463.875)]
)
def test_plasterers_walls(width, height, sqft):
    # arithmetic text, Plasterers' work (the stored copy lacks its title page)
    assert square_feet(box(0, 0, width, height).area) == pytest.approx(sqft, rel=1e-12)


@pytest.mark.parametrize(("degrees", "bulge"), [(90, 0.414214), (180, 1.0)])
def test_bulge_is_the_tangent_of_a_quarter_of_the_angle(degrees, bulge):
    # DXF reference, SetBulge
    assert math.degrees(Segment((0, 0), (1, 0), bulge).angle) == pytest.approx(degrees, abs=1e-4)


def test_circular_segment():
    # MatheAss manual, Circular Sections: chord 21, rise 6 -> radius 12.1875, arc 25.308373,
    # area 89.254148
    # bulge = 2 x rise / chord (DXF reference, SetBulge)
    arc = Segment((3.0, 2.0), (24.0, 2.0), 2 * 6 / 21)
    assert arc.radius == pytest.approx(12.1875, rel=1e-12)
    assert arc.length == pytest.approx(25.308373, abs=5e-7)
    assert arc.segment_area == pytest.approx(89.254148, abs=5e-7)


@pytest.mark.parametrize(("width", "springing"), [(48.0, 72.0), (36.0, 0.5)])
def test_round_arched_opening(width, springing):
    # CRC Concise Encyclopedia, Segment: a semicircle on a rectangle, w s + pi w^2 / 8
    #      .-.
    #     |   |  springing
    #     |___|
    arch = Path(((0, 0, 0), (width, 0, 0), (width, springing, 1.0), (0, springing, 0)))
    assert arch.area == pytest.approx(width * springing + math.pi * width**2 / 8, rel=1e-12)
    assert arch.box == pytest.approx((0, 0, width, springing + width / 2), abs=1e-9)


def test_half_elliptical_arch_through_three_point_arcs():
    # CRC Concise Encyclopedia, Segment: w s + pi w rise / 4; ellipses are promised to 1e-6
    width, springing, rise = 60.0, 70.0, 14.0

    def top(t: float) -> tuple[float, float]:
        return 30 + 30 * math.cos(math.pi * t), springing + rise * math.sin(math.pi * t)

    arcs = Path.curve(top, closed=False, pieces=8, rise_in=1e-5)
    whole = Path(((0.0, 0.0, 0.0), (width, 0.0, 0.0), *arcs.vertices))
    assert whole.area == pytest.approx(width * springing + math.pi * width * rise / 4, rel=1e-6)


def test_round_headed_window_of_given_perimeter():
    # published exercise: perimeter 50.7 ft, width 8.8 ft -> straight sides 14.0385,
    # area 153.95 sq ft
    side = 14.0385
    window = Path(((0, 0, 0), (8.8, 0, 0), (8.8, side, 1.0), (0, side, 0)))
    assert window.length == pytest.approx(50.7, abs=1e-3)
    assert window.area == pytest.approx(153.95, abs=5e-3)


def test_shoelace():
    # Rosetta Code, shoelace task
    assert Path.polygon([(3, 4), (5, 11), (12, 8), (9, 5), (5, 6)]).area == 30
