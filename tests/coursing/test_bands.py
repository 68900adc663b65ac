"""Course lines and what stands in their way. The panel of these tests is 36 x 8."""

import pytest
from builders import JOB, PRODUCT, coursed, drawing, job, line, walls_of

from dxf2veneer.app.laying import lay_out
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.starter import starter_height
from dxf2veneer.geometry import Path
from dxf2veneer.measure import measure_wall
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

WALL = (0, 5, 200, 105)  # base at 5, top at 105


def plan(wall=WALL, job_=JOB, **outlines):
    return coursed(drawing(wall=[wall], **outlines), job_)[0]


def told(wall=WALL, job_=JOB, **outlines):
    return sorted(n.code for n in coursed(drawing(wall=[wall], **outlines), job_)[1])


def lines_at(found, y):
    return [(c.x0, c.x1) for c in found.lines if c.y == pytest.approx(y)]


# ------------------------------------------------------------- starter line


def test_the_starter_line_is_the_base():
    found = plan()
    assert (found.starter_y, found.starter_from) == (5, "base")
    assert [(c.index, c.y0, c.y1) for c in found.courses[:2]] == [(0, 5, 13), (1, 13, 21)]


def test_clearance_and_start_raise_it():
    assert plan(job_=job(courses__clearance=4.0)).starter_y == 9
    assert plan(job_=job(courses__clearance=4.0, courses__start=1.5)).starter_y == 10.5
    assert plan(job_=job(courses__clearance=4.0, courses__start=-1.5)).starter_y == 7.5


def test_a_level_line_ties_walls_of_different_base():
    #      .------.
    #  .---|      |     level line at 21: course lines of both walls at 21, 29, …
    #  | W1|  W2  |     W1's base is 0: the lowest line over it is 5
    #  |   '------'     W2's base is 10: the lowest line over it is 13
    #  '---'
    both = drawing(wall=[(0, 0, 60, 90), (60, 10, 150, 110)], level=[line(-5, 21, 160, 21)])
    plans = [course_wall(measure_wall(w, JOB, PRODUCT), JOB, PRODUCT) for w in walls_of(both)]
    assert [(p.starter_y, p.starter_from) for p in plans] == [(5, "level"), (13, "level")]
    assert {(c.y0 - 21) % 8 for p in plans for c in p.courses} == {0}


@pytest.mark.parametrize(
    ("base", "level", "clearance", "start", "starter"),
    [
        (0, 16, 0, 0, 0),  # a line runs through the base itself
        (0, 17, 0, 0, 1),
        (0, 17, 4, 0, 9),  # 1 is under the clearance
        (0, 17, 1, 0, 1),  # 1 is just at it
        (0, 17, 0, -2, 7),  # lines at -1, 7, 15: the shift moves them all
        (10, 2, 0, 0, 10),  # a level line below the base
    ],
)
def test_with_a_level_line_the_starter_is_the_lowest_line_over_the_clearance(
    base, level, clearance, start, starter
):
    found = starter_height(base, level, 8.0, clearance, start)
    assert found == (starter, "level")


def test_a_starter_under_the_base_or_a_course_above_it_is_told():
    assert told(job_=job(courses__start=-1.0)) == ["STARTER_BELOW_BASE"]
    assert "STARTER_HIGH" in told(job_=job(courses__clearance=4.0, courses__start=4.0))
    assert "STARTER_HIGH" not in told(job_=job(courses__clearance=4.0, courses__start=3.9))


def test_starter_and_base_are_told_where_the_starter_begins():
    high = coursed(
        drawing(wall=[(10, 5, 210, 105)]), job(courses__clearance=4.0, courses__start=5.0)
    )[1][0]
    assert (high.code, high.layer, high.handle, high.drawing, high.at_in) == (
        "STARTER_HIGH",
        "WALL",
        "WALL1",
        0,
        (10, 14),
    )
    assert say(high.message) == 'the starter line of W1 lies 9" above its base'
    low = coursed(drawing(wall=[(10, 5, 210, 105)]), job(courses__start=-1.5))[1][0]
    assert (low.at_in, say(low.message)) == (
        (10, 3.5),
        'the starter line of W1 lies 1 1/2" below its base',
    )


