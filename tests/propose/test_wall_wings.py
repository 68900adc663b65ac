"""Wings told from the wall behind them, and from what stands before one wall."""

import numpy as np
from facades import box, framed, proposed, rounded
from shapely.geometry import Polygon

from dxf2veneer.propose.walls.behind import going_on_above
from dxf2veneer.propose.walls.structure import structure_of


def main_wall(x1=12, y1=5):
    """Ground, corners and fascia of a wall from 0 to ``x1``, as high as ``y1``."""
    return [(-3, 0, x1 + 3, 0), (0, 0, 0, y1), (x1, 0, x1, y1), *box(-0.4, y1, x1 + 0.4, y1 + 0.25)]


def battens(step, first, last, *, foot, head):
    """Uprights at a step from ``first`` on, up to ``last``."""
    count = round((last - first) / step)
    return [(first + step * k, foot, first + step * k, head) for k in range(count + 1)]


def test_battens_that_go_on_over_the_coping_of_a_wing_are_of_the_wall_behind():
    """
    | | | | | | | | | | | |    main wall: battens 0.2 apart from 0.15 on, over the coping, too
    | | |============ | | |    coping from 3.76 to 8.24, y 3 to 3.2
    | | | |   |   |  || | |    wing from 4.05 to 7.95, battens 0.3 apart; at 3.95 and 8.15 battens
    +-+-+-+---+---+--++-+-+    of the main wall end under the coping
    """
    lines = [*main_wall(), *box(3.76, 3, 8.24, 3.2)]
    lines += [*battens(0.2, 0.15, 3.75, foot=0, head=5), *battens(0.2, 8.35, 11.95, foot=0, head=5)]
    lines += battens(0.2, 3.95, 8.15, foot=3.2, head=5)
    lines += [(3.95, 0, 3.95, 3), (8.15, 0, 8.15, 3)]
    lines += [*battens(0.3, 4.05, 7.65, foot=0, head=3), (7.95, 0, 7.95, 3)]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 12, 5), (4.05, 0, 7.95, 3)]


def test_corners_of_a_wing_among_joints_of_slabs_are_as_far_from_both_ends_of_its_roof():
    """
    |   |   |   |   |   |   |    joints of slabs 1.25 apart and 0.9 high on the main wall
    +---==============--+---+    coping from 3.5 to 8.5, y 3 to 3.2: a joint at 3.75 ends under it
    +---+-+----------+--+---+    wing from 4 to 8; the lines of the slabs run on over it
    """
    lines = [*main_wall(), *box(3.5, 3, 8.5, 3.2)]
    rows = [0.9, 1.8, 2.7, 3.6, 4.5]
    lines += [(0, y, 12, y) for y in rows]
    lines += [(1.25 * k, 0, 1.25 * k, 5) for k in (1, 2, 7, 8, 9)]
    lines += [(1.25 * k, 3.2, 1.25 * k, 5) for k in range(3, 7)]
    lines += [(x, 0, x, 3) for x in (3.75, 4, 8)]
    walls, _ = proposed(lines)
    assert sorted(rounded(w) for w in walls) == [(0, 0, 12, 5), (4, 0, 8, 3)]


def porch_before_boards(hatches):
    """A porch from 7 to 11.9 at the end of a wall whose corners have boards as wide as its posts:
    what is hatched says whether these are corners of a wing."""
    lines = [*main_wall(y1=3.2), (0.12, 0, 0.12, 3.2), (11.88, 0, 11.88, 3.2)]
    lines += [*box(6.9, 2.7, 12.1, 2.9), *framed(2, 1, 3, 2)]
    lines += [(x, 0, x, 2.7) for x in (7.1, 7.22, 11.6, 11.72)]
    return proposed(lines, patterns=[("BRICK", hatch) for hatch in hatches])[0]


def test_a_hatch_that_stops_at_both_sides_of_a_post_lies_on_one_wall():
    left = Polygon([(0, 0), (7.1, 0), (7.1, 3.2), (0, 3.2)])
    right = Polygon([(7.22, 0), (11.6, 0), (11.6, 2.7), (7.22, 2.7)])
    assert len(porch_before_boards([left, right])) == 1


def test_a_hatch_that_goes_on_behind_a_post_lies_on_one_wall():
    whole = Polygon([(0, 0), (12, 0), (12, 3.2), (0, 3.2)])
    assert len(porch_before_boards([whole])) == 1


def test_hatches_that_meet_at_an_upright_lie_on_two_walls():
    left = Polygon([(0, 0), (7.1, 0), (7.1, 3.2), (0, 3.2)])
    right = Polygon([(7.1, 0), (12, 0), (12, 2.7), (7.1, 2.7)])
    assert len(porch_before_boards([left, right])) == 2


