"""Stones that were drawn one by one, open joints between them: drawn cases in metres."""

import numpy as np
import pytest
from facades import box, framed, rounded

from dxf2veneer.propose.openings import find_openings

WALL = [(-3, 0, 15, 0), (0, 0, 0, 5), (12, 0, 12, 5), (0, 5, 6, 9), (6, 9, 12, 5)]
WINDOW = (5.0, 1.5, 6.2, 3.0)


def found(lines, metre):
    drawn = np.array([*WALL, *lines], float) * metre
    chosen = find_openings(drawn, np.empty(0, dtype=object), metre=metre)
    return sorted(tuple(v / metre for v in rounded(c.polygon)) for c in chosen)


def stones(joint):
    """
    [      ] [  ] [    ]     courses of 0.5 from foot to head: stones 0.65, 0.3 and 0.5 long, over
    [  ] [    ] [      ]     and over, cut where the window is, with half a joint all round each
    """
    sizes, lines, half = [0.65, 0.3, 0.5], [], joint / 2
    for row in range(10):
        low, high = row * 0.5, row * 0.5 + 0.5
        beside = low >= WINDOW[3] or high <= WINDOW[1]
        for begin, end in [(0, 12)] if beside else [(0, WINDOW[0]), (WINDOW[2], 12)]:
            x, k = begin, row
            while end - x > 0.1:
                right = end if end - x < sizes[k % 3] + 0.1 else x + sizes[k % 3]
                lines += box(x + half, low + half, right - half, high - half)
                x, k = right, k + 1
    return lines


@pytest.mark.parametrize("joint", [0.012, 0.024, 0.036])
@pytest.mark.parametrize("metre", [1.0, 1000.0, 39.37])
def test_stones_between_open_joints_are_no_openings(joint, metre):
    assert found([*stones(joint), *framed(*WINDOW)], metre) == [pytest.approx(WINDOW, abs=0.01)]


@pytest.mark.parametrize("metre", [1.0, 1000.0])
def test_a_bare_outline_as_large_as_a_stone_is_one_where_no_stones_are(metre):
    assert found(box(3, 2, 3.65, 2.6), metre) == [pytest.approx((3, 2, 3.65, 2.6), abs=0.01)]


@pytest.mark.parametrize("metre", [1.0, 1000.0])
def test_two_bare_outlines_side_by_side_are_openings(metre):
    """+---+ +---+
    |   | |   |     a joint away on one side only
    +---+ +---+
    """
    pair = [(3, 2, 3.6, 2.6), (3.63, 2, 4.23, 2.6)]
    assert found([*box(*pair[0]), *box(*pair[1])], metre) == [
        pytest.approx(one, abs=0.01) for one in pair
    ]


@pytest.mark.parametrize("metre", [1.0, 1000.0])
def test_twigs_before_stones_make_no_window_of_a_stone(metre):
    """A bush 1.6 wide on the ground, its edge a half circle over stones and their joints."""
    turn = np.linspace(0, np.pi, 25)
    at = np.stack([9 + 0.8 * np.cos(turn), 0.8 * np.sin(turn)], axis=1)
    bush = np.hstack([at[:-1], at[1:]]).tolist()
    lines = [*stones(0.024), *framed(*WINDOW), *bush]
    assert found(lines, metre) == [pytest.approx(WINDOW, abs=0.01)]
