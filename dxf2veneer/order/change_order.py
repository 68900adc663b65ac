"""The change order out of a comparison: public facts alone."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.config.job import Job
from dxf2veneer.model import (
    FIGURES,
    ChangeOrder,
    ChangeTerms,
    LaidWall,
    MeasuredChange,
    OrderedChange,
    Recorded,
    Revision,
)

_CAUTIONS = (message("caution-no-design"), message("caution-structure"))
_KEPT_BACK = ("hours", "money")
_DIGITS = 12


def change_order_of(
    revision: Revision, walls: Sequence[LaidWall], job: Job, terms: ChangeTerms
) -> ChangeOrder:
    """The change order of a comparison.

    The price is what the bid of now comes to less that before. A wall's part of it is what its
    share of the bid differs by; what is left falls to no wall alone.

    Args:
        revision: The comparison.
        walls: Its changed walls.
        job: The job of the new takeoff, for names and addresses.
        terms: What the user says of it.

    Returns:
        What the customer reads.
    """
    price = revision.money("price")
    changes = tuple(_change(wall) for wall in walls)
    known = [change.price for change in changes if change.price is not None]
    complete = price.delta is not None and len(known) == len(changes)
    add = sum((p for p in known if p > 0), Decimal(0)) if complete else None
    deduct = sum((p for p in known if p < 0), Decimal(0)) if complete else None
    rest = None
    if price.delta is not None and add is not None and deduct is not None:
        rest = price.delta - add - deduct
    return ChangeOrder(
        job=job.job.name,
        company=job.job.company,
        sender=job.letter.sender,
        customer=job.letter.customer,
        address=job.letter.address,
        signed_by=job.letter.signed_by,
        terms=terms,
        old_sources=_sources(revision.old),
        new_sources=_sources(revision.new),
        changes=changes,
        add=add,
        deduct=deduct,
        rest=rest,
        total=price.delta,
        contract=price.old if terms.contract is None else terms.contract,
        figures=tuple(
            MeasuredChange(key, revision.old.totals.get(key), revision.new.totals.get(key))
            for key, kind in FIGURES.items()
            if kind not in _KEPT_BACK
        ),
        currency=revision.new.currency or revision.old.currency,
        display=revision.new.display,
        cautions=_CAUTIONS,
    )


def _change(wall: LaidWall) -> OrderedChange:
    area, price = wall.change.delta.get("net_area_sqft"), wall.change.delta.get("price")
    told: tuple[Message, ...] = tuple(place.told for place in wall.places)
    exact = price if isinstance(price, Decimal) else None
    return OrderedChange(wall.title, told, float(area or 0.0), exact)


def _sources(side: Recorded) -> tuple[str, ...]:
    return tuple(f"{d.file} (SHA-256 {d.sha256[:_DIGITS]})" for d in side.drawings)
