"""Who pays for a panel that two walls share: by the length of each wall's parts.

| 9 x 8 |   | 18 x 8 |     one panel of 36 in: with the saw 9 and 18 in come out of it
   W1         W2
"""

import pytest
from builders import PRODUCT, drawing, job

from dxf2veneer.app.laying import lay_out
from dxf2veneer.recognise import recognise


def planned(*walls):
    rules = job()
    found = recognise([drawing(wall=list(walls))], rules)
    return lay_out(found.walls, found.corners, rules, PRODUCT).plan


def test_a_panel_of_two_walls_is_shared_out_by_length():
    plan = planned((0, 0, 9, 8), (100, 0, 118, 8))
    assert plan.total == 1
    assert sorted(w.flat for w in plan.walls) == [0, 1]  # cut first for one of them
    assert [w.share for w in plan.walls] == pytest.approx([1 / 3, 2 / 3])


def test_shares_add_up_to_the_panels():
    plan = planned((0, 0, 150, 96), (200, 0, 431, 61), (500, 0, 590, 33))
    assert sum(w.share for w in plan.walls) == pytest.approx(plan.total)
