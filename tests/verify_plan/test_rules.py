"""The judge of a course plan: plans laid by hand pass, and whatever is spoiled in them is caught
where it is.

Each mutation changes one thing of a good plan of ``hand_plans`` (its sketches show the places) and
says which rule it breaks, in which wall and course, and at which x. Least piece and stagger 8 in,
panels 36 in, corner cuts unequal and varying by 1 in, a saw cut 1/8 in.
"""

from __future__ import annotations

import dataclasses
import math
import time
from collections.abc import Callable

import pytest
from builders import job
from hand_plans import BAY, BOND, COLUMN, GABLE, HOUSE, PLANS, SLOT, Hand, Planned, bare_wall

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.rules import JUDGED
from dxf2veneer.geometry import Path as Outline
from dxf2veneer.model import Bound, PieceRef, RuleBreak, StockUnit
from dxf2veneer.verify.plan import judge, with_reasons
from dxf2veneer.wording import say


def judged(planned: Planned) -> tuple[RuleBreak, ...]:
    return judge(planned.walls, planned.plan, planned.job, planned.product)


@pytest.mark.parametrize("name", PLANS)
def test_a_plan_laid_by_hand_breaks_no_rule(name):
    assert judged(PLANS[name].planned()) == ()


def test_two_parts_with_less_than_two_saw_cuts_between_break_no_rule():
    assert judged(TIGHT.planned()) == ()
    assert TIGHT.planned().plan.units[0].kerfs == pytest.approx(0.2)


# ---------------------------------------------------------------- mutations


@dataclasses.dataclass(frozen=True)
class Mutation:
    """A spoiled plan, the break it must give, and the other rules that the same change breaks."""

    name: str
    spoil: Callable[[], Planned]
    rule: str
    wall: str
    course: int
    x: float
    also: tuple[str, ...] = ()


def lay(hand: Hand, wall: str, course: int, row: str, **changes) -> Callable[[], Planned]:
    return lambda: hand.relaid({(wall, course): row}, **changes).planned()


def turn(hand: Hand, wall: str, course: int, number: int, /, **changes) -> Callable[[], Planned]:
    return lambda: hand.planned().with_piece(wall, course, number, **changes)


def count(**changes) -> Callable[[], Planned]:
    def spoil() -> Planned:
        bond = BOND.planned()
        return bond.with_plan(flat=dataclasses.replace(bond.plan.flat, **changes))

    return spoil


def unit(hand: Hand, id_: str, **changes) -> Callable[[], Planned]:
    return lambda: hand.planned().with_unit(id_, **changes)


def more_units(*units: StockUnit) -> Callable[[], Planned]:
    def spoil() -> Planned:
        bond = BOND.planned()
        flat = dataclasses.replace(bond.plan.flat, units=10 + len(units))
        walls = tuple(dataclasses.replace(w, flat=10 + len(units)) for w in bond.plan.walls)
        return bond.with_plan(units=(*bond.plan.units, *units), flat=flat, walls=walls)

    return spoil


def shared_out(**changes) -> Callable[[], Planned]:
    def spoil() -> Planned:
        bond = BOND.planned()
        return bond.with_plan(
            walls=tuple(dataclasses.replace(w, **changes) for w in bond.plan.walls)
        )

    return spoil


NOTCH_TOO_WIDE = ((24, 16), (27, 16), (27, 20), (44, 20), (44, 16), (60, 16), (60, 24), (24, 24))
OVER = {
    ("W1", 0): "0 C1> 17",
    ("W1", 1): "-1 C1< 16",
    ("W1", 2): "0 C2> 17",
    ("W1", 3): "-1 C2< 16",
}
COLUMN_OVER = COLUMN.relaid(OVER, job=job(plan__outside_overhang=1.0))
"""The column with corner pieces that run an inch past its edges, as the job says."""
END_OVER = Hand(
    (bare_wall("W1", (0, 0, 60, 16), "end butt"),),
    {("W1", 0): "-1 C1< 14 F1 50 F2< 60", ("W1", 1): "-1 C2< 24 F3 60"},
    job=job(plan__end_overhang=1.0),
)
"""A finished end whose corner pieces, 15 and 25 in long, run an inch past it, as the job says."""
LOW = Hand(
    (bare_wall("W1", (0, 0, 36, 9), "butt butt"),),
    {("W1", 0): "0 F1 36", ("W1", 1): "0 F2 36"},
    {("W1", 1, 1): ({"y1": 9.0, "kind": "ripped", "ripped": True, "glued": True},)},
)
"""A wall an inch higher than one course: a strip 1 in high."""
PIER = Hand((bare_wall("W1", (0, 0, 5, 8), "butt butt"),), {("W1", 0): "0 F1< 5"})
"""A pier of 5 in, narrower than the least piece."""
TIGHT = Hand(
    (bare_wall("W1", (0, 0, 20, 8), "butt butt"), bare_wall("W2", (100, 0, 115.8, 8), "butt butt")),
    {("W1", 0): "0 F1< 20", ("W2", 0): "100 F1> 115.8"},
)
"""Two piers from the ends of one panel: 0.2 in lie between, less than two saw cuts."""
TWICE = PieceRef("W1", 1, 2)

