"""The order with its alternates: other bids beside the first, each laid out and ordered again."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Any, NamedTuple, Protocol

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Level, Notice
from dxf2veneer.config.bidding import AlternateChoice
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product, load_product
from dxf2veneer.config.treatments import OF_PRODUCT, called
from dxf2veneer.model import Alternate, Corner, CoursePlan, Order, Part, Wall, WallTakeoff
from dxf2veneer.order import NO_PRICES, Prices, load_prices, order

_OF_LAYOUT = ("PLAN_TOO_BIG",)
"""Warnings about an alternate's layout that its order rests on."""
_OF_PRODUCT = ("GOODS_GENERIC",)
"""Notes about the product of an alternate's order."""


class LaidOutWalls(Protocol):
    """What the order needs of walls that were laid out."""

    @property
    def walls(self) -> tuple[WallTakeoff, ...]:
        """The walls with their quantities, courses and pieces."""

    @property
    def plan(self) -> CoursePlan | None:
        """The course plan, where there is one."""

    @property
    def notices(self) -> tuple[Notice, ...]:
        """Notices about them."""

    @property
    def parts(self) -> tuple[Part, ...]:
        """The walls of each product, where there are several."""


class Whole(NamedTuple):
    """All walls of the drawings, those out of the base bid with them, and their corners."""

    walls: tuple[Wall, ...]
    corners: tuple[Corner, ...]


LayOut = Callable[[Sequence[Wall], Sequence[Corner], Job, Product], LaidOutWalls]
"""Measures, courses, plans and checks some walls with a job's product, or its several ones."""


def prices_of(job: Job) -> Prices:
    """The prices that a job names.

    Args:
        job: The job.

    Returns:
        The prices, or none.

    Raises:
        SettingsError: They can't be read.
    """
    return load_prices(job.prices_path, job.prices) if job.prices_path else NO_PRICES


def order_of(
    walls: Sequence[WallTakeoff],
    corners: Sequence[Corner],
    plan: CoursePlan | None,
    job: Job,
    product: Product,
    lay_out: LayOut,
    parts: Sequence[Part] = (),
    every: Whole | None = None,
) -> Order:
    """The order of the whole job, and beside it that of each alternate.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        plan: The course plan, where there is one.
        job: The job, which names prices and alternates.
        product: The panel line.
        lay_out: Lays out the walls of an alternate.
        parts: The walls of each product, where the job has several.
        every: All walls and corners, those out of the base bid with them, where there are any.

    Returns:
        The order; errors of alternates, and warnings about their orders that the first
        does not have, stand among its notices.

    Raises:
        SettingsError: A price file, an alternate's wall or an alternate's product can't be used.
    """
    prices = prices_of(job)
    first = order(walls, corners, plan, job, product, prices, parts=parts)
    found = tuple(w.wall for w in walls)
    whole = every or Whole(found, tuple(corners))
    made = [
        _alternate(choice, found, whole, job, product, prices, lay_out, first)
        for choice in job.bid.alternates
    ]
    errors = tuple(error for _, notices in made for error in notices)
    others = tuple(
        dataclasses.replace(other, difference=_beyond(other.order.bid.total, first.bid.total))
        for other, _ in made
    )
    return dataclasses.replace(first, alternates=others, notices=first.notices + errors)


def _beyond(total: Decimal | None, first: Decimal | None) -> Decimal | None:
    """What an alternate costs more than the first bid; None where one is not known."""
    return None if total is None or first is None else total - first


