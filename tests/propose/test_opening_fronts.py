"""Openings behind what stands before them, and as large as they come: drawn cases.

All in metres, on a wall from 0 to 24, 8 high, over ground from -5 to 30.
"""

import itertools

import numpy as np
import pytest
import shapely
from facades import box, rounded

from dxf2veneer.propose.lines.runs import runs_of
from dxf2veneer.propose.openings import find_openings, kind_of, setting_of

WALL = [(-5, 0, 30, 0), (0, 0, 0, 8), (24, 0, 24, 8), (-0.3, 8, 24.3, 8), (-0.3, 8.2, 24.3, 8.2)]


def found(lines, metre=1.0):
    drawn = np.array([*WALL, *lines], float) * metre
    chosen = find_openings(drawn, np.empty(0, dtype=object), metre=metre)
    return sorted(
        rounded(shapely.affinity.scale(c.polygon, *[1 / metre] * 2, origin=(0, 0))) for c in chosen
    )


def kind(lines, opening, above):
    runs = runs_of(np.array(lines, float), gap=0.008)
    outline = shapely.box(*opening)
    return kind_of(outline, setting=setting_of(outline, above, runs, metre=1.0), metre=1.0)


def boards(opening, step=0.2):
    """Boards over the whole wall, none of them over the opening."""
    x0, y0, x1, y1 = opening
    lines = []
    for y in np.arange(step, 7.95, step):
        lines += [(0, y, x0, y), (x1, y, 24, y)] if y0 <= y < y1 - 1e-6 else [(0, y, 24, y)]
    return lines


#  feet in metres: 14 x 14, 12 x 10, 24 x 16
DOORS = [(4.27, 4.27), (3.66, 3.05), (7.32, 4.88)]


@pytest.mark.parametrize("clad", [False, True])
@pytest.mark.parametrize("leaf", ["bare", "sections", "lites"])
@pytest.mark.parametrize(("wide", "high"), DOORS)
def test_an_overhead_door_is_one_opening_up_to_16_feet(wide, high, leaf, clad):
    """
    +-------------+
    |-------------|     bare; or sections of some 0.6 from jamb to jamb; or lites in the last but
    | [] [] [] [] |     one of them as well
    |-------------|
    |-------------|
    --+-------------+---
    """
    count = round(high / 0.6)
    step = high / count
    lines = box(6.3, 0, 6.3 + wide, high)
    if leaf != "bare":
        lines += [(6.3, step * k, 6.3 + wide, step * k) for k in range(1, count)]
    if leaf == "lites":
        y, lite = step * (count - 2), wide / 4
        for k in range(4):
            x = 6.3 + k * lite
            lines += box(x + 0.08, y + 0.06, x + lite - 0.08, y + step - 0.06)
    opening = (6.3, 0, round(6.3 + wide, 2), high)
    assert found([*lines, *(boards(opening) if clad else [])]) == [opening]


def test_the_front_of_a_wing_is_no_overhead_door():
    #  as large as one, but windows lie in it, and no line parts it from jamb to jamb
    lines = [*box(6, 0, 11, 4), *box(7, 1, 8.2, 2.4), *box(7.08, 1.08, 8.12, 2.32)]
    assert found(lines) == [(7, 1, 8.2, 2.4)]


@pytest.mark.parametrize("metre", [1.0, 1000.0, 39.37007874])
@pytest.mark.parametrize("room", [0.02, 0.05, 0.1])
@pytest.mark.parametrize("half", [True, False])
def test_shutters_beside_two_sashes_are_outside(room, half, metre):
    """
    |=| +--+--+ |=|     no frame is drawn but the outline round both sashes; the shutters' heads are
    |=| |  |  | |=|     at the height of the window's
    |=| +--+--+ |=|
    """
    lines = [*box(5, 1, 6.1, 2.5), *box(5.06, 1.06, 5.535, 2.44), *box(5.565, 1.06, 6.04, 2.44)]
    leaf = 0.55 if half else 0.35
    for x in (5 - room - leaf, 6.1 + room):
        lines += [*box(x, 1, x + leaf, 2.5), *box(x + 0.05, 1.05, x + leaf - 0.05, 2.45)]
        lines += [(x + 0.05, y, x + leaf - 0.05, y) for y in np.arange(1.1, 2.44, 0.05)]
    assert found(lines, metre) == [(5, 1, 6.1, 2.5)]


@pytest.mark.parametrize("count", [5, 8, 12])
@pytest.mark.parametrize("across", [True, False])
def test_single_lines_part_a_ribbon_or_the_glass_of_a_staircase(count, across):
    #  panes of 0.9 x 0.6 side by side, or one over the other, on free corners all round
    if across:
        opening = (2, 1.2, round(2 + 0.9 * count, 2), 1.8)
        bars = [(2 + 0.9 * k, 1.2, 2 + 0.9 * k, 1.8) for k in range(1, count)]
    else:
        opening = (2, 0.4, 2.9, round(0.4 + 0.6 * count, 2))
        bars = [(2, 0.4 + 0.6 * k, 2.9, 0.4 + 0.6 * k) for k in range(1, count)]
    assert found([*box(*opening), *bars]) == [opening]