@pytest.mark.parametrize(
    ("rise", "rest"),
    [
        (16.0, "a whole number of courses"),
        (16.01, "a whole number of courses"),
        (18.0, 'which leaves a first course of 6" over it'),
    ],
)
def test_a_step_of_the_base_is_told_with_the_course_it_leaves(rise, rest):
    stepped = [(0, 0), (120, 0), (120, rise), (200, rise), (200, 101), (0, 101)]
    told = next(n for n in coursed(drawing(wall=[stepped]))[1] if n.code == "BASE_STEPPED")
    assert say(told.message).endswith(rest)


# ------------------------------------------------------------------ courses


def test_a_part_course_at_the_top_is_a_course():
    found = plan()  # 100 high: 12 courses and a strip of 4
    assert len(found.courses) == 13
    assert [(c.what, c.course, c.strip) for c in found.conflicts] == [("top", 12, 4)]


def test_a_wall_lower_than_its_starter_has_no_course():
    low = plan(wall=(0, 0, 100, 4), job_=job(courses__clearance=8.0))
    assert (low.courses, low.lines, low.conflicts) == ((), (), ())


# ------------------------------------------------------------- course lines


def test_every_course_line_is_clipped_to_the_wall_less_its_openings():
    #  .--------------.     window 60..96 from 30 to 60: lines at 37, 45, 53 are cut, 29 and 61 not
    #  |----[   ]-----|
    #  '--------------'
    found = plan(window=[(60, 30, 96, 60)])
    assert lines_at(found, 29) == [(0, 200)]
    for y in (37, 45, 53):
        assert lines_at(found, y) == [(0, 60), (96, 200)]
    assert lines_at(found, 61) == [(0, 200)]


def test_trim_bands_cut_course_lines_too():
    found = plan(
        window=[(60, 30, 96, 60)], job_=job(trim__head=8.0, trim__jambs=5.0, trim__sill=4.0)
    )
    assert lines_at(found, 29) == [(0, 55), (101, 200)]  # the sill band lies from 26 to 30
    assert lines_at(found, 61) == [(0, 55), (101, 200)]  # the head band from 60 to 68
    assert lines_at(found, 69) == [(0, 200)]


@pytest.mark.parametrize("rounding", [-1e-9, 0.0, 1e-9])
def test_a_line_that_runs_clean_along_a_head_or_a_sill_is_whole(rounding):
    found = plan(window=[(60, 29 + rounding, 96, 61 - rounding)])
    assert lines_at(found, 29) == lines_at(found, 61) == [(0, 200)]


def test_course_lines_end_at_a_rake():
    # right triangle: base 0..160 at 0, apex (0, 80): at height y the line is 160 - 2 y long
    found = plan(wall=[(0, 0), (160, 0), (0, 80)])
    assert lines_at(found, 16) == [(0, pytest.approx(128))]
    assert lines_at(found, 72) == [(0, pytest.approx(16))]


def test_course_lines_of_an_arched_top():
    # half round of radius 50 about (50, 80): at 104 half a line is sqrt(50^2 - 24^2)
    found = plan(wall=Path(((0, 0, 0), (100, 0, 0), (100, 80, 1), (0, 80, 0))))
    half = (2500 - 576) ** 0.5
    assert lines_at(found, 104) == [pytest.approx((50 - half, 50 + half), abs=0.01)]


def test_no_course_line_runs_where_a_stepped_base_stands_above_it():
    stepped = [(0, 0), (120, 0), (120, 16), (200, 16), (200, 100), (0, 100)]
    found = plan(wall=stepped)
    assert lines_at(found, 8) == [(0, 120)]
    assert lines_at(found, 16) == [(0, 200)]


