"""Marks at the side edges of walls, and the pairing of corners.

Seen from outside, every corner of a building is the right edge of one elevation and the left edge
of the next. Drawn on both it would count twice, so marks are paired: by a tag, a text beside each
mark on the same layer, or by a line that two touching walls share.
"""

from __future__ import annotations

import dataclasses
import math
from collections import defaultdict
from collections.abc import Mapping, Sequence

from dxf2veneer.config.job import Recognise
from dxf2veneer.geometry import Point
from dxf2veneer.geometry.boundary import boundary
from dxf2veneer.messages import Length, Message, message
from dxf2veneer.model import Corner, CornerKind, Edge, EdgeKind, Label, Shape, Side, Wall
from dxf2veneer.notices import Notice
from dxf2veneer.tolerances import CORNER_HEIGHTS_IN, TOUCH_IN

_KINDS: tuple[CornerKind, ...] = ("outside", "inside", "mitre")


@dataclasses.dataclass(frozen=True)
class _Mark:
    """An upright mark on a corner layer, with the tag beside it."""

    kind: CornerKind
    x: float
    y0: float
    y1: float
    handle: str
    layer: str
    tag: str | None


def mark_edges(
    walls: Sequence[Wall],
    lines: Mapping[CornerKind, Sequence[Shape]],
    tags: Mapping[CornerKind, Sequence[Label]],
    settings: Recognise,
    notices: list[Notice],
) -> list[Wall]:
    """The walls with their side edges: marks give corners, the job the rest.

    A mark along part of an edge splits it. A riser of a stepped base is plain unless marked.

    Args:
        walls: The walls of one drawing.
        lines: Marks on the corner layers, in inches, by kind of corner.
        tags: Texts on those layers.
        settings: The job's section ``recognise``.
        notices: Notices are added to it.

    Returns:
        The walls in the same order.
    """
    marks = [m for kind in lines for m in _marks(kind, lines[kind], tags[kind], settings)]
    used: set[str] = set()
    result = []
    for wall in walls:
        edges: list[Edge] = []
        for plain in _plain_edges(wall, settings):
            edges += _marked(plain, marks, settings.edge_tolerance, used)
        edges.sort(key=lambda e: (e.x, e.y0))
        result.append(dataclasses.replace(wall, edges=tuple(edges)))
    for mark in marks:
        if mark.handle not in used:
            at = (mark.x, (mark.y0 + mark.y1) / 2)
            notices.append(
                Notice(
                    "CORNER_MARK_UNUSED",
                    message("corner-mark-unused", kind=mark.kind),
                    layer=mark.layer,
                    handle=mark.handle,
                    at_in=at,
                )
            )
    return result


def _marks(
    kind: CornerKind, lines: Sequence[Shape], labels: Sequence[Label], settings: Recognise
) -> list[_Mark]:
    boxes = [s.path.box for s in lines]
    owner: dict[int, tuple[float, str]] = {}
    for label in labels:
        reach, nearest = min(
            ((_reach(label.at, box), i) for i, box in enumerate(boxes)), default=(math.inf, -1)
        )
        if (
            reach <= settings.tag_reach
            and label.text.strip()
            and (reach, label.text) < owner.get(nearest, (math.inf, ""))
        ):
            owner[nearest] = (reach, label.text)
    return [
        _Mark(
            kind,
            (x0 + x1) / 2,
            y0,
            y1,
            shape.handle,
            shape.layer,
            owner[i][1].strip().upper() if i in owner else None,
        )
        for i, (shape, (x0, y0, x1, y1)) in enumerate(zip(lines, boxes, strict=True))
    ]


def _reach(point: Point, box: tuple[float, float, float, float]) -> float:
    x0, y0, x1, y1 = box
    return math.hypot(
        max(x0 - point[0], 0.0, point[0] - x1), max(y0 - point[1], 0.0, point[1] - y1)
    )


def _plain_edges(wall: Wall, settings: Recognise) -> list[Edge]:
    edges = []
    for side in boundary(wall.region):
        if side.what in ("left", "right"):
            (xa, ya), (xb, yb) = side.segment.start, side.segment.end
            kind: EdgeKind = "butt" if side.is_riser or settings.edge_kind == "butt" else "end"
            edges.append(
                Edge(
                    "left" if side.what == "left" else "right",
                    (xa + xb) / 2,
                    min(ya, yb),
                    max(ya, yb),
                    kind,
                )
            )
    return edges


def _marked(edge: Edge, marks: Sequence[_Mark], tolerance_in: float, used: set[str]) -> list[Edge]:
    """The edge, split where marks cover part of it."""
    parts = [edge]
    for mark in sorted(marks, key=lambda m: (m.y0, m.y1, m.kind, m.handle)):
        if abs(mark.x - edge.x) > tolerance_in:
            continue
        split: list[Edge] = []
        for part in parts:
            low, high = max(part.y0, mark.y0), min(part.y1, mark.y1)
            if high - low <= TOUCH_IN or part.tag is not None or part.handle is not None:
                split.append(part)
                continue
            used.add(mark.handle)
            low = part.y0 if low - part.y0 <= tolerance_in else low
            high = part.y1 if part.y1 - high <= tolerance_in else high
            if low > part.y0:
                split.append(dataclasses.replace(part, y1=low))
            split.append(
                dataclasses.replace(
                    part, y0=low, y1=high, kind=mark.kind, tag=mark.tag, handle=mark.handle
                )
            )
            if high < part.y1:
                split.append(dataclasses.replace(part, y0=high))
        parts = split
    return parts


# ----------------------------------------------------------------- pairing

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
