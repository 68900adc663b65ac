"""Roofs that stand on an eaves alone, told from what hangs over and from gables."""

import numpy as np
import shapely
from facades import framed

from dxf2veneer.propose.walls.roofs import over_eaves
from dxf2veneer.propose.walls.structure import structure_of

NONE = np.empty(0, dtype=object)
WALL = [(-3, 0, 13, 0), (0, 0, 0, 3), (10, 0, 10, 3), (-0.4, 3, 10.4, 3)]
"""A wall 10 x 3 under an eaves that hangs over by 0.4."""


def _roofs(over, windows=NONE):
    """The area over the wall's eaves that is told to be roof."""
    lines = np.array([*WALL, *over], float)
    s = structure_of(lines, windows, windows, gap=0.008, metre=1.0)
    return round(float(shapely.area(s.mesh.faces[over_eaves(s, windows)]).sum()), 1)


HIP = [(-0.4, 3, 3.6, 5), (3.6, 5, 6.4, 5), (6.4, 5, 10.4, 3)]


def test_a_hip_roof_slopes_in_from_both_ends_of_its_eaves():
    """
         __________
        /          \\        y 5, from 3.6 to 6.4
    ---+------------+---     y 3, from -0.4 to 10.4
       |            |
    """
    assert _roofs(HIP) == round((10.8 + 2.8) / 2 * 2, 1)


def test_tiles_on_a_roof_are_part_of_it():
    """Level lines at 3.5 and 4.2 from slope to slope, at twice the rise from the ends."""
    tiles = [(0.6, 3.5, 9.4, 3.5), (2.0, 4.2, 8.0, 4.2)]
    assert _roofs([*HIP, *tiles]) == round((10.8 + 2.8) / 2 * 2, 1)


def test_what_stands_upright_on_an_eaves_may_be_a_wall():
    """A box from -0.4 to 10.4 and from 3 to 6: a storey that hangs over, or a roof with gables."""
    assert _roofs([(-0.4, 3, -0.4, 6), (-0.4, 6, 10.4, 6), (10.4, 6, 10.4, 3)]) == 0


def test_windows_make_a_wall_of_what_slopes():
    """Three windows 1.5 x 1.6 are half of the hip's area and more."""
    boxes = [(1.8 + 2.2 * k, 3.2, 3.6 + 2.2 * k, 4.6) for k in range(3)]
    lines = [line for b in boxes for line in framed(*b)]
    windows = np.array([shapely.box(*b) for b in boxes], dtype=object)
    assert _roofs([*HIP, *lines], windows) == 0


def test_a_gable_over_a_line_across_it_has_the_roofs_edge_over_it():
    """Rakes 0.25 deep from the ends of the eaves to the ridge at 6: what they cover is a gable."""
    rakes = [(-0.4, 3, 5, 6), (5, 6, 10.4, 3), (-0.4, 3.25, 5, 6.25), (5, 6.25, 10.4, 3.25)]
    rakes += [(-0.4, 3, -0.4, 3.25), (10.4, 3, 10.4, 3.25)]
    assert _roofs(rakes) == 0
