"""The workbook's sheets of the course plan, over the job of laid_out.py: every piece, unit, bound
and broken rule.

Numbers are those of its sketch; LibreOffice Calc recalculates the sums (sheets.py).
"""

from __future__ import annotations

import dataclasses
import re

import openpyxl
import pytest
from builders import as_written
from laid_out import LEDGE, NEAR, RAKE, laid_out
from sheets import (
    TOLERANCE,
    cells,
    column,
    needs_office,
    recalculated,
    total,
    written,
    written_cuts,
)
from takeoffs import EVIL_TEXTS, takeoff

from dxf2veneer.cli.terminal import summary
from dxf2veneer.config.job import with_settings
from dxf2veneer.config.printing import CHECKS, FIRST, PLAN
from dxf2veneer.model import Piece
from dxf2veneer.order.experience import estimate
from dxf2veneer.wording import say
from dxf2veneer.writers.report.page import report_text
from dxf2veneer.writers.workbook import CUT_SHEETS
from dxf2veneer.writers.workbook.columns import Display
from dxf2veneer.writers.workbook.rule_check import BROKEN, FORCED
from dxf2veneer.writers.workbook.shapes import shape_lines

INCHES = Display("imperial")
CUT_LIST = (
    "Wall",
    "Course",
    "Piece",
    "From left",
    "What",
    "From panel",
    "Cut length",
    "Rip to",
    "Left",
    "Right",
    "Glued",
    "Shape",
)


@pytest.fixture(scope="module")
def book(tmp_path_factory):
    return openpyxl.load_workbook(written(tmp_path_factory.mktemp("plan"), laid_out()))


@pytest.fixture(scope="module")
def cuts(tmp_path_factory):
    return openpyxl.load_workbook(written_cuts(tmp_path_factory.mktemp("cuts"), laid_out()))


@pytest.fixture(scope="module")
def reckoned(tmp_path_factory):
    folder = tmp_path_factory.mktemp("reckoned")
    return recalculated(written(folder, laid_out()), folder)


def table(sheet, titles, *, header=4):
    """The rows of a table as tuples of the columns named, down to its end."""
    at = [column(sheet, title, header) for title in titles]
    found = []
    for row in range(header + 1, sheet.max_row + 1):
        if sheet.cell(row, 1).value in (None, "Total"):
            break
        found.append(tuple(sheet.cell(row, n).value for n in at))
    return found


def header_of(sheet, title):
    """The row of the table whose first column is headed by ``title``,
    below the sheet's first table.
    """
    return next(r for r in range(5, sheet.max_row + 1) if sheet.cell(r, 1).value == title)


def with_plan(made, **changes):
    return dataclasses.replace(made, plan=dataclasses.replace(made.plan, **changes))


# --------------------------------------------------------------- the sheets


def test_a_plan_adds_its_sheets_after_the_summary_and_piece_lists_ready_to_print(book, cuts):
    shown = tuple(sheet.title for sheet in book if sheet.sheet_state == "visible")
    assert shown == (FIRST, *PLAN, *CHECKS)
    assert tuple(cuts.sheetnames) == CUT_SHEETS
    for sheet in (*(book[title] for title in PLAN), *cuts):
        assert (
            sheet.freeze_panes.endswith("5")
            and sheet.print_title_rows == "$4:$4"
            and sheet.auto_filter.ref
        )
        assert sheet.page_setup.orientation == "landscape" and sheet.page_setup.fitToWidth == 1


def test_an_estimate_by_area_has_none_of_them_and_says_what_it_is(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path))["Summary"]
    assert not set(sheet.parent.sheetnames) & set(PLAN)
    assert sheet["A9"].value == "Panels, by area"
    assert sheet["D9"].value.startswith(
        "ESTIMATE: net area / 2 sq ft of a panel's face, as plans of such walls took; 94 to 108. "
        "No panel was laid out"
    )


