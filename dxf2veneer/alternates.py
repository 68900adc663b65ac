"""The order of a takeoff with its alternates: other bids beside the first, each laid out and ordered anew."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence

from dxf2veneer.bidding import AlternateChoice
from dxf2veneer.job import Job
from dxf2veneer.model import Alternate, Corner, CoursePlan, Order, Wall, WallTakeoff
from dxf2veneer.order import NO_PRICES, Prices, load_prices, order
from dxf2veneer.product import Product, load_product
from dxf2veneer.settings import SettingsError

LayOut = Callable[[Sequence[Wall], Sequence[Corner], Product], tuple[Sequence[WallTakeoff], CoursePlan | None]]
"""Measures, courses and plans some walls with a product."""


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
    """The order of the whole job, and beside it that of each alternate.

    Raises SettingsError for a price file, an alternate's wall or an alternate's product that can't be used.
    """
    prices = prices_of(job)
    first = order(walls, corners, plan, job, product, prices)
    found = [w.wall for w in walls]
    others = tuple(_alternate(choice, found, corners, job, product, prices, lay_out) for choice in job.bid.alternates)
    return dataclasses.replace(first, alternates=others)


def _alternate(
    choice: AlternateChoice,
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    prices: Prices,
    lay_out: LayOut,
) -> Alternate:
    out = _left_out(choice, walls, job)
    kept = [w for w in walls if w.id not in out]
    path = job.alternate_path(choice)
    other = load_product(path) if path else product
    left = corners_without(corners, out)
    laid, plan = lay_out(kept, left, other)
    differs = [f"without {', '.join(w.name or w.id for w in walls if w.id in out)}"] if out else []
    differs += [f"with {other.product.name or choice.product}"] if path else []
    return Alternate(choice.name, ", ".join(differs), order(laid, left, plan, job, other, prices))


def _left_out(choice: AlternateChoice, walls: Sequence[Wall], job: Job) -> set[str]:
    """Ids of the walls that an alternate does without."""
    where = f"{job.source_of('bid.alternates')}: alternate {choice.name!r}"
    out: set[str] = set()
    for name in choice.without:
        ids = {w.id for w in walls if name.casefold() in (w.id.casefold(), w.name.casefold())}
        if not ids:
            raise SettingsError(f"{where}: there is no wall {name}; there are: {', '.join(w.name or w.id for w in walls)}")
        out |= ids
    if len(out) == len(walls):
        raise SettingsError(f"{where} leaves no wall over")
    if not out and choice.product is None:
        raise SettingsError(f"{where} changes nothing; name walls under without, or a product file under product")
    return out


def corners_without(corners: Sequence[Corner], out: set[str]) -> tuple[Corner, ...]:
    """The corners that are left without some walls; one that loses a side counts by itself."""
    left = [dataclasses.replace(c, edges=tuple(e for e in c.edges if e[0] not in out)) for c in corners]
    return tuple(c for c in left if c.edges)
