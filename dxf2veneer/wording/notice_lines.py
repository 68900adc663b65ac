"""Notices as lines of plain text, each with its place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from dxf2veneer.basics.notices import Level, Notice
from dxf2veneer.wording.notice_catalog import remedy
from dxf2veneer.wording.say import say
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.model import Drawing

_SHOWN_PER_CODE = 5


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
        One line a notice; of those with one code a few, and how many more there are.
    """
    order = list(Level)
    graver = [n for n in notices if order.index(n.level) >= order.index(least)]
    for code, group in groupby(graver, key=lambda n: n.code):
        listed = list(group)
        yield from (_line(n, drawings, display) for n in listed[:_SHOWN_PER_CODE])
        if len(listed) > _SHOWN_PER_CODE:
            more = sum(n.count for n in listed[_SHOWN_PER_CODE:])
            yield f"  … and {more:,} more {code}, listed in the workbook"


def _line(notice: Notice, drawings: Sequence[Drawing], display: str) -> str:
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
    place = f" ({', '.join(where)})" if where else ""
    said = f"{notice.code}: {say(notice.message, display)}{place}. {remedy(notice.code)}"
    return safe(f"{notice.level}: {said}")
