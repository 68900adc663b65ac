"""Lines and polylines that were read in columns, put among the other content of model space."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from dxf2veneer.drawing.file.columns import PlainEntities
from dxf2veneer.propose.reading.content import Content, Drawn
from dxf2veneer.propose.scene import Floats, Integers


def with_plain(
    content: Content,
    plain: PlainEntities,
    is_hidden: Callable[[str], bool],
    include_hidden: bool,
) -> Content:
    """The content of model space with plain entities in their places in the order of the file.

    Args:
        content: what the library read.
        plain: the others.
        is_hidden: whether a layer is not shown.
        include_hidden: whether invisible entities are read too.

    Returns:
        The content of both.
    """
    segments, counts = _segments_of(plain)
    shown = counts > 0
    hidden = {layer: is_hidden(layer) for layer in dict.fromkeys(plain.layer)}
    shown &= ~np.array([hidden[layer] for layer in plain.layer], bool)
    if not include_hidden:
        shown &= ~plain.unseen
    rows = np.repeat(shown, counts)
    segments, counts = segments[rows], counts[shown]
    closed = _closed(plain)
    drawn: list[Drawn] = [
        (plain.kind[n], plain.layer[n], plain.handle[n], None, -1, is_closed, colour, linetype)
        for n, is_closed, colour, linetype in zip(
            np.flatnonzero(shown).tolist(),
            closed[shown].tolist(),
            np.array(plain.colour)[shown].tolist(),
            np.array(plain.linetype, object)[shown].tolist(),
            strict=True,
        )
    ]
    places = np.array([*content.before, len(content.drawn)])[plain.before[shown]]
    return _merged(content, places, segments, counts, drawn)


def _segments_of(plain: PlainEntities) -> tuple[Floats, Integers]:
    """The straight pieces of all entities, those without length left out, and how many each has."""
    begin = np.cumsum(plain.counts) - plain.counts
    owner = np.repeat(np.arange(len(plain.counts)), plain.counts)
    last = begin + plain.counts - 1
    following = np.arange(1, len(plain.points) + 1)
    following[last] = begin
    ends = plain.points[following]
    kept = (plain.points != ends).any(axis=1)
    kept[last[~plain.closed]] = False
    segments = np.hstack([plain.points, ends])[kept]
    return segments, np.bincount(owner[kept], minlength=len(plain.counts))


def _closed(plain: PlainEntities) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Whether each says that it is closed, or its ends meet."""
    begin = np.cumsum(plain.counts) - plain.counts
    meet = (plain.points[begin] == plain.points[begin + plain.counts - 1]).all(axis=1)
    return np.asarray(plain.closed | (meet & (plain.counts > 3)))


def _merged(
    content: Content, places: Integers, segments: Floats, counts: Integers, drawn: list[Drawn]
) -> Content:
    """Both contents in one order: an entity comes before the one that its place names."""
    keys = np.concatenate([np.arange(len(content.drawn)), places - 0.5])
    order = np.argsort(keys, kind="stable")
    every = np.concatenate([np.array(content.counts, np.int64), counts])
    rows = np.concatenate([content.gather(), segments])
    begin = np.cumsum(every) - every
    sizes = every[order]
    within = np.arange(int(sizes.sum())) - np.repeat(np.cumsum(sizes) - sizes, sizes)
    content.segments = [rows[np.repeat(begin[order], sizes) + within]]
    content.counts = sizes.tolist()
    both = [*content.drawn, *drawn]
    content.drawn = [both[n] for n in order.tolist()]
    return content
