"""Heads, sills, tops and caps that have veneer beyond them, wherever the courses start."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from dxf2veneer.basics.tolerances import LINE_MEETS_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.geometry.boundary import boundary, level_stretches, merged
from dxf2veneer.model import DOORS, ConflictWhat, OpeningQuantities, WallQuantities

Span = tuple[float, float]
"""From x to x, in inches."""


class Meeting(NamedTuple):
    """A stretch of head, sill, top or cap that has veneer beyond it; course lines meet or miss
    it."""

    what: ConflictWhat
    opening: str | None
    """Id of the opening, None for a top or cap."""
    y: float
    x0: float
    x1: float


def meetings(measured: WallQuantities, job: Job, product: Product) -> list[Meeting]:
    """Every head, sill, top and cap of a wall that course lines can meet or miss.

    Args:
        measured: The wall with its openings and veneer.
        job: Its trim bands move heads and sills.
        product: Its cap stones lower the place where a capped wall's panels end.

    Returns:
        The stretches from the bottom up, in the drawing's own coordinates, in inches.
    """
    found: list[Meeting] = []

    @cache  # windows stand in rows
    def veneer_at(y: float) -> list[Span]:
        return level_stretches(measured.veneer, y)

    def add(what: ConflictWhat, opening: str | None, y: float, spans: list[Span]) -> None:
        found.extend(Meeting(what, opening, y, a, b) for a, b in spans)

    for o in measured.openings:
        head, sill = _trim_edges(o, job)
        add("head", o.opening.id, head, _within(o, veneer_at(head + LINE_MEETS_IN)))
        if o.opening.kind not in DOORS and not o.opening.touches_base:
            add("sill", o.opening.id, sill, _within(o, veneer_at(sill - LINE_MEETS_IN)))
    for cap in measured.wall.caps:
        add("cap", None, cap.y - product.cap.height, [(cap.x0, cap.x1)])
    for y, spans in _tops(measured).items():
        add("top", None, y, spans)
    return sorted(found, key=lambda m: (m.y, m.x0, m.what))


def _trim_edges(measured: OpeningQuantities, job: Job) -> tuple[float, float]:
    """Heights at which panels meet an opening: its head and sill, trim bands included."""
    trimmed = measured.opening.kind != "fixture"
    head = measured.head_y + (job.trim.head if trimmed else 0.0)
    return head, measured.sill_y - (job.trim.sill if trimmed and measured.trim_sill > 0.0 else 0.0)


def _within(opening: OpeningQuantities, veneer: Iterable[Span]) -> list[Span]:
    """Spans of the opening's width that are veneer, as one span from first to last."""
    x0, _, x1, _ = opening.opening.box
    spans = [(max(a, x0), min(b, x1)) for a, b in veneer]
    spans = [(a, b) for a, b in spans if b - a > LINE_MEETS_IN]
    return [(spans[0][0], spans[-1][1])] if spans else []


def _tops(measured: WallQuantities) -> dict[float, list[Span]]:
    """Level tops of the wall by height, those under a cap or taken by an opening left out."""
    tops: dict[float, list[Span]] = {}
    for side in boundary(measured.wall.region):
        if side.what == "top":
            (xa, y), (xb, _) = side.segment.start, side.segment.end
            tops.setdefault(y, []).append((min(xa, xb), max(xa, xb)))
    return {y: kept for y, spans in tops.items() if (kept := _with_veneer(measured, y, spans))}


def _with_veneer(measured: WallQuantities, y: float, spans: list[Span]) -> list[Span]:
    below = level_stretches(measured.veneer, y - LINE_MEETS_IN)
    clipped = [(max(a, c), min(b, d)) for a, b in merged(spans) for c, d in below]
    return [(a, b) for a, b in clipped if b - a > LINE_MEETS_IN]
