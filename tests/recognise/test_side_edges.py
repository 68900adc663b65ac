"""Side edges of walls: what is an edge, which kind, and how marks split them."""

import pytest
from builders import codes, drawing, job, line, only_wall

from dxf2veneer.geometry import Path
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say


def edges(one, **settings):
    wall = only_wall(one, job(**settings))
    return [(e.side, e.x, e.y0, e.y1, e.kind) for e in wall.edges]


def test_a_rectangle_has_a_left_and_a_right_edge():
    assert edges(drawing(wall=[(10, 5, 90, 60)])) == [
        ("left", 10, 5, 60, "butt"),
        ("right", 90, 5, 60, "butt"),
    ]


def test_without_marks_the_job_says_how_edges_are_finished():
    assert [e[4] for e in edges(drawing(wall=[(10, 5, 90, 60)]), recognise__edge_kind="end")] == [
        "end",
        "end",
    ]


# The base steps up by 16 at x = 120; the top steps down by 30 at x = 50.
#  50,100 .----------.
#         |          |
#  .------'          |      right edge 16..100, left edges 0..70 (x = 0) and 70..100 (x = 50)
#  |           .-----'
#  '-----------'  riser 0..16 at x = 120
STEPPED = [(0, 0), (120, 0), (120, 16), (200, 16), (200, 100), (50, 100), (50, 70), (0, 70)]


def test_the_riser_of_a_stepped_base_is_plain_whatever_the_job_says():
    assert edges(drawing(wall=[STEPPED]), recognise__edge_kind="end") == [
        ("left", 0, 0, 70, "end"),
        ("left", 50, 70, 100, "end"),
        ("right", 120, 0, 16, "butt"),
        ("right", 200, 16, 100, "end"),
    ]


def test_a_marked_riser_is_what_its_mark_says():
    found = edges(drawing(wall=[STEPPED], outside_corner=[line(120, 0, 120, 16)]))
    assert ("right", 120, 0, 16, "outside") in found


def test_a_sloped_side_is_no_edge():
    #   /|      the left side leans 20 over 60: no corner piece stands there
    #  / |
    # '--'
    assert edges(drawing(wall=[[(0, 0), (80, 0), (80, 60), (20, 60)]])) == [
        ("right", 80, 0, 60, "butt")
    ]


def test_corners_in_the_middle_of_a_straight_side_do_not_divide_it():
    assert edges(drawing(wall=[[(0, 0), (80, 0), (80, 25), (80, 60), (0, 60), (0, 10)]])) == [
        ("left", 0, 0, 60, "butt"),
        ("right", 80, 0, 60, "butt"),
    ]


def test_marks_give_outside_and_inside_corners():
    marked = drawing(
        wall=[(0, 0, 80, 60)],
        outside_corner=[line(0, 0, 0, 60)],
        inside_corner=[line(80, 60, 80, 0)],
    )
    assert edges(marked) == [("left", 0, 0, 60, "outside"), ("right", 80, 0, 60, "inside")]
    (left, right) = only_wall(marked).edges
    assert (left.handle, right.handle) == ("OUTSIDE_CORNER1", "INSIDE_CORNER1")


def test_a_mark_along_part_of_an_edge_splits_it():
    #  right edge 0..60: plain 0..20, outside 20..45, plain 45..60
    marked = drawing(wall=[(0, 0, 80, 60)], outside_corner=[line(80, 20, 80, 45)])
    assert edges(marked)[1:] == [
        ("right", 80, 0, 20, "butt"),
        ("right", 80, 20, 45, "outside"),
        ("right", 80, 45, 60, "butt"),
    ]


def test_two_marks_along_one_edge():
    marked = drawing(
        wall=[(0, 0, 80, 60)],
        outside_corner=[line(80, 0, 80, 25)],
        inside_corner=[line(80, 25, 80, 60)],
    )
    assert edges(marked)[1:] == [("right", 80, 0, 25, "outside"), ("right", 80, 25, 60, "inside")]


