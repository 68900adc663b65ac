"""Marks inside walls: caps, level lines and names."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

import shapely
from shapely.geometry import Point as ShapelyPoint

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import LEVEL_SLOPE, TOUCH_IN
from dxf2veneer.config.job_values import Window
from dxf2veneer.geometry import Segment
from dxf2veneer.geometry.boundary import boundary, level_stretches
from dxf2veneer.model import CapMark, Label, Shape, Wall


def mark_caps(
    walls: Sequence[Wall], lines: Sequence[Shape], tolerance_in: float, notices: list[Notice]
) -> list[Wall]:
    """The walls with the stretches of cap that lines on the cap layer mark in them.

    A line within the tolerance of a level top edge is that edge. Openings interrupt a cap.

    Args:
        walls: The walls of one drawing.
        lines: Lines on the cap layer, in inches.
        tolerance_in: How far a line may lie off an edge, in inches.
        notices: Notices are added to it.

    Returns:
        The walls in the same order.
    """
    marked: dict[str, list[CapMark]] = {w.id: [] for w in walls}
    for shape in lines:
        level = [s for s in shape.path.segments if _is_level(s)]
        found = {
            w.id: [cap for s in level for cap in _caps(w, s, shape.handle, tolerance_in)]
            for w in walls
        }
        for wall, caps in found.items():
            marked[wall] += caps
        if not any(found.values()):
            x0, y0, x1, y1 = shape.path.box
            notices.append(
                Notice(
                    "CAP_MARK_UNUSED",
                    message("cap-mark-unused"),
                    layer=shape.layer,
                    handle=shape.handle,
                    at_in=((x0 + x1) / 2, (y0 + y1) / 2),
                )
            )
    return [dataclasses.replace(w, caps=_joined(marked[w.id])) for w in walls]


def _is_level(segment: Segment) -> bool:
    (x0, y0), (x1, y1) = segment.start, segment.end
    return not segment.is_arc and abs(y1 - y0) <= LEVEL_SLOPE * abs(x1 - x0)


def _caps(wall: Wall, segment: Segment, handle: str, tolerance_in: float) -> list[CapMark]:
    (xa, ya), (xb, yb) = segment.start, segment.end
    y, low, high = (ya + yb) / 2, min(xa, xb), max(xa, xb)
    tops = [
        s.segment.start[1]
        for s in boundary(wall.region)
        if s.what == "top" and _over(s.segment, low, high)
    ]
    y = min((t for t in tops if abs(t - y) <= tolerance_in), key=lambda t: abs(t - y), default=y)
    solid = wall.region.difference(*(o.region for o in wall.openings))
    stretches = level_stretches(solid, y - TOUCH_IN)
    spans = [(max(low, a), min(high, b)) for a, b in stretches]
    return [CapMark(a, b, y, handle) for a, b in spans if b - a > TOUCH_IN]


def _over(segment: Segment, low: float, high: float) -> bool:
    return (
        min(segment.start[0], segment.end[0]) < high and max(segment.start[0], segment.end[0]) > low
    )


def _joined(caps: Sequence[CapMark]) -> tuple[CapMark, ...]:
    """Caps from left to right and upward, overlapping ones at one height joined."""
    result: list[CapMark] = []
    for cap in sorted(caps, key=lambda c: (c.y, c.x0, c.x1)):
        if result and abs(cap.y - result[-1].y) <= TOUCH_IN and cap.x0 < result[-1].x1:
            result[-1] = dataclasses.replace(result[-1], x1=max(cap.x1, result[-1].x1))
        else:
            result.append(cap)
    return tuple(result)


def give_levels(walls: Sequence[Wall], lines: Sequence[Shape], notices: list[Notice]) -> list[Wall]:
    """The walls with the height of the level line that crosses them; the lowest of several.

    A closed shape, such as the circle of a level mark, is a symbol, and so is what is drawn inside
    it: neither is a line.

    Args:
        walls: The walls of one drawing.
        lines: Lines on the level layer, in inches.
        notices: Notices are added to it.

    Returns:
        The walls in the same order.
    """
    levels: dict[str, list[float]] = {w.id: [] for w in walls}
    symbols = [shape.path.box for shape in lines if shape.path.closed]
    for shape in lines:
        x0, y0, x1, y1 = shape.path.box
        if any(a <= x0 and b <= y0 and x1 <= c and y1 <= d for a, b, c, d in symbols):
            continue
        crossed = [
            w
            for w in walls
            if x0 < w.box[2] and x1 > w.box[0] and w.box[1] - _reach(w) <= (y0 + y1) / 2 <= w.box[3]
        ]
        for wall in crossed if y1 - y0 <= LEVEL_SLOPE * (x1 - x0) else ():
            levels[wall.id].append((y0 + y1) / 2)
        if not crossed or y1 - y0 > LEVEL_SLOPE * (x1 - x0):
            notices.append(
                Notice(
                    "LEVEL_UNUSED",
                    message("level-unused"),
                    layer=shape.layer,
                    handle=shape.handle,
                    at_in=((x0 + x1) / 2, (y0 + y1) / 2),
                )
            )
    return [dataclasses.replace(w, level_y=min(levels[w.id], default=None)) for w in walls]


def _reach(wall: Wall) -> float:
    """How far below a wall a level line still belongs to it: half the wall's height."""
    return (wall.box[3] - wall.box[1]) / 2.0


