"""Story poles: a rod with the height of every course line, head, sill, cap and top.

labels.py  what stands beside a mark, in words
rod.py     the rod drawn as SVG, whole to a scale or a part of it at full size
svg.py     all rods at full size in one picture, for a plotter
pdf.py     a page to look at, and parts at full size to cut out and tape together; pole.typ sets it
"""

from dxf2veneer.writers.story_pole.pdf import write_poles_pdf
from dxf2veneer.writers.story_pole.svg import write_poles_svg

__all__ = ["write_poles_pdf", "write_poles_svg"]