def test_of_marks_that_overlap_the_lower_keeps_what_both_cover():
    #  right edge 0..60: inside 0..40 is the lower, of outside 30..60 the rest from 40 is left
    marked = drawing(
        wall=[(0, 0, 80, 60)],
        outside_corner=[line(80, 30, 80, 60)],
        inside_corner=[line(80, 0, 80, 40)],
    )
    assert edges(marked)[1:] == [("right", 80, 0, 40, "inside"), ("right", 80, 40, 60, "outside")]
    within = drawing(
        wall=[(0, 0, 80, 60)],
        outside_corner=[line(80, 0, 80, 60)],
        inside_corner=[line(80, 10, 80, 40)],
    )
    assert edges(within)[1:] == [("right", 80, 0, 60, "outside")]


def test_a_mark_over_two_edges_on_one_line_marks_both():
    #  .----.        right edges 0..40 and 60..90, both at x = 80
    #  |    <
    #  '----'
    notched = [(0, 0), (80, 0), (80, 40), (50, 50), (80, 60), (80, 90), (0, 90)]
    assert edges(drawing(wall=[notched], outside_corner=[line(80, 0, 80, 90)]))[1:] == [
        ("right", 80, 0, 40, "outside"),
        ("right", 80, 60, 90, "outside"),
    ]


@pytest.mark.parametrize(
    ("low", "high", "split"),
    [
        (1.0, 59.0, [(0, 60, "outside")]),
        (1.5, 58.5, [(0, 1.5, "butt"), (1.5, 58.5, "outside"), (58.5, 60, "butt")]),
    ],
)
def test_a_mark_that_ends_within_the_tolerance_of_the_edges_ends_is_as_long_as_the_edge(
    low, high, split
):
    marked = drawing(wall=[(0, 0, 80, 60)], outside_corner=[line(80, low, 80, high)])
    assert [e[2:] for e in edges(marked)[1:]] == split


def test_a_mark_may_end_short_of_the_edge_or_beyond_it_within_the_tolerance():
    marked = drawing(wall=[(0, 0, 80, 60)], outside_corner=[line(80, 0.75, 80, 63)])
    assert edges(marked)[1:] == [("right", 80, 0, 60, "outside")]


@pytest.mark.parametrize(
    ("away", "kind", "told"), [(0.9, "outside", []), (1.1, "butt", ["CORNER_MARK_UNUSED"])]
)
def test_a_mark_beside_its_edge_counts_within_the_tolerance(away, kind, told):
    marked = drawing(wall=[(0, 0, 80, 60)], outside_corner=[line(80 + away, 0, 80 + away, 60)])
    assert edges(marked)[1][4] == kind
    assert [c for c in codes(marked) if c != "CORNER_UNPAIRED"] == told


def test_a_mark_that_is_level_or_apart_is_told():
    marked = drawing(
        wall=[(0, 0, 80, 60)], inside_corner=[line(0, 60, 80, 60), line(80, 70, 80, 90)]
    )
    assert codes(marked) == ["CORNER_MARK_UNUSED", "CORNER_MARK_UNUSED"]


def test_an_arched_top_leaves_the_upright_sides():
    #   .-'''-.     segmental arch, chord 80, rise 10 (bulge = 2 x 10 / 80)
    #  |       |
    #  '-------'
    arched = Path(((0, 0, 0), (80, 0, 0), (80, 60, 0.25), (0, 60, 0)))
    assert edges(drawing(wall=[arched])) == [
        ("left", 0, 0, 60, "butt"),
        ("right", 80, 0, 60, "butt"),
    ]


def test_marks_of_a_bay_make_edges_to_mitre():
    #   right edge 0..60: bay corner 0..42, plain 42..60
    marked = drawing(
        wall=[(0, 0, 80, 60)], bay=[line(80, 0, 80, 42)], outside_corner=[line(0, 0, 0, 60)]
    )
    assert edges(marked) == [
        ("left", 0, 0, 60, "outside"),
        ("right", 80, 0, 42, "mitre"),
        ("right", 80, 42, 60, "butt"),
    ]


def test_a_bay_mark_away_from_every_edge_is_told():
    lost = drawing(wall=[(0, 0, 80, 60)], bay=[line(40, 0, 40, 60)])
    assert [say(n.message) for n in recognise([lost], job()).notices] == [
        "bay corner mark lies at no upright edge of a wall"
    ]