MUTATIONS = (
    # --- cover
    Mutation("a piece is missing", lambda: HOUSE.planned().without_piece("W1", 1, 2),
        "cover", "W1", 1, 27, ("declared", "stock")),
    Mutation("a piece begins 0.1 in late", turn(BOND, "W1", 1, 2, x0=24.1),
        "cover", "W1", 1, 24.05, ("declared", "stock")),
    Mutation("a piece reaches over its neighbour", turn(BOND, "W1", 1, 2, x1=61.0),
        "cover", "W1", 1, 60.5, ("stock",)),
    Mutation("a piece lies below its course", turn(BOND, "W1", 0, 2, y0=-1.0),
        "cover", "W1", 0, 54),
    Mutation("a piece reaches into the next course", turn(BOND, "W1", 0, 2, y1=8.5),
        "cover", "W1", 0, 54),
    Mutation("a piece reaches into a window", lay(GABLE, "W1", 1, "0 F3< 28.5 | 44 F4< 72"),
        "cover", "W1", 1, 28.25),
    Mutation("a notch is wider than the window", turn(GABLE, "W1", 2, 2, outline=NOTCH_TOO_WIDE),
        "cover", "W1", 2, 27.5),
    Mutation("a notched piece is a plain rectangle", turn(GABLE, "W1", 2, 2, outline=()),
        "cover", "W1", 2, 36, ("declared",)),
    Mutation("the part above a slot is missing", lambda: SLOT.planned().without_piece("W1", 0, 3),
        "cover", "W1", 0, 54, ("declared", "stock")),
    Mutation("a piece lies off the wall",
        lay(BOND, "W1", 0, "0 F1 36 F2 72 F3 108 F4< 120 | 130 F11 166"),
        "cover", "W1", 0, 148),
    Mutation("an overhang that the job knows nothing of", lay(COLUMN, "W1", 0, "0 C1> 16.5"),
        "cover", "W1", 0, 16.25, ("L6",)),
    Mutation("a flat piece runs past the edge",
        lay(BOND, "W1", 1, "0 F4> 24 F5 60 F6 96 F7< 120.5"),
        "cover", "W1", 1, 120.25, ("stock",)),
    # --- stock
    Mutation("a unit is used twice", lay(BOND, "W1", 1, "0 F4> 24 F5 60 F5 96 F7< 120"),
        "stock", "W1", 1, 78),
    Mutation("no room for the saw cut", lambda: BOND.relaid(job=job()).planned(),
        "stock", "W1", 1, 12),
    Mutation("a part lies beyond its unit", turn(HOUSE, "W1", 1, 4, at=20.0),
        "stock", "W1", 1, 90.5),
    Mutation("a factory end in the middle of a unit", turn(HOUSE, "W1", 1, 4, right="factory"),
        "stock", "W1", 1, 90.5),
    Mutation("a finished end in the middle of a unit", turn(HOUSE, "W1", 0, 4, at=20.0),
        "stock", "W1", 0, 96),
    Mutation("a corner unit gives two left-hand pieces",
        lay(HOUSE, "W2", 1, "200 C1< 211 F13 247 F14< 280"),
        "stock", "W1", 0, 10),
    Mutation("a piece is cut from no unit",
        lambda: BOND.planned().with_unit("F4", parts=(PieceRef("W1", 0, 4),), used=12.0, kerfs=0.0),
        "stock", "W1", 1, 12),
    Mutation("a piece says another unit than the one that lists it",
        turn(BOND, "W1", 1, 2, stock="F6"),
        "stock", "W1", 1, 42),
    Mutation("a second unit lists a piece",
        more_units(StockUnit("F11", "flat", 36.0, (TWICE,), 36.0, 0.0)),
        "stock", "W1", 1, 42),
    Mutation("a unit lists a piece that is not there",
        unit(BOND, "F1", parts=(PieceRef("W1", 0, 1), PieceRef("W1", 0, 9))),
        "stock", "W1", 0, 0),
    Mutation("a unit is longer than the product's", unit(BOND, "F1", length=48.0),
        "stock", "W1", 0, 18),
    Mutation("a unit's used length is wrong", unit(BOND, "F4", used=35.0), "stock", "W1", 0, 114),
    Mutation("a unit's saw cuts are wrong", unit(HOUSE, "C1", kerfs=0.0), "stock", "W1", 0, 10),
    Mutation("a unit's saw cuts take more than lies between its parts",
        unit(TIGHT, "F1", kerfs=0.25),
        "stock", "W1", 0, 10),
    Mutation("two units have one id", unit(BOND, "F2", id="F1"), "stock", "", 0, 0),
    Mutation("a flat unit has a corner unit's letter",
        more_units(StockUnit("C11", "flat", 36.0, (), 0.0, 0.0)),
        "stock", "", 0, 0),
    Mutation("a corner piece is said to be flat", turn(HOUSE, "W1", 0, 1, unit="flat"),
        "stock", "W1", 0, 10, ("L5", "L8", "L9")),
    Mutation("offcuts stay on their wall",
        lambda: HOUSE.relaid(job=job(plan__offcuts="wall")).planned(),
        "stock", "W2", 0, 276),
    Mutation("a unit too few is counted", count(units=9), "stock", "", 0, 0),
    Mutation("fewer units than none can do without",
        count(bounds=(Bound("length", 11, message("made-up")),)),
        "stock", "", 0, 0),
    Mutation("a piece too few is counted", count(pieces=11), "stock", "", 0, 0),
    Mutation("the pieces' length is wrong", count(pieces_length=359.0), "stock", "", 0, 0),
    Mutation("a cut too few is counted", count(cuts=1), "stock", "", 0, 0),
    Mutation("left ends are miscounted", count(left=3), "stock", "", 0, 0),
    Mutation("right ends are miscounted", count(right=1), "stock", "", 0, 0),
    Mutation("a wall's pieces are miscounted", shared_out(pieces=11), "stock", "W1", 0, 0),
    Mutation("the walls' units do not add up", shared_out(flat=9), "stock", "", 0, 0),
    # --- declared
    Mutation("a crosscut piece is called whole", turn(BOND, "W1", 1, 1, kind="whole"),
        "declared", "W1", 1, 12),
    Mutation("a whole panel is called crosscut", turn(BOND, "W1", 1, 2, kind="crosscut"),
        "declared", "W1", 1, 42),
    Mutation("a notched piece is called ripped", turn(GABLE, "W1", 2, 2, kind="ripped"),
        "declared", "W1", 2, 42),
    Mutation("a raked piece is called notched", turn(GABLE, "W1", 3, 1, kind="notched"),
        "declared", "W1", 3, 18),
    Mutation("a mitred piece is called crosscut", turn(BAY, "W1", 0, 3, kind="crosscut"),
        "declared", "W1", 0, 53),
    Mutation("a ripped piece says it is not", turn(GABLE, "W1", 2, 2, ripped=False),
        "declared", "W1", 2, 42),
    Mutation("a piece of full height says ripped", turn(BOND, "W1", 1, 2, ripped=True),
        "declared", "W1", 1, 42),
    Mutation("a piece without flange is not glued", turn(GABLE, "W1", 3, 2, glued=False),
        "declared", "W1", 3, 54),
    Mutation("a piece with its flange is glued", turn(SLOT, "W1", 0, 3, glued=True),
        "declared", "W1", 0, 54),
    Mutation("a raked piece is lower than it says", turn(GABLE, "W1", 3, 2, y1=31.0),
        "declared", "W1", 3, 54),
    Mutation("a rake's angle is wrong", turn(GABLE, "W1", 3, 1, angle=25.0),
        "declared", "W1", 3, 18),
    Mutation("the first piece bears the last number", turn(BOND, "W1", 0, 1, number=5),
        "declared", "W1", 0, 36, ("stock",)),
    # --- L3
    Mutation("joints 7 in apart", lay(HOUSE, "W1", 1, "0 C3< 13 F3 49 F4 85 F5< 100"),
        "L3", "W1", 1, 49),
    Mutation("joints 6 in apart with the course above",
        lay(HOUSE, "W1", 1, "0 C3< 13 F3 49 F4 85 F5< 100"),
        "L3", "W1", 2, 55),
    # --- L4
    Mutation("a corner piece of 7 in", lay(HOUSE, "W1", 0, "0 C1< 21 F1 57 F2 93 C2> 100"),
        "L4", "W1", 0, 96.5),
    Mutation("a flat piece of 6 in", lay(BOND, "W1", 0, "0 F11> 30 F1 66 F2 102 F3< 114 F12 120"),
        "L4", "W1", 0, 117, ("L3", "L9", "declared", "stock")),
    Mutation("a corner unit is cut in the middle",
        lay(HOUSE, "W2", 1, "200 C2< 208 F13 244 F14 280"),
        "L4", "W1", 0, 96),
    Mutation("the cut at an edge does not vary",
        lay(HOUSE, "W1", 2, "0 C4< 20 F6 56 F7 92 C5> 100"),
        "L4", "W1", 2, 96),
    Mutation("a corner piece leaves no second one",
        lambda: HOUSE.relaid({("W1", 0): "0 C1< 28 F1 64 F2< 90 C2> 100", ("W2",
            0): "200 F11 236 F12 272 C7> 280"}).planned(),
        "L4", "W1", 0, 14),
    # --- L5
    Mutation("a whole corner panel inside a course",
        lay(HOUSE, "W1", 1, "0 C3< 9 C7 45 F4 81 F5< 100"),
        "L5", "W1", 1, 27, ("L4", "declared")),
    Mutation("a corner piece with two cut ends", turn(HOUSE, "W1", 0, 1, left="cut"),
        "L5", "W1", 0, 10, ("L8", "stock")),
    Mutation("a flat piece with a finished end", turn(HOUSE, "W1", 1, 4, right="finished"),
        "L5", "W1", 1, 90.5, ("L6", "stock")),
    Mutation("a finished end inside a run", lay(HOUSE, "W1", 0, "0 C1< 20 F1 56 F2 92 C2< 100"),
        "L5", "W1", 0, 92, ("L6", "stock")),
    # --- L6 to L8
    Mutation("a flat piece where the wall carries the corner",
        lay(HOUSE, "W1", 0, "0 C1< 20 F1 56 F2 92 F19< 100"),
        "L6", "W1", 0, 100),
    Mutation("a corner piece when it is the other wall's turn",
        lay(HOUSE, "W1", 1, "0 C3< 9 F3 45 F4 81 C7> 100"),
        "L6", "W1", 1, 100),
    Mutation("the left wall's turn, and it is flat",
        lay(HOUSE, "W2", 1, "200 F19> 211 F13 247 F14< 280"),
        "L6", "W2", 1, 200),
    Mutation("an outside overhang left out once", lay(COLUMN_OVER, "W1", 2, "0 C2> 16"),
        "L6", "W1", 2, 16),
    Mutation("a flat piece at the inside corner",
        lay(HOUSE, "W2", 0, "200 F11 236 F12 272 F19< 280"),
        "L7", "W2", 0, 280),
    Mutation("a corner piece out of turn at the inside corner",
        lay(HOUSE, "W2", 1, "200 C2< 211 F13 247 F20< 264 C8> 280"),
        "L7", "W2", 1, 280, ("L3",)),
    Mutation("a flat piece at a finished end", lay(HOUSE, "W1", 1, "0 F19> 9 F3 45 F4 81 F5< 100"),
        "L8", "W1", 1, 0),
    Mutation("the wrong hand at a finished end", lay(HOUSE, "W1", 1, "0 C3> 9 F3 45 F4 81 F5< 100"),
        "L8", "W1", 1, 0, ("L5", "stock")),
    Mutation("another overhang in one course", lay(END_OVER, "W1", 1, "-0.5 C2< 24 F3 60"),
        "L8", "W1", 1, 0),
    # --- L9
    Mutation("a cut end inside a run", lay(BOND, "W1", 1, "0 F4> 24 F5 60 F6< 92 F19< 120"),
        "L9", "W1", 1, 92),
    Mutation("a finished end at a jamb", lay(GABLE, "W1", 1, "0 C1> 20 | 44 F4< 72"),
        "L9", "W1", 1, 28, ("L5", "cover")),
    Mutation("a finished end at a butt edge", lay(GABLE, "W1", 1, "0 C1< 20 F3< 28 | 44 F4< 72"),
        "L9", "W1", 1, 0, ("L3",)),
    # --- L12, L13
    Mutation("a flat piece in a column", lay(COLUMN, "W1", 1, "0 C1< 8 F1< 16"),
        "L12", "W1", 1, 12),
    Mutation("the sides of a bay from two panels",
        lay(BAY, "W2", 0, "100 F10m> 121 F6 157 F7< 165"),
        "L13", "W2", 0, 100),
    Mutation("a plain end at a bay", lay(BAY, "W1", 0, "0 F1> 10 F2 46 F3< 60"),
        "L13", "W1", 0, 60),
    Mutation("a mitre inside a run", lay(BAY, "W1", 0, "0 F1> 10 F20m> 46 F3<m 60"),
        "L13", "W1", 0, 10),
    Mutation("a mitre where there is no bay", lay(BAY, "W2", 1, "100 F5m> 111 F8 147 F9<m 165"),
        "L13", "W2", 1, 165),
    Mutation("a mitre at the wrong angle", turn(BAY, "W1", 1, 2, angle=45.0), "L13", "W1", 1, 48),
    # --- L24
    Mutation("a strip of 1 in at the top", LOW.planned, "L24", "W1", 1, 18),
    Mutation("a strip of 4 in where 5 are asked for",
        lambda: GABLE.relaid(job=job(courses__sliver=5.0)).planned(),
        "L24", "W1", 2, 36),
)  # fmt: skip


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: f"{m.rule}: {m.name}")
def test_a_spoiled_plan_is_caught_where_it_is(mutation):
    found = judged(mutation.spoil())
    hits = [
        b
        for b in found
        if b.rule == mutation.rule and (b.wall, b.course) == (mutation.wall, mutation.course)
    ]
    assert any(math.isclose(b.at[0], mutation.x, abs_tol=0.51) for b in hits), found
    assert {b.rule for b in found} <= {mutation.rule, *mutation.also}, found


