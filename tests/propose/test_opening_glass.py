"""Frames told by what fills them: lites, casements, leaves, panels with braces."""

from itertools import chain

import pytest
from facades import box, framed, house, proposed, rounded


def _shell():
    """A wall 14 x 6 with eaves that hang over, and a framed window that says where it is."""
    ground, sides = [(-3, 0, 17, 0)], [(0, 0, 0, 6), (14, 0, 14, 6)]
    return [*ground, *sides, *box(-0.4, 6, 14.4, 6.2), *framed(12.3, 4.4, 13.3, 5.4)]


def _openings(*lines):
    _, openings = proposed([*_shell(), *chain.from_iterable(lines)])
    return {rounded(o) for o in openings} - {(12.3, 4.4, 13.3, 5.4)}


def test_a_ribbon_of_lites_is_one_window():
    """
    +--------------------------------+   frame 1-11 x 4-5.2, wider than any single window, five
    |[    ][    ][    ][    ][    ]  |   lites 1.92 wide, bars 0.05 between them
    +--------------------------------+
    """
    lites = [box(1.05 + 1.99 * k, 4.05, 2.99 + 1.99 * k, 5.15) for k in range(5)]
    assert _openings(box(1, 4, 11, 5.2), *lites) == {(1, 4, 11, 5.2)}


def test_shutters_are_no_part_of_a_window_with_two_casements():
    """
    +--+ +----------+ +--+    a frame 5-6 with casements 0.415 wide, shutters 0.5 wide, 0.04 off
    |  | |[  ] [  ] | |  |    each side, of the frame's height
    +--+ +----------+ +--+
    """
    casements = [box(5.07, 1.07, 5.485, 2.33), box(5.515, 1.07, 5.93, 2.33)]
    shutters = [box(4.46, 1, 4.96, 2.4), box(6.04, 1, 6.54, 2.4)]
    assert _openings(box(5, 1, 6, 2.4), *casements, *shutters) == {(5, 1, 6, 2.4)}


def test_a_shops_entrance_is_one_door():
    """Two leaves with glass 0.16 to 0.25 inside their edges, a transom over both, a frame of 0.05
    round all three, down to the ground."""
    leaves = [box(5.05, 0, 5.89, 2.13), box(5.94, 0, 6.78, 2.13)]
    glass = [box(5.15, 0.25, 5.79, 1.98), box(6.04, 0.25, 6.68, 1.98)]
    transom = box(5.05, 2.23, 6.78, 2.8)
    assert _openings(box(5, 0, 6.83, 2.85), *leaves, *glass, transom) == {(5, 0, 6.83, 2.85)}


def test_a_truck_door_of_14_ft_is_an_opening():
    """4.27 x 4.27 with a frame 0.1 wide; sections at every seventh."""
    sections = [[(5.1, 4.27 / 7 * k, 9.37, 4.27 / 7 * k)] for k in range(1, 7)]
    frame = [(5, 0, 5, 4.37), (5, 4.37, 9.47, 4.37), (9.47, 4.37, 9.47, 0)]
    found = _openings(frame, box(5.1, 0, 9.37, 4.27), *sections)
    assert found == {(5, 0, 9.47, 4.37)}


def _braced(x0, y0, x1, y1):
    return [*box(x0, y0, x1, y1), (x0, y0, x1, y1), (x0, y1, x1, y0)]


def test_the_double_doors_of_a_barn_are_one_opening():
    """Leaves 2.1 x 3 side by side, each of two braced panels 0.15 inside its edges."""
    panels = [_braced(x + 0.15, y + 0.15, x + 1.95, y + 1.4) for x in (4, 6.1) for y in (0.0, 1.45)]
    found = _openings(box(4, 0, 6.1, 3), box(6.1, 0, 8.2, 3), *panels)
    assert found == {(4, 0, 8.2, 3)}


def test_a_line_that_begins_beyond_a_bar_does_not_run_on():
    """Two windows 0.04 apart, their heads in one line."""
    _, openings = proposed([*house(), *framed(2.6, 1, 3.4, 2), *framed(3.44, 1, 4.24, 2)])
    assert {(2.6, 1, 3.4, 2), (3.44, 1, 4.24, 2)} <= {rounded(o) for o in openings}


def test_a_door_with_two_leaves_and_a_transom_is_one_opening():
    """
    +-----------+  2.7
    | +-------+ |      a transom from 2.18 to 2.62 over two leaves of 0.85 x 2.08 with glass in
    | +-------+ |      each, 0.17 from its stiles and 0.38 above its foot
    | +--+ +--+ |
    | |[]| |[]| |
    +-+--+-+--+-+  0
    5           6.9
    """
    lines = [*box(5, 0, 6.9, 2.7), *box(5.08, 2.18, 6.82, 2.62)]
    for x in (5.08, 5.97):
        lines += box(x, 0.02, x + 0.85, 2.1) + box(x + 0.17, 0.4, x + 0.68, 1.9)
    assert _openings(lines) == {(5, 0, 6.9, 2.7)}