def name_walls(walls: Sequence[Wall], labels: Sequence[Label], notices: list[Notice]) -> list[Wall]:
    """The walls and openings with the names that texts inside them give.

    A text inside an opening names the opening, if another text names the wall; else the wall.

    Args:
        walls: The walls of one drawing.
        labels: Texts on the name layer, in inches.
        notices: Notices are added to it.

    Returns:
        The walls in the same order.
    """
    texts = sorted((t for t in labels if t.text.strip()), key=lambda t: (t.at[1], t.at[0], t.text))
    result: list[Wall] = []
    used: set[int] = set()
    for wall in walls:
        own = [t for t in texts if _holds(wall.region.polygon, t)]
        used.update(id(t) for t in own)
        inside = {o.id: [t for t in own if _holds(o.region.polygon, t)] for o in wall.openings}
        taken = {id(t) for ts in inside.values() for t in ts}
        outer = [t for t in own if id(t) not in taken] or own
        if len(outer) > 1:
            first, names = outer[0], tuple(t.text.strip() for t in outer)
            notices.append(
                Notice(
                    "NAMES_SEVERAL",
                    message("names-several", wall=wall.id, names=names),
                    layer=first.layer,
                    handle=first.handle,
                    at_in=first.at,
                )
            )
        openings = tuple(
            dataclasses.replace(o, name=_name([t for t in inside[o.id] if t not in outer[:1]]))
            for o in wall.openings
        )
        result.append(dataclasses.replace(wall, name=_name(outer), openings=openings))
    for label in texts:
        if id(label) not in used:
            notices.append(
                Notice(
                    "NAME_UNUSED",
                    message("name-unused", text=label.text.strip()),
                    layer=label.layer,
                    handle=label.handle,
                    at_in=label.at,
                )
            )
    return result


def window_name(wall: Wall, windows: Sequence[Window]) -> str:
    """The name that a window gives to a wall.

    Args:
        wall: The wall, in inches.
        windows: The job's windows, in inches.

    Returns:
        The name of the first that holds the middle of the wall's box; empty where none does.
    """
    x0, y0, x1, y1 = wall.box
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    return next(
        (w.name for w in windows if w.box[0] <= x <= w.box[2] and w.box[1] <= y <= w.box[3]), ""
    )


def _name(labels: Sequence[Label]) -> str:
    return " ".join(labels[0].text.split()) if labels else ""


def _holds(polygon: shapely.MultiPolygon, label: Label) -> bool:
    return bool(polygon.covers(ShapelyPoint(label.at)))
