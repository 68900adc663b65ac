"""A scene split into its views.

finding.py     the stages in order
frames.py      sheet frames; tables.py title blocks and schedules
grids.py       grid bubbles; levels.py level marks; titles.py titles; ground.py the ground line
splitting.py   what is left, split into groups; cells.py what hangs together; placing.py whose title
kinds.py       elevation, plan, section, detail
view.py        what a view is; boxes.py questions about boxes
"""

from dxf2veneer.propose.views.finding import find_views, reconsidered
from dxf2veneer.propose.views.levels import LevelMark
from dxf2veneer.propose.views.view import View

__all__ = ["LevelMark", "View", "find_views", "reconsidered"]
