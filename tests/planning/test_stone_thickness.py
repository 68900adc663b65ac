"""Stone has a thickness, and pieces stop short of corners by it or run on behind.

Rules L6 and L7 of the trade say who butts against whom; how long the pieces are is then plain
geometry. Sizes are invented: a panel of 36 x 8 in, 1 1/2 in thick, pieces 8 in long at least,
joints 8 in apart, no saw cut.

An outside corner from above, the outline being the veneer's own edge:

    course 0                            course 1
    A =========.                        A ========| |
    - wall A --|=|                      - wall A -| |     A and B take turns. What butts ends at
               |B|                                |B|     the other's back, 1 1/2 in short.
"""

import dataclasses
import math

import pytest
from builders import PRODUCT, drawing, job, line, write_dxf
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.app.laying import lay_out
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.product import load_product
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import PanelEstimate
from dxf2veneer.order.assumptions import assumptions
from dxf2veneer.recognise import recognise
from dxf2veneer.verify.plan import judge
from dxf2veneer.wording import say

CLEAN = job(plan__kerf=0.0)
SIZES = """[product]
name = "invented"
[panel]
length = 36
height = 8
{panel}
[corner]
unequal = 1
vary = 1
{corner}
[laying]
stagger = 8
least_piece = 8
{laying}
[cap]
height = 2.25
"""


@pytest.fixture
def planned(tmp_path):
    """Take off two walls, or what is given, with a product of these values."""

    def run(job=CLEAN, *, panel="", corner="", laying="", **outlines):
        file = tmp_path / "panel.toml"
        file.write_text(SIZES.format(panel=panel, corner=corner, laying=laying))
        job = with_settings(job, product__file=str(file))
        return take_off([write_dxf(drawing(**outlines), tmp_path / "front.dxf")], job)

    return run


def corner(kind):
    """Wall A from 0 to 100 and wall B from 200 to 270, two courses high; A's right edge meets B's
    left one."""
    return {
        "wall": [(0, 0, 100, 16), (200, 0, 270, 16)],
        kind: [line(100, 0, 100, 16), line(200, 0, 200, 16)],
        "texts": [(kind, "K", (100, 8)), (kind, "K", (200, 8))],
    }


def ends(takeoff, wall):
    """By course, the x at which the pieces of a wall begin and end."""
    pieces = takeoff.walls[wall].courses.pieces
    found = {}
    for p in pieces:
        low, high = found.get(p.course, (math.inf, -math.inf))
        found[p.course] = min(low, p.x0), max(high, p.x1)
    return [found[course] for course in sorted(found)]


def broken(takeoff):
    return [(b.rule, say(b.message)) for b in takeoff.plan.breaks]


def test_a_thickness_that_nobody_gave_changes_nothing(planned):
    takeoff = planned(**corner("outside_corner"))
    assert ends(takeoff, 0) == [(0.0, 100.0)] * 2 and ends(takeoff, 1) == [(200.0, 270.0)] * 2


def test_what_butts_at_an_outside_corner_is_shorter_by_the_stone(planned):
    takeoff = planned(panel="thickness = 1.5", **corner("outside_corner"))
    assert ends(takeoff, 0) == [(0.0, 100.0), (0.0, 98.5)]
    assert ends(takeoff, 1) == [(201.5, 270.0), (200.0, 270.0)]
    assert broken(takeoff) == []


def test_the_strip_behind_the_other_walls_stone_is_no_piece_and_counts_as_waste(planned):
    """Of two courses of 8 in A's pieces make up 100 and 98.5 in, B's 68.5 and 70."""
    takeoff = planned(panel="thickness = 1.5", **corner("outside_corner"))
    laid = 8 * (100 + 98.5), 8 * (68.5 + 70)
    assert takeoff.waste == pytest.approx(1 - sum(laid) / (takeoff.plan.total * 36 * 8))
    for wall, own in zip(takeoff.plan.walls, laid, strict=True):
        assert wall.waste == pytest.approx(1 - own / ((wall.flat + wall.corner) * 36 * 8))


def test_an_outline_at_the_sheathing_has_the_stone_outside_it(planned):
    """The overhang is the stone's thickness: corner pieces run past, the rest stops at the edge."""
    sheathing = with_settings(CLEAN, plan__outside_overhang=1.5)
    takeoff = planned(sheathing, panel="thickness = 1.5", **corner("outside_corner"))
    assert ends(takeoff, 0) == [(0.0, 101.5), (0.0, 100.0)]
    assert ends(takeoff, 1) == [(200.0, 270.0), (198.5, 270.0)]
    assert broken(takeoff) == []


def test_an_overhang_beyond_the_stone_lets_nothing_butt_past_the_edge(planned):
    takeoff = planned(
        with_settings(CLEAN, plan__outside_overhang=3.0),
        panel="thickness = 1.5",
        **corner("outside_corner"),
    )
    assert ends(takeoff, 0) == [(0.0, 103.0), (0.0, 100.0)]


