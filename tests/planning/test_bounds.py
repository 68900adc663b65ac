"""Panels that no plan can do without: numbers on paper, then plans made at random, then proven
optima.

Panels are 36 in, the least piece 8 in; so a corner piece is at most 28 in less a cut.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import exact
import pytest
from exact import Run, best_plan
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.planning.cutting_stock.bounds import job_bounds
from dxf2veneer.planning.cutting_stock.packing import CutPart, pack
from dxf2veneer.wording import say


@dataclass(frozen=True)
class Sizes:
    panel: float = 36.0
    corner: float = 36.0
    kerf: float = 0.0
    least: float = 8.0
    column: float = 16.0

    @property
    def longest_corner(self):
        return self.corner - self.kerf - self.least


NO_KERF = Sizes()
EIGHTH = Sizes(kerf=0.125)


def runs(count, length, left="plain", right="plain"):
    return [Run(0.0, float(length), left, right)] * count


def most(bounds):
    return max(b.units for b in bounds)


def found(bounds, by):
    return next(b for b in bounds if b.by == by)


# ------------------------------------------------------------- by length


def test_three_courses_of_ten_feet_need_ten_panels():
    bounds = job_bounds(runs(3, 120), NO_KERF)
    by_length = found(bounds.flat, "length")
    assert by_length.units == 10  # 360 / 36
    assert say(by_length.why) == "at least 10 flat panels for 30'-0\" of courses"
    assert (most(bounds.corner), bounds.total) == (0, 10)


def test_cuts_take_length_too():
    # 30 courses of 120 in: 3600 in = 100 panels. In at least 4 parts each, 120 parts:
    # 3600 + 120/8 = 3615 in, and 100 panels with a cut each are 3612.5 in
    bounds = job_bounds(runs(30, 120), EIGHTH)
    by_length = found(bounds.flat, "length")
    assert by_length.units == 101
    assert (
        say(by_length.why) == "at least 101 flat panels for 300'-0\" of courses, "
        "with the saw cuts of 120 pieces or more"
    )


def test_whole_panels_lose_nothing_to_cuts():
    assert job_bounds(runs(30, 108), EIGHTH).total == 90


def test_words_of_a_metric_job():
    # 2 courses of 2,743.2 mm, one carries left, one right; an eighth of an inch off a panel of
    # 914.4 mm
    bounds = job_bounds([*runs(1, 108, "corner"), *runs(1, 108, right="corner")], EIGHTH)
    assert say(bounds.both[0].why, "metric") == (
        "1 corner panel and at least 6 flat panels for 5 486 mm of courses less 911 mm "
        "that corner pieces cover at most, with the saw cuts of 6 pieces or more"
    )
    assert say(bounds.both[1].why, "metric").endswith(
        "a piece longer than 708 mm leaves too little for another"
    )


# --------------------------------------------------------------- by ends


@pytest.mark.parametrize(
    ("length", "panels", "why"),
    [
        (28, 0, "a single part that leaves room for another"),
        (28.5, 6, "nothing fits beside it; cut in two it takes a left and a right end"),
        (36, 6, "a panel"),
        (56, 6, "28 + 28: a right end and a left one"),
        (56.5, 9, "one part longer than 28 alone in its panel, the other takes one end of another"),
        (64, 9, "36 + 28"),
        (64.5, 12, "36 + 28.5, or 36 + 8 + 20.5"),
        (72, 12, "two panels"),
        (92, 12, "36 + 28 + 28"),
    ],
)
def test_six_courses_by_factory_ends(length, panels, why):
    assert found(job_bounds(runs(6, length), NO_KERF).flat, "hands").units == panels, why


def test_a_pier_of_thirty_inches_takes_a_panel_a_course():
    # 6 x 30 = 180 in = 5 panels by length; but 6 in are left over, and any division takes both ends
    bounds = job_bounds(runs(6, 30), NO_KERF)
    assert (
        found(bounds.flat, "length").units,
        found(bounds.flat, "hands").units,
        bounds.total,
    ) == (5, 6, 6)
    assert say(found(bounds.flat, "hands").why) == (
        "at least 6 flat panels: each has only two factory ends for the joints, "
        "and a piece longer than 2'-4\" leaves too little for another"
    )


# --------------------------------------------------------------- corners


def test_corner_panels_by_hands():
    #  left-hand pieces at the left ends of 3 runs, right-hand ones at 2 right ends
    job = [
        *runs(2, 100, "corner"),
        *runs(1, 100, "corner", "corner"),
        *runs(1, 100, "plain", "corner"),
    ]
    bounds = job_bounds(job, NO_KERF)
    assert found(bounds.corner, "hands").units == 3
    assert say(found(bounds.corner, "hands").why) == (
        "3 left-hand and 2 right-hand corner pieces, and a corner panel gives one of each hand"
    )


def test_a_column_in_corner_pieces():
    # 16 in wide, turn by turn: 16 + 16 = 32, one corner panel for two courses, no flat panel
    #  | L16 |   course 2
    #  | R16 |   course 1
    bounds = job_bounds([*runs(3, 16, "corner"), *runs(3, 16, right="corner")], EIGHTH)
    assert (most(bounds.corner), most(bounds.flat), bounds.total) == (3, 0, 3)


def test_pieces_too_short_to_divide_may_share_no_panel():
    # corner panel 24, and no run takes two pieces of 8 in: 15 + 15 > 24, but 15 + 8.5 fits
    job = [*runs(3, 15, "corner"), *runs(2, 15, right="corner"), *runs(1, 8.5, right="corner")]
    bounds = job_bounds(job, Sizes(corner=24.0, kerf=0.125))
    assert found(bounds.corner, "pairing").units == 5
    assert say(found(bounds.corner, "pairing").why) == (
        "3 left-hand and 3 right-hand corner pieces, "
        "of which no more than 1 pair can share a panel, cut as short as they may be"
    )


def test_a_wide_column_may_be_corner_and_flat():
    """Four faces of 24 in, twelve courses high: a corner panel for each piece would be 48.

    Corner piece and flat piece side by side take fewer: with 1/8 in cuts 24 corner panels of two
    pieces up to 16 in, unequal, and 12 flat panels of four pieces from 8 in are 36 in all.
    """
    faces = [*runs(24, 24, "corner"), *runs(24, 24, right="corner")]
    assert job_bounds(faces, EIGHTH).total <= 36
    assert job_bounds(faces, NO_KERF).total <= 33


def walls_of_narrow_runs():
    """Courses from the bottom up; an empty course parts two faces."""
    turns = (("corner", "plain"), ("plain", "corner"))
    faces = [
        course
        for face in range(4)
        for course in (*([Run(0, 24, *turns[(i + face) % 2])] for i in range(4)), [])
    ]
    yield from ((faces, 0), (faces, 1))
    for width, count, kerf in ((21, 4, 1), (25, 5, 0), (27, 3, 1)):
        yield [[Run(0, width, "corner")]] * count, kerf
    yield [[Run(0, 33, *turns[i % 2])] for i in range(4)], 1


@pytest.mark.parametrize(("courses", "kerf"), tuple(walls_of_narrow_runs()))
def test_no_bound_is_above_the_optimum_of_narrow_corners(courses, kerf):
    listed = [run for course in courses for run in course]
    bound = job_bounds(listed, Sizes(kerf=float(kerf))).total
    assert bound <= exact.fewest_units(courses, grid=1, kerf=kerf)


def test_corner_pieces_cover_a_panel_less_the_cut():
    # a wall between two outside corners: 2 courses of 108 in, one carries left, one right
    # 216 - (36 - 1/8) = 180.125 in, in at least 3 parts each (108 - 27.875 = 80.125): 180.875 /
    # 36.125 = 5.007
    bounds = job_bounds([*runs(1, 108, "corner"), *runs(1, 108, right="corner")], EIGHTH)
    assert (most(bounds.corner), bounds.total) == (1, 7)
    assert say(bounds.both[0].why) == (
        "1 corner panel and at least 6 flat panels for 18'-0\" of courses less 2'-11 7/8\" "
        "that corner pieces cover at most, with the saw cuts of 6 pieces or more"
    )


def test_without_a_cut_the_same_wall_comes_out_even():
    bounds = job_bounds([*runs(1, 108, "corner"), *runs(1, 108, right="corner")], NO_KERF)
    assert bounds.total == 6  # (216 - 36) / 36 = 5, and one corner panel


def test_lone_corner_pieces_cover_their_longest():
    # 4 courses of 100 in, all of one hand: 4 corner panels, each gives 28 in; (400 - 112) / 36 = 8
    bounds = job_bounds(runs(4, 100, "corner"), NO_KERF)
    assert (most(bounds.corner), most(bounds.flat), bounds.total) == (4, 8, 12)


def test_flat_panels_depend_on_how_many_corner_panels_are_bought():
    # 2 + 2 courses of 100 in: 2 corner panels cover 72 in, 4 cover 112 in; 328 / 36 = 9.1, 288 / 36
    # = 8
    job = [*runs(2, 100, "corner"), *runs(2, 100, right="corner")]
    assert most(job_bounds(job, NO_KERF, corner_units=2).flat) == 10
    assert most(job_bounds(job, NO_KERF).flat) == 8
    assert job_bounds(job, NO_KERF).total == 12


def test_ends_weigh_with_corner_pieces_as_well():
    # 2 courses of 58 in, a corner at the left: two corner panels cover 28 in each, 30 in are left
    # of each: 60 in is 1.7 panels, but each 30 takes a panel's both ends or all of it
    bounds = job_bounds(runs(2, 58, "corner"), NO_KERF)
    assert (found(bounds.both, "length").units, found(bounds.both, "hands").units) == (4, 4)
    bounds = job_bounds(runs(6, 58, "corner"), NO_KERF)
    assert (found(bounds.both, "length").units, found(bounds.both, "hands").units) == (11, 12)


def test_finished_ends_too_near_for_two_pieces_are_left_out():
    assert job_bounds(runs(5, 12, "corner", "corner"), NO_KERF).total == 0


def test_two_corner_pieces_fill_a_short_run():
    bounds = job_bounds(runs(1, 30, "corner", "corner"), NO_KERF)
    assert (most(bounds.corner), most(bounds.flat), bounds.total) == (1, 0, 1)


def test_long_corner_panels_may_replace_flat_ones():
    # corner panel 96: 2 runs of 89 in. One covers 96, and 82 in more take 3 flat panels, 4 in all.
    # Two cover 81 each, and both 8s come from one flat panel: 3. The bound must not say 4
    bounds = job_bounds([*runs(1, 89, "corner"), *runs(1, 89, right="corner")], Sizes(corner=96.0))
    assert (most(bounds.corner), bounds.total) == (1, 3)


def test_no_runs():
    bounds = job_bounds([], EIGHTH)
    assert (most(bounds.flat), most(bounds.corner), bounds.total) == (0, 0, 0)


# ------------------------------------------------- plans made at random

ENDS = st.sampled_from(["plain", "plain", "corner", "mitre"])
RUN = st.builds(
    lambda n, left, right: Run(0.0, n / 4, left, right), st.integers(8, 800), ENDS, ENDS
)


def division(run, sizes, chance):
    """The pieces of a run at random: (corner parts, flat parts), a whole panel being an ``any``
    part."""
    left, right = run.left == "corner", run.right == "corner"
    fits = left != right and run.length <= sizes.longest_corner
    if fits and (run.length < 2 * sizes.least or chance.random() < 0.5):
        return [CutPart(run.length, "left" if left else "right")], []
    if left and right and run.length < 2 * sizes.least:
        return None
    for _ in range(200):
        a = _corner_length(chance, sizes) if left else 0.0
        b = _corner_length(chance, sizes) if right else 0.0
        if left and right and chance.random() < 0.2:
            b = run.length - a
        if b and not sizes.least <= b <= sizes.longest_corner:
            continue
        corner = [CutPart(n, hand) for n, hand in ((a, "left"), (b, "right")) if n]
        flat = run.length - a - b
        if flat == 0:
            return corner, []
        if flat >= min(sizes.least, run.length):
            return corner, flat_division(flat, sizes, chance)
    return None


def _corner_length(chance, sizes):
    return chance.choice(
        [sizes.least, sizes.longest_corner, chance.randint(32, int(4 * sizes.longest_corner)) / 4]
    )


def flat_division(flat, sizes, chance):
    """One part, or a first one, whole panels and a last one."""
    if flat <= sizes.panel and (flat < 2 * sizes.least or chance.random() < 0.5):
        return [CutPart(flat)]
    firsts = [n / 4 for n in range(32, 145) if n / 4 <= flat]
    ways = [
        (t, (flat - t) % sizes.panel)
        for t in firsts
        if (flat - t) % sizes.panel == 0 or (flat - t) % sizes.panel >= sizes.least
    ]
    first, last = chance.choice(ways)
    whole = int((flat - first - last) / sizes.panel)
    ends = [
        CutPart(first, "any" if first == sizes.panel else "right"),
        *([CutPart(last, "left")] if last else []),
    ]
    return ends + [CutPart(sizes.panel)] * whole


@settings(deadline=None)
@given(
    st.lists(RUN, min_size=1, max_size=12),
    st.sampled_from([NO_KERF, EIGHTH, Sizes(corner=24.0, kerf=0.25), Sizes(corner=96.0)]),
    st.integers(),
)
def test_no_plan_has_fewer_units_than_the_bounds(job, sizes, seed):
    chance = random.Random(seed)
    divided = [(run, division(run, sizes, chance)) for run in job]
    kept = [run for run, pieces in divided if pieces is not None]
    corner = [p for _, pieces in divided if pieces for p in pieces[0]]
    flat = [p for _, pieces in divided if pieces for p in pieces[1]]
    corners, flats = (
        len(pack(corner, sizes.corner, sizes.kerf)),
        len(pack(flat, sizes.panel, sizes.kerf, effort=20_000)),
    )
    bounds = job_bounds(kept, sizes)
    assert corners >= most(bounds.corner)
    assert flats >= most(bounds.flat)
    assert flats >= most(job_bounds(kept, sizes, corner_units=corners).flat)
    assert corners + flats >= bounds.total


@given(st.lists(RUN, max_size=12))
def test_a_mirrored_job_has_the_same_bounds(job):
    mirrored = [Run(0.0, r.length, r.right, r.left) for r in job]
    one, other = job_bounds(job, EIGHTH), job_bounds(mirrored, EIGHTH)
    assert (most(one.flat), most(one.corner), one.total) == (
        most(other.flat),
        most(other.corner),
        other.total,
    )


@given(st.lists(RUN, max_size=8), st.lists(RUN, max_size=8))
def test_more_runs_never_lower_the_bound(job, more):
    assert job_bounds([*job, *more], EIGHTH).total >= job_bounds(job, EIGHTH).total


# ------------------------------------------------------- proven optima

WALLS = [
    ([[Run(0, 120)]] * 3, 0, 0),
    ([[Run(0, 108)]] * 2, 0, 0),
    ([[Run(0, 100)]] * 4, 4, 0),
    ([[Run(0, 64)]] * 5, 0, 0),
    ([[Run(0, 32), Run(72, 100)]] * 3, 0, 0),
    ([[Run(0, 60, "corner")], [Run(0, 60, right="corner")]] * 2, 0, 0),
    ([[Run(0, 96, "corner")], [Run(0, 96)]] * 2, 4, 0),
    ([[Run(0, 104, "corner", "corner")]] * 3, 0, 0),
    ([[Run(0, 20, "corner")], [Run(0, 20, right="corner")]] * 2, 0, 0),
]


@pytest.mark.parametrize(("courses", "kerf", "gap"), WALLS)
def test_bounds_of_small_walls_beside_their_proven_optimum(courses, kerf, gap):
    best = best_plan(courses, kerf=kerf)
    bounds = job_bounds([run for course in courses for run in course], exact.Rules(kerf=kerf))
    assert best.units - bounds.total == gap
    assert best.corner >= most(bounds.corner)
