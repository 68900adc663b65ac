"""The openings of an elevation.

arches.py       curved heads and rounds among the lines
candidates.py   outlines of an opening's size: faces, closed outlines, rectangles of loose lines
near.py         the lines near each outline and what they do there
features.py     what tells an opening from boards, stones, steps: frames, free corners, stopped
               boards
looks.py        what it looks like as a whole: a gate, a ribbon of panes, a louvre, a plinth
louvres.py      slats that fill an outline of any shape
nest.py         which outlines lie in which, and how far panes fill those around them
lites.py        frames that lites fill
shutters.py     leaves on either side of a window, with all that is drawn on them
choosing.py     the outermost that hold, shutters and steps left out
kinds.py        window, door, garage door or vent
"""

from dxf2veneer.propose.openings.finding import chosen_openings, find_openings, weighed_outlines
from dxf2veneer.propose.openings.kinds import Setting, above_foot, kind_of, kinds_of, setting_of

__all__ = [
    "Setting",
    "above_foot",
    "chosen_openings",
    "find_openings",
    "kind_of",
    "kinds_of",
    "setting_of",
    "weighed_outlines",
]
