"""The workbook: a page to hand over, sheets to check, sheets to saw and to order by.

writing.py        the file and the order of its sheets
summary.py        the page to hand over; tiles.py its boxes, summary_parts.py what is below them
alert.py          what stands on top where there are errors
bid.py            the bid; price.py its price, alternates.py the alternates
order.py          the order; supplier.py the supplier's list, labor.py labor and deliveries
quantities.py     what the order was counted from; links.py formulas from one sheet to another
inputs.py         what may be changed; input_items.py its items, input_cells.py its cells
measures.py       walls, openings, corners, trim
plan.py           panels with their proof; rule_check.py rules that do not hold
cuts.py           cut list and panels; shapes.py how a shape is cut, in words
course_check.py   heads and sills against the course lines
checks.py         notices, assumptions
columns.py        what a table is described by
cells.py          puts tables onto a sheet; page.py heads, notes and the printed page
"""

from dxf2veneer.writers.workbook.writing import ORDER_SHEETS, PLAN_SHEETS, SHEETS, write_workbook

__all__ = ["ORDER_SHEETS", "PLAN_SHEETS", "SHEETS", "write_workbook"]
