"""Entities that are written alike in a text file, read in columns: a column for each group code.

What is not written plainly is left alone: bulges, extrusions, codes that come twice, numbers that
are none, texts with codes in them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import PLAIN_LETTERS
from dxf2veneer.drawing.file.string_table import Integers, Mask, StringTable, string_table
from dxf2veneer.drawing.file.tags import HANDLE, LAYER, PAPER, SUBCLASS

Words = NDArray[np.object_]
"""A text for each item."""

_LINE_TYPE, _COLOUR, _UNSEEN, _FLAGS, _COUNT = 6, 62, 60, 70, 90
_HEAD = {HANDLE, _LINE_TYPE, LAYER, 48, _UNSEEN, _COLOUR, PAPER, 330, 370, 420, 430, 440}
"""Group codes that every entity may have (DXF reference, common group codes for entities)."""
_X0, _Y0, _X1, _Y1 = 10, 20, 11, 21
_WORD = 1
RADIUS, HEIGHT, WIDTH, ROTATION, START, END = 40, 40, 41, 50, 50, 51
ACROSS, UP = 72, 73
"""Codes of the numbers beside points: a circle's radius; an arc's angles; a text's height, width
factor and angle, and where its point stands in it (DXF reference, CIRCLE, ARC, TEXT)."""
_ALSO = frozenset({30, 31, 39})
"""Codes that say nothing of a place seen from above: depths and thickness."""
_POLYLINE_ALSO = {_COUNT, _FLAGS, 38, 39, 43}
"""Codes of an LWPOLYLINE before its points: their number, flags, elevation, thickness, width."""
_CLOSED = 1
"""Flag of a closed polyline (DXF reference, LWPOLYLINE, code 70)."""
_EXTENDED = 1000
"""Extended data of applications has codes from here on."""


@dataclass(frozen=True)
class _Form:
    """How entities of a kind are written plainly."""

    markers: tuple[bytes, ...]
    """The markers of what is their own."""
    needed: frozenset[int]
    """Codes that they must have."""
    beside: frozenset[int] = _ALSO
    """Codes that they may have."""


FORMS = {
    b"LINE": _Form((b"AcDbLine",), frozenset({_X0, _Y0, _X1, _Y1})),
    b"LWPOLYLINE": _Form((b"AcDbPolyline",), frozenset({_X0, _Y0})),
    b"POINT": _Form((b"AcDbPoint",), frozenset({_X0, _Y0}), _ALSO | {50}),
    b"CIRCLE": _Form((b"AcDbCircle",), frozenset({_X0, _Y0, RADIUS})),
    b"ARC": _Form((b"AcDbCircle", b"AcDbArc"), frozenset({_X0, _Y0, RADIUS, START, END})),
    b"TEXT": _Form(
        (b"AcDbText", b"AcDbText"),
        frozenset({_X0, _Y0, HEIGHT, _WORD}),
        _ALSO | {_X1, _Y1, WIDTH, ROTATION, 51, 7, 71, ACROSS, UP},
    ),
}
"""The kinds that may be plain."""
_NUMBERS: dict[bytes, dict[int, float]] = {
    b"CIRCLE": {RADIUS: 1.0},
    b"ARC": {RADIUS: 1.0, START: 0.0, END: 360.0},
    b"TEXT": {HEIGHT: 0.0, WIDTH: 1.0, ROTATION: 0.0, ACROSS: 0.0, UP: 0.0},
}
"""Codes of the numbers that are read of a kind, and what they are where they are not written."""
_FARTHEST = 1e12
"""Greatest size of such a number; the library is left to judge others [our own limit]."""
_ENTITY = b"AcDbEntity"
_BY_LAYER = 256
_ALL_BY_LAYER = StringTable(np.zeros(0, np.int64), (b"BYLAYER",))
_HEX = frozenset(b"0123456789ABCDEFabcdef\x00")
_PLAIN_LETTER = np.array([not n or (32 <= n < 127 and chr(n) not in "\\^%") for n in range(256)])
"""By byte whether it stands for itself in a text, whatever the code page; 0 fills a word up."""
_ODD_LETTERS = frozenset('<>/\\":;?*=`|,\r\n')
"""Letters that names of layers and line types may not have; the library is left to judge them."""


@dataclass(frozen=True)
class PlainEntities:
    """Entities of model space in the order of the file, and where they stand among the others."""

    before: Integers
    """For each how many of the entities that were left in the file stand before it."""
    kind: Words
    """Their DXF types."""
    layer: Words
    """The layers that they name."""
    handle: Words
    """Their handles."""
    colour: Integers
    """Colour index; 256 where it is the layer's."""
    linetype: Words
    """Line type in upper case; BYLAYER where it is the layer's."""
    unseen: Mask
    """Whether they are marked as invisible."""
    closed: Mask
    """Whether the last point is joined to the first."""
    points: NDArray[np.float64]
    """The points of all, one after the other, shape (n, 2): of lines and polylines theirs, of
    circles and arcs the centre, of texts where they stand and where they are aligned, if that is
    written."""
    counts: Integers
    """How many points each has."""
    numbers: Mapping[int, NDArray[np.float64]]
    """By group code the numbers of circles, arcs and texts, an item for each entity."""
    word: Words
    """What texts say; empty for other kinds."""


