"""Casings are part of the opening, whatever their boards; lintels and sills of stone are not.

All in inches, on a wall from 0 to 400, 240 high, over ground from -60 to 460. The frame is a window
from 100 to 136 and from 60 to 108, or a door from 200 to 238 and from 0 to 84.
"""

import numpy as np
import pytest
import shapely
from facades import box

from dxf2veneer.propose.openings import find_openings

METRE = 39.37007874
WALL = [
    *[(-60, 0, 460, 0), (0, 0, 0, 240), (400, 0, 400, 240)],
    *[(-12, 240, 412, 240), (-12, 248, 412, 248)],
]
WINDOW = [*box(100, 60, 136, 108), *box(103, 63, 133, 105), (103, 84, 133, 84)]


def found(lines, scale=1.0):
    """The corners of the only opening, rounded to 1/16 in, in inches, with its straight points left
    out."""
    drawn = np.array([*WALL, *lines], float) * scale
    (only,) = find_openings(drawn, np.empty(0, dtype=object), metre=METRE * scale)
    shape = shapely.simplify(only.polygon, 0.2 * scale)
    return {tuple(round(16 * c / scale) / 16 for c in p) for p in shape.exterior.coords}


def corners(x0, y0, x1, y1):
    return {(x0, y0), (x1, y0), (x1, y1), (x0, y1)}


def pipe(x0, x1, foot, head):
    """Two legs and a head, open at the foot."""
    return [(x0, foot, x0, head), (x0, head, x1, head), (x1, head, x1, foot)]


@pytest.mark.parametrize("scale", [1.0, 25.4, 1 / 12])
def test_boards_that_butt_are_taken_with_ears_and_sill(scale):
    """
    +---------------+     head: 7 high, ears of 1
    ++-+---------+-++
     | |         | |      sides: 5.5 wide
    ++-+---------+-++
    +---------------+     sill: 2 high
    """
    lines = [*WINDOW, *box(94.5, 60, 100, 108), *box(136, 60, 141.5, 108)]
    lines += [*box(93.5, 108, 142.5, 115), *box(93.5, 58, 142.5, 60)]
    ears = {(93.5, 108), (94.5, 108), (141.5, 108), (142.5, 108)}
    feet = {(93.5, 60), (94.5, 60), (141.5, 60), (142.5, 60)}
    assert found(lines, scale) == corners(93.5, 58, 142.5, 115) | ears | feet


def test_a_head_as_long_as_the_sides_are_apart_needs_no_sill():
    lines = [*WINDOW, *box(92.75, 60, 100, 108), *box(136, 60, 143.25, 108)]
    assert found([*lines, *box(92.75, 108, 143.25, 117.5)]) == corners(92.75, 60, 143.25, 117.5)


def test_two_windows_in_one_casing_are_one_opening():
    """
    +-------------+
    +-+----+----+-+
    | |    |    | |     the mullion stands on the frame's own foot
    +-+----+----+-+
    """
    units = [*box(100, 60, 172, 108), (135, 60, 135, 108), (137, 60, 137, 108)]
    units += [*box(103, 63, 132, 105), *box(140, 63, 169, 105)]
    lines = [*units, *box(94.5, 60, 100, 108), *box(172, 60, 177.5, 108)]
    assert found([*lines, *box(94.5, 108, 177.5, 115)]) == corners(94.5, 60, 177.5, 115)


def test_two_windows_of_two_leaves_in_one_casing_are_one_opening():
    """
    +---------------------+
    +-+----+---++---+---+-+
    | |    |   ||   |   | |     every leaf and the mullion reach from the foot to the head
    +-+----+---++---+---+-+
    +---------------------+
    """
    units = [(x, 60, x, 108) for x in (117.5, 135, 137, 154.5)]
    units += [*box(100, 60, 172, 108)]
    for x in (100, 117.5, 137, 154.5):
        units += box(x + 2, 62, x + 15.5, 106)
    lines = [*units, *box(94.5, 60, 100, 108), *box(172, 60, 177.5, 108)]
    lines += [*box(93.5, 108, 178.5, 115), *box(93.5, 58, 178.5, 60)]
    ears = {(x, y) for x in (93.5, 94.5, 177.5, 178.5) for y in (60, 108)}
    assert found(lines) == corners(93.5, 58, 178.5, 115) | ears


@pytest.mark.parametrize("mitres", [True, False])
def test_a_ring_of_casing_is_one_opening_with_its_window(mitres):
    ring = box(94, 54, 142, 114)
    if mitres:
        ring += [(94, 54, 100, 60), (142, 54, 136, 60), (94, 114, 100, 108), (142, 114, 136, 108)]
    assert found([*WINDOW, *ring]) == corners(94, 54, 142, 114)


@pytest.mark.parametrize("foot", [0, 7])
@pytest.mark.parametrize("across", [True, False])
def test_the_casing_of_a_door_stands_where_the_door_stands(foot, across):
    """
    +-----------+
    +-+-------+-+     the line across where boards butt may be left out
    | | +---+ | |
    | | |   | | |     on the ground, or 7 above it with nothing under the legs
    + +-+---+-+ +
    """
    lines = [*box(200, foot, 238, foot + 84), *box(202, foot, 236, foot + 82)]
    lines += pipe(194.5, 243.5, foot, foot + 91.5)
    if across:
        lines += [(194.5, foot + 84, 243.5, foot + 84)]
    assert found(lines) == corners(194.5, foot, 243.5, foot + 91.5)


def test_lintel_and_sill_of_stone_are_no_casing():
    """
    +---+---+---+---+
    +---+---+---+---+     8 high, bears on 6 at either side
       |         |
      ++---------++
      +-----------+       2 past the frame
    """
    lintel = [*box(94, 108, 142, 116), (106, 108, 106, 116), (118, 108, 118, 116)]
    sill = box(98, 57.5, 138, 60)
    assert found([*WINDOW, *lintel, *sill]) == corners(100, 60, 136, 108)


def test_a_lintel_over_side_casings_is_no_head_casing():
    lines = [*WINDOW, *box(96, 60, 100, 108), *box(136, 60, 140, 108)]
    assert found([*lines, *box(88, 108, 148, 116)]) == corners(96, 60, 140, 108)


def test_shutters_are_no_casing():
    lines = [*WINDOW, *box(81, 60, 99, 108), *box(137, 60, 155, 108)]
    assert found(lines) == corners(100, 60, 136, 108)


def test_boards_of_a_cladding_are_no_casing():
    """
    | | +-----------+ | |     upright boards 6 wide end where they do over a door, and its jambs
    | | | | | | | | | | |     stand midway between two joints: a line over four of them is a trim
    | | +-+-------+-+ | |
    | | | |       | | | |
    """
    lines = [*box(202, 0, 238, 84), *box(204, 0, 236, 82)]
    lines += [(x, 0, x, 94) for x in (193, 199, 241, 247)]
    lines += [(x, 84, x, 94) for x in range(205, 240, 6)]
    assert found([*lines, (199, 94, 241, 94)]) == corners(202, 0, 238, 84)
