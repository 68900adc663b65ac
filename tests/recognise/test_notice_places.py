"""Every notice of the recogniser says which entity it is about and where that is."""

from __future__ import annotations

import pytest
from builders import JOB, codes, drawing, job, line

from dxf2veneer.geometry import Path
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

WALL = (0, 0, 200, 100)
OPEN = Path.polygon([(300, 0), (400, 0), (400, 90), (300, 80)], closed=False)
BOW = [(300, 0), (400, 100), (400, 0), (300, 100)]  # crosses itself in the middle, (350, 50)
PLACES = {
    # code: (outlines beside WALL, entity, place)
    "OPEN_OUTLINE": ({"wall": [WALL, OPEN]}, "WALL2", (300, 80)),  # its last end
    "SELF_CROSSING": ({"wall": [WALL, BOW]}, "WALL2", (350, 50)),
    "NO_AREA": ({"wall": [WALL, [(300, 0), (400, 40), (300, 0.0001)]]}, "WALL2", (350, 20)),
    "DOUBLED_OUTLINE": ({"wall": [WALL, WALL]}, "WALL2", (100, 50)),
    "NESTED_WALL": ({"wall": [WALL, (20, 30, 60, 50)]}, "WALL2", (40, 40)),
    "WALLS_OVERLAP": ({"wall": [WALL, (190, 20, 300, 60)]}, "WALL2", (195, 40)),
    "OPENING_OUTSIDE_WALL": ({"window": [(300, 10, 340, 30)]}, "WINDOW1", (320, 20)),
    "OPENING_PARTLY_OUTSIDE": ({"window": [(180, 10, 240, 30)]}, "WINDOW1", (210, 20)),
    "OPENING_SPLIT": (
        {"wall": [WALL, (200, 0, 260, 100)], "window": [(180, 10, 240, 30)]},
        "WINDOW1",
        (210, 20),
    ),
    "OPENINGS_OVERLAP": ({"window": [(20, 20, 60, 60), (50, 30, 70, 50)]}, "WINDOW2", (60, 40)),
    "OPENING_NESTED": ({"window": [(20, 20, 60, 60), (30, 30, 40, 50)]}, "WINDOW2", (35, 40)),
    "DOOR_ASSUMED": ({"opening": [(20, 0, 60, 80)]}, "OPENING1", (40, 40)),
    "CORNER_MARK_UNUSED": ({"outside_corner": [line(50, 20, 50, 70)]}, "OUTSIDE_CORNER1", (50, 45)),
    "CORNER_UNPAIRED": ({"outside_corner": [line(0, 0, 0, 100)]}, "OUTSIDE_CORNER1", (0, 50)),
    "CAP_MARK_UNUSED": ({"cap": [line(20, 140, 80, 140)]}, "CAP1", (50, 140)),
    "LEVEL_UNUSED": ({"level": [line(300, 10, 400, 10)]}, "LEVEL1", (350, 10)),
}

WORDS = {
    "OPEN_OUTLINE": "wall outline is open: its ends are 6'-8\" apart",
    "SELF_CROSSING": "wall outline crosses itself",
    "NO_AREA": "wall outline encloses no area",
    "DOUBLED_OUTLINE": "wall outline is the same as WALL1",
    "NESTED_WALL": "wall outline lies inside wall WALL1; it was left out",
    "WALLS_OVERLAP": "W2 overlaps W1 by 2.78 sq ft",  # 10 x 40 = 400 sq in
    # 40 x 20 = 800 sq in
    "OPENING_OUTSIDE_WALL": "opening of 5.56 sq ft lies in no wall and was not counted",
    "OPENING_PARTLY_OUTSIDE": "5.56 sq ft of the opening lie outside W1 and were not counted",
    "OPENING_SPLIT": "opening lies across W1, W2; it counts once, its area in each",
    "OPENINGS_OVERLAP": "opening outline overlaps opening WINDOW1 in W1",
    "OPENING_NESTED": "opening outline lies inside opening WINDOW1 in W1",
    "DOOR_ASSUMED": "opening in W1 touches the base and was taken for a door",
    "CORNER_MARK_UNUSED": "outside corner mark lies at no upright edge of a wall",
    "CORNER_UNPAIRED": "outside corner C1 at the left edge of W1 has no partner on another wall; "
    "it counts 8'-4\" by itself",
    "CAP_MARK_UNUSED": "cap line marks no level top of veneer in any wall",
    "LEVEL_UNUSED": "level line is not level or crosses no wall",
}


@pytest.mark.parametrize("code", PLACES)
def test_a_notice_names_its_entity_and_place(code):
    outlines, handle, place = PLACES[code]
    found = recognise([drawing(**{"wall": [WALL], **outlines})], JOB)
    (told,) = [n for n in found.notices if n.code == code]
    assert (told.handle, told.at_in) == (handle, pytest.approx(place))
    assert (told.drawing, say(told.message)) == (0, WORDS[code])
    assert told.layer == (None if code == "CORNER_UNPAIRED" else handle.rstrip("12"))


