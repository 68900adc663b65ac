"""The takeoff as JSON, for other programs.

Lengths are inches, areas square feet, in keys that say so; x and y are the drawing's own coordinates
in inches. ``docs/result.schema.json`` describes every field. Numbers are not rounded, and the same
takeoff gives the same bytes.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

from dxf2veneer.model import (
    Assumption,
    Conflict,
    Corner,
    Drawing,
    Edge,
    OpeningQuantities,
    Takeoff,
    WallTakeoff,
)
from dxf2veneer.notices import Notice
from dxf2veneer.textio.escaping import for_json, legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.units import square_feet
from dxf2veneer.wording import say
from dxf2veneer.writers.result.order import bid_dict, order_dicts, order_totals, setting_value
from dxf2veneer.writers.result.plan import piece_dict, start_dict, stock_dict
from dxf2veneer.writers.words import LEVEL_WORDS, file_name

SCHEMA = "dxf2veneer-takeoff-1"


def write_result(takeoff: Takeoff, path: Path) -> None:
    """Write the takeoff as UTF-8 JSON, whole or not at all.

    Raises ValueError where a quantity is not a finite number, and OSError where nothing can be written.
    """
    sealed = {"schema": SCHEMA, "made_by": BLANK_SEAL} | result_dict(takeoff)
    text = for_json(json.dumps(sealed, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def result_dict(takeoff: Takeoff) -> dict[str, Any]:
    """The takeoff in plain dicts, lists, strings and numbers, as ``write_result`` writes it but for the seal."""
    job = takeoff.job
    result = {
        "schema": SCHEMA,
        "job": {
            key: {"value": setting_value(value), "from": say(job.origin_of(key).place())}
            for key, value in job.items().items()
        },
        "product": _product(takeoff),
        "drawings": [_drawing(d) for d in takeoff.drawings],
        "walls": [_wall(w) for w in takeoff.walls],
        "corners": [_corner(c) for c in takeoff.corners],
        "panels_by": "area" if takeoff.plan is None else "plan",
        "stock": None if takeoff.plan is None else stock_dict(takeoff.plan, job.output.display),
        "starts": [start_dict(table) for table in takeoff.starts],
        "order": None if takeoff.order is None else order_dicts(takeoff.order, job.output.display),
        "bid": None if takeoff.order is None else bid_dict(takeoff.order, job.output.display),
        "totals": _totals(takeoff),
        "assumptions": [
            _assumption(a, job.output.display) for a in takeoff.assumptions
        ],
        "cautions": list(takeoff.cautions),
        "notices": [_notice(n, job.output.display) for n in takeoff.notices],
    }
    plain: dict[str, Any] = _plain(result)
    return plain


def _assumption(assumption: Assumption, display: str) -> dict[str, Any]:
    return {
        "key": say(assumption.name, display),
        "value": setting_value_text(assumption.value, display),
        "from": say(assumption.origin.place()),
        "effect": say(assumption.effect, display),
    }


def _plain(value: Any) -> Any:
    """The value with every string legible and every tuple a list."""
    if isinstance(value, str):
        return legible(value)
    if isinstance(value, dict):
        return {legible(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    return value


def _product(takeoff: Takeoff) -> dict[str, Any]:
    product = takeoff.product
    return {
        "file": say(product.origin.place()),
        "name": product.product.name,
        "origin": product.product.origin,
        "panel_length_in": product.panel.length,
        "panel_height_in": product.panel.height,
        "cap_height_in": product.cap.height,
    }


def _drawing(drawing: Drawing) -> dict[str, Any]:
    return {
        "file": file_name(drawing),
        "sha256": drawing.sha256,
        "dxf_version": drawing.dxf_version,
        "units": drawing.units,
        "units_from": drawing.units_from,
        "inches_per_unit": drawing.inches_per_unit,
    }


def _wall(entry: WallTakeoff) -> dict[str, Any]:
    wall, sums, courses = entry.wall, entry.quantities, entry.courses
    return {
        "id": wall.id,
        "name": wall.name,
        "drawing": wall.drawing,
        "layer": wall.layer,
        "handles": list(wall.handles),
        "box_in": list(wall.box),
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
        "courses": [{"index": c.index, "y0_in": c.y0, "y1_in": c.y1} for c in courses.courses],
        "conflicts": [_conflict(c) for c in courses.conflicts],
        "pieces": [piece_dict(wall.id, p) for p in courses.pieces],
    }


def _edge(edge: Edge) -> dict[str, Any]:
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


def _opening(measured: OpeningQuantities) -> dict[str, Any]:
    opening = measured.opening
    return {
        "id": opening.id,
        "kind": opening.kind,
        "name": opening.name,
        "handles": list(opening.handles),
        "area_sqft": square_feet(measured.area),
        "width_in": measured.width,
        "height_in": measured.height,
        "head_y_in": measured.head_y,
        "sill_y_in": measured.sill_y,
        "deducted": measured.deducted,
        "perimeter_in": measured.perimeter,
        "trim": {
            "head_in": measured.trim_head,
            "jambs_in": measured.trim_jambs,
            "sill_in": measured.trim_sill,
        },
    }


def _conflict(conflict: Conflict) -> dict[str, Any]:
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


def _corner(corner: Corner) -> dict[str, Any]:
    return {
        "id": corner.id,
        "kind": corner.kind,
        "run_in": corner.run,
        "edges": [list(edge) for edge in corner.edges],
        "tag": corner.tag,
    }


def _totals(takeoff: Takeoff) -> dict[str, Any]:
    totals = takeoff.totals
    return {
        "gross_area_sqft": square_feet(totals.gross_area),
        "opening_area_sqft": square_feet(totals.opening_area),
        "deducted_area_sqft": square_feet(totals.deducted_area),
        "trim_area_sqft": square_feet(totals.trim_area),
        "cap_area_sqft": square_feet(totals.cap_area),
        "net_area_sqft": square_feet(totals.net_area),
        "outside_corner_run_in": takeoff.corner_run("outside"),
        "inside_corner_run_in": takeoff.corner_run("inside"),
        "mitre_corner_run_in": takeoff.corner_run("mitre"),
        "end_run_in": takeoff.end_run,
        "base_run_in": totals.base_run,
        "starter_run_in": totals.starter_run,
        "cap_run_in": totals.cap_run,
        "rake_run_in": totals.rake_run,
        "trim_head_in": totals.trim_head,
        "trim_jamb_in": totals.trim_jambs,
        "trim_sill_in": totals.trim_sill,
        "openings": totals.openings,
        **order_totals(takeoff.order),
    }


def _notice(notice: Notice, display: str) -> dict[str, Any]:
    place = notice.at_in
    return {
        "level": LEVEL_WORDS[notice.level],
        **({"count": notice.count} if notice.count > 1 else {}),
        "code": notice.code,
        "message": say(notice.message, display),
        "drawing": notice.drawing,
        "layer": notice.layer,
        "handle": notice.handle,
        "at_in": list(place) if place and all(map(math.isfinite, place)) else None,
    }
