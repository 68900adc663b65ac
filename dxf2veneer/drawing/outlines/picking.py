"""What the user points at: windows that hold an elevation, and faces that are openings or walls.

Where walls and openings share one layer nobody but the user knows which face is which. One mark in
each opening is enough: everything else inside the outer boundary is wall.

     _______________________
    |_______________________|     x  an opening mark: the face round it, up to the nearest lines
    |____|     |____________|
    |____|  x  |____________|     a window is a box in the drawing's units; lines that cross its
    |____|_____|____________|     border are cut there
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import shapely
from shapely.geometry import Polygon

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import ENDS_MEET_IN, FLATTEN_IN, TOUCH_IN
from dxf2veneer.drawing.notice_collector import Report
from dxf2veneer.drawing.outlines.loops import noded_faces
from dxf2veneer.drawing.outlines.tidying import polygon_of
from dxf2veneer.geometry import Path, Point, Segment
from dxf2veneer.geometry.chords import meetings
from dxf2veneer.model import Label, Shape

Box = tuple[float, float, float, float]


def crop(shapes: Iterable[Shape], windows: Sequence[Box], report: Report) -> list[Shape]:
    """The shapes inside some windows.

    Open ones are cut at the border; a closed one that crosses it is reported and left out.

    Args:
        shapes: The shapes, in inches.
        windows: The boxes (x0, y0, x1, y1), in inches.
        report: Takes the notices.

    Returns:
        What lies inside.
    """
    kept: list[Shape] = []
    for shape in shapes:
        if not shape.path.closed:
            kept += [part for window in windows for part in _parts_in(shape, window)]
        elif any(_within(shape.path.box, w) for w in windows):
            kept.append(shape)
        elif any(_overlap(shape.path.box, w) for w in windows):
            x0, y0, x1, y1 = shape.path.box
            report(
                "WINDOW_CROSSED",
                message("window-crossed", kind=shape.entity),
                layer=shape.layer,
                handle=shape.handle,
                at=((x0 + x1) / 2, (y0 + y1) / 2),
            )
    return kept


def border_lines(shapes: Sequence[Shape], window: Box) -> list[Shape]:
    """The parts of a window's border that close what it cut.

    On each side of the border they reach from the first to the last line that ends there. Where a
    single line ends on each of two neighboring sides, they run round the corner between them.

    Args:
        shapes: Open shapes that were cut at the border, in inches.
        window: The box (x0, y0, x1, y1), in inches.

    Returns:
        Straight lines along the border, on the layer of a shape that ends there.
    """
    corners = shapely.box(*window).exterior.coords
    sides = [shapely.LineString(pair) for pair in pairwise(corners)]
    ends = [
        (s, shapely.Point(at))
        for s in shapes
        for at in (s.path.segments[0].start, s.path.segments[-1].end)
    ]
    on_side = [[(s, p) for s, p in ends if side.distance(p) <= ENDS_MEET_IN] for side in sides]
    lines: list[tuple[Shape, list[Point]]] = []
    for side, found in zip(sides, on_side, strict=True):
        places = sorted(side.project(p) for _, p in found)
        if places and places[-1] - places[0] > ENDS_MEET_IN:
            reach = [side.interpolate(place) for place in (places[0], places[-1])]
            lines.append((found[0][0], [(p.x, p.y) for p in reach]))
    for i, found in enumerate(on_side):
        after = on_side[(i + 1) % 4]
        if len(found) == len(after) == 1 and sum(map(len, on_side)) == 2:
            (shape, first), (_, last) = found[0], after[0]
            corner = corners[i + 1]
            lines.append((shape, [(first.x, first.y), corner[:2], (last.x, last.y)]))
    return [
        Shape(Path.polygon(points, closed=False), s.layer, s.handle, "window border")
        for s, points in lines
    ]


def labels_in(labels: Iterable[Label], windows: Sequence[Box]) -> list[Label]:
    """The labels whose insertion point lies in a window.

    Args:
        labels: The labels, in inches.
        windows: The boxes (x0, y0, x1, y1), in inches.

    Returns:
        Those inside, in the same order.
    """
    return [t for t in labels if any(_holds(w, t.at) for w in windows)]


def _parts_in(shape: Shape, window: Box) -> list[Shape]:
    if _within(shape.path.box, window):
        return [shape]
    if not _overlap(shape.path.box, window):
        return []
    border = Path.box_of(*window).segments
    inside = [
        p for s in shape.path.segments for p in _cut(s, border) if _holds(window, p.point_at(0.5))
    ]
    return [replace(shape, path=Path.chain([p], closed=False)) for p in inside]


def _cut(segment: Segment, border: Sequence[Segment]) -> tuple[Segment, ...]:
    """The segment cut where it crosses the border."""
    crossings = [p for b in border for p in _crossings(segment, b)]
    return segment.split(segment.fraction_of(p) for p in crossings)


def _crossings(segment: Segment, border: Segment) -> list[Point]:
    if segment.is_arc:
        return meetings(segment, border, touch_in=ENDS_MEET_IN)
    across = 0 if border.start[0] == border.end[0] else 1
    start, end, at = segment.start[across], segment.end[across], border.start[across]
    if start == end or not min(start, end) < at < max(start, end):
        return []
    f = (at - start) / (end - start)
    other = segment.start[1 - across] + f * (segment.end[1 - across] - segment.start[1 - across])
    return [(at, other) if across == 0 else (other, at)]


def _within(box: Box, window: Box) -> bool:
    return _holds(window, box[:2]) and _holds(window, box[2:])


def _holds(window: Box, point: Point) -> bool:
    x0, y0, x1, y1 = window
    return x0 - TOUCH_IN <= point[0] <= x1 + TOUCH_IN and y0 - TOUCH_IN <= point[1] <= y1 + TOUCH_IN


def _overlap(box: Box, window: Box) -> bool:
    return (
        box[0] <= window[2] and box[2] >= window[0] and box[1] <= window[3] and box[3] >= window[1]
    )


# ------------------------------------------------------------------- faces


@dataclass(frozen=True)
class Face:
    """A face between lines: a point inside it, its size and area, in the shapes' unit."""

    at: Point
    """A point inside."""
    width: float
    """Of its box."""
    height: float
    """Of its box."""
    area: float
    """In square units."""

    def scaled(self, factor: float) -> Face:
        """The face in another unit."""
        x, y = self.at
        return Face(
            (x * factor, y * factor),
            self.width * factor,
            self.height * factor,
            self.area * factor * factor,
        )