# -------------------------------------------------------------- starter strip


def starters(**kwargs):
    return [(s.x0, s.x1, s.y) for s in plan(**kwargs).starter_lines]


def test_the_starter_strip_is_interrupted_at_doors_and_their_stones():
    assert starters(door=[(60, 5, 96, 85)]) == [(0, 60, 5), (96, 200, 5)]
    assert starters(door=[(60, 5, 96, 85)], job_=job(trim__jambs=5.0, courses__clearance=2.0)) == [
        (0, 55, 7),
        (101, 200, 7),
    ]


def test_the_starter_strip_steps_with_the_base():
    #  |              |     base 0 up to x = 120, then 16; clearance 2
    #  |      .=======|
    #  '======'
    stepped = [(0, 0), (120, 0), (120, 16), (200, 16), (200, 100), (0, 100)]
    assert starters(wall=stepped, job_=job(courses__clearance=2.0)) == [(0, 120, 2), (120, 200, 18)]
    assert told(wall=stepped, job_=job(courses__start=4.0)) == ["BASE_STEPPED"]


def test_over_a_sloped_base_the_strip_is_interrupted_at_doors_too():
    #  the same slope with a door from 100 to 130 that follows it: the base is 10 and 13 there
    sloped = [(0, 0), (200, 20), (200, 100), (0, 100)]
    found = starters(wall=sloped, door=[[(100, 10), (130, 13), (130, 90), (100, 90)]])
    assert found == [
        pytest.approx(s) for s in [(0, 80, 8), (80, 100, 16), (130, 160, 16), (160, 200, 24)]
    ]


def test_over_a_slope_down_to_the_right_the_strip_steps_down():
    # falls 20 over 200: the base passes 16 at x = 40 and 8 at x = 120
    found = starters(wall=[(0, 20), (200, 0), (200, 100), (0, 100)])
    assert sorted(found) == [pytest.approx(s) for s in [(0, 40, 24), (40, 120, 16), (120, 200, 8)]]


def test_over_a_slope_that_a_level_line_starts_below_the_strip_is_no_lower_than_the_starter():
    # base from 0 to 12 over 120, level line at 11, clearance 1: lines at 3 + 8 n, the starter at 3;
    # the base passes 3 at x = 30
    sloped = coursed(
        drawing(wall=[[(0, 0), (120, 12), (120, 80), (0, 80)]], level=[line(-5, 11, 125, 11)]),
        job(courses__clearance=1.0),
    )[0]
    assert [(s.x0, s.x1, s.y) for s in sloped.starter_lines] == [
        pytest.approx(s) for s in [(0, 30, 3), (30, 110, 11), (110, 120, 19)]
    ]


def test_over_a_slope_that_begins_at_a_step_the_strip_steps_up_from_there():
    #        ____--|     base 0 up to x = 60, a riser to 10, a slope from there to 30 at x = 160: it
    # passes
    #  |    |            16 at x = 90 and 24 at x = 130
    #  '----'
    found = starters(wall=[(0, 0), (60, 0), (60, 10), (160, 30), (160, 100), (0, 100)])
    assert found == [
        pytest.approx(s) for s in [(0, 60, 0), (60, 90, 16), (90, 130, 24), (130, 160, 32)]
    ]


def test_over_an_arched_base_the_strip_lies_over_its_ends():
    #   '-.__.-'   the base sags 5 between (0, 10) and (80, 10); its lowest point is 5, the starter
    # 7
    arched = coursed(
        drawing(wall=[Path(((0, 10, 0.125), (80, 10, 0), (80, 90, 0), (0, 90, 0)))]),
        job(courses__clearance=2.0),
    )[0]
    assert [(s.x0, s.x1, s.y) for s in arched.starter_lines] == [pytest.approx((0, 80, 12))]