def test_every_piece_stands_in_the_cut_list_from_the_bottom_up(cuts):
    rows = table(cuts["Cut list"], CUT_LIST)
    assert rows == [
        ("W1", 1, 1, 0, "whole", "F1", 36, None, "factory", "factory", "no", None),
        ("W1", 1, 2, 36, "whole", "F2", 36, None, "factory", "factory", "no", None),
        ("W1", 1, 3, 72, "corner, right hand", "C1", 24, None, "cut", "finished", "no",
        "waste 12 in"),
        ("W1", 2, 1, 0, "crosscut", "F3", 24, None, "cut", "factory", "no",
        "rest to W2 course 1 piece 2"),
        ("W1", 2, 2, 24, "notched, ripped", "F4", 36, None, "factory", "factory", "no",
        "cut out 6 to 18 in from its left, 0 to 6 1/2 in up"),
        ("W1", 2, 3, 60, "whole", "F5", 36, None, "factory", "factory", "no", None),
        ("W1", 3, 1, 0, "ripped", "F6", 8, 4, "cut", "factory", "yes",
        "rest to W2 course 3 piece 1; waste 4 in"),
        ("W1", 3, 2, 8, "ripped", "F7", 36, 4, "factory", "factory", "yes", None),
        ("W1", 3, 3, 44, "ripped", "F8", 36, 4, "factory", "factory", "yes", None),
        ("W1", 3, 4, 80, "corner, right hand, ripped", "C2", 16, 4, "cut", "finished", "yes",
        "rest to W2 course 2 piece 1; waste 1 1/8 in"),
        ("W2", 1, 1, 0, "whole", "F9", 36, None, "factory", "factory", "no", None),
        ("W2", 1, 2, 36, "crosscut", "F3", 11.875, None, "factory", "cut", "no",
        "is the rest of W1 course 2 piece 1"),
        ("W2", 1, 3, 47.875, "corner, right hand", "C3", 16.125, None, "cut", "finished", "no",
        "waste 19 7/8 in"),
        ("W2", 2, 1, 0, "corner, left hand", "C2", 18.875, None, "finished", "cut", "no",
        "is the rest of W1 course 3 piece 4"),
        ("W2", 2, 2, 18.875, "notched", "F10", 36, None, "factory", "factory", "no",
        "hole 11 1/8 to 15 1/8 in from its left, 2 to 6 in up"),
        ("W2", 2, 3, 54.875, "corner, right hand", "C4", 9.125, None, "cut", "finished", "no",
        "waste 26 7/8 in"),
        ("W2", 3, 1, 0, "raked", "F6", 24, 4, "factory", "cut", "yes",
         "slope: 0 in from its left 4 in up, 24 in from its left 0 in up\nis the rest of W1 "
         "course 3 piece 1"),
    ]  # fmt: skip
    sheet = cuts["Cut list"]
    assert sheet.cell(21, column(sheet, "Angle")).value == pytest.approx(RAKE)
    assert sheet.cell(16, column(sheet, "Cut length")).number_format == "# ??/??"  # shown as 11 7/8


def test_a_course_begins_with_a_strong_line_and_what_is_glued_stands_out(cuts):
    sheet = cuts["Cut list"]
    begun = [
        r for r in range(5, 22) if getattr(sheet.cell(r, 2).border.top, "style", None) == "medium"
    ]
    assert begun == [8, 11, 15, 18, 21]
    glued = column(sheet, "Glued")
    assert {sheet.cell(r, glued).value for r in range(5, 22) if sheet.cell(r, glued).font.bold} == {
        "yes"
    }


def test_every_unit_stands_in_the_stock_with_its_parts_in_order(cuts):
    sheet = cuts["Stock"]
    rows = {
        r[0]: r[1:]
        for r in table(
            sheet, ("Panel", "Kind", "Parts from", "Their lengths", "In pieces", "Saw cuts")
        )
    }
    assert set(rows) == {u.id for u in laid_out().plan.units}
    assert rows["F3"] == (
        "flat",
        "W2 course 1 piece 2\nW1 course 2 piece 1",
        "11 7/8\n24",
        35.875,
        0.125,
    )
    assert rows["C2"] == (
        "corner",
        "W2 course 2 piece 1\nW1 course 3 piece 4",
        "18 7/8\n16",
        34.875,
        0.25,
    )
    assert list(rows)[:6] == [
        "F3",
        "F6",
        "C1",
        "C2",
        "C3",
        "C4",
    ]  # those cut stand before those laid whole


def test_every_bound_stands_with_its_reason(book):
    sheet, plan = book["Panels"], laid_out().plan
    header = next(
        r
        for r in range(header_of(sheet, "Total"), sheet.max_row)
        if sheet.cell(r, 2).value == "Bound by"
    )
    rows = [
        tuple(sheet.cell(r, n).value for n in range(1, 5)) for r in range(header + 1, header + 6)
    ]
    assert rows[:4] == [
        (kind, {"length": "length", "hands": "hand of the ends"}[b.by], b.units, say(b.why))
        for kind, count in (("flat", plan.flat), ("corner", plan.corner))
        for b in count.bounds
    ]
    assert rows[4][:3] == ("both", "all of it", 13)


