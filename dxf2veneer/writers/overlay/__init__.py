"""The overlay: the user's drawing copied whole, with the takeoff drawn on layers of our own.

writing.py    the file from start to end
graft/        the overlay put into the bytes of the user's drawing
copy.py       the user's drawing by the library, where bytes can't be kept
ground.py     what of the drawing texts keep clear of; day.py the day it was last saved
revised.py    a copy of a new drawing with what changed since the old one
content.py    what is drawn on it, in order
plan.py       joints, cut pieces, corner pieces; labels.py the pieces' texts
lettering.py  texts of walls; marks.py places of notices and rules; legend.py legend and title
papers.py     drawings of our own for the crew; crew.py their sheets as layouts
pen.py        draws in inches into a drawing of any unit; layers.py layers, linetypes and tags
"""

from dxf2veneer.writers.overlay.copy import OverlayError
from dxf2veneer.writers.overlay.writing import write_overlay

__all__ = ["OverlayError", "write_overlay"]
