"""The change order as a workbook or a PDF: it knows the order alone, no cost.

content.py  the order in words, the same for both
sheet.py    as a workbook whose sums are formulas
pdf.py      as a PDF; change_order.typ sets it
"""

from dxf2veneer.writers.change_order.pdf import write_change_order_pdf
from dxf2veneer.writers.change_order.sheet import write_change_order_sheet

__all__ = ["write_change_order_pdf", "write_change_order_sheet"]
