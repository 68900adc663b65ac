"""The workbook: safe texts, live sums held against the result by a spreadsheet program, stable
bytes.

LibreOffice Calc recalculates (sheets.py).
"""

from __future__ import annotations

import dataclasses
import math
import re
import xml.etree.ElementTree as ElementTree
import zipfile

import openpyxl
import pytest
from sheets import TOLERANCE, beside, cells, column, needs_office, recalculated, total, written
from takeoffs import EVIL_NAME, EVIL_TEXTS, takeoff

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.printing import CHECKS, FIRST
from dxf2veneer.model import Totals
from dxf2veneer.textio.escaping import for_cell
from dxf2veneer.wording.measures import feet_inches
from dxf2veneer.writers.result import result_dict
from dxf2veneer.writers.workbook.columns import Display

SQUARE_METERS = 0.09290304  # in a square foot; NIST SP 811 App. B.8


def apart():
    """The takeoff with each notice a fact of its own, so that each text is a row."""
    made = takeoff()
    notices = tuple(dataclasses.replace(n, layer=f"{n.layer}-{n.handle}") for n in made.notices)
    return dataclasses.replace(made, notices=notices)


# ------------------------------------------------------------------ texts


def test_only_our_own_formulas_are_formulas(tmp_path):
    book = openpyxl.load_workbook(written(tmp_path))
    formulas = [c.value for c in cells(book) if c.data_type == "f"]
    assert formulas
    begun = ("=SUM(", "=SUMIFS(", "=COUNTIF(", "=IF(", "='Walls'!", "=ROUND(", "=ROUNDUP(")
    assert [
        f for f in formulas if not (f.startswith(begun) or (f[1].isalpha() and f[2].isdigit()))
    ] == []


@pytest.mark.parametrize("text", [EVIL_NAME, "=1+1", "+x", "@y", "-3", "\t=1", "\n=2", "\n=3"])
def test_a_text_that_looks_like_a_formula_is_stored_as_text(tmp_path, text):
    book = openpyxl.load_workbook(written(tmp_path, apart()))
    found = [c for c in cells(book) if c.value == text]
    assert found
    assert all(c.data_type == "s" and c.quotePrefix for c in found)


def test_what_a_cell_cannot_hold_is_written_out():
    assert for_cell("bell \x07 and \x00 nul") == r"bell \x07 and \x00 nul"
    assert for_cell("a\r\nb\rc") == "a\nb\nc"
    assert for_cell("M\udc81uer") == r"M\udc81uer"
    assert for_cell("\ufffe\uffffx") == r"\ufffe\uffffx"
    # checks.md, Spreadsheets: a cell's text has at most 32,767 characters
    assert len(for_cell("x" * 40_000)) == 32_767


def test_text_that_spells_an_escape_stays_what_it_says():
    # OOXML string escapes, from memory: _x0041_ is read as the letter A. LibreOffice reads _x005F_
    # as the underscore
    assert for_cell("_x0041_") == "_x005F_x0041_"
    assert for_cell("a_x_b") == "a_x_b"


@pytest.mark.parametrize("text", ["#N/A", "#REF!", "12", "2026-03-01", "TRUE"])
def test_a_text_never_turns_into_a_number_or_an_error(tmp_path, text):
    made = takeoff()
    wall, *rest = made.walls
    wall = dataclasses.replace(wall, wall=dataclasses.replace(wall.wall, name=text))
    sheet = openpyxl.load_workbook(
        written(tmp_path, dataclasses.replace(made, walls=(wall, *rest)))
    )["Walls"]
    cell = sheet.cell(5, column(sheet, "Name"))
    with zipfile.ZipFile(tmp_path / "takeoff.xlsx") as file:
        sheet_xml = file.read("xl/worksheets/sheet2.xml").decode()
    assert f'r="{cell.coordinate}"' in sheet_xml
    kind = sheet_xml.split(f'r="{cell.coordinate}"')[1].split(">")[0]
    assert 't="s"' in kind or 't="inlineStr"' in kind


