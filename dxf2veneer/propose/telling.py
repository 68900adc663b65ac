"""Reasons and evidence as messages, which the room ``wording`` makes English."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.propose.proposal import Outside, Reason


def told(reason: Reason) -> Message:
    """A reason as a message.

    Args:
        reason: Code and values.

    Returns:
        The message.

    Raises:
        ValueError: There is no such reason.
    """
    v = reason.values
    match reason.code:
        case "WALL_BOUNDED":
            return message("proposed-wall-bounded", **_bounds(v))
        case "WALL_CLADDING":
            cladding = tuple(map(str, v.get("cladding") or ()))
            return message("proposed-wall-cladding", **_bounds(v), cladding=cladding)
        case "WALL_OUTLINED" | "OPENING_OUTLINED":
            of_walls = reason.code == "WALL_OUTLINED"
            return message("proposed-outlined", layer=str(v["layer"]), of_walls=of_walls)
        case "OPENING_FRAMED":
            return message("proposed-opening-framed", frames=int(v["frames"]))
        case "OPENING_GAP_IN_BOARDS":
            return message("proposed-opening-gap", lines=int(v["lines"]))
        case "OPENING_BRACED":
            return message("proposed-opening-braced")
        case "OPENING_OUTLINE_FREE":
            return message("proposed-opening-free")
        case "CORNER_HEIGHTS_AGREE":
            return message("proposed-corner-heights")
        case "CORNER_ALONE":
            return message("proposed-corner-alone")
    return _of_view(reason)


def _bounds(values: Mapping[str, Any]) -> dict[str, Any]:
    return {
        "ground": bool(values.get("ground")),
        "covered": bool(values.get("covered")),
        "openings": int(values.get("openings", 0)),
    }


def _of_view(reason: Reason) -> Message:
    v = reason.values
    match reason.code:
        case "VIEW_TITLED":
            return message("proposed-view-titled", title=str(v["title"]))
        case "VIEW_TABLE":
            return message("proposed-view-table")
        case "VIEW_DRAWN":
            ranked = sorted(v, key=lambda kind: -float(v[kind]))
            return message("proposed-view-drawn", kind=ranked[0], next=(ranked[1:2] or ranked)[0])
        case "VIEW_SAME_FOOTPRINT":
            return message("proposed-view-footprint")
        case "VIEW_OUTLINED":
            return message("proposed-view-outlined")
        case "VIEW_HEIGHT":
            return message("proposed-view-height", height=Length(float(v["inches"])))
        case "VIEW_FRAME":
            return message("proposed-view-frame")
    raise ValueError(f"no message tells the reason {reason.code}")


def told_outside(found: Outside, inches: float) -> Message:
    """What is hatched as a wall is and lies in none, as a message.

    Args:
        found: The area.
        inches: Inches in a drawing unit.

    Returns:
        The message.
    """
    area = Area(found.area * inches**2)
    return message("hatched-outside", view=found.view, area=area, pattern=found.pattern)


def told_traced(waver: float, inches: float) -> Message:
    """That a drawing was traced, as a message.

    Args:
        waver: How far its lines waver, in drawing units.
        inches: Inches in a drawing unit.

    Returns:
        The message.
    """
    return message("drawing-traced", waver=Length(waver * inches))


def told_evidence(what: str, value: Mapping[str, Any]) -> Message:
    """A piece of evidence for the unit as a message.

    Args:
        what: Its code.
        value: What was seen, lengths in drawing units.

    Returns:
        The message.
    """
    count = int(value.get("count", 1))
    size = float(value.get("height", value.get("radius", 0.0)) or 0.0)
    match what:
        case "header":
            return message("unit-by-header", unit=str(value["unit"]))
        case "header notation":
            return message("unit-by-header-notation")
        case "dimensions":
            return message("unit-by-dimensions", count=count)
        case "levels":
            return message("unit-by-levels", text=str(value["text"]), count=count)
        case "note" | "notation":
            return message("unit-by-text", text=str(value["text"]))
        case "viewport":
            return message("unit-by-viewport", layout=str(value["layout"]))
        case "frame":
            return message("unit-by-frame", width=value["width"], height=value["height"])
        case "round lengths":
            return message("unit-by-round-lengths", count=count)
    return message("unit-by-size", what=what, size=size, count=count)
