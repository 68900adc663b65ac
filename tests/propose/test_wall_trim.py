"""Trim between two claddings belongs to neither: caps, cast sills, band boards."""

from facades import box, framed, proposed, rounded

SHELL = [(-3, 0, 12, 0), (0, 0, 0, 4), (8, 0, 8, 4), *box(-0.4, 4, 8.4, 4.25)]
"""Ground, corners at 0 and 8, fascia over y 4; in meters."""
WINDOW = framed(5, 1.6, 6.2, 3)


def _battens(low, high):
    """Uprights 0.4 apart but for a window."""
    found = []
    for k in range(1, 20):
        x = 0.4 * k
        spans = [(low, 1.6), (3, high)] if 5 <= x <= 6.2 and low < 1.6 else [(low, high)]
        found += [(x, a, x, b) for a, b in spans]
    return found


def _stones(high, step=0.25):
    """Courses of stones 0.6 long up to a height, joints moved by half a stone."""
    rows = round(high / step)
    lines = [(0, step * k, 8, step * k) for k in range(1, rows)]
    for k in range(rows):
        first = 0.6 if k % 2 else 0.3
        joints = [first + 0.6 * n for n in range(13) if first + 0.6 * n < 7.9]
        lines += [(x, step * k, x, step * (k + 1)) for x in joints]
    return lines


def _boxes(lines):
    walls, _ = proposed([*SHELL, *WINDOW, *lines])
    return [rounded(w) for w in walls]


def test_a_cap_on_a_wainscot_belongs_to_neither_cladding():
    """
    |   |   |   |    battens from y 1.1
    +-----------+    cap 0.1 high
    [__][__][___]    stones up to y 1
    """
    lines = [(0, 1.0, 8, 1.0), (0, 1.1, 8, 1.1), *_stones(1.0), *_battens(1.1, 4)]
    assert _boxes(lines) == [(0, 0, 8, 1.0), (0, 1.1, 8, 4)]


def test_a_course_of_stones_as_low_as_a_cap_is_no_trim():
    """The topmost course of the wainscot is 0.1 high, with joints 0.4 apart; plaster over it."""
    low = [(0.3 + 0.4 * k, 1.0, 0.3 + 0.4 * k, 1.1) for k in range(19)]
    lines = [(0, 1.0, 8, 1.0), (0, 1.1, 8, 1.1), *_stones(1.0), *low]
    assert _boxes(lines) == [(0, 0, 8, 1.1), (0, 1.1, 8, 4)]


def test_two_lines_as_far_apart_as_a_band_of_tiles_are_no_trim():
    """A strip of 0.3 between the claddings is a band of a third one, not trim."""
    lines = [(0, 1.0, 8, 1.0), (0, 1.3, 8, 1.3), *_stones(1.0), *_battens(1.3, 4)]
    covered = sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in _boxes(lines))
    assert round(covered, 1) == 32.0


def test_the_last_board_cut_off_under_battens_is_no_trim():
    """Boards 0.2 apart below y 1.1, the last of them 0.1 high; battens over them."""
    lines = [(0, 0.2 * k, 8, 0.2 * k) for k in range(1, 6)]
    lines += [(0, 1.1, 8, 1.1), *_battens(1.1, 4)]
    assert _boxes(lines) == [(0, 0, 8, 1.1), (0, 1.1, 8, 4)]


def test_boards_two_courses_apart_are_no_trim():
    """Boards 0.075 apart begin at y 1.1; lines of the first two courses only run right across the
    windows."""
    lines = [(0, 1.1, 8, 1.1), *_stones(1.1, 0.22)]
    for k in range(1, 38):
        y = round(1.1 + 0.075 * k, 3)
        spans = [(0, 5), (6.2, 8)] if 1.6 < y < 3 else [(0, 8)]
        lines += [(a, y, b, y) for a, b in spans]
    assert _boxes(lines) == [(0, 0, 8, 1.1), (0, 1.1, 8, 4)]


def test_a_floor_line_across_the_feet_of_battens_is_no_trim():
    """Battens stand on y 1; a floor's line at 1.1 crosses them; stones below."""
    lines = [(0, 1.0, 8, 1.0), (0, 1.1, 8, 1.1), *_stones(1.0), *_battens(1.0, 4)]
    assert _boxes(lines) == [(0, 0, 8, 1.0), (0, 1.0, 8, 4)]