def test_every_rule_has_a_mutation_that_breaks_it():
    assert {m.rule for m in MUTATIONS} == set(JUDGED)


# ------------------------------------------------------------ where and how


def broken(planned: Planned, rule: str) -> list[RuleBreak]:
    return [b for b in judged(planned) if b.rule == rule]


def test_messages_name_place_and_size():
    (gap,) = broken(BOND.planned().with_piece("W1", 1, 2, x0=24.5), "cover")
    assert say(gap.message) == 'no piece covers 1/2" by 8" (4.00 sq in) of the field'
    assert gap.at == pytest.approx((24.25, 12.0))
    (short,) = broken(HOUSE.relaid({("W1", 0): "0 C1< 21 F1 57 F2 93 C2> 100"}).planned(), "L4")
    assert say(short.message) == 'piece 4 is 7" long, the least is 8"; its run measures 8\'-4"'


def test_every_violation_is_told_in_order_of_wall_course_and_place():
    spoiled = HOUSE.relaid(
        {("W1", 1): "0 C3< 13 F3 49 F4 85 F5< 100", ("W2", 0): "200 F11 236 F12 272 F19< 280"}
    )
    found = judged(spoiled.planned())
    assert [(b.rule, b.wall, b.course, b.at[0]) for b in found] == [
        ("L3", "W1", 1, 13.0), ("L3", "W1", 1, 49.0), ("L3", "W1", 1, 85.0),
        ("L3", "W1", 2, 19.0), ("L3", "W1", 2, 55.0), ("L3", "W1", 2, 91.0),
        ("L7", "W2", 0, 280.0),
    ]  # fmt: skip