def test_every_rule_that_does_not_hold_stands_with_place_and_reason_the_broken_first(book):
    titles = (
        "Code",
        "Rule",
        "Wall",
        "Course",
        "From wall's left",
        "Above starter",
        "What",
        "Reason",
        "State",
        "x",
        "y",
    )
    first, second = table(book["Rule check"], titles)
    assert first == (
        "L3",
        "stagger",
        "W2",
        2,
        54.875,
        8,
        say(NEAR.message),
        None,
        BROKEN,
        254.875 * 25.4,
        8 * 25.4,
    )
    assert second == (
        "L24", "least strip", "W1", 2, 36, 15.25, say(LEDGE.message), say(LEDGE.why),
        FORCED, 36, 15.25,
    )  # fmt: skip


def test_only_places_that_the_check_found_stand_there_forced_where_it_says_so(tmp_path):
    # the plan names the course's strip in words of its own, and one that the check did not find;
    # of two strips found the check calls the one in course 3 broken: a reason makes nothing forced
    known = dataclasses.replace(
        LEDGE, at=(30.0, 16.0), message=as_written("a strip lower than the least")
    )
    alone = dataclasses.replace(LEDGE, course=0, why=as_written("the wall leaves no more"))
    own = dataclasses.replace(LEDGE, course=2, forced=False)
    made = with_plan(laid_out(), exceptions=(known, alone), breaks=(LEDGE, own, NEAR))
    sheet = openpyxl.load_workbook(written(tmp_path, made))["Rule check"]
    assert table(sheet, ("Code", "Course", "State")) == [
        ("L24", 3, BROKEN),
        ("L3", 2, BROKEN),
        ("L24", 2, FORCED),
    ]


def test_a_plan_that_breaks_no_rule_says_so(tmp_path):
    made = openpyxl.load_workbook(
        written(tmp_path, with_plan(laid_out(), breaks=(), exceptions=()))
    )
    assert made["Rule check"]["A5"].value == "none"
    assert any(
        c.value == "None: an independent check went over the whole plan and found no place."
        for r in made["Panels"]
        for c in r
    )


def test_a_plan_without_a_piece_still_makes_a_workbook(tmp_path):
    none = dataclasses.replace(
        laid_out().plan.flat,
        units=0,
        pieces=0,
        pieces_length=0.0,
        cuts=0,
        left=0,
        right=0,
        bounds=(),
    )
    made = with_plan(
        laid_out(), units=(), flat=none, corner=none, walls=(), bound=0, breaks=(), exceptions=()
    )
    walls = tuple(
        dataclasses.replace(w, courses=dataclasses.replace(w.courses, pieces=(), courses=()))
        for w in made.walls
    )
    made = dataclasses.replace(made, walls=walls)
    book, cuts = map(
        openpyxl.load_workbook, (written(tmp_path, made), written_cuts(tmp_path, made))
    )
    assert (
        book["Panels"]["A5"].value,
        cuts["Cut list"]["A5"].value,
        cuts["Stock"]["A5"].value,
    ) == ("no walls", "no pieces", "no panels")


def test_metric_lengths_are_whole_millimeters(tmp_path):
    sheet = openpyxl.load_workbook(written_cuts(tmp_path, laid_out(display="metric")))["Cut list"]
    row = table(sheet, ("From left", "Cut length", "Shape"))[11]
    assert row == (914, 302, "is the rest of W1 course 2 piece 1")  # 36 and 11.875 in, at 25.4
    assert table(sheet, ("Shape",))[9] == ("rest to W2 course 2 piece 1; waste 29 mm",)  # 1.125 in


def test_grounds_above_and_below_a_slot_are_one_part_of_their_panel(tmp_path):
    # W2 course 2: the panel F10 split by a slot from 11 to 12; the unit names the lower ground,
    # piece 2
    made = laid_out()
    front, side = made.walls
    low, panel, high = side.courses.pieces[3:6]
    split = (
        *side.courses.pieces[:3],
        low,
        dataclasses.replace(panel, y1=11.0, holes=()),
        dataclasses.replace(panel, y0=12.0, holes=(), number=3),
        dataclasses.replace(high, number=4),
        side.courses.pieces[6],
    )
    side = dataclasses.replace(side, courses=dataclasses.replace(side.courses, pieces=split))
    sheet = openpyxl.load_workbook(
        written_cuts(tmp_path, dataclasses.replace(made, walls=(front, side)))
    )["Cut list"]
    assert table(sheet, ("Piece", "From panel", "Shape"))[14:16] == [
        (2, "F10", None),
        (3, "F10", "one part of the panel with piece 2"),
    ]


