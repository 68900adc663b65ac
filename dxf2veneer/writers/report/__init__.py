"""The report: one page that opens in a browser without a network, and the same on paper.

    page.py       the page from top to bottom, pictures in the middle
    sheet.py      one elevation of it
    pdf.py        the same pictures and tables as a PDF
    appendix.py   settings and bounds, at the end
    areas.py      areas, runs, openings; panels.py, courses.py, order.py, notices.py the others
    tables.py     the one form of their tables

Looks and script of the page, and the layout on paper, lie in ``data/``.
"""

from dxf2veneer.writers.report.page import write_report
from dxf2veneer.writers.report.pdf import write_pdf

__all__ = ["write_pdf", "write_report"]
