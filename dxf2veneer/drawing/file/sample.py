"""A drawing's file with a sample of its entities, for a look at what it holds.

Of kinds that crowd model space some of each layer are kept, spaced evenly through the file;
layers with few of a kind keep them all. References, blocks, polylines with vertices of their own
and whatever is rare stay whole. How many were left out is counted, so that the numbers of
entities are exact.
"""

from __future__ import annotations

import numpy as np

from dxf2veneer.basics.tolerances import SAMPLE_OTHERS, SAMPLE_OUTLINES
from dxf2veneer.drawing.file.parts import IN_SPACE, FileParts
from dxf2veneer.drawing.file.skim import PLAIN, LeftOut, Skimmed, opened, without
from dxf2veneer.drawing.file.string_table import Integers, Mask

_OUTLINES = (b"LWPOLYLINE",)
_WHOLE = (b"INSERT", b"POLYLINE")


def sample(content: bytes, encoding: str | None) -> Skimmed:
    """The file with a sample of its entities.

    Args:
        content: The file's bytes.
        encoding: Its code page, where the user names one.

    Returns:
        What is left of it, and what was left out.

    Raises:
        UnsureError: The file has to be read whole; so does whatever the library raises on damaged
            content.
    """
    file = opened(content, encoding)
    parts = file.parts
    crowd = (
        parts.own
        & parts.sure
        & (parts.block == IN_SPACE)
        & ~parts.paper
        & parts.kinds(*PLAIN)
        & ~parts.kinds(*_WHOLE)
    )
    group = parts.kind.of * len(file.layers) + parts.layer.of
    kept = ~crowd
    outline = parts.kinds(*_OUTLINES)
    for mask, most in ((crowd & outline, SAMPLE_OUTLINES), (crowd & ~outline, SAMPLE_OTHERS)):
        kept[_spaced(np.flatnonzero(mask), group, most)] = True
    left_out = _counted(parts, file.layers, crowd & ~kept, group)
    return without(parts, file.page, ~kept[parts.parent], left_out)


def _spaced(which: Integers, group: Integers, most: int) -> Integers:
    """At most so many of some entities, shared out evenly among their groups."""
    ordered = which[np.argsort(group[which], kind="stable")]
    _, first, sizes = np.unique(group[ordered], return_index=True, return_counts=True)
    each = _share(sizes, most)
    chosen = [
        ordered[f + np.arange(min(size, each)) * size // min(size, each)]
        for f, size in zip(first.tolist(), sizes.tolist(), strict=True)
    ]
    return np.concatenate([*chosen, ordered[:0]])


def _share(sizes: Integers, most: int) -> int:
    """The most that each group can have, so that all have at most so many together; at least 1."""
    left, groups = most, len(sizes)
    for size in sorted(sizes.tolist()):
        if size * groups > left:
            break
        left, groups = left - size, groups - 1
    return max(1, left // groups) if groups else max(1, int(sizes.max(initial=1)))


def _counted(
    parts: FileParts, layers: list[str], dropped: Mask, group: Integers
) -> tuple[LeftOut, ...]:
    """How many of each kind and layer were left out."""
    which = np.flatnonzero(dropped)
    _, first, counts = np.unique(group[which], return_index=True, return_counts=True)
    return tuple(
        LeftOut(
            layers[parts.layer.of[which[f]]],
            parts.kind.all[parts.kind.of[which[f]]].decode("ascii"),
            count,
        )
        for f, count in zip(first.tolist(), counts.tolist(), strict=True)
    )