@pytest.mark.parametrize("text", EVIL_TEXTS)
def test_texts_of_the_plan_never_run(tmp_path, text):
    broken = dataclasses.replace(NEAR, message=as_written(text), why=as_written(text))
    made = openpyxl.load_workbook(written(tmp_path, with_plan(laid_out(), breaks=(broken,))))
    begun = (
        "=SUM(",
        "=SUMIFS(",
        "=COUNTIF(",
        "=COUNTIFS(",
        "=IF(",
        "='Walls'!",
        "='Panels'!",
        "=ROUND(",
        "=ROUNDUP(",
    )
    formulas = [c.value for c in cells(made) if c.data_type == "f"]
    assert [
        f for f in formulas if not (f.startswith(begun) or (f[1].isalpha() and f[2].isdigit()))
    ] == []
    row = table(made["Rule check"], ("Code", "What", "Reason"))[0]
    assert row[0] == "L3" and row[1] == row[2] and row[1].strip()


# ------------------------------------------------------------------- shapes


def piece(outline, holes=()):
    return Piece(
        0, 10.0, 46.0, 8.0, 16.0, "flat", "factory", "factory", False, False, "F1", outline, holes
    )


@pytest.mark.parametrize(
    ("outline", "told"),
    [
        ((), []),
        # a step at the lower right: 36 x 8, and 10 x 3 off
        (((10, 8), (36, 8), (36, 11), (46, 11), (46, 16), (10, 16)),
        ["cut out 26 to 36 in from its left, 0 to 3 in up"]),
        # a rake over its right half
        (((10, 8), (46, 8), (46, 12), (28, 16), (10, 16)),
        ["slope: 18 in from its left 8 in up, 36 in from its left 4 in up"]),
        # a gable's peak: two slopes, each told
        (((10, 8), (46, 8), (28, 16)), [
            "slope: 0 in from its left 0 in up, 18 in from its left 8 in up",
            "slope: 18 in from its left 8 in up, 36 in from its left 0 in up",
        ]),
        # a stepped notch is no rectangle
        (((10, 8), (20, 8), (20, 10), (24, 10), (24, 12), (46, 12), (46, 16), (10, 16)),
         ["cut out within 10 to 36 in from its left, 0 to 4 in up: trace it from the overlay"]),
    ],
)  # fmt: skip
def test_what_is_cut_off_a_piece_is_told_from_its_lower_left(outline, told):
    assert shape_lines(piece(outline), INCHES) == told


def test_many_holes_are_traced():
    holes = tuple(
        ((x, 10.0), (x + 1, 10.0), (x + 1, 11.0), (x, 11.0)) for x in (12.0, 16.0, 20.0, 24.0, 28.0)
    )
    assert shape_lines(piece((), holes), INCHES) == ["5 cuts: trace them from the overlay"]


@pytest.mark.parametrize(
    ("inches", "imperial", "metric"),
    [
        (0.0, "0 in", "0 mm"),
        (11.875, "11 7/8 in", "302 mm"),
        (36.0, "36 in", "914 mm"),
        (0.53, "1/2 in", "13 mm"),
        (-1.25, "-1 1/4 in", "-32 mm"),
    ],
)
def test_lengths_read_as_on_a_tape(inches, imperial, metric):
    assert (INCHES.tape(inches), Display("metric").tape(inches)) == (imperial, metric)


# ------------------------------------------------------------- recalculated


@needs_office
def test_panels_by_wall_equal_the_plan(reckoned):
    sheet, plan = reckoned["Panels"], laid_out().plan
    rows = table(
        sheet,
        (
            "Wall",
            "Flat",
            "Corner",
            "Panels in all",
            "Lower",
            "Above",
            "Pieces",
            "Cross-",
            "Waste",
            "By area",
            "Plan minus",
        ),
    )
    by_area = laid_out().estimate.walls
    for row, count, own in zip(rows, plan.walls, by_area, strict=True):
        units = count.flat + count.corner
        expected = (
            count.flat,
            count.corner,
            units,
            count.bound,
            units - count.bound,
            count.pieces,
            count.cuts,
        )
        assert row[:8] == (count.wall, *expected)
        assert row[8:] == pytest.approx(
            (count.waste, own.panels, units - own.panels), abs=TOLERANCE
        )
    assert [
        total(sheet, t)
        for t in ("Flat", "Corner", "Panels in all", "Lower", "Above", "Pieces", "Cross-")
    ] == [10, 4, 14, 13, 1, 17, 8]
    assert total(sheet, "Waste") == pytest.approx(1 - (1842 + 1056) / (14 * 288), abs=TOLERANCE)
    assert (
        total(sheet, "By area") == 12
    )  # 2,898 x 1.1 / 288 = 11.07, rounded up once; wall by wall it would be 8 + 5