@pytest.mark.parametrize("gap, told", [(0.005, False), (0.03, True)])
def test_a_gap_thinner_than_the_drawing_is_true_is_none(gap, told):
    planned = BOND.planned().with_piece("W1", 1, 2, x0=24.0 + gap)
    assert bool(broken(planned, "cover")) == told


def test_joints_just_far_enough_apart_pass():
    row = "0 C3< 12 F3 48 F4 84 F5< 100"  # 20 - 12 = 8 exactly; 19 - 12 = 7 with the course above
    assert [b.course for b in broken(HOUSE.relaid({("W1", 1): row}).planned(), "L3")] == [2, 2, 2]


@pytest.mark.parametrize("hand", [COLUMN_OVER, END_OVER])
def test_the_overhang_of_the_job_is_no_fault(hand):
    assert judged(hand.planned()) == ()


def test_corner_cuts_may_be_equal_where_a_piece_spans_its_whole_run():
    # COLUMN's corner units give 16 and 16, and 16 follows 16 at each edge: there is no choice in a
    # column
    lengths = {p.length for w in COLUMN.planned().walls for p in w.courses.pieces}
    assert lengths == {16.0} and judged(COLUMN.planned()) == ()


def test_both_sides_of_a_bay_may_share_a_panel_where_offcuts_stay_on_their_wall():
    assert judged(BAY.relaid(job=job(plan__offcuts="wall")).planned()) == ()


