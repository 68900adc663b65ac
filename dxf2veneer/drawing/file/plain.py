"""Lines, straight polylines, circles, arcs, points and texts read from a text file's bytes.

A large drawing mostly consists of these, and most of them are written alike: the same group codes
in the same order. Entities with one sequence of codes are read together, a column for each code.
Whatever is written in any other way stays in the file for the library to read: bulges, extrusions,
groups of applications, codes that come twice, texts with codes in them, and what an overlay drew.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from dxf2veneer.basics.tolerances import PLAIN_LETTERS, TAG_CHUNK_BYTES
from dxf2veneer.drawing.entities.ours import APPID
from dxf2veneer.drawing.file.columns import Alike, gathered, is_even, read_alike
from dxf2veneer.drawing.file.forms import FORMS
from dxf2veneer.drawing.file.parts import IN_SPACE, FileParts, UnsureError
from dxf2veneer.drawing.file.skim import Skimmed, parted, without
from dxf2veneer.drawing.file.string_table import Integers, Mask
from dxf2veneer.drawing.file.tags import STRUCTURE, every_tag_of
from dxf2veneer.drawing.layers import clean_text


def lift_plain(content: bytes, encoding: str | None) -> Skimmed:
    """The file without its plain entities, and these.

    Args:
        content: The file's bytes.
        encoding: Its code page, where the user names one.

    Returns:
        What is left of the file, for the library to read, and the plain entities.

    Raises:
        UnsureError: The file has to be read whole; so does whatever the library raises on damaged
            content.
    """
    parts, page = parted(content, encoding)
    read = (
        read_alike(padded, alike, parts.kind.all[parts.kind.of[alike.number[0]]])
        for buffer, numbers in _stretches(parts, _candidates(parts))
        for padded in (buffer + bytes(PLAIN_LETTERS),)
        for alike in _alike(buffer, numbers, parts.kind.of[numbers])
    )
    groups = [group for group in read if group is not None]
    lifted = np.zeros(len(parts.start), bool)
    for group in groups:
        lifted[group.number] = True
    own = parts.own & (parts.block == IN_SPACE) & ~parts.paper & ~lifted
    layers = [clean_text(word.decode(page, "surrogateescape")) for word in parts.layer.all]
    kinds = [word.decode("ascii", "replace") for word in parts.kind.all]
    plain = gathered(
        groups,
        np.cumsum(own)[lifted],
        np.array(kinds, object)[parts.kind.of[lifted]],
        np.array(layers, object)[parts.layer.of[lifted]],
    )
    return replace(without(parts, page, lifted), plain=plain)


def _candidates(parts: FileParts) -> Mask:
    """The entities of model space that may be plain."""
    may = parts.own & parts.sure & parts.has_handle & (parts.block == IN_SPACE) & ~parts.paper
    may &= parts.kinds(*FORMS) & ~_first_of_each_layer(parts) & ~parts.holding(APPID.encode())
    may &= ~parts.any_of_group(parts.parent != np.arange(len(parts.parent)))
    plain: Mask = may & parts.layer.where([is_even(word) for word in parts.layer.all])
    return plain


def _first_of_each_layer(parts: FileParts) -> Mask:
    """The first entity on each layer, which stays, so that the library learns of every layer."""
    first = np.zeros(len(parts.start), bool)
    first[np.unique(parts.layer.of, return_index=True)[1]] = True
    return first


def _stretches(parts: FileParts, may: Mask) -> Iterator[tuple[bytes, Integers]]:
    """The bytes of some entities, a few megabytes at a time, and the entities' numbers."""
    which = np.flatnonzero(may)
    size = np.cumsum(parts.end[which] - parts.start[which])
    for part in np.split(which, np.flatnonzero(np.diff(size // TAG_CHUNK_BYTES)) + 1):
        if len(part):
            begins = np.flatnonzero(
                np.concatenate(([True], parts.start[part[1:]] != parts.end[part[:-1]]))
            )
            last = np.append(begins[1:], len(part)) - 1
            spans = zip(
                parts.start[part[begins]].tolist(), parts.end[part[last]].tolist(), strict=True
            )
            yield b"".join(parts.content[a:b] for a, b in spans), part


def _alike(content: bytes, numbers: Integers, kind: Integers) -> Iterator[Alike]:
    """The entities of a stretch in groups of one kind and one sequence of group codes each."""
    tags = every_tag_of(content)
    first = np.flatnonzero(tags.code == STRUCTURE) if tags else np.zeros(0, np.int64)
    if tags is None or len(first) != len(numbers):
        raise UnsureError
    size = np.diff(np.append(first, len(tags.code)))
    within = np.arange(len(tags.code)) - np.repeat(first, size)
    spread = np.cumprod(np.full(int(size.max()), 0x9E3779B97F4A7C15, np.uint64))
    sums = np.add.reduceat((tags.code.astype(np.uint64) + np.uint64(1)) * spread[within], first)
    order = np.lexsort((sums, size, kind))
    change = (np.diff(size[order]) != 0) | (np.diff(sums[order]) != 0) | (np.diff(kind[order]) != 0)
    for group in np.split(order, np.flatnonzero(change) + 1):
        where = first[group][:, None] + np.arange(size[group[0]])
        codes = tags.code[where]
        if (codes == codes[0]).all():  # always so, as far as sums tell sequences apart
            yield Alike(
                numbers[group], tuple(codes[0].tolist()), tags.start[where], tags.end[where]
            )
