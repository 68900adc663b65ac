"""The takeoff as JSON, for other programs.

Lengths are inches, areas square feet, in keys that say so; x and y are the drawing's own
coordinates in inches. ``docs/result.schema.json`` describes every field. Numbers are not rounded,
and the same takeoff gives the same bytes.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any, cast

from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.product import Product
from dxf2veneer.model import Assumption, Drawing, Part, Takeoff
from dxf2veneer.textio.escaping import for_json, legible
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTIONS
from dxf2veneer.writers.basis import (
    assumption_words,
    product_file,
    setting_origin_line,
    to_check,
)
from dxf2veneer.writers.result.choices import choices_dict
from dxf2veneer.writers.result.message_data import message_data, values_data
from dxf2veneer.writers.result.order import (
    bid_dict,
    order_dicts,
    order_totals,
    setting_value,
    share_dict,
)
from dxf2veneer.writers.result.plan import by_area_dict, start_dict, stock_dict
from dxf2veneer.writers.result.shape import (
    AssumptionJson,
    DrawingJson,
    NoticeJson,
    PartJson,
    ProductJson,
    ResultJson,
    TotalsJson,
)
from dxf2veneer.writers.result.site import site_dict
from dxf2veneer.writers.result.walls import corner_dict, wall_dict
from dxf2veneer.writers.words import LEVEL_WORDS, alert_words, file_name

SCHEMA = "dxf2veneer-takeoff-1"
"""Name of the format."""


def write_result(takeoff: Takeoff, path: Path) -> None:
    """Write the takeoff as UTF-8 JSON, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: The file to write.

    Raises:
        ValueError: A quantity is not a finite number.
        OSError: Nothing can be written there.
    """
    sealed = {"schema": SCHEMA, "made_by": BLANK_SEAL} | result_dict(takeoff)
    text = for_json(json.dumps(sealed, indent=2, ensure_ascii=False, allow_nan=False)) + "\n"
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def result_dict(takeoff: Takeoff) -> ResultJson:
    """The takeoff in plain dicts, lists, strings and numbers.

    Args:
        takeoff: The takeoff.

    Returns:
        What ``write_result`` writes but for the seal: lengths in inches, areas in square feet.
    """
    job, plan, order = takeoff.job, takeoff.plan, takeoff.order
    display = job.output.display
    result: ResultJson = {
        "schema": "dxf2veneer-takeoff-1",
        "alert": alert_words(takeoff),
        "job": {
            key: {
                "value": setting_value(value),
                "from": setting_origin_line(job, key),
                "from_data": message_data(job.origin_of(key).place()),
            }
            for key, value in job.items().items()
        },
        "product": _product(takeoff.product),
        "drawings": [_drawing(d) for d in takeoff.drawings],
        "walls": [wall_dict(w) for w in takeoff.walls],
        "corners": [corner_dict(c) for c in takeoff.corners],
        "panels_by": "area" if plan is None else "plan",
        "stock": None if plan is None else stock_dict(plan, takeoff.estimate, display, order),
        "plans": None if takeoff.choices is None else choices_dict(takeoff.choices),
        "hand_changes": [
            {
                "sheet": change.sheet,
                "row": change.row,
                "heading": change.heading,
                "computed": change.computed,
                "by_hand": change.by_hand,
                "kept": change.fits,
            }
            for change in takeoff.hand_changes
        ],
        "site": None if takeoff.site is None else site_dict(takeoff.site, takeoff.changes),
        "panels_by_area": by_area_dict(takeoff.estimate),
        "starts": [start_dict(table) for table in takeoff.starts],
        "order": None if order is None else order_dicts(order, display),
        "bid": None if order is None else bid_dict(order, display),
        "shares": [share_dict(one) for one in takeoff.elevations],
        "totals": _totals(takeoff),
        "check_first": [
            {"rests_on": str(one.kind), "settings": [a.key for a in one.of]}
            for one in to_check(takeoff)
        ],
        "assumptions": [_assumption(a, display) for a in takeoff.assumptions],
        "cautions": [say(caution, display) for caution in takeoff.cautions],
        "cautions_by_reader": [
            {"reader": str(reader), "caution": text} for reader, text in CAUTIONS.items()
        ],
        "notices": [_notice(n, display) for n in takeoff.notices],
    }
    if takeoff.parts:
        result["products"] = [_part(part) for part in takeoff.parts]
    return cast(ResultJson, _plain(result))


def _assumption(assumption: Assumption, display: str) -> AssumptionJson:
    words, basis = assumption_words(assumption, display), assumption.basis
    return {
        "key": words.name,
        "setting": assumption.key,
        "value": words.value,
        "value_data": values_data([("value", assumption.value)]),
        "from": words.origin,
        "from_data": message_data(assumption.origin.place()),
        "effect": words.effect,
        "effect_data": message_data(assumption.effect),
        "rests_on": str(basis.kind) if basis else None,
        "rests_on_note": basis.note if basis else "",
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


def _part(part: Part) -> PartJson:
    plan = part.plan
    return {
        "product": _product(part.product),
        "walls": list(part.walls),
        "flat": None if plan is None else plan.flat.units,
        "corner": None if plan is None else plan.corner.units,
        "lower_bound": None if plan is None else plan.bound,
    }


def _product(product: Product) -> ProductJson:
    return {
        "file": product_file(product),
        "name": product.product.name,
        "origin": product.product.origin,
        "panel_length_in": product.panel.length,
        "panel_height_in": product.panel.height,
        "cap_height_in": product.cap.height,
    }


def _drawing(drawing: Drawing) -> DrawingJson:
    return {
        "file": file_name(drawing),
        "sha256": drawing.sha256,
        "dxf_version": drawing.dxf_version,
        "units": drawing.units,
        "units_from": drawing.units_from,
        "inches_per_unit": drawing.inches_per_unit,
        "layers": [layer.name for layer in drawing.layers],
    }


def _totals(takeoff: Takeoff) -> TotalsJson:
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


def _notice(notice: Notice, display: str) -> NoticeJson:
    place = notice.at_in
    made: NoticeJson = {
        "level": LEVEL_WORDS[notice.level],
        "code": notice.code,
        "message": say(notice.message, display),
        "message_data": message_data(notice.message),
        "drawing": notice.drawing,
        "layer": notice.layer,
        "handle": notice.handle,
        "at_in": list(place) if place and all(map(math.isfinite, place)) else None,
    }
    return {**made, "count": notice.count} if notice.count > 1 else made
