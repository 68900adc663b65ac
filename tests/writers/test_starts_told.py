"""The best start and the moves that save a strip, as the workbook and the terminal tell them."""

from __future__ import annotations

import dataclasses

import openpyxl
import pytest
from takeoffs import takeoff

from dxf2veneer.cli.terminal import summary
from dxf2veneer.model import Conflict, StartOption, StartTable
from dxf2veneer.writers.workbook import write_workbook
from dxf2veneer.writers.workbook.columns import Display
from dxf2veneer.writers.workbook.course_check import move_sentence

STARTS = (
    StartTable(("W1",), (
        StartOption(0.0, 4.0, slivers=1, strips=5, ripped=9, units=42, is_present=True),
        StartOption(1.25, 5.25, slivers=0, strips=4, ripped=8, units=None, is_best=True),
    )),
    StartTable(("W2",), (StartOption(0.0, 9.0, 2, 3, 3, None, is_present=True, is_best=True,
    fits=False),)),
)  # fmt: skip
TAKEOFF = dataclasses.replace(takeoff(), starts=STARTS)

COURSES = TAKEOFF.walls[0].courses


def head(down, up, course=6):
    return Conflict("head", "W1-O1", course, 80.0, up, up < 2, 24.0, 60.0, up, down)


def test_a_head_is_lowered_onto_the_line_under_it():
    # the head lies in course 7 (index 6), 1 1/4 over its lower line and 6 3/4 under its upper one
    inches = move_sentence(head(1.25, 6.75), COURSES, Display("imperial"))
    assert (
        inches
        == 'lower this head by 1 1/4" and course 7 runs clean; or raise this head by 6 3/4" and '
        "course 8 runs clean"
    )
    assert move_sentence(head(1.25, 6.75), COURSES, Display("metric")).startswith(
        "lower this head by 32 mm and course 7 runs clean; or raise"
    )


def test_the_shorter_move_stands_first_and_none_is_nothing():
    assert move_sentence(head(7.0, 1.0), COURSES, Display("imperial")).startswith(
        'raise this head by 1" and course 8 runs clean; or lower'
    )
    least = move_sentence(head(0.02, 7.98), COURSES, Display("imperial"))
    assert 'lower this head by 1/64" and' in least


def test_a_sill_is_raised_to_the_top_of_its_course():
    # what runs clean is the course under it; in the first course it can only be lowered onto the
    # starter
    sill = Conflict("sill", "W1-O1", 3, 30.0, 6.0, False, 24.0, 60.0, 2.0, 6.0)
    assert (
        move_sentence(sill, COURSES, Display("imperial"))
        == 'raise this sill by 2" and course 4 runs clean; or lower this sill by 6" and course 3 '
        "runs clean"
    )
    first = dataclasses.replace(sill, course=0)
    assert move_sentence(first, COURSES, Display("imperial")).endswith(
        'lower this sill by 6" and it meets the starter line'
    )


def test_courses_are_told_by_the_numbers_that_walls_share():
    # two courses lie under the wall's first one on another wall of its level line
    raised = dataclasses.replace(COURSES, below=2)
    told = move_sentence(head(1.25, 6.75), raised, Display("imperial"))
    assert "course 9 runs clean; or" in told and told.endswith("course 10 runs clean")


def test_what_runs_clean_needs_no_move():
    assert (
        move_sentence(
            Conflict("top", None, 3, 32.0, 0.0, False, 0.0, 60.0, 0.0, 0.0),
            COURSES,
            Display("imperial"),
        )
        == ""
    )


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    path = tmp_path_factory.mktemp("book") / "takeoff.xlsx"
    write_workbook(TAKEOFF, path)
    return openpyxl.load_workbook(path)["Course check"]


def rows(sheet):
    """Every row's values, by the text in its first cell."""
    return [[c.value for c in row] for row in sheet.iter_rows()]


def test_the_course_check_shows_every_start_and_marks_present_and_best(sheet):
    found = rows(sheet)
    at = next(i for i, r in enumerate(found) if r[0] == "Where the courses could start")
    assert 'starter 0" to 2" above the base' in found[at + 1][0]
    titles = [str(t).replace("\n", " ") for t in found[at + 2] if t]
    assert titles[:6] == ["Group", "Walls", "Which", "In the range", "Slivers", "Start in"]
    numbers = [
        [v for v in r if v is not None and not str(v).startswith("=")]
        for r in found[at + 3 : at + 6]
    ]
    assert numbers == [
        ["1", "W1", "present", "yes", 1, 0, 4, 5, 9, 42],
        ["1", "BEST", "yes", 0, 1.25, 5.25, 4, 8],
        ["2", "W2", "present, BEST", "NO", 2, 0, 9, 3, 3],
    ]


def test_the_head_of_the_sheet_tells_of_a_better_start(sheet):
    assert sheet["A2"].value.endswith(
        "A better start exists for W1: see below, where the courses could start."
    )


def test_every_strip_has_its_move(sheet):
    at = next(c.column for c in sheet[4] if c.value == "To run clean")
    moves = [sheet.cell(r, at).value for r in range(5, 12)]
    assert (
        'raise this cap by 2 1/4" and course 10 runs clean; or lower this cap by 5 3/4" and course '
        "9 runs clean" in moves
    )
    assert sum(bool(m) for m in moves) == 4  # of seven heads, sills, tops and caps three run clean


def test_the_terminal_tells_of_a_better_start_in_one_line():
    (line,) = [text for text in summary(TAKEOFF) if text.startswith("Better start")]
    assert (
        line
        == 'Better starts: W1 1 1/4" (0 slivers instead of 1). --start best takes them; the course '
        "check shows others"
    )
    assert not [text for text in summary(takeoff()) if text.startswith("Better start")]


def test_where_slivers_are_equal_the_terminal_tells_what_is_less():
    present, best = STARTS[0].options
    table = dataclasses.replace(STARTS[0], options=(dataclasses.replace(present, slivers=0), best))
    (line,) = [
        text
        for text in summary(dataclasses.replace(TAKEOFF, starts=(table,) * 5))
        if text.startswith("Better start")
    ]
    assert "(8 pieces to rip instead of 9); W1" in line
    assert "; and 2 more groups. --start best" in line
