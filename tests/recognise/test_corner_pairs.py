"""Corners of the building: drawn on two elevations, counted once.

Seen from outside, a corner is the right edge of one elevation and the left edge of the next:

      A          A          B
  .---|      |---------|---.
  | W1|      |   W2    |   |     W1 right = W2 left is corner A
  '---|      |---------|---'
"""

import pytest
from builders import JOB, drawing, line, shuffled

from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say


def corners(*drawings):
    return [(c.id, c.kind, c.run, c.edges, c.tag) for c in recognise(drawings, JOB).corners]


def told(*drawings):
    return [n for n in recognise(drawings, JOB).notices]


def tagged(kind="outside_corner", first="A", second="A", height=90, **more):
    """Two walls apart, W1's right edge and W2's left edge marked and tagged."""
    return drawing(
        wall=[(0, 0, 60, 90), (100, 0, 180, height)],
        **{kind: [line(60, 0, 60, 90), line(100, 0, 100, height)]},
        texts=[(kind, first, (62, 40)), (kind, second, (95, 40))],
        **more,
    )


def test_one_tag_at_two_marks_is_one_corner():
    assert corners(tagged()) == [("C1", "outside", 90, (("W1", "right"), ("W2", "left")), "A")]
    assert told(tagged()) == []
    edges = [[e.corner for e in w.edges] for w in recognise([tagged()], JOB).walls]
    assert edges == [[None, "C1"], ["C1", None]]


def test_tags_compare_without_regard_to_case_and_spaces():
    assert len(corners(tagged(first=" a1", second="A1 "))) == 1


def test_inside_corners_pair_alike():
    assert corners(tagged("inside_corner")) == [
        ("C1", "inside", 90, (("W1", "right"), ("W2", "left")), "A")
    ]


def test_two_tags_are_two_corners_both_unpaired():
    found = corners(tagged(second="B"))
    assert [(c[2], c[3], c[4]) for c in found] == [
        (90, (("W1", "right"),), "A"),
        (90, (("W2", "left"),), "B"),
    ]
    notices = told(tagged(second="B"))
    assert [n.code for n in notices] == ["CORNER_UNPAIRED", "CORNER_UNPAIRED"]
    assert (notices[0].handle, notices[0].at_in) == ("OUTSIDE_CORNER1", (60, 45))


def test_a_tag_pairs_across_drawings():
    right = drawing(
        wall=[(0, 0, 60, 90)],
        outside_corner=[line(60, 0, 60, 90)],
        texts=[("outside_corner", "A", (63, 10))],
    )
    left = drawing(
        index=1,
        wall=[(7, 0, 70, 90)],
        outside_corner=[line(7, 0, 7, 90)],
        texts=[("outside_corner", "A", (1, 10))],
    )
    assert corners(right, left) == [("C1", "outside", 90, (("W1", "right"), ("W2", "left")), "A")]
    assert told(right, left) == []


def test_a_tag_farther_than_its_reach_is_none():
    far = drawing(
        wall=[(0, 0, 60, 90)],
        outside_corner=[line(60, 0, 60, 90)],
        texts=[("outside_corner", "A", (97, 40))],
    )
    assert corners(far)[0][4] is None  # 37 away, the reach is 36


def test_an_outside_and_an_inside_mark_of_one_tag_are_no_pair():
    mixed = drawing(
        wall=[(0, 0, 60, 90), (100, 0, 180, 90)],
        outside_corner=[line(60, 0, 60, 90)],
        inside_corner=[line(100, 0, 100, 90)],
        texts=[("outside_corner", "A", (62, 40)), ("inside_corner", "A", (95, 40))],
    )
    assert [(c[1], len(c[3])) for c in corners(mixed)] == [("outside", 1), ("inside", 1)]


def test_a_tag_at_two_right_edges_is_a_clash_and_each_counts():
    clash = drawing(
        wall=[(0, 0, 60, 90), (100, 0, 180, 80)],
        outside_corner=[line(60, 0, 60, 90), line(180, 0, 180, 80)],
        texts=[("outside_corner", "A", (62, 40)), ("outside_corner", "A", (182, 40))],
    )
    assert [c[2] for c in corners(clash)] == [90, 80]
    (notice,) = [n for n in told(clash) if n.code == "CORNER_TAG_CLASH"]
    assert "W1 right, W2 right" in say(notice.message)


def test_walls_one_above_the_other_are_one_side_of_a_corner():
    """|---.
    W2 |   |        the left elevation is drawn as a wainscot and the wall above it:
    ---|A  |A  W3   30 + 60 on the right hand, 90 on the left
    W1 |   |---'
    """
    front = drawing(
        wall=[(0, 0, 60, 30), (0, 30, 60, 90), (100, 0, 180, 90)],
        outside_corner=[line(60, 0, 60, 30), line(60, 30, 60, 90), line(100, 0, 100, 90)],
        texts=[
            ("outside_corner", "A", (62, 10)),
            ("outside_corner", "A", (62, 60)),
            ("outside_corner", "A", (95, 40)),
        ],
    )
    assert corners(front) == [
        ("C1", "outside", 90, (("W1", "right"), ("W2", "right"), ("W3", "left")), "A")
    ]
    assert told(front) == []


def test_walls_that_share_a_line_share_the_corner():
    #   .----|-------.      one mark on the common line at 60
    #   | W1 |  W2   |
    #   '----|-------'
    shared = drawing(wall=[(0, 0, 60, 90), (60, 0, 150, 90)], outside_corner=[line(60, 0, 60, 90)])
    assert corners(shared) == [("C1", "outside", 90, (("W1", "right"), ("W2", "left")), None)]
    assert told(shared) == []


