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

The function ``propose`` is loaded when it is first used: a drawing is read and shown without it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from dxf2veneer.propose.proposal import (
    Proposal,
    ProposedOpening,
    ProposedView,
    ProposedWall,
    Reason,
)

if TYPE_CHECKING:
    from dxf2veneer.propose.proposing import propose

__all__ = ["Proposal", "ProposedOpening", "ProposedView", "ProposedWall", "Reason", "propose"]


def __getattr__(name: str) -> Any:
    """The function ``propose``, loaded when it is first used. Raises AttributeError."""
    if name != "propose":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from dxf2veneer.propose import proposing

    value = globals()[name] = proposing.propose
    return value
