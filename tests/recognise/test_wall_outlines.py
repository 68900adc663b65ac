"""Which outlines make walls: sound ones; the rest is told with code, handle and place."""

import dataclasses

import pytest
from builders import JOB, codes, drawing, job, only_wall, walls_of

from dxf2veneer.geometry import Path
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say


def the_notice(one, code, job=JOB):
    (notice,) = [n for n in recognise([one], job).notices if n.code == code]
    return notice


def test_walls_are_numbered_from_left_to_right_then_upward():
    #   W1    W2         W2 stands under W3, both begin at x = 50
    #  .--.  .---. W3
    #  |  |  '---'
    #  |  |  .-----. W2
    #  '--'  '-----'
    found = walls_of(drawing(wall=[(50, 40, 80, 60), (50, 0, 90, 30), (0, 0, 20, 60)]))
    assert [(w.id, w.box) for w in found] == [
        ("W1", (0, 0, 20, 60)),
        ("W2", (50, 0, 90, 30)),
        ("W3", (50, 40, 80, 60)),
    ]
    assert [w.handles for w in found] == [("WALL3",), ("WALL2",), ("WALL1",)]


def test_walls_begun_a_hair_apart_are_numbered_upward():
    upper, lower = (50, 40, 80, 60), (50.0004, 0, 90, 30)
    assert [w.handles for w in walls_of(drawing(wall=[upper, lower]))] == [("WALL2",), ("WALL1",)]


def test_numbering_goes_on_in_the_next_drawing():
    found = walls_of(drawing(wall=[(0, 0, 20, 60)]), drawing(index=1, wall=[(5, 0, 30, 60)]))
    assert [(w.id, w.drawing) for w in found] == [("W1", 0), ("W2", 1)]


def test_a_drawing_without_a_wall_says_so():
    assert codes(drawing(opening=[(0, 0, 9, 9)])) == ["NO_WALL", "OPENING_OUTSIDE_WALL"]


def test_an_open_outline_is_left_out_with_its_gap():
    #  .-------.
    #  |       |
    #  '----   |     ends at (30, 0) and (42, 0): 12 apart
    #        '-'
    opened = Path.polygon([(30, 0), (0, 0), (0, 50), (70, 50), (70, 0), (42, 0)], closed=False)
    notice = the_notice(drawing(wall=[opened]), "OPEN_OUTLINE")
    assert notice.handle == "WALL1"
    assert notice.layer == "WALL"
    assert notice.at_in == (42, 0)
    assert "1'-0\" apart" in say(notice.message)
    assert notice.drawing == 0


def test_an_outline_that_crosses_itself_is_left_out_at_the_crossing():
    #  (0,40) \ / (60,40)    walked (0,0) (60,40) (60,0) (0,40): its halves cancel to no area,
    #          X             yet it is a crossing, at (30, 20)
    #  (0,0)  / \ (60,0)
    notice = the_notice(drawing(wall=[[(0, 0), (60, 40), (60, 0), (0, 40)]]), "SELF_CROSSING")
    assert (notice.handle, notice.at_in) == ("WALL1", pytest.approx((30, 20)))
    # y = 2x/3 meets the line from (60, 0) to (12, 48), y = 60 - x, at x = 36
    notice = the_notice(drawing(wall=[[(0, 0), (60, 40), (60, 0), (12, 48)]]), "SELF_CROSSING")
    assert notice.at_in == pytest.approx((36, 24))


def test_an_outline_with_a_spike_crosses_itself():
    #  .-------.
    #  |       |----    out from (90, 20) to (120, 20) and back on the same line
    #  '-------'
    spike = [(0, 0), (90, 0), (90, 20), (120, 20), (90, 20), (90, 40), (0, 40)]
    assert "SELF_CROSSING" in codes(drawing(wall=[spike]))


def test_a_tangle_of_thousands_of_pieces_is_told_by_one_of_its_crossings():
    #  every corner on one of two far sides: each piece crosses about half of all others
    zigzag = [(i % 2 * 900.0, (i * 7919) % 5003 / 10) for i in range(3000)]
    notice = the_notice(drawing(wall=[zigzag]), "SELF_CROSSING")
    x, y = notice.at_in
    assert 0 < x < 900
    assert 0 < y < 501


