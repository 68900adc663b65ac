"""A drawing's lines, hatches, dimensions and texts packed for the page.

One block of bytes: the length of a head (unsigned, 32 bits), the head (JSON, UTF-8, filled with
spaces to a multiple of four), then little-endian arrays in the order of the head's ``arrays``:

    segments    float32  x0, y0, x1, y1 of each straight piece, from the origin that the head names
    first       uint32   for each entity its first segment, and behind the last the number of all
    boxes       float32  least x, y, greatest x, y of each entity
    layer       uint32   for each entity the number of its layer
"""

from __future__ import annotations

import json
import struct
from typing import Any

import numpy as np

from dxf2veneer.propose.scene import Box, Dimension, Hatch, Scene, Text
from dxf2veneer.textio.escaping import visible

_MOST_HATCHES = 20_000
"""Hatches that the page shows, the largest. Our own default."""
_SLANT = 1e-4
"""A length this near to its rise or run, as a share, is measured upright or level."""
_LONGEST_TEXT = 400
"""Letters of one text that the page shows."""


def packed(scene: Scene) -> bytes:
    """The lines and texts of a scene.

    Entities come by falling size, so that what is too small to be seen stands at the end.

    Args:
        scene: Everything visible.

    Returns:
        The block; the drawing's own coordinates are the origin plus those in it.
    """
    box = extent(scene)
    x0, y0 = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    size = np.max(scene.boxes[:, 2:] - scene.boxes[:, :2], axis=1) if len(scene.boxes) else []
    order = np.argsort(-np.asarray(size), kind="stable")
    counts = np.diff(scene.first)[order] if len(order) else np.zeros(0, np.int64)
    first = np.concatenate(([0], np.cumsum(counts)))
    taken = np.repeat(scene.first[:-1][order] - first[:-1], counts) + np.arange(first[-1])
    listed = (scene.texts, scene.hatches, scene.dimensions)
    layers = sorted(
        {*scene.entities.layer.tolist(), *(one.layer for some in listed for one in some)}
    )
    number = {name: i for i, name in enumerate(layers)}
    head = {
        "origin": [x0, y0],
        "box": list(box),
        "layers": [visible(name) for name in layers],
        "segments": int(first[-1]),
        "entities": len(order),
        "arrays": ["segments", "first", "boxes", "layer"],
        "hatches": [
            _hatch(h, x0, y0, number[h.layer])
            for h in sorted(scene.hatches, key=_larger_first)[:_MOST_HATCHES]
        ],
        "dimensions": [
            _dimension(d, x0, y0, number[d.layer], d.height or scene.letters)
            for d in scene.dimensions
        ],
        "texts": [_text(t, x0, y0, number[t.layer]) for t in scene.texts],
    }
    layer = np.array([number[name] for name in scene.entities.layer[order].tolist()], "<u4")
    shift = np.array([x0, y0, x0, y0])
    text = json.dumps(head, ensure_ascii=False, allow_nan=False).encode()
    text += b" " * (-len(text) % 4)
    return b"".join(
        (
            struct.pack("<I", len(text)),
            text,
            (scene.segments[taken] - shift).astype("<f4").tobytes(),
            first.astype("<u4").tobytes(),
            (scene.boxes[order] - shift).astype("<f4").tobytes(),
            layer.tobytes(),
        )
    )


def _text(text: Text, x0: float, y0: float, layer: int) -> list[Any]:
    """A text as the head holds it: letters, place, height, rotation, layer, box."""
    left, low, right, high = text.box
    return [
        visible(text.text.replace("\n", " / "))[:_LONGEST_TEXT],
        text.x - x0,
        text.y - y0,
        text.height,
        text.rotation,
        layer,
        [left - x0, low - y0, right - x0, high - y0],
    ]


def _larger_first(hatch: Hatch) -> float:
    return -max(hatch.box[2] - hatch.box[0], hatch.box[3] - hatch.box[1])


def _hatch(hatch: Hatch, x0: float, y0: float, layer: int) -> list[Any]:
    """A hatch as the head holds it: layer, whether it is solid, box, boundaries, and for each
    family of its lines angle, distance, and whether they are dashed."""
    left, low, right, high = hatch.box
    return [
        layer,
        hatch.solid,
        [left - x0, low - y0, right - x0, high - y0],
        [[[float(x) - x0, float(y) - y0] for x, y in loop] for loop in hatch.loops],
        [list(family) for family in hatch.lines if family[1] > 0.0],
    ]


def _dimension(d: Dimension, x0: float, y0: float, layer: int, height: float) -> list[Any]:
    """A dimension as the head holds it: layer, text, letters' height, and the points through which
    its lines run.

        b ---- 10'-0" ---- c      from a measured point to the dimension line, along it, and back;
        |                  |      the line lies at the side of the dimension's box that is farther
        a                  d      from the points. A slanted one runs straight from point to point
    """
    points = [(d.x0, d.y0), (d.x1, d.y1)]
    left, low, right, high = d.box
    wide, rise = abs(d.x1 - d.x0), abs(d.y1 - d.y0)
    if abs(d.measured - wide) <= _SLANT * d.measured:
        above, below = high - max(d.y0, d.y1), min(d.y0, d.y1) - low
        y = max(high - height, max(d.y0, d.y1)) if above >= below else low
        points = [points[0], (d.x0, y), (d.x1, y), points[1]]
    elif abs(d.measured - rise) <= _SLANT * d.measured:
        beside, before = right - max(d.x0, d.x1), min(d.x0, d.x1) - left
        x = right if beside >= before else min(left + height, min(d.x0, d.x1))
        points = [points[0], (x, d.y0), (x, d.y1), points[1]]
    text = visible(d.text)[:_LONGEST_TEXT]
    return [layer, text, height, [[x - x0, y - y0] for x, y in points]]


def extent(scene: Scene) -> Box:
    """The box round lines and texts; hatches lie between lines.

    Args:
        scene: Everything visible.

    Returns:
        Least x, least y, greatest x, greatest y; of an empty drawing 0, 0, 1, 1.
    """
    boxes = [scene.boxes] if len(scene.boxes) else []
    if scene.texts:
        boxes.append(np.array([t.box for t in scene.texts], float))
    if not boxes:
        return 0.0, 0.0, 1.0, 1.0
    every = np.concatenate(boxes)
    low, high = every[:, :2].min(axis=0), every[:, 2:].max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])