def test_every_part_of_the_file_is_sound_xml(tmp_path):
    with zipfile.ZipFile(written(tmp_path)) as file:
        for name in file.namelist():
            ElementTree.fromstring(file.read(name))


# ------------------------------------------------------------- the sheets


def test_sheets_stand_in_order_and_are_ready_to_print(tmp_path):
    book = openpyxl.load_workbook(written(tmp_path))
    shown = [sheet for sheet in book if sheet.sheet_state == "visible"]
    assert tuple(sheet.title for sheet in shown) == (FIRST, *CHECKS)
    for sheet in shown:
        assert (
            sheet.print_area
            and sheet.page_setup.fitToWidth == 1
            and sheet.sheet_properties.pageSetUpPr.fitToPage
        )
        assert sheet.oddFooter.right.text == "Page &P of &N"
        if sheet.title != "Summary":
            assert sheet.freeze_panes.endswith("5") and sheet.print_title_rows == "$4:$4"
    assert book["Summary"].page_setup.fitToHeight == 1


def test_an_ampersand_in_the_name_is_no_code_of_the_footer(tmp_path):
    # header and footer codes, from memory, not checked: && prints one ampersand, &P the page
    named = dataclasses.replace(
        takeoff(), job=with_settings(takeoff().job, job__name="Hall & Porch &P")
    )
    sheet = openpyxl.load_workbook(written(tmp_path, named))["Walls"]
    assert sheet.oddFooter.left.text == "Hall && Porch &&P"


def test_notices_of_one_cause_are_one_row_with_their_number_and_places(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path))["Notices"]
    at = next(r for r in range(5, sheet.max_row + 1) if sheet.cell(r, 2).value == "ENTITY_UNUSABLE")
    assert sheet.cell(at, column(sheet, "Times")).value == len(EVIL_TEXTS)
    further = sheet.cell(at, column(sheet, "Where else")).value.split("; ")
    assert [text.split(",")[0] for text in further] == [
        f"handle {0x50 + n:X}" for n in range(1, len(EVIL_TEXTS))
    ]


def test_all_notices_are_listed_the_gravest_first(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path, apart()))["Notices"]
    levels = [sheet.cell(r, 1).value for r in range(5, sheet.max_row + 1)]
    assert levels == ["ERROR", *["WARNING"] * (2 + len(EVIL_TEXTS)), "note"]
    x = sheet.cell(6, column(sheet, "x"))
    assert x.value == pytest.approx(
        420 * 25.4
    )  # the drawing is in millimeters, and so is its CAD program


def test_a_sliver_is_marked_by_a_word(tmp_path):
    sheet = openpyxl.load_workbook(written(tmp_path))["Course check"]
    at = column(sheet, "Sliver")
    assert [sheet.cell(r, at).value for r in range(5, 12)].count("SLIVER") == 1


def test_a_takeoff_without_walls_still_makes_a_workbook(tmp_path):
    empty = dataclasses.replace(
        takeoff(), walls=(), corners=(), notices=(), assumptions=(), totals=Totals.of(())
    )
    book = openpyxl.load_workbook(written(tmp_path, empty))
    assert book["Walls"]["A5"].value == "no walls" and book["Notices"]["A5"].value == "none"


# ------------------------------------------------------------------ bytes


def test_two_writes_give_the_same_bytes(tmp_path, monkeypatch):
    first = written(tmp_path).read_bytes()
    assert written(tmp_path).read_bytes() == first
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    later = written(tmp_path)
    assert later.read_bytes() != first
    with zipfile.ZipFile(later) as file:
        assert {i.date_time for i in file.infolist()} == {(2023, 11, 14, 22, 13, 20)}
        assert file.read("docProps/core.xml").count(b"2023-11-14T22:13:20Z") == 2


# ----------------------------------------------------------- recalculated


