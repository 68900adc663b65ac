"""Where on the sheet an elevation is drawn changes nothing, neither far away nor beyond the origin.

W1 (0..200 x 0..100)                          W2 (260..380 x 0..90)
====================== cap                   .--------------.
|    .---.           |A                     A|      W2      |
|    |win|   .---.   |                       |   .---.      |
| FRONT      |   |   |                       |   |   |      |
'------------'---'---'                       '--------------'
- - - - - - - - - - - - - - level line, drawn a little out of level - - - -
"""

import dataclasses

import pytest
from builders import JOB, drawing, line

from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

FRONT = drawing(
    wall=[(0, 0, 200, 100), (260, 0, 380, 90), (20, 60, 40, 80),
          [(400, 0), (460, 0), (400, 50), (460, 50)]],
    window=[(60, 30, 96, 54), (80, 40, 110, 60), (190, 20, 215, 44), (300, 95, 320, 120)],
    opening=[(140, 0, 176, 60), (290, 1, 320, 80)],
    outside_corner=[line(200.5, 0, 199.5, 100), line(260, 0, 260, 90),
                    line(380, 30, 380, 70), line(120, 10, 120, 50)],
    inside_corner=[line(0, 0, 0, 40)],
    cap=[line(0, 99.5, 200, 100.5), line(10, 20, 20, 60), line(10, 130, 90, 130)],
    level=[line(-10, 11, 390, 13), line(-10, 20, 390, 30), line(600, 5, 700, 5)],
    texts=[
        ("name", "FRONT", (5, 5)), ("name", "D1", (150, 20)), ("name", "SIDE", (370, 80)),
        ("name", "NOTE", (230, 50)), ("name", "B", (5, 9)),
        ("outside_corner", "A", (205, 40)), ("outside_corner", "A", (250, 60)),
        ("inside_corner", "K", (-6, 10)),
    ],
)  # fmt: skip


def moved(one, x, y):
    """The drawing with all outlines and texts elsewhere."""
    shapes = tuple(dataclasses.replace(s, path=s.path.moved(x, y)) for s in one.shapes)
    labels = tuple(dataclasses.replace(t, at=(t.at[0] + x, t.at[1] + y)) for t in one.labels)
    return dataclasses.replace(one, shapes=shapes, labels=labels)


def facts(one, x=0.0, y=0.0):
    """What is recognised, with places counted from (x, y)."""

    def at(px, py):
        return round(px - x, 6), round(py - y, 6)

    found = recognise([one], JOB)
    walls = [
        (
            w.id, w.name, w.handles, at(*w.box[:2]), at(*w.box[2:]), at(x, w.level_y)[1],
            [(e.side, at(e.x, e.y0), at(e.x, e.y1), e.kind, e.tag, e.corner) for e in w.edges],
            [(at(c.x0, c.y), at(c.x1, c.y)) for c in w.caps],
            [
                (o.id, o.kind, o.name, o.touches_base, at(*o.box[:2]), round(o.region.area, 6))
                for o in w.openings
            ],
        )
        for w in found.walls
    ]  # fmt: skip
    told = [(n.code, say(n.message), n.layer, n.handle, at(*n.at_in)) for n in found.notices]
    return walls, [(c.id, c.kind, round(c.run, 6), c.edges, c.tag) for c in found.corners], told


def test_what_is_recognised_where_it_is_drawn_at_the_origin():
    walls, corners, told = facts(FRONT)
    assert [(w[1], w[5]) for w in walls] == [("FRONT", 12), ("SIDE", 12)]
    assert corners[0] == ("C1", "inside", 40, (("W1", "left"),), "K")
    assert corners[1] == ("C2", "outside", 100, (("W1", "right"), ("W2", "left")), "A")
    assert corners[2] == ("C3", "outside", 40, (("W2", "right"),), None)
    assert sorted({code for code, *_ in told}) == [
        "CAP_MARK_UNUSED", "CORNER_HEIGHTS_DIFFER", "CORNER_MARK_UNUSED", "CORNER_UNPAIRED",
        "DOOR_ASSUMED", "LEVEL_UNUSED", "NAMES_SEVERAL", "NAME_UNUSED", "NESTED_WALL",
        "OPENINGS_OVERLAP", "OPENING_OUTSIDE_WALL", "OPENING_PARTLY_OUTSIDE", "SELF_CROSSING",
    ]  # fmt: skip


@pytest.mark.parametrize("place", [(1024, 512), (-4096, 256), (128, -2048), (-512, -512)])
def test_the_same_is_recognised_anywhere(place):
    assert facts(moved(FRONT, *place), *place) == facts(FRONT)
