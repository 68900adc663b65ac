"""What each click makes of the marks, on one wall worked by hand.

y 100 +--------------------------------+
      |                                |
   80 |      +-----+      70 +----+    |
      |      |     |         |    |    |
   30 |      |     |      40 +----+    |
    2 |      +-----+                   |
    0 +--------------------------------+
      0      50    90       150 180    300
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.page.edits import EditError, edited, unit_of
from dxf2veneer.page.fitting import fitting_kind
from dxf2veneer.page.history import History
from dxf2veneer.page.marks import Mark, Marks, Unit, corners_of


def box(x0, y0, x1, y1):
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


WALL = Mark(1, "wall", "Front", corners_of(box(0, 0, 300, 100)))
WINDOW = Mark(2, "window", "", corners_of(box(150, 40, 180, 70)))
MARKS = Marks((WALL, WINDOW), Unit("in"))


def kinds(marks):
    return [(m.kind, m.polygon.bounds) for m in marks.marks]


def make(kind, outline, marks=MARKS):
    return edited(marks, {"do": "make", "kind": kind, "outline": outline})


def test_what_fits_in_a_wall_and_stands_on_its_base_is_a_door_down_to_the_base():
    # 2 is under 6 % of 78; no panel fits under the leaf
    made = make("fits", box(50, 2, 90, 80))
    assert kinds(made)[-1] == ("door", (50, 0, 90, 80))


def test_what_fits_higher_up_is_a_window_and_outside_of_walls_a_wall():
    assert kinds(make("fits", box(50, 30, 90, 80)))[-1] == ("window", (50, 30, 90, 80))
    assert kinds(make("fits", box(400, 0, 700, 90)))[-1] == ("wall", (400, 0, 700, 90))


@pytest.mark.parametrize(
    ("outline", "kind"),
    [
        (box(100, 100, 200, 160), "part"),  # lower than the wall below: a gable, a dormer
        (box(100, 100, 200, 210), "wall"),  # higher: a storey on a plinth
        (box(300, 0, 340, 100), "part"),  # a strip along its side
    ],
)
def test_what_stands_on_a_wall_is_a_part_of_it_unless_it_is_higher(outline, kind):
    bare = MARKS.having([WALL])
    assert fitting_kind(bare, corners_of(outline)) == kind


def test_most_of_a_wall_is_no_opening_of_it():
    assert kinds(make("fits", box(0, 0, 280, 90)))[-1][0] == "wall"


def test_a_kind_that_was_chosen_wins_over_what_fits():
    assert kinds(make("vent", box(50, 30, 90, 80)))[-1][0] == "vent"


def test_the_frame_takes_the_place_of_the_pane_inside_it():
    made = make("window", box(148, 38, 182, 72))
    assert kinds(made) == [("wall", (0, 0, 300, 100)), ("window", (148, 38, 182, 72))]


def test_a_wall_pointed_at_again_keeps_its_name():
    made = make("wall", box(0, 0, 300, 101))
    assert [(m.kind, m.name) for m in made.marks] == [("window", ""), ("wall", "Front")]


def test_nothing_takes_out_the_opening_there_and_leaves_the_wall():
    assert kinds(make("nothing", box(150, 40, 180, 70))) == [("wall", (0, 0, 300, 100))]


def test_nothing_on_the_wall_s_own_outline_takes_the_wall_and_what_is_in_it():
    assert kinds(make("nothing", box(0, 0, 300, 100))) == []


def test_with_a_wall_go_the_openings_in_it_alone():
    other = Mark(3, "window", "", corners_of(box(420, 30, 440, 60)))
    marks = MARKS.having([*MARKS.marks, other])
    assert edited(marks, {"do": "drop", "mark": 1}).marks == (other,)


def test_a_name_holds_no_equals_sign_which_parts_it_from_the_points():
    renamed = edited(MARKS, {"do": "rename", "mark": 1, "name": " North = A \n wing "})
    assert renamed.walls[0].name == "North A wing"


@pytest.mark.parametrize(
    ("drawn", "length", "unit"),
    [
        (36.0, "3'-0\"", Unit("in")),
        (914.0, "3'-0\"", Unit("mm")),  # 914.4 mm is 3 ft exactly (1 in = 25.4 mm, NIST SP 811)
        (3.0, "3'", Unit("ft")),
        (2.1, "2100 mm", Unit("m")),
        (0.75, "3'-0\"", Unit("in", 48.0)),  # 36 in drawn as 3/4 in: 1/4" = 1'-0"
    ],
)
def test_two_points_and_a_length_give_the_unit(drawn, length, unit):
    assert unit_of(drawn, length) == unit


def test_two_points_in_one_place_give_no_unit():
    with pytest.raises(EditError):
        edited(MARKS, {"do": "unit", "points": [[1, 1], [1, 1]], "length": "3'"})


@pytest.mark.parametrize(
    "edit",
    [
        {},
        {"do": "fly"},
        {"do": "drop", "mark": 99},
        {"do": "drop"},
        {"do": "change", "mark": 2, "kind": "roof"},
        {"do": "make", "kind": "door", "outline": [[0, 0], [1, 1]]},
        {"do": "make", "kind": "door", "outline": [[0, 0], [10, 10], [10, 0], [0, 10]]},
        {"do": "make", "kind": "door", "outline": [[0, 0], [1e300, 0], [0, 1]]},
        {"do": "make", "kind": "door", "outline": [["a", 0], [1, 0], [0, 1]]},
        {"do": "make", "kind": "door", "outline": "abc"},
        {"do": "unit", "unit": "furlong"},
        {"do": "unit", "points": [[0, 0], [1, 0]], "length": "far"},
    ],
    ids=str,
)
def test_what_makes_no_sense_is_refused_in_one_line(edit):
    with pytest.raises(TakeoffError):
        edited(MARKS, edit)


STEPS = st.lists(st.integers(0, 9), max_size=12)


@given(STEPS)
def test_undoing_every_step_gives_the_beginning_and_making_all_again_the_end(states):
    history = History(-1)
    for state in states:
        history = history.then(state)
    end = history.now
    steps = len(history.before)
    for _ in range(steps):
        history = history.undone()
    assert (history.now, history.undone()) == (-1, history)
    for _ in range(steps):
        history = history.redone()
    assert (history.now, history.redone()) == (end, history)


def test_a_new_step_forgets_what_was_taken_back():
    history = History("a").then("b").then("c").undone().then("d")
    assert (history.redone().now, history.undone().now) == ("d", "b")


def mark(kind, at, marks=MARKS):
    return edited(marks, {"do": "line", "kind": kind, "at": list(at), "reach": 4})


def test_a_point_near_an_upright_edge_marks_the_whole_edge():
    assert [(m.kind, m.points) for m in mark("outside", (298, 60)).lines] == [
        ("outside", ((300, 0), (300, 100)))
    ]


def test_a_cap_is_a_level_side_and_a_level_line_runs_across_the_wall():
    assert mark("cap", (120, 98)).lines[0].points == ((0, 100), (300, 100))
    assert mark("level", (120, 55)).lines[0].points == ((0, 55), (300, 55))


def test_another_kind_takes_the_place_of_the_first_and_nothing_takes_it_out():
    marks = mark("inside", (298, 60), mark("outside", (298, 60)))
    assert [m.kind for m in marks.lines] == ["inside"]
    assert mark("nothing", (298, 60), marks).lines == ()


def test_a_tag_is_one_word_in_capitals():
    marks = mark("outside", (298, 60))
    tagged = edited(marks, {"do": "tag", "mark": marks.lines[0].id, "tag": " a = 1 "})
    assert tagged.lines[0].tag == "A1"


@pytest.mark.parametrize(("kind", "at"), [("outside", (150, 50)), ("level", (500, 50))])
def test_far_from_edges_nothing_is_marked(kind, at):
    with pytest.raises(TakeoffError):
        mark(kind, at)


def test_a_part_beside_a_wall_is_added_to_it_and_its_name_stays():
    # 300 x 100, and a wing of 80 x 60 to the right of it
    (wall, _) = make("part", box(300, 0, 380, 60)).marks
    assert (wall.name, wall.polygon.area) == ("Front", pytest.approx(300 * 100 + 80 * 60))
    assert len(wall.outline) == 6


def test_a_part_at_the_rim_that_is_nothing_is_cut_off():
    # a roof over the whole top, 20 high
    (wall, window) = make("nothing", box(0, 80, 300, 100)).marks
    assert wall.polygon.bounds == (0, 0, 300, 80)
    assert window == WINDOW


def test_what_would_leave_a_hole_in_a_wall_is_refused():
    with pytest.raises(TakeoffError):
        make("nothing", box(100, 20, 120, 30))


def test_a_part_with_no_wall_beside_it_is_refused():
    with pytest.raises(TakeoffError):
        make("part", box(500, 0, 600, 60))


def test_what_is_marked_already_stays_what_it_is_by_what_fits():
    vent = edited(MARKS, {"do": "change", "mark": 2, "kind": "vent"})
    assert make("fits", box(150, 40, 180, 70), vent).marks[-1].kind == "vent"


def bound(how, line, at, marks=MARKS):
    return edited(marks, {"do": "bound", "how": how, "line": line, "at": at})


def test_a_line_in_a_wall_ends_it_or_parts_it_along_the_whole_height():
    # upright at x = 100 from 20 to 60, run on to base and top; the window lies to its right
    line = [[100, 20], [100, 60]]
    (window, wall) = bound("end", line, [100, 40]).marks
    assert (window, wall.polygon.bounds, wall.name) == (WINDOW, (100, 0, 300, 100), "Front")
    parted = bound("part", line, [100, 40]).walls
    assert [w.polygon.bounds for w in parted] == [(100, 0, 300, 100), (0, 0, 100, 100)]
    # a third of the wall is a wall of its own, a tenth is not
    assert len(bound("fits", line, [100, 40]).walls) == 2
    assert len(bound("fits", [[30, 20], [30, 60]], [30, 40]).walls) == 1


def test_a_line_beside_a_wall_takes_the_side_next_to_it():
    (wall, _) = bound("end", [[340, 10], [340, 50]], [340, 30]).marks
    assert wall.polygon.bounds == (0, 0, 340, 100)
    with pytest.raises(TakeoffError):
        bound("part", [[340, 10], [340, 50]], [340, 30])


def test_a_new_wall_in_a_wall_takes_its_share_of_it():
    walls = make("wall", box(200, 0, 300, 100)).walls
    assert [w.polygon.bounds for w in walls] == [(0, 0, 200, 100), (200, 0, 300, 100)]


def test_what_fits_beside_a_wall_is_a_part_of_it():
    # a gable of 300 x 60 over the wall: 300 of its border of about 623 lie on the wall
    (wall, _) = make("fits", [[0, 100], [300, 100], [150, 160]]).marks
    assert wall.polygon.area == pytest.approx(300 * 100 + 300 * 60 / 2)


def test_a_view_is_cropped_with_the_marks_in_it_and_others_stay():
    other = Mark(3, "wall", "", corners_of(box(420, 0, 600, 90)))
    marks = MARKS.having([*MARKS.marks, other])
    views = [[-10, -10, 310, 110], [410, -10, 610, 100]]
    after = edited(marks, {"do": "crop", "box": [430, 0, 610, 100], "views": views})
    assert [w.box for w in after.windows] == [(-10, -10, 310, 110), (430, 0, 610, 100)]
    assert after.marks == marks.marks
    after = edited(marks, {"do": "crop", "box": [550, 0, 610, 100], "views": views})
    assert after.marks == MARKS.marks
    assert edited(after, {"do": "crop", "box": None}).windows == ()
