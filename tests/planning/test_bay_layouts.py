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

    @property
    def length(self):
        return self.x1 - self.x0


# ------------------------------------------------------- the proof beside every layout there is

SMALL = exact.Rules(panel=12, corner=12, kerf=1, stagger=3, least=3, grid=1)
"""A panel of 12 and pieces of 3, so that all layouts can be listed: every length a whole number."""


def layouts(face, below):
    """(first, last, joints) of every layout of a face on whole numbers that keeps the rules."""
    m = round(face.length)
    if m <= SMALL.panel:
        yield m, m, True
    for first in range(SMALL.least, min(SMALL.panel, m - SMALL.least) + 1):
        rest = m - first
        joints = [first + SMALL.panel * i for i in range((rest - 1) // SMALL.panel + 1)]
        last = m - joints[-1]
        for own, end in ((joints, last), (joints[:-1], last + SMALL.panel)):
            if (
                own
                and SMALL.least <= end <= SMALL.panel
                and all(abs(face.x0 + x - u) >= SMALL.stagger for x in own for u in below)
            ):
                yield first, end, False


def fewest_listed(faces, below):
    """The fewest parted corners of all layouts, each corner served or not in all ways."""
    found = len(faces)
    for rows in itertools.product(
        *[list(layouts(f, b)) for f, b in zip(faces, below, strict=True)]
    ):
        parted, used = 0, rows[0][1]
        for first, last, is_one in rows[1:]:
            together = used + SMALL.kerf + first
            is_served = together <= SMALL.panel
            parted += not is_served
            used = (together if is_served else first) if is_one else last
        found = min(found, parted)
    return found


@pytest.mark.parametrize("seed", range(40))
def test_the_proof_finds_the_fewest_of_all_layouts_listed(seed):
    chance = random.Random(seed)
    faces, below = [], []
    for _ in range(chance.randint(2, 4)):
        length = chance.randint(3, 30)
        faces.append(Face(100.0 * len(faces), 100.0 * len(faces) + length))
        first = chance.randint(3, 12)
        below.append([faces[-1].x0 + x for x in range(first, length - 2, 12)])
    if all(list(layouts(f, b)) for f, b in zip(faces, below, strict=True)):
        assert fewest_parted(faces, below, SMALL) == fewest_listed(faces, below)


def test_a_front_between_narrow_sides_parts_a_corner_in_every_second_course():
    # a front of 85 in: first + 36 + last = 85, both at most 27 7/8 (35 7/8 less 8), so that the
    # first is 21 1/8 to 27 7/8; over a joint at 24 in no place of it is 8 in away
    sizes = exact.Rules(kerf=0.125)
    faces = [Face(0, 92, "plain"), Face(100, 185), Face(200, 300, right="plain")]
    assert fewest_parted(faces, [[], [], []], sizes) == 0
    assert fewest_parted(faces, [[], [124, 160], []], sizes) == 1


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
