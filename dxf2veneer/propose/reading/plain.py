"""Entities that were read in columns, put among the other content of model space."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from dxf2veneer.drawing.file.columns import PlainEntities
from dxf2veneer.drawing.file.forms import ACROSS, END, HEIGHT, RADIUS, ROTATION, START, UP, WIDTH
from dxf2veneer.propose.arrays import among
from dxf2veneer.propose.reading.content import Content
from dxf2veneer.propose.reading.curves import sweep_of, unit_arc, unit_circle
from dxf2veneer.propose.reading.ink import Ink, ink_of
from dxf2veneer.propose.reading.writing import Lettering, is_aligned, lettered, shares_beside
from dxf2veneer.propose.scene import Entities, Floats, Integers, Mask

_STRAIGHT, _ROUND = ("LINE", "LWPOLYLINE"), ("CIRCLE", "ARC")


def with_plain(
    content: Content,
    plain: PlainEntities,
    is_hidden: Callable[[str], bool],
    include_hidden: bool,
) -> Ink:
    """The ink of model space with plain entities in their places in the order of the file.

    Args:
        content: what the library read; the plain texts are put among its texts.
        plain: the others.
        is_hidden: whether a layer is not shown.
        include_hidden: whether invisible entities are read too.

    Returns:
        The ink of both.
    """
    layers = plain.layer.tolist()
    hidden = {layer: is_hidden(layer) for layer in dict.fromkeys(layers)}
    shown = ~np.array([hidden[layer] for layer in layers], bool)
    if not include_hidden:
        shown &= ~plain.unseen
    _put_texts(content, plain, shown)
    points, sizes = _points_of(plain)
    segments, counts = _segments_of(points, sizes, plain.closed, shown)
    closed = _closed(points, sizes, plain.closed)
    drawn = counts > 0
    number = int(drawn.sum())
    entities = Entities(
        kind=plain.kind[drawn],
        layer=plain.layer[drawn],
        handle=plain.handle[drawn],
        block=np.full(number, None, object),
        insert=np.full(number, -1),
        closed=closed[drawn],
        box=np.zeros((number, 4)),
        colour=plain.colour[drawn],
        linetype=plain.linetype[drawn],
    )
    ink = Ink(segments, counts[drawn], entities)
    places = np.array([*content.before, len(content.drawn)])[plain.before[drawn]]
    return ink.among(ink_of(content), places)


def _put_texts(content: Content, plain: PlainEntities, shown: Mask) -> None:
    """Put plain texts among those of the content."""
    which = np.flatnonzero(shown & (plain.kind == "TEXT"))
    look = [plain.numbers[code][which].tolist() for code in (HEIGHT, ROTATION, WIDTH)]
    sides = [plain.numbers[code][which].astype(int).tolist() for code in (ACROSS, UP)]
    aligned = np.array([is_aligned(*s) for s in zip(*sides, strict=True)], bool)
    point = _begin(plain.counts)[which] + (aligned & (plain.counts[which] > 1))
    said = (column[which].tolist() for column in (plain.word, plain.layer, plain.handle))
    texts = [
        lettered(
            word, Lettering(x, y, height, *shares_beside(across, up), turn, wide), layer, handle
        )
        for word, layer, handle, (x, y), height, turn, wide, across, up in zip(
            *said, plain.points[point].tolist(), *look, *sides, strict=True
        )
    ]
    places = np.array([*content.texts_before, len(content.texts)])[plain.before[which]]
    keys = np.concatenate([np.arange(len(content.texts)), places - 0.5])
    both = [*content.texts, *texts]
    ordered = (both[n] for n in np.argsort(keys, kind="stable").tolist())
    content.texts = [text for text in ordered if text is not None]


def _begin(counts: Integers) -> Integers:
    """Where each of some runs begins."""
    return np.cumsum(counts) - counts


def _points_of(plain: PlainEntities) -> tuple[Floats, Integers]:
    """The points that straight pieces join, and how many each entity has."""
    straight = among(plain.kind, _STRAIGHT)
    round_ = among(plain.kind, _ROUND)
    unit, first, many = _unit_points(plain, round_)
    sizes = np.where(straight, plain.counts, 0)
    sizes[round_] = many
    points = np.empty((int(sizes.sum()), 2))
    points[np.repeat(straight, sizes)] = plain.points[np.repeat(straight, plain.counts)]
    rows = np.repeat(first - _begin(many), many)
    rows += np.arange(len(rows))
    bent = unit[rows]
    bent *= np.repeat(plain.numbers[RADIUS][round_], many)[:, None]
    bent += np.repeat(plain.points[_begin(plain.counts)[round_]], many, axis=0)
    points[np.repeat(round_, sizes)] = bent
    return points, sizes


def _unit_points(plain: PlainEntities, round_: Mask) -> tuple[Floats, Integers, Integers]:
    """Points of arcs of radius 1 round the origin, one arc after the other; and for each circle
    and arc where its points begin among them and how many there are."""
    is_arc = plain.kind[round_] == "ARC"
    angles = plain.numbers[START][round_] + 1j * plain.numbers[END][round_]
    turns, of = np.unique(angles[is_arc], return_inverse=True)
    shapes = [unit_circle(), *(unit_arc(*sweep_of(t.real, t.imag)) for t in turns.tolist())]
    which = np.zeros(len(is_arc), np.int64)
    which[is_arc] = of + 1
    lengths = np.array([len(shape) for shape in shapes])
    unit = np.array([point for shape in shapes for point in shape])
    return unit, _begin(lengths)[which], lengths[which]


def _segments_of(
    points: Floats, sizes: Integers, closed: Mask, shown: Mask
) -> tuple[Floats, Integers]:
    """The straight pieces of the entities that are shown, those without length left out, and how
    many each has."""
    some = sizes > 0
    begin, last = _begin(sizes)[some], np.cumsum(sizes)[some] - 1
    segments = np.empty((len(points), 4))
    segments[:, :2] = points
    segments[:-1, 2:] = points[1:]
    segments[last, 2:] = points[begin]
    x0, y0, x1, y1 = segments.T
    kept = (x0 != x1) | (y0 != y1)
    kept[last[~closed[some]]] = False
    kept &= np.repeat(shown, sizes)
    counts = np.zeros(len(sizes), np.int64)
    counts[some] = np.add.reduceat(kept, begin, dtype=np.int64) if len(begin) else 0
    return segments.compress(kept, axis=0), counts


def _closed(points: Floats, sizes: Integers, closed: Mask) -> Mask:
    """Whether each says that it is closed, or its ends meet."""
    several = sizes > 3
    begin, last = _begin(sizes)[several], np.cumsum(sizes)[several] - 1
    result = closed.copy()
    result[several] |= (points[begin] == points[last]).all(axis=1)
    return result
