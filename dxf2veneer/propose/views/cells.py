"""Which segments hang together, told on a grid of cells in time that grows with the ink only.

    segments -> cells they pass through -> cells that touch are one group -> segments of a group

Two segments hang together where their gap is less than about one cell; up to two cells where the
grid falls so. Nothing here knows what is drawn.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.propose.scene import Floats, Integers


def groups_of(segments: Floats, gap: float, weight: Integers | None = None) -> Integers:
    """Number the groups of segments that hang together.

    Args:
        segments: rows x0, y0, x1, y1.
        gap: size of a cell, in drawing units.
        weight: for each segment the number of a set whose segments belong together whatever their
            distance (the segments of one entity); None where there are no such sets.
    Returns:
        For each segment the number of its group, from 0.
    """
    if not len(segments):
        return np.zeros(0, np.int64)
    at, passed, of = _cells(segments, gap)
    new = np.concatenate(([True], at[1:] != at[:-1]))
    keys, cell = np.unique(np.concatenate((at[new], passed)), return_inverse=True)
    runs = np.cumsum(new)
    first, passed = cell[runs - 1], cell[runs[-1] :]
    edges = [_neighbours(keys), _apart(first[of], passed)]
    if weight is not None:
        order = np.argsort(weight, kind="stable")
        ordered, owner = first[order], weight[order]
        tied = (owner[1:] == owner[:-1]) & (ordered[1:] != ordered[:-1])
        edges.append(np.column_stack((ordered[:-1][tied], ordered[1:][tied])))
    label = components(len(keys), np.concatenate(edges))
    number = np.cumsum(label == np.arange(len(keys))) - 1  # each component by its least cell
    return np.asarray(number[label][first])


def _apart(one: Integers, two: Integers) -> NDArray[np.int64]:
    """Pairs of two different numbers."""
    differ = one != two
    return np.column_stack((one[differ], two[differ]))


_ROW = np.int64(1) << np.int64(31)
_MOST_STEPS = 4096
"""Steps along one segment; a longer one is followed in larger steps, so that its ends still
count."""


_BLOCK = 1 << 16
"""Segments that are followed at once: what is reckoned of them stays in the processor's cache."""


def _cells(segments: Floats, gap: float) -> tuple[Integers, Integers, Integers]:
    """The cell that each segment starts in, those that segments pass through (half a cell a step)
    on their way to others, and whose they are."""
    x0, y0, x1, y1 = segments.T
    corner = min(x0.min(), x1.min()), min(y0.min(), y1.min())
    starts = range(0, len(segments), _BLOCK)
    blocks = [_cells_of(segments[n : n + _BLOCK], corner, gap) for n in starts]
    at, passed, of = zip(*blocks, strict=True)
    whose = [n + own for n, own in zip(starts, of, strict=True)]
    return np.concatenate(at), np.concatenate(passed), np.concatenate(whose)


def _cells_of(
    segments: Floats, corner: tuple[float, float], gap: float
) -> tuple[Integers, Integers, Integers]:
    """The same for some segments, on a grid that begins at a corner."""
    x0, y0, x1, y1 = segments.T
    left, low = corner
    x, y, across, up = (x0 - left) / gap, (y0 - low) / gap, (x1 - x0) / gap, (y1 - y0) / gap
    at = _place(x, y)
    several = np.flatnonzero(at != _place(x + across, y + up))
    x, y, across, up = x[several], y[several], across[several], up[several]
    far = np.maximum(np.abs(across), np.abs(up))
    steps = np.minimum(np.ceil(far * 2).astype(np.int64) + 1, _MOST_STEPS)
    row = np.repeat(np.arange(len(several)), steps)
    within = np.arange(len(row)) - np.repeat(np.cumsum(steps) - steps, steps)
    share = within / np.repeat(steps - 1, steps)
    passed = _place(x[row] + across[row] * share, y[row] + up[row] * share)
    return at, passed, several[row]


def _place(x: Floats, y: Floats) -> Integers:
    """One number for the cell of each point, whose coordinates are in cells."""
    column, row = (np.floor(axis).astype(np.int64) + 1 for axis in (x, y))
    return np.asarray(row * _ROW + column)


def _neighbours(keys: Integers) -> NDArray[np.int64]:
    """Pairs of numbers of cells that touch, corners included; ``keys`` are in order."""
    pairs = []
    for step in (1, _ROW - 1, _ROW, _ROW + 1):
        place = np.searchsorted(keys, keys + step)
        inside = place < len(keys)
        hit = np.flatnonzero(inside)[keys[place[inside]] == (keys + step)[inside]]
        pairs.append(np.column_stack((hit, place[hit])))
    return np.concatenate(pairs)


def components(count: int, edges: NDArray[np.int64]) -> Integers:
    """The connected components of a graph by its edges: for each node the least node of its
    component.

    Args:
        count: number of nodes, which are numbered from 0.
        edges: pairs of nodes, shape (e, 2).

    Returns:
        The node that names the component of each node.
    """
    label = np.arange(count)
    while len(edges):
        a, b = label[edges[:, 0]], label[edges[:, 1]]
        differ = a != b
        if not differ.any():
            break
        edges, a, b = edges[differ], a[differ], b[differ]
        np.minimum.at(label, np.maximum(a, b), np.minimum(a, b))
        while True:
            shorter = label[label]
            if np.array_equal(shorter, label):
                break
            label = shorter
    return label
