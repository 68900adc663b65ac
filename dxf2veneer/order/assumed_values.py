"""Values of settings for the list of assumptions: lengths and areas as such, tables in words."""

from __future__ import annotations

from dxf2veneer.basics.messages import Area, Length, Message, Value, message
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.config.additions import Addition
from dxf2veneer.config.charges import Charge
from dxf2veneer.config.tasks import Task, in_rate_unit
from dxf2veneer.config.treatments import Treatment
from dxf2veneer.config.wall_rows import GivenEdge, GivenOpening, WallRow

_LENGTHS = (
    "drawing.gap",
    "recognise.edge_tolerance",
    "recognise.tag_reach",
    "trim.",
    "courses.",
    "plan.kerf",
    "plan.tolerance",
    "plan.end_overhang",
    "plan.outside_overhang",
    "order.framing",
    "panel.",
    "corner.",
    "laying.",
    "cap.",
    "starter_strip.l",
    "cap_stone.length",
    "cap_stone.joint",
    "trim_stone.length",
    "trim_stone.height",
    "trim_stone.joint",
    "panel_fastener.long_from",
    "panel_fastener.edge",
    "starter_fastener.spacing",
    "wrb.width",
    "wrb.lap_",
    "lath.margin",
    "flashing.margin",
    "adhesive.spacing",
)
"""Beginnings of the settings and product values whose numbers are inches."""

_TREATED = {
    "clearance": "courses.clearance",
    "head": "trim.head",
    "jambs": "trim.jambs",
    "sill": "trim.sill",
}
"""What a treatment says that is a length, by the setting that it stands in the place of."""


_WHERE = ("walls", "elevations", "layers")
"""What a treatment says of where it holds."""


def _said(key: str, value: object) -> Message:
    """One thing that a treatment says of its walls."""
    if key == "barrier":
        return message("treatment-barrier", is_there=bool(value))
    if key == "bid":
        return message("treatment-bid", is_in=bool(value))
    if key in ("breakage", "scrap"):
        return message("treatment-percent", key=key, percent=value_of("", value))
    return message("treatment-says", key=key, value=value_of(_TREATED.get(key, ""), value))


def _addition(one: Addition) -> Message:
    """A quantity added by hand, or a wall by its area."""
    if one.item:
        return message(
            "addition-of-item",
            reason=one.reason,
            item=one.item,
            quantity=abs(one.quantity),
            is_more=one.quantity >= 0.0,
        )
    return message(
        "addition-by-area",
        reason=one.reason,
        area=Area(one.area * SQUARE_INCHES_PER_SQUARE_FOOT),
        corners=Length(one.corners) if one.corners else None,
    )


def _wall_row(row: WallRow) -> Message:
    """A wall by its sizes."""
    return message(
        "wall-row-as-written",
        name=row.name,
        width=Length(row.width),
        height=Length(row.height),
        peak=Length(row.peak) if row.peak else None,
        left=_edge(row.left),
        right=_edge(row.right),
        cap="a cap" if row.cap else None,
        openings=tuple(map(_opening, row.openings)),
    )


def _edge(edge: GivenEdge | None) -> str | None:
    return None if edge is None else f"{edge.kind} {edge.tag}".rstrip()


def _opening(one: GivenOpening) -> Message:
    return message(
        "given-opening-as-written",
        kind=one.kind,
        width=Length(one.width),
        height=Length(one.height),
        left=None if one.left is None else Length(one.left),
        sill=Length(one.sill),
    )


def value_of(key: str, value: object, is_metric: bool = False) -> Value:
    """A setting's value with its unit, as a list of assumptions shows it.

    Args:
        key: The setting, ``section.key``; empty for a part of a list.
        value: Its value.
        is_metric: Whether rates go by square meters and meters.

    Returns:
        The value; a table of the job file as a message.

    Raises:
        TypeError: It is no kind of value that a message holds.
    """
    if isinstance(value, Addition):
        return _addition(value)
    if isinstance(value, WallRow):
        return _wall_row(value)
    if isinstance(value, Charge):
        return message("charge-as-written", name=value.name, working=value.working(is_metric))
    if isinstance(value, Task):
        unit = value.unit or in_rate_unit(value.measure or "", is_metric)[0]
        return message("task-as-written", **value._replace(unit=unit)._asdict())
    if isinstance(value, Treatment):
        said = {k: v for k, v in value._asdict().items() if v not in (None, (), "")}
        walls = (*value.elevations, *value.layers) or value.walls
        told = tuple(_said(k, v) for k, v in said.items() if k not in _WHERE)
        return message("treatment-as-written", walls=walls, says=told)
    if isinstance(value, tuple):
        return tuple(value_of("", part, is_metric) for part in value)
    if isinstance(value, float) and not isinstance(value, bool):
        if key == "deduction.threshold_sqft":
            return Area(value * SQUARE_INCHES_PER_SQUARE_FOOT)
        if key.startswith(_LENGTHS):
            return Length(value)
    if value is None or isinstance(value, str | bool | int | float):
        return value
    raise TypeError(f"{key}: no kind of value that a message holds: {value!r}")
