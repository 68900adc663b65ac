"""The customer's bid as a letter, a workbook or a PDF: it knows the letter alone, no cost.

content.py   the letter in words, the same for both
sheet.py     as a workbook of one sheet
pdf.py       as a PDF; bid.typ sets it
"""

from dxf2veneer.writers.bid.pdf import write_bid_pdf
from dxf2veneer.writers.bid.sheet import write_bid_sheet

__all__ = ["write_bid_pdf", "write_bid_sheet"]
