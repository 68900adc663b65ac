"""Corner pieces are judged and laid by the product's numbers: halves, cuts that move, columns.

Worked out on paper from the rules (L4, L12), whatever the numbers of the product are:

    longest corner piece = corner panel - saw cut - least piece     the two halves of a panel differ
    a column's face up to ``corner.column`` is laid in corner pieces alone
"""

import dataclasses

import pytest
from builders import JOB, PRODUCT, drawing, job, line
from hand_plans import COLUMN, Hand, bare_wall
from refusals import refused

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.product import CornerPanel, Laying, Panel
from dxf2veneer.recognise import recognise
from dxf2veneer.verify.plan import judge

MM = 1 / 25.4


def product(*, panel=36.0, height=8.0, least=8.0, stagger=8.0, **corner):
    """The test panel with other numbers, in inches."""
    return dataclasses.replace(
        PRODUCT,
        panel=Panel(panel, height),
        corner=CornerPanel(**{"length": panel, **corner}),
        laying=Laying(stagger, least),
    )


def column(width, height):
    """Four faces of a column, outside corners all round."""
    boxes = [(i * (width + 40), 0, i * (width + 40) + width, height) for i in range(4)]
    texts = [("outside_corner", f"K{(i - 1) % 4}", (b[0] - 2, 10)) for i, b in enumerate(boxes)]
    texts += [("outside_corner", f"K{i}", (b[2] + 2, 10)) for i, b in enumerate(boxes)]
    marks = [line(x, 0, x, height) for b in boxes for x in (b[0], b[2])]
    return drawing(wall=boxes, outside_corner=marks, texts=texts)


def laid_out(drawn, of, settings=JOB):
    found = recognise([drawn], settings)
    return lay_out(found.walls, found.corners, settings, of)


def rows(laid):
    """The lengths of each course's pieces, corner pieces marked C."""
    return {
        tuple(f"{'C' if p.unit == 'corner' else 'F'}{p.length:g}" for p in pieces)
        for wall in laid.walls
        for i in range(len(wall.courses.courses))
        for pieces in [[p for p in wall.courses.pieces if p.course == i]]
    }


def of_rule(planned, rule):
    found = judge(planned.walls, planned.plan, planned.job, planned.product)
    return [b for b in found if b.rule == rule]


# ------------------------------------------------------------------ unequal halves

HALVES = Hand(
    (bare_wall("W1", (0, 0, 60, 16), "end end"),),
    {("W1", 0): "0 C1< 16 F1 52 C2> 60", ("W1", 1): "0 C3< 8.5 F2< 43 C1> 60"},
)
"""Two courses between finished ends; panel C1 gives 16 and 17 in, neither of which fills its run.

16 |C3<|====== F2 ======|== C1> 17 ==|     16 + 17 + 1/8 <= 36; joints at 8 1/2 and 43 above those
 8 |= C1< 16 =|===== F1 =====| C2>   |     at 16 and 52
"""


@pytest.mark.parametrize(("unequal", "count"), [(0.5, 0), (1.0, 0), (1.25, 1), (9.0, 1)])
def test_halves_of_a_panel_differ_by_what_the_product_says(unequal, count):
    halves = HALVES.relaid(product=product(unequal=unequal)).planned()
    told = [b for b in of_rule(halves, "L4") if b.message.code == "corner-unit-equal-parts"]
    assert len(told) == count


@pytest.mark.parametrize("unequal", [0.0, 1.0, 9.0])
def test_halves_may_be_equal_in_a_column_whatever_the_product_says(unequal):
    # 16 in faces leave no choice: each piece spans its whole run
    planned = COLUMN.relaid(product=product(unequal=unequal)).planned()
    assert of_rule(planned, "L4") == []


def test_a_column_of_16_in_takes_a_panel_for_two_runs():
    # 48 runs of 16 in; 16 + 1/8 + 16 <= 36, so that 24 panels do, and no fewer: one of each hand
    laid = laid_out(column(16, 96), product())
    assert rows(laid) == {("C16",)}
    assert (laid.plan.corner.units, laid.plan.flat.units, laid.plan.breaks) == (24, 0, ())


@pytest.mark.parametrize("unequal", [0.0, 5.0, 12.0])
def test_the_planner_keeps_the_difference_of_the_product(unequal):
    # between finished ends 90 in apart each course has two corner pieces, whose lengths are free
    wall = drawing(wall=[(0, 0, 90, 64)])
    laid = laid_out(wall, product(unequal=unequal), job(recognise__edge_kind="end"))
    halves = {}
    for piece in laid.walls[0].courses.pieces:
        if piece.unit == "corner":
            halves.setdefault(piece.stock, []).append(piece.length)
    pairs = [own for own in halves.values() if len(own) == 2]
    assert pairs and all(abs(a - b) >= unequal - 1e-6 for a, b in pairs)
    assert laid.plan.breaks == ()


