"""Areas, runs and perimeters of recognized walls.

walls.py     areas, perimeters and runs of one wall and its openings; the deduction rule
trim.py      trim bands round openings: their runs and the area they cover
starter.py   where the starter strip runs
"""

from dxf2veneer.measure.trim import trim_notices
from dxf2veneer.measure.walls import is_deducted, measure_wall

__all__ = ["is_deducted", "measure_wall", "trim_notices"]
