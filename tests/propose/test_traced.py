"""Drawings traced from a scan: lines that waver are made straight, and the reader is told.

A front of 6000 x 2700 mm with three windows of 900 x 1300 and a ground line, each line in steps of
120 mm whose points stand off by up to 9 mm at chance, sizes of our own invention:

      .------------------------.
      |  [ ]     [ ]     [ ]   |
    --'------------------------'--
"""

import random
from itertools import pairwise

import ezdxf
import numpy as np
import pytest
from corpus.matching import iou, shape_of
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.propose.proposing import proposal_of
from dxf2veneer.propose.reading import scene_of

OFF, STEP = 9.0, 120.0
WINDOWS = [(700.0, 900.0), (2500.0, 900.0), (4300.0, 900.0)]


def traced(points, chance, off=OFF):
    """The points of a line as a tracing program gives them."""
    found = []
    for (a, b), (c, d) in pairwise(points):
        steps = max(1, int(max(abs(c - a), abs(d - b)) / STEP))
        found += [(a + (c - a) * i / steps, b + (d - b) * i / steps) for i in range(steps)]
    found.append(points[-1])
    return [(x + chance.uniform(-off, off), y + chance.uniform(-off, off)) for x, y in found]


def box(x, y, wide, high):
    return [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y)]


def front(off=OFF, seed=1, scale=1.0):
    doc = ezdxf.new("R2000")
    chance = random.Random(seed)
    lines = [box(0, 0, 6000, 2700), [(-1500, 0), (7500, 0)]]
    for x, y in WINDOWS:
        lines += [box(x, y, 900, 1300), box(x + 70, y + 70, 760, 1160)]
        lines += [[(x + 450, y + 70), (x + 450, y + 1230)], [(x + 70, y + 650), (x + 830, y + 650)]]
    for line in lines:
        points = traced(line, chance, off) if off else line
        doc.modelspace().add_lwpolyline([(x * scale, y * scale) for x, y in points])
    return doc


def test_a_drawing_that_was_not_traced_stays_as_it_is():
    scene = scene_of(front(off=0.0))
    assert scene.waver == 0.0 and len(scene.segments) == 5 * 2 - 1 + 3 * 10 - 4


def test_wavering_lines_become_boxes():
    scene = scene_of(front())
    wall = scene.segments_of(0)
    assert len(wall) == 4
    assert np.allclose(wall[:, :2], [(0, 0), (6000, 0), (6000, 2700), (0, 2700)], atol=OFF)
    run = np.abs(wall[:, 2:] - wall[:, :2])
    assert run.min(axis=1).max() < 1e-6  # level or upright
    assert scene.waver == pytest.approx(OFF, rel=0.3)


def test_entities_keep_their_boxes_and_order():
    scene = scene_of(front())
    assert len(scene.entities) == 2 + 3 * 4
    for number, entity in enumerate(scene.entities):
        own = scene.segments_of(number)
        xs, ys = own[:, [0, 2]], own[:, [1, 3]]
        assert entity.box == (xs.min(), ys.min(), xs.max(), ys.max())


@pytest.mark.parametrize("scale", [1.0, 0.001, 1.0 / 25.4], ids=["mm", "m", "in"])
def test_walls_and_openings_are_found_whatever_the_unit(scale):
    proposal = proposal_of(scene_of(front(scale=scale)))
    (wall,) = proposal.walls
    true = shape_of([(x * scale, y * scale) for x, y in box(0, 0, 6000, 2700)])
    assert iou(shape_of(wall.outline), true) > 0.99
    assert len(proposal.openings) == 3
    for opening, (x, y) in zip(proposal.openings, WINDOWS, strict=True):
        true = shape_of([(a * scale, b * scale) for a, b in box(x, y, 900, 1300)])
        assert iou(shape_of(opening.outline), true) > 0.97
    assert proposal.waver == pytest.approx(scene_of(front()).waver * scale)


def test_terrain_and_trees_beside_straight_lines_are_no_tracing():
    doc = front(off=0.0)
    chance = random.Random(3)
    for n in range(10):
        doc.modelspace().add_lwpolyline(traced([(9000, n * 90), (14000, n * 90)], chance))
    assert scene_of(doc).waver == 0.0


def contour(n, points=200):
    """A line of equal height on a hillside: it winds, and no stretch of it is level or upright."""
    along = np.linspace(0.0, 40_000.0, points)
    across = 2_000 * np.sin(along / 4_000 + n) + 300 * np.sin(along / 700 + 2 * n)
    turn = np.radians(25 + n % 7)
    cos, sin = np.cos(turn), np.sin(turn)
    return [
        (9_000 + x * cos - y * sin, n * 500 + x * sin + y * cos)
        for x, y in zip(along, across, strict=True)
    ]


def test_contours_are_no_tracing_however_many():
    """Sixty contours beside a front of fourteen straight polylines."""
    doc = front(off=0.0)
    for n in range(60):
        doc.modelspace().add_lwpolyline(contour(n))
    scene = scene_of(doc)
    assert scene.waver == 0.0 and len(scene.segments_of(0)) == 4
    assert len(proposal_of(scene).walls) == 1


def test_a_traced_front_beside_a_few_contours_is_one():
    doc, chance = front(), random.Random(3)
    doc.modelspace().add_lwpolyline(traced(contour(0, 40), chance))
    assert len(scene_of(doc).segments_of(0)) == 4


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 10**6), st.floats(2.0, 12.0))
def test_corners_come_back_to_within_the_waver(seed, off):
    """A line through many points stands nearer to the true one than its points do at worst; its
    corners are where two of them cross."""
    wall = scene_of(front(off=off, seed=seed)).segments_of(0)
    assert len(wall) == 4
    assert np.abs(wall[:, :2] - [(0, 0), (6000, 0), (6000, 2700), (0, 2700)]).max() <= off


def test_slopes_and_bends_of_the_ground_stay():
    """Ground that falls by 400 mm over 12 m with a bend is no level line."""
    doc, chance = front(), random.Random(5)
    doc.modelspace().add_lwpolyline(traced([(-4000, 0), (3000, -100), (8000, -400)], chance))
    ground = scene_of(doc).segments_of(2 + 3 * 4)
    ends = [ground[0, :2], ground[-1, 2:]]
    assert np.allclose(ends, [(-4000, 0), (8000, -400)], atol=3 * OFF)
    at_bend = np.interp(3000, ground[:, 0], ground[:, 1])
    assert at_bend == pytest.approx(-100, abs=3 * OFF)
