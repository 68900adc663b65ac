"""How proposals are compared with the truth, on shapes small enough to count squares.

  0   2   4       10
2 .---.---.-------.
  | a | b |   c   |
0 '---'---'-------'
"""

import pytest
from shapely.geometry import Polygon, box

from corpus.matching import greedy, iou, net_area, score, shape_of

A, B, C = box(0, 0, 2, 2), box(2, 0, 4, 2), box(4, 0, 10, 2)


def square(x0, y0, x1, y1):
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]]


def data(views=(), walls=(), openings=(), unit="mm"):
    return {
        "unit": unit,
        "views": [
            {"id": f"V{i}", "kind": kind, "title": "", "box": box_}
            for i, (kind, box_) in enumerate(views)
        ],
        "walls": [{"id": f"W{i}", "view": "V0", "outline": o} for i, o in enumerate(walls)],
        "openings": [
            {"id": f"O{i}", "wall": wall, "kind": kind, "outline": o}
            for i, (wall, kind, o) in enumerate(openings)
        ],
    }


@pytest.mark.parametrize(
    ("a", "b", "value"),
    [
        (A, A, 1.0),
        (A, B, 0.0),  # a shared edge has no area
        (A, box(1, 0, 3, 2), 2 / 6),
        (A, box(0, 0, 10, 2), 4 / 20),
        (Polygon(), A, 0.0),
    ],
)
def test_intersection_over_union(a, b, value):
    assert iou(a, b) == pytest.approx(value)


def test_a_crossed_outline_is_mended_and_a_line_is_empty():
    assert shape_of([[0, 0], [2, 2], [2, 0], [0, 2]]).area == pytest.approx(2.0)  # two triangles
    assert shape_of([[0, 0], [2, 2], [0, 0]]).is_empty


def test_the_best_pair_is_taken_first_and_each_shape_once():
    near, exact = box(0.0, 0.0, 2.2, 2.0), box(0, 0, 2, 2)
    assert greedy([A], [near, exact], 0.5) == [(0, 1, pytest.approx(1.0))]
    assert [(i, j) for i, j, _ in greedy([A, B], [B, A], 0.5)] == [(0, 1), (1, 0)]
    assert greedy([A, A], [A], 0.5) == [(0, 0, pytest.approx(1.0))]


def test_pairs_below_the_threshold_or_of_another_kind_are_none():
    assert greedy([A], [box(0, 0, 4, 2)], 0.6) == []
    assert greedy([A], [A], 0.6, lambda i, j: False) == []


def test_openings_are_taken_off_the_walls_of_a_view_only():
    #  two walls, in each an opening; the second lies in another view
    walls = [square(0, 0, 10, 4), square(100, 0, 110, 4)]
    holes = [("W0", "window", square(1, 1, 3, 3)), ("W1", "door", square(101, 0, 102, 2))]
    drawing = data(walls=walls, openings=holes)
    assert net_area(drawing, box(-1, -1, 11, 5)) == pytest.approx(40 - 4)
    assert net_area(drawing, box(99, -1, 111, 5)) == pytest.approx(40 - 2)


def test_a_perfect_proposal_has_no_fault():
    truth = data(
        [("elevation", [0, 0, 10, 4])], [square(0, 0, 10, 4)], [("W0", "door", square(1, 0, 2, 2))]
    )
    result = score(truth, truth)
    assert result.faults == []
    for what in (
        "views",
        "elevations",
        "walls",
        "openings",
        "opening kinds",
        "unit right",
        "net area",
    ):
        assert (result.recall(what), result.precision(what)) == (1.0, 1.0)
    assert result.recall("unit wrong") == result.recall("unit silent") == 0.0


def test_every_sort_of_fault_is_counted_and_told():
    truth = data(
        [("elevation", [0, 0, 10, 4]), ("plan", [20, 0, 30, 8])],
        [square(0, 0, 10, 4)],
        [("W0", "door", square(1, 0, 2, 2)), ("W0", "window", square(4, 1, 6, 3))],
    )
    proposal = data(
        [("elevation", [0, 0, 10, 4]), ("elevation", [20, 0, 30, 8])],
        [square(0, 0, 10, 4), square(20, 0, 30, 8)],
        [("W0", "window", square(1, 0, 2, 2))],
        unit="m",
    )
    result = score(truth, proposal)
    assert (result.recall("views"), result.precision("views")) == (0.5, 0.5)
    assert (result.recall("walls"), result.precision("walls")) == (1.0, 0.5)
    assert (result.recall("openings"), result.precision("openings")) == (0.5, 1.0)
    assert result.recall("opening kinds") == 0.0
    assert (result.recall("unit right"), result.recall("unit wrong")) == (0.0, 1.0)
    assert result.recall("net area") == 0.0  # 38 proposed, 34 true
    told = "\n".join(result.faults)
    for part in (
        "view missed: V1 plan",
        "view not there: V1",
        "wall not there: W1",
        "opening missed: O1",
        "kind: O0",
        "unit is mm",
        "net area of V0 is 1.118",
    ):
        assert part in told


def test_silence_about_the_unit_is_not_wrong():
    result = score(data(), data(unit=None))
    assert [result.hits[f"unit {what}"] for what in ("right", "wrong", "silent")] == [0, 0, 1]


def test_sums_add_up():
    truth = data(walls=[square(0, 0, 10, 4)])
    total = score(truth, truth)
    total.add(score(truth, data()))
    assert (total.true["walls"], total.proposed["walls"], total.hits["walls"]) == (2, 1, 1)
    assert total.precision("openings") is None
