"""Areas, base, starter, rake and cap runs of one wall; caps' ground."""

import math

import pytest
from builders import ARCH, drawing, job, line, measured

from dxf2veneer.geometry import Path

WALL = (0, 0, 200, 100)


def of(wall, job_=None, **outlines):
    return measured(drawing(wall=[wall], **outlines), job_ or job())


def test_a_rectangle():
    q = of((10, 5, 210, 105))
    assert (q.gross_area, q.net_area, q.perimeter) == (20000, 20000, 600)
    assert (q.base_run, q.starter_run, q.rake_run, q.cap_run) == (200, 200, 0, 0)


def test_an_opening_is_measured_by_its_box_and_its_own_boundary():
    (o,) = of(WALL, window=[(60, 30, 96, 85)]).openings
    assert (o.width, o.height, o.sill_y, o.head_y, o.area, o.perimeter) == (
        36,
        55,
        30,
        85,
        1980,
        182,
    )


def test_a_stepped_base_counts_its_level_stretches():
    #  |              |
    #  |      .-------'     steps from 0 to 16 at x = 120; the riser is no base
    #  '------'
    q = of([(0, 0), (120, 0), (120, 16), (200, 16), (200, 100), (0, 100)])
    assert (q.base_run, q.starter_run) == (200, 200)
    assert q.gross_area == 20000 - 80 * 16


def test_a_sloped_base_is_long_along_the_ground_and_its_starter_level():
    # rises 15 over 200: sqrt(200^2 + 15^2)
    q = of([(0, 0), (200, 15), (200, 100), (0, 100)])
    assert q.base_run == pytest.approx(math.hypot(200, 15))
    assert q.starter_run == 200
    assert q.gross_area == 20000 - 200 * 15 / 2


def test_a_gable_has_two_rakes():
    #       /\      two 3-4-5 triangles, 144 high: left 108 over, so 180 long, right 192 over,
    #      /  \     so 240 long
    q = of([(0, 0), (300, 0), (300, 96), (108, 240), (0, 96)])
    assert q.rake_run == pytest.approx(180 + 240)
    assert q.gross_area == 300 * 96 + 300 * 144 / 2
    assert q.base_run == 300


def test_a_flat_top_between_rakes_is_no_rake():
    # hip: 3-4-5 up 60, 100 level, 3-4-5 down
    q = of([(0, 0), (260, 0), (260, 96), (180, 156), (80, 156), (0, 96)])
    assert q.rake_run == pytest.approx(100 + 100)


def test_an_arched_top_is_a_rake_of_the_arcs_length():
    # half round of radius 50 on a wall 100 wide, 80 to the springing
    q = of(Path(((0, 0, 0), (100, 0, 0), (100, 80, 1), (0, 80, 0))))
    assert q.rake_run == pytest.approx(50 * math.pi, rel=1e-12)
    assert q.gross_area == pytest.approx(8000 + 1250 * math.pi, rel=1e-12)


def test_a_door_interrupts_the_starter_and_so_do_its_jamb_stones():
    door = {"door": [(60, 0, 96, 80)]}
    assert of(WALL, **door).starter_run == 200 - 36
    assert of(WALL, job(trim__jambs=5.0), **door).starter_run == 200 - 46
    assert of(WALL, job(trim__jambs=5.0), **door).base_run == 200


def test_an_arched_door_interrupts_the_starter_by_its_foot():
    assert of(WALL, opening=[ARCH]).starter_run == 200 - 36


def test_a_window_above_the_base_leaves_the_starter_whole():
    assert of(WALL, window=[(60, 8, 96, 80)]).starter_run == 200


def test_a_fixture_at_the_base_leaves_the_starter_whole():
    assert of(WALL, fixture=[(60, 0, 70, 10)]).starter_run == 200


def test_doors_side_by_side_with_jamb_stones_that_overlap():
    # 60..96 and 100..130 with jambs 5: one gap from 55 to 135
    q = of(WALL, job(trim__jambs=5.0), door=[(60, 0, 96, 80), (100, 0, 130, 80)])
    assert q.starter_run == 200 - 80


def test_a_door_at_the_edge_of_the_wall():
    assert of(WALL, job(trim__jambs=5.0), door=[(164, 0, 200, 80)]).starter_run == 164 - 5


# ---------------------------------------------------------------------- caps


def test_a_cap_takes_its_height_off_the_top():
    # the product's cap is 2.25 high
    q = of(WALL, cap=[line(0, 100, 200, 100)])
    assert (q.cap_run, q.cap_area, q.net_area) == (200, 450, 20000 - 450)
    assert q.cap_region.box == (0, 97.75, 200, 100)


def test_a_cap_drawn_a_little_off_the_top_takes_no_more_or_less():
    assert of(WALL, cap=[line(0, 99.3, 200, 99.3)]).cap_area == pytest.approx(450)


def test_a_cap_is_interrupted_by_an_opening():
    q = of(WALL, cap=[line(0, 100, 200, 100)], window=[(60, 50, 96, 100)])
    assert q.cap_run == 200 - 36
    assert q.cap_area == pytest.approx((200 - 36) * 2.25)
    assert q.net_area == pytest.approx(20000 - 36 * 50 - 164 * 2.25)