@needs_office
@pytest.mark.parametrize("display", ["imperial", "metric"])
def test_every_total_equals_the_result(tmp_path, display):
    made = takeoff(display=display)
    book = recalculated(written(tmp_path, made), tmp_path)
    expected = result_dict(made)["totals"]
    area, run = (SQUARE_METERS, 0.0254) if display == "metric" else (1.0, 1 / 12)
    errors = [
        (c.parent.title, c.coordinate, c.value)
        for c in cells(book)
        if c.data_type == "e" or str(c.value)[:4] == "Err:"
    ]
    assert errors == []

    walls, trim, summary = book["Walls"], book["Trim"], book["Summary"]
    areas = {
        "Gross": "gross",
        "Openings": "opening",
        "Deducted": "deducted",
        "Trim bands": "trim",
        "Cap": "cap",
        "Net": "net",
    }
    for title, key in areas.items():
        assert total(walls, title) == pytest.approx(
            expected[f"{key}_area_sqft"] * area, abs=TOLERANCE
        ), title
    for title, key in {
        "Starter": "starter",
        "Base": "base",
        "Cap run": "cap",
        "Rake": "rake",
    }.items():
        assert total(walls, title) == pytest.approx(
            expected[f"{key}_run_in"] * run, abs=TOLERANCE
        ), title
    for title, key in {"Head": "head", "Jambs": "jamb", "Sill": "sill"}.items():
        assert total(trim, title) == pytest.approx(
            expected[f"trim_{key}_in"] * run, abs=TOLERANCE
        ), title

    on_summary = {"Gross": "gross", "Openings, all": "opening", "Openings deducted": "deducted",
                  "Trim bands": "trim", "Cap": "cap", "Net": "net"}  # fmt: skip
    for label, key in on_summary.items():
        assert beside(summary, label, "A", step=2) == pytest.approx(
            expected[f"{key}_area_sqft"] * area, abs=TOLERANCE
        )
    runs = {"Outside corners": "outside_corner_run", "Inside corners": "inside_corner_run",
        "Finished ends": "end_run",
            "Starter": "starter_run", "Base": "base_run", "Cap": "cap_run", "Rake": "rake_run",
            "Trim at heads": "trim_head", "Trim at jambs": "trim_jamb",
            "Trim at sills": "trim_sill"}  # fmt: skip
    for label, key in runs.items():
        assert beside(summary, label, "E", after=9, step=2) == pytest.approx(
            expected[f"{key}_in"] * run, abs=TOLERANCE
        )
    assert [summary[f"{c}6"].value for c in "ACEG"] == pytest.approx(
        [
            expected["net_area_sqft"] * area,
            expected["outside_corner_run_in"] * run,
            expected["inside_corner_run_in"] * run,
            (expected["trim_head_in"] + expected["trim_jamb_in"] + expected["trim_sill_in"]) * run,
        ],
        abs=TOLERANCE,
    )


@needs_office
def test_every_wall_and_drawing_equals_the_result(tmp_path):
    made = takeoff()
    book = recalculated(written(tmp_path), tmp_path)
    walls, summary = book["Walls"], book["Summary"]
    for row, wall in enumerate(result_dict(made)["walls"], 5):
        for title, key in {"Openings": "opening", "Deducted": "deducted", "Net": "net"}.items():
            value = walls.cell(row, column(walls, title)).value
            assert value == pytest.approx(wall[f"{key}_area_sqft"], abs=TOLERANCE)
    header = next(r for r in range(1, summary.max_row) if summary.cell(r, 1).value == "Drawing")
    for row, wall in enumerate(result_dict(made)["walls"], header + 1):  # a wall in each drawing
        assert summary[f"E{row}"].value == 1
        assert summary[f"F{row}"].value == pytest.approx(wall["gross_area_sqft"], abs=TOLERANCE)
        assert summary[f"G{row}"].value == pytest.approx(wall["net_area_sqft"], abs=TOLERANCE)


@needs_office
def test_notices_are_counted_by_the_sheet(tmp_path):
    summary = recalculated(written(tmp_path), tmp_path)["Summary"]
    counts = [beside(summary, word, "A", step=2) for word in ("ERROR", "WARNING", "note")]
    assert counts == [1, 2 + len(EVIL_TEXTS), 1]


