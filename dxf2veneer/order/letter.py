"""The customer's bid out of the takeoff: public facts alone."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from decimal import Decimal
from pathlib import PurePath
from typing import Literal, cast

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.units import SQUARE_FEET_PER_SQUARE_METER, square_feet
from dxf2veneer.config.bidding import EXCLUSIONS, Exclusion
from dxf2veneer.config.checks import plain
from dxf2veneer.config.job import Job
from dxf2veneer.config.treatments import NOT_DRAWN
from dxf2veneer.model import (
    BidLetter,
    ChangePrice,
    OfferedAlternate,
    Order,
    OrderLine,
    ScopeElevation,
    ScopeWall,
    Takeoff,
)
from dxf2veneer.order.arithmetic import cents, exact, tidy
from dxf2veneer.order.shares import apportion

_CAUTIONS = ("caution-no-design", "caution-structure", "caution-dust")
"""Cautions that the letter carries."""
_WORK_ON = {"wrb": "barrier", "starter_strip": "strips", "caulk": "caulk"}
"""The work that goes with an item, where it is apart from laying."""
_OUR_OWN = ("layout", "setup")
"""Work that nobody buys elsewhere: the letter does not name it where it has no rate."""
_LEFT = {
    "barrier": message("left-barrier"),
    "strips": message("left-strips"),
    "caulk": message("left-caulk"),
    "cleanup": message("left-cleanup"),
    "scaffold": message("left-scaffold"),
}
"""What a customer calls work that the bid leaves out."""


def letter_of(takeoff: Takeoff, order: Order) -> BidLetter:
    """The letter of a takeoff.

    The price is the bid's total, however it is stated. Where prices are by area, the rate beside
    it is the total over the net area, rounded to the cent. Work without a rate is in no price, so
    the letter does not offer it: what it goes with is supplied alone.

    Args:
        takeoff: The takeoff.
        order: Its order.

    Returns:
        What the customer reads.
    """
    job = takeoff.job
    about, letter = job.job, job.letter
    metric = job.output.display == "metric"
    per = SQUARE_FEET_PER_SQUARE_METER if metric else 1.0
    area = cents(tidy(square_feet(math.fsum(e.net_area for e in takeoff.elevations)) / per))
    price, rate = order.bid.total, None
    if letter.pricing == "area" and price is not None and area:
        rate = cents(price / area)
    ours = [line for line in order.lines if not line.by_others]
    unrated = {line.key: line.what for line in order.labour if line.is_open}
    rated = {line.key for line in order.labour if line.hours}
    taken_up = _taken_up(job, order)
    exclude = tuple(t for t in job.bid.exclude if t not in {one.text for one in taken_up})
    return BidLetter(
        job=about.name,
        note=letter.note,
        company=about.company,
        sender=letter.sender,
        customer=letter.customer,
        address=letter.address,
        date=letter.date,
        valid=letter.valid,
        signed_by=letter.signed_by,
        drawings=tuple(dict.fromkeys(PurePath(d.file).name for d in takeoff.drawings)),
        by_area=tuple(one.reason for one in job.order.additions if one.area),
        by_sizes=tuple(row.name for row in job.walls.rows),
        product=_products(takeoff),
        scope=_scope(takeoff, area, by_elevation=letter.pricing == "elevation"),
        net_area=area,
        pricing=cast(Literal["lump", "elevation", "area"], letter.pricing),
        price=price,
        rate=rate,
        currency=order.currency,
        alternates=tuple(OfferedAlternate(a.name, a.what, a.difference) for a in order.alternates),
        unit_prices=tuple(ChangePrice(u.name, exact(u.price), u.unit) for u in letter.unit_prices),
        items=_each_once(o for o in ours if _WORK_ON.get(o.item_key) not in unrated),
        supplied=_each_once(o for o in ours if _WORK_ON.get(o.item_key) in unrated),
        by_others=_each_once(line for line in order.lines if line.by_others),
        include=(*job.bid.include, *(one.text for one in taken_up if one.work in rated)),
        exclude=exclude,
        unrated=(
            *_out_of_bid(takeoff),
            *(
                _LEFT.get(key, work)
                for key, work in unrated.items()
                if key not in _OUR_OWN and not any(key in t.casefold() for t in exclude)
            ),
        ),
        assume=letter.assume,
        is_laid_out=takeoff.plan is not None,
        cautions=tuple(c for c in takeoff.cautions if c.code in _CAUTIONS),
        display=job.output.display,
    )


def _products(takeoff: Takeoff) -> str:
    """The panel, or which of several is on which walls."""
    if not takeoff.parts:
        return takeoff.product.product.name
    by_area = tuple(one.reason for one in takeoff.job.order.additions if one.area)
    names = {
        wall: name or (f"{elevation}, wall {number}" if number else elevation)
        for wall, (name, number, elevation) in _called(takeoff).items()
    }
    on = {
        part.name: (*(names[wall] for wall in part.walls), *(by_area if part.is_own else ()))
        for part in takeoff.parts
    }
    return "; ".join(f"{name} on {', '.join(walls)}" for name, walls in on.items() if walls)


def _called(takeoff: Takeoff) -> dict[str, tuple[str, int, str]]:
    """What the customer reads of each wall, by its id: its name where no other wall of its
    elevation has it, its number there, and the elevation. Ids are for the house."""
    names = {w.wall.id: w.wall.name.removesuffix(NOT_DRAWN) for w in takeoff.walls}
    found = {}
    for elevation in takeoff.elevations:
        title = elevation.name.removesuffix(NOT_DRAWN)
        own = [names.get(share.wall, "") for share in elevation.walls]
        small = [plain(name) for name in (*own, title)]
        for number, (share, name) in enumerate(zip(elevation.walls, own, strict=True), 1):
            told = name if name and small.count(plain(name)) == 1 else ""
            found[share.wall] = (told, number if len(own) > 1 else 0, title)
    return found


def _each_once(lines: Iterable[OrderLine]) -> tuple[Message, ...]:
    """What lines are about, whichever product they are of."""
    named = (cast(Message, line.item["item"]) if line.product else line.item for line in lines)
    return tuple(dict.fromkeys(named))


def _out_of_bid(takeoff: Takeoff) -> Iterator[Message]:
    """The walls that the bid leaves out."""
    names = tuple((w.name or w.id).removesuffix(NOT_DRAWN) for w in takeoff.out_of_bid)
    if names:
        yield message("letter-out-of-bid", walls=names)


def _taken_up(job: Job, order: Order) -> list[Exclusion]:
    """What a bid leaves to others by default, but this one prices or includes; nothing where the
    job file names what it leaves."""
    if job.origin_of("bid.exclude").kind != "default":
        return []
    work = (line.key for line in order.labour if line.hours or line.cost)
    lines = (charge.name for charge in job.bid.lines if charge.value > 0.0)
    named = " ".join((*work, *lines, *job.bid.include)).casefold()
    return [one for one in EXCLUSIONS if any(word in named for word in one.words)]


def _scope(takeoff: Takeoff, area: Decimal, *, by_elevation: bool) -> tuple[ScopeElevation, ...]:
    """The elevations with all their walls, whose areas sum up to that of all of them."""
    shares = [share for e in takeoff.elevations for share in e.walls]
    parts = apportion(area, [share.net_area for share in shares])
    called = _called(takeoff)
    panels = {wall: part.name for part in takeoff.parts for wall in part.walls}
    areas = {share.wall: part for share, part in zip(shares, parts, strict=True)}
    return tuple(
        ScopeElevation(
            e.name.removesuffix(NOT_DRAWN),
            tuple(
                ScopeWall(
                    called[s.wall][0], areas[s.wall], panels.get(s.wall, ""), called[s.wall][1]
                )
                for s in e.walls
                if s.wall != e.name
            ),
            sum((areas[s.wall] for s in e.walls), Decimal(0)),
            e.price if by_elevation else None,
        )
        for e in takeoff.elevations
    )
