"""Small plans that can be checked on paper. The panel is 36 x 8 in, joints 8 in apart, pieces 8 in
long at least, a saw cut takes nothing unless a test says otherwise; all of these are values of our
own or common practice without a published source. Walls out of books: test_published_laid.py.
"""

import math
from itertools import pairwise

import pytest
from builders import JOB, as_path, drawing, job, line, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.geometry import Region
from dxf2veneer.wording import say

CLEAN = job(plan__kerf=0.0)


@pytest.fixture
def planned(tmp_path):
    """Take off a drawing made of outlines by role, or one made already."""

    def run(made=None, job=CLEAN, product=None, **outlines):
        if product is not None:
            (tmp_path / "panel.toml").write_text(product)
            job = with_settings(job, product__file=str(tmp_path / "panel.toml"))
        return take_off([write_dxf(made or drawing(**outlines), tmp_path / "front.dxf")], job)

    return run


def pieces(takeoff, wall=0, course=None):
    """The pieces of a wall, of one course where it is given, from the bottom up and from the
    left."""
    return [p for p in takeoff.walls[wall].courses.pieces if course in (None, p.course)]


def lengths(takeoff, wall=0):
    """The lengths of the pieces, course by course."""
    courses = range(len(takeoff.walls[wall].courses.courses))
    return [[round(p.length, 3) for p in pieces(takeoff, wall, c)] for c in courses]


def counts(takeoff):
    return takeoff.plan.flat.units, takeoff.plan.corner.units


def broken(takeoff):
    """What the judge found."""
    return [(b.rule, b.wall, b.course, say(b.message)) for b in takeoff.plan.breaks]


def joints(takeoff, course, wall=0):
    return [round(p.x1, 3) for p in pieces(takeoff, wall, course)[:-1]]


# -------------------------------------------------------------- between butt ends


def test_ten_feet_take_ten_panels_for_each_three_courses(planned):
    """120 = 3 x 36 + 12: of each three courses two panels are cut, one into 12 + 24, one into 24 +
    12.

    | 12|    36    |    36    |    36    |    12 + 3 x 36
    |   24   |    36    |    36    |  24 |    24 + 2 x 36 + 24
    |    36    |    36    |    36    | 12|    3 x 36 + 12
    """
    takeoff = planned(wall=[(0, 0, 120, 24)])
    plan = takeoff.plan
    assert counts(takeoff) == (10, 0)
    assert plan.flat.pieces_length == 360
    assert [u.waste for u in plan.units] == pytest.approx([0] * 10)
    assert (plan.flat.pieces, plan.cuts) == (12, 2)
    assert plan.bound == 10
    assert broken(takeoff) == []


def test_ten_feet_and_nine_courses_take_thirty_panels(planned):
    takeoff = planned(wall=[(0, 0, 120, 72)])
    assert counts(takeoff) == (30, 0)
    assert takeoff.plan.cuts == 6
    assert broken(takeoff) == []


def test_nine_feet_start_every_other_course_with_half_a_panel(planned):
    """108 = 3 x 36: whole panels lie under three halves, so that joints stand 18 apart.

    | 18 |   36   |   36   | 18 |
    |   36   |   36   |   36    |
    """
    takeoff = planned(wall=[(0, 0, 108, 32)])
    assert counts(takeoff) == (12, 0)
    assert [u.waste for u in takeoff.plan.units] == pytest.approx([0] * 12)
    whole, half = [36, 36, 36], [18, 36, 36, 18]
    assert lengths(takeoff) in ([whole, half] * 2, [half, whole] * 2)
    assert broken(takeoff) == []


def test_a_course_of_one_panel_is_laid_in_one(planned):
    takeoff = planned(wall=[(0, 0, 36, 24)])
    assert lengths(takeoff) == [[36], [36], [36]]
    assert {(p.kind, p.left, p.right) for p in pieces(takeoff)} == {("whole", "factory", "factory")}


