"""Walls and openings as measured on site: every number is checked by hand.

y 80 .------------------------.      W1, 240 x 80: a window 60 to 96 from the left, 30 to 54
     |     .---.      .--.    |      up, and a door 140 to 176, 60 high
  54 |     |   |      |  |    |
  30 |     '---'      |  |    |
   0 '----------------'  '----'
     0    60  96   140 176   240
"""

import dataclasses
import math

import pytest
from builders import drawing, line, only_wall
from refusals import refused
from site_sheets import sheet

from dxf2veneer.config.errors import SettingsError
from dxf2veneer.geometry import Path
from dxf2veneer.site import as_measured


def front(**more):
    return only_wall(
        drawing(
            wall=[(0, 0, 240, 80)],
            window=[(60, 30, 96, 54)],
            door=[(140, 0, 176, 60)],
            outside_corner=[line(0, 0, 0, 80), line(240, 0, 240, 80)],
            **more,
        )
    )


def measured(wall, tmp_path, text):
    (found,) = as_measured([wall], [], sheet(tmp_path, text)).walls
    return found


def test_a_wall_measured_wider_at_one_height_is_wider_at_all(tmp_path):
    wall = front()
    new = measured(wall, tmp_path, '[W1]\nwidths = [{ at = "40", measured = "20\'-0 1/2" }]')
    assert new.box == (0.0, 0.0, 240.5, 80.0)
    assert new.region.area == pytest.approx(240.5 * 80)
    assert [o.box for o in new.openings] == [o.box for o in wall.openings]
    assert [(e.side, e.x) for e in new.edges] == [("left", 0.0), ("right", 240.5)]


def test_the_edge_runs_straight_between_heights_and_upright_beyond(tmp_path):
    """20 to 60 in up it leans from 1/2 in to 1/4 in more: (240.5 + 240.25) / 2 in the mean."""
    text = "[W1]\nwidths = [{ at = 20, measured = 240.5 }, { at = 60, measured = 240.25 }]"
    new = measured(front(), tmp_path, text)
    assert new.region.area == pytest.approx(20 * 240.5 + 40 * 240.375 + 20 * 240.25)
    right = [(e.y0, e.y1, e.x) for e in new.edges if e.side == "right"]
    assert sorted(right) == [(0.0, 20.0, 240.5), (20.0, 60.0, 240.375), (60.0, 80.0, 240.25)]
    assert {e.kind for e in new.edges} == {"outside"}


def test_from_the_right_the_left_edge_moves(tmp_path):
    text = '[W1]\nfixed = "right"\nwidths = [{ at = 40, measured = 239.5 }]'
    assert measured(front(), tmp_path, text).box == (0.5, 0.0, 240.0, 80.0)


def test_a_measured_height_raises_the_level_top_with_its_edges_and_cap(tmp_path):
    wall = front(cap=[line(0, 80, 240, 80)])
    new = measured(wall, tmp_path, "[W1]\nheight = 81")
    assert new.box == (0.0, 0.0, 240.0, 81.0)
    assert [e.length for e in new.edges] == [81.0, 81.0]
    assert [c.y for c in new.caps] == [81.0]


def test_an_opening_goes_where_it_was_measured(tmp_path):
    text = "[W1-O1]\nedge = 61\nwidth = 37\nsill = 30.5\nhead = 54.25"
    new = measured(front(), tmp_path, text)
    assert new.openings[0].box == (61.0, 30.5, 98.0, 54.25)
    assert new.openings[1].box == (140.0, 0.0, 176.0, 60.0)
    assert new.region is front().region or new.box == (0.0, 0.0, 240.0, 80.0)


def test_from_the_right_an_opening_keeps_its_distance_from_the_right_edge(tmp_path):
    """The door's right side stands 64 in from the right edge; 1 in wider, its left side moves."""
    text = '[W1]\nfixed = "right"\n[W1-O2]\nwidth = 37'
    assert measured(front(), tmp_path, text).openings[1].box == (139.0, 0.0, 176.0, 60.0)


def test_sizes_as_drawn_change_nothing_at_all(tmp_path):
    wall = front()
    text = (
        '[W1]\nwidths = [{ at = 0, drawn = "20 ft", measured = "20 ft" }]\nheight = "6\'-8"\n'
        "[W1-O1]\nedge = 60\nwidth = 36\nsill = 30\nhead = 54.02\n"
    )
    found = as_measured([wall], [], sheet(tmp_path, text))
    assert found.walls[0] is wall
    assert found.measures.sizes == ()
    assert found.measures.as_drawn == 6


def test_metric_sizes_are_inches_inside(tmp_path):
    text = '[W1]\nwidths = [{ at = "1 m", measured = "6106 mm" }]'
    assert measured(front(), tmp_path, text).box[2] == pytest.approx(6106 / 25.4)


def test_of_a_step_only_the_edge_that_was_measured_moves(tmp_path):
    """
    .------.              At 70 in the upper edge, 120 from the left; the lower one, 240, stays.
    |      '------.
    '-------------'
    """
    wall = only_wall(drawing(wall=[[(0, 0), (240, 0), (240, 40), (120, 40), (120, 80), (0, 80)]]))
    new = measured(wall, tmp_path, "[W1]\nwidths = [{ at = 70, measured = 121 }]")
    assert new.region.area == pytest.approx(240 * 40 + 121 * 40)


