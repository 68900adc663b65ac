"""Trim bands: their runs along the opening and the ground they take.

.-----------.   a = head width, b = jamb width, c = sill width
|  .-----.  |   ground of the bands round a window of w x h:
|  |     |  |   (w + 2b)(h + a + c) - w h
|  '-----'  |   runs: head w, jambs 2 h, sill w
'-----------'
"""

import math

import pytest
from builders import ARCH, PRODUCT, drawing, job, measured, walls_of

from dxf2veneer.geometry import Path
from dxf2veneer.measure import measure_wall

WALL = (0, 0, 200, 120)
BANDS = {"trim__head": 8.0, "trim__jambs": 5.0, "trim__sill": 4.0}


def trimmed(wall=WALL, **outlines):
    return measured(drawing(wall=[wall], **outlines), job(**BANDS))


def runs(q):
    return [(o.trim_head, o.trim_jambs, o.trim_sill) for o in q.openings]


def test_without_widths_there_are_runs_but_no_bands():
    q = measured(drawing(wall=[WALL], opening=[(60, 40, 96, 80)]))
    assert (q.trim_area, runs(q)) == (0, [(36, 80, 36)])


def test_a_window_by_hand():
    q = trimmed(opening=[(60, 40, 96, 80)])
    assert q.trim_area == pytest.approx((36 + 10) * (40 + 8 + 4) - 36 * 40)
    assert q.trim_region.box == pytest.approx((55, 36, 101, 88))
    assert q.net_area == pytest.approx(24000 - (36 + 10) * (40 + 8 + 4))
    assert runs(q) == [(36, 80, 36)]
    assert q.openings[0].perimeter == 152


@pytest.mark.parametrize(
    ("width", "area"), [("head", 36 * 8), ("jambs", 2 * 40 * 5), ("sill", 36 * 4)]
)
def test_one_band_alone_has_no_corners(width, area):
    q = measured(
        drawing(wall=[WALL], opening=[(60, 40, 96, 80)]),
        job(**{f"trim__{width}": BANDS[f"trim__{width}"]}),
    )
    assert q.trim_area == pytest.approx(area)


def test_bands_narrower_than_an_inch_meet_in_corners_too():
    q = measured(
        drawing(wall=[WALL], opening=[(60, 40, 96, 80)]),
        job(trim__head=0.75, trim__jambs=0.75, trim__sill=0.75),
    )
    assert q.trim_area == pytest.approx(37.5 * 41.5 - 36 * 40)


@pytest.mark.parametrize(
    ("width", "area"), [("head", 100 * 8), ("jambs", 60 * 5), ("sill", 80 * 4)]
)
def test_one_band_alone_has_no_corners_however_sharp(width, area):
    #  |\
    #  | \       a triangle of 80 x 60, its slope 100 long
    #  '--'
    q = measured(
        drawing(wall=[WALL], window=[[(40, 30), (120, 30), (40, 90)]]),
        job(**{f"trim__{width}": BANDS[f"trim__{width}"]}),
    )
    assert q.trim_area == pytest.approx(area)


def test_sharp_corners_of_bands_by_hand():
    """The same triangle: its slope's normal is (0.6, 0.8). A corner is a kite, two right
    triangles on the two bands' ends; the outer lines of sill and head meet at (18.667, -4) from
    the right corner, those of head and jamb at (-5, 13.75) from the upper one."""
    q = trimmed(window=[[(40, 30), (120, 30), (40, 90)]])
    right = 4 * 56 / 3 / 2 + 8 * math.dist((56 / 3, -4), (4.8, 6.4)) / 2
    upper = 8 * math.dist((-5, 13.75), (4.8, 6.4)) / 2 + 5 * 13.75 / 2
    assert q.trim_area == pytest.approx(80 * 4 + 100 * 8 + 60 * 5 + 4 * 5 + right + upper, rel=1e-9)


def test_a_mitre_longer_than_four_widths_is_cut_off_square():
    """A triangle of 96 x 28, its slope 100 long with the normal (0.28, 0.96). Sill and head would
    meet 42 out; the corner is the triangle between the two bands' ends, (0, -4) and (2.24, 7.68)
    from it. Head and jamb meet at (-5, 9.4 / 0.96)."""
    q = trimmed(window=[[(40, 30), (136, 30), (40, 58)]])
    upper = 8 * math.dist((-5, 9.4 / 0.96), (2.24, 7.68)) / 2 + 5 * 9.4 / 0.96 / 2
    assert q.trim_area == pytest.approx(
        96 * 4 + 100 * 8 + 28 * 5 + 4 * 5 + 4 * 2.24 / 2 + upper, rel=1e-9
    )


