"""Names, caps and level lines."""

import dataclasses

import pytest
from builders import codes, drawing, line, only_wall, walls_of

from dxf2veneer.config.job_values import Window
from dxf2veneer.geometry import Path

WALL = (0, 0, 200, 100)


def named(*texts, **outlines):
    return only_wall(drawing(wall=[WALL], texts=[("name", t, at) for t, at in texts], **outlines))


def test_a_text_inside_names_the_wall():
    assert named(("SOUTH  FRONT ", (20, 20))).name == "SOUTH FRONT"


def test_a_text_inside_an_opening_names_the_opening_where_another_names_the_wall():
    wall = named(("FRONT", (5, 5)), ("D1", (40, 20)), door=[(30, 0, 60, 80)])
    assert (wall.name, wall.openings[0].name) == ("FRONT", "D1")


def test_a_text_inside_an_opening_names_the_wall_where_it_is_the_only_one():
    wall = named(("FRONT", (40, 20)), door=[(30, 0, 60, 80)])
    assert (wall.name, wall.openings[0].name) == ("FRONT", "")


def test_of_several_names_the_lowest_on_the_left_is_used():
    several = drawing(
        wall=[WALL],
        texts=[("name", "UPPER", (5, 50)), ("name", "RIGHT", (90, 5)), ("name", "LEFT", (5, 5))],
    )
    assert only_wall(several).name == "LEFT"
    assert codes(several) == ["NAMES_SEVERAL"]


def test_a_name_outside_every_wall_is_told():
    assert codes(
        drawing(wall=[WALL], texts=[("name", "FRONT", (5, 5)), ("name", "TITLE", (5, -20))])
    ) == ["NAME_UNUSED"]


def test_texts_on_other_layers_name_nothing():
    other = drawing(wall=[WALL], texts=[("notes", "see sheet 4", (5, 5))])
    assert only_wall(other).name == ""
    assert codes(other) == []


# ---------------------------------------------------------------------- caps


def caps(wall=WALL, cap=(), **outlines):
    one = drawing(wall=[wall], cap=[line(*c) for c in cap], **outlines)
    return [(c.x0, c.x1, c.y) for c in only_wall(one).caps]


def test_a_cap_on_the_top_edge():
    assert caps(cap=[(0, 100, 200, 100)]) == [(0, 200, 100)]


@pytest.mark.parametrize("y", [99, 99.2, 100.8, 101])
def test_a_cap_near_the_top_edge_is_the_top_edge(y):
    assert caps(cap=[(0, y, 200, y)]) == [(0, 200, 100)]


def test_a_cap_longer_than_the_wall_is_cut_to_it():
    assert caps(cap=[(-10, 100, 150, 100)]) == [(0, 150, 100)]


def test_an_opening_interrupts_a_cap():
    #  ======.    .=====     the window stands from 60 to 90 and is open to the top
    #  |     |    |    |
    assert caps(cap=[(0, 100, 200, 100)], opening=[(60, 50, 90, 100)]) == [
        (0, 60, 100),
        (90, 200, 100),
    ]


def test_a_cap_part_way_up_passes_below_a_window():
    assert caps(cap=[(0, 40, 200, 40)], opening=[(60, 40, 90, 80)]) == [(0, 200, 40)]


def test_a_cap_line_in_pieces_is_one_cap_where_they_overlap():
    assert caps(cap=[(0, 100, 120, 100), (110, 100, 200, 100)]) == [(0, 200, 100)]


def test_a_cap_over_a_stepped_top():
    #         .-----.       tops 70 (0..50) and 100 (50..200), drawn as one polyline with its riser
    #  .------'     |
    #  '------------'
    stepped = [(0, 0), (200, 0), (200, 100), (50, 100), (50, 70), (0, 70)]
    assert caps(wall=stepped, cap=[(0, 70, 50, 70), (50, 100, 200, 100)]) == [
        (0, 50, 70),
        (50, 200, 100),
    ]


@pytest.mark.parametrize(
    "where",
    [
        line(0, 140, 200, 140),
        line(10, 10, 10, 60),
        line(10, 10, 150, 60),
        Path(((40, 50, 0.5), (90, 50, 0)), closed=False),
    ],
)
def test_a_cap_line_outside_or_upright_or_sloped_or_bent_is_told(where):
    assert codes(drawing(wall=[WALL], cap=[where])) == ["CAP_MARK_UNUSED"]


def test_every_level_stretch_of_a_cap_line_is_a_cap():
    #  ===.      a line over both tops of a stepped wall with its riser between them
    #     '===
    stepped = [(0, 0), (200, 0), (200, 70), (50, 70), (50, 100), (0, 100)]
    over = Path.polygon([(0, 100), (50, 100), (50, 70), (200, 70)], closed=False)
    wall = only_wall(drawing(wall=[stepped], cap=[over]))
    assert [(c.x0, c.x1, c.y, c.handle) for c in wall.caps] == [
        (50, 200, 70, "CAP1"),
        (0, 50, 100, "CAP1"),
    ]


def test_a_cap_line_over_two_walls_caps_both():
    first, second = walls_of(
        drawing(wall=[(0, 0, 60, 90), (80, 0, 150, 90)], cap=[line(-5, 90, 160, 90)])
    )
    assert [[(c.x0, c.x1) for c in w.caps] for w in (first, second)] == [[(0, 60)], [(80, 150)]]


def test_caps_side_by_side_or_one_above_the_other_stay_two():
    assert caps(cap=[(0, 100, 90, 100), (90, 100, 200, 100)]) == [(0, 90, 100), (90, 200, 100)]
    assert caps(cap=[(0, 60, 90, 60), (20, 61, 80, 61)]) == [(0, 90, 60), (20, 80, 61)]


# -------------------------------------------------------------------- levels


