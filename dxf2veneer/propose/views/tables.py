"""Tables: title blocks, schedules, legends; cells with texts in them."""

from __future__ import annotations

import numpy as np

from dxf2veneer.propose.constants import STRAIGHT, TABLE_STRAIGHT, TABLE_TEXTS
from dxf2veneer.propose.scene import Box, Integers, Scene
from dxf2veneer.propose.views.boxes import inside


def is_table(scene: Scene, segments: Integers, box: Box) -> bool:
    """Whether a group is a table: level and upright lines, nearly as many texts as lines.

    Args:
        scene: the scene.
        segments: numbers of the group's segments.
        box: the group's box.
    """
    own = scene.segments[segments]
    if len(own) < 4:
        return False
    d = np.abs(own[:, 2:] - own[:, :2])
    straight = d.min(1) <= STRAIGHT * d.max(1)
    length = np.hypot(d[:, 0], d[:, 1])
    if length[straight].sum() < TABLE_STRAIGHT * length.sum():
        return False
    size = max(box[2] - box[0], box[3] - box[1])
    rows = len(np.unique(np.round(own[straight & (d[:, 0] > d[:, 1])][:, 1] / (0.002 * size))))
    columns = len(np.unique(np.round(own[straight & (d[:, 1] > d[:, 0])][:, 0] / (0.002 * size))))
    held = sum(inside(box, ((t.box[0] + t.box[2]) / 2, (t.box[1] + t.box[3]) / 2)) for t in scene.texts)
    return rows >= 3 and held >= 3 and held >= TABLE_TEXTS * (rows + columns)