@pytest.mark.parametrize(
    ("side", "corner"),
    [(30, 8 * math.sqrt(30**2 - 8**2)), (36, 32 * math.sin(2 * math.asin(8 / 36)))],
)
def test_the_bands_of_a_spire_meet_in_a_point_of_four_widths_at_most(side, corner):
    """Half width 8 and sides of 30 or 36, under bands of 8: their outer lines meet 30 or 36 over
    the apex, 3 3/4 or 4 1/2 widths. The first is a kite of two right triangles, the second the
    triangle between the bands' ends."""
    spire = [(60, 20), (76, 20), (68, 20 + math.sqrt(side**2 - 8**2))]
    q = measured(drawing(wall=[WALL], window=[spire]), job(trim__head=8.0))
    assert q.trim_area == pytest.approx(2 * side * 8 + corner, rel=1e-9)


def test_a_side_against_a_fixture_bears_no_trim():
    #  a fixture 3 wide stands beside the window, as high as it: jamb stones on the other side alone
    q = trimmed(window=[(60, 40, 96, 80)], fixture=[(96, 40, 99, 80)])
    assert runs(q)[0] == (36, 40, 36)
    assert q.trim_area == pytest.approx((36 + 5) * (40 + 8 + 4) - 36 * 40)


def test_a_door_has_no_sill():
    #   .-----------.
    #   |  .-----.  |      (36 + 10)(80 + 8) - 36 x 80, down to the base
    #   |  |     |  |
    #  =='=='   '=='==
    q = trimmed(door=[(60, 0, 96, 80)])
    assert q.trim_area == pytest.approx(46 * 88 - 36 * 80)
    assert runs(q) == [(36, 160, 0)]


def test_a_door_by_its_layer_above_the_base_has_no_sill_either():
    q = trimmed(door=[(60, 10, 96, 90)])
    assert runs(q) == [(36, 160, 0)]
    assert q.trim_area == pytest.approx(46 * 88 - 36 * 80)


def test_a_window_at_the_base_has_no_sill_for_want_of_wall_below():
    assert runs(trimmed(window=[(60, 0, 96, 80)])) == [(36, 160, 0)]


def test_a_fixture_bears_no_trim():
    q = trimmed(fixture=[(60, 40, 70, 50)])
    assert (q.trim_area, runs(q)) == (0, [(0, 0, 0)])


def test_a_half_round_head_runs_along_the_arch():
    #    .-'''-.     radius 18, springing at 60: the band over the arch is half a ring
    #   |       |    pi / 2 (26^2 - 18^2), each jamb 5 x 60, and at each springing the head's band
    #   |       |    is 3 wider than the jamb's
    q = trimmed(opening=[ARCH])
    ((head, jambs, sill),) = runs(q)
    assert head == pytest.approx(math.pi * 18, rel=1e-12)
    assert (jambs, sill) == (120, 0)
    assert q.trim_area == pytest.approx(math.pi / 2 * (26**2 - 18**2) + 2 * 5 * 60, rel=1e-9)
    assert q.opening_area == pytest.approx(36 * 60 + math.pi * 18**2 / 2, rel=1e-12)


def test_a_pointed_head_over_narrower_jambs_by_hand():
    #      /\       half width 18, rise 24: the slopes are 30 long, their normals (0.8, 0.6)
    #     /  \      strips: jambs 2 x 24 x 5, head 2 x 30 x 8, sill 36 x 4; sill corners 2 x 5 x 4
    #    |    |     at the eaves the jamb's outer line meets the end of the head's band 3.75 up:
    #    |____|     triangles 2 x 5 x 3.75 / 2; at the apex a kite of 8 x 32/3
    q = trimmed(window=[[(60, 40), (96, 40), (96, 64), (78, 88), (60, 64)]])
    assert q.trim_area == pytest.approx(240 + 480 + 144 + 40 + 18.75 + 8 * 32 / 3, rel=1e-9)
    assert runs(q) == [(60, 48, 36)]