def faces(shapes: Sequence[Shape], *, gap_in: float) -> list[Face]:
    """Every face that some shapes bound.

    Args:
        shapes: The shapes, open or closed.
        gap_in: The widest gap that is closed, in the shapes' unit.

    Returns:
        The faces, largest first, in the shapes' unit. The point of each is one that picks it as an
        opening: it lies in no smaller face.
    """
    outlines = noded_faces(shapes, gap_in=gap_in)
    polygons = [polygon_of(o.path, rise_in=FLATTEN_IN) for o in outlines]
    tree = shapely.STRtree(polygons)
    found = []
    for outline, polygon in zip(outlines, polygons, strict=True):
        inner = [polygons[i] for i in tree.query(polygon, predicate="contains")]
        smaller = [p for p in inner if p.area < polygon.area]
        point = polygon.difference(shapely.union_all(smaller)).representative_point()
        if point.is_empty:
            continue
        x0, y0, x1, y1 = outline.path.box
        found.append(Face((point.x, point.y), x1 - x0, y1 - y0, outline.path.area))
    return sorted(found, key=lambda f: (-f.area, f.at))


def pick_openings(
    shapes: Sequence[Shape], points: Sequence[Point], *, gap_in: float, report: Report
) -> list[Shape]:
    """The face round each point as an opening; points in one face make one opening.

    Args:
        shapes: What bounds the faces, in inches.
        points: The points, in inches.
        gap_in: The widest gap that is closed, in inches.
        report: Takes a notice of each point in no face.

    Returns:
        The openings, marked as picked.
    """
    if not points:
        return []
    outlines = noded_faces(shapes, gap_in=gap_in)
    polygons = [polygon_of(o.path, rise_in=FLATTEN_IN) for o in outlines]
    tree = shapely.STRtree(polygons)
    chosen: dict[int, Shape] = {}
    for point in points:
        inside = sorted(
            tree.query(shapely.Point(point), predicate="within"), key=lambda i: polygons[i].area
        )
        if inside:
            chosen[int(inside[0])] = replace(outlines[int(inside[0])], picked=True)
        else:
            report("MARK_UNUSED", message("mark-in-no-face"), at=point)
    return list(chosen.values())


def pick_walls(outlines: Sequence[Shape], points: Sequence[Point], report: Report) -> list[Shape]:
    """The wall outlines that hold a point; all of them where there is none.

    Args:
        outlines: Outlines of walls, in inches.
        points: The points, in inches.
        report: Takes a notice of each point in no outline.

    Returns:
        The outlines in the same order.
    """
    if not points:
        return list(outlines)
    polygons = [
        polygon_of(o.path, rise_in=FLATTEN_IN) if o.path.closed else Polygon() for o in outlines
    ]
    kept = set()
    for point in points:
        holding = [i for i, p in enumerate(polygons) if p.covers(shapely.Point(point))]
        kept.update(holding)
        if not holding:
            report("MARK_UNUSED", message("mark-in-no-wall"), at=point)
    return [o for i, o in enumerate(outlines) if i in kept]