def test_a_piece_a_hair_shorter_than_a_panel_is_a_whole_one(planned):
    """914.39 mm are 35.9996 in: a drawing in whole millimetres or turned by a little gives such
    widths."""
    takeoff = planned(wall=[(0, 0, 35.9996, 24)])
    assert {p.kind for p in pieces(takeoff)} == {"whole"}
    assert (counts(takeoff), takeoff.plan.cuts) == ((3, 0), 0)
    assert broken(takeoff) == []


def test_two_stretches_of_a_panel_and_a_half_share_a_panel_unless_saw_cuts_forbid_it(planned):
    #  | 36 |18|   |18| 36 |      54 + 54 = 3 panels, and a saw cut of 1/8 in makes them 4
    two = {"wall": [(0, 0, 54, 8), (100, 0, 154, 8)]}
    assert counts(planned(job=with_settings(CLEAN, plan__alike=False), **two)) == (3, 0)
    assert counts(planned(job=job(plan__alike=False), **two)) == (4, 0)


def test_alike_two_stretches_of_a_panel_and_a_half_take_a_panel_each_for_their_halves(planned):
    #  | 36 |18|   | 36 |18|      both rests keep the left end of their panel
    takeoff = planned(wall=[(0, 0, 54, 8), (100, 0, 154, 8)])
    assert lengths(takeoff, 0) == lengths(takeoff, 1)
    assert (counts(takeoff), takeoff.plan.alike_over) == ((4, 0), 1)


def test_offcuts_stay_on_their_wall_where_the_job_says_so(planned):
    two = {"wall": [(0, 0, 54, 8), (100, 0, 154, 8)]}
    assert counts(planned(job=job(plan__kerf=0.0, plan__offcuts="wall"), **two)) == (4, 0)


def test_a_ripped_top_course_costs_whole_panels_in_length(planned):
    """20 = 2 x 8 + 4: the top course is ripped to 4."""
    takeoff = planned(wall=[(0, 0, 72, 20)])
    assert counts(takeoff) == (6, 0)
    top = pieces(takeoff, course=2)
    assert [(p.ripped, p.height) for p in top] == [(True, pytest.approx(4))] * len(top)
    assert not any(p.ripped for p in pieces(takeoff, course=1))


# ------------------------------------------------------------- corners and ends


def column():
    """Four faces of a column of 16 x 16 in, 96 high: 12 courses."""
    faces = [(60 * n, 0, 60 * n + 16, 96) for n in range(4)]
    marks = [line(x, 0, x, 96) for face in faces for x in (face[0], face[2])]
    left, right = (
        [("outside_corner", f"K{(n + turn) % 4}", (60 * n + at, 40)) for n in range(4)]
        for turn, at in ((3, -3), (0, 19))
    )
    return drawing(wall=faces, outside_corner=marks, texts=left + right)


def test_a_column_is_laid_in_corner_pieces_alone(planned):
    """Each course: one corner piece a face, 16 long; in turn it turns the face's right or left
    corner.

    .----.        course 0: all right-hand pieces      course 1: all left-hand pieces
    |    |        a corner panel gives one of each, so 4 faces x 12 courses = 48 pieces = 24 panels:
    '----'        one a corner and two courses (rule L12)
    """
    takeoff = planned(column(), job=JOB)
    assert counts(takeoff) == (0, 24)
    assert [lengths(takeoff, wall) for wall in range(4)] == [[[16]] * 12] * 4
    assert {p.unit for w in range(4) for p in pieces(takeoff, w)} == {"corner"}
    for wall in range(4):
        ends = [(p.left, p.right) for p in pieces(takeoff, wall)]
        assert set(ends[0::2]) == {("cut", "finished")}
        assert set(ends[1::2]) == {("finished", "cut")}
    assert (takeoff.plan.corner.left, takeoff.plan.corner.right) == (24, 24)
    assert broken(takeoff) == []