def test_at_an_inside_corner_pieces_end_at_the_edge_unless_the_product_says_behind(planned):
    takeoff = planned(panel="thickness = 1.5", **corner("inside_corner"))
    assert ends(takeoff, 0) == [(0.0, 100.0)] * 2
    behind = planned(panel="thickness = 1.5", corner='inside = "behind"', **corner("inside_corner"))
    assert ends(behind, 0) == [(0.0, 101.5), (0.0, 100.0)]
    assert ends(behind, 1) == [(200.0, 270.0), (198.5, 270.0)]
    assert broken(behind) == []


def test_joints_at_openings_and_plain_ends(planned):
    """100 wide, a door from 40 to 60 as high as the wall: 0.5 in at its jambs, 0.25 in at the ends.

    0.25        39.5    60.5         99.75
     |___________| door  |____________|
    """
    takeoff = planned(
        laying="opening_joint = 0.5\nend_joint = 0.25",
        wall=[(0, 0, 100, 16)],
        door=[(40, 0, 60, 16)],
    )
    pieces = [p for p in takeoff.walls[0].courses.pieces if p.course == 0]
    assert pieces[0].x0 == 0.25 and pieces[-1].x1 == 99.75
    assert sorted(p.x1 for p in pieces if p.x1 < 50)[-1] == 39.5
    assert min(p.x0 for p in pieces if p.x0 > 50) == 60.5
    assert broken(takeoff) == []


def test_a_rake_has_no_joint_at_an_opening(planned):
    """A gable on a base of 4 ft: its ends are sloped, and neither opening nor plain end."""
    takeoff = planned(laying="opening_joint = 0.5", wall=[[(0, 0), (96, 0), (48, 64)]])
    assert ends(takeoff, 0)[0] == (0.0, 96.0)
    assert [b for b in broken(takeoff) if b[0] == RuleId.COVER] == []


def test_a_pier_narrower_than_its_joints_holds_no_piece(planned):
    """Between two doors 0.75 in of wall are left, less than two joints of 0.5 in: caulk."""
    takeoff = planned(
        laying="opening_joint = 0.5",
        wall=[(0, 0, 160, 16)],
        door=[(40, 0, 80, 16), (80.75, 0, 120, 16)],
    )
    assert not [p for p in takeoff.walls[0].courses.pieces if 70 < p.x0 < 90]
    assert broken(takeoff) == []


def test_the_judge_sees_what_runs_into_the_other_walls_stone(planned):
    """Laid without a thickness and judged with one: every butting piece is too long by it."""
    takeoff = planned(**corner("outside_corner"))
    thick = dataclasses.replace(
        takeoff.product, panel=dataclasses.replace(takeoff.product.panel, thickness=1.5)
    )
    found = [
        b for b in judge(takeoff.walls, takeoff.plan, takeoff.job, thick) if b.rule == RuleId.COVER
    ]
    assert [(b.wall, b.course) for b in found] == [("W1", 1), ("W2", 0)]


def test_the_judge_sees_ground_left_bare_by_a_thickness_that_is_none(planned):
    takeoff = planned(panel="thickness = 1.5", **corner("outside_corner"))
    thin = dataclasses.replace(
        takeoff.product, panel=dataclasses.replace(takeoff.product.panel, thickness=0.0)
    )
    found = judge(takeoff.walls, takeoff.plan, takeoff.job, thin)
    assert [(b.wall, b.course) for b in found if b.rule == RuleId.COVER] == [("W1", 1), ("W2", 0)]


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0.5, 3.0), st.floats(0.0, 3.0), st.floats(40.0, 150.0), st.booleans(), st.booleans()
)
def test_two_walls_fill_the_corner_once(thickness, overhang, width, is_inside, behind):
    """Seen from above, at the height of any course the stone of both walls meets without a gap
    and without overlap: the carrier's end and the butting piece's end are apart by the thickness,
    or by the overhang where that is more."""
    kind = "inside_corner" if is_inside else "outside_corner"
    product = dataclasses.replace(
        PRODUCT,
        panel=dataclasses.replace(PRODUCT.panel, thickness=thickness),
        corner=dataclasses.replace(PRODUCT.corner, inside="behind" if behind else "edge"),
    )
    run_on = with_settings(CLEAN, plan__outside_overhang=overhang)
    made = drawing(
        wall=[(0, 0, width, 16), (300, 0, 370, 16)],
        texts=[(kind, "K", (width, 8)), (kind, "K", (300, 8))],
        **{kind: [line(width, 0, width, 16), line(300, 0, 300, 16)]},
    )
    laid = _laid(made, run_on, product)
    for course in (0, 1):
        right = max(p.x1 for p in laid[0].courses.pieces if p.course == course) - width
        left = 300 - min(p.x0 for p in laid[1].courses.pieces if p.course == course)
        apart = (thickness if behind else 0.0) if is_inside else max(thickness, overhang)
        assert abs(right - left) == pytest.approx(apart, abs=1e-6)


def _laid(made, job, product):
    found = recognise([made], job)
    return lay_out(found.walls, found.corners, job, product).walls


def values(product):
    found = assumptions(CLEAN, product, (), (), PanelEstimate((), 10.0))
    return {a.key: a for a in found}


def test_an_unknown_thickness_is_an_assumption():
    unknown = values(PRODUCT)["panel.thickness"]
    assert say(unknown.value) == "not known" and "too long" in say(unknown.effect)
    assert values(load_product())["panel.thickness"].value == unknown.value