def test_a_cap_below_a_window_runs_through():
    q = of(WALL, cap=[line(0, 40, 200, 40)], window=[(60, 40, 96, 80)])
    assert (q.cap_run, q.cap_area) == (200, pytest.approx(450))


def test_a_cap_and_a_trim_band_do_not_count_twice():
    # the jambs' bands (5 wide) beside the window take their ground from the cap, run and area
    q = of(WALL, job(trim__jambs=5.0), cap=[line(0, 100, 200, 100)], window=[(60, 50, 96, 100)])
    assert q.trim_area == pytest.approx(2 * 5 * 50)
    assert q.cap_area == pytest.approx((200 - 46) * 2.25)
    assert q.cap_run == pytest.approx(200 - 46)
    assert q.cap_spans == (pytest.approx((0, 55)), pytest.approx((101, 200)))
    assert q.net_area == pytest.approx(q.veneer.area)


def test_a_cap_has_a_run_where_a_head_stone_takes_a_part_of_its_height_only():
    #  a head of 3 over a window that ends at 96 takes 96..99 of the cap's 97.75..100 for 36 + 2 x 0
    q = of(WALL, job(trim__head=3.0), cap=[line(0, 100, 200, 100)], window=[(60, 50, 96, 96)])
    assert q.cap_run == pytest.approx(200)
    assert q.cap_area == pytest.approx(200 * 2.25 - 36 * 1.25)


def test_a_hole_in_a_wall_is_not_veneered_but_has_a_perimeter():
    one = drawing(wall=[WALL, (40, 20, 70, 40)])
    q = measured(one, job(recognise__nested_walls="hole"))
    assert (q.gross_area, q.perimeter) == (pytest.approx(20000 - 600), pytest.approx(600 + 100))


PORCH = [(0, 0), (120, 0), (120, 30), (60, 30), (60, 60), (120, 60), (120, 140), (0, 140)]
"""A porch cut into the wall's right side from 30 to 60: base 0..120 below, 60..120 above it."""


def test_starter_runs_over_every_stretch_of_base_one_above_the_other():
    q = of(PORCH)
    assert (q.base_run, q.starter_run) == (180, 180)


def test_a_door_interrupts_the_stretch_it_stands_on_and_no_other():
    #  a door 70..100 on the lower stretch, 24 high, another on the upper, 60 high; jambs of 4
    rules = job(trim__jambs=4.0)
    below = of(PORCH, rules, door=[(70, 0, 100, 24)])
    above = of(PORCH, rules, door=[(70, 60, 100, 120)])
    assert (below.starter_run, above.starter_run) == (180 - 38, 180 - 38)


def test_jamb_stones_over_a_low_step_interrupt_the_stretch_beside_the_door():
    #  base 0 up to 100, 16 from there: the door 100..136 on the step,
    #  its left jamb stone stands over the lower base
    stepped = [(0, 0), (100, 0), (100, 16), (200, 16), (200, 100), (0, 100)]
    assert of(stepped, job(trim__jambs=4.0), door=[(100, 16, 136, 90)]).starter_run == 200 - 36 - 8


def test_a_door_across_a_step_interrupts_both_stretches():
    stepped = [(0, 0), (100, 0), (100, 16), (200, 16), (200, 100), (0, 100)]
    assert of(stepped, door=[(80, 0, 116, 84)]).starter_run == 200 - 36


def test_a_door_interrupts_no_stretch_beyond_a_hump():
    #       .---.       base at 0, at 16 from 60 to 120, at 0 again; door 10..46 on the first
    #  _____|   |_____
    hump = [(0, 0), (60, 0), (60, 16), (120, 16), (120, 0), (200, 0), (200, 100), (0, 100)]
    assert of(hump, door=[(10, 0, 46, 84)]).starter_run == 200 - 36
    assert of(hump, door=[(140, 0, 176, 84)]).starter_run == 200 - 36


def test_doors_on_two_stretches_at_one_height_each_interrupt_their_own():
    hump = [(0, 0), (60, 0), (60, 16), (120, 16), (120, 0), (200, 0), (200, 100), (0, 100)]
    assert of(hump, door=[(10, 0, 46, 84), (140, 0, 170, 84)]).starter_run == 200 - 36 - 30


@pytest.mark.parametrize(
    ("step", "taken"), [(30, 36 + 8), (36.5, 36 + 8), (37, 36 + 4), (40, 36 + 4)]
)
def test_jamb_stones_reach_down_over_a_step_of_less_than_half_the_doors_height(step, taken):
    #  base 0 up to 100, a step from there with a door 100..136 on it, 74 high: half of that is 37
    stepped = [(0, 0), (100, 0), (100, step), (200, step), (200, 140), (0, 140)]
    assert (
        of(stepped, job(trim__jambs=4.0), door=[(100, step, 136, step + 74)]).starter_run
        == 200 - taken
    )


def test_a_door_whose_jamb_leans_a_little_interrupts_the_starter_by_its_foot():
    #  36 wide at its foot, 36 1/2 at its head
    assert of(WALL, door=[[(60, 0), (96, 0), (96.5, 80), (60, 80)]]).starter_run == 200 - 36