def three_walls(length):
    """A wall between two outside corners, and its neighbours of 50 and 70 with butt far ends.

      W1    A   A      W2        B   B      W3
    .-------|   |----------------|   |-----------.
    '-------|   |----------------|   |-----------'
    0      50  100        100+length +50        +120      12 courses
    """
    end = 100 + length
    marks = [line(x, 0, x, 96) for x in (50, 100, end, end + 50)]
    tags = [
        ("outside_corner", tag, (x, 40))
        for tag, x in (("A", 53), ("A", 97), ("B", end + 3), ("B", end + 47))
    ]
    return drawing(
        wall=[(0, 0, 50, 96), (100, 0, end, 96), (end + 50, 0, end + 120, 96)],
        outside_corner=marks,
        texts=tags,
    )


def test_walls_that_meet_take_one_corner_panel_for_each_corner_and_two_courses(planned):
    """2 corners x 12 courses = 24 corner pieces, half of them of each hand: 12 corner panels."""
    takeoff = planned(three_walls(150), job=JOB)
    corner = takeoff.plan.corner
    assert (corner.units, corner.left, corner.right) == (12, 12, 12)
    ends = [
        (p.left == "finished", p.right == "finished")
        for c in range(4)
        for p in (pieces(takeoff, 1, c)[0], pieces(takeoff, 1, c)[-1])
    ]
    # the middle wall carries its right corner in courses 0, 2, … and its left in 1, 3, …
    assert ends == [(False, False), (False, True), (True, False), (False, False)] * 2
    assert broken(takeoff) == []


def test_corner_panels_are_cut_unequally_and_not_twice_alike(planned):
    takeoff = planned(three_walls(150), job=JOB)
    cut = {u.id: [] for u in takeoff.plan.units if u.kind == "corner"}
    for wall in range(3):
        turned = {"left": [], "right": []}
        for p in pieces(takeoff, wall):
            if p.unit == "corner":
                cut[p.stock].append(p.length)
                turned["left" if p.left == "finished" else "right"].append(p.length)
        assert all(
            abs(a - b) >= 1 - 1e-6 for listed in turned.values() for a, b in pairwise(listed)
        )
    assert all(
        min(parts) >= 8 - 1e-6 and abs(parts[0] - parts[1]) >= 1 - 1e-6 for parts in cut.values()
    )


def test_a_corner_piece_has_its_finished_end_at_the_corner(planned):
    takeoff = planned(three_walls(150), job=JOB)
    sizes = {u.id: u.length for u in takeoff.plan.units}
    for wall in range(3):
        for p in pieces(takeoff, wall):
            if p.unit == "corner" and p.right == "finished":
                assert (p.left, round(p.at + p.length, 6)) == ("cut", sizes[p.stock])
            elif p.unit == "corner":
                assert (p.left, p.right, p.at) == ("finished", "cut", 0)


def test_between_finished_ends_corner_pieces_take_up_what_is_more_than_whole_panels(planned):
    """100 = 2 x 36 + 28: in each course 28 lie in the two corner pieces of one panel, and 2 whole
    panels.

    | a |      36      |      36      |28 - a|      three courses: 3 corner and 6 flat panels
    """
    takeoff = planned(wall=[(0, 0, 100, 24)], job=job(recognise__edge_kind="end"))
    assert counts(takeoff) == (6, 3)
    assert (takeoff.plan.corner.left, takeoff.plan.corner.right) == (3, 3)
    for course in range(3):
        first, *between, last = pieces(takeoff, course=course)
        assert (first.left, last.right) == ("finished", "finished")
        assert {p.unit for p in between} == {"flat"}
    assert broken(takeoff) == []


