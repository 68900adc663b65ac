"""Areas that strips beside lines cover of a stretch of wall, checked with shapely's overlays."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.propose.walls.strips import apart, covered_area

NEAR = 1e-9


def test_boxes_that_overlap_are_cut_at_heights_where_their_sides_change():
    """
    7     +-------+
    5   +-+-+     |
    4 +-+-+-+-+   |
    1 | +-+-+-+---+       0..4 x 0..4, 2..6 x 1..7 and 1..3 x 3..5
    0 +-------+
      0 1 2 3 4   6
    """
    boxes = np.array([[0, 0, 4, 4], [2, 1, 6, 7], [1, 3, 3, 5]], dtype=float)
    assert apart(boxes).tolist() == [[0, 0, 4, 1], [0, 1, 6, 4], [1, 4, 6, 5], [2, 5, 6, 7]]


def test_a_strip_across_a_gable_covers_a_trapezoid_less_its_window():
    """A gable 10 wide and 8 high, a window 2 wide through the strip from y 2 to 4: the strip is
    7.5 wide at its foot and 5 at its head, 12.5 in area, of which 4 are window."""
    gable = shapely.Polygon([(0, 0), (10, 0), (5, 8)]) - shapely.box(4, 1, 6, 5)
    assert covered_area(np.array([[-3.0, 2.0, 20.0, 4.0]]), gable, NEAR) == pytest.approx(8.5)


def test_a_strip_beside_a_stretch_or_without_height_covers_nothing():
    stretch = shapely.box(0, 0, 5, 3)
    boxes = np.array([[6.0, 0.0, 9.0, 3.0], [1.0, 1.0, 4.0, 1.0]])
    assert covered_area(boxes, stretch, NEAR) == 0.0


_PLACES = st.floats(0.0, 40.0).map(lambda place: round(place, 9))
"""No drawing has finer ones; of places like 1e-308 Shapely makes no areas."""
_SIZES = st.tuples(*[_PLACES] * 2, *[st.floats(0.5, 20.0)] * 2)
_BOXES = st.lists(_SIZES | st.tuples(*[st.integers(0, 40)] * 2, *[st.integers(1, 20)] * 2))


def _boxes(sizes):
    x, y, wide, high = np.array(sizes, dtype=float).reshape(-1, 4).T
    return np.stack([x, y, x + wide, y + high], axis=1)


@given(_BOXES.filter(len), _BOXES, _BOXES, st.tuples(*[_PLACES] * 2))
def test_the_area_is_that_of_the_boxes_joined_and_cut(strips, walls, openings, middle):
    """Walls of several parts with round ends and openings, however the strips lie."""
    solid = [*shapely.box(*_boxes(walls).T), shapely.Point(middle).buffer(9.0)]
    stretch = shapely.union_all(solid) - shapely.union_all(shapely.box(*_boxes(openings).T))
    if stretch.is_empty:
        return
    joined = shapely.union_all(shapely.box(*_boxes(strips).T))
    assert covered_area(_boxes(strips), stretch, NEAR) == pytest.approx(
        joined.intersection(stretch).area, abs=1e-5
    )
