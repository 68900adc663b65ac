"""Parts cut from as few units as can be found.

Published instances are in test_published_packing.py. The brute force of these tests tries every way
of sharing a few parts out, and knows nothing of the code under test.
"""

from __future__ import annotations

import functools
import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dxf2veneer.planning.cutting_stock.packing import CutPart, lower_bound, pack


def plain(lengths):
    return [CutPart(float(x)) for x in lengths]


def broken_rules(parts, length, kerf, units, apart=0.0):
    """What is wrong with units: nothing, if they hold every part once and each unit keeps the
    rules."""
    wrong = []
    if sorted(i for u in units for i in u) != list(range(len(parts))):
        wrong.append("not every part once")
    for u in units:
        hands = [parts[i].hand for i in u]
        if sum(parts[i].length for i in u) + kerf * (len(u) - 1) > length + 1e-9:
            wrong.append(f"{u} is too long")
        if "left" in hands[1:] or "right" in hands[:-1]:
            wrong.append(f"{u} has a left part that is not first or a right part that is not last")
        if (
            hands[0] == "left"
            and hands[-1] == "right"
            and not may_share(parts[u[0]], parts[u[-1]], apart)
        ):
            wrong.append(f"{u} has ends too much alike")
    return wrong


def may_share(a, b, apart):
    return not (a.free and b.free) or abs(a.length - b.length) >= apart - 1e-9


def fewest(parts, length, kerf, apart=0.0):
    """The optimum, from every set of parts that fits in one unit."""

    def fits(chosen):
        left = [parts[i] for i in chosen if parts[i].hand == "left"]
        right = [parts[i] for i in chosen if parts[i].hand == "right"]
        if (
            len(left) > 1
            or len(right) > 1
            or (left and right and not may_share(left[0], right[0], apart))
        ):
            return False
        return sum(parts[i].length for i in chosen) + kerf * (len(chosen) - 1) <= length + 1e-9

    @functools.cache
    def units(rest):
        if not rest:
            return 0
        members = [i for i in range(len(parts)) if rest >> i & 1]
        first, others = members[0], members[1:]
        best = len(parts)
        for mask in range(1 << len(others)):
            chosen = [first, *(o for k, o in enumerate(others) if mask >> k & 1)]
            if fits(chosen):
                best = min(best, 1 + units(rest - sum(1 << i for i in chosen)))
        return best

    return units((1 << len(parts)) - 1)


# -------------------------------------------------------------- hand-made


def test_left_and_right_parts_share_a_unit():
    # | 20 left      |k| 15.875 right |  = 36 with a cut of 1/8: the two 20s can't share, nor two
    # lefts
    parts = [CutPart(15.875, "right"), CutPart(20, "left"), CutPart(20, "left"), CutPart(9, "left")]
    assert pack(parts, 36, 0.125) == ((1, 0), (2,), (3,))
    assert lower_bound(parts, 36, 0.125) == 3  # three left ends


def test_a_part_that_needs_no_end_lies_between_the_two():
    parts = [CutPart(12, "right"), CutPart(8), CutPart(15, "left")]
    assert pack(parts, 36, 0.5) == ((2, 1, 0),)
    assert len(pack(parts, 36, 0.51)) == 2  # 35 and two cuts of 0.51


def test_the_kerf_counts_between_parts_only():
    assert len(pack(plain([12, 12, 12]), 36, 0.0)) == 1
    assert len(pack(plain([12, 12, 12]), 36, 0.125)) == 2
    assert len(pack(plain([36, 36]), 36, 0.125)) == 2
    assert len(pack(plain([11.75, 12, 12]), 36, 0.125)) == 1


def test_rounded_off_lengths_still_fit():
    assert len(pack(plain([0.1] * 3 + [35.7]), 36, 0.0)) == 1  # 36.00000000000001 in floating point
    assert len(pack(plain([12.0000000003] * 3), 36, 0.0)) == 1
    assert len(pack(plain([12.000001] * 3), 36, 0.0)) == 2


def test_matching_beats_taking_the_longest_right_part_each_time():
    # lefts 20, 12; rights 24, 15: 20 fits with 15 alone, 12 with both; two units
    parts = [CutPart(12, "left"), CutPart(20, "left"), CutPart(15, "right"), CutPart(24, "right")]
    assert pack(parts, 36, 0.0) == ((0, 3), (1, 2))


def test_corner_pieces_of_a_unit_differ_unless_one_spans_its_run():
    alike = [CutPart(16, "left"), CutPart(16, "right")]
    assert len(pack(alike, 36, 0.125)) == 1
    assert len(pack(alike, 36, 0.125, apart=1.0)) == 2
    assert len(pack([CutPart(16, "left"), CutPart(17, "right")], 36, 0.125, apart=1.0)) == 1
    assert (
        len(pack([CutPart(16, "left", free=False), CutPart(16, "right")], 36, 0.125, apart=1.0))
        == 1
    )


def test_a_least_difference_calls_for_a_changed_pair():
    # best fit gives 18 the 17, and 16 is left with 16.5; changed over, 18 + 16.5 and 16 + 17 do
    parts = [CutPart(18, "left"), CutPart(16, "left"), CutPart(17, "right"), CutPart(16.5, "right")]
    assert pack(parts, 36, 0.0, apart=1.0) == ((0, 3), (1, 2))


