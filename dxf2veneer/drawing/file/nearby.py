"""What is written on a drawing near some place: texts, blocks, dimensions, leaders and hatches,
read without the rest of the file."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from ezdxf.document import Drawing as Document
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import NEARBY_ENTITIES, PLAIN_LETTERS
from dxf2veneer.drawing.file.decimals import decimals
from dxf2veneer.drawing.file.parts import IN_SPACE, FileParts
from dxf2veneer.drawing.file.skim import document_of, parted
from dxf2veneer.drawing.file.string_table import Mask
from dxf2veneer.drawing.file.tags import STRUCTURE, every_tag_of

Box = tuple[float, float, float, float]

_KINDS = (
    b"TEXT", b"MTEXT", b"INSERT", b"DIMENSION", b"LEADER", b"MULTILEADER", b"MLEADER", b"HATCH"
)  # fmt: skip
_WORDS = (b"TEXT", b"MTEXT", b"ATTRIB")
_XS, _YS = np.arange(10, 19), np.arange(20, 29)
"""Group codes of points (DXF reference, group codes by number)."""

_DAMAGE = (Exception,)
"""What the library raises on damaged content: errors of many kinds, failed assertions of its own
among them."""


def written_near(content: bytes, encoding: str | None, region: Box) -> Document | None:
    """What is written in model space near some place.

    Args:
        content: Bytes of a text file.
        encoding: Its code page, where the user names one.
        region: Least x and y, greatest x and y, in drawing units.

    Returns:
        The library's document of these entities, with layers and the blocks that they refer to;
        None where the file is not laid out so that they can be found.
    """
    try:
        parts, page = parted(content, encoding)
        near = _near(parts, region)
        kept = parts.any_of_group(near) | _content_of_blocks(parts, near)
        return document_of(parts.without(~kept), page)
    except _DAMAGE:
        return None


def _near(parts: FileParts, region: Box) -> Mask:
    """Which entities of model space are written, and have a point near the place or bring a text
    from a block, wherever they are placed."""
    written: Mask = parts.kinds(*_KINDS) & parts.own & (parts.block == IN_SPACE) & ~parts.paper
    which = np.flatnonzero(written)
    if not len(which):
        return written
    x0, y0, x1, y1 = region
    low, high = _points(parts, which)
    inside = (low[0] <= x1) & (high[0] >= x0) & (low[1] <= y1) & (high[1] >= y0)
    telling = parts.kinds(b"INSERT")[which] & np.isin(parts.name.of[which], _telling(parts))
    chosen = which[inside | telling][:NEARBY_ENTITIES]
    near = np.zeros(len(parts.start), bool)
    near[chosen] = True
    return near


def _points(
    parts: FileParts, which: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Least and greatest x and y of each entity's points; everywhere where a number is none."""
    spans = zip(parts.start[which].tolist(), parts.end[which].tolist(), strict=True)
    joined = b"".join(parts.content[a:b] for a, b in spans)
    low, high = np.full((2, len(which)), -np.inf), np.full((2, len(which)), np.inf)
    tags = every_tag_of(joined)
    if tags is None:
        return low, high
    owner = np.cumsum(tags.code == STRUCTURE) - 1
    if owner[-1] != len(which) - 1:
        return low, high
    for axis, codes in enumerate((_XS, _YS)):
        named = np.flatnonzero(np.isin(tags.code, codes))
        named = named[tags.end[named] - tags.start[named] <= PLAIN_LETTERS]
        try:
            values = decimals(joined + bytes(PLAIN_LETTERS), tags.start[named], tags.end[named])
        except ValueError:
            continue
        told = np.isfinite(values)
        named, values = named[told], values[told]
        low[axis, owner[named]], high[axis, owner[named]] = np.inf, -np.inf
        np.minimum.at(low[axis], owner[named], values)
        np.maximum.at(high[axis], owner[named], values)
    return low, high


def _telling(parts: FileParts) -> list[int]:
    """Numbers of the names of blocks in which, at some depth, a text stands."""
    by_name = _numbers(parts)
    holding = set(parts.block[parts.kinds(*_WORDS)].tolist()) - {IN_SPACE}
    inserts = np.flatnonzero(parts.kinds(b"INSERT") & (parts.block != IN_SPACE))
    pairs = {
        (block, by_name.get(name))
        for block, name in zip(parts.block[inserts].tolist(), _names(parts, inserts), strict=True)
    }
    while True:
        more = {block for block, target in pairs if target in holding} - holding
        if not more:
            break
        holding |= more
    return [n for n, word in enumerate(parts.name.all) if by_name.get(word.upper()) in holding]


def _content_of_blocks(parts: FileParts, near: Mask) -> Mask:
    """What stands in the blocks that some entities refer to, at any depth."""
    by_name = _numbers(parts)
    reached: set[int] = set()
    row = near
    while True:
        named = {by_name.get(name) for name in _names(parts, np.flatnonzero(row))}
        fresh = {n for n in named if n is not None} - reached
        if not fresh:
            break
        reached |= fresh
        row = np.isin(parts.block, list(fresh))
    return np.asarray(np.isin(parts.block, list(reached)))


def _numbers(parts: FileParts) -> dict[bytes, int]:
    return {name.upper(): n for n, name in enumerate(parts.blocks)}


def _names(parts: FileParts, rows: NDArray[np.int64]) -> Iterator[bytes]:
    """The block names that some entities give, each different one once per entity."""
    return (parts.name.all[n].upper() for n in parts.name.of[rows].tolist())
