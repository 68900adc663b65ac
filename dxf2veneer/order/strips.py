"""Starter strip, caps and what fastens them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import OrderSource, WallTakeoff
from dxf2veneer.order.reckon import Count, Way, count, plain
from dxf2veneer.order.stock import Cutting, cut_runs
from dxf2veneer.wording.measures import length_text, setting_text

_TOUCH_IN = 0.01


def strips(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    """Starter strip and caps by pieces of stock length, and their fasteners."""
    return [*_starter(walls, job, product), *_caps(walls, job, product)]


def starter_runs(wall: WallTakeoff) -> list[float]:
    """Lengths of the wall's stretches of starter strip: at one height, from end or door to end or door."""
    runs: list[tuple[float, float, float]] = []
    for line in sorted(wall.courses.starter_lines, key=lambda s: (s.y, s.x0)):
        if runs and runs[-1][2] == line.y and abs(line.x0 - runs[-1][1]) <= _TOUCH_IN:
            runs[-1] = (runs[-1][0], line.x1, line.y)
        else:
            runs.append((line.x0, line.x1, line.y))
    return [x1 - x0 for x0, x1, _ in runs]


def cap_cutting(walls: Sequence[WallTakeoff], job: Job, product: Product) -> Cutting:
    """Cap stones of all walls together, cut to the runs of cap."""
    stone = product.goods.cap_stone
    runs = [c.x1 - c.x0 for w in walls for c in w.wall.caps]
    return cut_runs(runs, length_in=stone.length, joint_in=stone.joint, kerf_in=job.plan.kerf)


def told(cutting: Cutting, runs: Sequence[float], length_in: float, show: str) -> str:
    """How runs were cut from pieces, for the reader."""
    return (
        f"{len(runs)} runs of {length_text(math.fsum(runs), show)} together from pieces of {length_text(length_in, show)}: {cutting.whole} laid whole, "
        f"{cutting.cut} cut from {cutting.bought - cutting.whole}, offcuts used again; at least {cutting.bound} are needed"
    )


def _starter(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    strip, fastener, show = (
        product.goods.starter_strip,
        product.goods.starter_fastener,
        job.output.display,
    )
    by_wall = {w.wall.id: starter_runs(w) for w in walls}
    runs = [r for listed in by_wall.values() for r in listed]
    total = math.fsum(runs)
    cutting = cut_runs(runs, length_in=strip.length, joint_in=-strip.lap, kerf_in=job.plan.kerf)
    sources = tuple(
        OrderSource(id, "starter run", math.fsum(listed) / 12.0, "ft")
        for id, listed in by_wall.items()
    )
    by_run = f"starter run of {length_text(total, show)}, which ends at corners and doors, over {length_text(strip.length - strip.lap, show)} a piece"
    strips = count(
        "starter_strip",
        Way("layout", cutting.bought, told(cutting, runs, strip.length, show), sources),
        Way("area", total / (strip.length - strip.lap), by_run, sources),
    )
    spacing = setting_text(fastener.spacing, show)
    number = sum(math.ceil(r / fastener.spacing - 1e-9) + 1 for r in runs)
    why = f"one at most every {spacing} and one at each end of {len(runs)} runs"
    fasteners = count(
        "starter_fastener",
        Way("layout", number, why, sources),
        Way(
            "area",
            total / fastener.spacing,
            f"starter run of {length_text(total, show)}, one every {spacing}",
            sources,
        ),
    )
    return [strips, fasteners]


def _caps(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    stone, fastener, show = product.goods.cap_stone, product.goods.cap_fastener, job.output.display
    runs = [c.x1 - c.x0 for w in walls for c in w.wall.caps]
    total = math.fsum(runs)
    cutting = cap_cutting(walls, job, product)
    sources = tuple(
        OrderSource(w.wall.id, "cap run", w.quantities.cap_run / 12.0, "ft")
        for w in walls
        if w.wall.caps
    )
    step = stone.length + stone.joint
    stones = total / step
    joints = f", joints of {setting_text(stone.joint, show)} in between"
    caps = count(
        "cap_stone",
        Way("layout", cutting.bought, told(cutting, runs, stone.length, show) + joints, sources),
        Way(
            "area",
            stones,
            f"cap run of {length_text(total, show)} over {setting_text(step, show)}, a stone and its joint",
            sources,
        ),
    )
    fasteners = count(
        "cap_fastener",
        Way(
            "layout",
            cutting.placed * fastener.per_cap,
            f"{cutting.placed} stones as laid with {plain(fastener.per_cap)} each",
            sources,
        ),
        Way(
            "area",
            stones * fastener.per_cap,
            f"{plain(stones)} stones with {plain(fastener.per_cap)} each",
            sources,
        ),
    )
    return [caps, fasteners]