def _alternate(
    choice: AlternateChoice,
    base: Sequence[Wall],
    whole: Whole,
    job: Job,
    product: Product,
    prices: Prices,
    lay_out: LayOut,
    first: Order,
) -> tuple[Alternate, list[Notice]]:
    """An alternate, its errors, and the warnings about its order that the first does not have."""
    added = _added(choice, base, whole, job)
    walls = [w for w in whole.walls if w in base or w.id in added]
    out = _left_out(choice, base, whole, job)
    kept = [w for w in walls if w.id not in out]
    path = job.alternate_path(choice)
    other = load_product(path) if path else product
    left = corners_without(whole.corners, kept)
    if path:
        job = _of_one_product(job)
    laid = lay_out(kept, left, job, other)
    is_own = path in (None, job.product_path)
    try:
        made = order(
            laid.walls, left, laid.plan, job, other, prices, is_own=is_own, parts=laid.parts
        )
    except SettingsError as error:
        what = message("alternate-error", alternate=choice.name, error=error.message)
        raise SettingsError(what) from None
    known = {(n.code, n.message) for n in first.notices}
    told = [n for n in laid.notices if n.level is Level.ERROR or n.code in _OF_LAYOUT]
    told += [
        n
        for n in made.notices
        if (n.level is not Level.INFO or n.code in _OF_PRODUCT) and (n.code, n.message) not in known
    ]
    errors = [
        dataclasses.replace(
            n, message=message("alternate-error", alternate=choice.name, error=n.message)
        )
        for n in told
    ]
    names = tuple(w.name or w.id for w in walls if w.id in out)
    what = _difference(names, other.product.name or path.stem if path else None)
    if added:
        more = tuple(w.name or w.id for w in walls if w.id in added)
        less = what if names or path else None
        what = message("alternate-adds", walls=more, what=less)
    ids = tuple(w.id for w in kept)
    return Alternate(choice.name, what, made, ids, other, bool(added), laid.parts), errors


def _of_one_product(job: Job) -> Job:
    """The job whose treatments name no product, nor what goes with one."""
    none: dict[str, Any] = dict.fromkeys(("product", *OF_PRODUCT))
    treatments = tuple(one._replace(**none) for one in job.walls.treatments)
    return dataclasses.replace(job, walls=dataclasses.replace(job.walls, treatments=treatments))


def _added(choice: AlternateChoice, base: Sequence[Wall], whole: Whole, job: Job) -> set[str]:
    """Ids of the walls that an alternate adds. Raises SettingsError."""
    outside = [w for w in whole.walls if w not in base]
    added: set[str] = set()
    for name in choice.adds:
        ids = {w.id for w in outside if name.casefold() in called(w.id, w.name)}
        if not ids:
            raise SettingsError(
                message(
                    "alternate-adds-none",
                    place=job.origin_of("bid.alternates").place(folders=True),
                    alternate=choice.name,
                    wall=name,
                    walls=tuple(w.name or w.id for w in outside) or ("none",),
                )
            )
        added |= ids
    return added


def _difference(without: tuple[str, ...], product: str | None) -> Message:
    """What is different in an alternate."""
    if product is None:
        return message("alternate-without", walls=without)
    if not without:
        return message("alternate-with", product=product)
    return message("alternate-without-with", walls=without, product=product)


def _left_out(choice: AlternateChoice, walls: Sequence[Wall], whole: Whole, job: Job) -> set[str]:
    """Ids of the walls that an alternate does without. Raises SettingsError."""
    place = job.origin_of("bid.alternates").place(folders=True)
    out: set[str] = set()
    for name in choice.without:
        ids = {w.id for w in walls if name.casefold() in called(w.id, w.name)}
        if not ids and any(name.casefold() in called(w.id, w.name) for w in whole.walls):
            raise SettingsError(
                message("alternate-out-already", place=place, alternate=choice.name, wall=name)
            )
        if not ids:
            raise SettingsError(
                message(
                    "alternate-no-wall",
                    place=place,
                    alternate=choice.name,
                    wall=name,
                    walls=tuple(w.name or w.id for w in walls),
                )
            )
        out |= ids
    if len(out) == len(walls) and not choice.adds:
        raise SettingsError(message("alternate-leaves-none", place=place, alternate=choice.name))
    if not out and choice.product is None and not choice.adds:
        raise SettingsError(
            message("alternate-changes-nothing", place=place, alternate=choice.name)
        )
    return out


def corners_without(corners: Sequence[Corner], walls: Sequence[Wall]) -> tuple[Corner, ...]:
    """The corners of the walls that are left.

    Args:
        corners: The corners of all walls.
        walls: The walls that are left.

    Returns:
        The corners that touch them; one that loses a side counts by itself, as high as its other
        side.
    """
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
