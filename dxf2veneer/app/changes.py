"""What one takeoff has that another had not, in one line.

The figures come first, then conflicts and notices.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from dxf2veneer.basics.messages import Message
from dxf2veneer.basics.notices import Level, Notice
from dxf2veneer.basics.tolerances import LEAST_CHANGE_IN, LEAST_CHANGE_SQFT
from dxf2veneer.model import Takeoff
from dxf2veneer.wording.measures import area_text, length_text

SAME = "same figures"
_NAMED = 3
_SUBJECTS = ("opening", "corner", "wall", "openings", "corners", "walls")
"""Names under which a message keeps what it speaks of, the nearest first."""


def what_changed(before: Takeoff, after: Takeoff) -> str:
    """The differences that someone who has just saved a drawing wants to know.

    Args:
        before: The takeoff before.
        after: The takeoff now; its job says in which units the line is.

    Returns:
        One line, parted by commas. Areas and runs read as ``net +3.25 sq ft to 149.27 sq ft``,
        counts as ``flat panels +2 to 78``; conflicts and warnings as ``new:`` or ``cleared:`` with
        the opening, wall or handle they speak of.
    """
    parts = [*_sizes(before, after), *_shown(before, after)]
    parts += [*_counts(before, after), *_money(before, after)]
    old, new = Counter(_troubles(before)), Counter(_troubles(after))
    parts += _new_and_cleared(old, new)
    return ", ".join(parts) or SAME


def courses_changed(before: Takeoff, early: Takeoff) -> str:
    """What can be told of a save as soon as course lines are known.

    Args:
        before: The takeoff before.
        early: What is known now: walls, openings, areas and course lines.

    Returns:
        One line: ``course lines: `` and what changed of these, slivers among it.
    """
    parts = [*_sizes(before, early), *_shown(before, early)]
    old, new = Counter(_slivers(before)), Counter(_slivers(early))
    parts += _new_and_cleared(old, new)
    return f"course lines: {', '.join(parts) or SAME}"


def _new_and_cleared(old: Counter[str], new: Counter[str]) -> Iterator[str]:
    for word, gone in (("new", new - old), ("cleared", old - new)):
        if gone:
            yield f"{word}: {_listed(gone)}"


def _sizes(before: Takeoff, after: Takeoff) -> Iterator[str]:
    show, old, new = after.job.output.display, before.totals, after.totals
    areas = (
        ("gross", old.gross_area, new.gross_area),
        ("openings", old.opening_area, new.opening_area),
        ("net", old.net_area, new.net_area),
    )
    for name, was, now in ((name, was / 144.0, now / 144.0) for name, was, now in areas):
        if abs(now - was) >= LEAST_CHANGE_SQFT:
            yield (
                f"{name} {_signed(area_text(abs(now - was), show), now > was)} to "
                f"{area_text(now, show)}"
            )
    for name, was, now in (
        ("outside corners", before.corner_run("outside"), after.corner_run("outside")),
        ("inside corners", before.corner_run("inside"), after.corner_run("inside")),
        ("starter", old.starter_run, new.starter_run),
    ):
        if abs(now - was) >= LEAST_CHANGE_IN:
            yield (
                f"{name} {_signed(length_text(abs(now - was), show), now > was)} to "
                f"{length_text(now, show)}"
            )


def _shown(before: Takeoff, after: Takeoff) -> Iterator[str]:
    for name, was, now in (
        ("walls", len(before.walls), len(after.walls)),
        ("openings counted", before.totals.openings, after.totals.openings),
    ):
        if now != was:
            yield f"{name} {_signed(str(abs(now - was)), now > was)} to {now}"


def _counts(before: Takeoff, after: Takeoff) -> Iterator[str]:
    if before.plan and after.plan:
        for name, was, now in (
            ("flat panels", before.plan.flat.units, after.plan.flat.units),
            ("corner panels", before.plan.corner.units, after.plan.corner.units),
            ("crosscuts", before.plan.cuts, after.plan.cuts),
        ):
            if now != was:
                yield f"{name} {_signed(str(abs(now - was)), now > was)} to {now}"
    elif after.plan:
        yield (
            f"now planned: {after.plan.flat.units} flat and {after.plan.corner.units} corner panels"
        )
    elif before.plan:
        yield f"no longer planned: about {after.estimate.panels} panels by area"
    elif after.estimate.panels != before.estimate.panels:
        was, now = before.estimate.panels, after.estimate.panels
        yield f"panels by area {_signed(str(abs(now - was)), now > was)} to {now}"


def _money(before: Takeoff, after: Takeoff) -> Iterator[str]:
    if before.order is None or after.order is None:
        return
    was, now = before.order.bid.total, after.order.bid.total
    if was is not None and now is not None and was != now:
        yield (
            f"bid {_signed(f'{abs(now - was):,.2f}', now > was)} to {now:,.2f} "
            f"{after.order.currency}"
        ).rstrip()
    elif was is None and now is not None:
        yield f"bid now {now:,.2f} {after.order.currency}".rstrip()
    elif was is not None and now is None:
        yield "bid has no total any more"


def _troubles(takeoff: Takeoff) -> Iterator[str]:
    """Slivers by the head, sill, top or cap they lie at; other warnings and errors by what they
    speak of.

    Measures and places are left out of it: a strip that grew, or a wall that moved, is no new
    trouble.
    """
    yield from _slivers(takeoff)
    for notice in takeoff.notices:
        if notice.level == Level.INFO or notice.code == "SLIVER":
            continue
        yield f"{notice.code} {_subject(notice)}".rstrip()


def _slivers(takeoff: Takeoff) -> Iterator[str]:
    for wall in takeoff.walls:
        for conflict in wall.courses.conflicts:
            if conflict.sliver:
                yield f"SLIVER {conflict.what} of {conflict.opening or wall.wall.id}"


def _subject(notice: Notice) -> str:
    """The opening, corner or wall that a notice speaks of, else the entity's handle."""
    if isinstance(notice.message, Message):
        for name in _SUBJECTS:
            held = notice.message.get(name)
            found = held[0] if isinstance(held, tuple) and held else held
            if isinstance(found, str):
                return found
    return f"handle {notice.handle}" if notice.handle else ""


def _listed(troubles: Counter[str]) -> str:
    named = [
        f"{name} ({count} times)" if count > 1 else name for name, count in sorted(troubles.items())
    ]
    return "; ".join(named[:_NAMED]) + (
        f" and {len(named) - _NAMED} more" if len(named) > _NAMED else ""
    )


def _signed(text: str, more: bool) -> str:
    return f"{'+' if more else '−'}{text}"
