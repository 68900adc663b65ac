"""How plain entities are written: which group codes they have, and in which order."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from dxf2veneer.drawing.file.tags import HANDLE, LAYER, PAPER, SUBCLASS

LINE_TYPE, COLOUR, UNSEEN, FLAGS, _COUNT = 6, 62, 60, 70, 90
_HEAD = {HANDLE, LINE_TYPE, LAYER, 48, UNSEEN, COLOUR, PAPER, 330, 370, 420, 430, 440}
"""Group codes that every entity may have (DXF reference, common group codes for entities)."""
X0, Y0, X1, Y1 = 10, 20, 11, 21
WORD = 1
RADIUS, HEIGHT, WIDTH, ROTATION, START, END = 40, 40, 41, 50, 50, 51
ACROSS, UP = 72, 73
"""Codes of the numbers beside points: a circle's radius; an arc's angles; a text's height, width
factor and angle, and where its point stands in it (DXF reference, CIRCLE, ARC, TEXT)."""
_ALSO = frozenset({30, 31, 39})
"""Codes that say nothing of a place seen from above: depths and thickness."""
_POLYLINE_ALSO = {_COUNT, FLAGS, 38, 39, 43}
"""Codes of an LWPOLYLINE before its points: their number, flags, elevation, thickness, width."""
_EXTENDED = 1000
"""Extended data of applications has codes from here on."""


@dataclass(frozen=True)
class Form:
    """How entities of a kind are written plainly."""

    markers: tuple[bytes, ...]
    """The markers of what is their own."""
    needed: frozenset[int]
    """Codes that they must have."""
    beside: frozenset[int] = _ALSO
    """Codes that they may have."""


FORMS = {
    b"LINE": Form((b"AcDbLine",), frozenset({X0, Y0, X1, Y1})),
    b"LWPOLYLINE": Form((b"AcDbPolyline",), frozenset({X0, Y0})),
    b"POINT": Form((b"AcDbPoint",), frozenset({X0, Y0}), _ALSO | {50}),
    b"CIRCLE": Form((b"AcDbCircle",), frozenset({X0, Y0, RADIUS})),
    b"ARC": Form((b"AcDbCircle", b"AcDbArc"), frozenset({X0, Y0, RADIUS, START, END})),
    b"TEXT": Form(
        (b"AcDbText", b"AcDbText"),
        frozenset({X0, Y0, HEIGHT, WORD}),
        _ALSO | {X1, Y1, WIDTH, ROTATION, 51, 7, 71, ACROSS, UP},
    ),
}
"""The kinds that may be plain."""
NUMBERS: dict[bytes, dict[int, float]] = {
    b"CIRCLE": {RADIUS: 1.0},
    b"ARC": {RADIUS: 1.0, START: 0.0, END: 360.0},
    b"TEXT": {HEIGHT: 0.0, WIDTH: 1.0, ROTATION: 0.0, ACROSS: 0.0, UP: 0.0},
}
"""Codes of the numbers that are read of a kind, and what they are where they are not written."""


def places_of(codes: tuple[int, ...], kind: bytes) -> dict[int, tuple[int, ...]] | None:
    """Where each code stands in the sequence of an entity.

    Args:
        codes: The group codes of the entity in order.
        kind: Its DXF type.

    Returns:
        For each code its places; None for a sequence that is not plain.
    """
    size = next((i for i, c in enumerate(codes) if c >= _EXTENDED), len(codes))
    if any(c < _EXTENDED for c in codes[size:]):
        return None
    codes = codes[:size]
    markers = [i for i, c in enumerate(codes) if c == SUBCLASS]
    is_polyline = kind == b"LWPOLYLINE"
    if 2 <= len(markers) <= 1 + len(FORMS[kind].markers):
        head, own = codes[1 : markers[1]], codes[markers[1] + 1 :]
    elif not markers and not is_polyline:  # before release 13 there are no markers
        head = tuple(c for c in codes[1:] if c in _HEAD)
        own = tuple(c for c in codes[1:] if c not in _HEAD)
    else:
        return None
    single = [c for c in head if c != SUBCLASS]
    if len(set(single)) < len(single) or not set(single) <= _HEAD or HANDLE not in single:
        return None
    fits = _is_polyline(own) if is_polyline else _has_form(own, FORMS[kind])
    if not fits or not _follow(own):
        return None
    found: dict[int, tuple[int, ...]] = {}
    for i, c in enumerate(codes):
        found[c] = (*found.get(c, ()), i)
    return found


def _has_form(own: tuple[int, ...], form: Form) -> bool:
    """Whether codes are those that a form needs, and what it may have beside, each once."""
    codes = [c for c in own if c != SUBCLASS]
    once = len(set(codes)) == len(codes)
    return once and form.needed <= set(codes) <= form.needed | form.beside


def _is_polyline(own: tuple[int, ...]) -> bool:
    """Whether codes are a few that come before the points, and then the points alone."""
    first = next((i for i, c in enumerate(own) if c == X0), len(own))
    before, pairs = own[:first], own[first:]
    return (
        set(before) <= _POLYLINE_ALSO
        and len(set(before)) == len(before)
        and len(pairs) > 0
        and pairs == (X0, Y0) * (len(pairs) // 2)
    )


def _follow(codes: tuple[int, ...]) -> bool:
    """Whether each y stands right after its x, and each z after its y: only so is it one point."""
    return all(
        second == first + 10 for first, second in pairwise((*codes, -1)) if first in (X0, X1)
    ) and all(
        first == second - 10
        for first, second in pairwise((-1, *codes))
        if second in (Y0, Y1, 30, 31)
    )
