"""Coursing advice for people and programs: words, a picture, JSON.

words.py     proposals as messages and rows of a table
picture.py   walls as they stand and as proposed, one below the other (SVG)
result.py    the advice as JSON
The layer with moved openings is ``writers/overlay/advised.py``.
"""

from dxf2veneer.writers.advice.picture import write_picture
from dxf2veneer.writers.advice.result import write_advice

__all__ = ["write_advice", "write_picture"]
