"""The order of a takeoff with its alternates: other bids beside the first, each laid out and ordered anew."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Sequence
from typing import Protocol

from dxf2veneer.config.bidding import AlternateChoice
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product, load_product
from dxf2veneer.config.settings import SettingsError
from dxf2veneer.model import Alternate, Corner, CoursePlan, Order, Wall, WallTakeoff
from dxf2veneer.notices import Level, Notice
from dxf2veneer.order import NO_PRICES, Prices, load_prices, order


class Laid(Protocol):
    """Walls laid out: what the order needs of them, and what there was to tell."""

    @property
    def walls(self) -> tuple[WallTakeoff, ...]:
        """The walls with their quantities, courses and pieces."""

    @property
    def plan(self) -> CoursePlan | None:
        """The course plan, where there is one."""

    @property
    def notices(self) -> tuple[Notice, ...]:
        """What there was to tell."""


LayOut = Callable[[Sequence[Wall], Sequence[Corner], Product], Laid]
"""Measures, courses, plans and checks some walls with a product."""


def prices_of(job: Job) -> Prices:
    """The prices that the job names, or none. Raises SettingsError where they can't be read."""
    return load_prices(job.prices_path) if job.prices_path else NO_PRICES


def order_of(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    lay_out: LayOut,
) -> Order:
    """The order of the whole job, and beside it that of each alternate, whose errors stand among its notices.

    Raises SettingsError for a price file, an alternate's wall or an alternate's product that can't be used.
    """
    prices = prices_of(job)
    first = order(walls, corners, plan, job, product, prices)
    found = [w.wall for w in walls]
    made = [
        _alternate(choice, found, corners, job, product, prices, lay_out)
        for choice in job.bid.alternates
    ]
    errors = tuple(error for _, told in made for error in told)
    return dataclasses.replace(
        first, alternates=tuple(other for other, _ in made), notices=first.notices + errors
    )


def _alternate(
    choice: AlternateChoice,
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    prices: Prices,
    lay_out: LayOut,
) -> tuple[Alternate, list[Notice]]:
    """An alternate and the errors in it."""
    out = _left_out(choice, walls, job)
    kept = [w for w in walls if w.id not in out]
    path = job.alternate_path(choice)
    other = load_product(path) if path else product
    left = corners_without(corners, kept)
    laid = lay_out(kept, left, other)
    errors = [
        dataclasses.replace(n, message=f"alternate {choice.name!r}: {n.message}")
        for n in laid.notices
        if n.level is Level.ERROR
    ]
    differs = [f"without {', '.join(w.name or w.id for w in walls if w.id in out)}"] if out else []
    differs += [f"with {other.product.name or choice.product}"] if path else []
    return Alternate(
        choice.name, ", ".join(differs), order(laid.walls, left, laid.plan, job, other, prices)
    ), errors


def _left_out(choice: AlternateChoice, walls: Sequence[Wall], job: Job) -> set[str]:
    """Ids of the walls that an alternate does without."""
    where = f"{job.source_of('bid.alternates')}: alternate {choice.name!r}"
    out: set[str] = set()
    for name in choice.without:
        ids = {w.id for w in walls if name.casefold() in (w.id.casefold(), w.name.casefold())}
        if not ids:
            raise SettingsError(
                f"{where}: there is no wall {name}; there are: {', '.join(w.name or w.id for w in walls)}"
            )
        out |= ids
    if len(out) == len(walls):
        raise SettingsError(f"{where} leaves no wall over")
    if not out and choice.product is None:
        raise SettingsError(
            f"{where} changes nothing; name walls under without, or a product file under product"
        )
    return out


def corners_without(corners: Sequence[Corner], walls: Sequence[Wall]) -> tuple[Corner, ...]:
    """The corners of the walls that are left; one that loses a side counts by itself, as high as its other side."""
    left = {w.id for w in walls}
    return tuple(
        dataclasses.replace(corner, edges=edges, run=_run(corner, walls))
        for corner in corners
        if (edges := tuple(e for e in corner.edges if e[0] in left))
    )


def _run(corner: Corner, walls: Sequence[Wall]) -> float:
    """The height of a corner's higher side among the walls."""
    edges = [e for w in walls for e in w.edges if e.corner == corner.id]
    return max(math.fsum(e.length for e in edges if e.side == side) for side in ("left", "right"))
