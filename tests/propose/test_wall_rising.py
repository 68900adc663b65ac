"""What rises from the ground over the roof's edge: party walls, chimneys on the face."""

import pytest
from facades import box, framed, proposed, rounded


def _row(band=True):
    """Two houses of a row; cornice lines 0.2 and 0.3 over the walls; a party wall 0.2 wide.

                  ____
                  |  |  7.0        party wall 6.0-6.2
      6.3 ________|  |__________ 6.5
      6.0 ________|  |__________ 6.2
          |       |  |         |
          |-------|--|---------| 3.4-3.5   a band course, right across
          |  [w]  |  |  [w]    |
    ------+-------+--+---------+------
          0       6  6.2      13
    """
    lines = [(-3, 0, 16, 0), (0, 0, 0, 6.3), (13, 0, 13, 6.5), *box(6, 0, 6.2, 7)]
    lines += [(0, y, 6, y) for y in (6, 6.2, 6.3)] + [(6.2, y, 13, y) for y in (6.2, 6.4, 6.5)]
    lines += [(0, y, 13, y) for y in (3.4, 3.5)] if band else []
    return [*lines, *framed(2, 1, 3.2, 2.4), *framed(9, 1, 11, 2.4), *framed(2, 4, 3.2, 5.4)]


@pytest.mark.parametrize("band", [True, False])
def test_party_walls_part_the_houses_of_a_row(band):
    walls, openings = proposed(_row(band))
    assert sorted(rounded(w) for w in walls) == [(0, 0, 6, 6), (6.2, 0, 13, 6.2)]
    assert len(openings) == 3


def test_a_chimney_on_the_face_is_a_wall_of_its_own():
    """
            ____
            |  |   6            chimney 3.2-4.0, from y 1.9 up; below its shoulders 2.9-4.2
    ========|  |=========  3
      |     /  \\    |
      | [w] |  | [w] |
    --+-----+--+-----+---
      0   2.9  4.2   9
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (9, 0, 9, 3)]
    for a, b in ((-0.4, 3.2), (4.0, 9.4)):
        lines += [(a, 3, b, 3), (a, 3.2, b, 3.2), (a, 4.8, b, 4.8)]
    lines += [(x, 3, x, 4.8) for x in (-0.4, 9.4)]
    lines += [(2.9, 0, 2.9, 1.6), (2.9, 1.6, 3.2, 1.9), (3.2, 1.9, 3.2, 6)]
    lines += [(4.2, 0, 4.2, 1.6), (4.2, 1.6, 4.0, 1.9), (4.0, 1.9, 4.0, 6), (3.2, 6, 4.0, 6)]
    walls, openings = proposed([*lines, *framed(1, 1, 2, 2.2), *framed(6, 1, 7.5, 2.2)])
    assert [rounded(w) for w in walls] == [(0, 0, 3.2, 3), (2.9, 0, 4.2, 6), (4.0, 0, 9, 3)]
    # 1.3 x 1.6, a trapezoid 0.3 high, 0.8 x 4.1, by hand
    assert walls[1].area == pytest.approx(1.3 * 1.6 + (1.3 + 0.8) / 2 * 0.3 + 0.8 * 4.1, rel=5e-3)
    assert len(openings) == 2


def test_an_upright_that_ends_at_the_roofs_edge_parts_nothing():
    """A downpipe 0.1 wide in the middle of a front, up to the gutter."""
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3), (9, 0, 9, 3), *box(-0.4, 3, 9.4, 3.2)]
    pipe = [(5, 0, 5, 3), (5.1, 0, 5.1, 3)]
    walls, _ = proposed([*lines, *pipe, *framed(1, 1, 2, 2.2)])
    assert [rounded(w) for w in walls] == [(0, 0, 9, 3)]
