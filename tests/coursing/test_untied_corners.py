"""Walls that meet at a corner with bases at different heights. The panel is 8 in high; sizes are
our own.

    W1        |      W2
0 .-----------|                base of W2 lower by 8, 16 or 20
              |------------.
"""

import pytest
from builders import JOB, drawing, line

from dxf2veneer.app.laying import lay_out
from dxf2veneer.config.product import load_product
from dxf2veneer.recognise import recognise
from dxf2veneer.wording import say


def told(lower, *, aside=0.0, level=False, corner="outside_corner"):
    """The notices about W1, 200 x 100, and W2 beside it (or so far above it), whose base is
    lower."""
    second = (200, aside - lower, 380, aside + 100)
    marks = {corner: [line(200, 0, 200, 100)] if not aside else []}
    if level:
        marks["level"] = [line(-20, 40, 420, 40)]
    found = recognise([drawing(wall=[(0, 0, 200, 100), second], **marks)], JOB)
    laid = lay_out(found.walls, found.corners, JOB, load_product())
    return [say(n.message) for n in laid.notices if n.code == "CORNER_UNTIED"]


def test_one_course_apart_both_may_carry_the_corner_piece():
    (message,) = told(8.0)
    assert message == (
        'W1 and W2 meet at corner C1, but the first course of W2 is drawn 8" lower '
        "and no level line ties the two: "
        "as drawn, both may have their corner piece in the same course"
    )


@pytest.mark.parametrize(
    ("lower", "miss"), [(20.0, '4"'), (3.0, '3"'), (-13.0, '3"'), (17.0, '1"')]
)
def test_apart_by_no_whole_number_of_courses_the_lines_miss_each_other(lower, miss):
    (message,) = told(lower)
    assert message.endswith(f"as drawn, their course lines miss each other by {miss}")
    assert ("higher" if lower < 0 else "lower") in message


@pytest.mark.parametrize("lower", [0.0, 16.0, -16.0, 32.0])
def test_two_courses_apart_they_run_on_and_take_turns(lower):
    assert told(lower) == []


@pytest.mark.parametrize("lower", [8.0, 20.0])
def test_a_level_line_on_both_ties_them(lower):
    assert told(lower, level=True) == []


def test_at_a_bay_course_lines_count_alone_and_elevations_above_one_another_are_not_compared():
    assert told(8.0, corner="bay") == []  # a mitre at every course: no turns to take
    assert told(20.0, corner="bay")[0].endswith('miss each other by 4"')
    assert told(8.0, aside=500.0) == []
