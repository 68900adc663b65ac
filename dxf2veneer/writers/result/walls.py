"""Walls, openings and corners in plain dicts, for the result file."""

from __future__ import annotations

from dxf2veneer.basics.units import square_feet
from dxf2veneer.geometry import Path, Region
from dxf2veneer.model import CapMark, Conflict, Corner, Edge, OpeningQuantities, WallTakeoff
from dxf2veneer.writers.result.plan import piece_dict
from dxf2veneer.writers.result.shape_values import OutlineJson, Vertex
from dxf2veneer.writers.result.shape_walls import (
    CapJson,
    ConflictJson,
    CornerJson,
    EdgeJson,
    OpeningJson,
    WallJson,
)


def wall_dict(entry: WallTakeoff) -> WallJson:
    """One wall with everything on it.

    Args:
        entry: The wall.

    Returns:
        Its fields, lengths in inches, areas in square feet.
    """
    wall, sums, courses = entry.wall, entry.quantities, entry.courses
    return {
        "id": wall.id,
        "name": wall.name,
        "drawing": wall.drawing,
        "layer": wall.layer,
        "handles": list(wall.handles),
        "box_in": list(wall.box),
        "outline_in": _outline(wall.region),
        "level_y_in": wall.level_y,
        "caps": [_cap(cap) for cap in wall.caps],
        "gross_area_sqft": square_feet(sums.gross_area),
        "opening_area_sqft": square_feet(sums.opening_area),
        "deducted_area_sqft": square_feet(sums.deducted_area),
        "trim_area_sqft": square_feet(sums.trim_area),
        "cap_area_sqft": square_feet(sums.cap_area),
        "net_area_sqft": square_feet(sums.net_area),
        "perimeter_in": sums.perimeter,
        "base_run_in": sums.base_run,
        "cap_run_in": sums.cap_run,
        "rake_run_in": sums.rake_run,
        "starter_run_in": sums.starter_run,
        "starter_y_in": courses.starter_y,
        "starter_from": courses.starter_from,
        "turn": courses.turn,
        "edges": [_edge(e) for e in wall.edges],
        "openings": [_opening(o) for o in sums.openings],
        "courses": [
            {"index": c.index, "number": courses.number(c.index), "y0_in": c.y0, "y1_in": c.y1}
            for c in courses.courses
        ],
        "conflicts": [_conflict(c) for c in courses.conflicts],
        "pieces": [piece_dict(wall.id, p) for p in courses.pieces],
    }


def _outline(region: Region) -> list[OutlineJson]:
    return [
        {"outer": _ring(part.outer), "holes": [_ring(hole) for hole in part.holes]}
        for part in region.parts
    ]


def _ring(path: Path) -> list[Vertex]:
    return [list(vertex) for vertex in path.vertices]


def _cap(cap: CapMark) -> CapJson:
    return {"x0_in": cap.x0, "x1_in": cap.x1, "y_in": cap.y, "handle": cap.handle}


def _edge(edge: Edge) -> EdgeJson:
    return {
        "side": edge.side,
        "x_in": edge.x,
        "y0_in": edge.y0,
        "y1_in": edge.y1,
        "kind": edge.kind,
        "corner": edge.corner,
        "tag": edge.tag,
        "handle": edge.handle,
    }


def _opening(measured: OpeningQuantities) -> OpeningJson:
    opening = measured.opening
    return {
        "id": opening.id,
        "kind": opening.kind,
        "name": opening.name,
        "handles": list(opening.handles),
        "part_of": opening.part_of or None,
        "touches_base": opening.touches_base,
        "area_sqft": square_feet(measured.area),
        "width_in": measured.width,
        "height_in": measured.height,
        "head_y_in": measured.head_y,
        "sill_y_in": measured.sill_y,
        "outline_in": _outline(opening.region),
        "deducted": measured.deducted,
        "perimeter_in": measured.perimeter,
        "trim": {
            "head_in": measured.trim_head,
            "jambs_in": measured.trim_jambs,
            "sill_in": measured.trim_sill,
        },
    }


def _conflict(conflict: Conflict) -> ConflictJson:
    return {
        "what": conflict.what,
        "opening": conflict.opening,
        "course": conflict.course,
        "x0_in": conflict.x0,
        "x1_in": conflict.x1,
        "y_in": conflict.y,
        "strip_in": conflict.strip,
        "sliver": conflict.sliver,
        "move_up_in": conflict.move_up,
        "move_down_in": conflict.move_down,
    }


def corner_dict(corner: Corner) -> CornerJson:
    """A corner of the building.

    Args:
        corner: The corner.

    Returns:
        Its fields, lengths in inches.
    """
    return {
        "id": corner.id,
        "kind": corner.kind,
        "run_in": corner.run,
        "edges": list(corner.edges),
        "tag": corner.tag,
    }
