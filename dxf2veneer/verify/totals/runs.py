"""Runs against the edges they lie at, and totals against the walls they sum."""

from __future__ import annotations

import dataclasses
import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

import shapely

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CHECK_CRUMB_SQIN, CHECK_JOIN_IN, LEVEL_SLOPE
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry.boundary import merged
from dxf2veneer.model import Corner, Edge, Takeoff, WallTakeoff
from dxf2veneer.verify.totals.comparing import compare, mismatch, within

_CORNERS = ("outside", "inside", "mitre")
_OF_OPENINGS = ("trim_head", "trim_jambs", "trim_sill")
"""Totals that are summed over openings; the others are summed over walls."""


def check_starter(walls: Sequence[WallTakeoff], job: Job) -> Iterator[Notice]:
    """Starter strip is no longer than the base, and as long as the stretches where it runs.

    It is no shorter than what doors and their jamb stones leave of the wall's width.

    Args:
        walls: The walls with quantities and starter lines, in inches.
        job: The width of jamb stones.

    Yields:
        What does not agree.
    """
    for one in walls:
        wall, q = one.wall, one.quantities
        # the base counts a stretch by its ends, an arc too
        reach = ([x for x, _, _ in p.outer.vertices] for p in wall.region.parts)
        width = math.fsum(b - a for a, b in merged((min(xs), max(xs)) for xs in reach))
        lean = LEVEL_SLOPE * math.fsum(e.length for e in wall.edges)
        doors = math.fsum(
            o.width + 2.0 * job.trim.jambs for o in q.openings if o.opening.touches_base
        )
        what = message("starter-run-of-wall", wall=wall.id)
        least = max(0.0, width - lean - doors)
        by_width = message("by-width-less-doors-and-base")
        yield from within(what, q.starter_run, least, q.base_run, by_width, wall=wall)
        lines = one.courses.starter_lines
        drawn = math.fsum(line.x1 - line.x0 for line in lines)
        slack, by_lines = CHECK_JOIN_IN * len(lines), message("by-starter-stretches")
        yield from compare(what, q.starter_run, drawn, by_lines, slack=slack, wall=wall)


def check_caps(walls: Sequence[WallTakeoff], product: Product) -> Iterator[Notice]:
    """Caps run where they cover the wall, no farther than their lines are marked, and cover no more
    than their run and height.

    Args:
        walls: The walls with their quantities, in inches.
        product: The height of its caps.

    Yields:
        What does not agree.
    """
    for one in walls:
        wall, q = one.wall, one.quantities
        marked = math.fsum(c.x1 - c.x0 for c in wall.caps)
        shapes = shapely.bounds(shapely.get_parts(q.cap_region.polygon)).tolist()
        covered = math.fsum(b - a for a, b in merged((a, b) for a, _, b, _ in shapes))
        slack = CHECK_JOIN_IN * max(1, len(q.cap_spans))
        what, by_lines = message("cap-run-of-wall", wall=wall.id), message("by-ground-and-lines")
        yield from within(what, q.cap_run, covered - slack, marked + slack, by_lines, wall=wall)
        most = q.cap_run * product.cap.height + CHECK_CRUMB_SQIN
        what, by_run = message("cap-area-of-wall", wall=wall.id), message("by-run-and-height")
        yield from within(what, q.cap_area, 0.0, most, by_run, wall=wall)


def check_corners(walls: Sequence[WallTakeoff], corners: Sequence[Corner]) -> Iterator[Notice]:
    """Every corner is as high as the higher of its sides; every marked edge belongs to one corner.

    Args:
        walls: The walls with their edges, in inches.
        corners: The corners of the job.

    Yields:
        What does not agree.
    """
    edges: dict[str, list[tuple[str, Edge]]] = defaultdict(list)
    for one in walls:
        for edge in one.wall.edges:
            if edge.corner is not None:
                edges[edge.corner].append((one.wall.id, edge))
            elif edge.kind in _CORNERS:
                what = message(
                    "edge-of-no-corner",
                    edge=edge.kind,
                    side=edge.side,
                    wall=one.wall.id,
                    x_in=edge.x,
                )
                yield mismatch(what, one.wall)
    times = Counter(c.id for c in corners)
    for corner in corners:
        own = edges.pop(corner.id, [])
        sides = [
            math.fsum(e.length for _, e in own if e.side == side) for side in ("left", "right")
        ]
        what = message("run-of-corner", corner=corner.id)
        yield from compare(what, corner.run, max(sides), message("by-its-edges"))
        if (
            {(wall, e.side) for wall, e in own} != set(corner.edges)
            or {e.kind for _, e in own} != {corner.kind}
            or times[corner.id] > 1
        ):
            yield mismatch(message("corner-joins-other-edges", corner=corner.id))
    for id_, own in edges.items():
        named = tuple(wall for wall, _ in own)
        yield mismatch(message("edges-name-no-corner", walls=named, corner=id_))


def check_totals(takeoff: Takeoff) -> Iterator[Notice]:
    """Each total is the sum of its column, and the totals of areas agree among themselves.

    Args:
        takeoff: The finished takeoff.

    Yields:
        What does not agree.
    """
    totals, measured = takeoff.totals, [w.quantities for w in takeoff.walls]
    openings = [o for q in measured for o in q.openings]
    by_column = message("as-column-sum")
    for field in dataclasses.fields(totals):
        if field.name == "openings":
            wholes = {o.opening.part_of or o.opening.id for o in openings}
            column: Sequence[float] = [1.0 for _ in wholes]
        else:
            rows = openings if field.name in _OF_OPENINGS else measured
            column = [getattr(row, field.name) for row in rows]
        what = message("total-of-field", field=field.name)
        yield from compare(what, getattr(totals, field.name), math.fsum(column), by_column)
    parts = totals.net_area + totals.deducted_area + totals.trim_area + totals.cap_area
    what = message("total-of-field", field="gross_area")
    yield from compare(what, totals.gross_area, parts, message("as-net-area-and-what-came-off"))
