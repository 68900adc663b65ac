"""Lines cut where they meet, and how much of an outline they draw."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.propose.lines.along import drawn_along
from dxf2veneer.propose.lines.noding import faces_of, mesh_of
from dxf2veneer.propose.lines.rounding import noded
from dxf2veneer.propose.lines.runs import runs_of

points = st.tuples(st.integers(-20, 20), st.integers(-20, 20))
some_lines = st.lists(
    st.tuples(points, points).filter(lambda ends: ends[0] != ends[1]), min_size=1, max_size=12
)


@given(some_lines)
def test_pieces_meet_at_their_ends_only_and_stay_in_the_pixels_of_their_lines(ends):
    """What snap rounding promises (Hobby 1999): half a pixel's diagonal is 0.707."""
    lines = np.array(ends, float).reshape(-1, 4)
    pieces, line = (cut := noded(lines)).pieces, cut.first
    drawn = shapely.linestrings(lines.reshape(-1, 2, 2))
    made = shapely.multilinestrings(shapely.linestrings(pieces.reshape(-1, 2, 2)))
    assert len(shapely.get_parts(shapely.node(made))) == len(pieces)
    for at in (pieces[:, :2], pieces[:, 2:]):
        assert (shapely.distance(shapely.points(at), drawn[line]) <= 0.708).all()
    for share in np.linspace(0.0, 1.0, 9):
        on = shapely.points(lines[:, :2] + share * (lines[:, 2:] - lines[:, :2]))
        assert (shapely.distance(on, made) <= 0.708).all()


def test_a_crossing_cuts_both_lines():
    """
    4 |   /       (0,0)-(4,4) and (0,3)-(4,1) cross at (2, 2)
      | \\/
      | /  \\
    0 +--------
    """
    pieces, line = (cut := noded(np.array([[0, 0, 4, 4], [4, 1, 0, 3]], float))).pieces, cut.first
    found = {(tuple(p), n) for p, n in zip(pieces.tolist(), line.tolist(), strict=True)}
    assert found == {((0, 0, 2, 2), 0), ((2, 2, 4, 4), 0), ((0, 3, 2, 2), 1), ((2, 2, 4, 1), 1)}


def test_faces_with_and_without_a_line_through_them():
    """
    +---+---+
    |   |   |    7 by 3, with a line at x = 2 that is left out the second time
    +---+---+
    """
    box = [(0, 0, 7, 0), (7, 0, 7, 3), (7, 3, 0, 3), (0, 3, 0, 0)]
    lines = np.array([*box, (2, 0, 2, 3)], float)
    all_, some = faces_of(lines, [np.array([True] * 5), np.array([True] * 4 + [False])], gap=0.01)
    assert sorted(shapely.area(all_)) == [6, 15]
    assert shapely.area(some).tolist() == [21]


def test_lines_along_an_outline():
    """
    3 +-------+      (1, 0)-(3, 0) runs along the foot, (0, 0.5)-(0, 9) up the left side and on,
      |       |      (2, -1)-(2, 4) across it
    0 +-------+
      0       5
    """
    outline = np.array([shapely.box(0, 0, 5, 3)], dtype=object)
    lines = np.array([(1, 0, 3, 0), (0, 9, 0, 0.5), (2, -1, 2, 4)], float)
    edge, line, along = drawn_along(outline, runs_of(lines, gap=0.01))
    drawn = np.bincount(line, along, 3)
    assert edge.tolist() == [0] * len(edge)
    assert drawn == pytest.approx([2, 2.5, 0.04], abs=0.03)


def test_a_long_level_line_is_not_tilted_by_a_short_one_elsewhere():
    """A stroke 0.3 long that rises by 0.2 degrees lies far from a ground 40 long."""
    stroke = (50.0, 9.0, 50.3, 9.0 + 0.3 * np.tan(np.radians(0.2)))
    runs = runs_of(np.array([(0.0, 0.0, 40.0, 0.0), stroke]), gap=0.008)
    assert np.abs(runs.lines[runs.length > 30.0][:, [1, 3]]).max() < 0.001


def test_a_corner_that_lies_on_a_slope_is_not_taken_off_it_by_the_grid():
    """
      /|           (0.3, 0.3) is the foot of an upright and of a level line and lies on the slope;
     / |____       on the grid it and the ends of the slope move by up to 0.00017, and the face
    /__|___        between the upright and the apex stays closed wherever the drawing lies
    """
    chance = np.random.default_rng(7)
    for _ in range(200):
        x, y = chance.uniform(0.0, 1.0, 2)
        at = np.array([0.3, 0.3])
        lines = [(0, 0, 6, 6), (*at, 0.42, 0.3), (*at, 0.3, -3), (0.3, -3, 6, -3), (6, -3, 6, 6)]
        faces = mesh_of(np.array(lines) + np.array([x, y, x, y]), gap=0.016).faces
        assert shapely.area(faces).sum() == pytest.approx(5.7 * 3.3 + 5.7**2 / 2, rel=1e-3)