def test_walls_that_do_not_take_turns_are_told_though_each_is_laid_right_by_itself():
    """HOUSE with W2 counting its courses one on: both walls carry the corner in even courses, none
    in odd ones."""
    front, side = HOUSE.bare
    side = dataclasses.replace(side, courses=dataclasses.replace(side.courses, rise=1))
    rows = {("W2", course): HOUSE.rows["W2", course ^ 1] for course in range(4)}
    found = judged(HOUSE.relaid(rows, bare=(front, side)).planned())
    assert [(b.rule, b.wall, b.course, b.at[0]) for b in found] == [
        ("L6", "W2", course, 200.0) for course in range(4)
    ]
    assert ["both walls" in say(b.message) for b in found] == [True, False, True, False]


def test_courses_of_one_level_line_are_the_same_course_whatever_their_number():
    """BAY with W2 standing one course higher: its course 0 meets W1's course 1 at the bay.

    24          | F10m> |
    16 |   F5<m | F5m>  |          W2's lower course is cut from F5, W1's upper one; level line at 0
     8 |   F3<m |-------'
     0 '--------'
    """
    front = BAY.bare[0]
    higher = bare_wall("W2", (100, 8, 165, 24), "mitre butt", corners="B1 -")
    walls = tuple(
        dataclasses.replace(w, wall=dataclasses.replace(w.wall, level_y=0.0))
        for w in (front, higher)
    )
    row = {("W2", 0): BAY.rows["W2", 1], ("W2", 1): "100 F10m> 121 F6 157 F7< 165"}
    assert judged(BAY.relaid(row, bare=walls).planned()) == ()
    assert {
        b.rule
        for b in judged(
            BAY.relaid(
                {("W2", 0): BAY.rows["W2", 0], ("W2", 1): BAY.rows["W2", 1]}, bare=walls
            ).planned()
        )
    } == {"L13"}