def test_corner_pieces_run_past_a_finished_end_by_the_overhang(planned):
    takeoff = planned(
        wall=[(0, 0, 100, 24)], job=job(recognise__edge_kind="end", plan__end_overhang=1.5)
    )
    for course in range(3):
        laid = pieces(takeoff, course=course)
        assert (laid[0].x0, laid[-1].x1) == (pytest.approx(-1.5), pytest.approx(101.5))
    assert takeoff.plan.flat.pieces_length + takeoff.plan.corner.pieces_length == pytest.approx(
        3 * 103
    )
    assert broken(takeoff) == []


def test_both_sides_of_a_bay_corner_are_cut_from_one_panel(planned):
    """P  P          60 + 44 with a saw cut between; the pieces that meet at P share a panel and
    | W1   \\|  |/  W2 |    are mitred at half of 135 degrees (rule L13)
    0      60  90   134
    """
    made = drawing(
        wall=[(0, 0, 60, 32), (90, 0, 134, 32)],
        bay=[line(60, 0, 60, 32), line(90, 0, 90, 32)],
        texts=[("bay", "P", (63, 10)), ("bay", "P", (87, 10))],
    )
    takeoff = planned(made, job=JOB)
    for course in range(4):
        last, first = pieces(takeoff, 0, course)[-1], pieces(takeoff, 1, course)[0]
        assert (last.right, first.left) == ("mitre", "mitre")
        assert {last.unit, first.unit} == {"flat"}
        assert last.stock == first.stock
        assert (last.angle, first.angle) == (67.5, 67.5)
    assert takeoff.plan.corner.units == 0
    assert broken(takeoff) == []


def test_courses_meet_at_a_bay_corner_at_their_height_where_the_base_steps(planned):
    """A level line at 0 ties the walls; W2 begins two courses higher than W1.

    48 | W1   \\|  |/  W2 |
    16 |      \\|  |/_____|      course 2 of W1 meets course 0 of W2
     0 |______\\|
       0      60  90   134
    """
    made = drawing(
        wall=[(0, 0, 60, 48), (90, 16, 134, 48)],
        bay=[line(60, 16, 60, 48), line(90, 16, 90, 48)],
        level=[line(-5, 0, 65, 0), line(88, 0, 140, 0)],
        texts=[("bay", "P", (63, 30)), ("bay", "P", (87, 30))],
    )
    takeoff = planned(made, job=JOB)
    for course in range(4):
        last, first = pieces(takeoff, 0, course + 2)[-1], pieces(takeoff, 1, course)[0]
        assert last.y0 == first.y0
        assert last.stock == first.stock
    assert broken(takeoff) == []


# ------------------------------------------------------ openings, piers, gables


def doors(pier):
    """Two doors of 36 with a pier between, right up to the top, in a wall 24 high.

    .----.    ..    .-----.
    | 40 |    ||    | 44  |       pier from 76 to 76 + pier
    '----'    ''    '-----'
    """
    return {
        "wall": [(0, 0, 156 + pier, 24)],
        "door": [(40, 0, 76, 24), (76 + pier, 0, 112 + pier, 24)],
    }


def test_a_pier_as_long_as_the_least_piece_is_one_piece(planned):
    takeoff = planned(**doors(8))
    assert [
        [round(p.length, 3) for p in pieces(takeoff, course=c) if 70 < p.x0 < 80] for c in range(3)
    ] == [[8]] * 3
    assert (broken(takeoff), takeoff.plan.exceptions) == ([], ())


def test_a_pier_narrower_than_the_least_piece_is_said_where_and_why(planned):
    takeoff = planned(**doors(7))
    known = [y for y in takeoff.plan.exceptions if y.rule == "L4"]
    assert [(y.wall, y.course) for y in known] == [("W1", 0), ("W1", 1), ("W1", 2)]
    assert all(76 <= y.at[0] <= 83 and 8 * y.course <= y.at[1] <= 8 * y.course + 8 for y in known)
    assert all('7"' in say(y.why) for y in known)
    assert all(b.why for b in takeoff.plan.breaks)


