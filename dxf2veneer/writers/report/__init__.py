"""The report: one page that opens in a browser without a network, and the same on paper.

    page.py       the page from top to bottom, pictures in the middle
    pdf.py        the same pictures and tables as a PDF
    tables.py     areas, runs, panels, notices; courses.py course lines; order.py order and bid

Looks and script of the page, and the layout on paper, lie in ``data/``.
"""

from dxf2veneer.writers.report.page import write_report
from dxf2veneer.writers.report.pdf import write_pdf

__all__ = ["write_pdf", "write_report"]
