"""Stones between open joints on walls: drawn cases in metres."""

import itertools

import numpy as np
import pytest
from facades import box

from dxf2veneer.propose.lines.runs import runs_of
from dxf2veneer.propose.walls.masonry import outlines_of_stones
from dxf2veneer.propose.walls.texture import texture_of

GAP = 0.008


def stones(joint, courses=(0.5, 0.25, 0.25)):
    """
    +----+ +--+ +----+     stones from 0 to 6 in courses that repeat, 0.6, 0.3 and 0.45 long in
    +----+ +--+ +----+     turn, with half a joint all round each
    +--+ +----+ +----+
    """
    lines, low, half = [], 0.0, joint / 2
    for row in range(9):
        high, x = low + courses[row % 3], 0.0
        for wide in itertools.islice(itertools.cycle([0.6, 0.3, 0.45]), row % 3, row % 3 + 13):
            lines += box(x + half, low + half, x + wide - half, high - half)
            x += wide
        low = high
    return lines


def runs(lines, metre):
    return runs_of(np.array(lines, float) * metre, gap=GAP * metre)


@pytest.mark.parametrize("metre", [1.0, 1000.0, 39.37])
@pytest.mark.parametrize("joint", [0.012, 0.024, 0.036])
def test_outlines_between_open_joints_are_stones_and_no_boards(joint, metre):
    found = runs(stones(joint), metre)
    assert outlines_of_stones(found, gap=GAP * metre, metre=metre).mean() > 0.9
    lines = np.array(stones(joint), float) * metre
    texture = texture_of(lines, found, gap=GAP * metre, metre=metre)
    assert texture.stones.mean() > 0.9


def test_balusters_and_boards_are_none():
    """
    ---------------     a rail at 0.9 on balusters 0.03 wide; boards in steps of 0.15 beside them
    || || || || ||
    """
    rail = [(0, 0, 4, 0), (0, 0.6, 4, 0.6)]
    rail += [(x + d, 0, x + d, 0.6) for x in np.arange(0.2, 3.8, 0.12) for d in (0.0, 0.03)]
    boards = [(5, y, 9, y) for y in np.arange(0.15, 3, 0.15)]
    assert not outlines_of_stones(runs([*rail, *boards], 1.0), gap=GAP, metre=1.0).any()
