"""Frames told by what fills them: lites, casements, leaves, panels with braces."""

from itertools import chain

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
