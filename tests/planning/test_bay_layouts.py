"""Bays (rule L13): both sides of a mitred corner come from one panel, wherever that can be.

W1        W2       W3         the faces between two mitres are narrow; a panel of 36 in gives
===== a | face | b =====      a + saw cut + face + saw cut + b, or serves one corner of two
"""

import itertools
import random
from dataclasses import dataclass

import exact
import pytest
from builders import JOB, PRODUCT, drawing, line

from dxf2veneer.app.laying import lay_out
from dxf2veneer.planning.bay_proof import fewest_parted
from dxf2veneer.recognise import recognise


@dataclass(frozen=True)
class Face:
    """A run as far as the proof looks at it."""

    x0: float
    x1: float
    left: str = "mitre"
    right: str = "mitre"
    wall: str = ""
    lost: tuple[float, float] = (0.0, 0.0)

    @property
    def length(self):
        return self.x1 - self.x0


# ------------------------------------------------------- the proof beside every layout there is

SMALL = exact.Rules(panel=12, corner=12, kerf=1, stagger=3, least=3, grid=1)
"""A panel of 12 and pieces of 3, so that all layouts can be listed: every length a whole number."""


def layouts(face):
    """(first, last, joints, whether it is one piece) of every layout of a face on whole numbers."""
    m = round(face.length)
    if m <= SMALL.panel:
        yield m, m, (), True
    for first in range(SMALL.least, min(SMALL.panel, m - SMALL.least) + 1):
        for whole in range(m // SMALL.panel + 1):
            last = m - first - whole * SMALL.panel
            if SMALL.least <= last <= SMALL.panel:
                joints = tuple(first + SMALL.panel * i for i in range(whole + 1))
                yield first, last, joints, False


def stacks(column):
    """Every way to lay the courses of one wall, joints of adjacent ones the stagger apart."""
    for stack in itertools.product(*map(list, map(layouts, column))):
        if all(
            abs(a + lower.x0 - b - upper.x0) >= SMALL.stagger
            for (_, _, one, _), (_, _, other, _), lower, upper in zip(
                stack, stack[1:], column, column[1:], strict=False
            )
            for a, b in itertools.product(one, other)
        ):
            yield stack


def fewest_listed(courses, beside=False):
    """The fewest parted corners of all layouts, each corner served or not in all ways; with
    ``beside`` a served one counts if its sides fill their panel, or one of them is loose in it.

    Wall after wall: what each course has taken of the panel at hand, and the fewest parted so far.
    """
    columns = list(zip(*courses, strict=True))
    known = {tuple((last, one) for _, last, _, one in stack): 0 for stack in stacks(columns[0])}
    for column in columns[1:]:
        after = {}
        for stack in stacks(column):
            for used, parted in known.items():
                for served in itertools.product((False, True), repeat=len(stack)):
                    together = [
                        u + SMALL.kerf + f for (u, _), (f, *_) in zip(used, stack, strict=True)
                    ]
                    if any(s and t > SMALL.panel for s, t in zip(served, together, strict=True)):
                        continue
                    if beside and any(
                        s and t < SMALL.panel and not (loose or is_one)
                        for s, t, (_, loose), (*_, is_one) in zip(
                            served, together, used, stack, strict=True
                        )
                    ):
                        continue
                    taken = tuple(
                        (t if s and is_one else last, is_one)
                        for s, t, (_, last, _, is_one) in zip(served, together, stack, strict=True)
                    )
                    count = parted + served.count(False)
                    after[taken] = min(count, after.get(taken, count))
        known = after
    return min(known.values(), default=None)


def rows_of(courses):
    """The courses as the proof takes them: one row of runs each."""
    return [[course] for course in courses]


@pytest.mark.parametrize("seed", range(60))
def test_the_proof_finds_the_fewest_of_all_layouts_listed(seed):
    chance = random.Random(seed)
    walls = []
    for n in range(chance.randint(2, 3)):
        x0, length = 100.0 * n, chance.randint(3, 26)
        steps = [chance.choice((0, 0, 0, 2)) for _ in range(2 if n else 3)]
        walls.append([Face(x0, x0 + length + step, wall=f"W{n}") for step in steps])
    courses = list(zip(*[own[: len(walls[1])] for own in walls], strict=True))
    listed = fewest_listed(courses)
    found = fewest_parted(rows_of(courses), SMALL)
    assert found == (0 if listed is None else listed)
    listed, together = (
        fewest_listed(courses, beside=True),
        fewest_parted(rows_of(courses), SMALL, beside=True),
    )
    assert found <= together <= (0 if listed is None else listed)


def test_of_three_courses_the_middle_one_is_parted():
    # a face of 7 in, panel 12, least 3: two pieces, joint at 3 or 4, never 3 from the next; as one
    # piece 3 + 1 + 7 + 1 + 3 = 15 > 12, so that one of its two corners is parted. Courses with two
    # pieces are not neighbors: of three the middle one is parted once, of four two are.
    wide = [Face(0, 30, "plain", wall="W0"), Face(100, 107, wall="W1")]
    course = [*wide, Face(200, 230, right="plain", wall="W2")]
    for count, parted in ((1, 0), (2, 1), (3, 1), (4, 2), (5, 2)):
        assert fewest_parted(rows_of([course] * count), SMALL) == parted


def test_a_front_between_narrow_sides_parts_a_corner_in_every_second_course():
    # a front of 85 in: first + 36 + last = 85, both at most 27 7/8 (35 7/8 less 8), so that the
    # first is 21 1/8 to 27 7/8; over a joint at 24 in no place of it is 8 in away
    sizes = exact.Rules(kerf=0.125)
    course = [
        Face(0, 92, "plain", wall="W0"),
        Face(100, 185, wall="W1"),
        Face(200, 300, right="plain", wall="W2"),
    ]
    assert [fewest_parted(rows_of([course] * n), sizes) for n in (1, 2, 3, 4)] == [0, 1, 1, 2]


# ------------------------------------------------------------------------------ plans


@pytest.fixture
def laid_out():
    """The plan of a drawing, judged."""

    def lay(front):
        found = recognise([front], JOB)
        return lay_out(found.walls, found.corners, JOB, PRODUCT)

    return lay


def bay(face, height=48):
    """Three walls that meet at two bay corners, P and Q, the middle one a face of that width."""
    a, b = 120, 120 + face
    return drawing(
        wall=[(0, 0, 100, height), (a, 0, b, height), (b + 20, 0, b + 120, height)],
        bay=[line(x, 0, x, height) for x in (100, a, b, b + 20)],
        texts=[
            ("bay", tag, (x, 10))
            for tag, x in (("P", 98), ("P", a + 2), ("Q", b - 2), ("Q", b + 22))
        ],
    )


def stocks(laid, course):
    """The panels of the four mitred pieces: left of P, right of P, left of Q, right of Q."""
    rows = [[p for p in w.courses.pieces if p.course == course] for w in laid.walls]
    return rows[0][-1].stock, rows[1][0].stock, rows[1][-1].stock, rows[2][0].stock


def test_a_face_of_11_in_and_the_pieces_beside_it_are_one_panel_in_every_course(laid_out):
    # a + b = 36 - 11 - 2/8 = 24 3/4: a from 8 to 16 3/4, so that a course can be 8 in from the next
    laid = laid_out(bay(11))
    assert [len(set(stocks(laid, course))) for course in range(6)] == [1] * 6
    assert laid.plan.breaks == ()


def test_a_face_of_21_in_parts_a_corner_in_every_second_course_and_says_that_it_is_forced(laid_out):
    # two pieces: the joint 8 to 13 in, never 8 in from the next; one piece: 8 + 21 + 8 > 36
    laid = laid_out(bay(21))
    parted = [
        sum(a != b for a, b in (found[:2], found[2:]))
        for found in (stocks(laid, course) for course in range(6))
    ]
    assert parted == [0, 1, 0, 1, 0, 1]
    assert [(b.rule, b.course, b.forced) for b in laid.plan.breaks] == [
        ("L13", course, True) for course in (1, 3, 5)
    ]


def test_a_face_of_40_in_keeps_every_corner(laid_out):
    laid = laid_out(bay(40))
    assert laid.plan.breaks == ()


@pytest.mark.parametrize("order", [*itertools.permutations(range(3))])
@pytest.mark.parametrize("face", [11, 21, 40])
def test_walls_of_a_bay_may_be_laid_in_any_order(face, order):
    found = recognise([bay(face)], JOB)
    walls = [found.walls[i] for i in order]
    laid = lay_out(walls, found.corners, JOB, PRODUCT)
    assert {b.rule for b in laid.plan.breaks} <= {"L13"}
    assert {b.rule for b in laid.plan.breaks if face == 40} == set()