def test_a_level_line_belongs_to_every_wall_it_crosses():
    one = drawing(
        wall=[(0, 0, 60, 90), (80, 6, 150, 90), (170, 0, 200, 90)], level=[line(-5, 12, 155, 12)]
    )
    assert [w.level_y for w in walls_of(one)] == [12, 12, None]


def test_the_lowest_of_several_level_lines_counts():
    assert (
        only_wall(drawing(wall=[WALL], level=[line(0, 40, 200, 40), line(0, 12, 200, 12)])).level_y
        == 12
    )


def test_a_level_line_that_slopes_or_crosses_nothing_is_told():
    one = drawing(wall=[WALL], level=[line(0, 10, 200, 30), line(300, 10, 400, 10)])
    assert only_wall(one).level_y is None
    assert codes(one) == ["LEVEL_UNUSED", "LEVEL_UNUSED"]


def test_the_circle_of_a_level_mark_is_a_symbol_and_no_line():
    #   .-.                    a target: a circle with a cross in it, right of the wall, from which
    #  (-+-)-------  +12       the level line runs through the wall
    #   '-'
    circle = Path.circle((220, 12), 4)
    cross = [line(216, 12, 224, 12), line(220, 8, 220, 16)]
    one = drawing(wall=[WALL], level=[circle, *cross, line(-5, 12, 216, 12)])
    assert only_wall(one).level_y == 12
    assert codes(one) == []


def test_a_level_line_may_lean_a_little():
    assert only_wall(drawing(wall=[WALL], level=[line(0, 10, 200, 11.5)])).level_y == 10.75
    assert codes(drawing(wall=[WALL], level=[line(0, 10, 200, 12.5)])) == ["LEVEL_UNUSED"]


def test_a_level_line_belongs_to_a_wall_from_half_its_height_below_it_to_its_top():
    heights = [
        only_wall(drawing(wall=[WALL], level=[line(0, y, 200, y)])).level_y
        for y in (-50.5, -50, 100, 100.5)
    ]
    assert heights == [None, -50, 100, None]
    for beside in (
        line(-90, 10, 0, 10),
        line(200, 10, 290, 10),
    ):  # they end or begin where the wall does
        assert codes(drawing(wall=[WALL], level=[beside])) == ["LEVEL_UNUSED"]


def test_caps_drawn_in_any_order_stand_from_left_to_right_and_upward():
    assert caps(cap=[(110, 100, 200, 100), (0, 100, 120, 100)]) == [(0, 200, 100)]
    assert caps(cap=[(0, 100, 200, 100), (20, 100, 40, 100)]) == [(0, 200, 100)]
    assert caps(cap=[(150, 40, 200, 40), (0, 100, 90, 100), (0, 40, 50, 40)]) == [
        (0, 50, 40),
        (150, 200, 40),
        (0, 90, 100),
    ]


def test_a_cap_snaps_to_the_top_it_lies_over_and_to_no_nearer_one_beside_it():
    #  .-----.________    tops 100.6 (50..200) and 100 (0..50)
    stepped = [(0, 0), (200, 0), (200, 100.6), (50, 100.6), (50, 100), (0, 100)]
    assert caps(wall=stepped, cap=[(0, 100.4, 50, 100.4)]) == [(0, 50, 100)]
    assert caps(wall=stepped, cap=[(50, 100.2, 200, 100.2)]) == [(50, 200, 100.6)]


def test_a_cap_snaps_to_the_nearer_of_two_tops():
    stepped = [(0, 0), (200, 0), (200, 100.6), (50, 100.6), (50, 100), (0, 100)]
    assert caps(wall=stepped, cap=[(0, 100.5, 200, 100.5)]) == [(50, 200, 100.6)]


def test_one_in_a_hundred_is_level():
    assert caps(cap=[(0, 99, 200, 101)]) == [(0, 200, 100)]
    assert only_wall(drawing(wall=[WALL], level=[line(0, 10, 200, 12)])).level_y == 11
    assert codes(drawing(wall=[WALL], level=[line(0, 10, 200, 12)])) == []


@pytest.mark.parametrize(
    ("box", "name"),
    [
        ((0, 0, 100, 50), "NORTH"),
        ((100, 50, 300, 300), "NORTH"),
        ((0, 0, 99, 80), ""),
        ((101, 0, 300, 80), ""),
        ((0, 0, 300, 49), ""),
        ((0, 51, 300, 80), ""),
    ],
)
def test_a_wall_without_a_text_has_the_name_of_the_window_that_holds_its_middle(box, name):
    one = dataclasses.replace(drawing(wall=[WALL]), windows=(Window("NORTH", box),))
    assert only_wall(one).name == name


def test_of_windows_that_overlap_the_first_gives_its_name():
    one = dataclasses.replace(
        drawing(wall=[WALL]),
        windows=(
            Window("FAR", (500, 0, 900, 300)),
            Window("NORTH", (0, 0, 300, 300)),
            Window("ALL", (0, 0, 900, 300)),
        ),
    )
    assert only_wall(one).name == "NORTH"


def test_a_text_names_the_wall_before_the_window_does():
    one = dataclasses.replace(
        drawing(wall=[WALL], texts=[("name", "FRONT", (5, 5))]),
        windows=(Window("NORTH", (0, 0, 300, 300)),),
    )
    assert only_wall(one).name == "FRONT"


def test_two_texts_in_openings_alone_name_the_wall_and_the_second_its_opening():
    #  [D1] [D2]    no text beside the doors: the first names the wall, and its own door has none
    wall = named(("D2", (110, 20)), ("D1", (40, 20)), door=[(30, 0, 60, 80), (100, 0, 130, 80)])
    assert (wall.name, [o.name for o in wall.openings]) == ("D1", ["", "D2"])