def test_over_a_sloped_base_the_strip_steps_up_with_the_course_lines():
    # rises 20 over 200: the base passes 8 at x = 80 and 16 at x = 160
    sloped = [(0, 0), (200, 20), (200, 100), (0, 100)]
    found = starters(wall=sloped)
    assert found == [pytest.approx(s) for s in [(0, 80, 8), (80, 160, 16), (160, 200, 24)]]
    assert sum(b - a for a, b, _ in found) == pytest.approx(200)


# ---------------------------------------------------------------- conflicts


def conflicts(**kwargs):
    return [
        (c.what, c.course, c.y, c.strip, c.move_up, c.move_down)
        for c in plan(**kwargs).conflicts
        if c.what != "top"
    ]


def test_heads_and_sills_leave_strips():
    # lines at 5 + 8 n. sill at 32: 3 above the line 29, in course 3; up 5 to 37, down 3 to 29
    # head at 60: 1 below the line 61, in course 6; up 1 to 61, down 7 to 53
    assert conflicts(window=[(60, 32, 96, 60)]) == [
        ("sill", 3, 32, 3, 5, 3),
        ("head", 6, 60, 1, 1, 7),
    ]


def test_heads_and_sills_on_course_lines_run_clean():
    assert conflicts(window=[(60, 29, 96, 61)]) == [
        ("sill", 2, 29, 0, 0, 0),
        ("head", 7, 61, 0, 0, 0),
    ]
    assert told(window=[(60, 29, 96, 61)]) == []


def test_trim_bands_move_head_and_sill():
    # sill 33 - 4 = 29 and head 53 + 8 = 61 are course lines
    found = conflicts(window=[(60, 33, 96, 53)], job_=job(trim__head=8.0, trim__sill=4.0))
    assert [(c[0], c[2], c[3]) for c in found] == [("sill", 29, 0), ("head", 61, 0)]


def test_a_fixture_has_no_bands_to_move_it():
    found = conflicts(fixture=[(60, 33, 70, 53)], job_=job(trim__head=8.0, trim__sill=4.0))
    assert [(c[0], c[2]) for c in found] == [("sill", 33), ("head", 53)]


def test_a_sill_against_another_opening_is_no_sill_and_has_no_band():
    #  .------.      the window stands on a fixture of its own width: no stone fits between them
    #  |      |
    #  |------| 33
    #  '------' 30
    found = conflicts(
        window=[(60, 33, 96, 60)], fixture=[(60, 30, 96, 33)], job_=job(trim__sill=4.0)
    )
    assert [(c[0], c[2]) for c in found] == [("sill", 30), ("head", 60)]


def test_a_head_beside_another_opening_counts_from_its_first_to_its_last_veneer():
    #  the window's head 60..120 lies under a vent 60..80 that stands on it: veneer over 80..120
    # alone
    found = plan(window=[(60, 29, 120, 60)], vent=[(60, 60, 80, 70)]).conflicts
    assert [(c.opening, c.x0, c.x1) for c in found if c.y == 60 and c.what == "head"] == [
        ("W1-O1", 80, 120)
    ]


def test_a_door_has_a_head_only():
    assert [c[0] for c in conflicts(door=[(60, 5, 96, 85)])] == ["head"]
    assert [c[0] for c in conflicts(door=[(60, 9, 96, 85)])] == ["head"]


def test_a_head_at_the_top_of_the_wall_has_no_veneer_above():
    assert [c[0] for c in conflicts(window=[(60, 32, 96, 105)])] == ["sill"]


def test_a_cap_leaves_a_strip_below_it():
    # cap from 102.75 to 105; lines at 101 and 109: 1.75 are left
    found = plan(cap=[line(0, 105, 200, 105)]).conflicts
    assert [(c.what, c.opening, c.course, c.y, c.strip, c.sliver) for c in found] == [
        ("cap", None, 12, 102.75, 1.75, True)
    ]


def test_only_the_part_of_a_top_without_cap_counts_as_a_top():
    found = plan(cap=[line(0, 105, 80, 105)]).conflicts
    assert [(c.what, c.x0, c.x1) for c in found] == [("cap", 0, 80), ("top", 80, 200)]


