"""Every wall and opening that a file of site measures names, at its measured place."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.settings import nearest
from dxf2veneer.config.site_file import OpeningMeasures, SiteSheet, WallMeasures
from dxf2veneer.model import Corner, LaidCourse, Side, SiteMeasures, Wall
from dxf2veneer.site.laid import laid_courses
from dxf2veneer.site.openings import moved_opening, refuse_misplaced
from dxf2veneer.site.outlines import edge_moves, moved_outline, raised_by
from dxf2veneer.site.slips import Sizes


class OnSite(NamedTuple):
    """Walls and corners as measured, and what the sheet changed."""

    walls: tuple[Wall, ...]
    corners: tuple[Corner, ...]
    measures: SiteMeasures
    notices: tuple[Notice, ...]


def as_measured(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    sheet: SiteSheet,
    below: Mapping[str, int] | None = None,
) -> OnSite:
    """The walls of a job as they were measured on site.

    Args:
        walls: The walls as drawn, with openings, edges and caps.
        corners: The corners that join them.
        sheet: What was measured.
        below: By wall the courses under its first one, of walls whose courses count with its own;
            none where it is not named.

    Returns:
        The walls in the same order. A wall of which nothing was measured, or all of it found as
        drawn, is the same value.

    Raises:
        SettingsError: The sheet names a wall or an opening that there is not, or a size in it
            can't be right or can't be measured so.
    """
    _refuse_unknown(walls, sheet)
    sizes, laid = Sizes(sheet), list[LaidCourse]()
    of_walls, of_openings = dict(sheet.walls), dict(sheet.openings)
    moved = []
    for wall in walls:
        own = of_walls.get(wall.id, WallMeasures())
        new = _moved(wall, own, of_openings, sizes)
        laid += laid_courses(new, own, sizes, (below or {}).get(wall.id, 0))
        moved.append(new)
    measures = SiteMeasures(sheet.path.name, tuple(sizes.differing), sizes.as_drawn, tuple(laid))
    is_moved = any(new is not old for new, old in zip(moved, walls, strict=True))
    kept = tuple(_with_run(c, moved) for c in corners) if is_moved else tuple(corners)
    return OnSite(tuple(moved), kept, measures, tuple(sizes.notices))


def _refuse_unknown(walls: Sequence[Wall], sheet: SiteSheet) -> None:
    """Raises SettingsError for a name that no wall or opening has."""
    ids = [w.id for w in walls]
    openings = [o.id for w in walls for o in w.openings]
    for known, named in ((ids, sheet.walls), (openings, sheet.openings)):
        for name, _ in named:
            if name not in known:
                hint = nearest(name, known or ids)
                raise SettingsError(
                    message("site-unknown", place=sheet.place(name), name=name, hint=hint)
                )


def _moved(
    wall: Wall, own: WallMeasures, of_openings: dict[str, OpeningMeasures], sizes: Sizes
) -> Wall:
    """One wall with its openings as measured."""
    fixed: Side = "left" if own.fixed == "left" else "right"
    moves = edge_moves(wall, own, sizes)
    new = moved_outline(wall, moves, raised_by(wall, own, sizes), sizes)
    openings = tuple(
        moved_opening(wall, o, fixed, of_openings[o.id], sizes) if o.id in of_openings else o
        for o in wall.openings
    )
    if any(a is not b for a, b in zip(openings, wall.openings, strict=True)):
        new = replace(new, openings=openings)
    refuse_misplaced(new, wall, sizes)
    return new


def _with_run(corner: Corner, walls: Sequence[Wall]) -> Corner:
    """A corner with the height of its edges as measured."""
    runs: dict[str, list[float]] = defaultdict(list)
    for wall in walls:
        for edge in wall.edges:
            if edge.corner == corner.id:
                runs[edge.side].append(edge.length)
    return replace(corner, run=max(map(math.fsum, runs.values()), default=corner.run))
