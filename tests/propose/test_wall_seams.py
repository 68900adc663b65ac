"""Roofs of metal, told from walls though their seams look like windows."""

from facades import box, framed, proposed, rounded

HOUSE = [(-3, 0, 13, 0), (0, 0, 0, 3), (10, 0, 10, 3), *framed(1, 0.9, 2.4, 2.3)]
HOUSE += framed(5, 0, 6, 2.1)
WALL = (0, 0, 10, 3)
EAVES = box(-0.4, 3, 10.4, 3.2)
"""The fascia of the house, 0.2 deep."""


def _walls(lines):
    return [rounded(w) for w in proposed(lines)[0]]


def test_seams_of_a_metal_roof_make_no_windows_that_make_a_wall_of_it():
    """
    |_|_|_|_|_|_|_|   ridge 5.25, its cap 0.12 deep, over which the seams go
    |_|_|_|_|_|_|_|
    | | | | | | | |   seams 0.2 apart, from 3.25 on
    |_____________|   gutter 3.15, 0.1 high, over a fascia from 3
     |  [w] [d]  |
    """
    edges = [(-0.4, 5.13, 10.4, 5.13), *box(-0.4, 3.15, 10.4, 5.25), *box(-0.4, 3, 10.4, 3.25)]
    seams = [(round(0.2 * k - 0.4, 3), 3.25, round(0.2 * k - 0.4, 3), 5.25) for k in range(1, 54)]
    assert _walls([*HOUSE, *edges, *seams]) == [WALL]