def test_texts_are_told_where_they_stand():
    one = drawing(
        wall=[WALL],
        texts=[("name", "A", (20, 30)), ("name", "B", (40, 50)), ("name", "C", (300, 5))],
    )
    found = recognise([one], JOB).notices
    assert {n.code: (n.layer, n.handle, n.at_in) for n in found} == {
        "NAMES_SEVERAL": ("NAME", "T1", (20, 30)),
        "NAME_UNUSED": ("NAME", "T3", (300, 5)),
    }
    assert [say(n.message) for n in found] == [
        "W1 holds several names: A, B; the first was used",
        "text 'C' lies in no wall",
    ]


def test_corners_that_do_not_fit_are_told_at_their_first_edge():
    walls, marks = [(0, 0, 60, 90), (100, 0, 180, 70)], [line(60, 0, 60, 90), line(100, 0, 100, 70)]
    one = drawing(
        wall=walls,
        outside_corner=marks,
        texts=[("outside_corner", "A", (62, 40)), ("outside_corner", "A", (97, 40))],
    )
    (differ,) = recognise([one], JOB).notices
    assert (differ.code, differ.handle, differ.at_in) == (
        "CORNER_HEIGHTS_DIFFER",
        "OUTSIDE_CORNER1",
        (60, 45),
    )
    rights = drawing(
        wall=walls,
        outside_corner=[line(60, 0, 60, 90), line(180, 0, 180, 70)],
        texts=[("outside_corner", "A", (62, 40)), ("outside_corner", "A", (183, 40))],
    )
    clash = next(n for n in recognise([rights], JOB).notices if n.code == "CORNER_TAG_CLASH")
    assert (clash.handle, clash.at_in) == ("OUTSIDE_CORNER1", (60, 0))
    assert "W1 right, W2 right" in say(clash.message)


def test_two_unlike_heights_are_told_wall_by_wall_right_edges_first():
    walls, marks = [(0, 0, 60, 90), (100, 0, 180, 70)], [line(60, 0, 60, 90), line(100, 0, 100, 70)]
    one = drawing(
        wall=walls,
        outside_corner=marks,
        texts=[("outside_corner", "A", (62, 40)), ("outside_corner", "A", (97, 40))],
    )
    (differ,) = recognise([one], JOB).notices
    assert (
        say(differ.message)
        == "the edges of outside corner C1 differ in height: W1 7'-6\" and W2 5'-10\""
    )


def test_a_tag_that_clashes_is_told_with_its_edges():
    walls = [(0, 0, 60, 90), (100, 0, 180, 70)]
    rights = drawing(
        wall=walls,
        inside_corner=[line(60, 0, 60, 90), line(180, 0, 180, 70)],
        texts=[("inside_corner", "a", (62, 40)), ("inside_corner", "a", (183, 40))],
    )
    clash = next(n for n in recognise([rights], JOB).notices if n.code == "CORNER_TAG_CLASH")
    assert (
        say(clash.message) == "tag A stands at W1 right, W2 right, which is no one inside corner; "
        "each counts by itself"
    )


def test_a_drawing_without_a_wall_is_told_by_its_name():
    (told,) = recognise([drawing(file="plans/east.dxf")], JOB).notices
    assert (told.code, say(told.message), told.drawing) == (
        "NO_WALL",
        "east.dxf has no usable wall outline",
        0,
    )


def test_nested_walls_as_asked_are_told_but_do_not_warn():
    one = drawing(wall=[WALL, (20, 30, 60, 50)])
    for asked, words in (
        ("hole", "taken out as a hole"),
        ("separate", "a wall of its own"),
        ("ignore", "left out, as asked"),
    ):
        (told,) = recognise([one], job(recognise__nested_walls=asked)).notices
        assert (told.code, words in say(told.message)) == ("NESTED_WALL_ASKED", True)


def test_an_opening_on_a_plinth_narrower_than_itself_is_a_door():
    #     |      |          the base is at -10 but for a plinth 70..90 that rises to 2;
    #  ___|.----.|___   the opening 60..96 stands on it
    plinth = [(0, -10), (70, -10), (70, 2), (90, 2), (90, -10), (200, -10), (200, 100), (0, 100)]
    assert codes(drawing(wall=[plinth], opening=[(60, 2, 96, 80)])) == ["DOOR_ASSUMED"]
    assert codes(drawing(wall=[plinth], opening=[(120, 2, 156, 80)])) == []


@pytest.mark.parametrize(("mark", "edge"), [((99.5, 100.5), 100.0), ((99.2, 100.0), 100.0)])
def test_a_mark_that_leans_a_little_is_as_far_away_as_its_middle(mark, edge):
    #  a mark from (99.5, 0) to (100.5, 90): its middle is at the edge
    one = drawing(wall=[(0, 0, 100, 90)], outside_corner=[line(mark[0], 0, mark[1], 90)])
    (wall,) = recognise([one], job(recognise__edge_tolerance=0.45)).walls
    assert [(e.x, e.kind) for e in wall.edges if e.side == "right"] == [(edge, "outside")]