def test_a_gable_keeps_its_ridge_and_moves_its_eave(tmp_path):
    wall = only_wall(drawing(wall=[[(0, 0), (200, 0), (200, 80), (100, 140), (0, 80)]]))
    new = measured(wall, tmp_path, "[W1]\nwidths = [{ at = 0, measured = 200.5 }]")
    assert new.region.paths[0].points == ((0, 0), (200.5, 0), (200.5, 80), (100, 140), (0, 80))
    with refused(SettingsError, r"site.toml, line 2: the top of W1 is not level all along"):
        measured(wall, tmp_path, "[W1]\nheight = 141")
    with refused(SettingsError, "no upright right edge but a slope"):
        measured(wall, tmp_path, "[W1]\nwidths = [{ at = 100, measured = 140 }]")


def test_an_arched_opening_can_be_moved_and_not_stretched(tmp_path):
    arch = Path(((80.0, 0.0, 0.0), (116.0, 0.0, 0.0), (116.0, 40.0, 1.0), (80.0, 40.0, 0.0)))
    wall = only_wall(drawing(wall=[(0, 0, 240, 80)], door=[arch]))
    moved = measured(wall, tmp_path, "[W1-O1]\nedge = 82").openings[0]
    assert moved.region.area == pytest.approx(36 * 40 + math.pi * 18**2 / 2)
    assert moved.box[0] == 82.0
    with refused(SettingsError, "W1-O1 has curves: its place can be measured, its size can't"):
        measured(wall, tmp_path, "[W1-O1]\nwidth = 37")


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("[W2]\nheight = 80", "line 1: there is no W2 in the drawing; did you mean W1"),
        ("[W1-O7]\nwidth = 30", "there is no W1-O7 in the drawing"),
        ("[W1]\nwidth = 30", "line 2: W1.width is not a setting; did you mean widths"),
        ("[site]\n[Wall]\nwidth = 30", "there is no section .Wall."),
        ('[W1]\nheight = "8 foo"', "'8 foo' is not a length"),
        (
            "[W1]\nwidths = [{ at = 40, measured = 250 }]",
            r"the width of W1 at a height of 3'-4\" is measured as 20'-10\" and drawn as 20'-0\", "
            r"more than 6\" apart; mend",
        ),
        ("[W1]\nwidths = [{ at = 100, measured = 240 }]", "8'-4\" is above W1, which is 6'-8\""),
        (
            "[W1]\nwidths = [{ at = 10, measured = 240 }, { at = 20, measured = 241 }]",
            "leans by 1\" beside the drawing",
        ),
        ("[W1-O2]\nsill = 1", "W1-O2 stands on the wall's base and has no sill"),
        ("[W1]\nwidths = [{ at = 0, measured = 239 }]\n[W1-O1]\nhead = 81\n[site]\nmost_off = 60",
         "as measured W1-O1 reaches 3'-0\" beyond W1"),
        ("[W1-O1]\nedge = 110\n[site]\nmost_off = 60", "W1-O. and W1-O. overlap"),
        ("[W1]\nlaid = 1\njoints = [{ course = 2, at = [36] }]", "joints of course 2 of W1, of"),
        ("[W1]\nlaid = 1\njoints = [{ course = 1, at = [36, 20] }]", "do not go up from more than"),
        (
            "[W1]\nlaid = 1\njoints = [{ course = 1, at = [3] }, { course = 1, at = [4] }]",
            "course 1 of W1 has its joints twice",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_right_is_one_line(text, line, tmp_path):
    with refused(SettingsError, line):
        as_measured([front()], [], sheet(tmp_path, text))


def test_an_empty_sheet_changes_nothing(tmp_path):
    found = as_measured([front()], [], sheet(tmp_path, ""))
    assert found.walls == (front(),)
    assert found.measures.sizes == found.measures.laid == ()


def test_a_sheet_of_another_state_of_the_drawing_is_told(tmp_path):
    text = "[W1]\nheight = { drawn = 78, measured = 80.25 }"
    (notice,) = as_measured([front()], [], sheet(tmp_path, text)).notices
    assert notice.code == "SITE_DRAWN_DIFFERS"


def test_laid_courses_have_their_joints_from_the_fixed_edge(tmp_path):
    wall = front()
    text = "laid = 2\njoints = [{ course = 2, at = [12, 48] }, { course = 1, at = [] }]"
    (first, second) = as_measured([wall], [], sheet(tmp_path, f"[W1]\n{text}")).measures.laid
    assert (first.course, first.joints) == (0, None)
    assert (second.course, second.joints) == (1, (12.0, 48.0))
    right = as_measured([wall], [], sheet(tmp_path, f'[W1]\nfixed = "right"\n{text}'))
    assert right.measures.laid[1].joints == (192.0, 228.0)


def test_a_corner_is_as_high_as_its_measured_edges(tmp_path):
    from builders import JOB

    from dxf2veneer.recognise import recognise

    found = recognise(
        [drawing(wall=[(0, 0, 240, 80)], outside_corner=[line(240, 0, 240, 80)])], JOB
    )
    new = as_measured(found.walls, found.corners, sheet(tmp_path, "[W1]\nheight = 82"))
    assert [c.run for c in new.corners] == [82.0]
    assert dataclasses.replace(new.corners[0], run=80.0) == found.corners[0]
