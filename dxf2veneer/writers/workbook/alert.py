"""What a workbook says on top where the takeoff has errors, or where its unit or layers are in
doubt."""

from __future__ import annotations

from typing import Any

from openpyxl.workbook import Workbook

from dxf2veneer.basics.notices import doubts
from dxf2veneer.model import Takeoff
from dxf2veneer.writers.words import alert_words
from dxf2veneer.writers.workbook.cells import font, put_text, sheet_of

_PLACES = {"Summary": 4, "Price": 3, "Request": 3}
"""Sheet and row of the words; on the price they stand in place of the job's note."""
_RED = "C00000"


def add_alert(book: Workbook, takeoff: Takeoff) -> None:
    """Words on the summary and the price, and above every printed page; nothing where nothing is
    wrong.

    Args:
        book: The workbook.
        takeoff: The takeoff.
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
    for title in (t for t in _PLACES if t in book.sheetnames):
        cell: Any = sheet_of(book, title).cell(_PLACES[title], 1)
        put_text(cell, words)
        cell.font = font(bold=True, color=_RED)
