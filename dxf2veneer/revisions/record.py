"""A takeoff as its result file records it."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path as File
from typing import Any

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.geometry import Path, Region, RegionPart
from dxf2veneer.model import (
    CapMark,
    Corner,
    Edge,
    Figures,
    Opening,
    OpeningQuantities,
    Recorded,
    RecordedDrawing,
    RecordedHandChange,
    RecordedLine,
    RecordedWall,
    Wall,
)

RESULT = "dxf2veneer-takeoff-1"
"""The name of the format that is read."""
_Json = Mapping[str, Any]
_PANELS = ("flat_panel", "corner_panel")


def load_recorded(path: File) -> Recorded:
    """Read a result file.

    Args:
        path: The file (JSON).

    Returns:
        What it records.

    Raises:
        SettingsError: It can't be read, is no result of a takeoff, or was written by a version
            that did not record outlines.
    """
    try:
        result = json.loads(path.read_bytes().decode("utf-8-sig"))
    except FileNotFoundError:
        raise SettingsError(message("file-missing", file=str(path))) from None
    except OSError as error:
        why = error.strerror or str(error)
        raise SettingsError(message("earlier-unreadable", file=str(path), why=why)) from None
    except (ValueError, RecursionError):
        raise SettingsError(message("earlier-not-json", file=str(path))) from None
    if not isinstance(result, dict) or result.get("schema") != RESULT:
        raise SettingsError(message("earlier-no-result", file=str(path), schema=RESULT))
    try:
        if any("outline_in" not in wall for wall in result["walls"]):
            raise SettingsError(message("result-without-outlines", file=str(path)))
        return recorded(result, path.name)
    except (KeyError, TypeError, ValueError, AttributeError, IndexError, ArithmeticError):
        raise SettingsError(message("earlier-no-result", file=str(path), schema=RESULT)) from None


def recorded(result: _Json, source: str) -> Recorded:
    """What a result records.

    Args:
        result: The result as its file holds it.
        source: What to call it.

    Returns:
        Walls, openings, corners and amounts.
    """
    bid = result["bid"]
    return Recorded(
        source=source,
        display=str(result["job"]["output.display"]["value"]),
        currency=str(bid["currency"]) if bid else "",
        drawings=tuple(_drawing(d) for d in result["drawings"]),
        walls=tuple(_walls(result)),
        corners=tuple(_corner(c) for c in result["corners"]),
        totals=_totals(result),
        lines=tuple(_lines(result)),
        hand_changes=tuple(
            RecordedHandChange(*(h[key] for key in _HAND_KEYS)) for h in result["hand_changes"]
        ),
    )


_HAND_KEYS = ("sheet", "row", "heading", "computed", "by_hand", "kept")


# ------------------------------------------------------------------- what is drawn


def _drawing(found: _Json) -> RecordedDrawing:
    return RecordedDrawing(
        file=str(found["file"]),
        sha256=str(found["sha256"]),
        dxf_version=str(found["dxf_version"]),
        units=str(found["units"]),
        inches_per_unit=float(found["inches_per_unit"]),
        layers=tuple(map(str, found["layers"])),
    )


def _region(found: Sequence[_Json]) -> Region:
    return Region(
        tuple(
            RegionPart(_path(part["outer"]), tuple(_path(hole) for hole in part["holes"]))
            for part in found
        )
    )


def _path(ring: Sequence[Sequence[float]]) -> Path:
    return Path(tuple((float(x), float(y), float(bulge)) for x, y, bulge in ring))


def _wall(found: _Json) -> Wall:
    level = found["level_y_in"]
    return Wall(
        id=str(found["id"]),
        name=str(found["name"]),
        drawing=int(found["drawing"]),
        layer=str(found["layer"]),
        handles=tuple(map(str, found["handles"])),
        region=_region(found["outline_in"]),
        openings=tuple(_opening(o) for o in found["openings"]),
        edges=tuple(_edge(e) for e in found["edges"]),
        caps=tuple(
            CapMark(float(c["x0_in"]), float(c["x1_in"]), float(c["y_in"]), str(c["handle"]))
            for c in found["caps"]
        ),
        level_y=None if level is None else float(level),
    )


def _edge(found: _Json) -> Edge:
    return Edge(
        found["side"], float(found["x_in"]), float(found["y0_in"]), float(found["y1_in"]),
        found["kind"], found["corner"], found["tag"], found["handle"],
    )  # fmt: skip


def _opening(found: _Json) -> Opening:
    return Opening(
        id=str(found["id"]),
        kind=found["kind"],
        name=str(found["name"]),
        handles=tuple(map(str, found["handles"])),
        region=_region(found["outline_in"]),
        touches_base=bool(found["touches_base"]),
        part_of=found["part_of"] or "",
    )


def _measured(opening: Opening, found: _Json) -> OpeningQuantities:
    trim = found["trim"]
    return OpeningQuantities(
        opening=opening,
        area=float(found["area_sqft"]) * SQUARE_INCHES_PER_SQUARE_FOOT,
        width=float(found["width_in"]),
        height=float(found["height_in"]),
        head_y=float(found["head_y_in"]),
        sill_y=float(found["sill_y_in"]),
        perimeter=float(found["perimeter_in"]),
        deducted=bool(found["deducted"]),
        trim_head=float(trim["head_in"]),
        trim_jambs=float(trim["jambs_in"]),
        trim_sill=float(trim["sill_in"]),
    )


def _corner(found: _Json) -> Corner:
    edges = tuple((str(wall), side) for wall, side in found["edges"])
    return Corner(str(found["id"]), found["kind"], float(found["run_in"]), edges, found["tag"])


# ------------------------------------------------------------------------- amounts


def _walls(result: _Json) -> Iterator[RecordedWall]:
    stock, weights = result["stock"], _weights(result)
    counts = {one["wall"]: one for one in stock["walls"]} if stock else {}
    shares = {one["wall"]: one for e in result["shares"] for one in e["walls"]}
    for found in result["walls"]:
        wall = _wall(found)
        openings = tuple(map(_measured, wall.openings, found["openings"]))
        count, share = counts.get(wall.id), shares.get(wall.id)
        figures: dict[str, Any] = {
            **{key: float(found[key]) for key in _OWN},
            **_corner_runs(wall.id, result["corners"]),
            "end_run_in": math.fsum(e.length for e in wall.edges if e.kind == "end"),
            **_trim(openings),
            "flat_panels": count and int(count["flat"]),
            "corner_panels": count and int(count["corner"]),
            **(_share(share, weights) if share else dict.fromkeys(_SHARED)),
        }
        yield RecordedWall(wall, openings, figures)


_OWN = (
    "gross_area_sqft", "opening_area_sqft", "deducted_area_sqft", "trim_area_sqft",
    "cap_area_sqft", "net_area_sqft", "base_run_in", "starter_run_in", "cap_run_in", "rake_run_in",
)  # fmt: skip
"""Figures under whose names walls and totals have them."""
_SUMMED = (
    "outside_corner_run_in", "inside_corner_run_in", "mitre_corner_run_in", "end_run_in",
    "trim_head_in", "trim_jamb_in", "trim_sill_in",
)  # fmt: skip
"""Figures under whose names the totals alone have them."""
_SHARED = ("panel_packages", "weight_lb", "labour_hours", "materials", "labour", "price")


def _corner_runs(wall: str, corners: Sequence[_Json]) -> dict[str, float]:
    own = [c for c in corners if c["edges"][0][0] == wall]
    return {
        f"{kind}_corner_run_in": math.fsum(float(c["run_in"]) for c in own if c["kind"] == kind)
        for kind in ("outside", "inside", "mitre")
    }


def _trim(openings: Sequence[OpeningQuantities]) -> dict[str, float]:
    return {
        "trim_head_in": math.fsum(o.trim_head for o in openings),
        "trim_jamb_in": math.fsum(o.trim_jambs for o in openings),
        "trim_sill_in": math.fsum(o.trim_sill for o in openings),
        "openings": sum(not o.opening.part_of for o in openings),
    }


def _weights(result: _Json) -> dict[str, float | None]:
    """Weight of a package by the key of its line; none of what others supply."""
    lines = result["order"] or ()
    return {one["key"]: one["package_weight_lb"] for one in lines if not one["by_others"]}


def _share(share: _Json, weights: Mapping[str, float | None]) -> dict[str, Any]:
    packages = share["packages"]
    parts = [(float(packages.get(key, 0.0)), weight) for key, weight in weights.items()]
    known = None if None in weights.values() else math.fsum(n * (w or 0.0) for n, w in parts)
    return {
        "panel_packages": math.fsum(
            float(n) for key, n in packages.items() if _item_key(key) in _PANELS
        ),
        "weight_lb": known,
        "labour_hours": float(share["hours"]),
        "materials": _money(share["materials"]),
        "labour": _money(share["labour"]),
        "price": _money(share["price"]),
    }


def _totals(result: _Json) -> Figures:
    totals, stock, bid = result["totals"], result["stock"], result["bid"]
    order = result["order"] or ()
    panels = [one for one in order if _item_key(one["key"]) in _PANELS]
    labour = next((line for line in bid["lines"] if line["key"] == "labour"), None) if bid else None
    return {
        **{key: float(totals[key]) for key in (*_OWN, *_SUMMED)},
        "openings": int(totals["openings"]),
        "flat_panels": int(stock["flat"]["units"]) if stock else None,
        "corner_panels": int(stock["corner"]["units"]) if stock else None,
        "panel_packages": sum(int(one["packages"]) for one in panels) if panels else None,
        "weight_lb": totals["weight_lb"],
        "labour_hours": totals["labour_hours"],
        "materials": _money(totals["cost"]),
        "labour": _money(labour["amount"]) if labour else None,
        "price": _money(bid["total"]) if bid else None,
    }


def _lines(result: _Json) -> Iterator[RecordedLine]:
    for one in result["order"] or ():
        yield RecordedLine(
            "item", one["key"], one["item"], one["package"], one["packages"], None,
            one["weight_lb"], _money(one["cost"]),
        )  # fmt: skip
    bid = result["bid"] or {"labour": (), "lines": ()}
    for one in bid["labour"]:
        yield RecordedLine(
            "work", one["key"], one["what"], one["unit"], one["quantity"], one["hours"], None,
            _money(one["cost"]),
        )  # fmt: skip
    for one in bid["lines"]:
        if one["key"] not in ("materials", "labour"):
            yield RecordedLine(
                "charge", one["name"], one["name"], "", None, None, None, _money(one["amount"])
            )


def _item_key(key: str) -> str:
    """Key of the item, without the size of a block, the color of a panel or the product."""
    return key.partition(" ")[0]


def _money(amount: float | None) -> Decimal | None:
    """An amount of money, which the file holds to the cent."""
    return None if amount is None else Decimal(repr(amount)).quantize(Decimal("0.01"))