@pytest.mark.parametrize(
    ("lintel", "sill", "count"),
    [
        ((0.2, 0.2), (0.08, 0.08), 1),  # a lintel and a sill, each as far out on both sides
        ((0.2, 0.45), (0.08, 0.31), 0),  # joints of stones end where they happen to
        ((0.2, 0.2), (2.0, 2.0), 0),  # a course under it: not dressed
    ],
)
def test_a_lintel_and_a_sill_that_touch_the_frame_hide_no_window(lintel, sill, count):
    """
    +----------------+       window 5-5.8 x 1-1.6 in two lights, the lintel 0.18 high on its
    +--+----+----+---+       head, the sill 0.06 high under its foot
       |    |    |
      ++----+----++
      +-----------+
    """
    lines = [*box(5, 1, 5.8, 1.6), (5.4, 1, 5.4, 1.6)]
    lines += box(5 - lintel[0], 1.6, 5.8 + lintel[1], 1.78)
    lines += box(5 - sill[0], 0.94, 5.8 + sill[1], 1)
    assert ((5, 1, 5.8, 1.6) in _openings(lines)) == bool(count)


@pytest.mark.parametrize("beside", ["joint", "shutter", "baluster"])
def test_a_frame_of_one_width_round_its_lites_needs_no_corner_of_its_own(beside):
    """
         |
    +----+----------+      frame 5-7.4 x 2-3.5, 0.05 wide; two lites 1.125 wide and 0.95 high
    | +-----+ +-----+      under two that are 0.4 high, bars of 0.05 between them; a joint of
    | +-----+ +-----+      panels, the edge of a shutter or a baluster goes on from its left jamb
    | +-----+ +-----+
    | |     | |     |
    | +-----+ +-----+
    +----+----------+
         |
    """
    lines = [(5, 2, 7.4, 2), (5, 3.5, 7.4, 3.5), (7.4, 2, 7.4, 3.5)]
    for x in (5.05, 6.225):
        lines += [*box(x, 2.05, x + 1.125, 3.0), *box(x, 3.05, x + 1.125, 3.45)]
    if beside == "joint":
        lines += [(5, 0, 5, 6), (1, 0, 1, 6), (9, 0, 9, 6)]
    if beside == "shutter":
        lines += [(5, 2, 5, 3.5), *box(4.4, 2, 4.985, 3.5), *box(7.415, 2, 8, 3.5)]
    if beside == "baluster":
        lines += [(5, 2, 5, 3.5), *((5 + 0.15 * k, 1.2, 5 + 0.15 * k, 2.3) for k in range(17))]
        lines += [(4, 1.2, 8, 1.2), (4, 2.3, 8, 2.3), (4, 2.35, 8, 2.35)]
    assert _openings(lines) == {(5, 2, 7.4, 3.5)}


def test_panels_of_a_wall_of_other_margins_are_no_lites():
    """
    |  +---+ +---+ |     between joints at 5 and 8, 2 and 4: a window at 5.15 and one at 6.6, both
    |  |   | |   | |     with frames; 0.15 to the left, 0.2 to the right, 0.1 over their heads
    """
    lines = [(5, 0, 5, 6), (8, 0, 8, 6), (0, 2, 14, 2), (0, 4, 14, 4)]
    windows = {(5.15, 2.2, 6.4, 3.9), (6.55, 2.2, 7.8, 3.9)}
    assert _openings(lines, *(framed(*w) for w in windows)) == windows


def test_leaves_that_slip_past_their_frame_are_one_garage_door():
    """
    +-------+-------+     4-6.8 x 0-2.2 on the ground, leaves drawn 0.004 higher; stiles 0.13 wide
    | +---+ | +---+ |     round each panel, two of them side by side where the leaves meet
    | | X | | | X | |
    | +---+ | +---+ |
    +-------+-------+
    """
    leaves = [*box(4, 0, 5.4, 2.204), *box(5.4, 0, 6.8, 2.204)]
    panels = [_braced(4.13, 0.13, 5.27, 2.07), _braced(5.53, 0.13, 6.67, 2.07)]
    (door,) = _openings(box(4, 0, 6.8, 2.2), leaves, *panels)
    assert door == pytest.approx((4, 0, 6.8, 2.2), abs=0.005)
