"""Notices as lines of plain text: one line for one fact, with its places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from dxf2veneer.basics.notices import Level, Notice, facts
from dxf2veneer.wording.notice_catalog import remedy
from dxf2veneer.wording.say import say
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.model import Drawing

_SHOWN_PLACES = 3


def notice_lines(
    notices: Sequence[Notice],
    drawings: Sequence[Drawing],
    *,
    least: Level,
    display: str = "imperial",
) -> Iterator[str]:
    """Notices as lines, with file, layer, handle and the drawing's own coordinates.

    Args:
        notices: All notices.
        drawings: The drawings that they speak of.
        least: The level from which on they are shown.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        One line a fact: its first notice, how many more show the same, and a few of their places.
    """
    order = list(Level)
    graver = [n for n in notices if order.index(n.level) >= order.index(least)]
    for fact in facts(graver):
        yield _line(fact, drawings, display)


def _line(fact: Sequence[Notice], drawings: Sequence[Drawing], display: str) -> str:
    """A fact in one line."""
    notice, others = fact[0], fact[1:]
    where = _where(notice, drawings)
    place = f" ({', '.join(where)})" if where else ""
    said = f"{notice.code}: {say(notice.message, display)}{place}. {remedy(notice.code)}"
    more = sum(n.count for n in others)
    if more:
        at = [_where(n, drawings)[-1:] for n in others[:_SHOWN_PLACES]]
        places = ", ".join(dict.fromkeys(p for found in at for p in found))
        listed = f" ({places}{', …' if more > _SHOWN_PLACES else ''})" if places else ""
        said += f" And {more:,} more of this kind{listed}: the result (--json) has each."
    return safe(f"{notice.level}: {said}")


def _where(notice: Notice, drawings: Sequence[Drawing]) -> list[str]:
    """File, layer, handle and place of a notice, as far as they are known."""
    where = []
    drawing = (
        drawings[notice.drawing]
        if notice.drawing is not None and notice.drawing < len(drawings)
        else None
    )
    if drawing:
        where.append(drawing.file)
    if notice.layer:
        where.append(f"layer {notice.layer}")
    if notice.handle:
        where.append(f"handle {notice.handle}")
    if notice.at_in and drawing:
        x, y = (v / drawing.inches_per_unit for v in notice.at_in)
        where.append(f"at {x:g},{y:g}")
    return where
