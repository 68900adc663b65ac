"""Coursing advice on small walls worked by hand. The panel is 36 x 8, a strip under 2 a sliver.

96 .-----------------------------.      course lines at 8 n + s
   |   73 .---.     .---.        |      A and B: 33 to 73, 5 courses high
   |      | A |     | B |        |
   |   33 '---'     '---'        |
 0 '-----------------------------'
"""

from __future__ import annotations

import pytest
from builders import JOB, PRODUCT, drawing, job, line

from dxf2veneer.app.course_advice import advice_for
from dxf2veneer.config.advice import Leave
from dxf2veneer.coursing.advice.search import _starts
from dxf2veneer.coursing.groups import course_groups
from dxf2veneer.measure import measure_wall
from dxf2veneer.recognise import recognise

WALL = (0, 0, 200, 96)
PAIR = [(20, 33, 56, 73), (100, 33, 136, 73)]


def advised(*drawings, **settings):
    """The advice for each group of walls."""
    asked = job(plan__panels=False, **settings)
    found = recognise(drawings, asked)
    return advice_for(found.walls, found.corners, asked, PRODUCT)


def only(*drawings, **settings):
    (group,) = advised(*drawings, **settings)
    return group


def may(*leaves, resize=()):
    return {
        "advice__may_move": tuple(Leave(*leave) for leave in leaves),
        "advice__may_resize": tuple(Leave(*leave) for leave in resize),
    }


def moves(proposal):
    return [(s.ids, s.head, s.sill) for s in proposal.shifts]


# ------------------------------------------------------------------- what stands and what may move


def test_as_drawn_the_sills_leave_slivers_of_one():
    # sills at 33 leave 33 - 32 = 1: a sliver each; heads at 73 leave 80 - 73 = 7; the top is clean
    present = only(drawing(wall=[WALL], window=PAIR)).present
    assert (present.start, present.slivers, present.ripped, present.strips) == (0, 2, 4, 4)
    assert (present.bare, present.height, present.shifts) == (0, 0, ())


def test_without_a_limit_nothing_moves():
    group = only(drawing(wall=[WALL], window=PAIR))
    assert group.moves == 0
    assert all(p.shifts == () for p in group.proposals)
    # a start of 1 clears heads and sills, and the top then leaves 7, 200 long: 6 pieces
    assert [(p.start, p.rank) for p in group.proposals] == [(1, (0, 6))]


def test_both_windows_go_down_by_one_as_one_row_and_nothing_is_ripped():
    group = only(drawing(wall=[WALL], window=PAIR), **may(("window", 2.0)))
    first = group.proposals[0]
    assert (first.start, first.rank) == (0, (0, 0))
    assert moves(first) == [(("W1-O1", "W1-O2"), -1, -1)]
    assert (first.changed, first.heads_out, group.is_exact) == (2, 0, True)


def test_an_opening_by_its_id_goes_before_its_kind():
    group = only(drawing(wall=[WALL], window=PAIR), **may(("window", 2.0), ("W1-O2", 0.0)))
    moved = {ids for p in group.proposals for ids, _, _ in moves(p)}
    assert moved == {("W1-O1",)}
    assert all(p.heads_out == 1 for p in group.proposals if p.shifts)


def test_a_limit_that_is_too_small_clears_nothing():
    group = only(drawing(wall=[WALL], window=PAIR), **may(("window", 0.5)))
    assert all(p.rank != (0, 0) for p in group.proposals)


def test_sixty_is_no_multiple_of_eight_and_no_single_move_clears_both_edges():
    tall = drawing(wall=[WALL], window=[(20, 20, 56, 80)])
    group = only(tall, **may(("window", 8.0)))
    (told,) = group.no_multiples
    assert (told.ids, told.height, told.over, told.is_trimmed) == (("W1-O1",), 60, 4, False)
    assert all(p.ripped for p in group.proposals)  # whatever the move, one edge is off
    # with a height that may change by 4 both are clear: 56 or 64
    resized = only(tall, **may(("window", 8.0), resize=[("window", 4.0)]))
    best = resized.proposals[0] if resized.proposals else resized.present
    assert best.rank == (0, 0)
    ((_, head, sill),) = moves(best)
    assert abs(head - sill) == 4


def test_trim_counts_with_the_height():
    # head trim 8 and sill trim 4 round 40: 52 from panel to panel, 4 over 6 courses
    trimmed = {"trim__head": 8.0, "trim__jambs": 4.0, "trim__sill": 4.0}
    (told,) = only(drawing(wall=[WALL], window=PAIR[:1]), **trimmed).no_multiples
    assert (told.height, told.over, told.is_trimmed) == (52, 4, True)


def test_a_door_keeps_its_sill_and_moves_its_head_only_where_its_size_may_change():
    front = drawing(wall=[WALL], door=[(60, 0, 96, 79)])
    rigid = only(front, **may(("door", 2.0)))
    assert rigid.moves == 0
    free = only(front, **may(("door", 2.0), resize=[("door", 2.0)]))
    assert moves(free.proposals[0]) == [(("W1-O1",), 1, 0)]
    assert free.proposals[0].rank == (0, 0)


# ------------------------------------------------------------------- room on the wall