def test_tops_at_one_height_are_told_apart_where_something_lies_between():
    #  .--.  .--.    two gables' flat tops at 105 with a notch between them, and a vent open to the
    # top of the first
    notched = [(0, 5), (200, 5), (200, 105), (120, 105), (120, 90), (80, 90), (80, 105), (0, 105)]
    found = plan(wall=notched, vent=[(20, 95, 40, 105)]).conflicts
    assert [(c.x0, c.x1) for c in found if c.what == "top" and c.y == 105] == [
        (0, 20),
        (40, 80),
        (120, 200),
    ]
    assert [(c.x0, c.x1, c.strip) for c in found if c.what == "top" and c.y == 90] == [(80, 120, 5)]


def test_tops_of_two_heights():
    stepped = [(0, 5), (200, 5), (200, 105), (50, 105), (50, 72), (0, 72)]
    found = plan(wall=stepped).conflicts
    assert [(c.what, c.y, c.strip, c.x0, c.x1) for c in found] == [
        ("top", 72, 3, 0, 50),
        ("top", 105, 4, 50, 200),
    ]


@pytest.mark.parametrize(
    ("head", "sliver"),
    [(58.99, False), (59.0, False), (59.01, True), (60.98, True), (60.995, False)],
)
def test_a_strip_lower_than_the_limit_is_a_sliver(head, sliver):
    # the line is 61, the limit 2 in; within 0.01 in the line runs clean
    found = [c for c in plan(window=[(60, 29, 96, head)]).conflicts if c.what == "head"]
    assert [c.sliver for c in found] == [sliver]


def test_the_limit_is_the_jobs():
    window = {"window": [(60, 29, 96, 58)]}  # 3 in under the line 61
    assert told(**window) == []
    assert told(**window, job_=job(courses__sliver=3.0)) == []
    # the top's strip of 4 too
    assert told(**window, job_=job(courses__sliver=3.1)) == ["SLIVER"]
    assert told(**window, job_=job(courses__sliver=4.1)) == ["SLIVER", "SLIVER"]


def test_a_sliver_is_told_with_the_moves_and_the_openings_handle():
    notices = coursed(drawing(wall=[WALL], window=[(60, 29, 96, 60)]))[1]
    (notice,) = notices
    assert (notice.code, notice.handle, notice.at_in) == ("SLIVER", "WINDOW1", (78, 60))
    assert 'course 7 leaves a strip of 1" at the head of W1-O1' in say(notice.message)
    assert '1" up or 7" down' in say(notice.message)


def test_what_lies_under_the_starter_line_is_no_conflict():
    #  a vent low in the wall: its head at 8 lies under the starter at 13
    assert conflicts(vent=[(60, 6, 70, 8)], job_=job(courses__clearance=8.0)) == []


@pytest.mark.parametrize("ground", [0.0, 4.25, -128.0, 1234.57])
def test_a_top_a_hundredth_off_a_course_line_meets_it_anywhere_on_the_sheet(ground):
    wall_courses, _ = coursed(
        drawing(wall=[(0, ground, 96, ground + 16.01)]), job(courses__start=0.0)
    )
    (top,) = wall_courses.conflicts
    assert (top.what, top.strip, len(wall_courses.courses)) == ("top", 0.0, 2)


