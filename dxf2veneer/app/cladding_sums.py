"""What each cladding comes to on the walls of a proposal: stone may be but one of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import Area, Message, message
from dxf2veneer.basics.tolerances import CLADDING_TOLD_SQIN

if TYPE_CHECKING:
    from dxf2veneer.propose import Proposal, ProposedWall

Sums = dict[tuple[str, ...], float]
"""Square inches by what is drawn on a wall."""
PLAIN = "plain"
"""Asks for the walls on which no cladding was recognized."""
_OF_WOOD = {"boards", "battens"}
"""Drawn so, a wall is surely not clad with stone."""


def names_of(wall: ProposedWall) -> tuple[str, ...]:
    """The names under which a wall can be asked for.

    Args:
        wall: A proposed wall.

    Returns:
        What is drawn on it, or that nothing was recognized.
    """
    return wall.cladding or (PLAIN,)


def cladding_sums(proposal: Proposal, inches: float, ground: BaseGeometry | None = None) -> Sums:
    """The net area of the walls by what is drawn on them.

    Args:
        proposal: Its walls.
        inches: Inches in a drawing unit.
        ground: What is taken of the drawing, in drawing units; without it all that is proposed.

    Returns:
        Square inches by the names of claddings, the largest first.
    """
    if ground is None:
        openings = shapely.union_all([Polygon(o.outline) for o in proposal.openings])
        walls = shapely.union_all([Polygon(w.outline) for w in proposal.walls])
        ground = walls.difference(openings)  # some openings reach into other walls
    sums: Sums = {}
    for wall in proposal.walls:
        drawn = names_of(wall)
        area = Polygon(wall.outline).intersection(ground).area * inches**2
        sums[drawn] = sums.get(drawn, 0.0) + area
    told = {drawn: area for drawn, area in sums.items() if area >= CLADDING_TOLD_SQIN}
    return dict(sorted(told.items(), key=lambda item: -item[1]))


def told_sums(proposal: Proposal, sums: Sums, *, seen: bool) -> Message | None:
    """What there is to say of the claddings that walls are drawn with.

    Args:
        proposal: The walls.
        sums: Square inches by cladding.
        seen: Whether a person has looked at the walls: one cladding is then what was meant.

    Returns:
        The message; None where all is one cladding that may be stone.
    """
    taken = taken_names(sums)
    if not sums or (len(sums) == 1 and (seen or not taken <= _OF_WOOD)):
        return None
    noted = [w for w in proposal.walls if w.note]  # stone is what is taken off
    asked = [name for w in (*noted, *proposal.walls) for name in names_of(w) if name in taken]
    stone = [name for name in ("stones", *asked) if name in taken and name not in _OF_WOOD]
    areas = tuple((drawn, Area(area)) for drawn, area in sums.items())
    return message("claddings-drawn", areas=areas, example=(stone or asked)[0])


def taken_names(sums: Sums) -> set[str]:
    """The names of all claddings in sums.

    Args:
        sums: As ``cladding_sums`` gives them.

    Returns:
        Each name once.
    """
    return {name for drawn in sums for name in drawn}
