"""A drawing's lines and texts packed for the page.

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

from dxf2veneer.propose.scene import Box, Scene, Text
from dxf2veneer.textio.escaping import visible

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
    layers = sorted({*scene.entities.layer.tolist(), *(t.layer for t in scene.texts)})
    number = {name: i for i, name in enumerate(layers)}
    head = {
        "origin": [x0, y0],
        "box": list(box),
        "layers": [visible(name) for name in layers],
        "segments": int(first[-1]),
        "entities": len(order),
        "arrays": ["segments", "first", "boxes", "layer"],
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


def extent(scene: Scene) -> Box:
    """The box round everything drawn.

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
