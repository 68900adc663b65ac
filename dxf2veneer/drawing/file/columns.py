"""Entities that are written alike in a text file, read in columns: a column for each group code.

What is not written plainly is left alone: curves, extrusions, codes that come twice, numbers that
are none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import PLAIN_LETTERS
from dxf2veneer.drawing.file.string_table import Integers, Mask, StringTable, string_table
from dxf2veneer.drawing.file.tags import HANDLE, LAYER, PAPER, SUBCLASS

_LINE_TYPE, _COLOUR, _UNSEEN, _FLAGS, _COUNT = 6, 62, 60, 70, 90
_HEAD = {HANDLE, _LINE_TYPE, LAYER, 48, _UNSEEN, _COLOUR, PAPER, 330, 370, 420, 430, 440}
"""Group codes that every entity may have (DXF reference, common group codes for entities)."""
_X0, _Y0, _X1, _Y1 = 10, 20, 11, 21
_LINE_ALSO = {30, 31, 39}
"""Codes of a LINE that say nothing of its place seen from above: depths and thickness."""
_POLYLINE_ALSO = {_COUNT, _FLAGS, 38, 39, 43}
"""Codes of an LWPOLYLINE before its points: their number, flags, elevation, thickness, width."""
_CLOSED = 1
"""Flag of a closed polyline (DXF reference, LWPOLYLINE, code 70)."""
_EXTENDED = 1000
"""Extended data of applications has codes from here on."""
MARKERS = {b"LINE": b"AcDbLine", b"LWPOLYLINE": b"AcDbPolyline"}
"""The kinds that may be plain, and the marker of what is their own."""
_ENTITY = b"AcDbEntity"
_BY_LAYER = 256
_ALL_BY_LAYER = StringTable(np.zeros(0, np.int64), (b"BYLAYER",))
_HEX = frozenset(b"0123456789ABCDEFabcdef\x00")
_ODD_LETTERS = frozenset('<>/\\":;?*=`|,\r\n')
"""Letters that names of layers and line types may not have; the library is left to judge them."""


@dataclass(frozen=True)
class PlainEntities:
    """Entities of model space in the order of the file, and where they stand among the others."""

    before: Integers
    """For each how many of the entities that were left in the file stand before it."""
    kind: tuple[str, ...]
    """Their DXF types."""
    layer: tuple[str, ...]
    """The layers that they name."""
    handle: tuple[str, ...]
    """Their handles."""
    colour: tuple[int, ...]
    """Colour index; 256 where it is the layer's."""
    linetype: tuple[str, ...]
    """Line type in upper case; BYLAYER where it is the layer's."""
    unseen: Mask
    """Whether they are marked as invisible."""
    closed: Mask
    """Whether the last point is joined to the first."""
    points: NDArray[np.float64]
    """The points of all, one after the other, shape (n, 2)."""
    counts: Integers
    """How many points each has."""


@dataclass(frozen=True)
class Alike:
    """Entities written with one sequence of codes: their numbers, and tables of where each value
    starts and ends, a row for an entity."""

    number: Integers
    codes: tuple[int, ...]
    start: Integers
    end: Integers


@dataclass(frozen=True)
class Group:
    """What some entities that are written alike say, an item for each."""

    number: Integers
    """Their numbers in the file."""
    handle: NDArray[np.bytes_]
    colour: Integers
    linetype: NDArray[np.object_]
    unseen: Mask
    closed: Mask
    points: NDArray[np.float64]
    """Shape (entities, points, 2)."""