def test_a_window_interrupts_the_courses_beside_it_and_notches_those_over_it(planned):
    """32 .---------------.     window 60..90 x 12..28: course 1 (8..16) is notched by its sill,
      |     .---.     |     course 2 (16..24) interrupted, course 3 (24..32) notched by its head
    0 '-----'---'-----'     wall 140 long
    """
    takeoff = planned(wall=[(0, 0, 140, 32)], window=[(60, 12, 90, 28)])
    whole, middle = [0, 140], [0, 60, 90, 140]
    for course, spans in enumerate((whole, whole, middle, whole)):
        laid = pieces(takeoff, course=course)
        ends = sorted({round(x, 3) for p in laid for x in (p.x0, p.x1)})
        assert set(spans) <= set(ends)
    assert not [p for p in pieces(takeoff, course=2) if p.x0 < 90 - 1e-6 and p.x1 > 60 + 1e-6]
    assert {p.kind for p in pieces(takeoff, course=1) if p.x0 < 59 and p.x1 > 61} <= {"notched"}
    assert broken(takeoff) == []


def area(piece):
    """The ground of a piece: its outline, or its box, less what is cut out of it."""
    outline = as_path(list(piece.outline)).area if piece.outline else piece.length * piece.height
    return outline - sum(abs(as_path(list(hole)).area) for hole in piece.holes)


def test_a_fixture_is_a_hole_in_its_piece(planned):
    #  .----------.      a wall of one panel's length; the light lies in course 1, 10..14 high
    #  |    []    |
    #  '----------'
    takeoff = planned(wall=[(0, 0, 36, 24)], fixture=[(20, 10, 25, 14)])
    (piece,) = pieces(takeoff, course=1)
    assert (piece.kind, len(piece.holes)) == ("notched", 1)
    assert area(piece) == pytest.approx(36 * 8 - 20)
    assert counts(takeoff) == (3, 0)
    assert broken(takeoff) == []


def test_pieces_under_a_rake_are_cut_at_its_angle(planned):
    """           .          100 wide; eaves at 16, ridge 40 over them at 60: the left rake rises
            .'  '.        40 in 60, atan(2/3) = 33.69 degrees, the right one falls 40 in 40
          .'      \\
         |_________|
    """
    takeoff = planned(wall=[[(0, 0), (100, 0), (100, 16), (60, 56), (0, 16)]])
    raked = [p for p in pieces(takeoff) if p.kind == "raked"]
    angles = sorted({round(p.angle, 2) for p in raked})
    assert angles == [round(math.degrees(math.atan2(2, 3)), 2), 45]
    assert {p.course for p in raked} == {2, 3, 4, 5, 6}
    assert not [p for p in pieces(takeoff) if p.course < 2 and p.kind == "raked"]
    assert sum(area(p) for p in pieces(takeoff)) == pytest.approx(100 * 16 + 100 * 40 / 2)
    assert all(b.why for b in takeoff.plan.breaks)


def test_pieces_cover_the_field_and_nothing_else(planned):
    """A door with a half-round head, a window, a step of the base by one course and a half."""
    wall = [(0, 0), (150, 0), (150, 12), (220, 12), (220, 80), (0, 80)]
    takeoff = planned(wall=[wall], door=[(40, 0, 76, 60)], window=[(170, 40, 200, 70)])
    field = takeoff.walls[0].courses.field
    assert field.area == pytest.approx(150 * 80 + 70 * 68 - 36 * 60 - 900)
    assert sum(area(p) for p in pieces(takeoff)) == pytest.approx(field.area)
    for piece in pieces(takeoff):
        if not piece.outline:
            box = Region.box_of(piece.x0, piece.y0, piece.x1, piece.y1)
            assert box.difference(field).area == pytest.approx(0, abs=1e-6)


# ------------------------------------------------------------------------ by area


def test_without_a_plan_there_are_no_pieces(planned):
    takeoff = planned(wall=[(0, 0, 120, 24)], job=job(plan__panels=False))
    assert takeoff.plan is None
    assert pieces(takeoff) == []
