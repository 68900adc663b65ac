"""The picture of one elevation, as SVG.

picture.py    the whole picture, and the file of its own
pieces.py     pieces: tints, patterns, cut ends, labels
marks.py      slivers, heads and sills off the course lines, numbered places
paths.py      places of the drawing as places of the picture
"""

from dxf2veneer.writers.elevation.picture import picture_name, write_picture

__all__ = ["picture_name", "write_picture"]
