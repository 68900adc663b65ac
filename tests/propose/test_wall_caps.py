"""Caps that stand out past the sides of a wall, between two claddings."""

from facades import box, framed, proposed, rounded

SHELL = [(-3, 0, 12, 0), (0, 0, 0, 4), (8, 0, 8, 4), *box(-0.4, 4, 8.4, 4.25)]
"""Ground, corners at 0 and 8, fascia over y 4; in meters."""
WINDOW = framed(5, 1.6, 6.2, 3)


def _stones(low, high, step, long):
    """Courses of stones between two heights, joints moved by half a stone."""
    rows = round((high - low) / step)
    lines = [(0, low + step * k, 8, low + step * k) for k in range(1, rows)]
    for k in range(rows):
        first = long if k % 2 else long / 2
        joints = [first + long * n for n in range(60) if first + long * n < 7.9]
        lines += [
            (x, low + step * k, x, low + step * (k + 1))
            for x in joints
            if not (4.9 < x < 6.3 and 1.6 < low + step * (k + 0.5) < 3)
        ]
    return [
        part
        for x0, y0, x1, y1 in lines
        for part in (
            [(0, y0, 5, y1), (6.2, y0, 8, y1)] if y0 == y1 and 1.6 < y0 < 3 else [(x0, y0, x1, y1)]
        )
    ]


def _cap(low, high, past=0.04):
    """A strip that stands out past both corners."""
    return box(-past, low, 8 + past, high)


def _boxes(lines):
    walls, _ = proposed([*SHELL, *WINDOW, *lines])
    return [rounded(w) for w in walls]


def test_a_cap_parts_small_stones_from_large_ones():
    """
     |_|_|_|_|_|_|    stones 0.15 x 0.3 over it
    +-------------+   cap, y 1 to 1.1
     |__|___|____|    stones 0.25 x 0.6 under it
    """
    lines = [*_cap(1.0, 1.1), *_stones(0, 1, 0.25, 0.6), *_stones(1.1, 4.1, 0.15, 0.3)[:-1]]
    assert _boxes([x for x in lines if max(x[1], x[3]) <= 4]) == [(0, 0, 8, 1), (0, 1.1, 8, 4)]


def test_a_cap_whose_upper_line_is_not_drawn_parts_stones_from_plaster():
    """Its ends stand out; of its upper line only what is past the corners is drawn."""
    ends = [(-0.04, 1.0, -0.04, 1.07), (8.04, 1.0, 8.04, 1.07)]
    ears = [(-0.04, 1.07, 0, 1.07), (8, 1.07, 8.04, 1.07)]
    lines = [(-0.04, 1.0, 8.04, 1.0), *ends, *ears, *_stones(0, 1, 0.25, 0.6)]
    assert _boxes(lines) == [(0, 0, 8, 1), (0, 1.07, 8, 4)]


def test_a_string_course_amid_the_same_stones_parts_nothing():
    """Stones 0.25 x 0.6 under the course and over it."""
    lines = [*_cap(1.25, 1.35), *_stones(0, 1.25, 0.25, 0.6), *_stones(1.35, 3.85, 0.25, 0.6)]
    assert len(_boxes(lines)) == 1


def test_a_string_course_on_plaster_parts_nothing():
    """A course at the height of a floor, on a wall on which nothing is drawn."""
    assert len(_boxes(_cap(3.2, 3.3))) == 1
