"""Trim stones round openings, and fixture blocks."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import FIXTURE_SIZES_PER_INCH, LEVEL_HEAD_SHARE, ROUNDING_IN
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import OpeningQuantities, OrderPart, OrderSource, WallTakeoff
from dxf2veneer.order.arithmetic import Count, CountMethod, Mode, count
from dxf2veneer.order.prices import Prices
from dxf2veneer.order.stock_lengths import RunCutting, cut_runs
from dxf2veneer.order.strips import cut_from

TrimSide = Literal["head", "jambs", "sill"]
_KEYS: dict[TrimSide, str] = {"head": "head_stone", "jambs": "jamb_stone", "sill": "sill_stone"}
_SIDES = frozenset(_KEYS.values())
_SOURCES: dict[TrimSide, Message] = {
    "head": message("source-head"),
    "jambs": message("source-jambs"),
    "sill": message("source-sill"),
}


class _Band(NamedTuple):
    """One stretch of trim stones: its opening, its length, the part along the opening."""

    opening: str
    length: float
    along: float


def trim_stones(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    """Head, jamb and sill stones, for the bands that the job gives a width.

    Args:
        walls: The walls as measured.
        job: The job, for widths, joints and the saw cut.
        product: The panel line.

    Returns:
        A count for each side that has a width, by layout and by run.
    """
    return [
        _trim_count(side, walls, job, product) for side in _KEYS if getattr(job.trim, side) > 0.0
    ]


def trim_cutting(
    side: TrimSide, walls: Sequence[WallTakeoff], job: Job, product: Product
) -> RunCutting:
    """How the bands on one side of all openings are cut from stones, or from halves of stones.

    Args:
        side: ``head``, ``jambs`` or ``sill``.
        walls: The walls as measured.
        job: The job, for widths, joints and the saw cut.
        product: The panel line.

    Returns:
        How many stones (or halves) are bought, laid and cut.
    """
    stone = product.goods.trim_stone
    runs = [b.length for b in _bands(side, walls, job)]
    return cut_runs(runs, length_in=stone.length, joint_in=stone.joint, kerf_in=job.plan.kerf)


def pooled(counts: Sequence[Count], job: Job, prices: Prices) -> list[Count]:
    """Trim stones of heads, jambs and sills as one item: they come out of the same packages.

    Those that the job gives an allowance, a way of counting or to others, or that the price file
    prices, by their own key stay lines of their own.

    Args:
        counts: The items as counted.
        job: The job.
        prices: The prices.

    Returns:
        The counts, with one of trim stones in the place of those that are bought together.
    """
    apart = {a.item for a in job.order.items} | set(job.order.by_others)
    apart |= {p.item for p in prices.items}
    together = [c for c in counts if c.item.key in _SIDES and c.item.key not in apart]
    if not together:
        return list(counts)
    methods = tuple(_together(mode, together) for mode in ("layout", "area"))
    made = count("trim_stone", *methods)
    first = counts.index(together[0])
    return [c for n, c in enumerate((*counts[:first], made, *counts[first:])) if c not in together]


def _together(mode: Mode, counts: Sequence[Count]) -> CountMethod:
    """Counts as parts of one, by one method."""
    parts = tuple(
        OrderPart(c.key, c.title, m.measured, m.why, m.sources)
        for c in counts
        for m in c.methods
        if m.mode == mode
    )
    told = tuple(message("trim-part", part=p.title, measured=p.measured, why=p.why) for p in parts)
    measured = math.fsum(p.measured for p in parts)
    sources = tuple(s for p in parts for s in p.sources)
    return CountMethod(mode, measured, message("trim-parts", parts=told), sources, parts=parts)


def _trim_count(side: TrimSide, walls: Sequence[WallTakeoff], job: Job, product: Product) -> Count:
    stone = product.goods.trim_stone
    bands = list(_bands(side, walls, job))
    runs = [b.length for b in bands]
    cutting = trim_cutting(side, walls, job, product)
    halved = job.order.rip_trim and 2.0 * getattr(job.trim, side) <= stone.height + ROUNDING_IN
    bought = math.ceil(cutting.bought / 2) if halved else cutting.bought
    sources = tuple(
        OrderSource(b.opening, _SOURCES[side], b.along / 12.0, "ft", (b.length - b.along) / 12.0)
        for b in bands
    )
    step = stone.length + stone.joint
    by_run = math.fsum(runs) / step / (2.0 if halved else 1.0)
    cut = message(
        "trim-cut",
        cut=cut_from(cutting, runs, stone.length),
        mitered=message("to-long-points") if job.order.trim_joint == "mitre" else None,
        halved=(
            message("stones-halved", height=Length(stone.height), halves=cutting.bought)
            if halved
            else None
        ),
    )
    length = Length(math.fsum(runs))
    along = message("trim-by-run", length=length, step=Length(step), halved=halved)
    return count(
        _KEYS[side],
        CountMethod("layout", bought, cut, sources),
        CountMethod("area", by_run, along, sources),
    )


def _bands(side: TrimSide, walls: Sequence[WallTakeoff], job: Job) -> Iterator[_Band]:
    """The stretches on one side of all openings, each as long as its stones are at their longest.

    Level heads and sills run over the width of each jamb, butted or mitered; mitered jambs run over
    the widths of head and sill. An arched or sloped head is taken along the opening.
    """
    for wall in walls:
        for o in wall.quantities.openings:
            along = {"head": o.trim_head, "jambs": o.trim_jambs, "sill": o.trim_sill}[side]
            if along <= 0.0 or o.opening.kind == "fixture":
                continue
            if side == "jambs":
                yield from _jamb_bands(o, job)
            else:
                level = along <= o.width * LEVEL_HEAD_SHARE
                over = _jambs(o) * job.trim.jambs if level else 0.0
                yield _Band(o.opening.id, along + over, along)


def _jamb_bands(measured: OpeningQuantities, job: Job) -> Iterator[_Band]:
    """The jambs of one opening."""
    over = 0.0
    if job.order.trim_joint == "mitre":
        over += job.trim.head if measured.trim_head else 0.0
        over += job.trim.sill if measured.trim_sill else 0.0
    along = measured.trim_jambs / _jambs(measured)
    for _ in range(_jambs(measured)):
        yield _Band(measured.opening.id, along + over, along)


def _jambs(measured: OpeningQuantities) -> int:
    """On how many sides an opening has jambs: two are longer together than it is high."""
    if measured.trim_jambs > measured.height * LEVEL_HEAD_SHARE:
        return 2
    return 1 if measured.trim_jambs > 0.0 else 0


def fixture_blocks(walls: Sequence[WallTakeoff]) -> list[Count]:
    """Fixture blocks by size: one for each fixture outline.

    Args:
        walls: The walls as measured.

    Returns:
        A count for each size, by layout.
    """
    by_size: dict[tuple[float, float], list[OrderSource]] = {}
    for wall in walls:
        for o in wall.quantities.openings:
            if o.opening.kind == "fixture":
                source = OrderSource(o.opening.id, message("source-fixture"), 1.0, "each")
                by_size.setdefault((_rounded(o.width), _rounded(o.height)), []).append(source)
    item = ITEMS["fixture_block"]
    counts = []
    for (width, height), sources in sorted(by_size.items()):
        title = message(
            "item-of-size", title=item.title, width=Length(width), height=Length(height)
        )
        why = message("fixtures", number=len(sources), width=Length(width), height=Length(height))
        method = CountMethod("layout", len(sources), why, tuple(sources))
        counts.append(Count(item, f"{item.key} {width:g}x{height:g}", title, (method,)))
    return counts


def _rounded(inches: float) -> float:
    """A length to the sizes that fixture blocks come in."""
    return round(inches * FIXTURE_SIZES_PER_INCH) / FIXTURE_SIZES_PER_INCH
