"""Pointing at windows, walls and openings in a drawing of loose lines, in millimeters.

96 +------+--------+---------+      the front is 240 x 96, clad with boards every 16;
   |======|  door  |=========|      a window of 40 x 32 at (40, 32), a door of 36 x 76 at (150, 4),
   |==[]==|        |=========|      a floor line at y = 4 from side to side, and a rafter end above
 4 +------+--------+---------+
 0 +-------------------------+
"""

from __future__ import annotations

import ezdxf
import pytest
from drawings import job, new
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.drawing import DrawingError, list_faces
from dxf2veneer.wording import say

MM = 25.4
WINDOW = (40, 32, 80, 64)
DOOR = (150, 4, 186, 80)


def outline(space, x0, y0, x1, y1):
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
        space.add_line((ax * MM, ay * MM), (bx * MM, by * MM), dxfattribs={"layer": "FRONT"})


@pytest.fixture
def front(tmp_path):
    document = new(units=4)
    space = document.modelspace()
    for box in ((0, 0, 240, 96), WINDOW, DOOR, (100, 96, 104, 102)):
        outline(space, *box)
    for y in (4, 16, 32, 48, 64, 80):
        ends = [0, *(x for b in (WINDOW, DOOR) if b[1] < y < b[3] for x in (b[0], b[2])), 240]
        for a, b in zip(ends[::2], ends[1::2], strict=True):
            space.add_line((a * MM, y * MM), (b * MM, y * MM), dxfattribs={"layer": "FRONT"})
    path = tmp_path / "front.dxf"
    document.saveas(path)
    return path


def mm(*inches):
    return ",".join(f"{v * MM:g}" for v in inches)


def settings(**more):
    return job(layers__wall=("FRONT",), layers__opening=("A-NONE",), **more)


def quantities(path, **more):
    takeoff = take_off([path], settings(**more))
    return takeoff, [w.quantities for w in takeoff.walls]


def test_one_window_and_one_mark_an_opening_are_enough(front):
    takeoff, (wall,) = quantities(
        front, drawing__window=(mm(0, 0, 240, 96),), drawing__opening_at=(mm(60, 40), mm(160, 40))
    )
    assert wall.gross_area == pytest.approx(240 * 96, rel=1e-12)
    window, door = (o for o in wall.openings)
    assert window.area == pytest.approx(40 * 32, rel=1e-12)
    assert (window.opening.kind, door.opening.kind) == ("window", "door")
    assert door.area == pytest.approx(36 * 80, rel=1e-12), (
        "76 in to the floor line and 4 in down to the base"
    )
    assert [n.code for n in takeoff.notices].count("DOOR_EXTENDED") == 1


def test_two_elevations_in_one_file_have_their_windows_and_names(tmp_path):
    """Two fronts, one above the other, that one line ties together; the second is out of sight."""
    document = new(units=4)
    for y in (0, 200):
        outline(document.modelspace(), 0, y, 240, y + 96)
    document.modelspace().add_line(
        (50 * MM, 96 * MM), (50 * MM, 200 * MM), dxfattribs={"layer": "FRONT"}
    )
    path = tmp_path / "sheet.dxf"
    document.saveas(path)
    takeoff, walls = quantities(
        path, drawing__window=(f"South={mm(-5, -5, 250, 100)}", f"North={mm(250, 299, -5, 190)}")
    )
    assert [w.wall.name for w in takeoff.walls] == ["South", "North"]
    assert [w.gross_area for w in walls] == [pytest.approx(240 * 96, rel=1e-12)] * 2
    takeoff, _ = quantities(path, drawing__window=(mm(-5, -5, 250, 100),))
    assert [w.wall.name for w in takeoff.walls] == [""]


def test_without_a_door_reach_the_door_ends_at_the_floor_line(front):
    _, (wall,) = quantities(
        front,
        drawing__window=(mm(0, 0, 240, 96),),
        drawing__opening_at=(mm(160, 40),),
        recognise__door_reach=0.0,
    )
    assert wall.openings[0].area == pytest.approx(36 * 76, rel=1e-12)
    assert wall.openings[0].opening.kind == "window"


def test_without_a_window_the_rafter_end_belongs_to_the_outline(front):
    _, (wall,) = quantities(front)
    assert wall.gross_area == pytest.approx(240 * 96 + 4 * 6, rel=1e-12)


def test_a_wall_mark_leaves_other_outlines_of_the_layer_out(front, tmp_path):
    document = new(units=4)
    for box in ((0, 0, 240, 96), (300, 0, 340, 50)):
        outline(document.modelspace(), *box)
    path = tmp_path / "two.dxf"
    document.saveas(path)
    _, walls = quantities(path)
    assert len(walls) == 2
    _, (wall,) = quantities(path, drawing__wall_at=(mm(310, 10),))
    assert wall.gross_area == pytest.approx(40 * 50, rel=1e-12)


