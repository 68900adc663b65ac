"""The walls of an elevation.

runs.py        lines in one line joined; noding.py lines cut where they meet, and the faces between
texture.py     which lines are cladding
structure.py   ground, eaves, bands of roof edges, roofs
parts.py       faces joined up to what bounds a wall
claddings.py   parted where the cladding changes
finding.py     the stages in order
"""

from dxf2veneer.propose.walls.finding import find_walls

__all__ = ["find_walls"]
