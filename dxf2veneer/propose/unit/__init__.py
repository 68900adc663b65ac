"""The drawing's unit, from the building, the sheet and the words, weighed together.

deciding.py    all evidence weighed; what is sure enough to be said
evidence.py    what evidence is
measures.py    dimensions and level marks against drawn lengths
sizes.py       doors, windows, storeys, courses, letters
sheet.py       viewports, scales, frames
words.py       the header, notes, notations
roundness.py   round lengths
absurd.py      results that no building has
"""

from dxf2veneer.propose.unit.absurd import Absurdity, absurd
from dxf2veneer.propose.unit.deciding import decide, find_unit
from dxf2veneer.propose.unit.evidence import Evidence, UnitFinding

__all__ = ["Absurdity", "Evidence", "UnitFinding", "absurd", "decide", "find_unit"]