@pytest.mark.parametrize("mark", ["POINT", "TEXT", "INSERT"])
def test_marks_in_the_drawing_point_as_well(mark, front, tmp_path):
    """A point, a text or a block reference on a mark layer, one in the window and one in the
    door."""
    document = ezdxf.readfile(front)
    document.blocks.new("DOT").add_circle((0, 0), 10)
    space, on = document.modelspace(), {"layer": "V-MARK"}
    for at in ((60 * MM, 40 * MM), (160 * MM, 40 * MM)):
        if mark == "POINT":
            space.add_point(at, dxfattribs=on)
        elif mark == "TEXT":
            space.add_text("here", dxfattribs={**on, "insert": at})
        else:
            space.add_blockref("DOT", at, dxfattribs=on)
    space.add_point((10 * MM, 10 * MM), dxfattribs={"layer": "V-WALL"})
    path = tmp_path / "marked.dxf"
    document.saveas(path)
    _, (wall,) = quantities(path, layers__opening_mark=("v-mark",), layers__wall_mark=("V-WALL",))
    assert [o.area for o in wall.openings] == [
        pytest.approx(40 * 32, rel=1e-12),
        pytest.approx(36 * 80, rel=1e-12),
    ]


def test_a_mark_beside_every_face_is_told(front):
    takeoff, _ = quantities(
        front, drawing__opening_at=(mm(-50, 40),), drawing__wall_at=(mm(10, 10), mm(-50, 40))
    )
    assert [n.code for n in takeoff.notices].count("MARK_UNUSED") == 2


def test_a_closed_outline_across_the_border_of_a_window_is_told(front, tmp_path):
    document = new(units=1)
    for x in (0, 300):
        document.modelspace().add_lwpolyline(
            [(x, 0), (x + 240, 0), (x + 240, 96), (x, 96)],
            close=True,
            dxfattribs={"layer": "FRONT"},
        )
    path = tmp_path / "closed.dxf"
    document.saveas(path)
    takeoff, (wall,) = quantities(path, drawing__window=("-1,-1,320,100",))
    assert wall.gross_area == 240 * 96
    assert [n.code for n in takeoff.notices].count("WINDOW_CROSSED") == 1


def test_arcs_are_cut_at_the_border_as_arcs(tmp_path):
    """A circle of radius 50 on a level line through its center, seen in a window above the line."""
    document = new(units=1)
    space = document.modelspace()
    space.add_arc((100, 60), 50, 170, 10, dxfattribs={"layer": "FRONT"})
    space.add_arc((100, 60), 50, 10, 170, dxfattribs={"layer": "FRONT"})
    space.add_line((20, 60), (180, 60), dxfattribs={"layer": "FRONT"})
    path = tmp_path / "round.dxf"
    document.saveas(path)
    _, (wall,) = quantities(path, drawing__window=("0,60,200,200",))
    assert wall.gross_area == pytest.approx(3.141592653589793 * 50**2 / 2, rel=1e-9)


def test_faces_are_listed_in_drawing_units_with_a_point_that_picks_them(front):
    found = list_faces(front, settings())
    door = next(
        f for f in found if f.width == pytest.approx(36 * MM) and f.height == pytest.approx(76 * MM)
    )
    assert door.area == pytest.approx(36 * 76 * MM * MM, rel=1e-12)
    _, (wall,) = quantities(
        front, drawing__opening_at=(f"{door.at[0]},{door.at[1]}",), recognise__door_reach=0.0
    )
    assert wall.openings[0].area == pytest.approx(36 * 76, rel=1e-9)
    assert [f.area for f in found] == sorted((f.area for f in found), reverse=True)


def test_the_point_of_a_frame_picks_the_frame_and_not_the_pane_in_it(tmp_path):
    """A pane of 27 x 27 in a frame of 34 x 34, in inches: each point takes its own face.

    +---------+ 34
    | +-----+ |
    | |  x  |x|
    | +-----+ |
    +---------+
    """
    document = new(units=1)
    for low, high in ((0, 100), (20, 54), (23.5, 50.5)):
        corners = [(low, low), (high, low), (high, high), (low, high)]
        document.modelspace().add_lwpolyline(corners, close=True, dxfattribs={"layer": "FRONT"})
    path = tmp_path / "nested.dxf"
    document.saveas(path)
    found = list_faces(path, settings())
    assert [f.width for f in found] == [100, 34, 27]
    for face in found[1:]:
        at = f"{face.at[0]},{face.at[1]}"
        _, (wall,) = quantities(path, drawing__opening_at=(at,), recognise__nested_walls="ignore")
        assert [o.area for o in wall.openings] == [pytest.approx(face.width**2)]


