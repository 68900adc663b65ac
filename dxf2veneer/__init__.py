"""dxf2veneer: from elevation drawings in DXF to a stone veneer takeoff."""

import os

__version__ = "0.1.0"

# The workbook's library writes other bytes where lxml happens to be installed; this is its own switch, and it is
# read when the library is first imported, which may be long before a workbook is written.
os.environ.setdefault("OPENPYXL_LXML", "False")
