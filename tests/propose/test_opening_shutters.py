"""Shutters beside windows, whatever is drawn on them: drawn cases, in metres.

+--+ +-----+ +--+      window 5 to 6.2, 1 to 2.5; shutters 0.45 wide, 0.02 beside it: 4.53 to 4.98
|  | |  |  | |  |      and 6.22 to 6.67
+--+ +-----+ +--+
"""

import numpy as np
import pytest
from facades import box, framed, rounded

from dxf2veneer.propose.openings import find_openings

WALL = [(-2, 0, 26, 0), (0, 0, 0, 6), (24, 0, 24, 6), (0, 6, 24, 6)]
WINDOW = (5, 1, 6.2, 2.5)


def found(lines):
    chosen = find_openings(np.array([*WALL, *lines], float), np.empty(0, dtype=object), metre=1.0)
    return sorted(rounded(c.polygon) for c in chosen)


def casements(x0, y0, x1, y1):
    """A frame 0.05 wide and two casements in it that leave 0.01 between them."""
    middle = (x0 + x1) / 2
    left = (x0 + 0.05, y0 + 0.05, middle - 0.005, y1 - 0.05)
    right = (middle + 0.005, y0 + 0.05, x1 - 0.05, y1 - 0.05)
    return [*box(x0, y0, x1, y1), *framed(*left), *framed(*right)]


def shutter(x, y0, y1, leaf, width=0.45):
    """One with two panels or with louvres; "split" is two leaves hung over each other."""
    middle = y0 + 0.4 * (y1 - y0)
    if leaf == "split":
        parts = [(y0, middle - 0.01), (middle + 0.01, y1)]
        return [
            *box(x, y0, x + width, y1),
            *(
                line
                for a, b in parts
                for line in framed(x + 0.01, a + 0.01, x + width - 0.01, b - 0.01)
            ),
        ]
    lines = box(x, y0, x + width, y1)
    if leaf == "panels":
        lines += box(x + 0.05, y0 + 0.05, x + width - 0.05, middle - 0.025)
        lines += box(x + 0.05, middle + 0.025, x + width - 0.05, y1 - 0.05)
    if leaf == "louvres":
        slats = np.arange(y0 + 0.1, y1 - 0.05, 0.1)
        lines += [(x + 0.05, y, x + width - 0.05, y) for y in slats]
    return lines


def pair(window, leaf, *, foot=0.0, head=0.0, width=0.45):
    x0, y0, x1, y1 = window
    return [
        *shutter(x0 - 0.02 - width, y0 + foot, y1 - head, leaf, width),
        *shutter(x1 + 0.02, y0 + foot, y1 - head, leaf, width),
    ]


@pytest.mark.parametrize("leaf", ["bare", "panels", "louvres", "split"])
@pytest.mark.parametrize("margin", [0.0, 0.09])
def test_shutters_are_no_openings(leaf, margin):
    #  as tall as the window, or less by the casing at foot and head
    lines = [*casements(*WINDOW), *pair(WINDOW, leaf, foot=margin, head=margin)]
    assert found(lines) == [WINDOW]


@pytest.mark.parametrize("leaf", ["panels", "split"])
def test_a_downspout_along_a_shutter_makes_no_opening_of_its_panels(leaf):
    """
    +--+ +-----+ +--|
    |[]| |  |  | |[]|      a downspout comes down at the outer edge of the right shutter
    |[]| |  |  | |[]|
    +--+ +-----+ +--|
    """
    lines = [*casements(*WINDOW), *pair(WINDOW, leaf), (6.67, 0, 6.67, 6), (6.75, 0, 6.75, 6)]
    assert found(lines) == [WINDOW]


def test_the_wall_between_the_shutters_of_two_windows_is_no_opening():
    """
    |=| +---+ |=|-------|=| +---+ |=|     boards run from leaf to leaf; the wall between both
    |=| | | | |=|-------|=| | | | |=|     windows has a window on either side as a window has a
    |=| +---+ |=|-------|=| +---+ |=|     shutter
    """
    windows = [(5, 1, 6.2, 2.6), (8.4, 1, 9.6, 2.6)]
    lines = [
        line
        for w in windows
        for line in [
            *framed(*w, 0.09),
            *casements(w[0] + 0.14, w[1] + 0.14, w[2] - 0.14, w[3] - 0.14),
            *pair(w, "panels", foot=0.09, head=0.09),
        ]
    ]
    lines += [(6.2, 1, 8.4, 1), (6.2, 2.6, 8.4, 2.6)]
    lines += [(6.67, y, 7.93, y) for y in np.arange(1.2, 2.6, 0.2)]
    lines += [
        (x0, y, x1, y)
        for y in np.arange(0.2, 6.0, 0.2)
        for x0, x1 in [(0, 4.53), (10.07, 24)]
        if 1.1 < y < 2.5
    ]
    lines += [(0, y, 24, y) for y in np.arange(0.2, 6.0, 0.2) if not 1.0 < y < 2.7]
    assert found(lines) == windows


def test_three_lites_in_one_frame_are_no_shutters():
    """
    +----------------+
    | +--+ +----+ +--+|     a fixed lite between two narrow casements
    | +--+ +----+ +--+|
    +----------------+
    """
    lines = [*box(5, 1, 7.6, 2.5), *box(5.06, 1.06, 5.6, 2.44), *box(5.64, 1.06, 6.96, 2.44)]
    lines += box(7.0, 1.06, 7.54, 2.44)
    assert found(lines) == [(5, 1, 7.6, 2.5)]


def test_two_windows_of_other_widths_beside_one_are_no_shutters():
    #  0.08 apart, 0.5 and 0.7 wide
    windows = [(4.42, 1, 4.92, 2.5), WINDOW, (6.28, 1, 6.98, 2.5)]
    assert found([line for w in windows for line in framed(*w)]) == windows
