"""Leaves and lites that make one opening: drawn cases, in metres.

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


def shop_door():
    """
      +=================+      a lintel 0.2 past both jambs, 4.8 to 8.6
      +=================+ 2.9
        | +--+    +--+ |
        | |  |+--+|  | |       side lites 1.15 wide, the door 0.84, bars of 0.08 between them and
        | |  ||  ||  | |       nothing drawn over the door
    ----+-+--++--++--+-+---    5 to 8.4
    """
    lites = [(5.05, 0.1, 6.2, 2.85), (7.2, 0.1, 8.35, 2.85), (6.28, 0.1, 7.12, 2.1)]
    return [*box(5, 0, 8.4, 2.9), *box(4.8, 2.9, 8.6, 3.1), *(x for o in lites for x in box(*o))]


def barn_door(x):
    """One leaf of a pair, 1.6 x 2.8: a panel over a panel with a crossed brace."""
    brace = [(x + 0.12, 0.12, x + 1.48, 1.34), (x + 0.12, 1.34, x + 1.48, 0.12)]
    panels = [(x + 0.12, 0.12, x + 1.48, 1.34), (x + 0.12, 1.46, x + 1.48, 2.68)]
    return [*box(x, 0, x + 1.6, 2.8), *brace, *(line for p in panels for line in box(*p))]


@pytest.mark.parametrize("plinth", [[], [(0, 0.3, 24, 0.3)]])
def test_a_shop_door_under_its_lintel_is_one_opening_with_its_side_lites(plinth):
    assert found([*shop_door(), *plinth]) == [(5, 0, 8.4, 2.9)]


def test_two_leaves_that_share_a_jamb_are_one_door():
    assert found([*barn_door(5), *barn_door(6.6)]) == [(5, 0, 8.2, 2.8)]


def test_two_leaves_with_wall_between_them_are_two_doors():
    assert found([*barn_door(5), *barn_door(6.9)]) == [(5, 0, 6.6, 2.8), (6.9, 0, 8.5, 2.8)]


def test_a_porch_beam_over_posts_is_no_lintel():
    """
     ==============     beam 4.9 to 9.1, posts at 5 to 5.2, 7 to 7.2 and 8.8 to 9
      ||   ||   ||
    --++---++---++--
    """
    posts = [line for x in (5, 7, 8.8) for line in box(x, 0, x + 0.2, 2.4)]
    assert found([*box(4.9, 2.4, 9.1, 2.7), *posts]) == []


def test_shutters_without_room_beside_their_window_are_not_part_of_it():
    """
    +--+-----+--+     panels 0.38 wide in shutters of 0.5, the window from 5 to 6.2
    |[]| | | |[]|
    +--+-----+--+
    """
    lines = [*framed(5, 1, 6.2, 2.2, 0.05), (5.6, 1.05, 5.6, 2.15)]
    for x in (4.5, 6.2):
        lines += box(x, 1, x + 0.5, 2.2)
        for low in (1.08, 1.64):
            lines += box(x + 0.06, low, x + 0.44, low + 0.48)
    assert found(lines) == [(5, 1, 6.2, 2.2)]
