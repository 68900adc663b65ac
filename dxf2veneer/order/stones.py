"""Trim stones round openings, and fixture blocks."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import OpeningQuantities, OrderSource, WallTakeoff
from dxf2veneer.order.reckon import Count, Way, count
from dxf2veneer.order.stock import Cutting, cut_runs
from dxf2veneer.order.strips import told
from dxf2veneer.wording.measures import length_text, setting_text

TrimSide = Literal["head", "jambs", "sill"]
_KEYS: dict[TrimSide, str] = {"head": "head_stone", "jambs": "jamb_stone", "sill": "sill_stone"}
_LEVEL = 1.001
"""A head this much longer than its opening is wide is an arch or a slope."""
_SIZE_IN = 16


class _Band(NamedTuple):
    """One stretch of trim stones: the opening it belongs to, its length, the part along the opening."""

    opening: str
    length: float
    along: float


def trim_stones(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    """Head, jamb and sill stones, for the bands that the job gives a width."""
    return [
        _trim_count(side, walls, job, product) for side in _KEYS if getattr(job.trim, side) > 0.0
    ]


def trim_cutting(
    side: TrimSide, walls: Sequence[WallTakeoff], job: Job, product: Product
) -> Cutting:
    """How the bands on one side of all openings are cut from stones, or from halves of stones."""
    stone = product.goods.trim_stone
    runs = [b.length for b in _bands(side, walls, job)]
    return cut_runs(runs, length_in=stone.length, joint_in=stone.joint, kerf_in=job.plan.kerf)


def _trim_count(side: TrimSide, walls: Sequence[WallTakeoff], job: Job, product: Product) -> Count:
    stone, show = product.goods.trim_stone, job.output.display
    bands = list(_bands(side, walls, job))
    runs = [b.length for b in bands]
    cutting = trim_cutting(side, walls, job, product)
    halved = job.order.rip_trim and 2.0 * getattr(job.trim, side) <= stone.height + 1e-6
    bought = math.ceil(cutting.bought / 2) if halved else cutting.bought
    sources = tuple(OrderSource(b.opening, side, b.along / 12.0, "ft") for b in bands)
    halves = (
        f"; stones of {length_text(stone.height, show)} ripped into two, so half as many ({cutting.bought} halves)"
        if halved
        else ""
    )
    joint = {"butt": "", "mitre": " to the mitres' long points"}[job.order.trim_joint]
    step = stone.length + stone.joint
    by_run = math.fsum(runs) / step / (2.0 if halved else 1.0)
    return count(
        _KEYS[side],
        Way("layout", bought, f"{told(cutting, runs, stone.length, show)}{joint}{halves}", sources),
        Way(
            "area",
            by_run,
            f"{length_text(math.fsum(runs), show)} over {setting_text(step, show)}, a stone and its joint{', halved' if halved else ''}",
            sources,
        ),
    )


def _bands(side: TrimSide, walls: Sequence[WallTakeoff], job: Job) -> Iterator[_Band]:
    """The stretches on one side of all openings, each as long as its stones are at their longest.

    Level heads and sills run over the width of each jamb, butted or mitred; mitred jambs run over
    the widths of head and sill. An arched or sloped head is taken along the opening.
    """
    trim = job.trim
    for wall in walls:
        for o in wall.quantities.openings:
            along = {"head": o.trim_head, "jambs": o.trim_jambs, "sill": o.trim_sill}[side]
            if along <= 0.0 or o.opening.kind == "fixture":
                continue
            if side == "jambs":
                over = (trim.head if o.trim_head else 0.0) + (trim.sill if o.trim_sill else 0.0)
                for _ in range(_jambs(o)):
                    yield _Band(
                        o.opening.id,
                        along / _jambs(o) + (over if job.order.trim_joint == "mitre" else 0.0),
                        along / _jambs(o),
                    )
            else:
                level = along <= o.width * _LEVEL
                yield _Band(o.opening.id, along + (_jambs(o) * trim.jambs if level else 0.0), along)


def _jambs(measured: OpeningQuantities) -> int:
    """On how many sides an opening has jambs: two are longer together than it is high."""
    return (
        2
        if measured.trim_jambs > measured.height * _LEVEL
        else 1
        if measured.trim_jambs > 0.0
        else 0
    )


def fixture_blocks(walls: Sequence[WallTakeoff], job: Job) -> list[Count]:
    """Fixture blocks by size: one for each fixture outline."""
    by_size: dict[tuple[float, float], list[OrderSource]] = {}
    for wall in walls:
        for o in wall.quantities.openings:
            if o.opening.kind == "fixture":
                size = round(o.width * _SIZE_IN) / _SIZE_IN, round(o.height * _SIZE_IN) / _SIZE_IN
                by_size.setdefault(size, []).append(
                    OrderSource(o.opening.id, "fixture", 1.0, "each")
                )
    item = ITEMS["fixture_block"]
    counts = []
    for (width, height), sources in sorted(by_size.items()):
        said = " x ".join(length_text(side, job.output.display) for side in (width, height))
        way = Way(
            "layout", len(sources), f"{len(sources)} fixture outlines of {said}", tuple(sources)
        )
        counts.append(
            Count(item, f"{item.key} {width:g}x{height:g}", f"{item.title} {said}", (way,))
        )
    return counts
