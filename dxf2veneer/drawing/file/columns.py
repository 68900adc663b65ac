"""Entities that are written alike in a text file, read in columns: a column for each group code.

What is not written plainly is left alone: bulges, extrusions, codes that come twice, numbers that
are none, texts with codes in them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import FARTHEST_DRAWN, PLAIN_LETTERS
from dxf2veneer.drawing.file.decimals import decimals, words_at
from dxf2veneer.drawing.file.forms import (
    ACROSS,
    COLOUR,
    FLAGS,
    FORMS,
    HEIGHT,
    LINE_TYPE,
    NUMBERS,
    UNSEEN,
    UP,
    WIDTH,
    WORD,
    X0,
    X1,
    Y0,
    Y1,
    places_of,
)
from dxf2veneer.drawing.file.string_table import Integers, Mask, StringTable, string_table
from dxf2veneer.drawing.file.tags import HANDLE, SUBCLASS

Words = NDArray[np.object_]
"""A text for each item."""

_CLOSED = 1
"""Flag of a closed polyline (DXF reference, LWPOLYLINE, code 70)."""
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
        content: The bytes that they stand in, and PLAIN_LETTERS more.
        alike: Where their values stand.
        kind: Their DXF type.

    Returns:
        What they say, those left out that it takes the library to read; None where it takes it
        for all.
    """
    at = places_of(alike.codes, kind)
    if at is None:
        return None
    if kind == b"TEXT":
        alike = alike.where(_is_plain_text(content, alike, at[WORD][0]))
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
        return words_at(content, *column(code)).astype(of)

    markers = [words_at(content, alike.start[:, i], alike.end[:, i]) for i in at.get(SUBCLASS, ())]
    handle = words_at(content, *column(HANDLE))
    colour, unseen, flags = numbers(COLOUR, _BY_LAYER), numbers(UNSEEN, 0), numbers(FLAGS, 0)
    names = string_table(content, *column(LINE_TYPE)) if LINE_TYPE in at else _ALL_BY_LAYER
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
        word[:] = words_at(content, *column(WORD)).astype(str)
    group = Group(
        number=alike.number,
        handle=handle,
        colour=colour,
        linetype=upper[of],
        unseen=unseen != 0,
        closed=np.full(len(word), kind == b"CIRCLE") | (flags & _CLOSED != 0),
        points=_points(content, alike, at),
        numbers={
            code: numbers(code, missing, float) for code, missing in NUMBERS.get(kind, {}).items()
        },
        word=word,
    )
    return group.where(_is_usual(group, kind)) if kind in NUMBERS else group


def _markers(kind: bytes, count: int) -> tuple[bytes, ...]:
    """The markers that so many of a kind are to be."""
    return (_ENTITY, *FORMS[kind].markers)[:count]


def _is_plain_text(content: bytes, alike: Alike, place: int) -> Mask:
    """Whether each text is a short one of letters that stand for themselves."""
    start, end = alike.start[:, place], alike.end[:, place]
    short = end - start <= PLAIN_LETTERS
    if short.any():
        words = words_at(content, start[short], end[short])
        short[short] = _PLAIN_LETTER[words.view(np.uint8).reshape(len(words), -1)].all(axis=1)
    return np.asarray(short)


def _is_usual(group: Group, kind: bytes) -> Mask:
    """Whether the numbers of circles, arcs and texts are such as the library reads as they are."""
    usual = (np.abs(group.points) <= FARTHEST_DRAWN).all(axis=(1, 2))
    for column in group.numbers.values():
        usual &= np.abs(column) <= FARTHEST_DRAWN
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
    numbers = {code: np.zeros(count) for codes in NUMBERS.values() for code in codes}
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


def _points(content: bytes, alike: Alike, at: Mapping[int, tuple[int, ...]]) -> NDArray[np.float64]:
    """The points of each entity, shape (entities, points, 2)."""
    xs, ys = [*at[X0], *at.get(X1, ())], [*at[Y0], *at.get(Y1, ())]
    places = np.array([xs, ys]).T.ravel()
    numbers = decimals(content, alike.start[:, places].ravel(), alike.end[:, places].ravel())
    return numbers.reshape(len(alike.number), len(xs), 2)
