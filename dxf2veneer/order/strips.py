"""Starter strip, caps and what fastens them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import ROUNDING_SHARE, STRIP_JOIN_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import OrderSource, WallTakeoff
from dxf2veneer.order.arithmetic import Count, CountMethod, count
from dxf2veneer.order.stock_lengths import RunCutting, cut_runs


def strips(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    """Starter strip and caps by pieces of stock length, and their fasteners.

    Args:
        walls: The walls as laid out.
        job: The job, for the saw cut.
        product: The panel line.

    Returns:
        Four counts, each by layout and by run.
    """
    return [*_starter(walls, job, product), *_caps(walls, job, product)]


def starter_runs(wall: WallTakeoff) -> list[float]:
    """The wall's stretches of starter strip: at one height, from end or door to end or door.

    Args:
        wall: The wall as laid out.

    Returns:
        Lengths in inches.
    """
    runs: list[tuple[float, float, float]] = []
    for line in sorted(wall.courses.starter_lines, key=lambda s: (s.y, s.x0)):
        if runs and runs[-1][2] == line.y and abs(line.x0 - runs[-1][1]) <= STRIP_JOIN_IN:
            runs[-1] = (runs[-1][0], line.x1, line.y)
        else:
            runs.append((line.x0, line.x1, line.y))
    return [x1 - x0 for x0, x1, _ in runs]


def cap_cutting(walls: Sequence[WallTakeoff], job: Job, product: Product) -> RunCutting:
    """Cap stones of all walls together, cut to the runs of cap.

    Args:
        walls: The walls.
        job: The job, for the saw cut.
        product: The panel line.

    Returns:
        How many stones are bought, laid and cut.
    """
    stone = product.goods.cap_stone
    runs = [x1 - x0 for w in walls for x0, x1 in w.quantities.cap_spans]
    return cut_runs(runs, length_in=stone.length, joint_in=stone.joint, kerf_in=job.plan.kerf)


def cut_from(cutting: RunCutting, runs: Sequence[float], length_in: float) -> Message:
    """How runs were cut from pieces, for the reader.

    Args:
        cutting: The cutting.
        runs: Lengths of the runs, in inches.
        length_in: Length of a piece, in inches.

    Returns:
        The message.
    """
    return message(
        "runs-cut",
        runs=len(runs),
        length=Length(math.fsum(runs)),
        piece=Length(length_in),
        whole=cutting.whole,
        cut=cutting.cut,
        opened=cutting.bought - cutting.whole,
        bound=cutting.bound,
    )


def _starter(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    strip, fastener = product.goods.starter_strip, product.goods.starter_fastener
    by_wall = {w.wall.id: starter_runs(w) for w in walls}
    runs = [r for listed in by_wall.values() for r in listed]
    total, step, spacing = math.fsum(runs), strip.length - strip.lap, Length(fastener.spacing)
    cutting = cut_runs(runs, length_in=strip.length, joint_in=-strip.lap, kerf_in=job.plan.kerf)
    sources = tuple(
        OrderSource(id, message("source-starter-run"), math.fsum(listed) / 12.0, "ft")
        for id, listed in by_wall.items()
    )
    cut = cut_from(cutting, runs, strip.length)
    by_run = message("starter-by-run", length=Length(total), step=Length(step))
    number = sum(math.ceil(r / fastener.spacing - ROUNDING_SHARE) + 1 for r in runs)
    each_end = message("starter-fasteners-by-layout", spacing=spacing, runs=len(runs))
    spaced = message("starter-fasteners-by-run", length=Length(total), spacing=spacing)
    return [
        count(
            "starter_strip",
            CountMethod("layout", cutting.bought, cut, sources),
            CountMethod("area", total / step, by_run, sources),
        ),
        count(
            "starter_fastener",
            CountMethod("layout", number, each_end, sources),
            CountMethod("area", total / fastener.spacing, spaced, sources),
        ),
    ]


def _caps(walls: Sequence[WallTakeoff], job: Job, product: Product) -> list[Count]:
    stone, fastener = product.goods.cap_stone, product.goods.cap_fastener
    runs = [x1 - x0 for w in walls for x0, x1 in w.quantities.cap_spans]
    total, step, each = math.fsum(runs), stone.length + stone.joint, fastener.per_cap
    cutting, stones = cap_cutting(walls, job, product), total / step
    sources = tuple(
        OrderSource(w.wall.id, message("source-cap-run"), w.quantities.cap_run / 12.0, "ft")
        for w in walls
        if w.quantities.cap_spans
    )
    cut = message("caps-cut", cut=cut_from(cutting, runs, stone.length), joint=Length(stone.joint))
    by_run = message("caps-by-run", length=Length(total), step=Length(step))
    laid = message("cap-fasteners-by-layout", stones=cutting.placed, each=each)
    estimated = message("cap-fasteners-by-run", stones=stones, each=each)
    return [
        count(
            "cap_stone",
            CountMethod("layout", cutting.bought, cut, sources),
            CountMethod("area", stones, by_run, sources),
        ),
        count(
            "cap_fastener",
            CountMethod("layout", cutting.placed * each, laid, sources),
            CountMethod("area", stones * each, estimated, sources),
        ),
    ]