def railing(kind, x0, x1, y):
    """A railing 1.05 high on a slab 0.2 deep, its handrail 0.05 thick."""
    lines = [*box(x0, y - 0.2, x1, y), *box(x0, y + 1.0, x1, y + 1.05)]
    if kind == "balusters":
        lines += [(x0, y + 0.08, x1, y + 0.08)]
        lines += [(x, y + 0.08, x, y + 1.0) for x in np.arange(x0, x1 + 0.001, 0.11)]
    if kind == "cables":
        lines += [(x0, y + 0.12 * k, x1, y + 0.12 * k) for k in range(1, 8)]
        lines += [(x, y, x, y + 1.0) for x in (x0, x0 + 0.1, x1 - 0.1, x1)]
    if kind == "glass":
        middle = (x0 + x1) / 2
        lines += box(x0 + 0.05, y + 0.08, middle - 0.02, y + 0.95)
        lines += box(middle + 0.02, y + 0.08, x1 - 0.05, y + 0.95)
    return lines


@pytest.mark.parametrize("front", ["balusters", "cables", "glass"])
@pytest.mark.parametrize("frame", [False, True])
@pytest.mark.parametrize("wide", [1.0, 1.5, 2.4])
def test_a_door_behind_a_railing_is_whole_and_the_railing_none(front, frame, wide):
    """
          +-----+
          |     |
    ======|=====|====     the lines of the railing run through the door, its jambs past the handrail
    | | | | | | | | |
    -----------------     3.0
    """
    opening = (8, 3, 8 + wide, 5.2)
    lines = [*box(*opening), *railing(front, 7.1, 8.8 + wide, 3.0)]
    if frame:
        left, right = 8.06, 7.94 + wide
        lines += [(left, 3, left, 5.14), (left, 5.14, right, 5.14), (right, 5.14, right, 3)]
    assert found(lines) == [opening]
    assert kind(lines, opening, 3.0) == "door"


def arc(middle, y, radius, count=24):
    turn = np.linspace(0, np.pi, count + 1)
    points = np.stack([middle + radius * np.cos(turn), y + radius * np.sin(turn)], 1)
    return [(*a, *b) for a, b in itertools.pairwise(points.tolist())]


@pytest.mark.parametrize("ring", [0.15, 0.25])
def test_stones_over_an_arched_door_are_no_frame(ring):
    """
       _.-'-._
      /_.---._\\      joints from one curve to the other; boards of a leaf, no frame; the door
     |/       \\|     stands on a step
     ||   |   ||
    ===============
    """
    lines = [*box(4, 0, 7, 0.15), (5, 0.15, 5, 1.7), (6.2, 0.15, 6.2, 1.7), *arc(5.6, 1.7, 0.6)]
    out = 0.6 + ring
    lines += [(5.6 - out, 0.15, 5.6 - out, 1.7), (5.6 + out, 0.15, 5.6 + out, 1.7)]
    lines += arc(5.6, 1.7, out)
    for turn in np.radians(np.arange(20, 180, 20)):
        c, s = np.cos(turn), np.sin(turn)
        lines.append((5.6 + 0.6 * c, 1.7 + 0.6 * s, 5.6 + out * c, 1.7 + out * s))
    lines += [(5.6 + x, 0.15, 5.6 + x, 1.7 + (0.36 - x * x) ** 0.5) for x in (-0.3, 0.0, 0.3)]
    assert found(lines) == [(5, 0.15, 6.2, 2.3)]


def test_the_plinth_of_a_post_and_a_meters_box_are_none():
    """
         | |
       +-----+     a post on its plinth, 0.4 wide        +---+
       |     |                                           | / |  one diagonal, 0.5 x 0.7
    ---+-----+---                                        +---+
    """
    post = [*box(5, 0, 5.4, 0.5), *box(5.03, 0.03, 5.37, 0.47), *box(5.1, 0.5, 5.3, 4)]
    assert found(post) == []
    meter = [*box(9, 0.8, 9.5, 1.5), (9, 0.8, 9.5, 1.5)]
    assert found(meter) == []


@pytest.mark.parametrize(
    ("step", "expected"),
    [(0.05, "vent"), (0.1, "vent"), (0.3, "window")],
)
def test_slats_make_a_vent_and_glazing_bars_do_not(step, expected):
    #  1.2 x 0.9, 5 m up
    opening = (3, 5, 4.2, 5.9)
    slats = [(3.0, y, 4.2, y) for y in np.arange(5 + step, 5.9 - 0.02, step)]
    assert kind([*box(*opening), *slats], opening, 5.0) == expected


@pytest.mark.parametrize("transom", [False, True])
def test_glass_before_which_an_awning_hangs_is_a_shops_and_no_garage_door(transom):
    #  mullions from foot to head, a bulkhead 0.4 high, an awning's foot across the glass
    opening = (3, 0, 6.6, 2.9)
    lines = [*box(*opening), (4.2, 0.05, 4.2, 2.85), (5.4, 0.05, 5.4, 2.85), (3, 0.4, 6.6, 0.4)]
    lines += [(3, 2.2, 6.6, 2.2)] if transom else []
    assert kind([*lines, (2.7, 2.6, 6.9, 2.6)], opening, 0.0) == "door"
    sections = [(3, 0.58 * k, 6.6, 0.58 * k) for k in range(1, 5)]
    assert kind([*box(*opening), *sections], opening, 0.0) == "garage"