def test_panels_cover_what_lies_above_the_starter_and_as_far_above_each_step():
    #  clearance 2: 60 x (40 - 2) over the lower base, 60 x (40 - 16 - 2) over the step
    stepped = coursed(
        drawing(wall=[[(0, 0), (60, 0), (60, 16), (120, 16), (120, 40), (0, 40)]]),
        job(courses__clearance=2.0),
    )[0]
    assert stepped.field.area == pytest.approx(60 * 38 + 60 * 22)
    #  a base that rises 12 over 96 is cut off level at 2: a triangle of 16 x 2
    sloped = coursed(
        drawing(wall=[[(0, 0), (96, 12), (96, 40), (0, 40)]]), job(courses__clearance=2.0)
    )[0]
    assert sloped.field.area == pytest.approx(96 * 40 - 96 * 12 / 2 - 16 * 2 / 2)
    falling = coursed(
        drawing(wall=[[(0, 12), (96, 0), (96, 40), (0, 40)]]), job(courses__clearance=2.0)
    )[0]
    assert falling.field.area == pytest.approx(sloped.field.area)
    assert (sloped.field.box, falling.field.box) == (
        pytest.approx((0, 2, 96, 40)),
        pytest.approx((0, 2, 96, 40)),
    )
    on_the_base = coursed(drawing(wall=[(0, 0, 96, 40)]), job())[0]
    assert on_the_base.field.area == pytest.approx(96 * 40)


@pytest.mark.parametrize(("base", "turn"), [(0, 0), (8, 1), (16, 0), (24, 1), (17, 1)])
def test_walls_take_turns_by_courses_counted_from_their_level_line(base, turn):
    one = coursed(drawing(wall=[(0, base, 96, base + 80)], level=[line(-10, 0, 106, 0)]), job())[0]
    assert (one.starter_from, one.turn) == ("level", turn)


def test_without_a_level_line_the_first_course_is_an_even_one():
    assert coursed(drawing(wall=[(0, 8, 96, 88)]), job())[0].turn == 0


@pytest.mark.parametrize(
    ("windows", "named"),
    [(1, "W1-O1;"), (3, "W1-O1, W1-O2, W1-O3;"), (5, "W1-O1, W1-O2, W1-O3 and 2 more;")],
)
def test_slivers_of_a_row_of_windows_are_told_once(windows, named):
    #  heads at 60 in a wall with lines at 5 + 8 n: each leaves 1 in
    row = [(20 + 34 * n, 29, 44 + 34 * n, 60) for n in range(windows)]
    notices = [n for n in coursed(drawing(wall=[WALL], window=row))[1] if n.code == "SLIVER"]
    assert len(notices) == 1
    assert f"at the head of {named}" in say(notices[0].message)


def test_a_sliver_is_told_at_its_own_opening():
    windows = [(20, 29, 44, 59), (60, 29, 84, 60)]  # only the second head leaves a sliver
    (told,) = [n for n in coursed(drawing(wall=[WALL], window=windows))[1] if n.code == "SLIVER"]
    assert (told.handle, told.at_in) == ("WINDOW2", (72, 60))


def test_the_strip_over_a_sloped_base_with_a_clearance_begins_at_its_low_end():
    #  base rises from 4 to 12 over 80; the starter at 6: strip at 6 over the first 20, at 14 over
    # the rest
    sloped = coursed(
        drawing(wall=[[(0, 4), (80, 12), (80, 80), (0, 80)]]), job(courses__clearance=2.0)
    )[0]
    assert [(s.x0, s.x1, s.y) for s in sloped.starter_lines] == [
        pytest.approx((0, 20, 6)),
        pytest.approx((20, 80, 14)),
    ]


# --------------------------------------------------- ground below the starter


@pytest.mark.parametrize(("clearance", "bare"), [(0.0, None), (0.25, None), (4.0, "5.56 sq ft")])
def test_ground_below_the_starter_is_told_once_for_the_job(clearance, bare):
    #  walls of 120 and 80 by 100, the first course 4 above the base: 200 x 4 of 200 x 100 sq in
    # bear no panel
    asked = job(courses__clearance=clearance)
    found = recognise([drawing(wall=[(0, 0, 120, 100), (200, 0, 280, 100)])], asked)
    told = [
        say(n.message)
        for n in lay_out(found.walls, found.corners, asked, PRODUCT).notices
        if n.code == "BELOW_STARTER"
    ]
    assert told == (
        [
            f"{bare} of the walls lie below the starter strip and bear no panel; "
            "the net area of 138.89 sq ft counts them"
        ]
        if bare
        else []
    )
