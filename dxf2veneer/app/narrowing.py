"""A proposal narrowed to what is asked for: some views, or walls on which one cladding is drawn."""

from __future__ import annotations

import dataclasses
from collections import Counter
from collections.abc import Collection, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from dxf2veneer.app.cladding_sums import names_of
from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import OPENING_REACHES
from dxf2veneer.drawing.errors import DrawingError

if TYPE_CHECKING:
    from dxf2veneer.propose import Proposal, ProposedOpening, ProposedWall
    from dxf2veneer.propose.proposal import Outline, Reason


def views_asked(path: Path, proposal: Proposal, asked: Sequence[str]) -> tuple[str, ...]:
    """The ids of the views that were asked for.

    Args:
        path: The drawing.
        proposal: Its views.
        asked: Ids or numbers: ``V2``, ``v2``, ``2``.

    Returns:
        The ids.

    Raises:
        DrawingError: There is no such view.
    """
    known = {v.id.upper(): v.id for v in proposal.views}
    ids = []
    for text in asked:
        name = text.strip().upper()
        if name not in known and f"V{name}" in known:
            name = f"V{name}"
        if name not in known:
            told = message("no-such-view", view=text, views=tuple(known.values()))
            raise DrawingError.of(path, told)
        ids.append(known[name])
    return tuple(ids)


def clad(path: Path, proposal: Proposal, asked: Sequence[str]) -> Proposal:
    """A proposal with only the walls on which some cladding is drawn.

    Args:
        path: The drawing.
        proposal: Its walls.
        asked: Kinds of cladding or names of hatch patterns, in any case; all walls where none.

    Returns:
        The same with those walls, the openings that reach into them and their corners, numbered as
        a takeoff of them numbers them; elevations with other walls alone are left out.

    Raises:
        DrawingError: No wall is drawn so.
    """
    if not asked:
        return proposal
    names = {name.strip().casefold() for name in asked}
    kept = {w.id for w in proposal.walls if names & {c.casefold() for c in names_of(w)}}
    if not kept:
        there = tuple(sorted({c for w in proposal.walls for c in names_of(w)}))
        told = message("no-such-cladding", asked=tuple(asked), there=there)
        raise DrawingError.of(path, told)
    clad_views = {w.view for w in proposal.walls if w.id in kept}
    bare = {v.id for v in proposal.empty_elevations(0.0)}
    ids = [
        v.id for v in proposal.views if v.kind != "elevation" or v.id in clad_views or v.id in bare
    ]
    return limited(proposal, ids, walls=kept)


def limited(
    proposal: Proposal, ids: Sequence[str], walls: Collection[str] | None = None
) -> Proposal:
    """A proposal with only some views.

    Args:
        proposal: The whole of it.
        ids: The views that stay.
        walls: The walls that stay where not all in these views do.

    Returns:
        Those views and walls with their openings, corners and levels, numbered as a takeoff of them
        numbers them.
    """
    kept = [w for w in proposal.walls if w.view in ids and (walls is None or w.id in walls)]
    named = {w.id: f"W{n}" for n, w in enumerate(kept, 1)}
    left_out = [w for w in proposal.walls if w.view in ids and w not in kept]
    openings = _of_walls(proposal.openings, kept, left_out)
    count = Counter(o.wall for o in openings)
    corners = [c for c in proposal.corners if all(wall in named for wall, _ in c.edges)]
    return dataclasses.replace(
        proposal,
        views=tuple(v for v in proposal.views if v.id in ids),
        walls=tuple(
            dataclasses.replace(w, id=named[w.id], reason=_counting(w.reason, count[w.id]))
            for w in kept
        ),
        openings=tuple(
            dataclasses.replace(o, id=f"{named[o.wall]}-{o.short_id}", wall=named[o.wall])
            for o in openings
        ),
        corners=tuple(
            dataclasses.replace(c, edges=tuple((named[wall], side) for wall, side in c.edges))
            for c in corners
        ),
        levels=tuple(level for level in proposal.levels if level.view in ids),
        outside=tuple(found for found in proposal.outside if found.view in ids),
    )


def _counting(reason: Reason, openings: int) -> Reason:
    """Why something is a wall, where the reason counts its openings with another number of them."""
    if "openings" not in reason.values:
        return reason
    return reason._replace(values={**reason.values, "openings": openings})


def _of_walls(
    openings: Sequence[ProposedOpening],
    walls: Sequence[ProposedWall],
    left_out: Sequence[ProposedWall],
) -> list[ProposedOpening]:
    """The openings of some walls: their own, and those of others that reach into them, as a door
    reaches into the base of stone under the boards that have most of it; each without what lies in
    walls that are left out."""
    grounds = {w.id: Polygon(w.outline) for w in walls}
    others = shapely.union_all([Polygon(w.outline) for w in left_out])
    held: dict[str, list[ProposedOpening]] = {name: [] for name in grounds}
    for opening in openings:
        shape = Polygon(opening.outline)
        shares = {name: g.intersection(shape).area for name, g in grounds.items()}
        name = opening.wall if opening.wall in held else max(shares, key=lambda n: shares[n])
        if name == opening.wall or shares[name] > OPENING_REACHES * shape.area:
            for outline in _without(opening.outline, shape, others):
                held[name].append(dataclasses.replace(opening, wall=name, outline=outline))
    return [
        dataclasses.replace(o, id=f"{name}-O{n}")
        for name, own in held.items()
        for n, o in enumerate(sorted(own, key=_lower_left), 1)
    ]


def _without(outline: Outline, shape: Polygon, others: BaseGeometry) -> list[Outline]:
    """What is left of an opening outside other walls: itself where it reaches but a hair into
    them."""
    if shape.intersection(others).area <= OPENING_REACHES * shape.area:
        return [outline]
    rest = shapely.get_parts(shape.difference(others))
    return [
        tuple((float(x), float(y)) for x, y in orient(part).exterior.coords[:-1])
        for part in rest
        if isinstance(part, Polygon) and part.area > OPENING_REACHES * shape.area
    ]


def _lower_left(opening: ProposedOpening) -> tuple[float, float]:
    return min(x for x, _ in opening.outline), min(y for _, y in opening.outline)
