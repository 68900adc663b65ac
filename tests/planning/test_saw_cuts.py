"""What the saw takes of a panel that is cut into two parts, each keeping one of its factory ends.

|=== left 20 ===|kkk|~ rest ~|kkk|=== right ===|      panel 36, a saw cut (k) 1/8
"""

import pytest
from shapely.geometry import box

from dxf2veneer.planning.costing import Cut
from dxf2veneer.planning.cutting_stock.panels import cut_stock
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

SIZES = LayingSizes(
    panel=36.0,
    corner=36.0,
    kerf=0.125,
    stagger=8.0,
    least=8.0,
    unequal=1.0,
    vary=1.0,
    cut=0.36,
    strip=2.0,
    height=8.0,
)


def laid(course, lengths, cut):
    run = Run(
        "W1",
        course,
        0.0,
        sum(lengths),
        "plain",
        "plain",
        box(0, 8 * course, sum(lengths), 8 * course + 8),
        turn=course,
    )
    return LaidRun(run, lengths, (cut,))


def shared(right):
    """The panel that gives 20 to the end of one course and ``right`` to the beginning of the
    next."""
    below = laid(0, (36.0, 20.0), Cut(piece=1, hand="left", unit=7, is_corner=False))
    above = laid(1, (right, 36.0), Cut(piece=0, hand="right", unit=7, is_corner=False))
    (unit,) = [u for u in cut_stock([below, above], SIZES, within_walls=False) if len(u.parts) == 2]
    return unit


@pytest.mark.parametrize(
    ("right", "cuts", "taken"),
    [
        (15.875, 1, 0.125),  # 16 less one cut
        # 0.2 lie between: the second cut finds 0.075 left, and the saw takes no more than is there
        (15.8, 2, 0.2),
        (15.75, 2, 0.25),  # just two cuts
        (12.0, 2, 0.25),  # 4 between: two cuts and a rest of 3 3/4
    ],
)
def test_the_saw_takes_no_more_than_lies_between_two_parts(right, cuts, taken):
    unit = shared(right)
    assert (unit.cuts, unit.kerfs) == (cuts, pytest.approx(taken))
    assert unit.used + unit.kerfs <= unit.length + 1e-9
