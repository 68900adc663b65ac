"""Steps before a door: the wall is not seen behind them and nothing is laid there."""

import pytest
import shapely
from facades import area, box, framed, proposed


def _above_the_ground(*, steps):
    """A wall 9 x 3.4 under a fascia, its door 0.5 over the ground.

    ===================    fascia, y 3.4 to 3.65
      |             |
      |  [w]   |d|  |      door 6-7 x 0.5-2.6
      |       .|_|. |      top of the steps from 5.7 to 7.3
    --+-------+---+-+--
      0             9
    """
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.4), (9, 0, 9, 3.4), *box(-0.4, 3.4, 9.4, 3.65)]
    return [*lines, *framed(1, 1.4, 2.2, 2.6), *framed(6, 0.5, 7, 2.6), *steps]


def test_a_flight_of_three_risers_hides_the_wall():
    risers = [(5.7, 0.5 * k / 3, 7.3, 0.5 * k / 3) for k in (1, 2)]
    walls, _ = proposed(_above_the_ground(steps=[*box(5.7, 0, 7.3, 0.5), *risers]))
    assert area(walls) == pytest.approx(9 * 3.4 - 1.6 * 0.5, rel=0.002)


def test_each_step_may_be_a_tread_wider_than_the_one_over_it():
    steps = [*box(5.7, 0.3, 7.3, 0.5), *box(5.4, 0, 7.6, 0.3)]
    walls, _ = proposed(_above_the_ground(steps=steps))
    assert area(walls) == pytest.approx(9 * 3.4 - 1.6 * 0.2 - 2.2 * 0.3, rel=0.002)


def test_steps_may_go_down_on_one_side_and_leave_a_little_wall_on_the_other():
    """
    |    |d|             door 0.8-1.8 over a base of stone 0.5 high with a cap
    |==.-----.=========  upper step 0.5-2.1; the lower one 0.05 wider on the left and 0.25 on the
    |  |_____|__  |   |  right, 0.45-2.35; on the left 0.45 to 0.5 of the base are seen
    +-|_________|-+---+
    """
    steps = [*box(0.5, 0.25, 2.1, 0.5), *box(0.45, 0, 2.35, 0.25)]
    lines = [(-3, 0, 12, 0), (0, 0, 0, 3.4), (9, 0, 9, 3.4), *box(-0.4, 3.4, 9.4, 3.65)]
    lines += [(0, 0.5, 9, 0.5), *box(-0.05, 0.5, 9.05, 0.6)]
    lines += [(x, 0, x, 0.5) for x in (3.3, 4.2, 5.1, 6.0, 6.9, 7.8)]
    lines += [*framed(4, 1.4, 5.2, 2.6), *framed(0.8, 0.5, 1.8, 2.6), *steps]
    walls, _ = proposed(lines)
    left, right = sorted((w for w in walls if w.bounds[3] <= 0.51), key=lambda w: w.bounds)
    assert left.area == pytest.approx(0.5 * 0.25 + 0.45 * 0.25, rel=0.05)
    assert right.area == pytest.approx((9 - 2.1) * 0.25 + (9 - 2.35) * 0.25, rel=0.01)


def test_steps_before_a_sloping_ground_end_on_it():
    """The ground falls from 0.1 at -3 to -0.2 at 12: by 0.02 in a metre."""
    lines = [line for line in _above_the_ground(steps=()) if line not in _FLAT]
    lines += [(-3, 0.1, 12, -0.2), (0, 0.04, 0, 3.4), (9, -0.14, 9, 3.4)]
    lines += [(5.7, 0.5, 7.3, 0.5), (5.7, -0.074, 5.7, 0.5), (7.3, -0.106, 7.3, 0.5)]
    walls, _ = proposed([*lines, (5.7, 0.2, 7.3, 0.2)])
    gross = 9 * (3.36 + 3.54) / 2
    assert area(walls) == pytest.approx(gross - 1.6 * (0.574 + 0.606) / 2, rel=0.002)


_FLAT = [(-3, 0, 12, 0), (0, 0, 0, 3.4), (9, 0, 9, 3.4)]


def test_a_window_over_a_box_is_no_door_with_steps():
    """A box from the ground up to the sill of a window 1.2 high: a panel, or a planter."""
    lines = [*_above_the_ground(steps=[]), *box(0.8, 0, 2.4, 1.4)]
    walls, _ = proposed(lines)
    assert area(walls) == pytest.approx(9 * 3.4, rel=0.002)


def test_a_threshold_is_no_step():
    lines = [*_FLAT, *box(-0.4, 3.4, 9.4, 3.65), *framed(1, 1.4, 2.2, 2.6)]
    walls, _ = proposed([*lines, *framed(6, 0.05, 7, 2.1), *box(5.9, 0, 7.1, 0.05)])
    assert area(walls) == pytest.approx(9 * 3.4, rel=0.002)


def test_stubs_at_a_threshold_lead_to_no_lower_step():
    """Two uprights 3 mm long at the ends of the threshold: a step goes down, or the search for the
    next one would never end."""
    stubs = [(5.7, 0.5, 7.3, 0.5), (5.7, 0.5, 5.7, 0.503), (7.3, 0.5, 7.3, 0.503)]
    walls, _ = proposed(_above_the_ground(steps=stubs))
    assert area(walls) == pytest.approx(9 * 3.4, rel=0.002)


def test_piers_that_stand_on_the_uppermost_tread_hide_its_ends():
    """
      |   | |d| |   |     piers 5.5-5.95 and 7.05-7.5 from the tread up to 2.8; the tread, from 5.75
    --+--.+-+-+-+.--+--   to 7.25, is drawn between the piers alone
    """
    sides = [(5.75, 0, 5.75, 0.5), (7.25, 0, 7.25, 0.5), (5.75, 0.25, 7.25, 0.25)]
    piers = [(x, 0.5, x, 2.8) for x in (5.5, 5.95, 7.05, 7.5)]
    piers += [(5.5, 2.8, 5.95, 2.8), (7.05, 2.8, 7.5, 2.8)]
    steps = [*sides, *piers, (5.95, 0.5, 7.05, 0.5)]
    walls, _ = proposed(_above_the_ground(steps=steps))
    assert not any(w.intersects(shapely.box(5.8, 0.05, 7.2, 0.45)) for w in walls)
