"""Notes that name a stone wall: a text with a leader that ends in the wall.

STONE VENEER
------\\          the leader begins at the text and ends in the wall, where an arrow or a dot may
        \\___      stand
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from shapely.geometry import Polygon

from dxf2veneer.propose.constants import NOTE_REACH
from dxf2veneer.propose.scene import Floats, Mask, Scene, Text
from dxf2veneer.propose.views import View
from dxf2veneer.propose.views.boxes import grown, may_touch
from dxf2veneer.propose.views.titles import plain

_STONE = re.compile(
    r"stone|veneer|masonry|pietra|sasso|naturstein|bruchstein|pierre|moellon|piedra|natuursteen"
)
"""Beginnings and parts of words for stone on a wall, in the languages of titles."""
_PIECE = re.compile(
    r"\b(?:sill|cap|caps|coping|lintel|step|steps|quoin|water ?table|paver|pavers|retaining|column"
    r"|davanzal\w*|architrav\w*|fensterbank|sturz|sohlbank|appui|linteau|seuil|alfeizar|dintel)\b"
)
"""Words for pieces of stone that make no wall of it."""


def stone_notes(scene: Scene, view: View, walls: Sequence[Polygon]) -> Mapping[int, str]:
    """The notes on stone whose leaders end in walls.

    Args:
        scene: everything visible in the drawing.
        view: the elevation that the walls belong to.
        walls: their outlines without openings, in drawing units.

    Returns:
        For the number of a wall what its first note says.
    """
    texts = [scene.texts[n] for n in view.texts]
    notes = [t for t in texts if _STONE.search(plain(t.text)) and not _PIECE.search(plain(t.text))]
    if not notes:
        return {}
    rooms = np.array([grown(note.box, NOTE_REACH * note.height) for note in notes])
    drawn = np.flatnonzero(may_touch(scene.boxes, rooms) & (np.diff(scene.first) > 0))
    first = scene.segments[scene.first[drawn], :2]
    last = scene.segments[scene.first[drawn + 1] - 1, 2:]
    tips = [
        (note, point)
        for note in notes
        for near, far in ((first, last), (last, first))
        for point in far[_starts(near, note) & ~_starts(far, note)]
    ]
    return {
        n: " ".join(note.text.split())
        for note, point in reversed(tips)
        for n, wall in enumerate(walls)
        if wall.covers(shapely.Point(point))
    }


def _starts(points: Floats, note: Text) -> Mask:
    """Which points are so near to a text that its leader may begin there."""
    x0, y0, x1, y1 = note.box
    off = np.maximum(np.array([x0, y0]) - points, points - np.array([x1, y1]))
    return np.asarray((off <= NOTE_REACH * note.height).all(axis=1))