@dataclass(frozen=True)
class Alike:
    """Entities written with one sequence of codes: their numbers, and tables of where each value
    starts and ends, a row for an entity."""

    number: Integers
    codes: tuple[int, ...]
    start: Integers
    end: Integers

    def where(self, mask: Mask) -> Alike:
        """Some of them."""
        return Alike(self.number[mask], self.codes, self.start[mask], self.end[mask])


@dataclass(frozen=True)
class Group:
    """What some entities that are written alike say, an item for each."""

    number: Integers
    """Their numbers in the file."""
    handle: NDArray[np.bytes_]
    colour: Integers
    linetype: Words
    unseen: Mask
    closed: Mask
    points: NDArray[np.float64]
    """Shape (entities, points, 2)."""
    numbers: Mapping[int, NDArray[np.float64]]
    word: Words

    def where(self, mask: Mask) -> Group:
        """Some of them."""
        one: dict[str, Any] = {f.name: getattr(self, f.name) for f in fields(self)}
        numbers = {code: column[mask] for code, column in one.pop("numbers").items()}
        return Group(**{name: column[mask] for name, column in one.items()}, numbers=numbers)


def read_alike(content: bytes, alike: Alike, kind: bytes) -> Group | None:
    """Read entities that are written alike.

    Args:
        content: The bytes that they stand in.
        alike: Where their values stand.
        kind: Their DXF type.

    Returns:
        What they say, those left out that it takes the library to read; None where it takes it
        for all.
    """
    at = _places(alike.codes, kind)
    if at is None:
        return None
    if kind == b"TEXT":
        alike = alike.where(_is_plain_text(content, alike, at[_WORD][0]))
    if not len(alike.number):
        return None
    try:
        return _group(content, alike, kind, at)
    except ValueError:
        return None  # a number that is none


def _group(
    content: bytes, alike: Alike, kind: bytes, at: Mapping[int, tuple[int, ...]]
) -> Group | None:
    """What entities say whose codes stand at places; ValueError where a number is none."""

    def column(code: int) -> tuple[Integers, Integers]:
        return alike.start[:, at[code][0]], alike.end[:, at[code][0]]

    def numbers(code: int, missing: float, of: type = int) -> NDArray[Any]:
        if code not in at:
            return np.full(len(alike.number), missing, of)
        return _words(content, *column(code)).astype(of)

    markers = [_words(content, alike.start[:, i], alike.end[:, i]) for i in at.get(SUBCLASS, ())]
    handle = _words(content, *column(HANDLE))
    colour, unseen, flags = numbers(_COLOUR, _BY_LAYER), numbers(_UNSEEN, 0), numbers(_FLAGS, 0)
    names = string_table(content, *column(_LINE_TYPE)) if _LINE_TYPE in at else _ALL_BY_LAYER
    as_expected = (
        all(
            (m == name).all() for m, name in zip(markers, _markers(kind, len(markers)), strict=True)
        )
        and set(handle.tobytes()) <= _HEX
        and bool((handle != b"").all())
        and colour.min() >= 0
        and colour.max() <= _BY_LAYER
        and all(name and is_even(name) for name in names.all)
    )
    if not as_expected:
        return None
    upper = np.array([name.decode("latin-1").upper() for name in names.all], object)
    of = names.of if len(names.of) else np.zeros(len(alike.number), np.int64)
    word = np.full(len(alike.number), "", object)
    if kind == b"TEXT":
        word[:] = _words(content, *column(_WORD)).astype(str)
    group = Group(
        number=alike.number,
        handle=handle,
        colour=colour,
        linetype=upper[of],
        unseen=unseen != 0,
        closed=np.full(len(word), kind == b"CIRCLE") | (flags & _CLOSED != 0),
        points=_points(content, alike, at),
        numbers={
            code: numbers(code, missing, float) for code, missing in _NUMBERS.get(kind, {}).items()
        },
        word=word,
    )
    return group.where(_is_usual(group, kind)) if kind in _NUMBERS else group


def _markers(kind: bytes, count: int) -> tuple[bytes, ...]:
    """The markers that so many of a kind are to be."""
    return (_ENTITY, *FORMS[kind].markers)[:count]


def _is_plain_text(content: bytes, alike: Alike, place: int) -> Mask:
    """Whether each text is a short one of letters that stand for themselves."""
    start, end = alike.start[:, place], alike.end[:, place]
    short = end - start <= PLAIN_LETTERS
    if short.any():
        words = _words(content, start[short], end[short])
        short[short] = _PLAIN_LETTER[words.view(np.uint8).reshape(len(words), -1)].all(axis=1)
    return np.asarray(short)


