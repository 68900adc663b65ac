"""Openings and what is none in walls of stone and boards: drawn cases, in metres.

The wall goes from 0 to 24 over the ground, which runs from -5 to 30, and is 8 high.
"""

import numpy as np
import pytest
from facades import box, framed, rounded

from dxf2veneer.propose.openings import find_openings

WALL = [(-5, 0, 30, 0), (0, 0, 0, 8), (24, 0, 24, 8), (-0.3, 8, 24.3, 8)]


def found(lines):
    chosen = find_openings(np.array([*WALL, *lines], float), np.empty(0, dtype=object), metre=1.0)
    return sorted(rounded(c.polygon) for c in chosen)


def boards(x0, x1, head):
    """0.15 apart over the whole wall, none of them from x0 to x1 under a head."""
    lines = []
    for y in np.arange(0.15, 7.9, 0.15).tolist():
        lines += [(0, y, x0, y), (x1, y, 24, y)] if y < head else [(0, y, 24, y)]
    return lines


@pytest.mark.parametrize("courses", [6, 12])
def test_a_pier_of_stone_between_boards_is_no_gap_in_them(courses):
    """
    ----+========+----
    ----| |    | |----     courses with one joint or two in turn, from the ground to a cap at 3
    ----|   |    |----
    """
    lines = [*boards(8, 8.6, 3.0), (8, 0, 8, 3), (8.6, 0, 8.6, 3), (8, 3, 8.6, 3)]
    for k in range(courses):
        low, high = 3 / courses * k, 3 / courses * (k + 1)
        lines += [(8, high, 8.6, high)]
        lines += [(x, low, x, high) for x in ([8.2, 8.45] if k % 2 else [8.3])]
    assert found(lines) == []
    without = [*boards(8, 8.6, 3.0), (8, 0, 8, 3), (8.6, 0, 8.6, 3), (8, 3, 8.6, 3)]
    assert found(without) == [(8, 0, 8.6, 3)]


def test_boards_from_a_sill_to_the_ground_are_no_door():
    """
        +---+
        | w |     window 5 to 6.2, 1.2 to 2.4; uprights 0.3 apart end at its head and go on under it
    ||||+---+||||
    ||||||||||||||
    """
    lines = framed(5, 1.2, 6.2, 2.4)
    for x in np.arange(0.3, 23.8, 0.3).tolist():
        beside = not 4.99 < x < 6.21
        lines += [(x, 0, x, 8)] if beside else [(x, 0, x, 1.2), (x, 2.4, x, 8)]
    assert found([*lines, (5, 0, 5, 1.2), (6.2, 0, 6.2, 1.2)]) == [(5, 1.2, 6.2, 2.4)]


def test_a_band_at_which_the_courses_end_belongs_to_its_window():
    """Courses 0.2 high from end to end; a lintel 0.2 past a band of 0.12 round a frame."""
    lines = [*box(8, 1.2, 9.3, 2.8), *framed(8.12, 1.32, 9.18, 2.68)]
    lines += [*box(7.8, 2.8, 9.5, 3.0), *box(7.8, 1.1, 9.5, 1.2)]
    for y in np.arange(0.2, 7.9, 0.2).tolist():
        if 1.05 < y < 3.05:
            a, b = (8, 9.3) if 1.21 < y < 2.79 else (7.8, 9.5)
            lines += [(0, y, a, y), (b, y, 24, y)]
        else:
            lines += [(0, y, 24, y)]
    assert found(lines) == [(8, 1.2, 9.3, 2.8)]


def test_a_shop_window_under_a_flat_arch_is_one_opening():
    """A curved head over 3.8, from 2.0 at its ends to 2.4; three mullions and no frame."""
    turn = np.linspace(-1, 1, 13)
    x, y = 10 + 1.9 * turn, 2.4 - 0.4 * turn**2
    head = np.stack([x[:-1], y[:-1], x[1:], y[1:]], axis=1).tolist()
    lines = [*head, (8.1, 0.6, 11.9, 0.6), (8.1, 0.6, 8.1, 2.0), (11.9, 0.6, 11.9, 2.0)]
    lines += [(m, 0.6, m, 2.4 - 0.4 * ((m - 10) / 1.9) ** 2) for m in (9.05, 10.95)]
    (opening,) = found(lines)
    assert opening == (8.1, 0.6, 11.9, 2.4)