@needs_office
def test_a_corrected_opening_corrects_wall_and_summary(tmp_path):
    path = written(tmp_path)
    book = openpyxl.load_workbook(path)
    sheet = book["Openings"]
    sheet.cell(7, column(sheet, "Deducted")).value = "yes"  # the vent of W2, 1 sq ft
    sheet.cell(5, column(sheet, "Area")).value = 25.0  # the door of W1, 20 sq ft as drawn
    book.save(path)
    after = recalculated(path, tmp_path)
    expected = result_dict(takeoff())
    walls = after["Walls"]
    net = [walls.cell(r, column(walls, "Net")).value for r in (5, 6)]
    was = [w["net_area_sqft"] for w in expected["walls"]]
    assert net == pytest.approx([was[0] - 5.0, was[1] - 1.0], abs=TOLERANCE)
    assert after["Summary"]["A6"].value == pytest.approx(
        expected["totals"]["net_area_sqft"] - 6.0, abs=TOLERANCE
    )


@needs_office
def test_readings_say_what_feet_and_inches_say(tmp_path):
    # the sheet reads lengths by a formula, the rest of the tool by units.feet_inches
    values = [
        0.0,
        0.5,
        6.0,
        6.5,
        11.99,
        12.0,
        18.0625,
        36.8125,
        -3.25,
        -0.01,
        1 / 64,
        40 * math.pi,
        1403.3,
        119.96875 + 0.001,
    ]
    book = openpyxl.Workbook()
    for row, inches in enumerate(values, 1):
        book.active.cell(row, 1, inches / 12)
        book.active.cell(row, 2, "=" + Display("imperial").reading(f"A{row}"))
        book.active.cell(row, 3, inches)
        book.active.cell(row, 4, "=" + Display("imperial").reading(f"C{row}", per_inch=1))
    book.save(tmp_path / "readings.xlsx")
    sheet = recalculated(tmp_path / "readings.xlsx", tmp_path).active
    for row, inches in enumerate(values, 1):
        assert (sheet.cell(row, 2).value, sheet.cell(row, 4).value) == (feet_inches(inches),) * 2
    assert sheet["B8"].value == "3'-0 13/16\""


def wide(text):
    """How wide a text of feet and inches stands in bold, in digits: signs take about 0.6 of one,
    the cell keeps 0.7 free.
    """
    digits = sum(c.isdigit() for c in text)
    return 1.1 * digits + 0.6 * (len(text) - digits) + 0.7


def test_a_column_of_feet_and_inches_holds_a_run_of_two_miles():
    # 9999'-11 15/16": ten digits and five signs, 11.0 + 3.0 + 0.7
    assert wide("9999'-11 15/16\"") == pytest.approx(14.7)
    _, run = Display("imperial").runs("run", "Run")
    _, size = Display("imperial").sizes("size", "Size")
    assert min(run.width, size.width) >= 14.7


@needs_office
@pytest.mark.parametrize("name", ["gatehouse", "boathouse"])
def test_no_length_of_a_sample_is_wider_than_its_column(name, samples, tmp_path):
    made = take_off(
        [samples / f"{name}.dxf"],
        load_job(samples / f"{name}.toml", {"output.display": "imperial"}),
    )
    book = recalculated(written(tmp_path, made), tmp_path)
    held = [
        c
        for c in cells(book)
        if isinstance(c.value, str) and re.fullmatch(r"-?(\d+'-)?\d*( ?\d+/\d+)?\"", c.value)
    ]
    assert {"Walls", "Trim", "Corners", "Openings"} <= {c.parent.title for c in held}
    merged = {str(area).split(":")[0] for sheet in book for area in sheet.merged_cells.ranges}
    for cell in held:
        room = cell.parent.column_dimensions[cell.column_letter].width
        assert wide(cell.value) <= room or cell.coordinate in merged, (
            cell.parent.title,
            cell.coordinate,
            cell.value,
            room,
        )


@needs_office
def test_evil_texts_still_read_as_texts_after_recalculating(tmp_path):
    book = recalculated(written(tmp_path, apart()), tmp_path)
    held = {c.value for c in cells(book)}
    assert {"=1+1", "+x", "@y", "-3", EVIL_NAME} <= held
