"""Runs against the edges they lie at, and totals against the walls they sum."""

from __future__ import annotations

import dataclasses
import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from dxf2veneer.config.job import Job
from dxf2veneer.geometry.boundary import LEVEL_SLOPE, merged
from dxf2veneer.model import Corner, Edge, Takeoff, WallTakeoff
from dxf2veneer.notices import Notice
from dxf2veneer.tolerances import CHECK_JOIN_IN
from dxf2veneer.verify.totals.comparing import compare, mismatch, within

_CORNERS = ("outside", "inside", "mitre")


def check_starter(walls: Sequence[WallTakeoff], job: Job) -> Iterator[Notice]:
    """Starter strip is no longer than the base, no shorter than what doors and their jamb stones leave of the
    wall's width, and as long as the stretches where it runs."""
    for one in walls:
        wall, q = one.wall, one.quantities
        reach = (
            [x for x, _, _ in p.outer.vertices] for p in wall.region.parts
        )  # the base counts a stretch by its ends, an arc too
        width = math.fsum(b - a for a, b in merged((min(xs), max(xs)) for xs in reach))
        lean = LEVEL_SLOPE * math.fsum(e.length for e in wall.edges)
        doors = math.fsum(
            o.width + 2.0 * job.trim.jambs for o in q.openings if o.opening.touches_base
        )
        least = max(0.0, width - lean - doors)
        yield from within(
            f"starter run of {wall.id}",
            q.starter_run,
            least,
            q.base_run,
            "its width less doors and its base",
            wall=wall,
        )
        lines = one.courses.starter_lines
        drawn = math.fsum(line.x1 - line.x0 for line in lines)
        slack = CHECK_JOIN_IN * len(lines)
        yield from compare(
            f"starter run of {wall.id}",
            q.starter_run,
            drawn,
            "by the stretches where it runs",
            slack=slack,
            wall=wall,
        )


def check_corners(walls: Sequence[WallTakeoff], corners: Sequence[Corner]) -> Iterator[Notice]:
    """Every corner is as high as the higher of its two sides, and every marked edge belongs to one corner."""
    edges: dict[str, list[tuple[str, Edge]]] = defaultdict(list)
    for one in walls:
        for edge in one.wall.edges:
            if edge.corner is not None:
                edges[edge.corner].append((one.wall.id, edge))
            elif edge.kind in _CORNERS:
                yield mismatch(
                    f"the {edge.kind} {edge.side} edge of {one.wall.id} at x = {edge.x:.10g} in belongs to no corner",
                    one.wall,
                )
    times = Counter(c.id for c in corners)
    for corner in corners:
        own = edges.pop(corner.id, [])
        sides = [
            math.fsum(e.length for _, e in own if e.side == side) for side in ("left", "right")
        ]
        yield from compare(f"run of corner {corner.id}", corner.run, max(sides), "by its edges")
        if (
            {(wall, e.side) for wall, e in own} != set(corner.edges)
            or {e.kind for _, e in own} != {corner.kind}
            or times[corner.id] > 1
        ):
            yield mismatch(f"corner {corner.id} does not join the edges that name it")
    for id in edges:
        yield mismatch(
            f"edges of {', '.join(wall for wall, _ in edges[id])} name corner {id}, which is not there"
        )


def check_totals(takeoff: Takeoff) -> Iterator[Notice]:
    """Each total is the sum of its column, and the totals of areas agree among themselves."""
    totals, measured = takeoff.totals, [w.quantities for w in takeoff.walls]
    openings = [o for q in measured for o in q.openings]
    for field in dataclasses.fields(totals):
        if field.name == "openings":
            column: Sequence[float] = [1.0 for _ in openings]
        else:
            column = [
                getattr(row, field.name)
                for row in (
                    openings
                    if field.name.startswith("trim_") and field.name != "trim_area"
                    else measured
                )
            ]
        yield from compare(
            f"total {field.name}",
            getattr(totals, field.name),
            math.fsum(column),
            "as the sum of its column",
        )
    parts = totals.net_area + totals.deducted_area + totals.trim_area + totals.cap_area
    yield from compare(
        "total gross area", totals.gross_area, parts, "as net area and what came off"
    )
