"""What a workbook says on top where the takeoff has errors, or where its unit or layers are in
doubt."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from openpyxl.formatting.rule import FormulaRule
from openpyxl.styles import Font
from openpyxl.workbook import Workbook

from dxf2veneer.basics.notices import doubts
from dxf2veneer.model import Takeoff
from dxf2veneer.textio.escaping import for_formula
from dxf2veneer.writers.words import alert_words
from dxf2veneer.writers.workbook.cells import font, put_text, sheet_of
from dxf2veneer.writers.workbook.computed import DEDUCTION, changed_name, stale
from dxf2veneer.writers.workbook.input_items import NAMES

_PLACES = {"Summary": 4, "Price": 3}
"""Sheet and row of the words; on the price they stand in place of the job's note."""
_RED = "C00000"
_AREAS = (
    "STALE: what openings deduct was changed by hand. The net area follows; panels counted by "
    "layout do not, as they are laid round every opening. To be paid by that area, count by area "
    "on the sheet Inputs"
)


def add_alert(book: Workbook, takeoff: Takeoff, places: Mapping[str, int] = _PLACES) -> None:
    """Words on the summary and the price, and above every printed page; nothing where nothing is
    wrong.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        places: Row of the words, by sheet.
    """
    codes = ", ".join(dict.fromkeys(n.code for n in doubts(takeoff.notices, len(takeoff.drawings))))
    words = alert_words(takeoff) or (f"Check unit and layers first ({codes})" if codes else "")
    if not words:
        return
    if "Notices" in book.sheetnames:
        words += "; see the sheet Notices"
    for sheet in book.worksheets:
        sheet.sheet_properties.tabColor = _RED
        header: Any = sheet.oddHeader
        header.center.text = words
    for title in (t for t in places if t in book.sheetnames):
        cell: Any = sheet_of(book, title).cell(places[title], 1)
        put_text(cell, words)
        cell.font = font(bold=True, color=_RED)


def add_stale(book: Workbook, *, has_plan: bool) -> None:
    """Words on the summary and the price as soon as a change by hand has left what was laid out
    behind; they stand in the same place, before what stood there.

    Args:
        book: The workbook, with the cells that count changes.
        has_plan: Whether panels were laid out.
    """
    words = (
        "STALE: laid out before {} changes by hand of walls, openings, corners or trim; what is "
        "marked STALE does not follow. Correct the drawing or give site measures, for a wall out "
        "of the bid write bid = false in the job file, then run: dxf2veneer takeoff "
        "--keep-changes, with the same drawings and job"
    )
    before, after = map(for_formula, words.split("{}"))
    number = stale(0)
    areas = "FALSE"
    if has_plan:
        areas = f'AND({changed_name(DEDUCTION)}>0,{NAMES["counting"]}="layout")'
    for title in (t for t in _PLACES if t in book.sheetnames):
        cell: Any = sheet_of(book, title).cell(_PLACES[title], 1)
        stood = for_formula(str(cell.value or ""))
        of_areas = f"IF({areas},{for_formula(_AREAS)},{stood})" if has_plan else stood
        cell.value = f"=IF({number}>0,{before}&{number}&{after},{of_areas})"
        cell.data_type = "f"
        cell.quotePrefix = False
        rule: Any = FormulaRule(  # type: ignore[no-untyped-call]
            formula=[f"OR({number}>0,{areas})"], font=Font(bold=True, color=_RED)
        )
        sheet_of(book, title).conditional_formatting.add(cell.coordinate, rule)