# ------------------------------------------------------------------ cuts that move


@pytest.mark.parametrize(("vary", "count"), [(1.0, 0), (7.5, 0), (7.75, 1), (9.5, 2)])
def test_the_cut_moves_by_what_the_product_says(vary, count):
    # at the left end 16 and 8 1/2 in, at the right one 8 and 17 in: they move by 7 1/2 and 9 in
    moved = HALVES.relaid(product=product(vary=vary)).planned()
    told = [b for b in of_rule(moved, "L4") if b.message.code == "corner-cut-not-varied"]
    assert len(told) == count


# ------------------------------------------------------------------ other products


def test_a_column_as_wide_as_the_product_says_is_laid_in_corner_pieces_alone():
    # up to 20 in: 20 + 20 > 36, a panel for each of the 24 runs; up to 16 in a flat piece may stand
    # beside, and 24 x 20 = 480 in of pieces need 13.3 panels at least
    alone = laid_out(column(20, 48), product(column=20.0))
    assert rows(alone) == {("C20",)} and alone.plan.total == 24
    beside = laid_out(column(20, 48), product(column=16.0))
    assert 14 <= beside.plan.total < 24
    assert alone.plan.breaks == beside.plan.breaks == ()


def test_a_column_wider_than_twice_the_least_piece_is_one_all_the_same():
    # least piece 6 in: corner and flat would fit into 16 in, the rule says corner pieces alone
    laid = laid_out(column(16, 48), product(least=6.0, stagger=6.0))
    assert rows(laid) == {("C16",)}


def test_the_judge_wants_corner_pieces_alone_up_to_the_same_width():
    flat = COLUMN.relaid({("W1", 1): "0 C1< 8 F1< 16"})
    assert len(of_rule(flat.planned(), "L12")) == 1
    assert of_rule(flat.relaid(product=product(column=15.0)).planned(), "L12") == []


def test_a_column_that_no_corner_piece_is_long_enough_for_is_forced():
    # corner panel 20 in: the longest piece is 20 - 8 - 1/8 = 11 7/8 in, a face 16 in
    laid = laid_out(column(16, 24), product(length=20.0))
    narrow = [b for b in laid.plan.breaks if b.rule == "L12"]
    assert narrow and all(b.forced for b in narrow)
    assert {b.why.code for b in narrow} == {"column-wider-than-corner-piece"}


def test_a_metric_product_goes_by_its_own_millimeters():
    # panels of 900 mm, least piece 200 mm, columns up to 450 mm, saw cut 3 mm: the longest corner
    # piece is 900 - 3 - 200 = 697 mm; 450 + 3 + 450 > 900, so that a panel serves one run
    own = product(
        panel=900 * MM, height=200 * MM, least=200 * MM, stagger=200 * MM,
        unequal=25 * MM, vary=25 * MM, column=450 * MM,
    )  # fmt: skip
    assert own.longest_corner_piece(3 * MM) == pytest.approx(697 * MM)
    settings = job(plan__kerf=3 * MM)
    laid = laid_out(column(450 * MM, 1200 * MM), own, settings)
    assert {len(row) for row in rows(laid)} == {1}
    assert (laid.plan.total, laid.plan.breaks) == (24, ())
    narrower = laid_out(column(448 * MM, 1200 * MM), own, settings)  # 448 + 3 + 448 = 899 mm
    assert (narrower.plan.total, narrower.plan.breaks) == (12, ())


# ------------------------------------------------------------------ panels that are too short


def test_a_corner_panel_that_gives_no_two_pieces_is_refused():
    # 8 + 1/8 + 8 > 16
    with refused(SettingsError, match=r"corner panel of 1'-4\".* no two pieces of 8\""):
        laid_out(column(24, 48), product(length=16.0))


def test_walls_without_corners_need_no_corner_panel():
    laid = laid_out(drawing(wall=[(0, 0, 120, 24)]), product(length=16.0))
    assert laid.plan.breaks == ()


@pytest.mark.parametrize(("width", "length"), [(15.9, 36.0), (15.9, 20.0), (23.9, 20.0)])
def test_a_wall_that_no_rule_leaves_a_layout_is_laid_and_told(width, length):
    # between two finished ends: 15.9 in take no two pieces of 8 in; of corner pieces up to 11 7/8
    # in, 23.9 in take no two, and no third of 8 in beside two of 8 in
    wall = drawing(wall=[(0, 0, width, 24)])
    laid = laid_out(wall, product(length=length), job(recognise__edge_kind="end"))
    assert laid.plan.breaks
    assert {b.rule for b in laid.plan.breaks} <= {"L3", "L4", "L8"}