@pytest.mark.parametrize(("gap", "ends"), [(0.005, [2]), (0.5, [1, 1])])
def test_edges_a_hair_apart_lie_on_one_line_and_farther_apart_do_not(gap, ends):
    #  one mark at 60 lies within the tolerance of both edges
    near = drawing(
        wall=[(0, 0, 60, 90), (60 + gap, 0, 150, 90)], outside_corner=[line(60, 0, 60, 90)]
    )
    assert [len(c[3]) for c in corners(near)] == ends


def test_walls_that_meet_in_one_point_share_no_corner():
    #            .---.
    #       .----| W2|      W1's right edge ends at 40, where W2's left edge begins
    #       | W1 '---'
    #       '----'
    steps = drawing(wall=[(0, 0, 60, 40), (60, 40, 150, 90)], outside_corner=[line(60, 0, 60, 90)])
    assert [c[3] for c in corners(steps)] == [(("W1", "right"),), (("W2", "left"),)]


def test_corners_of_two_kinds_on_one_line_are_no_pair():
    #  each mark is within 1 of one edge alone: 0.996 from its own, 1.001 from the other
    two = drawing(
        wall=[(0, 0, 60, 90), (60.005, 0, 150, 90)],
        outside_corner=[line(59.004, 0, 59.004, 90)],
        inside_corner=[line(61.001, 0, 61.001, 90)],
    )
    assert [(c[1], c[3]) for c in corners(two)] == [
        ("outside", (("W1", "right"),)),
        ("inside", (("W2", "left"),)),
    ]


def test_walls_on_one_line_in_two_drawings_do_not_share_it():
    one = drawing(wall=[(0, 0, 60, 90)], outside_corner=[line(60, 0, 60, 90)])
    two = drawing(index=1, wall=[(60, 0, 150, 90)], outside_corner=[line(60, 0, 60, 90)])
    assert [len(c[3]) for c in corners(one, two)] == [1, 1]


def test_an_unpaired_corner_counts_by_itself_and_is_told():
    alone = drawing(wall=[(0, 0, 60, 90)], outside_corner=[line(0, 0, 0, 90)])
    assert corners(alone) == [("C1", "outside", 90, (("W1", "left"),), None)]
    (notice,) = told(alone)
    assert notice.code == "CORNER_UNPAIRED"
    assert "7'-6\"" in say(notice.message)


@pytest.mark.parametrize(
    ("height", "codes"),
    [(89.5, []), (89, ["CORNER_HEIGHTS_DIFFER"]), (80, ["CORNER_HEIGHTS_DIFFER"])],
)
def test_of_edges_of_different_height_the_greater_counts(height, codes):
    assert [c[2] for c in corners(tagged(height=height))] == [90]
    assert [n.code for n in told(tagged(height=height))] == codes


def test_two_corners_of_walls_in_a_row_pair_edge_by_edge():
    #   .----|------|-----.     W2 has a corner at each side: three walls, two corners
    #   | W1 |  W2  | W3  |
    #   '----|------|-----'
    row = drawing(
        wall=[(0, 0, 60, 90), (60, 0, 150, 90), (150, 0, 200, 80)],
        outside_corner=[line(60, 0, 60, 90), line(150, 0, 150, 90)],
    )
    assert [(c[0], c[2], c[3]) for c in corners(row)] == [
        ("C1", 90, (("W1", "right"), ("W2", "left"))),
        ("C2", 90, (("W2", "right"), ("W3", "left"))),
    ]


def test_of_two_tags_beside_a_mark_the_nearer_counts_and_of_equals_the_first_in_the_alphabet():
    def tag(*texts):
        one = drawing(
            wall=[(0, 0, 60, 90)],
            outside_corner=[line(60, 0, 60, 90)],
            texts=[("outside_corner", text, at) for text, at in texts],
        )
        return corners(one)[0][4]

    assert tag(("A", (70, 40)), ("B", (65, 40))) == tag(("B", (65, 40)), ("A", (70, 40))) == "B"
    assert tag(("B", (65, 20)), ("A", (65, 60))) == tag(("A", (65, 60)), ("B", (65, 20))) == "A"
    assert tag(("  ", (61, 40)), ("B", (65, 40))) == "B"
    assert (
        tag(
            ("B", (60, 126)),
        )
        == "B"
        and tag(("B", (60, 127))) is None
    )  # 36 above its end


def test_a_tag_belongs_to_the_nearest_mark():
    ends = drawing(
        wall=[(0, 0, 60, 90)], outside_corner=[line(0, 0, 0, 90), line(60, 0, 60, 90)],
        texts=[("outside_corner", "L", (20, 40)), ("outside_corner", "R", (35, 40))],
    )  # fmt: skip
    assert [c[4] for c in corners(ends)] == ["L", "R"]


def test_both_ends_of_one_wall_are_two_corners():
    ends = drawing(wall=[(0, 0, 60, 90)], outside_corner=[line(0, 0, 0, 90), line(60, 0, 60, 70)])
    assert [(c[2], c[3]) for c in corners(ends)] == [
        (90, (("W1", "left"),)),
        (70, (("W1", "right"),)),
    ]


def test_a_corner_marked_in_two_stretches_adds_them_up():
    #  W1's right edge is marked 0..30 and 50..90 with one tag: 70 in all
    split = drawing(
        wall=[(0, 0, 60, 90)],
        outside_corner=[line(60, 0, 60, 30), line(60, 50, 60, 90)],
        texts=[("outside_corner", "A", (62, 10)), ("outside_corner", "A", (62, 70))],
    )
    assert [c[2] for c in corners(split)] == [70]


def test_order_of_entities_changes_no_corner():
    for seed in range(5):
        assert corners(shuffled(tagged(), seed)) == corners(tagged())
