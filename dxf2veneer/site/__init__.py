"""From walls as drawn to walls as measured on site.

measured.py   every wall and opening that a file of site measures names, moved
outlines.py   a wall's outline whose free edge and top are moved
openings.py   an opening at another place or of another size
laid.py       courses that are laid already, with their real joints
slips.py      what can't be right: errors of one line each
"""

from dxf2veneer.site.measured import OnSite, as_measured
from dxf2veneer.site.slips import site_notices

__all__ = ["OnSite", "as_measured", "site_notices"]