def test_a_wider_jamb_under_a_narrower_pointed_head():
    # jambs 8, head 5: the head's outer line meets the end of the jamb's band 5 / 0.8 = 6.25 out
    q = measured(
        drawing(wall=[WALL], window=[[(60, 40), (96, 40), (96, 64), (78, 88), (60, 64)]]),
        job(trim__head=5.0, trim__jambs=8.0),
    )
    eaves = 6.25 * 3 / 2  # triangle on the base 6.25, its tip 5 x 0.6 = 3 high
    assert q.trim_area == pytest.approx(2 * 24 * 8 + 2 * 30 * 5 + 2 * eaves + 5 * 20 / 3, rel=1e-9)


def test_a_segmental_head_by_hand():
    # chord 21, rise 6: radius 12.1875, arc 25.308373, area 89.254148 (MatheAss manual, Circular
    # Sections); bulge = 2 rise / chord (DXF reference, SetBulge). Head band alone: a ring sector of
    # angle arc / radius from 12.1875 to 20.1875.
    arched = Path(((60, 40, 0), (81, 40, 0), (81, 80, 12 / 21), (60, 80, 0)))
    q = measured(drawing(wall=[WALL], window=[arched]), job(trim__head=8.0))
    assert q.openings[0].trim_head == pytest.approx(25.308373, abs=1e-6)
    assert q.opening_area == pytest.approx(21 * 40 + 89.254148, abs=1e-6)
    angle = 25.308373 / 12.1875
    assert q.trim_area == pytest.approx(angle / 2 * (20.1875**2 - 12.1875**2), abs=1e-4)


def test_a_round_window_is_ringed():
    # upper half: head 8 wide; lower half: sill 4 wide; no jambs
    q = trimmed(window=[Path.circle((100, 60), 15)])
    assert q.trim_area == pytest.approx(
        math.pi / 2 * (23**2 - 15**2) + math.pi / 2 * (19**2 - 15**2), rel=1e-9
    )
    assert runs(q)[0] == pytest.approx((15 * math.pi, 0, 15 * math.pi))


def test_bands_are_cut_at_the_walls_edge():
    # the window stands 2 from the right edge at 200: the right jamb's band is 2 wide
    q = trimmed(opening=[(162, 40, 198, 80)])
    assert q.trim_area == pytest.approx((5 + 36 + 2) * 52 - 36 * 40)


def test_a_side_on_the_walls_edge_bears_no_trim():
    # the window reaches the right edge: one jamb, and head and sill end there
    q = trimmed(opening=[(164, 40, 200, 80)])
    assert runs(q) == [(36, 40, 36)]
    assert q.trim_area == pytest.approx((5 + 36) * 52 - 36 * 40)


def test_a_head_at_the_top_of_the_wall_bears_no_trim():
    q = trimmed(opening=[(60, 80, 96, 120)])
    assert runs(q) == [(0, 80, 36)]
    assert q.trim_area == pytest.approx(46 * 44 - 36 * 40)


def test_the_line_between_two_walls_bears_no_trim():
    #   .-----|-----.     the window is 18 left of the line and 14 right of it
    #   |   [ | ]   |     every part has one jamb
    left, right = walls_of(
        drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], opening=[(42, 30, 74, 50)])
    )
    left, right = (measure_wall(w, job(**BANDS), PRODUCT) for w in (left, right))
    assert runs(left) + runs(right) == [(18, 20, 18), (14, 20, 14)]
    assert left.trim_area + right.trim_area == pytest.approx((32 + 10) * (20 + 12) - 32 * 20)


def test_bands_that_overlap_count_once():
    # two windows 6 apart with jambs 5 wide: 4 of the 10 are common, over the height of the bands
    q = trimmed(opening=[(60, 40, 90, 80), (96, 40, 126, 80)])
    one = (30 + 10) * 52 - 30 * 40
    assert q.trim_area == pytest.approx(2 * one - 4 * 52)


def test_a_band_does_not_cover_the_neighbouring_opening():
    # 3 apart: between them stand 3 of band, not 10
    q = trimmed(opening=[(60, 40, 90, 80), (93, 40, 123, 80)])
    assert q.trim_area == pytest.approx((63 + 10) * 52 - 60 * 40)


def test_openings_against_each_other_share_a_jamb_without_trim():
    # a door with a sidelight: the common line bears no stone
    q = trimmed(door=[(60, 0, 96, 80)], window=[(96, 40, 110, 80)])
    assert runs(q) == [pytest.approx((36, 80 + 40, 0)), pytest.approx((14, 40, 14))]