def test_nothing_to_cut():
    assert pack([], 36, 0.125) == ()
    assert lower_bound([], 36, 0.125) == 0


def test_a_part_longer_than_the_unit_is_refused():
    with pytest.raises(ValueError, match=r"a part of 36\.5 in is longer than the panel of 36 in"):
        pack([CutPart(36.5)], 36, 0.0)


@pytest.mark.parametrize(
    ("lengths", "capacity", "bound", "why"),
    [
        ([9, 9, 9, 9], 36, 1, "36 of 36"),
        ([9, 9, 9, 9, 1], 36, 2, "37 of 36"),
        ([19, 19, 19], 36, 3, "no two share, though 57 would fit in 2"),
        (
            [19, 19, 17.5, 17.5, 17.5],
            36,
            4,
            "none of 17.5 fits beside a 19; three of them need two",
        ),
    ],
)
def test_lower_bound_by_length_and_large_parts(lengths, capacity, bound, why):
    assert lower_bound(plain(lengths), capacity, 0.0) == bound, why


def test_lower_bound_counts_the_kerf():
    # 12 and a cut three times: 36.375 > 36 + 0.125
    assert lower_bound(plain([12] * 3), 36, 0.125) == 2


def test_lower_bound_by_pairs_of_hands():
    # lefts 30, 30, 10; rights 20, 20, 5: the 30s fit with the 5 alone; 2 pairs, so 6 - 2 = 4 units
    lefts = [CutPart(x, "left") for x in (30, 30, 10)]
    rights = [CutPart(x, "right") for x in (20, 20, 5)]
    assert lower_bound([*lefts, *rights], 36, 0.0) == 4
    assert len(pack([*lefts, *rights], 36, 0.0)) == 4


def test_lower_bound_counts_long_parts_of_no_hand_beside_the_pairs():
    # with a = 10: the 28 leaves 8 and shares with no left or right part; those need two units: 3
    ends = [CutPart(20, "left"), CutPart(10, "left"), CutPart(20, "right"), CutPart(10, "right")]
    assert lower_bound([*ends, CutPart(28)], 36, 0.0) == 3
    assert (
        lower_bound([*ends, CutPart(28), CutPart(28), CutPart(28)], 36, 0.0) == 5
    )  # 144 in would go into 4
    # two of 15 share: they are no longer than half a unit
    assert lower_bound([CutPart(30, "left"), CutPart(15), CutPart(15)], 36, 0.0) == 2


# ------------------------------------------------------------------- laws

PARTS = st.lists(
    st.builds(
        CutPart,
        st.integers(16, 72).map(lambda n: n / 2),
        st.sampled_from(["left", "right", "any"]),
        st.booleans(),
    ),
    max_size=8,
)


@settings(deadline=None)
@given(PARTS, st.sampled_from([0.0, 0.125, 0.5]), st.sampled_from([0.0, 1.0]))
def test_small_jobs_need_no_more_than_the_optimum(parts, kerf, apart):
    units = pack(parts, 36, kerf, apart=apart)
    optimum = fewest(parts, 36, kerf, apart)
    assert broken_rules(parts, 36, kerf, units, apart) == []
    assert len(units) == optimum
    assert lower_bound(parts, 36, kerf) <= optimum


@settings(deadline=None)
@given(
    st.lists(
        st.builds(CutPart, st.floats(1, 12), st.sampled_from(["left", "right", "any"])), max_size=8
    )
)
def test_many_short_parts_of_any_length_in_one_unit(parts):
    units = pack(parts, 36, 0.1)
    optimum = fewest(parts, 36, 0.1)
    assert broken_rules(parts, 36, 0.1, units) == []
    assert lower_bound(parts, 36, 0.1) <= optimum <= len(units)


@settings(deadline=None)
@given(PARTS)
def test_mirrored_parts_need_as_many_units(parts):
    other = {"left": "right", "right": "left", "any": "any"}
    mirrored = [CutPart(p.length, other[p.hand], p.free) for p in parts]
    assert len(pack(parts, 36, 0.125, apart=1.0)) == len(pack(mirrored, 36, 0.125, apart=1.0))


# ------------------------------------------------------------- large jobs


def large(count, share_any, seed):
    chance = random.Random(seed)
    hands = [
        ("any" if chance.random() < share_any else chance.choice(["left", "right"]))
        for _ in range(count)
    ]
    return [CutPart(chance.uniform(8, 36), hand) for hand in hands]


@pytest.mark.parametrize("share_any", [0.0, 0.1, 1.0])
def test_five_thousand_parts_in_good_time(share_any):
    parts = large(5000, share_any, seed=5)
    before = time.process_time()
    units = pack(parts, 36, 0.125)
    assert time.process_time() - before < 5  # about one second, with room for a busy machine
    assert broken_rules(parts, 36, 0.125, units) == []
    assert len(units) <= 1.02 * lower_bound(parts, 36, 0.125)


def test_left_and_right_parts_alone_meet_the_bound():
    parts = large(2000, 0.0, seed=7)
    assert len(pack(parts, 36, 0.125, effort=0)) == lower_bound(parts, 36, 0.125)


def test_the_same_parts_give_the_same_units():
    parts = large(200, 0.3, seed=11)
    assert pack(parts, 36, 0.125) == pack(list(parts), 36, 0.125)
