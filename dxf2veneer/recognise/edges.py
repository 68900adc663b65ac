"""Side edges of walls, and the marks that say what meets there."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping, Sequence

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import TOUCH_IN
from dxf2veneer.config.job import Recognise
from dxf2veneer.geometry import Point
from dxf2veneer.geometry.boundary import boundary
from dxf2veneer.model import Edge, EdgeKind, Label, Shape, Wall


@dataclasses.dataclass(frozen=True)
class _Mark:
    """An upright mark along an edge, with the tag beside it."""

    kind: EdgeKind
    """What it says of the edge."""
    x: float
    """Its middle, in inches."""
    y0: float
    """Its lower end, in inches."""
    y1: float
    """Its upper end, in inches."""
    handle: str
    """Handle of the entity."""
    layer: str
    """Its layer."""
    tag: str | None
    """Text beside it, in upper case; None without one."""


def mark_edges(
    walls: Sequence[Wall],
    lines: Mapping[EdgeKind, Sequence[Shape]],
    tags: Mapping[EdgeKind, Sequence[Label]],
    settings: Recognise,
    notices: list[Notice],
) -> list[Wall]:
    """The walls with their side edges: marks give corners, the job the rest.

    A mark along part of an edge splits it. A riser of a stepped base is plain unless marked.

    Args:
        walls: The walls of one drawing.
        lines: Marks of the corner layers and of the job file, in inches, by what they say.
        tags: Texts on those layers.
        settings: The job's section ``recognise``.
        notices: Notices are added to it.

    Returns:
        The walls in the same order.
    """
    marks = [m for kind in lines for m in _marks(kind, lines[kind], tags[kind], settings)]
    used: set[_Mark] = set()
    result = []
    for wall in walls:
        edges: list[Edge] = []
        for plain in _plain_edges(wall, settings):
            edges += _marked(plain, marks, settings.edge_tolerance, used)
        edges.sort(key=lambda e: (e.x, e.y0))
        result.append(dataclasses.replace(wall, edges=tuple(edges)))
    for mark in marks:
        if mark not in used:
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
    kind: EdgeKind, lines: Sequence[Shape], labels: Sequence[Label], settings: Recognise
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
            owner[i][1].strip().upper() if i in owner else shape.tag or None,
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


def _marked(
    edge: Edge, marks: Sequence[_Mark], tolerance_in: float, used: set[_Mark]
) -> list[Edge]:
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
            used.add(mark)
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
