"""How colors lie, on walls laid by hand (rule L22): shares, pieces that touch, clusters.

| 7 |    8    |    9    |   10    |     courses of 8, panels of 36; 2, 5, 7 and 9 are tan
|   4   |    5    |    6    |  7  |
|    1    |    2    |    3    | 4 |
0        36        72       108  120
"""

from __future__ import annotations

import dataclasses

import pytest
from builders import PRODUCT, job
from hand_plans import BOND, NO_KERF, Hand, bare_wall

from dxf2veneer.config.blend import Blend, Color, as_wall_shares
from dxf2veneer.verify.blend import blend_notices, spread_of

MIXED = dataclasses.replace(PRODUCT, blend=Blend((Color("Buff", 60.0), Color("Tan", 40.0))))


def seen(hand: Hand, tan: str, rules=NO_KERF):
    """The spread where the named units are tan and all others buff."""
    planned = hand.planned()
    units = tuple(
        dataclasses.replace(u, color="Tan" if u.id in tan.split() else "Buff")
        for u in planned.plan.units
    )
    plan = dataclasses.replace(planned.plan, units=units)
    return spread_of(planned.walls, plan, rules, MIXED), planned.walls


def test_pieces_that_touch_and_what_hangs_together():
    # 9 pairs side by side and 7 over each of two courses; 2 lies under 5, and 5 under 9
    spread, _ = seen(BOND, "F2 F5 F7 F9")
    assert spread.pairs == 23
    assert (spread.touching, spread.own, spread.largest) == (2, 0, 3)
    assert spread.chance == pytest.approx(23 * 0.4**2)


def test_shares_of_the_face():
    # tan: 36 + 36 + 36 and 24 + 12 of panel 7, 144 of 360 in
    spread, _ = seen(BOND, "F2 F5 F7 F9")
    tan = next(w for w in spread.walls if w.color == "Tan")
    assert (tan.share, tan.laid, tan.area, tan.off) == pytest.approx((0.4, 0.4, 144 * 8, 0.0))


def test_how_far_a_color_is_ahead_along_the_wall():
    # in inches of panel, tan less 0.4 of all, from the left by the pieces' middles: 7 | 7.2;
    # 4, 1, 8 | -31.2; 5, 2, 9 | 33.6, the most; up the wall -12 and 0
    spread, _ = seen(BOND, "F2 F5 F7 F9")
    assert spread.most_ahead == pytest.approx(33.6 / 36.0)


def test_a_wall_that_is_off_by_more_than_a_panel_is_told():
    # tan: 5 panels of 10 where 4 are wanted, then 5 1/3 with 12 of panel 4
    spread, walls = seen(BOND, "F2 F5 F8 F9 F10")
    assert spread.most_off == pytest.approx(1.0)
    assert list(blend_notices(spread, walls)) == []
    spread, walls = seen(BOND, "F1 F2 F5 F6 F8 F9")
    told = list(blend_notices(spread, walls))
    assert [n.code for n in told] == ["BLEND_UNEVEN"] * 2
    assert told[1].message["panels"] == pytest.approx(2.0)


def test_two_pieces_of_one_panel_that_touch_are_told_apart():
    #   |    1    |    3    |     the panel of 12 and 24 lies over itself
    #   |  1 |    2    |
    wall = bare_wall("W1", (0, 0, 48, 16), "butt butt")
    rows = {("W1", 0): "0 F1< 12 F2 48", ("W1", 1): "0 F1> 24 F3< 48"}
    spread, _ = seen(Hand((wall,), rows, job=NO_KERF), "F1")
    assert (spread.touching, spread.own) == (1, 1)


def test_pieces_round_a_corner_touch():
    # W1 carries the corner piece; W2's first panel butts against its back
    walls = (
        bare_wall("W1", (0, 0, 56, 8), "butt outside", corners="- A"),
        bare_wall("W2", (100, 0, 136, 8), "outside butt", corners="A -"),
    )
    rows = {("W1", 0): "0 F1 36 C1> 56", ("W2", 0): "100 F2 136"}
    spread, _ = seen(Hand(walls, rows, job=NO_KERF), "C1 F2")
    assert (spread.pairs, spread.touching) == (2, 1)


def test_a_job_gives_one_wall_other_shares():
    rules = job(plan__blend=as_wall_shares([{"wall": "w1", "color": "tan", "share": 100}]))
    spread, _ = seen(BOND, "F2 F5 F7 F9", rules)
    assert [w.share for w in spread.walls] == [0.0, 1.0]


def test_a_product_of_one_color_has_no_spread():
    planned = BOND.planned()
    assert spread_of(planned.walls, planned.plan, NO_KERF, PRODUCT) is None