def test_a_doubled_outline_counts_once_whatever_its_direction_and_first_corner():
    one = [(0, 0), (90, 0), (90, 40), (0, 40)]
    again = [(90, 40), (90, 0), (0, 0), (0, 40)]
    double = drawing(wall=[one, again])
    assert only_wall(double).region.area == 3600
    notice = the_notice(double, "DOUBLED_OUTLINE")
    assert (notice.handle, notice.at_in) == ("WALL2", (45, 20))
    assert "WALL1" in say(notice.message)


@pytest.mark.parametrize("first", range(4))
def test_a_crossing_is_told_where_it_is_whatever_corner_the_outline_begins_at(first):
    bow = [(0, 0), (60, 40), (60, 0), (0, 40)]
    notice = the_notice(drawing(wall=[bow[first:] + bow[:first]]), "SELF_CROSSING")
    assert notice.at_in == pytest.approx((30, 20))


def test_outlines_of_one_size_and_unlike_shape_are_not_doubled():
    #  a triangle in a box as wide and as high
    assert codes(
        drawing(wall=[(0, 0, 99, 60)], opening=[(10, 10, 30, 40), [(10, 10), (30, 10), (20, 40)]])
    ) == ["OPENING_NESTED"]


def test_outlines_a_hair_apart_are_doubled_and_farther_apart_are_not():
    assert codes(
        drawing(opening=[(10, 10, 30, 40), (10, 10, 30.009, 40)], wall=[(0, 0, 99, 60)])
    ) == ["DOUBLED_OUTLINE"]
    assert "DOUBLED_OUTLINE" not in codes(
        drawing(opening=[(10, 10, 30, 40), (10, 10, 30.5, 40)], wall=[(0, 0, 99, 60)])
    )


@pytest.mark.parametrize(
    "smaller",
    [
        (10.992, 20.5, 40.5, 50.5),
        (11.008, 20.5, 40.5, 50.5),
        (11, 20.492, 40.5, 50.5),
        (11, 20.508, 40.5, 50.5),
        (10.992, 20.492, 40.5, 50.5),
        (11.008, 20.508, 40.5, 50.5),
    ],
)
@pytest.mark.parametrize("shift", [(0, 0), (-0.004, 0), (0, 0.496), (-0.004, 0.496)])
def test_a_twin_is_found_whatever_whole_inch_lies_between_the_two(smaller, shift):
    #  the larger begins at (11, 20.5); its twin a hair to each side; both are shifted so that
    #  a whole inch lies between
    def at(x0, y0, x1, y1):
        return x0 + shift[0], y0 + shift[1], x1 + shift[0], y1 + shift[1]

    both = [at(11, 20.5, 40.5, 50.5), at(*smaller)]
    assert codes(drawing(wall=[(0, 0, 99, 60)], window=both)) == ["DOUBLED_OUTLINE"]


def test_of_twins_the_one_whose_layer_says_what_it_is_stays_though_pointed_at_first():
    one = drawing(wall=[(0, 0, 99, 60)], opening=[(10, 10, 30, 40)], vent=[(10, 10, 30, 40)])
    shapes = tuple(dataclasses.replace(s, picked=s.layer == "OPENING") for s in one.shapes)
    (wall,) = walls_of(dataclasses.replace(one, shapes=shapes))
    assert [(o.kind, o.handles) for o in wall.openings] == [("vent", ("VENT1",))]


def test_an_outline_without_area_is_left_out():
    notice = the_notice(drawing(wall=[(0, 0, 99, 60), [(5, 5), (50, 5), (30, 5)]]), "NO_AREA")
    assert notice.handle == "WALL2"


def test_walls_that_touch_do_not_overlap():
    assert codes(drawing(wall=[(0, 0, 60, 90), (60, 0, 100, 70)])) == []


def test_walls_that_overlap_are_told_with_the_common_area():
    #  0......60
    #      48......100      common: 12 x 72 = 864 sq in = 6 sq ft
    notice = the_notice(drawing(wall=[(0, 0, 60, 90), (48, 0, 100, 72)]), "WALLS_OVERLAP")
    assert "6.00 sq ft" in say(notice.message)
    assert notice.at_in == (54, 36)