@needs_office
def test_counts_by_kind_and_rule_are_the_plans(reckoned):
    sheet = reckoned["Panels"]
    kinds = table(
        sheet,
        ("Kind", "Length", "Panels", "Pieces", "Cross-", "Lower", "Above", "Left", "Right"),
        header=header_of(sheet, "Kind"),
    )
    assert kinds == [
        ("flat", 355.875, 10, 12, 3, 10, 0, 2, 2),
        ("corner", 84.125, 4, 5, 5, 4, 0, 1, 4),
    ]
    rules = table(
        sheet, ("Code", "Rule", "Places", "Forced", "Broken"), header=header_of(sheet, "Code")
    )
    assert rules == [("L24", "least strip", 1, 1, 0), ("L3", "stagger", 1, 0, 1)]


@needs_office
def test_stock_adds_up(tmp_path):
    sheet = recalculated(written_cuts(tmp_path, laid_out()), tmp_path)["Stock"]
    units = laid_out().plan.units
    waste = dict(table(sheet, ("Panel", "Waste with")))
    assert waste == pytest.approx({u.id: u.waste for u in units}, abs=TOLERANCE)
    assert [
        total(sheet, t) for t in ("Length", "No. of", "In pieces", "Saw cuts", "Waste with")
    ] == [504, 17, 440, 1, 64]


@needs_office
@pytest.mark.parametrize("display", ["imperial", "metric"])
def test_the_summary_shows_units_bound_and_waste_at_a_glance(tmp_path, display):
    made = laid_out(display=display)
    book = recalculated(written(tmp_path, made), tmp_path)
    sheet = book["Summary"]
    assert [sheet[f"{c}9"].value for c in "ACEG"] == [
        "Flat panels",
        "Corner panels",
        "Lower bound",
        "Waste by layout",
    ]
    assert [sheet[f"{c}10"].value for c in "ACEG"] == pytest.approx(
        [10, 4, 13, made.waste], abs=TOLERANCE
    )
    assert [sheet[f"{c}11"].value for c in "CEG"] == [14, 1, made.estimate.panels]
    assert [
        c.coordinate for c in cells(book) if c.data_type == "e" or str(c.value)[:4] == "Err:"
    ] == []


@needs_office
def test_the_estimate_by_area_is_reckoned_from_the_net_area(tmp_path):
    # net 178.68 sq ft on two walls with openings, 2 sq ft a panel: 89.34, and 1.10 of it is 98.27
    sheet = recalculated(written(tmp_path), tmp_path)["Summary"]
    assert sheet["C9"].value == takeoff().estimate.panels == 99


# ----------------------------------------------------------------- terminal


def test_the_terminal_reports_panels_bound_waste_and_rules():
    told = "\n".join(summary(laid_out()))
    assert (
        "Panels: 10 flat and 4 corner, 14 in all; no layout can use fewer than 13. Waste by layout "
        "28.1%; by area 12 (as plans of such walls took; 11 to 13)" in told
    )
    assert (
        "Pieces: 17, 8 crosscuts; rules of laying at 1 place (stagger) broken, at 1 place "
        "(least strip) forced: see sheet Rule check" in told
    )


def test_the_terminal_says_that_panels_are_by_area():
    told = "\n".join(summary(takeoff()))
    assert (
        "Panels: about 99 by area, flat and corner (as plans of such walls took; 94 to 108): an "
        "estimate, nothing was laid out" in told
    )


def test_every_count_by_area_names_the_scrap_in_force(tmp_path):
    # a number whose name says 10% beside a job of 20% would be ordered by
    made = dataclasses.replace(
        laid_out(),
        job=with_settings(laid_out().job, order__scrap=20.0),
        estimate=estimate(laid_out().walls, laid_out().product, 20.0),
    )
    for takeoff_ in (made, dataclasses.replace(made, plan=None)):
        text = "\n".join([*summary(takeoff_), report_text(takeoff_)])
        book = openpyxl.load_workbook(written(tmp_path, takeoff_))
        text += "\n".join(str(c.value) for c in cells(book))
        assert "20%" in text and not re.search(r"(?<![\d.])10 ?%", text)