def test_a_band_follows_a_slanted_arc():
    #   ,--.      36 x 40, one corner rounded by 12: along the boundary the band is 4 wide,
    #  /   |      at square corners 4 x 4 more each, round the arc a quarter of a circle of 4 more
    #  |   |
    #  '---'
    window = Path(
        (
            (60.0, 40.0, 0.0),
            (96.0, 40.0, 0.0),
            (96.0, 80.0, 0.0),
            (72.0, 80.0, math.tan(math.pi / 8)),
            (60.0, 68.0, 0.0),
        )
    )
    q = measured(
        drawing(wall=[WALL], window=[window]), job(trim__head=4.0, trim__jambs=4.0, trim__sill=4.0)
    )
    boundary = 36 + 40 + 24 + math.pi / 2 * 12 + 28
    assert q.openings[0].perimeter == pytest.approx(boundary)
    assert q.trim_area == pytest.approx(4 * boundary + 3 * 16 + math.pi / 4 * 16)
    assert runs(q) == [(pytest.approx(24 + math.pi / 2 * 12), pytest.approx(40 + 28), 36)]


def test_the_corners_of_a_segmental_head_by_hand():
    """Chord 21, rise 6, radius 12.1875: at the springing the head's normal leans 0.861538 out and
    0.507692 up. The jamb's outer line ends 5 x 0.507692 / 0.861538 up, at the end of the head's
    band: a triangle on each side."""
    arched = Path(((60, 40, 0), (81, 40, 0), (81, 80, 12 / 21), (60, 80, 0)))
    q = trimmed(window=[arched])
    angle = 2 * math.asin(10.5 / 12.1875)
    triangle = 5 * 5 * 6.1875 / 10.5 / 2
    assert q.trim_area == pytest.approx(
        angle / 2 * (20.1875**2 - 12.1875**2) + 2 * 40 * 5 + 21 * 4 + 2 * 5 * 4 + 2 * triangle,
        rel=1e-9,
    )


def test_a_hollow_tighter_than_its_band_is_band_up_to_its_center():
    #   .--.      a corner scooped out with a radius of 3 about (60, 80): the quarter of a disc
    #  '   |      between it and its center, and at each of its ends a square of 4,
    #  |   |      which overlap on 1 x 1
    #  '---'
    scooped = Path(
        ((60, 40, 0), (96, 40, 0), (96, 80, 0), (63, 80, -math.tan(math.pi / 8)), (60, 77, 0))
    )
    q = measured(
        drawing(wall=[WALL], window=[scooped]), job(trim__head=4.0, trim__jambs=4.0, trim__sill=4.0)
    )
    strips = 4 * (36 + 40 + 33 + 37)
    assert q.trim_area == pytest.approx(strips + 3 * 16 + 2 * 16 - 1 + 9 * math.pi / 4, rel=1e-6)


_ALONG = -math.tan(math.pi / 8)
"""A quarter of a circle, walked clockwise."""


@pytest.mark.parametrize(
    "follows",
    [
        ((100, 75, _ALONG), (115, 60, 0), (125, 60, 0), (125, 85, 0), (100, 85, 0)),
        ((75, 60, 0), (85, 60, _ALONG), (100, 75, 0), (100, 85, 0), (75, 85, 0)),
    ],
)
def test_an_arc_bears_stone_where_nothing_stands_against_it(follows):
    #   .-'|    |      a round window of radius 15 and, against its upper right or left
    #  (   '-.__|      quarter, an opening that follows it
    #   '-..-'
    q = measured(drawing(wall=[WALL], window=[Path.circle((100, 60), 15), Path(follows)]))
    (head,) = [o.trim_head for o in q.openings if o.width == 30]
    assert head == pytest.approx(15 * math.pi / 2, abs=1e-3)


def test_the_jambs_of_a_tapered_opening_lean_and_are_jambs():
    """Foot 24 wide, head 18 wide, 72 high, over a sill: each jamb is hypot(3, 72) long.

    .--------.
    /          \\
    '----------'
    """
    taper = [(60, 10), (84, 10), (81, 82), (63, 82)]
    q = measured(drawing(wall=[(0, 0, 200, 100)], window=[taper]))
    (opening,) = q.openings
    assert opening.trim_head == pytest.approx(18)
    assert opening.trim_jambs == pytest.approx(2 * math.hypot(3, 72))
    assert opening.trim_sill == pytest.approx(24)
