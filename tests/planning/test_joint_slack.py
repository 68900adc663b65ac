"""Room that joints below leave those of a run. Panels 36 in, joints 8 in apart, pieces 8 in long at
least, corner panels 36 in whose cuts vary by 1 in; no saw cut. All values our own or common
practice without a published source."""

import pytest
from shapely.geometry import box

from dxf2veneer.planning.joint_slack import joint_slacks
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

SIZES = LayingSizes(
    panel=36.0,
    corner=36.0,
    kerf=0.0,
    stagger=8.0,
    least=8.0,
    unequal=1.0,
    vary=1.0,
    cut=0.36,
    strip=2.0,
    height=8.0,
)


def room(length, under, left="plain", right="plain", before=()):
    run = Run("W1", 1, 100.0, 100.0 + length, left, right, box(100, 8, 100 + length, 16), turn=1)
    return {
        joint: pytest.approx(free)
        for joint, free in joint_slacks(run, [100.0 + x for x in under], SIZES, before)
    }


def test_a_run_that_one_piece_fills_needs_no_joint():
    assert room(36, [10, 20]) == {}
    assert room(20, [10], right="corner") == {}


def test_the_one_joint_of_a_short_run_keeps_away_from_those_below():
    """| 8 ... 36 | is where the joint of 44 in may stand; one below at 20 leaves 8 to 12 and 28 to
    36."""
    assert room(44, []) == {"one": 28}
    assert room(44, [20]) == {"one": 8}
    assert room(44, [14, 29]) == {"one": -1}
    assert room(44, [14, 28]) == {"one": 0}  # at 36, 8 from the one at 28


def test_a_row_of_panels_meets_joints_a_panel_apart_alike():
    """The first joint of 108 in stands at 8 to 28 or 36, for the last piece is 8 long at least or a
    whole panel."""
    assert room(108, []) == {"row": 20}
    assert room(108, [18, 54, 90]) == {"row": 2}  # 26 to 28
    assert room(108, [12, 60]) == {"row": 0}  # at 36 alone: three whole panels
    assert room(108, [12, 36, 60]) == {"row": -1}


def test_a_corner_pieces_joint_differs_from_the_one_before_too():
    """The corner piece of 30 in is 8 to 22 long. A joint below 17 from the corner leaves it 8 to 9;
    not where the one before was 8 and the next has to be 1 longer."""
    assert room(30, [13], right="corner") == {"right": 1}
    assert room(30, [13], right="corner", before=[("right", 8.0)]) == {"right": 0}
    assert room(30, [13], right="corner", before=[("right", 8.5)]) == {"right": -1}


def test_first_pieces_shorter_than_the_least_are_no_room():
    """Joints below at 15, 51 and 66 (30 after a panel) leave 2 to 7 in alone."""
    assert room(85, [15, 51, 66]) == {"row": -1}
