"""Round openings and triangles in a gable: drawn cases, in metres.

          /\\                  the gable from 0 to 12 over eaves at 4, its apex at 8
        /    \\
      /   ()   \\             centre of what is round: (5, 5.2)
    /____________\\
"""

import itertools

import numpy as np
import pytest
from facades import rounded

from dxf2veneer.propose.lines.runs import runs_of
from dxf2veneer.propose.openings import find_openings, kind_of, setting_of

SHELL = [(-2, 0, 14, 0), (0, 0, 0, 4), (12, 0, 12, 4), (0, 4, 6, 8), (6, 8, 12, 4)]


def found(lines):
    drawn = np.array([*SHELL, *lines], float)
    return [c.polygon for c in find_openings(drawn, np.empty(0, dtype=object), metre=1.0)]


def kind(lines, opening):
    setting = setting_of(opening, 4.0, runs_of(np.array(lines, float), gap=0.008), metre=1.0)
    return kind_of(opening, setting=setting, metre=1.0)


def circle(x, y, radius, count=32):
    turn = np.linspace(0, 2 * np.pi, count + 1)
    corners = np.stack([x + radius * np.cos(turn), y + radius * np.sin(turn)], axis=1)
    return [(*a, *b) for a, b in itertools.pairwise(corners.tolist())]


def slats(x, y, radius, step=0.075):
    """From rim to rim, the lowest a step over the foot of the circle."""
    heights = np.arange(y - radius + step, y + radius - 0.02, step)
    half = np.sqrt(radius**2 - (heights - y) ** 2)
    return [(x - a, h, x + a, h) for a, h in zip(half.tolist(), heights.tolist(), strict=True)]


def boards(step=0.15):
    """Boards of the gable, none of them over what is round."""
    lines = []
    for y in np.arange(4.03 + step, 7.9, step):
        left, right = 1.5 * (y - 4), 12 - 1.5 * (y - 4)
        away = 0.3**2 - (y - 5.2) ** 2
        half = away**0.5 if away > 0 else 0.0
        spans = [(left, 5 - half), (5 + half, right)] if half else [(left, right)]
        lines += [(a, y, b, y) for a, b in spans]
    return lines


@pytest.mark.parametrize("clad", [False, True])
def test_a_round_vent_whose_slats_run_from_rim_to_rim_is_a_vent(clad):
    vent = [*circle(5, 5.2, 0.3), *slats(5, 5.2, 0.3)]
    (opening,) = found([*vent, *(boards() if clad else [])])
    assert rounded(opening) == (4.7, 4.9, 5.3, 5.5)
    assert opening.area == pytest.approx(np.pi * 0.3**2, rel=0.01)
    assert kind([*SHELL, *vent], opening) == "vent"


def test_a_small_round_window_with_a_cross_is_a_window():
    cross = [(4.75, 5.2, 5.25, 5.2), (5, 4.95, 5, 5.45)]
    window = [*circle(5, 5.2, 0.3), *circle(5, 5.2, 0.25), *cross]
    (opening,) = found(window)
    assert rounded(opening) == (4.7, 4.9, 5.3, 5.5)
    assert kind([*SHELL, *window], opening) == "window"


def triangle(x, y, width, height):
    corners = [(x, y), (x + width, y), (x + width / 2, y + height)]
    return [(*a, *b) for a, b in itertools.pairwise([*corners, corners[0]])]


@pytest.mark.parametrize("framed", [False, True])
def test_a_triangle_with_slats_is_a_vent(framed):
    """
         /\\
        /--\\        4 to 5 wide, 5 to 5.5 high; slats every 0.08, short of its sides, with a
       /----\\       frame round them or without
      +------+
    """
    lines = triangle(4, 5, 1.0, 0.5)
    lines += triangle(4.12, 5.05, 0.76, 0.38) if framed else []
    for height in np.arange(0.08, 0.36, 0.08):
        half = 0.5 - height - 0.07
        lines.append((4.5 - half, 5 + height, 4.5 + half, 5 + height))
    (opening,) = found(lines)
    assert rounded(opening) == (4, 5, 5, 5.5)
    assert opening.area == pytest.approx(0.25, rel=0.01)
    assert kind([*SHELL, *lines], opening) == "vent"


def test_the_wheel_of_a_car_before_boards_is_no_vent():
    wheels = [line for x in (5, 7.6) for line in circle(x, 0.32, 0.32)]
    siding = [(0, y, 12, y) for y in np.arange(0.1, 3.9, 0.1)]
    assert found([*wheels, *siding]) == []


def test_a_gable_with_boards_is_no_vent():
    #  over the eaves at 4 lies a gable 12 wide, and on a dormer one that is 1.2 wide
    lines = [(0, 4, 12, 4), *boards(0.1), (5, 4.6, 5, 5.4), (6.2, 4.6, 6.2, 5.4)]
    lines += [
        *triangle(5, 5.4, 1.2, 0.6),
        *((5 + a, 5.4 + a, 6.2 - a, 5.4 + a) for a in (0.1, 0.2, 0.3, 0.4)),
    ]
    assert found(lines) == []


def test_a_lopsided_stone_with_lines_in_it_is_no_vent():
    corners = [(4, 5), (5, 5), (4.9, 5.3), (4.3, 5.5)]
    lines = [(*a, *b) for a, b in itertools.pairwise([*corners, corners[0]])]
    lines += [(4.25, y, 4.8, y) for y in (5.08, 5.16, 5.24, 5.32)]
    assert found(lines) == []


@pytest.mark.parametrize(("half", "rise"), [(1.2, 0.45), (1.2, 1.2), (1.6, 0.8)])
def test_a_triangle_in_an_even_frame_is_a_window(half, rise):
    """The frame is 0.05 wide on all three sides."""
    slant = np.hypot(half, rise)
    inner = half - 0.05 * (half + slant) / rise  # similar, its foot 0.05 higher
    lines = triangle(6 - half, 5, 2 * half, rise)
    lines += triangle(6 - inner, 5.05, 2 * inner, rise * inner / half)
    assert [rounded(o) for o in found(lines)] == [(6 - half, 5.0, 6 + half, 5.0 + rise)]


def test_a_gable_under_bargeboards_is_no_window():
    """A dormer's gable: its foot is the eaves, without a frame."""
    assert not found([*triangle(4.8, 5, 2.4, 0.8), *triangle(5, 5, 2.0, 0.8 / 1.2)])
