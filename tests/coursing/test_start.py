"""The best start. The panel of these tests is 36 x 8, a strip under 2 a sliver, the permitted range
0
to 2 above the base unless said otherwise, so shifts from 0 to 2.

    96 .-----------------------.     course lines at 8 n + s
       |     69 .---.          |
       |        |   |          |     the head leaves the strip from 69 up to the next line,
       |     33 '---'          |     the sill the strip from the line below up to 33
     0 '-----------------------'     the top the strip below 96
"""

import dataclasses
import math
import random

import pytest
from builders import (
    JOB,
    PRODUCT,
    drawing,
    job,
    line,
    measured,
    shuffled,
    tables_of,
    walls_of,
    write_dxf,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.app.laying import lay_out
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.messages import Length
from dxf2veneer.basics.tolerances import LINE_MEETS_IN
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.choice import start_of, with_panels
from dxf2veneer.coursing.groups import walls_together
from dxf2veneer.coursing.meetings import meetings
from dxf2veneer.coursing.notices import start_notices
from dxf2veneer.geometry import Path
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import Corner, CoursePlan, StockCount, WallCount
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

WALL = (0, 0, 200, 96)


def tables(*drawings, job_=JOB, panels_of=None):
    """The tables of starts of a job."""
    found = recognise(drawings, job_)
    walls = [measure_wall(w, job_, PRODUCT) for w in found.walls]
    return tables_of(walls, found.corners, job_, panels_of)


def only_table(job_=JOB, panels_of=None, wall=WALL, **outlines):
    """The table of one wall."""
    (table,) = tables(drawing(wall=[wall], **outlines), job_=job_, panels_of=panels_of)
    return table


def counts(option):
    return option.slivers, option.ripped, option.strips


# ------------------------------------------------------------------- by hand


def test_a_sill_one_inch_over_a_line_is_met_by_a_start_of_one():
    # at 0 the sill leaves 33 - 32 = 1, a sliver, the head 72 - 69 = 3, the top nothing: 2 strips 36
    # long
    # at 1 the sill is clean, the head leaves 73 - 69 = 4, the top 96 - 89 = 7: 200 in of top are 6
    # pieces
    table = only_table(window=[(60, 33, 96, 69)])
    assert (table.present.start, counts(table.present)) == (0, (1, 2, 2))
    assert (table.best.start, table.best.height, counts(table.best)) == (1, 1, (0, 7, 2))
    assert table.improves


def test_the_height_counts_from_the_base_and_the_start_from_the_clearance():
    table = only_table(
        wall=(0, 10, 200, 106), window=[(60, 47, 96, 79)], job_=job(courses__clearance=4.0)
    )
    # lines at 14 + 8 n; the sill at 47 is 1 over the line 46
    assert (table.best.start, table.best.height, table.best.slivers) == (1, 5, 0)


@pytest.mark.parametrize("start", [0.7, 0.75, 1.3])
def test_a_single_start_between_two_slivers_is_found(start):
    # the head leaves 2 only from this start up, the sill only down to it
    #   head at 72 - (2 - start): strip 2 - start + s       sill at 32 + (2 + start): strip 2 +
    # start - s
    table = only_table(wall=(0, 0, 200, 100), window=[(60, 34 + start, 96, 70 + start)])
    assert table.best.start == pytest.approx(start, abs=1e-9)
    assert (table.best.slivers, table.best.strips) == (0, 3)
    assert all(o.slivers for o in table.options if not o.is_best)


def test_where_slivers_are_equal_the_least_to_rip_is_best():
    # the top at 99 leaves 3 at s = 0 and is clean at s = 3, which saves its 6 pieces; the sill at
    # 30 leaves 6
    # and then 3, the head at 68 leaves 4 and then 7: no sliver at either
    table = only_table(
        wall=(0, 0, 200, 99), window=[(60, 30, 96, 68)], job_=job(courses__clearance_most=3.0)
    )
    assert counts(table.present) == (0, 8, 3)
    assert (table.best.start, counts(table.best)) == (3, (0, 2, 2))


def test_among_equals_the_nearest_to_the_present_start_is_best():
    # nothing meets a line between 0 and 2 and no strip is a sliver: the wall's top is 100, 4 over a
    # line
    assert only_table(wall=(0, 0, 200, 100)).best.start == 0
    assert only_table(wall=(0, 0, 200, 100), job_=job(courses__start=1.3)).best.start == 1.3
    # from out of the range the nearest end; where nobody named its end, it reaches to where the
    # starter stands
    # (at 4 the top is clean)
    far = {"wall": (0, 0, 200, 100), "job_": job(courses__start=5.0, courses__clearance_most=2.0)}
    assert only_table(wall=(0, 0, 200, 100), job_=job(courses__start=-3.0)).best.start == 0
    assert only_table(**far).best.start == 2
    assert only_table(wall=(0, 0, 200, 100), job_=job(courses__start=5.0)).best.start == 4


def test_a_level_line_that_lifts_the_starter_leaves_the_best_no_worse_than_what_stands():
    # lines run through the level at 44, so the starter stands at 44 - 5 x 8 = 4 over the base:
    # higher than clearance + 2. Head at 68 and top at 92 lie 64 and 88 over it: clean. A range that
    # ended at 2 would take a sliver or a rip for it
    lifted = {"wall": (0, 0, 200, 92), "window": [(60, 36, 96, 68)]}
    level = [line(-20, 44, 220, 44)]
    table = only_table(**lifted, level=level)
    assert table.present.height == 4 and table.present.fits
    assert (table.best.start, counts(table.best)) == (0, (0, 0, 0))
    capped = only_table(**lifted, level=level, job_=job(courses__clearance_most=2.0))
    assert not capped.present.fits
    assert counts(capped.best) > (0, 0, 0)


@pytest.mark.parametrize("seed", range(40))
def test_best_is_never_worse_than_what_stands(seed):
    rng = random.Random(seed)
    walls, windows = [], []
    for n in range(rng.randint(1, 3)):
        base = rng.choice((0, 0, 3, 5.5, 12))
        walls.append((300 * n, base, 300 * n + 200, base + rng.choice((96, 99, 104))))
        for k in range(2):
            sill = base + rng.randint(24, 40)
            windows.append((300 * n + 30 + 80 * k, sill, 300 * n + 66 + 80 * k, sill + 36))
    level = [line(-20, 44.5, 900, 44.5)] if rng.random() < 0.7 else []
    for table in tables(drawing(wall=walls, window=windows, level=level)):
        assert table.best.fits and table.present.fits
        assert counts(table.best) <= counts(table.present)


def test_the_best_start_reads_well():
    # the top at 98.03 leaves 2.03 - s: with the present start at 2 the nearest without a sliver is
    # 0.03
    assert only_table(
        wall=(0, 0, 200, 98.03), job_=job(courses__start=2.0)
    ).best.start == pytest.approx(0.03)
    # the sill at 33.9 leaves 1.9 - s, a sliver up to 1.89, and is clean from there to 1.91: 1.9
    # itself is taken
    assert only_table(
        wall=(0, 0, 200, 100), window=[(60, 33.9, 96, 68)]
    ).best.start == pytest.approx(1.9)
    # a head at 71.03 leaves 0.97 + s: no sliver from 1.03 on
    assert only_table(
        wall=(0, 0, 200, 100), window=[(60, 28, 96, 71.03)]
    ).best.start == pytest.approx(1.03)


def test_both_ends_of_the_range_belong_to_it():
    # the sill at 35 leaves 3 at s = 0, a sliver from s = 1 on and is clean at 3; the top leaves 6 -
    # s
    at_35 = {"window": [(60, 35, 96, 68)], "wall": (0, 0, 200, 102)}
    assert only_table(**at_35).best.start == 0
    assert only_table(**at_35, job_=job(courses__clearance_most=3.0)).best.start == 3
    assert only_table(**at_35, job_=job(courses__clearance_most=2.98)).best.start == 0
    assert (
        only_table(**at_35, job_=job(courses__clearance=3.0)).best.start == 0
    )  # the line is there already


def test_the_table_ends_with_the_highest_starter_that_is_permitted():
    # heights 4 to 5.7 over the base are starts 0 to 1.7; the top at 104 leaves 4 - s, never a
    # sliver
    table = only_table(
        wall=(0, 0, 200, 104), job_=job(courses__clearance=4.0, courses__clearance_most=5.7)
    )
    assert [(o.start, o.height) for o in table.options] == [
        (0, 4),
        (pytest.approx(1.7), pytest.approx(5.7)),
    ]


def test_other_starts_that_are_shown_read_well_from_either_side():
    # the sill at 32.5 is clean at 0.5, the one at 33.5 at 1.5. Between 0.51 and 1.49 the second is
    # a sliver; of that
    # stretch the sixteenth nearest to the present start is shown: from 2 it is 1 7/16, from 0 it is
    # 9/16
    vents = {"wall": (0, 0, 200, 100), "vent": [(60, 32.5, 70, 68), (100, 33.5, 110, 68)]}
    assert [o.start for o in only_table(**vents, job_=job(courses__start=2.0)).options] == [
        0,
        0.5,
        1.4375,
        1.5,
        2,
    ]
    assert [o.start for o in only_table(**vents).options] == [0, 0.5, 0.5625, 1.5, 2]


def test_a_range_of_one_height_leaves_one_start():
    table = only_table(
        job_=job(courses__clearance=1.0, courses__clearance_most=1.0), window=[(60, 33, 96, 69)]
    )
    assert [(o.start, o.height, o.is_best, o.is_present) for o in table.options] == [
        (0, 1, True, True)
    ]


def test_what_a_higher_starter_leaves_below_it_counts_no_more():
    # the vent's head at 1.5 leaves 6.5 + s; at s = 1.5 the starter meets it, and then it lies under
    # the starter
    table = only_table(wall=(0, 0, 200, 100), vent=[(60, 0.25, 70, 1.5)])
    by_start = {o.start: o.strips for o in table.options}
    assert by_start[0] == by_start[2] + 1
    assert table.best.start == pytest.approx(1.5, abs=0.02)


def test_a_wall_with_nothing_to_meet_keeps_its_start():
    table = only_table(wall=[(0, 0), (160, 0), (0, 80)])
    assert (table.best, counts(table.best)) == (table.present, (0, 0, 0))


# ------------------------------------------------------------------- the table


def test_the_table_shows_present_best_lowest_and_highest_from_the_lowest_up():
    table = only_table(
        job_=job(courses__start=-1.0, courses__clearance=4.0, courses__clearance_most=9.0),
        window=[(60, 33, 96, 69)],
    )
    starts = [o.start for o in table.options]
    assert starts == sorted(starts) and len(starts) <= 6
    assert {-1, 0, 5, table.best.start} <= set(starts)
    assert [(o.start, o.fits) for o in table.options if not o.fits] == [(-1, False)]
    assert sum(o.is_best for o in table.options) == sum(o.is_present for o in table.options) == 1


def test_an_asked_best_start_is_the_present_one():
    table = only_table(job_=job(courses__start="best"), window=[(60, 33, 96, 69)])
    assert table.present is table.best and table.best.start == 1
    assert not table.improves
    assert 0 in [o.start for o in table.options]


# ---------------------------------------------------------------------- units

TALL = job(courses__start="best", courses__clearance_most=16.0)


def test_of_equal_starts_the_one_of_fewest_units_is_best_and_no_other_is_planned():
    # 0, 8 and 16 leave the same; the sill at 32 and the head at 72 are clean in all three
    asked = {}

    def panels_of(walls, start):
        assert walls == ("W1",)
        asked[start] = 30 - (start == 8)
        return asked[start]

    table = only_table(job_=TALL, panels_of=panels_of, window=[(60, 32, 96, 72)])
    assert asked == {0: 30, 8: 29, 16: 30}
    assert (table.best.start, table.best.units) == (8, 29)
    assert {o.start: o.units for o in table.options if o.units is not None} == asked


def test_two_starts_as_good_with_a_worse_one_between_are_both_planned():
    # the sill at 34.7 leaves 2.7 - s, a sliver beyond 0.7; the head at 70.74 leaves 1.26 + s, a
    # sliver up to 0.74:
    # one sliver up to 0.7, two between, one from 0.74 on; no sixteenth lies between
    asked = {}

    def panels_of(walls, start):
        asked[round(start, 6)] = 30 - (start > 0.5)
        return asked[round(start, 6)]

    table = only_table(
        job_=job(courses__start="best"),
        panels_of=panels_of,
        wall=(0, 0, 200, 100),
        window=[(60, 34.7, 96, 70.74)],
    )
    assert asked == {0: 30, 0.74: 29}
    assert (table.best.start, table.best.slivers) == (pytest.approx(0.74), 1)


@pytest.mark.parametrize(("present", "best"), [(0.0, 0.0), (0.71, 0.7), (0.73, 0.74), (2.0, 2.0)])
def test_of_two_starts_as_good_with_a_worse_one_between_the_nearer_is_best(present, best):
    table = only_table(
        job_=job(courses__start=present), wall=(0, 0, 200, 100), window=[(60, 34.7, 96, 70.74)]
    )
    assert table.best.start == pytest.approx(best)


def test_of_many_starts_as_good_the_six_nearest_are_planned():
    # courses of 8 in a range of 80: eleven starts leave sill and head clean
    asked = []

    def panels_of(walls, start):
        asked.append(start)
        return 30

    tall = job(courses__start="best", courses__clearance_most=80.0)
    table = only_table(
        job_=tall, panels_of=panels_of, wall=(0, 0, 200, 296), window=[(60, 232, 96, 272)]
    )
    assert asked == [0, 8, 16, 24, 32, 40]
    assert table.best.start == 0


def test_of_equal_starts_the_one_whose_plan_takes_fewest_panels_is_laid():
    # starts 0, 8 and 16 tie, as above; each is laid out by itself with that start as a number
    found = recognise([drawing(wall=[WALL], window=[(60, 32, 96, 72)])], TALL)

    def laid(asked):
        return lay_out(found.walls, found.corners, asked, PRODUCT)

    chosen = laid(TALL)
    (table,) = chosen.starts
    planned = {o.start: o.units for o in table.options if o.units is not None}
    alone = {s: laid(job(courses__start=float(s))).plan.total for s in (0, 8, 16)}
    assert planned == alone
    assert chosen.plan.total == table.best.units == min(alone.values()) < max(alone.values())


def test_units_are_not_asked_for_without_need():
    def panels_of(walls, start):
        raise AssertionError("no plan is needed")

    assert (
        only_table(
            job_=job(courses__start="best"), panels_of=panels_of, window=[(60, 33, 96, 69)]
        ).best.units
        is None
    )
    assert (
        only_table(
            job_=job(courses__clearance_most=16.0), panels_of=panels_of, window=[(60, 32, 96, 72)]
        ).best.start
        == 0
    )


def test_the_plan_gives_the_present_start_its_units():
    none = StockCount(0, 0, 0.0, 0, 0, 0, ())
    walls = tuple(
        WallCount(w, flat, corner, 0, 0, 0, 0.0, 0)
        for w, flat, corner in (("W1", 20, 3), ("W2", 5, 1))
    )
    plan = CoursePlan((), none, none, walls, 0)
    table, _ = with_panels(
        tables(drawing(wall=[WALL, (300, 0, 400, 96)], window=[(60, 33, 96, 69)])), plan
    )
    assert (table.present.units, table.best.units) == (23, None)


# --------------------------------------------------------------------- groups

#     W1          W2            W3        The corner C1 joins W1 and W2; W3 stands alone.
#  .------.    .------.      .-----.      W1's sill wants s = 1; W2's sill at 35.5 leaves 2 up to s
# = 1.5
#  |  33  A    A 35.5 |      |     |
#  '------'    '------'      '-----'
CORNERED = drawing(
    wall=[(0, 0, 120, 100), (200, 0, 320, 100), (400, 0, 500, 97)],
    window=[(40, 33, 76, 68), (240, 35.5, 276, 68)],
    outside_corner=[line(120, 0, 120, 100), line(200, 0, 200, 100)],
    texts=[("outside_corner", "A", (125, 50)), ("outside_corner", "A", (195, 50))],
)


def test_walls_round_a_corner_share_a_start_and_others_keep_their_own():
    found = tables(CORNERED)
    assert [t.walls for t in found] == [("W1", "W2"), ("W3",)]
    both, alone = found
    assert (both.best.start, both.best.slivers) == (1, 0)
    assert (alone.best.start, alone.best.strips) == (1, 0)  # the top at 97 is clean
    second = only_table(wall=(200, 0, 320, 100), window=[(240, 35.5, 276, 68)])
    assert second.best.start == 0  # by itself W2 would stay


def test_walls_round_a_corner_with_different_bases_keep_their_lines_in_step():
    # W2 stands 16 higher, two courses: lines at 8 n + s in both, and both starters at s over their
    # base
    stepped = drawing(
        wall=[(0, 0, 120, 100), (200, 16, 320, 100)],
        window=[(40, 33, 76, 68), (240, 51.5, 276, 68)],
        outside_corner=[line(120, 0, 120, 100), line(200, 16, 200, 100)],
        texts=[("outside_corner", "A", (125, 50)), ("outside_corner", "A", (195, 50))],
    )
    (table,) = tables(stepped)
    assert (table.best.start, table.best.height, table.best.fits) == (1, 1, True)
    asked = job(courses__start="best")
    laid = [
        course_wall(
            measure_wall(w, asked, PRODUCT),
            asked,
            PRODUCT,
            start_of(tables(stepped, job_=asked), w.id),
        )
        for w in walls_of(stepped)
    ]
    assert [p.starter_y for p in laid] == [1, 17]


def test_ties_run_from_wall_to_wall():
    walls = walls_of(
        drawing(
            wall=[(x, 0, x + 60, 90) for x in range(0, 500, 100)], level=[line(190, 45, 370, 45)]
        )
    )
    corners = [
        Corner("C1", "outside", 90, (("W1", "right"), ("W2", "left"))),
        Corner("C2", "outside", 90, (("W2", "right"), ("W3", "left"))),
        Corner("C3", "inside", 90, (("W5", "right"),)),
    ]
    assert walls_together(walls, []) == (("W1",), ("W2",), ("W3", "W4"), ("W5",))
    assert walls_together(walls, corners) == (("W1", "W2", "W3", "W4"), ("W5",))


def test_level_lines_of_two_drawings_tie_nothing():
    def front(index):
        return drawing(index=index, wall=[(0, 0, 60, 90)], level=[line(-5, 20, 65, 20)])

    assert [t.walls for t in tables(front(0), front(1))] == [("W1",), ("W2",)]


# ---------------------------------------------------------------- level lines


def levelled(*bases, top=98.0, level=16.0):
    """Walls side by side on these bases, tied by a level line at 16: lines at 8 n."""
    walls = [(100 * i, base, 100 * i + 60, top) for i, base in enumerate(bases)]
    return drawing(wall=walls, level=[line(-5, level, 100 * len(bases), level)])


def test_with_a_level_line_starts_may_be_negative():
    # base 1.5, lines at 8 n + s: at s = 0 the starter is 8, 6.5 over the base; it lies within 2 of
    # it at
    # s = 1.5 to 3.5, and the top at 98 is clean at s = 2
    (table,) = tables(levelled(1.5), job_=job(courses__clearance_most=2.0))
    assert (table.present.height, table.present.fits) == (6.5, False)
    assert (table.best.start, table.best.height, table.best.fits, table.best.strips) == (
        2,
        0.5,
        True,
        0,
    )
    # the top at 101 is clean at s = -3, which puts the starter at 5, 3.5 over the base: with a
    # range of 4
    (table,) = tables(levelled(1.5, top=101.0), job_=job(courses__clearance_most=4.0))
    assert (table.best.start, table.best.height, table.best.strips) == (-3, 3.5, 0)


def test_with_a_level_line_half_a_course_up_and_down_is_looked_at():
    # the course lines repeat after 8: no start shown lies farther than 4 from the present one
    for front in (levelled(1.5), levelled(0, 7), levelled(3, top=101.0)):
        (table,) = tables(front, job_=job(courses__clearance_most=8.0))
        assert all(abs(o.start) <= 4.03 for o in table.options)


def test_with_a_level_line_half_a_course_away_is_looked_at_too():
    # the top at 100 is clean at 4 and at -4, the same lines
    (table,) = tables(levelled(1.5, top=100.0), job_=job(courses__clearance_most=8.0))
    assert (abs(table.best.start), table.best.strips, table.best.height) == (4, 0, 2.5)


def test_with_a_level_line_and_a_clearance_the_range_counts_from_the_clearance():
    # lines at 8 n + s: starters 3 to 5 over the base are starts -5 to -3 and 3 to 5, of which those
    # down to -4.02 and up to
    # 4.02 are looked at. -3 and 3 are as near to 0; the lower is taken. The top leaves 2.5 at -3,
    # 4.5 at 3
    asked = job(courses__clearance=3.0, courses__clearance_most=5.0)
    (table,) = tables(levelled(0, top=103.5), job_=asked)
    assert (table.present.height, table.present.fits) == (8, False)
    assert (table.best.start, table.best.height, table.best.fits) == (-3, 5, True)


def test_walls_tied_by_a_level_line_fit_the_range_together():
    # bases 0 and 1: from s = 1 to 2 both starters lie in the range; the tops at 98 are clean at 2
    (table,) = tables(levelled(0, 1))
    assert (table.walls, table.best.start, table.best.fits, table.best.height) == (
        ("W1", "W2"),
        2,
        True,
        2,
    )
    # bases 0 and 7: at s = 0 the starters lie 0 and 1 over them; at 2, 2 and 3
    (table,) = tables(levelled(0, 7))
    assert 0 <= table.best.start <= 1 and table.best.fits


def test_bases_too_different_for_the_range_are_told():
    # bases 0 and 4: starters s and 4 + s over them, mod 8: never both within 2
    asked = job(courses__start="best", courses__clearance_most=2.0)
    front = levelled(0, 4)
    found = tables(front, job_=asked)
    assert not found[0].best.fits
    told = list(start_notices(found, walls_of(front), asked))
    assert [(n.code, n.drawing, n.layer, n.handle, n.at_in) for n in told] == [
        ("START_OUT_OF_RANGE", 0, "WALL", "WALL1", (0, 0))
    ]
    assert 'W1, W2 brings every starter within 0" to 2"' in say(told[0].message)
    wide = job(courses__start="best", courses__clearance_most=4.0)
    assert list(start_notices(tables(front, job_=wide), walls_of(front), wide)) == []


def test_slivers_that_no_start_avoids_are_told_where_the_best_was_asked_for():
    # the sill at 33.5 leaves 1.5 - s, a sliver up to s = 1.49; the one at 35.3 leaves 3.3 - s, a
    # sliver from
    # 1.3 on: one sliver at least up to the range's end at 1.4
    front = drawing(wall=[(0, 0, 200, 100)], window=[(60, 33.5, 96, 68), (120, 35.3, 156, 68)])
    asked = job(courses__start="best", courses__clearance_most=1.4)
    (notice,) = start_notices(tables(front, job_=asked), walls_of(front), asked)
    assert notice.code == "START_SLIVERS"
    assert say(notice.message) == (
        'no start of W1 with the starter 0" to 1 3/8" above the base avoids slivers; '
        "the best leaves 1 sliver"
    )
    twice = drawing(
        wall=[(0, 0, 320, 100)],
        window=[(x, y, x + 36, 68) for x, y in ((60, 33.5), (120, 35.3), (180, 33.5), (240, 35.3))],
    )
    (notice,) = start_notices(tables(twice, job_=asked), walls_of(twice), asked)
    assert say(notice.message).endswith("the best leaves 2 slivers")
    assert list(start_notices(tables(front), walls_of(front), JOB)) == []


@pytest.mark.parametrize("start", [0.98, 0.992, 1.0, 1.008, 1.02])
def test_a_start_a_hair_beside_a_clean_one_is_clean_as_in_the_course_check(start):
    # the sill at 33 is met at 1, within a hundredth to either side
    asked = job(courses__start=start)
    front = drawing(wall=[WALL], window=[(60, 33, 96, 69)])
    (table,) = tables(front, job_=asked)
    (found,) = recognise([front], asked).walls
    conflicts = course_wall(measure_wall(found, asked, PRODUCT), asked, PRODUCT).conflicts
    assert table.present.strips == sum(c.strip > 0 for c in conflicts)
    assert [c.strip > 0 for c in conflicts if c.what == "sill"] == [abs(start - 1) > 0.01]


# ----------------------------------------------------------------------- laws

eighths = st.integers(0, 8 * 20).map(lambda n: n / 8)
rough = st.one_of(eighths, st.floats(0, 20, allow_nan=False).map(lambda v: round(v, 3)))


@st.composite
def fronts(draw):
    """One to three walls with windows, vents and doors in slots of 60, some tied by a level
    line."""
    found = {"wall": [], "window": [], "door": [], "vent": [], "cap": []}
    count = draw(st.integers(1, 3))
    for i in range(count):
        x0, base, top = 400 * i, draw(rough), 90 + draw(rough)
        found["wall"].append((x0, base, x0 + 250, top))
        for slot in draw(st.sets(st.integers(0, 3), max_size=3)):
            x, sill, head = x0 + 60 * slot + 5, 24 + draw(rough), 60 + draw(rough)
            kind = draw(st.sampled_from(["window", "window", "vent", "door"]))
            found[kind].append((x, base if kind == "door" else sill, x + 30 + draw(eighths), head))
        if draw(st.booleans()):
            found["cap"].append(line(x0, top, x0 + 250, top))
    if draw(st.booleans()):
        y = 30 + draw(rough)
        found["level"] = [line(-5, y, 400 * draw(st.integers(1, count)), y)]
    return drawing(**found)


@st.composite
def jobs(draw):
    clearance = draw(st.sampled_from([0.0, 2.0, 3.25]))
    most = clearance + draw(st.sampled_from([0.0, 0.5, 2.0, 3.3, 9.0]))
    return job(
        courses__clearance=clearance,
        courses__clearance_most=most,
        courses__start=draw(st.sampled_from([0.0, 0.5, -1.0])),
        courses__sliver=draw(st.sampled_from([0.0, 1.0, 2.0, 2.75])),
        trim__head=draw(st.sampled_from([0.0, 7.5])),
    )


def judged(walls, start, job_):
    """(walls out of range, slivers, pieces to rip, strips) by the course check itself."""
    rule, found, outside = job_.courses, [], 0
    for wall in walls:
        plan = course_wall(wall, job_, PRODUCT, start)
        above = plan.starter_y - wall.wall.box[1]
        outside += (
            not rule.clearance - LINE_MEETS_IN - 1e-9
            <= above
            <= rule.highest + LINE_MEETS_IN + 1e-9
        )
        found += [c for c in plan.conflicts if c.strip]
    return (
        outside,
        sum(c.sliver for c in found),
        sum(math.ceil((c.x1 - c.x0) / 36 - 1e-9) for c in found),
        len(found),
    )


def counted(walls, start, job_):
    """The same from lists of lines, the nearest line above and below each height: quick enough for
    many starts. ``walls`` are (base, level or None, [(what, y, pieces)])."""
    rule, outside, slivers, pieces, strips = job_.courses, 0, 0, 0, 0
    for base, level, met in walls:
        lowest = base + rule.clearance
        lines = [(lowest if level is None else level) + start + 8 * i for i in range(-30, 40)]
        lines = [
            y
            for y in lines
            if y >= (lowest + start - 1e-9 if level is None else lowest - LINE_MEETS_IN)
        ]
        outside += (
            not rule.clearance - LINE_MEETS_IN - 1e-9
            <= lines[0] - base
            <= rule.highest + LINE_MEETS_IN + 1e-9
        )
        for what, y, ripped in met:
            if y <= lines[0] - LINE_MEETS_IN or min(abs(y - at) for at in lines) <= LINE_MEETS_IN:
                continue
            over, under = (
                min(at for at in lines if at > y) - y,
                y - max(at for at in lines if at < y),
            )
            slivers += (over if what == "head" else under) < rule.sliver - 1e-9
            pieces, strips = pieces + ripped, strips + 1
    return outside, slivers, pieces, strips


@settings(max_examples=25, deadline=None)
@given(fronts(), jobs())
def test_no_start_of_a_fine_sampling_beats_the_best(front, job_):
    found = recognise([front], job_)
    by_id = {w.id: measure_wall(w, job_, PRODUCT) for w in found.walls}
    for table in tables_of(list(by_id.values()), found.corners, job_):
        walls = [by_id[i] for i in table.walls]
        flat = [
            (
                w.wall.box[1],
                w.wall.level_y,
                [
                    (m.what, m.y, math.ceil((m.x1 - m.x0) / 36 - 1e-9))
                    for m in meetings(w, job_, PRODUCT)
                ],
            )
            for w in walls
        ]
        best = judged(walls, table.best.start, job_)
        assert best == counted(flat, table.best.start, job_)
        width = job_.courses.highest - job_.courses.clearance
        low, high = (-4.0, 4.0) if all(w.wall.level_y is not None for w in walls) else (0.0, width)
        sampled = [low + i / 64 for i in range(int((high - low) * 64) + 1)]
        assert best <= min(counted(flat, s, job_) for s in sampled)


@settings(max_examples=40, deadline=None)
@given(fronts(), jobs())
def test_the_table_counts_what_the_course_check_finds(front, job_):
    found = recognise([front], job_)
    by_id = {w.id: measure_wall(w, job_, PRODUCT) for w in found.walls}
    for table in tables_of(list(by_id.values()), found.corners, job_):
        walls = [by_id[i] for i in table.walls]
        for o in table.options:
            outside, slivers, ripped, strips = judged(walls, o.start, job_)
            assert (o.fits, o.slivers, o.ripped, o.strips) == (
                outside == 0,
                slivers,
                ripped,
                strips,
            )
        assert len(table.options) <= 6


@settings(max_examples=25, deadline=None)
@given(fronts(), st.integers(0, 9))
def test_the_order_of_entities_and_the_place_on_the_sheet_change_nothing(front, seed):
    def starts(one):
        return {
            t.walls: [(round(o.start, 6), counts(o), o.is_best) for o in t.options]
            for t in tables(one)
        }

    moved = dataclasses.replace(
        front,
        shapes=tuple(dataclasses.replace(s, path=s.path.moved(64.0, -128.0)) for s in front.shapes),
    )
    assert starts(shuffled(front, seed)) == starts(front) == starts(moved)


def test_millimeters_and_inches_agree(tmp_path):
    front = drawing(wall=[WALL], window=[(60, 33, 96, 69)])
    asked = job(courses__start="best", plan__panels=False)
    found = [
        take_off([write_dxf(front, tmp_path / f"{units}.dxf", units=units)], asked).starts[0]
        for units in ("in", "mm")
    ]
    assert found[1].best.start == pytest.approx(found[0].best.start, abs=1e-9) == pytest.approx(1)
    assert counts(found[0].best) == counts(found[1].best)


def test_metric_jobs_get_whole_millimeters():
    # the top at 100 leaves 4 - s, a sliver beyond s = 2 (50.8 mm), the sill at 20.25 4.25 - s,
    # beyond 2.25;
    # between the two the first start that reads well is 51 mm or 2 1/16 in
    for display, beyond in (("metric", 51 / 25.4), ("imperial", 2.0625)):
        rule = job(output__display=display, courses__clearance_most=3.0)
        table = only_table(wall=(0, 0, 200, 100), vent=[(60, 20.25, 70, 38)], job_=rule)
        assert [o.start for o in table.options] == [0, pytest.approx(beyond), 3]


# ------------------------------------------------------------------- whole way


def test_a_takeoff_is_laid_with_the_best_start_where_it_is_asked_for(tmp_path):
    file = write_dxf(
        drawing(wall=[(0, 0, 200, 96), (300, 0, 400, 96)], window=[(60, 33, 96, 69)]),
        tmp_path / "front.dxf",
    )
    asked = take_off([file], job(courses__start="best", plan__panels=False))
    assert [w.courses.starter_y for w in asked.walls] == [1, 0]
    assert asked.job.courses.start == "best"
    assert {n.code for n in asked.notices} & {
        "SLIVER",
        "START_SLIVERS",
        "START_OUT_OF_RANGE",
        "STARTER_HIGH",
    } == set()
    listed = {say(a.name): a for a in asked.assumptions}
    assert listed["courses.start"].value == "best"
    assert listed["courses.clearance_most"].value == Length(2.0)
    assert listed["start of W1"].value == Length(1.0)
    assert 'chosen between 0" and 2": 0 slivers' in say(listed["start of W1"].effect)
    plain = take_off([file], job(plan__panels=False))
    assert [w.courses.starter_y for w in plain.walls] == [0, 0]
    assert [t.best.start for t in plain.starts] == [1, 0]
    assert "start of W1" not in {say(a.name) for a in plain.assumptions}


def test_an_opening_with_a_curved_head_counts_by_its_highest_point():
    arch = Path(
        ((60, 33, 0), (96, 33, 0), (96, 51, 1), (60, 51, 0))
    )  # half round of radius 18: head at 69
    assert counts(only_table(window=[arch]).present) == counts(
        only_table(window=[(60, 33, 96, 69)]).present
    )


def test_measured_walls_are_all_that_is_needed():
    one = measured(drawing(wall=[WALL]))
    assert tables_of([one], [])[0].walls == ("W1",)
