"""Walls and openings that somebody has drawn as closed outlines on layers for them."""

from __future__ import annotations

import ezdxf
import pytest
from shapely.geometry import Polygon

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.app.proposing import see
from dxf2veneer.config.job import load_job
from dxf2veneer.propose import propose


def rectangle(space, layer, x0, y0, x1, y1):
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": layer})


def proposed(document, tmp_path):
    path = tmp_path / "sheet.dxf"
    document.saveas(path)
    return propose(path)


@pytest.mark.parametrize("name", ["gatehouse", "boathouse"])
def test_a_sample_proposes_the_walls_and_openings_that_its_job_names_by_layer(samples, name):
    drawing = samples / f"{name}.dxf"
    takeoff = take_off([drawing], load_job(samples / f"{name}.toml"))
    to_inches = takeoff.drawings[0].inches_per_unit
    found = propose(drawing)
    gross = sorted(Polygon(w.outline).area * to_inches**2 for w in found.walls)
    assert gross == pytest.approx(sorted(w.quantities.gross_area for w in takeoff.walls), rel=2e-3)
    openings = sorted(Polygon(o.outline).area * to_inches**2 for o in found.openings)
    drawn = [o.opening.region.area for w in takeoff.walls for o in w.quantities.openings]
    assert openings == pytest.approx(sorted(drawn), rel=2e-3), "arcs are chords in a proposal"
    assert {v.kind for v in found.views if v.id in {w.view for w in found.walls}} == {"elevation"}


def test_a_room_with_furniture_is_no_wall_with_windows(tmp_path):
    """A room of 6 x 4 m in plan, walls 0.3 thick, with a table and two cupboards, in meters, and
    the many lines that a plan has.

     _______________
    |  _   ___   _  |
    | |_| |___| |_| |
    |_______________|
    """
    document = ezdxf.new(units=6)
    space = document.modelspace()
    rectangle(space, "ROOM", 0, 0, 6, 4)
    for x0, y0, x1, y1 in ((0.3, 3, 1.2, 3.8), (2.4, 1.6, 3.6, 2.4), (5, 3, 5.7, 3.8)):
        rectangle(space, "FURNITURE", x0, y0, x1, y1)
    for n in range(40):  # floor boards
        space.add_line((0, 0.1 * n), (6, 0.1 * n), dxfattribs={"layer": "FLOOR"})
    space.add_arc((1, 0), 0.9, 0, 90, dxfattribs={"layer": "DOORS"})
    space.add_text("KITCHEN", height=0.2, dxfattribs={"insert": (2.5, 3)})
    assert not [o for o in proposed(document, tmp_path).openings if o.confidence > 0.8]


def test_a_pane_in_its_frame_is_one_opening_and_a_layer_of_many_things_says_nothing(tmp_path):
    """A front of 8 x 3 m with a window in a frame, in millimeters; then other outlines beside."""
    document = ezdxf.new(units=4)
    space = document.modelspace()
    rectangle(space, "SKIN", 0, 0, 8000, 3000)
    rectangle(space, "HOLES", 1000, 900, 2500, 2100)
    rectangle(space, "HOLES", 1100, 1000, 2400, 2000)
    found = proposed(document, tmp_path)
    assert [Polygon(w.outline).area for w in found.walls] == [8000 * 3000]
    assert [Polygon(o.outline).area for o in found.openings] == [1500 * 1200]
    assert found.walls[0].reason.code == "WALL_OUTLINED"
    for n in range(8):  # most of what lies on the layer is no wall
        rectangle(space, "SKIN", 10000 + 300 * n, 0, 10200 + 300 * n, 200)
    assert "WALL_OUTLINED" not in [w.reason.code for w in proposed(document, tmp_path).walls]


def test_one_view_s_walls_have_the_numbers_that_a_takeoff_of_it_gives_them(samples):
    seen = see(samples / "gatehouse.dxf", load_job(None, {"drawing.view": ("V1", "V2")}))
    assert [(w.id, w.view) for w in seen.proposal.walls] == [("W1", "V2"), ("W2", "V1")]
    assert [(o.id, o.wall) for o in seen.proposal.openings] == [
        ("W1-O1", "W1"),
        ("W1-O2", "W1"),
        ("W1-O3", "W1"),
        ("W2-O1", "W2"),
    ]
    one = see(samples / "gatehouse.dxf", load_job(None, {"drawing.view": ("V1",)})).proposal
    assert [w.id for w in one.walls] == ["W1"]
    assert [(o.id, o.wall) for o in one.openings] == [("W1-O1", "W1")]


def test_the_cells_of_a_schedule_of_windows_are_no_walls(tmp_path):
    """
    +-----+-----+-----+     three cells 3 m wide, 3 and 0.7 high, on a layer of their own, with a
    | [ ] | [ ] | [ ] |     window in each, and their names
    +-----+-----+-----+
    | W1  | W2  | W3  |
    +-----+-----+-----+
    """
    document = ezdxf.new(units=6)
    space = document.modelspace()
    for n in range(3):
        rectangle(space, "FRAME", 3 * n, 0, 3 * n + 3, 0.7)
        rectangle(space, "FRAME", 3 * n, 0.7, 3 * n + 3, 3.7)
        rectangle(space, "GLAZING", 3 * n + 1, 1.5, 3 * n + 2, 2.7)
        space.add_text(f"W{n + 1}", height=0.3, dxfattribs={"insert": (3 * n + 1.2, 0.2)})
    found = proposed(document, tmp_path)
    assert not found.walls
    assert "elevation" not in {v.kind for v in found.views}


def test_a_lot_with_its_house_and_trees_is_no_wall(tmp_path):
    """A lot that is no rectangle round the outline of a house, and four trees on their layer."""
    document = ezdxf.new(units=6)
    space = document.modelspace()
    corners = [(0, 0), (16, 0.4), (15.5, 12), (1, 11)]
    space.add_lwpolyline(corners, close=True, dxfattribs={"layer": "WALLS"})
    rectangle(space, "WALLS", 4, 3, 12, 8)
    for x, y in ((1.5, 9.5), (13.8, 10), (6, 1.6), (10, 1.6)):
        for radius in (0.8, 0.05):
            space.add_circle((x, y), radius, dxfattribs={"layer": "PLANTS"})
    assert not proposed(document, tmp_path).walls
