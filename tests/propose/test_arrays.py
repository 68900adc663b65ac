"""Questions about many boxes and numbers at once, against the same asked one by one."""

from __future__ import annotations

import numpy as np
import pytest

from dxf2veneer.propose.arrays import among, distinct, distinct_of
from dxf2veneer.propose.scene import Entities, Entity
from dxf2veneer.propose.views.boxes import boxes_of_segments, may_touch


def boxes(chance, count, size):
    corners = chance.uniform(-100.0, 100.0, (count, 2))
    return np.hstack([corners, corners + chance.uniform(0.0, size, (count, 2))])


def touches(a, b):
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


@pytest.mark.parametrize("seed", range(20))
def test_no_box_that_touches_is_missed(seed):
    chance = np.random.default_rng(seed)
    many, few = boxes(chance, 400, 9.0), boxes(chance, 1 + seed, 1.0)
    may = may_touch(many, few)
    truly = np.array([any(touches(a, b) for b in few) for a in many])
    assert may[truly].all()


def test_far_boxes_are_told_from_near_ones():
    #   [a]            [b]     others: two corners far apart
    #                          c lies between them, d beside a
    others = np.array([(0.0, 0.0, 1.0, 1.0), (1000.0, 0.0, 1001.0, 2.0)])
    many = np.array([(500.0, 0.0, 501.0, 1.0)] * 400 + [(1.0, 0.5, 3.0, 0.6)])
    assert may_touch(many, others).tolist() == [False] * 400 + [True]


def test_touching_sides_count():
    others = np.array([(2.0, 3.0, 2.0, 3.0)])
    assert may_touch(np.array([(0.0, 0.0, 2.0, 3.0)]), others).tolist() == [True]
    assert may_touch(np.array([(2.5, 0.0, 3.0, 3.0)]), others).tolist() == [False]


def test_boxes_of_segments():
    rows = np.array([(5.0, 1.0, 2.0, 7.0)])
    assert boxes_of_segments(rows).tolist() == [[2.0, 1.0, 5.0, 7.0]]


@pytest.mark.parametrize("seed", range(5))
def test_distinct_numbers(seed):
    numbers = np.random.default_rng(seed).integers(0, 30, 40 * seed)
    assert distinct(numbers).tolist() == sorted(set(numbers.tolist()))
    assert distinct_of(numbers, 30).tolist() == sorted(set(numbers.tolist()))


def test_words_among_names():
    words = np.array(["ARC", "LINE", "arc"], object)
    assert among(words, ("ARC", "TEXT")).tolist() == [True, False, False]
    assert among(words, ()).tolist() == [False, False, False]


def test_a_table_of_entities_is_a_sequence_of_them():
    one = Entity("LINE", "A", "1F", None, -1, False, (0.0, 0.0, 3.0, 1.0), 7, "CONTINUOUS")
    other = Entity("ARC", "B", "20", "DOOR", 4, True, (1.0, 0.0, 2.0, 1.0), 1, "DASHED")
    table = Entities.of([one, other])
    assert list(table) == [one, other]
    assert table[1] == other
    assert list(table[:1]) == [one]
    assert table == Entities.of([one, other])
    assert table != Entities.of([other, one])
    assert len(Entities.of([])) == 0