def _is_usual(group: Group, kind: bytes) -> Mask:
    """Whether the numbers of circles, arcs and texts are such as the library reads as they are."""
    usual = (np.abs(group.points) <= _FARTHEST).all(axis=(1, 2))
    for column in group.numbers.values():
        usual &= np.abs(column) <= _FARTHEST
    if kind == b"TEXT":
        usual &= (group.numbers[HEIGHT] > 0.0) & (group.numbers[WIDTH] > 0.0)
        for code, most in ((ACROSS, 5), (UP, 3)):
            usual &= np.isin(group.numbers[code], np.arange(most + 1.0))
    return np.asarray(usual)


def gathered(groups: Sequence[Group], before: Integers, kind: Words, layer: Words) -> PlainEntities:
    """Groups of entities together, in the order of the file.

    Args:
        groups: The groups.
        before: For each entity, in the order of the file, how many others stand before it.
        kind: The kind of each.
        layer: The layer of each.

    Returns:
        All of them.
    """
    count = len(before)
    number = np.concatenate([np.zeros(0, np.int64), *(g.number for g in groups)])
    place = np.empty(count, np.int64)
    place[np.argsort(number)] = np.arange(count)
    places = np.split(place, np.cumsum([len(g.number) for g in groups])[:-1]) if groups else []

    def column(name: str, first: Any, of: type | str) -> NDArray[Any]:
        made = np.full(count, first, of)
        for at, g in zip(places, groups, strict=True):
            made[at] = getattr(g, name)
        return made

    counts = np.zeros(count, np.int64)
    numbers = {code: np.zeros(count) for codes in _NUMBERS.values() for code in codes}
    for at, g in zip(places, groups, strict=True):
        counts[at] = g.points.shape[1]
        for code, values in g.numbers.items():
            numbers[code][at] = values
    begin = np.cumsum(counts) - counts
    points = np.empty((int(counts.sum()), 2))
    for at, g in zip(places, groups, strict=True):
        points[begin[at][:, None] + np.arange(g.points.shape[1])] = g.points
    return PlainEntities(
        before=before,
        kind=kind,
        layer=layer,
        handle=column("handle", b"", "S16").astype(str).astype(object),
        colour=column("colour", 0, int),
        linetype=column("linetype", "", object),
        unseen=column("unseen", False, bool),
        closed=column("closed", False, bool),
        points=points,
        counts=counts,
        numbers=numbers,
        word=column("word", "", object),
    )


def is_even(word: bytes) -> bool:
    """Whether a name is as the library would read it: nothing to mend, no blanks around it.

    Args:
        word: The name's bytes.

    Returns:
        Whether it is.
    """
    text = word.decode("latin-1")
    return word == word.strip() and not _ODD_LETTERS & set(text)


def _places(codes: tuple[int, ...], kind: bytes) -> dict[int, tuple[int, ...]] | None:
    """For each code where it stands in a sequence; None for a sequence that is not plain."""
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


def _has_form(own: tuple[int, ...], form: _Form) -> bool:
    """Whether codes are those that a form needs, and what it may have beside, each once."""
    codes = [c for c in own if c != SUBCLASS]
    once = len(set(codes)) == len(codes)
    return once and form.needed <= set(codes) <= form.needed | form.beside


def _is_polyline(own: tuple[int, ...]) -> bool:
    """Whether codes are a few that come before the points, and then the points alone."""
    first = next((i for i, c in enumerate(own) if c == _X0), len(own))
    before, pairs = own[:first], own[first:]
    return (
        set(before) <= _POLYLINE_ALSO
        and len(set(before)) == len(before)
        and len(pairs) > 0
        and pairs == (_X0, _Y0) * (len(pairs) // 2)
    )


def _follow(codes: tuple[int, ...]) -> bool:
    """Whether each y stands right after its x, and each z after its y: only so is it one point."""
    return all(
        second == first + 10 for first, second in pairwise((*codes, -1)) if first in (_X0, _X1)
    ) and all(
        first == second - 10
        for first, second in pairwise((-1, *codes))
        if second in (_Y0, _Y1, 30, 31)
    )


def _points(content: bytes, alike: Alike, at: dict[int, tuple[int, ...]]) -> NDArray[np.float64]:
    """The points of each entity, shape (entities, points, 2)."""
    xs, ys = [*at[_X0], *at.get(_X1, ())], [*at[_Y0], *at.get(_Y1, ())]
    places = np.array([xs, ys]).T.ravel()
    words = _words(content, alike.start[:, places].ravel(), alike.end[:, places].ravel())
    return words.astype(np.float64).reshape(len(alike.number), len(xs), 2)


def _words(content: bytes, start: Integers, end: Integers) -> NDArray[np.bytes_]:
    """The texts between places of a stretch; ValueError where one is longer than a number is."""
    wide = int((end - start).max())
    if wide > PLAIN_LETTERS:
        raise ValueError
    wide = max(wide, 1)
    text = np.frombuffer(content, np.uint8)
    where = np.minimum(start[:, None] + np.arange(wide), len(text) - 1)
    letters = np.where(np.arange(wide) < (end - start)[:, None], text[where], 0).astype(np.uint8)
    return letters.view(f"S{wide}").ravel()
