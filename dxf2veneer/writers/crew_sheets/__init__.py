"""Crew sheets: a wall, or a part of it, on each sheet, large enough to read every cut on site.

windows.py  parts of a wall, and the scale at which every cut can be lettered
labels.py   what stands on a piece
picture.py  the part of the wall drawn
rows.py     the cut list of a sheet in the order of laying
sheets.py   the sheets of a set
pdf.py      the set as a PDF; sheet.typ sets it (overlay/crew.py draws it as layouts of a DXF)
"""

from dxf2veneer.writers.crew_sheets.pdf import write_crew_sheets

__all__ = ["write_crew_sheets"]
