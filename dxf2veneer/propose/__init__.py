"""From a stranger's drawing to a proposal: its unit and views, each elevation's walls and openings.

The stages in order; each looks only at what the one before found:

    reading/     a file to a scene: everything visible, flattened
    scene.py     what a scene is
    views/       the scene split into elevations, plans, sections, details, sheet frames
    unit/        the drawing's unit from what is drawn and written, weighed together
    openings/    windows, doors, garage doors, vents of an elevation
    walls/       the walls of an elevation
    elevations.py one elevation's walls with their openings; corners.py sides that two elevations
    share proposing.py the stages in order; proposal.py what comes out
    constants.py every rule of thumb: its value, its unit, its reason
"""

from dxf2veneer.propose.proposal import (
    Proposal,
    ProposedOpening,
    ProposedView,
    ProposedWall,
    Reason,
)
from dxf2veneer.propose.proposing import propose

__all__ = ["Proposal", "ProposedOpening", "ProposedView", "ProposedWall", "Reason", "propose"]