def test_an_opening_stays_a_slivers_height_from_the_top_and_from_its_neighbor():
    # 4 are free over the upper window, less 2: it may go up by 2 though the limit is 8. Between the
    # two lie 6, less 2, of which each gets half: 2
    stacked = drawing(wall=[WALL], window=[(20, 20, 56, 46)], vent=[(20, 52, 56, 92)])
    group = only(stacked, **may(("opening", 8.0)), advice__proposals=20)
    heads = [head for p in group.proposals for _, head, _ in moves(p)]
    assert heads
    for p in group.proposals:
        for ids, head, sill in moves(p):
            assert head == sill
            assert (-2 <= head <= 2) if ids == ("W1-O2",) else (-8 <= head <= 2)


def test_an_opening_against_the_top_is_held():
    group = only(drawing(wall=[WALL], window=[(20, 33, 56, 96)]), **may(("window", 2.0)))
    assert [(h.ids, h.why) for h in group.held] == [(("W1-O1",), "no-room")]
    assert group.moves == 0


# ------------------------------------------------------------------- caps, levels, corners


def test_a_cap_moves_with_the_top_of_its_wall():
    # a wainscot: cap stones of 2.25 under the top at 45; panels end at 42.75, 2.75 over a line
    capped = drawing(wall=[(0, 0, 200, 45)], cap=[line(0, 45, 200, 45)])
    group = only(capped, **may(("cap", 3.0)))
    start_alone, best = group.proposals
    assert (start_alone.start, start_alone.rank, start_alone.bare) == (2.75, (0, 0), 550)
    assert best.rank == (0, 0) and best.start == 0
    assert [(s.kind, s.ids, s.head) for s in best.shifts] == [("cap", ("W1",), -2.75)]
    assert best.walls[0].wall.box[3] == 42.25


def test_walls_on_one_level_line_move_together_and_rows_run_over_both():
    two = drawing(
        wall=[(0, 0, 200, 96), (300, 4, 500, 96)],
        window=[(20, 33, 56, 73), (320, 33, 356, 73)],
        level=[line(-10, 40, 510, 40)],
    )
    group = only(two, **may(("window", 2.0)))
    assert group.walls == ("W1", "W2")
    assert moves(group.proposals[0]) == [(("W1-O1", "W2-O1"), -1, -1)]
    # the lower base is at 0 and lines at 8 n, so that of W2, at 4, has its starter 4 above it
    above = {s.wall: s.height for s in group.present.steps}
    assert above == {"W1": 0, "W2": 4}
    assert group.present.bare == pytest.approx(4 * 200)


def test_bare_ground_is_told_at_each_step_of_the_grade():
    stepped = [(0, 0), (100, 0), (100, 12), (200, 12), (200, 96), (0, 96)]
    group = only(drawing(wall=[stepped]), courses__start=3.0)
    assert [(s.x0, s.x1, s.y, s.height) for s in group.present.steps] == [
        (0, 100, 0, 3),
        (100, 200, 12, 3),
    ]
    assert group.present.bare == pytest.approx(3 * 200)


def test_where_a_start_with_less_bare_ground_leaves_as_little_it_is_proposed():
    # the top at 100 is clean with the starter at 4; at 4 + 8 it is too, with more bare ground
    group = only(drawing(wall=[(0, 0, 200, 100)]), courses__start=8.0)
    first = group.proposals[0]
    assert (first.start, first.rank, first.bare) == (4, (0, 0), 800)


def test_nothing_is_proposed_where_nothing_is_better():
    group = only(drawing(wall=[WALL]), **may(("window", 2.0)))
    assert group.proposals == () and group.is_exact


def test_the_best_start_is_what_stands_where_the_job_asks_for_it():
    # start 1 leaves no sliver; advice sets out from it
    group = only(drawing(wall=[WALL], window=PAIR), courses__start="best")
    assert (group.present.start, group.present.rank) == (1, (0, 6))
    assert group.proposals == ()


def test_a_limit_of_the_job_bounds_the_start():
    group = only(drawing(wall=[WALL], window=PAIR), courses__clearance_most=0.5)
    assert all(p.height <= 0.5 for p in group.proposals)


def test_too_many_starts_are_not_called_all(monkeypatch):
    monkeypatch.setattr("dxf2veneer.coursing.advice.search.ADVICE_STARTS", 3)
    front = drawing(wall=[WALL], window=PAIR)
    walls = [measure_wall(w, JOB, PRODUCT) for w in recognise([front], JOB).walls]
    (group,) = course_groups(walls, (), JOB, PRODUCT)
    starts, is_exact = _starts(group, ())
    assert not is_exact and len(starts) <= 3
    assert not only(front, **may(("window", 2.0))).is_exact


def test_too_many_ways_are_not_called_all(monkeypatch):
    monkeypatch.setattr("dxf2veneer.coursing.advice.search.ADVICE_SUMS", 1)
    rows = {"window": PAIR, "vent": [(150, 20, 170, 51), (172, 20, 190, 51)]}
    group = only(drawing(wall=[WALL], **rows), **may(("opening", 3.0)))
    assert not group.is_exact
    assert all(p.rank < group.present.rank for p in group.proposals)
