"""Openings whose trim stones have no room side by side.

.--------------------.   .--------------------.      heads 8, jambs 4, sills 4
|   60 .----. 96     |   |  102 .----. 138    |      6 between the windows: the bands
|      |    |        X   X      |    |        |      56..100 and 98..142 share 98..100,
|  30  '----'        |   |      '----'        |      26..62 high
'--------------------'   '--------------------'
"""

import pytest
from builders import drawing, job

from dxf2veneer.measure import trim_notices
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say

TRIM = {"trim__head": 8.0, "trim__jambs": 4.0, "trim__sill": 4.0}
LEFT = (60, 30, 96, 54)


def notices(*windows, **trim):
    settings = job(**(trim or TRIM))
    (wall,) = recognise([drawing(wall=[(0, 0, 240, 120)], window=windows)], settings).walls
    return list(trim_notices(wall, settings.trim))


def test_two_jambs_without_room_on_a_mullion_are_told_with_their_place():
    (told,) = notices(LEFT, (102, 30, 138, 54))
    assert (told.code, told.at_in) == ("TRIM_OVERLAPS", pytest.approx((99, 44)))
    assert say(told.message) == (
        'wall W1: trim stones of W1-O1 and W1-O2 overlap by 72.00 sq in, as 6" is left between the '
        "openings; both are ordered in full"
    )


@pytest.mark.parametrize("left", [8.0, 30.0])
def test_jambs_that_fit_side_by_side_are_not_told(left):
    assert notices(LEFT, (96 + left, 30, 132 + left, 54)) == []


def test_a_sill_over_a_head_without_room_is_told_too():
    #  10 between them, 8 + 4 wanted: a strip of 2 over 36 + 2 x 4
    (told,) = notices(LEFT, (60, 64, 96, 100))
    assert told.at_in == pytest.approx((78, 61))


def test_without_trim_windows_may_stand_as_they_like():
    assert notices(LEFT, (97, 30, 133, 54), trim__head=0.0) == []


def test_three_windows_in_a_row_are_two_pairs():
    assert len(notices(LEFT, (102, 30, 138, 54), (144, 30, 180, 54))) == 2
