"""What goes behind and between: barrier, lath or flashing, adhesive, caulk."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from dxf2veneer.config.goods import ItemUnit
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.settings import SettingsError
from dxf2veneer.model import Corner, CoursePlan, OrderSource, WallTakeoff
from dxf2veneer.order.prices import Prices
from dxf2veneer.order.reckon import Count, Mode, Way, count, plain
from dxf2veneer.units import SQUARE_INCHES_PER_SQUARE_FOOT, square_feet
from dxf2veneer.wording.measures import area_text, length_text, setting_text


class _Glued(NamedTuple):
    """One thing that is glued: where it is, how long and how high."""

    ref: str
    length: float
    height: float


def sheets(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    prices: Prices,
) -> list[Count]:
    """Barrier, backing and adhesive of glued pieces and blocks, caulk."""
    return [
        barrier(walls, corners, job, product, prices),
        *_glue(walls, plan, job, product),
        caulk(walls, job),
    ]


def barrier(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    prices: Prices,
) -> Count:
    """The water-resistive barrier: gross area with its laps, and an overlap at every corner.

    The roll that is bought has the laps: a price file may sell another size than the product file names.
    """
    roll, priced, show = product.goods.wrb, prices.of("wrb"), job.output.display
    holds, where = roll.per_package, f"{product.file}: wrb.per_package"
    if priced is not None and priced.package is not None:
        holds, where = float(priced.package), f"{priced.where}: package"
    roll_length = holds * SQUARE_INCHES_PER_SQUARE_FOOT / roll.width
    if roll_length <= roll.lap_upright:
        lap, width = setting_text(roll.lap_upright, show), setting_text(roll.width, show)
        raise SettingsError(
            f"{where} = {holds:g}: a roll of so many square feet, {width} wide, is shorter than its lap of {lap}"
        )
    level, upright = (
        roll.width / (roll.width - roll.lap_level),
        roll_length / (roll_length - roll.lap_upright),
    )
    gross = math.fsum(w.quantities.gross_area for w in walls)
    run = math.fsum(c.run for c in corners)
    measured = roll.layers * square_feet(gross * level * upright + run * roll.lap_corner)
    why = (
        f"gross area {area_text(square_feet(gross), show)}, openings rolled over and cut out, x {level:.4f} x {upright:.4f} for laps of "
        f"{setting_text(roll.lap_level, show)} and {setting_text(roll.lap_upright, show)}, "
        f"and {setting_text(roll.lap_corner, show)} along {length_text(run, show)} of corners"
        + (f", in {plain(roll.layers)} layers" if roll.layers != 1.0 else "")
    )
    sources = [
        OrderSource(w.wall.id, "gross area", square_feet(w.quantities.gross_area), "sqft")
        for w in walls
    ]
    sources += [OrderSource(c.id, f"{c.kind} corner", c.run / 12.0, "ft") for c in corners]
    return count("wrb", Way("area", measured, why, tuple(sources)))


def caulk(walls: Sequence[WallTakeoff], job: Job) -> Count:
    """Caulk where veneer meets openings, plain ends and what stands above its caps."""
    sources = []
    for wall in walls:
        for o in wall.quantities.openings:
            joint = (
                o.perimeter
                if o.opening.kind == "fixture"
                else o.trim_head + o.trim_jambs + o.trim_sill
            )
            sources.append(OrderSource(o.opening.id, "joint round it", joint / 12.0, "ft"))
        sources += [
            OrderSource(wall.wall.id, f"{e.side} edge, butt", e.length / 12.0, "ft")
            for e in wall.wall.edges
            if e.kind == "butt"
        ]
        if wall.quantities.cap_run:
            sources.append(
                OrderSource(wall.wall.id, "cap run", wall.quantities.cap_run / 12.0, "ft")
            )
    openings = math.fsum(s.value for s in sources if s.what == "joint round it")
    caps = math.fsum(s.value for s in sources if s.what == "cap run")
    total = math.fsum(s.value for s in sources)
    round_openings, plain_edges, behind_caps = (
        length_text(12.0 * feet, job.output.display)
        for feet in (openings, total - openings - caps, caps)
    )
    why = (
        f"{round_openings} round openings, {plain_edges} along plain edges, {behind_caps} behind caps; "
        "joints under soffits and along rakes are not counted"
    )
    return count("caulk", Way("area", total, why, tuple(s for s in sources if s.value > 0.0)))


# -------------------------------------------------------------------- glue


def _glue(
    walls: Sequence[WallTakeoff], plan: CoursePlan | None, job: Job, product: Product
) -> Iterator[Count]:
    """Lath or flashing behind what is glued, and the adhesive."""
    goods, show = product.goods, job.output.display
    margin = (goods.lath if job.order.backing == "lath" else goods.flashing).margin
    spacing = goods.adhesive.spacing
    strips: list[tuple[list[_Glued], Mode, str]] = [
        (
            _strips(walls, product),
            "area",
            "strips below sills, tops and caps off the course lines, and along rakes",
        )
    ]
    if plan is not None:
        strips.insert(0, (list(_pieces(walls)), "layout", "glued pieces of the course plan"))
    fixtures = list(_fixtures(walls))
    areas, beads = [], []
    for partial, mode, what in strips:
        glued = [*partial, *fixtures]
        said = f"{len(partial)} {what}, {len(fixtures)} fixture blocks"
        areas.append(
            _way(
                mode,
                f"{said}, each {setting_text(margin, show)} higher than it is",
                glued,
                [square_feet(g.length * (g.height + margin)) for g in glued],
                "backing area",
                "sqft",
            )
        )
        beads.append(
            _way(
                mode,
                f"{said}: upright beads at most {setting_text(spacing, show)} apart and at both ends",
                glued,
                [_beads(g, spacing) for g in glued],
                "bead",
                "ft",
            )
        )
    yield count(job.order.backing, *areas)
    yield count("adhesive", *beads)


def _way(
    mode: Mode,
    why: str,
    glued: Sequence[_Glued],
    amounts: Sequence[float],
    what: str,
    unit: ItemUnit,
) -> Way:
    """The amounts as one way, summed by where they are."""
    by_ref: dict[str, float] = {}
    for g, amount in zip(glued, amounts, strict=True):
        by_ref[g.ref] = by_ref.get(g.ref, 0.0) + amount
    sources = tuple(OrderSource(ref, what, amount, unit) for ref, amount in by_ref.items())
    return Way(mode, math.fsum(amounts), why, sources)


def _beads(glued: _Glued, spacing_in: float) -> float:
    """Feet of upright beads, one at each end and between them at most so far apart."""
    return (math.ceil(glued.length / spacing_in - 1e-9) + 1) * glued.height / 12.0


def _pieces(walls: Sequence[WallTakeoff]) -> Iterator[_Glued]:
    for wall in walls:
        yield from (
            _Glued(wall.wall.id, p.length, p.height) for p in wall.courses.pieces if p.glued
        )


def _fixtures(walls: Sequence[WallTakeoff]) -> Iterator[_Glued]:
    for wall in walls:
        yield from (
            _Glued(o.opening.id, o.width, o.height)
            for o in wall.quantities.openings
            if o.opening.kind == "fixture"
        )


def _strips(walls: Sequence[WallTakeoff], product: Product) -> list[_Glued]:
    """Strips that lose their upper part at a sill, top or cap, and a course's height along each rake."""
    strips = []
    for wall in walls:
        strips += [
            _Glued(wall.wall.id, c.x1 - c.x0, c.strip)
            for c in wall.courses.conflicts
            if c.what in ("sill", "top", "cap") and c.strip > 0.0
        ]
        if wall.quantities.rake_run > 0.0:
            strips.append(_Glued(wall.wall.id, wall.quantities.rake_run, product.panel.height))
    return strips
