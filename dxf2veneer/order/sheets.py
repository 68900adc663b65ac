"""What goes behind and between: barrier, lath or flashing, adhesive, caulk."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.tolerances import ROUNDING_SHARE
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT, square_feet
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import METRIC, ItemUnit
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Corner, CoursePlan, OrderSource, WallTakeoff
from dxf2veneer.order.arithmetic import Count, CountMethod, Mode, count
from dxf2veneer.order.prices import Prices


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
    """Barrier, backing and adhesive of glued pieces and blocks, caulk.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan, where there is one.
        job: The job.
        product: The panel line.
        prices: The prices, which may sell the barrier in rolls of another size.

    Returns:
        Four counts.

    Raises:
        SettingsError: A roll of the barrier is shorter than its lap.
    """
    behind, joints = barrier_and_caulk(walls, corners, job, product, prices)
    return [behind, *_glue(walls, plan, job, product), joints]


def barrier_and_caulk(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    prices: Prices,
) -> list[Count]:
    """What goes behind and between whatever is laid: barrier and caulk.

    Args:
        walls: The walls as laid out.
        corners: Their corners.
        job: The job.
        product: A panel line that has the goods of all of them.
        prices: The prices.

    Returns:
        Two counts.

    Raises:
        SettingsError: A roll of the barrier is shorter than its lap.
    """
    return [barrier(*_outdoors(walls, corners, job), product, prices), caulk(walls)]


def barrier(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], product: Product, prices: Prices
) -> Count:
    """The water-resistive barrier: gross area with its laps, and an overlap at every corner.

    Laps after IRC R703.2; the overlap at corners is common practice, no published source. The roll
    that is bought has the laps: a price file may sell another size than the product file names.

    Args:
        walls: The walls as measured.
        corners: The job's corners.
        product: The panel line.
        prices: The prices.

    Returns:
        The count in square feet, by area.

    Raises:
        SettingsError: A roll is shorter than its lap.
    """
    roll, (level, upright) = product.goods.wrb, _laps(product, prices)
    gross = math.fsum(w.quantities.gross_area for w in walls)
    run = math.fsum(c.run for c in corners)
    measured = barrier_of(gross, run, product, prices)
    why = message(
        "barrier",
        gross=Area(gross),
        level=level,
        upright=upright,
        lap_level=Length(roll.lap_level),
        lap_upright=Length(roll.lap_upright),
        lap_corner=Length(roll.lap_corner),
        run=Length(run),
    )
    if roll.layers != 1.0:
        why = message("in-layers", why=why, layers=roll.layers)
    sources = [
        OrderSource(
            w.wall.id, message("source-gross-area"), square_feet(w.quantities.gross_area), "sqft"
        )
        for w in walls
    ]
    sources += [
        OrderSource(c.id, message("source-corner", kind=c.kind), c.run / 12.0, "ft")
        for c in corners
    ]
    return count("wrb", CountMethod("area", measured, why, tuple(sources)))


def barrier_of(gross: float, run: float, product: Product, prices: Prices) -> float:
    """The barrier of so much wall.

    Args:
        gross: Gross area in square inches.
        run: Height of its corners in inches.
        product: The panel line.
        prices: The prices.

    Returns:
        Square feet, laps and layers included.

    Raises:
        SettingsError: A roll is shorter than its lap.
    """
    roll, (level, upright) = product.goods.wrb, _laps(product, prices)
    return roll.layers * square_feet(gross * level * upright + run * roll.lap_corner)


def _laps(product: Product, prices: Prices) -> tuple[float, float]:
    """What level and upright laps multiply an area by."""
    roll, length = product.goods.wrb, _roll_length(product, prices)
    return roll.width / (roll.width - roll.lap_level), length / (length - roll.lap_upright)


def _outdoors(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], job: Job
) -> tuple[list[WallTakeoff], list[Corner]]:
    """Walls with a barrier behind them, and the corners that these have."""
    kept = [w for w in walls if job.walls.has_barrier(w.wall.id, w.wall.name)]
    ids = {w.wall.id for w in kept}
    return kept, [c for c in corners if any(wall in ids for wall, _ in c.edges)]


def _roll_length(product: Product, prices: Prices) -> float:
    """Inches on a roll of the barrier. Raises SettingsError where that is less than its lap."""
    roll, priced = product.goods.wrb, prices.of("wrb")
    if priced is not None and priced.package is not None:
        holds, origin, key = float(priced.package), priced.origin, "package"
        holds /= METRIC["sqft"][1] if product.is_metric else 1.0
    else:
        holds, origin, key = roll.per_package, product.origin, "wrb.per_package"
    length = holds * SQUARE_INCHES_PER_SQUARE_FOOT / roll.width
    if length <= roll.lap_upright:
        raise SettingsError(
            message(
                "barrier-roll-short",
                place=origin.place(folders=True),
                key=key,
                holds=holds,
                width=Length(roll.width),
                lap=Length(roll.lap_upright),
            )
        )
    return length


def caulk(walls: Sequence[WallTakeoff]) -> Count:
    """Caulk where veneer meets openings, plain ends and what stands above its caps.

    Args:
        walls: The walls as measured.

    Returns:
        The count in feet of bead, by run.
    """
    openings = [s for w in walls for s in _opening_joints(w)]
    edges = [s for w in walls for s in _butt_edges(w)]
    caps = [s for w in walls for s in _cap_joints(w)]
    by_wall = [s for w in walls for s in (*_opening_joints(w), *_butt_edges(w), *_cap_joints(w))]
    around, along, behind = (
        Length(12.0 * math.fsum(s.value for s in sources)) for sources in (openings, edges, caps)
    )
    why = message("caulk", openings=around, edges=along, caps=behind)
    total = math.fsum(s.value for s in by_wall)
    sources = tuple(s for s in by_wall if s.value > 0.0)
    return count("caulk", CountMethod("area", total, why, sources))


def _opening_joints(wall: WallTakeoff) -> Iterator[OrderSource]:
    """Joints round openings: all round fixture blocks, along the trim of the others."""
    for o in wall.quantities.openings:
        trim = o.trim_head + o.trim_jambs + o.trim_sill
        joint = o.perimeter if o.opening.kind == "fixture" else trim
        yield OrderSource(o.opening.id, message("source-opening-joint"), joint / 12.0, "ft")


def _butt_edges(wall: WallTakeoff) -> Iterator[OrderSource]:
    """Joints along edges that butt against something else."""
    for e in wall.wall.edges:
        if e.kind == "butt":
            what = message("source-butt-edge", side=e.side)
            yield OrderSource(wall.wall.id, what, e.length / 12.0, "ft")


def _cap_joints(wall: WallTakeoff) -> Iterator[OrderSource]:
    """Joints behind caps."""
    run = wall.quantities.cap_run
    if run:
        yield OrderSource(wall.wall.id, message("source-cap-run"), run / 12.0, "ft")


# -------------------------------------------------------------------- glue


def _glue(
    walls: Sequence[WallTakeoff], plan: CoursePlan | None, job: Job, product: Product
) -> Iterator[Count]:
    """Lath or flashing behind what is glued, and the adhesive."""
    goods, fixtures = product.goods, list(_fixtures(walls))
    margin = (goods.lath if job.order.backing == "lath" else goods.flashing).margin
    spacing, blocks = goods.adhesive.spacing, len(fixtures)
    higher, apart = Length(margin), Length(spacing)
    strips = _strips(walls, product)
    number, glued = len(strips), [*strips, *fixtures]
    why = message("backing-by-area", strips=number, blocks=blocks, margin=higher)
    backing = [_backing("area", why, glued, margin)]
    why = message("adhesive-by-area", strips=number, blocks=blocks, spacing=apart)
    adhesive = [_adhesive("area", why, glued, spacing)]
    if plan is not None:
        pieces = list(_pieces(walls))
        number, glued = len(pieces), [*pieces, *fixtures]
        why = message("backing-by-plan", pieces=number, blocks=blocks, margin=higher)
        backing.insert(0, _backing("layout", why, glued, margin))
        why = message("adhesive-by-plan", pieces=number, blocks=blocks, spacing=apart)
        adhesive.insert(0, _adhesive("layout", why, glued, spacing))
    yield count(job.order.backing, *backing)
    yield count("adhesive", *adhesive)


def _backing(mode: Mode, why: Message, glued: Sequence[_Glued], margin_in: float) -> CountMethod:
    """Square feet of lath or flashing, each piece so much higher than what is glued to it."""
    amounts = [square_feet(g.length * (g.height + margin_in)) for g in glued]
    return _summed(mode, why, glued, amounts, message("source-backing"), "sqft")


def _adhesive(mode: Mode, why: Message, glued: Sequence[_Glued], spacing_in: float) -> CountMethod:
    """Feet of bead."""
    amounts = [_beads(g, spacing_in) for g in glued]
    return _summed(mode, why, glued, amounts, message("source-bead"), "ft")


def _summed(
    mode: Mode,
    why: Message,
    glued: Sequence[_Glued],
    amounts: Sequence[float],
    what: Message,
    unit: ItemUnit,
) -> CountMethod:
    """The amounts as one count, summed by where they are."""
    by_ref: dict[str, float] = {}
    for g, amount in zip(glued, amounts, strict=True):
        by_ref[g.ref] = by_ref.get(g.ref, 0.0) + amount
    sources = tuple(OrderSource(ref, what, amount, unit) for ref, amount in by_ref.items())
    return CountMethod(mode, math.fsum(amounts), why, sources)


def _beads(glued: _Glued, spacing_in: float) -> float:
    """Feet of upright beads, one at each end and between them at most so far apart."""
    return (math.ceil(glued.length / spacing_in - ROUNDING_SHARE) + 1) * glued.height / 12.0


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
    """Strips that lose their upper part at a sill, top or cap, and a course along each rake."""
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