def test_slabs_of_a_narrow_wall_go_on_where_a_door_hides_their_joints():
    """
    |---|-----|---|    y 2.4    slabs 0.6 wide and high on a wall of 2; a door takes up the middle
    |---|  d  |---|    y 1.8    of the lower ones: what is left of them are rows without a joint
    |---|     |---|
    +---+-----+---+
    """
    lines = [(-3, 0, 5, 0), (0, 0, 0, 2.8), (2, 0, 2, 2.8), *box(-0.1, 2.8, 2.1, 2.9)]
    lines += framed(0.3, 0, 1.5, 2.1)
    lines += [(a, y, b, y) for y in (0.6, 1.2, 1.8) for a, b in ((0, 0.3), (1.5, 2))]
    lines += [(0, 2.4, 2, 2.4), (1.8, 0, 1.8, 2.8), *((x, 2.1, x, 2.8) for x in (0.6, 1.2))]
    walls, _ = proposed(lines)
    assert [rounded(w) for w in walls] == [(0, 0, 2, 2.8)]


def test_joints_between_the_end_of_a_roof_and_a_corner_under_it_are_none():
    """
    ===================    coping from -0.1 to 5.1; joints 1.4 apart from the corner at 0 on, with
    |    |    |    |  |    no level line across them: the one at 4.2 stands near the other end, too
    +----+----+----+--+
    0   1.4  2.8  4.2 5
    """
    lines = [(-3, 0, 8, 0), (0, 0, 0, 3), (5, 0, 5, 3), *box(-0.1, 3, 5.1, 3.12)]
    lines += [(1.4 * k, 0, 1.4 * k, 3) for k in (1, 2, 3)]
    walls, _ = proposed([*lines, *framed(2.9, 1, 4, 2)])
    assert [rounded(w) for w in walls] == [(0, 0, 5, 3)]


def test_a_shutter_in_line_over_a_post_is_no_corner_that_goes_on_behind_a_porch():
    """
    ===============    y 5
    |     []w[]   |    shutter from 4.2 on, over the post at 4.2
    =========     |    y 2.4  canopy from -0.1 to 4.5, on the corner at 0 and a post
    |      ||     |
    +------++-----+
    """
    lines = [(-3, 0, 13, 0), (10, 0, 10, 5), *box(-0.4, 5, 10.4, 5.25), *box(-0.1, 2.4, 4.5, 2.6)]
    lines += [(0, 0, 0, 2.4), (0, 2.6, 0, 5), (4.2, 0, 4.2, 2.4), (4.32, 0, 4.32, 2.4)]
    lines += box(4.2, 3.2, 4.5, 4.4)
    none = np.empty(0, dtype=object)
    s = structure_of(np.array(lines, float), none, none, gap=0.008, metre=1.0)
    _, corner = going_on_above(s, s.runs.lines)
    under = s.runs.upright & (np.abs(s.runs.lines[:, 3] - 2.4) < 0.01)
    assert np.round(s.runs.lines[under & corner, 0], 3).tolist() == [0]


def test_a_roof_beside_a_wing_with_a_line_along_its_ridge_and_two_windows_is_no_wall():
    r"""
      ________________________    y 5.6, a line under the ridge at 5.2
      |_______________________|
      |  /\     [w]    [w]    |   roof windows 0.78 x 0.98, a tenth of the roof
      |/    \_________________|   y 3 to 3.2: the roof's edge, up to the rakes of the wing
     /|      |\             |
    --+------+--------------+--   wing from 0 to 4, main wall to 12
    """
    slope, foot, peak = 0.6, 2.7, 3.9
    rakes = [(-0.4, foot - 0.24, 2, peak), (2, peak, 4.4, foot - 0.24)]
    lines = [(-3, 0, 15, 0), (0, 0, 0, foot), (4, 0, 4, foot), (12, 0, 12, 3)]
    lines += [(a, b + up, c, d + up) for a, b, c, d in rakes for up in (0, 0.2)]
    lines += [(x, foot - 0.24, x, foot - 0.04) for x in (-0.4, 4.4)]
    for y in (3, 3.2, 5.2, 5.6):
        off = max(peak + 0.2 - y, 0.0) / slope
        lines += [(-0.4, y, 2 - off, y), (2 + off, y, 12.4, y)]
    lines += [(12.4, 3, 12.4, 5.6), (-0.4, 2.9, -0.4, 5.6), *framed(1, 1, 2, 2)]
    lines += [line for x in (6, 9) for line in framed(x, 3.9, x + 0.78, 4.88, 0.06)]
    walls, _ = proposed(lines)
    assert sorted(rounded(w)[2:] for w in walls) == [(4, peak), (12, 3)]
