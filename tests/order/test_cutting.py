"""Runs cut from pieces of one length. L = 120 and no cut's width unless said."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.order.stock_lengths import RunCutting, cut_runs


@pytest.mark.parametrize(
    ("runs", "joint", "kerf", "bought", "placed"),
    [
        ([], 0.0, 0.0, 0, 0),
        ([120.0], 0.0, 0.0, 1, 1),
        ([120.1], 0.0, 0.0, 2, 2),
        ([60.0, 60.0], 0.0, 0.0, 1, 2),  # both from one piece
        ([60.0, 60.0], 0.0, 0.125, 2, 2),  # the saw cut is in the way
        ([136.0, 60.0], 0.0, 0.125, 2, 3),  # 120 + 16, and 60: the rests from one piece
        ([80.0, 80.0, 40.0, 40.0], 0.0, 0.0, 2, 4),  # 80 + 40 twice
        ([40.0, 40.0, 80.0, 80.0], 0.0, 0.0, 2, 4),  # the long ones first, whichever stands first
        ([238.0], -2.0, 0.0, 2, 2),  # two pieces that lap by 2 cover 238
        ([238.5], -2.0, 0.0, 3, 3),
        ([240.25], 0.25, 0.0, 2, 2),  # two stones and the joint between them
        ([240.2], 0.25, 0.0, 2, 2),  # 120, a joint, and 119.95
        ([240.75], 0.25, 0.0, 3, 3),  # 120 + 0.25 + 120 + 0.25 and a strip of 0.25
    ],
)
def test_runs_on_paper(runs, joint, kerf, bought, placed):
    cutting = cut_runs(runs, length_in=120.0, joint_in=joint, kerf_in=kerf)
    assert (cutting.bought, cutting.placed) == (bought, placed)


def test_the_bound_stands_beside():
    # 70 + 70 + 70 make 210, less than two pieces; but no two fit in one
    assert cut_runs([70.0, 70.0, 70.0], length_in=120.0) == RunCutting(
        bought=3, placed=3, whole=0, bound=2
    )


@given(st.lists(st.floats(1.0, 500.0), max_size=12))
def test_bought_pieces_are_long_enough_and_not_more_than_one_for_each_placed(runs):
    cutting = cut_runs(runs, length_in=120.0, kerf_in=0.125)
    assert cutting.bought * 120.0 >= math.fsum(runs) - 1e-5 * len(runs)
    assert cutting.bound <= cutting.bought <= cutting.placed
    assert cutting.whole + cutting.cut == cutting.placed