def test_lines_of_two_layers_close_a_wall_together(tmp_path):
    """Corners on one layer, ground and eaves on another; a third layer's own wall stays its own.

     _____________ 96
    |             |___ 50
    |    EDGES    |   |  OTHER, closed by the edge at x = 240
    |_____________|___|
    0            240  300
    """
    document = new(units=1)
    space = document.modelspace()
    lines = {
        "EDGES": [((0, 0), (0, 96)), ((240, 0), (240, 96))],
        "LEVELS": [((0, 0), (240, 0)), ((0, 96), (240, 96))],
        "OTHER": [((240, 0), (300, 0)), ((300, 0), (300, 50)), ((300, 50), (240, 50))],
    }
    for layer, pairs in lines.items():
        for start, end in pairs:
            space.add_line(start, end, dxfattribs={"layer": layer})
    path = tmp_path / "parted.dxf"
    document.saveas(path)
    takeoff = take_off([path], job(layers__wall=("EDGES", "LEVELS"), layers__opening=("A-NONE",)))
    assert [w.quantities.gross_area for w in takeoff.walls] == [240 * 96]
    (told,) = [n for n in takeoff.notices if n.code == "LAYERS_JOINED"]
    assert say(told.message).startswith("lines on layers EDGES, LEVELS close an outline together")
    assert "LOOSE_LINES_UNUSED" not in [n.code for n in takeoff.notices]
    every = take_off([path], job(layers__wall=tuple(lines), layers__opening=("A-NONE",)))
    assert sum(w.quantities.gross_area for w in every.walls) == 240 * 96 + 60 * 50
    assert {round(f.area) for f in list_faces(path, job(layers__wall=tuple(lines)))} == {
        240 * 96,
        60 * 50,
    }


@pytest.mark.parametrize(
    ("window", "area"),
    [
        ("-10,-10,120,110", 120 * 96),  # cut through the middle
        ("60,-10,180,110", 120 * 96),  # cut on both sides
        ("-10,-10,120,60", 120 * 60),  # round a corner of the window
    ],
)
def test_a_window_closes_the_outline_that_it_cuts_where_asked(window, area, tmp_path):
    """A front of 240 x 96 of loose lines."""
    document = new(units=1)
    corners = [(0, 0), (240, 0), (240, 96), (0, 96)]
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        document.modelspace().add_line(start, end, dxfattribs={"layer": "FRONT"})
    path = tmp_path / "cut.dxf"
    document.saveas(path)
    _, (wall,) = quantities(path, drawing__window=(window,), drawing__window_closes=True)
    assert wall.gross_area == pytest.approx(area, rel=1e-12)
    with refused(DrawingError, match="bound no"):
        quantities(path, drawing__window=(window,))


def test_faces_of_a_layer_that_is_not_there(front):
    with refused(DrawingError, match="nothing lies on the layer NOWHERE; the nearest"):
        list_faces(front, job(layers__wall=("NOWHERE",)))


def test_corners_caps_and_levels_of_the_job_file_mark_walls_as_drawn_ones_do(tmp_path):
    """Two fronts that meet at a corner, all by coordinates; in feet.

     __________ 9     8 _______
    |          |       |       |      outside corner C1: x = 20 of the first, x = 30 of the second
    |__________|       |_______|      a cap along the second's top, a level line at y = 2
    0         20       30     40
    """
    document = new(units=2)
    document.modelspace().add_line((0, -5), (1, -5))
    path = tmp_path / "bare.dxf"
    document.saveas(path)
    marks = job(
        drawing__wall_outline=("0,0 20,0 20,9 0,9", "East=30,0 40,0 40,8 30,8"),
        drawing__mark_line=(
            "outside C1=20,0 20,9",
            "outside c1=30,0 30,8",
            "bay=40,0 40,8",
            "end=0,0 0,9",
            "cap=30,8 40,8",
            "level=-1,2 41,2",
        ),
        layers__wall=(),
        layers__opening=(),
    )
    takeoff = take_off([path], marks)
    assert [w.wall.name for w in takeoff.walls] == ["", "East"]
    assert [(c.kind, c.tag, c.run) for c in takeoff.corners] == [
        ("outside", "C1", 9 * 12),
        ("mitre", None, 8 * 12),
    ]
    assert [w.wall.level_y for w in takeoff.walls] == [24, 24]
    assert [sum(c.x1 - c.x0 for c in w.wall.caps) for w in takeoff.walls] == [0, 120]


@pytest.mark.parametrize(
    ("value", "words"), [("outside=1,2", "two"), ("round=1,2 3,4", "outside"), ("1,2 3,4", "cap")]
)
def test_a_mark_that_is_none_is_told(value, words):
    with refused(SettingsError, match=words):
        job(drawing__mark_line=(value,))


def test_faces_of_a_frozen_layer_are_told_to_be_hidden(front, tmp_path):
    document = ezdxf.readfile(front)
    document.layers.add("FRONT").freeze()
    frozen = tmp_path / "frozen.dxf"
    document.saveas(frozen)
    with refused(DrawingError, match="frozen; add --include-hidden"):
        list_faces(frozen, settings())
    assert list_faces(frozen, settings(drawing__include_hidden=True)) == list_faces(
        front, settings()
    )
