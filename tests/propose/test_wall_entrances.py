"""Piers on both sides of an entrance."""

import pytest
from facades import box, framed, proposed, rounded


def entrance(wide, *, canopy=True, twin=None):
    """A wall 10 wide and 4 high; doors 2 wide and 2.4 high, framed, with a pier 0.03 beside each
    jamb up to y 2.5, and a canopy over y 2.6 from the middles of the piers outward.

    ==================
    |   +=======+    |
    |   | +---+ |    |
    |   | | | | |    |
    +---+-+-+-+-+----+
    """
    lines = [(-3, 0, 13, 0), (0, 0, 0, 4), (10, 0, 10, 4), *box(-0.4, 4, 10.4, 4.25)]
    lines += [*framed(4, 0, 6, 2.4), (5, 0, 5, 2.32), *framed(1, 1, 2.2, 2.3)]
    one, two = wide, twin or wide
    lines += [*box(3.97 - one, 0, 3.97, 2.5), *box(6.03, 0, 6.03 + two, 2.5)]
    return [*lines, *(box(3.9 - one / 2, 2.6, 6.1 + two / 2, 2.8) if canopy else ())]


def test_piers_on_both_sides_of_an_entrance_are_walls():
    walls = [rounded(w) for w in proposed(entrance(0.45))[0]]
    assert (3.52, 0, 3.97, 2.5) in walls
    assert (6.03, 0, 6.48, 2.5) in walls
    assert walls[0][:2] == (0, 0)
    assert len(walls) == 3


@pytest.mark.parametrize(
    "lines",
    [entrance(0.12), entrance(0.45, canopy=False), entrance(0.45, twin=0.6)],
    ids=["casings", "no canopy", "not alike"],
)
def test_casings_shutters_and_what_has_no_twin_are_no_piers(lines):
    walls = [rounded(w) for w in proposed(lines)[0]]
    assert walls == [(0, 0, 10, 4)]
