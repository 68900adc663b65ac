"""The pairing of corners.

Seen from outside, every corner of a building is the right edge of one elevation and the left edge
of the next. Drawn on both it would count twice, so marks are paired: by a tag, a text beside each
mark on the same layer, or by a line that two touching walls share.
"""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Mapping, Sequence

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CORNER_HEIGHTS_IN, TOUCH_IN
from dxf2veneer.model import Corner, CornerKind, Edge, Side, Wall

_KINDS: tuple[CornerKind, ...] = ("outside", "inside", "mitre")

_At = tuple[int, int]
"""Index of a wall and of one of its edges."""


def pair_corners(walls: Sequence[Wall]) -> tuple[list[Wall], list[Corner], list[Notice]]:
    """Corners of the job, each counted once, and the walls with the corner's id at their edges.

    Tagged edges pair by kind and tag; the others where the right edge of one wall and the left
    edge of another lie on one line. What finds no partner counts by itself and is reported.

    Args:
        walls: The walls of all drawings, with their edges.

    Returns:
        The walls in the same order, the corners, and the notices.
    """
    notices: list[Notice] = []
    edges: dict[_At, Edge] = {
        (w, e): edge
        for w, wall in enumerate(walls)
        for e, edge in enumerate(wall.edges)
        if edge.kind in _KINDS
    }
    groups = _by_tag(walls, edges, notices) + _by_line(
        walls, {at: e for at, e in edges.items() if e.tag is None}
    )
    groups.sort(key=min)
    corners: list[Corner] = []
    named: dict[_At, str] = {}
    for group in groups:
        corner = _corner(f"C{len(corners) + 1}", group, walls, edges, notices)
        corners.append(corner)
        named.update(dict.fromkeys(group, corner.id))
    paired = [
        dataclasses.replace(
            wall,
            edges=tuple(
                dataclasses.replace(edge, corner=named.get((w, e)))
                for e, edge in enumerate(wall.edges)
            ),
        )
        for w, wall in enumerate(walls)
    ]
    return paired, corners, notices


def _kind(edge: Edge) -> CornerKind:
    """The kind of corner at an edge that is one."""
    return next(kind for kind in _KINDS if kind == edge.kind)


def _by_tag(
    walls: Sequence[Wall], edges: Mapping[_At, Edge], notices: list[Notice]
) -> list[list[_At]]:
    """Groups of edges that bear one tag: the right edge of one elevation, the left of another."""
    tagged: dict[tuple[CornerKind, str], dict[str, list[_At]]] = defaultdict(
        lambda: defaultdict(list)
    )
    for at, edge in edges.items():
        if edge.tag is not None:
            tagged[_kind(edge), edge.tag][edge.side].append(at)
    groups: list[list[_At]] = []
    for (kind, tag), sides in tagged.items():
        if all(_one_side(walls, edges, ats) for ats in sides.values()):
            groups.append([at for ats in sides.values() for at in ats])
            continue
        apart: dict[tuple[int, str], list[_At]] = defaultdict(list)
        for at in (at for ats in sides.values() for at in ats):
            apart[at[0], edges[at].side].append(at)
        groups += list(apart.values())
        places = tuple(f"{walls[w].id} {side}" for w, side in apart)
        first = edges[next(iter(apart.values()))[0]]
        notices.append(
            Notice(
                "CORNER_TAG_CLASH",
                message("corner-tag-clash", tag=tag, places=places, kind=kind),
                handle=first.handle,
                at_in=(first.x, first.y0),
            )
        )
    return groups


def _one_side(walls: Sequence[Wall], edges: Mapping[_At, Edge], ats: Sequence[_At]) -> bool:
    """Whether edges of one side can be one of a corner: of one wall, or one above the other."""
    if len({w for w, _ in ats}) == 1:
        return True
    xs = [edges[at].x for at in ats]
    return len({walls[w].drawing for w, _ in ats}) == 1 and max(xs) - min(xs) <= TOUCH_IN


def _by_line(walls: Sequence[Wall], edges: Mapping[_At, Edge]) -> list[list[_At]]:
    """Groups of untagged edges: two walls' that bear one mark or lie on one line, or alone."""
    groups: list[list[_At]] = []
    left = dict(edges)
    for at, edge in edges.items():
        if at not in left or edge.side != "right":
            continue
        partner = next((o for o in left if _one_line(walls, at, edge, o, left[o])), None)
        if partner is not None:
            groups.append([at, partner])
            del left[at], left[partner]
    return groups + [[at] for at in left]


def _one_line(walls: Sequence[Wall], at: _At, edge: Edge, other: _At, second: Edge) -> bool:
    if other[0] == at[0] or second.side != "left" or second.kind != edge.kind:
        return False
    if walls[other[0]].drawing != walls[at[0]].drawing:
        return False
    overlap = min(edge.y1, second.y1) - max(edge.y0, second.y0)
    return abs(edge.x - second.x) <= TOUCH_IN and overlap > TOUCH_IN


def _corner(
    id_: str,
    group: Sequence[_At],
    walls: Sequence[Wall],
    edges: Mapping[_At, Edge],
    notices: list[Notice],
) -> Corner:
    """The corner of a group of edges; reported where unpaired or of different heights."""
    runs: dict[Side, float] = defaultdict(float)
    for at in group:
        runs[edges[at].side] += edges[at].length
    ends: dict[tuple[str, Side], None] = {(walls[w].id, edges[w, e].side): None for w, e in group}
    ordered = sorted(ends, key=lambda end: end[1], reverse=True)  # right edges first
    first = edges[group[0]]
    kind = _kind(first)

    def report(code: str, what: Message) -> None:
        at = (first.x, (first.y0 + first.y1) / 2)
        notices.append(
            Notice(code, what, drawing=walls[group[0][0]].drawing, handle=first.handle, at_in=at)
        )

    if len(runs) == 1:
        wall, side = ordered[0]
        report(
            "CORNER_UNPAIRED",
            message(
                "corner-unpaired",
                kind=kind,
                corner=id_,
                side=side,
                wall=wall,
                run=Length(runs[side]),
            ),
        )
    elif abs(runs["left"] - runs["right"]) > CORNER_HEIGHTS_IN:
        heights = tuple((wall, Length(runs[side])) for wall, side in ordered)
        report(
            "CORNER_HEIGHTS_DIFFER",
            message("corner-heights-differ", kind=kind, corner=id_, heights=heights),
        )
    return Corner(id_, kind, max(runs.values()), tuple(ordered), first.tag)
