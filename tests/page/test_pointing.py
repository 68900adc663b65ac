"""What lies under the pointer, on the front that fronts.py sketches."""

from __future__ import annotations

from itertools import pairwise

import pytest
from fronts import draw_front
from shapely.geometry import Polygon

from dxf2veneer.page.pointing import Ground
from dxf2veneer.propose.reading import read_scene

WHOLE = (-60.0, -40.0, 360.0, 108.0)


@pytest.fixture
def front(tmp_path):
    return draw_front(tmp_path / "front.dxf")


@pytest.fixture
def ground(front):
    return Ground(read_scene(front), [WHOLE])


def boxes(ground, at):
    return [Polygon(o).bounds for o in ground.outlines_at(at)]


def test_the_smallest_outline_comes_first_and_the_larger_ones_round_it(ground):
    assert boxes(ground, (42, 50)) == [(26, 38, 58, 70), (24, 36, 60, 72), (0, 0, 288, 108)]


def test_a_frame_is_its_window(ground):
    assert boxes(ground, (25, 50))[0] == (24, 36, 60, 72)


def test_a_door_in_the_foot_of_a_wall_has_its_frame_round_it(ground):
    assert boxes(ground, (114, 40))[:2] == [(98, 0, 130, 82), (96, 0, 132, 84)]


def test_a_casing_open_at_its_foot_is_its_door_where_the_wall_closes_nowhere(tmp_path):
    """+-----+        no wall's face goes round the casing, which stands on the ground alone
           |+---+|
           ||   ||
    -------++---++-----
    """
    import ezdxf

    document = ezdxf.new()
    msp = document.modelspace()
    msp.add_line((-100, 0), (100, 0))
    for x0, x1, head in ((0, 36, 84), (3, 33, 81)):
        for a, b in pairwise([(x0, 0), (x0, head), (x1, head), (x1, 0)]):
            msp.add_line(a, b)
    document.saveas(tmp_path / "door.dxf")
    ground = Ground(read_scene(tmp_path / "door.dxf"), [])
    assert boxes(ground, (18, 40)) == [(3, 0, 33, 81), (0, 0, 36, 84)]


def test_a_block_has_an_outline_of_its_own_though_lines_run_across_it(tmp_path):
    """A round vent of two arcs at 50, 50 with a radius of 10, and a tree before it."""
    import ezdxf

    document = ezdxf.new()
    vent = document.blocks.new("VENT")
    vent.add_arc((0, 0), 10, 0, 180)
    vent.add_arc((0, 0), 10, 180, 360)
    msp = document.modelspace()
    msp.add_blockref("VENT", (50, 50))
    for a, b in (((45, 20), (53, 80)), ((53, 80), (64, 20))):
        msp.add_line(a, b)
    document.saveas(tmp_path / "vent.dxf")
    ground = Ground(read_scene(tmp_path / "vent.dxf"), [])
    areas = [Polygon(o).area for o in ground.outlines_at((51, 50))]
    # a circle of radius 10 has 314.16 (pi r squared); its sides are chords, a little less
    assert any(a == pytest.approx(314.16, rel=0.005) for a in areas)
    assert min(areas) < 200  # what the tree leaves of it is offered too


def test_beside_everything_there_is_no_outline(ground):
    assert boxes(ground, (-20, 50)) == []


@pytest.mark.parametrize(
    ("at", "place", "what"),
    [
        ((24.4, 36.3), (24, 36), "end"),
        ((40.0, 36.8), (40, 36), "line"),
        ((286.9, 0.4), (288, 0), "end"),
    ],
)
def test_corners_snap_to_ends_before_lines(ground, at, place, what):
    snap = ground.snap(at, 2.0)
    assert (snap.at, snap.what) == (place, what)


def test_corners_snap_to_crossings(tmp_path):
    import ezdxf

    document = ezdxf.new()
    document.modelspace().add_line((0, 0), (10, 0))
    document.modelspace().add_line((4, -3), (4, 7))
    document.saveas(tmp_path / "cross.dxf")
    snap = Ground(read_scene(tmp_path / "cross.dxf"), []).snap((4.2, 0.3), 0.5)
    assert (snap.at, snap.what) == ((4, 0), "crossing")


def test_far_from_lines_nothing_is_snapped_to(ground):
    assert ground.snap((-20, 50), 2.0) is None


def test_a_door_that_was_drawn_over_lies_on_lines_and_one_beside_does_not(ground):
    assert ground.lies_on_lines(((96, 0), (132, 0), (132, 84), (96, 84)), 0.5)
    assert not ground.lies_on_lines(((96, 0), (140, 0), (140, 90), (96, 90)), 0.5)