def test_a_wall_that_overlaps_two_others_is_told_in_one_line_that_names_all():
    #  W1 0..60 and W2 48..150: 12 x 72 in; W3 140..200 over W2: 10 x 36 in;
    #  W4 145..195, 20..100 high, over W2 5 x 52 in and over W3 50 x 16 in
    walls = [(0, 0, 60, 90), (48, 0, 150, 72), (140, 0, 200, 36), (145, 20, 195, 100)]
    told = [say(n.message) for n in recognise([drawing(wall=walls)], JOB).notices]
    assert told == [
        "W2 overlaps W1 by 6.00 sq ft",
        "W3 overlaps W2 by 2.50 sq ft",
        "W4 overlaps W2 by 1.81 sq ft, W3 by 5.56 sq ft",
    ]


# A wall of 100 x 60 with an outline of 30 x 20 inside.
#   .-----------------.
#   |      .----.     |
#   |      |    |     |
#   |      '----'     |
#   '-----------------'
NESTED = drawing(wall=[(0, 0, 100, 60), (40, 20, 70, 40)])


def test_a_wall_inside_a_wall_is_left_out_and_told_by_default():
    assert only_wall(NESTED).region.area == 6000
    notice = the_notice(NESTED, "NESTED_WALL")
    assert (notice.handle, notice.at_in, notice.level) == ("WALL2", (55, 30), "warning")


@pytest.mark.parametrize(
    ("setting", "areas"), [("hole", [5400]), ("separate", [5400, 600]), ("ignore", [6000])]
)
def test_a_wall_inside_a_wall_is_what_the_job_says(setting, areas):
    asked = job(recognise__nested_walls=setting)
    assert [w.region.area for w in walls_of(NESTED, job=asked)] == pytest.approx(areas)
    assert not [
        n for n in recognise([NESTED], asked).notices if n.level == "warning"
    ]  # it was asked for


def test_a_separate_wall_has_openings_of_its_own_and_the_outer_one_none_of_them():
    #  opening (50, 24, 60, 34) lies in the inner wall alone
    inner = drawing(wall=[(0, 0, 100, 60), (40, 20, 70, 40)], opening=[(50, 24, 60, 34)])
    outer, separate = walls_of(inner, job=job(recognise__nested_walls="separate"))
    assert outer.openings == ()
    assert [o.region.area for o in separate.openings] == [100]


def test_a_pier_inside_a_hole_is_a_wall_again_and_a_knob_is_none():
    #  a hole of 30 x 40 with a pier of 10 x 20 and a knob of 2 x 2 in it
    nested = [(0, 0, 100, 60), (40, 10, 70, 50), (45, 15, 55, 35), (60, 30, 62, 32)]
    asked = job(recognise__nested_walls="hole")
    walls = walls_of(drawing(wall=nested), job=asked)
    assert [w.region.area for w in walls] == pytest.approx([4800, 200])
    told = [n for n in recognise([drawing(wall=nested)], asked).notices if n.handle == "WALL4"]
    assert [n.code for n in told] == ["NESTED_WALL_ASKED"]


@pytest.mark.parametrize(("right", "code"), [(100.004, "NESTED_WALL"), (100.5, "WALLS_OVERLAP")])
def test_a_wall_that_pokes_out_by_less_than_a_line_is_nested(right, code):
    assert codes(drawing(wall=[(0, 0, 100, 60), (40, 20, right, 40)])) == [code]


def test_an_outline_whose_points_all_lie_at_one_place_has_no_area():
    assert codes(drawing(wall=[(0, 0, 99, 60), [(5, 5), (5, 5), (5, 5)]])) == ["NO_AREA"]


def test_walls_three_deep_are_each_taken_out_of_the_next():
    three = drawing(wall=[(0, 0, 100, 60), (40, 20, 70, 40), (45, 25, 55, 35)])
    found = walls_of(three, job=job(recognise__nested_walls="separate"))
    assert [w.region.area for w in found] == pytest.approx([5400, 500, 100])


def test_an_outline_thinner_than_drawing_tolerance_is_none_and_lies_in_no_wall():
    """A strip of 3 in x 0.01 in far from the wall: without area, and not told to be nested in
    it."""
    told = [
        n.code
        for n in recognise([drawing(wall=[(0, 0, 200, 96), (300, 0, 303, 0.01)])], JOB).notices
    ]
    assert told == ["NO_AREA"]