def test_the_crown_of_an_arch_is_no_level_strip():
    """A round head of radius 18 ends 1 in under the top of its course: it is flattened to chords of
    0.4 in, the topmost level, and still no strip."""
    arch = Outline(((32.0, 0.0, 0.0), (68.0, 0.0, 0.0), (68.0, 21.0, 1.0), (32.0, 21.0, 0.0)))
    wall = bare_wall("W1", (0, 0, 100, 40), "butt butt", opening=[arch])
    run = next(g for g in wall.courses.field.polygon.geoms)
    bands = [
        run.intersection(type(run)([(-1, c.y0), (101, c.y0), (101, c.y1), (-1, c.y1)]))
        for c in wall.courses.courses
    ]
    over = bands[4]  # 32 to 40, the crown at 39
    outline = tuple(
        over.intersection(type(run)([(31, 32), (67, 32), (67, 40), (31, 40)])).exterior.coords[:-1]
    )
    hand = Hand(
        (wall,),
        {("W1", 4): "0 F1> 31 F2 67 F3< 100"},
        {("W1", 4, 2): ({"kind": "raked", "outline": outline},)},
    )
    assert [b for b in judged(hand.planned()) if b.rule in ("L24", "declared")] == []


# ------------------------------------------------------------------ reasons


def reason(rule: str, course: int, x: float, why: str) -> RuleBreak:
    """A reason of the plan; ``why`` is the code of its message."""
    return RuleBreak(rule, "W1", course, (x, 4.0), message("what-the-plan-did"), Message(why))


