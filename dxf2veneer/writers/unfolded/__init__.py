"""Walls unfolded: those that meet at corners side by side, courses running through.

strips.py   which walls stand beside one another, and where
courses.py  the strip with its pieces, course numbers and corners
stones.py   faces of stone on the pieces, drawn by chance from a seed
sketch.py   the strip as it may look when it is finished
files.py    strips in a file, SVG or PNG
"""

from dxf2veneer.writers.unfolded.files import SKETCH, strips_svg, write_sketch, write_unfolded
from dxf2veneer.writers.unfolded.sketch import sketched

__all__ = ["SKETCH", "sketched", "strips_svg", "write_sketch", "write_unfolded"]
