"""Walls that are drawn alike are laid alike: one picture serves them all.

  W1            W2            W3             W4
.--------.    .--------.    .--------.    .--------.
| []   |^|    | []   |^|    |^|   [] |    | []   |^|     W2 is W1 again, W3 its mirror image,
'------' '    '------' '    ' '------'    |------' '     W4 an inch wider
"""

import pytest
from builders import JOB, PRODUCT, drawing, job, line
from narrow_walls import narrow_walls

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.job import with_settings
from dxf2veneer.recognise import recognise

AT = (0, 300, 600, 900)


def front(*, wide=(200, 200, 200, 201), mirrored=(False, False, True, False), **more):
    """Walls 100 in high, a window 30 to 66 in from one end, a door from 120 to 156."""
    walls, windows, doors = [], [], []
    for x, w, is_mirrored in zip(AT, wide, mirrored, strict=False):
        walls.append((x, 0, x + w, 100))
        for role, (a, y0, b, y1) in ((windows, (30, 32, 66, 72)), (doors, (120, 0, 156, 84))):
            a, b = (w - b, w - a) if is_mirrored else (a, b)
            role.append((x + a, y0, x + b, y1))
    return drawing(wall=walls, window=windows, door=doors, **more)


def laid_out(drawn, settings=JOB):
    found = recognise([drawn], settings)
    return lay_out(found.walls, found.corners, settings, PRODUCT)


def joints(wall):
    """Course, kind and ends of each piece, places from the wall's left edge."""
    x0 = wall.wall.box[0]
    return [
        (p.course, p.number, p.unit, p.kind, round(p.x0 - x0, 6), round(p.x1 - x0, 6))
        for p in wall.courses.pieces
    ]


def likes(laid):
    return [count.like for count in laid.plan.walls]


def test_walls_drawn_alike_have_the_same_joints_and_others_their_own():
    laid = laid_out(front())
    assert likes(laid) == [None, "W1", None, None]
    first, again, mirrored, wider = map(joints, laid.walls)
    assert first == again
    assert first not in (mirrored, wider)
    assert not [b for b in laid.plan.breaks if not b.forced]


def test_the_setting_lays_each_for_itself():
    laid = laid_out(front(wide=(200,) * 4, mirrored=(False,) * 4), job(plan__alike=False))
    assert likes(laid) == [None] * 4
    assert len({tuple(joints(w)) for w in laid.walls}) > 1
    assert laid.plan.alike_over == 0


def test_the_price_of_laying_alike_is_told():
    drawn = front(wide=(200,) * 4, mirrored=(False,) * 4)
    alike = laid_out(drawn).plan
    apart = laid_out(drawn, job(plan__alike=False)).plan
    assert likes(laid_out(drawn)) == [None, "W1", "W1", "W1"]
    assert alike.alike_over == max(0, alike.total - apart.total)
    assert alike.total <= 1.03 * apart.total


@pytest.mark.parametrize(("offcuts", "panels"), [("job", 2), ("wall", 4)])
def test_alike_walls_share_panels_where_offcuts_may_leave_their_wall(offcuts, panels):
    # 17 + 1/8 + 17 in are within a panel of 36 in
    walls = [(100 * i, 0, 100 * i + 17, 8) for i in range(4)]
    laid = laid_out(drawing(wall=walls), job(plan__offcuts=offcuts))
    assert likes(laid) == [None, "W1", "W1", "W1"]
    assert (laid.plan.total, laid.plan.alike_over) == (panels, 0)


def test_alike_walls_cost_what_hands_ask_for():
    # 45 in is a piece and another, each with a factory end in the joint: the first pieces keep the
    # right ends of their panels, the last ones the left. Alike no two pieces share a panel: first
    # and last are more than 36 in together, and of two firsts each wants the right end: 8 panels.
    # Apart two walls are 36 + 9 and two 9 + 36: a first and a last piece of 9 in share one: 6.
    walls = [(100 * i, 0, 100 * i + 45, 8) for i in range(4)]
    assert laid_out(drawing(wall=walls), job(plan__alike=False)).plan.total == 6
    alike = laid_out(drawing(wall=walls)).plan
    assert (alike.total, alike.alike_over) == (8, 2)


@pytest.mark.parametrize(
    "change",
    [
        {"cap": [line(300, 100, 500, 100)]},
        {"fixture": [(480, 40, 488, 52)]},
        {"outside_corner": [line(500, 0, 500, 100)]},
    ],
)
def test_walls_that_differ_in_cap_fixtures_or_corners_are_not_alike(change):
    assert likes(laid_out(front(**change))) == [None] * 4


def bays(faces):
    """Bays one beside the other: a wall, a face, a wall, and room between."""
    walls, marks, texts = [], [], []
    for n, face in enumerate(faces):
        x = 500 * n
        a, b = x + 120, x + 120 + face
        walls += [(x, 0, x + 100, 48), (a, 0, b, 48), (b + 20, 0, b + 100, 48)]
        marks += [line(at, 0, at, 48) for at in (x + 100, a, b, b + 20)]
        places = (("P", x + 98), ("P", a + 2), ("Q", b - 2), ("Q", b + 22))
        texts += [("bay", f"{tag}{n}", (at, 10)) for tag, at in places]
    return drawing(wall=walls, bay=marks, texts=texts)


def test_bays_are_alike_as_a_whole():
    laid = laid_out(bays((11, 11)))
    assert likes(laid) == [None, None, None, "W1", "W2", "W3"]
    assert [*map(joints, laid.walls[:3])] == [*map(joints, laid.walls[3:])]
    assert laid.plan.breaks == ()


def test_a_wall_beside_another_bay_is_another_wall():
    # the left walls are drawn alike; the faces beside them are 11 and 40 in wide
    assert likes(laid_out(bays((11, 40)))) == [None] * 6


def test_faces_of_a_column_are_alike_by_themselves():
    boxes = [(i * 60, 0, i * 60 + 16, 64) for i in range(4)]
    marks = [line(x, 0, x, 64) for b in boxes for x in (b[0], b[2])]
    texts = [("outside_corner", f"K{(i - 1) % 4}", (b[0] - 2, 10)) for i, b in enumerate(boxes)]
    texts += [("outside_corner", f"K{i}", (b[2] + 2, 10)) for i, b in enumerate(boxes)]
    laid = laid_out(drawing(wall=boxes, outside_corner=marks, texts=texts))
    assert likes(laid) == [None, "W1", "W1", "W1"]
    assert len({tuple(joints(w)) for w in laid.walls}) == 1
    assert (laid.plan.total, laid.plan.alike_over) == (16, 0)


def test_walls_in_another_order_are_alike_all_the_same():
    found = recognise([front(wide=(200,) * 4, mirrored=(False,) * 4)], JOB)
    laid = lay_out(found.walls[::-1], found.corners, JOB, PRODUCT)
    assert likes(laid) == [None, "W4", "W4", "W4"]
    assert len({tuple(joints(w)) for w in laid.walls}) == 1


@pytest.mark.parametrize("worth", [6.0, 100.0])
def test_walls_that_need_not_be_alike_cost_no_more_than_alike(worth):
    """A column of the benchmark whose faces for themselves took 42 panels where it takes 41 alike:
    a plan with all faces alike is one of those that there are where they need not be."""
    drawn = narrow_walls("columns", 8)
    settings = job(plan__cuts_per_panel=worth)
    free = laid_out(drawn, with_settings(settings, plan__alike=False)).plan
    alike = laid_out(drawn, settings).plan
    assert free.total + free.cuts / worth <= alike.total + alike.cuts / worth