def found(rule: str, course: int, x: float) -> RuleBreak:
    return RuleBreak(rule, "W1", course, (x, 8.0), message("what-the-judge-saw"))


NARROW = "run-shorter-than-least-piece"


def test_a_reason_that_the_judge_has_seen_stands_beside_the_break():
    (short,) = broken(PIER.planned(), "L4")
    assert short.forced and short.why is None
    (explained,) = with_reasons([short], [reason("L4", 0, 2.0, NARROW)])[0]
    assert explained == dataclasses.replace(short, why=Message(NARROW))
    (strip,) = broken(LOW.planned(), "L24")
    (explained,) = with_reasons([strip], [reason("L24", 1, 18.0, "top-of-wall")])[0]
    assert strip.forced and explained.why == Message("top-of-wall")


def test_a_reason_that_is_not_so_is_left_out():
    short = broken(HOUSE.relaid({("W1", 0): "0 C1< 21 F1 57 F2 93 C2> 100"}).planned(), "L4")
    assert not short[0].forced
    assert with_reasons(short, [reason("L4", 0, 96.0, NARROW)])[0] == tuple(short)
    low = found("L24", 0, 18.0)
    assert with_reasons([low], [reason("L24", 0, 18.0, "head-of-window")])[0] == (low,)


def test_another_reason_for_a_short_piece_need_not_be_seen():
    short = broken(HOUSE.relaid({("W1", 0): "0 C1< 21 F1 57 F2 93 C2> 100"}).planned(), "L4")
    (explained,) = with_reasons(short, [reason("L4", 0, 96.0, "corner-cut-has-no-slack")])[0]
    assert explained.why == Message("corner-cut-has-no-slack")


@pytest.mark.parametrize(
    ("given", "holds"),
    [
        (reason("L3", 1, 49.0, "narrow-pier"), True),
        (reason("L4", 1, 49.0, "narrow-pier"), False),
        (reason("L3", 2, 49.0, "narrow-pier"), False),
        (reason("L3", 1, 90.0, "narrow-pier"), False),
    ],
)
def test_a_reason_holds_for_its_rule_course_and_neighborhood(given, holds):
    (explained,) = with_reasons([found("L3", 1, 49.0)], [given])[0]
    assert (explained.why == given.why) == holds


def test_of_several_reasons_the_nearest_counts():
    reasons = [reason("L3", 1, 30.0, "far"), reason("L3", 1, 47.0, "near")]
    assert with_reasons([found("L3", 1, 49.0)], reasons)[0][0].why == Message("near")


# -------------------------------------------------------------------- speed


def test_ten_thousand_pieces_are_judged_in_seconds():
    """BOND's three courses 100 times over in 9 walls: 9 x 300 x 3 2/3 = 10,800 pieces. The limit
    leaves room for a slow or busy machine; on an idle one it takes well under 2 s."""
    planned = [_tall(f"W{i}", 100).planned() for i in range(9)]
    walls = tuple(w for p in planned for w in p.walls)
    assert sum(len(w.courses.pieces) for w in walls) == 10_800
    started = time.process_time()
    for w, p in zip(walls, planned, strict=True):
        assert judge([w], p.plan, p.job, p.product) == ()
    assert time.process_time() - started < 10.0


def _tall(id_: str, times: int) -> Hand:
    bare = bare_wall(id_, (0, 0, 120, 24 * times), "butt butt")
    rows = {
        (id_, 3 * k + course): _renumbered(row, 10 * k)
        for k in range(times)
        for (_, course), row in BOND.rows.items()
    }
    return Hand((bare,), rows, job=BOND.job)


def _renumbered(row: str, by: int) -> str:
    return " ".join(
        f"F{int(t[1:].rstrip('<>')) + by}{t[len(t.rstrip('<>')) :]}" if t[0] == "F" else t
        for t in row.split()
    )
