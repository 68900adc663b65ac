"""Stones of irregular shapes: rubble, told by the short sloped lines all over a stretch of wall."""

import itertools

import numpy as np
import shapely
from facades import box, framed

from dxf2veneer.propose.openings import find_openings
from dxf2veneer.propose.walls import find_walls


def rubble(x0, y0, x1, y1):
    """Irregular stones about 0.4 wide: cells of points that stray from a grid, cut at a box."""
    chance = np.random.default_rng(7)
    grid = np.stack(np.meshgrid(np.arange(-1, 30) * 0.4, np.arange(-1, 12) * 0.35), axis=2)
    points = grid.reshape(-1, 2) + chance.uniform(-0.12, 0.12, (grid.size // 2, 2)) + [x0, y0]
    cells = shapely.voronoi_polygons(shapely.multipoints(points), only_edges=True)
    inside = shapely.get_parts(cells.intersection(shapely.box(x0, y0, x1, y1)))
    rows = [shapely.get_coordinates(line) for line in inside]
    return [(*a, *b) for row in rows for a, b in itertools.pairwise(row.tolist())]


def _clad(lines):
    """The boxes of the walls of some lines, with what is drawn on each."""
    segments, none = np.array(lines, float), np.empty(0, dtype=object)
    opened = np.array([c.polygon for c in find_openings(segments, none, metre=1.0)], dtype=object)
    drawn = np.ones(len(segments), bool)
    walls = find_walls(segments, drawn, segments, opened, opened, opened, [], metre=1.0)
    return sorted((tuple(round(v, 1) for v in w.polygon.bounds), w.cladding) for w in walls)


def test_irregular_stones_are_stones():
    """
     __________________    boards 0.2 apart over y 1.3, rubble below; a window in the boards
    |------------------|
    |------[w]---------|
    |_/\\_/\\__/\\_/\\__/\\_|
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.7), (8, 0, 8, 3.7), *box(-0.4, 3.7, 8.4, 3.9)]
    lines += [(0, 1.3, 8, 1.3), *framed(2, 1.9, 3.2, 3.1), *rubble(0, 0, 8, 1.3)]
    for k in range(1, 12):
        y = 1.3 + 0.2 * k
        spans = [(0, 2), (3.2, 8)] if 1.9 <= y <= 3.1 else [(0, 8)]
        lines += [(a, y, b, y) for a, b in spans]
    assert _clad(lines) == [
        ((0, 0, 8, 1.3), ("stones",)),
        ((0, 1.3, 8, 3.7), ("boards",)),
    ]


def test_a_tree_before_a_smooth_wall_makes_no_stones_of_it():
    """A crown of 24 short lines round (5, 1.6), 1.5 wide, over a smooth wall of 8 by 3.7."""
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.7), (8, 0, 8, 3.7), *box(-0.4, 3.7, 8.4, 3.9)]
    turn = np.arange(25) * np.pi / 12.0
    far = 0.75 + 0.08 * (np.arange(25) % 2)
    crown = np.stack([5 + far * np.cos(turn), 1.6 + far * np.sin(turn)], axis=1).tolist()
    lines += [(*a, *b) for a, b in itertools.pairwise(crown)]
    assert _clad([*lines, *framed(1, 1, 2.2, 2.2)]) == [((0, 0, 8, 3.7), ())]


def test_a_tree_of_curves_before_a_narrow_wall_makes_no_stones_of_it():
    """Crown and trunk in short chords cover most of a wall 2.4 wide; they branch nowhere."""
    lines = [(-3, 0, 6, 0), (0, 0, 0, 3.7), (2.4, 0, 2.4, 3.7), *box(-0.4, 3.7, 2.8, 3.9)]
    for wide, high, middle in ((2.2, 2.6, 1.9), (1.6, 1.5, 2.0), (1.4, 0.8, 2.2)):
        turn = np.arange(61) * np.pi / 30.0
        ring = np.stack([1.2 + wide / 2 * np.cos(turn), middle + high / 2 * np.sin(turn)], axis=1)
        lines += [(*a, *b) for a, b in itertools.pairwise(ring.tolist())]
    assert _clad(lines) == [((0, 0, 2.4, 3.7), ())]


def test_bricks_over_irregular_stones_are_another_wall():
    """
    |__|__|__|__|__|__|    bricks 0.5 long in courses 0.125 high over y 1.3, rubble below
    |_|__|__|__|__|__|_|
    |<_><__>\\_/<_>\\__/<|
    0                  8
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.8), (8, 0, 8, 3.8), *box(-0.4, 3.8, 8.4, 4.05)]
    lines += [(0, 1.3 + 0.125 * k, 8, 1.3 + 0.125 * k) for k in range(20)]
    lines += [
        (x, 1.3 + 0.125 * k, x, 1.425 + 0.125 * k)
        for k in range(19)
        for x in (0.25 * (k % 2) + 0.5 * j for j in range(1, 15))
    ]
    assert _clad([*lines, *rubble(0, 0, 8, 1.3)]) == [
        ((0, 0, 8, 1.3), ("stones",)),
        ((0, 1.3, 8, 3.8), ("stones",)),
    ]


def test_the_grain_of_render_makes_no_stones_of_it():
    """
     __________________    triangles 0.02 wide strewn over render, a window in it; rubble to y 1.3
    |  .  . [w] .   .  |
    |__.___._____.___._|
    |_/\\_/\\__/\\_/\\__/\\_|
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.7), (8, 0, 8, 3.7), *box(-0.4, 3.7, 8.4, 3.9)]
    lines += [(0, 1.3, 8, 1.3), *framed(2, 1.9, 3.2, 3.1), *rubble(0, 0, 8, 1.3)]
    chance = np.random.default_rng(5)
    for x, y in chance.uniform([0.1, 1.4], [7.9, 3.6], (150, 2)).tolist():
        if not (1.9 < x < 3.3 and 1.8 < y < 3.2):
            points = [(x, y), (x + 0.02, y + 0.005), (x + 0.006, y + 0.02)]
            lines += [(*a, *b) for a, b in itertools.pairwise([*points, points[0]])]
    assert _clad(lines) == [((0, 0, 8, 1.3), ("stones",)), ((0, 1.3, 8, 3.7), ())]
