"""A scene split into its views.

finding.py        the stages in order
frames.py         sheet frames; tables.py title blocks and schedules
grids.py          grid bubbles; levels.py level marks; dimlines.py dimensions drawn as lines
titles.py         titles; placing.py whose title it is; paper.py titles on layouts
splitting.py      what is left, split into groups; cells.py what hangs together
attaching.py      what belongs to which group; group.py a view in the making
clues.py          what speaks for a kind; kinds.py elevation, plan, section, detail;
                  ground.py the ground line
reconsidering.py  kinds judged again, by the other views and by the unit
view.py           what a view is; boxes.py questions about boxes
"""

from dxf2veneer.propose.views.finding import find_views
from dxf2veneer.propose.views.levels import LevelMark
from dxf2veneer.propose.views.reconsidering import reconsidered
from dxf2veneer.propose.views.view import View

__all__ = ["LevelMark", "View", "find_views", "reconsidered"]
