"""The workbooks: an estimate with sheets to check and to order by, and piece lists to saw by.

writing.py     the file and the order of its sheets
summary.py     the page in front; tiles.py its boxes; alert.py what stands on top where there
               are errors
price_sheet.py the price; price.py its table; alternates.py the orders beside it
order.py       order, supplier's list, labour; quantities.py what it was counted from; inputs.py
               what may be changed
measures.py    walls, openings, corners, trim
plan.py        panels with their proof, rules; cuts.py cut list and units; shapes.py how a shape is
               cut, in words
checks.py      course check, notices, assumptions
plain_xml.py   the same bytes, whichever XML library is installed
links.py       formulas from one sheet to another
columns.py     what a table is described by; cells.py puts tables and texts onto a sheet
"""

from dxf2veneer.writers.workbook.kept import UnreadableWorkbookError
from dxf2veneer.writers.workbook.writing import (
    CUT_SHEETS,
    kept_changes,
    write_cuts,
    write_workbook,
)

__all__ = [
    "CUT_SHEETS",
    "UnreadableWorkbookError",
    "kept_changes",
    "write_cuts",
    "write_workbook",
]