def read_alike(content: bytes, alike: Alike, kind: bytes) -> Group | None:
    """Read entities that are written alike.

    Args:
        content: The bytes that they stand in.
        alike: Where their values stand.
        kind: Their DXF type.

    Returns:
        What they say; None where it takes the library to tell.
    """
    at = _places(alike.codes, kind)
    if at is None:
        return None

    def column(code: int) -> tuple[Integers, Integers]:
        return alike.start[:, at[code][0]], alike.end[:, at[code][0]]

    def numbers(code: int, missing: int) -> Integers:
        if code not in at:
            return np.full(len(alike.number), missing)
        return _words(content, *column(code)).astype(np.int64)

    try:
        markers = [
            _words(content, alike.start[:, i], alike.end[:, i]) for i in at.get(SUBCLASS, ())
        ]
        handle = _words(content, *column(HANDLE))
        colour, unseen, flags = numbers(_COLOUR, _BY_LAYER), numbers(_UNSEEN, 0), numbers(_FLAGS, 0)
        points = _points(content, alike, at)
    except ValueError:
        return None  # a number that is none
    names = string_table(content, *column(_LINE_TYPE)) if _LINE_TYPE in at else _ALL_BY_LAYER
    as_expected = (
        all((m == name).all() for m, name in zip(markers, (_ENTITY, MARKERS[kind]), strict=False))
        and set(handle.tobytes()) <= _HEX
        and bool((handle != b"").all())
        and colour.min() >= 0
        and colour.max() <= _BY_LAYER
        and all(name and is_even(name) for name in names.all)
    )
    if not as_expected:
        return None
    words = np.array([name.decode("latin-1").upper() for name in names.all], object)
    of = names.of if len(names.of) else np.zeros(len(alike.number), np.int64)
    closed = flags & _CLOSED != 0
    return Group(alike.number, handle, colour, words[of], unseen != 0, closed, points)


def gathered(
    groups: Sequence[Group], before: Integers, kind: Sequence[str], layer: Sequence[str]
) -> PlainEntities:
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
    handle, colour = np.zeros(count, "S16"), np.zeros(count, np.int64)
    linetype = np.empty(count, object)
    unseen, closed = np.zeros(count, bool), np.zeros(count, bool)
    counts = np.zeros(count, np.int64)
    places = np.split(place, np.cumsum([len(g.number) for g in groups])[:-1]) if groups else []
    for at, g in zip(places, groups, strict=True):
        handle[at], colour[at], linetype[at] = g.handle, g.colour, g.linetype
        unseen[at], closed[at], counts[at] = g.unseen, g.closed, g.points.shape[1]
    begin = np.cumsum(counts) - counts
    points = np.empty((int(counts.sum()), 2))
    for at, g in zip(places, groups, strict=True):
        points[begin[at][:, None] + np.arange(g.points.shape[1])] = g.points
    handles = tuple(handle.astype(str).tolist())
    names = tuple(linetype.tolist())
    columns = (tuple(colour.tolist()), names, unseen, closed, points, counts)
    return PlainEntities(before, tuple(kind), tuple(layer), handles, *columns)


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
    is_line = kind == b"LINE"
    if len(markers) == 2:
        head, own = codes[1 : markers[1]], codes[markers[1] + 1 :]
    elif not markers and is_line:  # before release 13 there are no markers
        head = tuple(c for c in codes[1:] if c in _HEAD)
        own = tuple(c for c in codes[1:] if c not in _HEAD)
    else:
        return None
    single = [c for c in head if c != SUBCLASS]
    if len(set(single)) < len(single) or not set(single) <= _HEAD or HANDLE not in single:
        return None
    if is_line:
        fits = set(own) - _LINE_ALSO == {_X0, _Y0, _X1, _Y1} and len(set(own)) == len(own)
    else:
        first = next((i for i, c in enumerate(own) if c == _X0), len(own))
        before, pairs = own[:first], own[first:]
        fits = (
            set(before) <= _POLYLINE_ALSO
            and len(set(before)) == len(before)
            and len(pairs) > 0
            and pairs == (_X0, _Y0) * (len(pairs) // 2)
        )
    if not fits or not _follow(own):
        return None
    found: dict[int, tuple[int, ...]] = {}
    for i, c in enumerate(codes):
        found[c] = (*found.get(c, ()), i)
    return found


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
