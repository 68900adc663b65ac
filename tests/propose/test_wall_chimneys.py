"""What stands on a roof or is one, told from walls by what lies in it."""

import shapely
from facades import box, framed, proposed, rounded

HOUSE = [(-3, 0, 13, 0), (0, 0, 0, 3), (10, 0, 10, 3), *framed(1, 0.9, 2.4, 2.3)]
HOUSE += framed(5, 0, 6, 2.1)
WALL = (0, 0, 10, 3)
EAVES = box(-0.4, 3, 10.4, 3.2)
"""The fascia of the house, 0.2 deep."""


CHIMNEY_BOX = (6, 4.8, 6.8, 6.4)
CHIMNEY = [*box(*CHIMNEY_BOX), *box(5.9, 6.4, 6.9, 6.55)]
CHIMNEY += [(-0.4, 3.2, -0.4, 5.6), (10.4, 3.2, 10.4, 5.6)]
CHIMNEY += [(-0.4, 5.6, 6, 5.6), (6.8, 5.6, 10.4, 5.6)]
"""A chimney with its cap before a roof up to y 5.6."""


def _walls(lines):
    return [rounded(w) for w in proposed(lines)[0]]


def test_a_chimney_under_its_cap_is_no_wall_with_itself_for_an_opening():
    """
             .-----.          cap 1.0 x 0.15
     ________'|---|'________  ridge 5.6, chimney 6-6.8 from 4.8 to 6.4 before the roof
    |         |   |         |
    |         '---'         |
    |_______________________| fascia
     |  [w]       [d]      |
    """
    assert _walls([*HOUSE, *EAVES, *CHIMNEY]) == [WALL]


def test_a_chimney_hatched_with_stone_is_a_wall():
    stone = [("GRAVEL", shapely.box(*CHIMNEY_BOX))]
    walls, _ = proposed([*HOUSE, *EAVES, *CHIMNEY], patterns=stone)
    assert [rounded(w) for w in walls] == [WALL, CHIMNEY_BOX]


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
