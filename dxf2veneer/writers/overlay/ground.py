"""What of the user's drawing the overlay's texts keep clear of: its texts, those in blocks and
attributes, small blocks such as bubbles, dimensions, leaders and hatches."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice, pairwise

import shapely
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.hatch import Hatch
from ezdxf.entities.insert import Insert
from ezdxf.entities.mtext import MText
from ezdxf.entities.text import Text
from ezdxf.math import Vec3
from ezdxf.path import from_hatch, make_path
from ezdxf.tools.text import plain_mtext, plain_text

from dxf2veneer.drawing.entities.numbers import has_usable_numbers
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.texts import LETTER_WIDTH, LINE_STEP, Box, overlap

_DAMAGE = (Exception,)
"""What the library raises on damaged content: errors of many kinds, failed assertions of its own
among them."""

_LONGEST = 2_000
"""Characters, codes included, of a text whose box is kept free; a longer one gets the box of its
beginning."""

_PAD = 0.3
"""Room left around a text for letters that reach below its line, in its height."""

_DEEPEST = 8
"""How deep blocks in blocks are opened."""

_PARTS = 400
"""Parts of one block that are looked at; a block with more is no symbol and mostly plain lines."""

_SYMBOL_IN = 36.0
"""Size in inches up to which a block is taken for a symbol and kept clear as a whole, unless it
holds a larger text; a grid bubble of 3/8 in is 18 in wide at 1/4" = 1'-0" [our own default]."""

_SLICE_IN = 24.0
"""Height in inches of the strips that stand for a hatch."""

_STEP_IN = 12.0
"""Length in inches of the boxes that stand for a slanted line of a dimension or leader."""

_MOST_BOXES = 200
"""Boxes that stand for one line or hatch; one that takes more is left out."""


def ground_of(doc: Document, inches_per_unit: float, walls: Sequence[Box]) -> list[Box]:
    """Boxes in inches around what shows in a drawing's model space and is to stay legible.

    Args:
        doc: The drawing in memory.
        inches_per_unit: Inches in one unit of the drawing.
        walls: Boxes of the walls in inches; hatches on them are their faces and not kept clear.

    Returns:
        The boxes; those around texts a little larger than most fonts draw them.
    """
    hidden = {layer.dxf.name.lower() for layer in doc.layers if layer.is_off() or layer.is_frozen()}
    ground = _Ground(inches_per_unit, hidden, walls)
    for entity in doc.modelspace():
        if not tags_of(entity):
            ground.add(entity)
    return ground.boxes


class _Ground:
    """Boxes in inches that are gathered."""

    def __init__(self, inches: float, hidden: set[str], walls: Sequence[Box]) -> None:
        self.boxes: list[Box] = []
        self._inches = inches
        self._hidden = hidden
        self._walls = walls

    def add(self, entity: DXFEntity) -> None:
        """What one entity covers; nothing where its numbers are unusable."""
        try:
            if has_usable_numbers(entity):
                self.boxes += self._of(entity, 0)
        except _DAMAGE:
            return

    def _of(self, entity: DXFEntity, depth: int) -> list[Box]:
        if entity.dxf.get("layer", "0").lower() in self._hidden or entity.dxf.get("invisible", 0):
            return []
        match entity:
            case MText() | Text():
                if entity.dxftype() == "ATTDEF" or getattr(entity, "is_invisible", False):
                    return []
                return [self._scaled(box) for box in _box_of(entity)]
            case Insert():
                return self._insert(entity, depth)
            case Hatch():
                return self._hatch(entity)
        if entity.dxftype() in ("DIMENSION", "LEADER", "MULTILEADER", "MLEADER"):
            return self._note(entity, depth)
        return []

    def _insert(self, insert: Insert, depth: int) -> list[Box]:
        """Its attributes and texts, or the whole of it where it is a symbol."""
        found = [box for attrib in insert.attribs for box in self._of(attrib, depth)]
        if depth >= _DEEPEST:
            return found
        lines: list[Box] = []
        parts = list(islice(insert.virtual_entities(), _PARTS + 1))
        for part in parts:
            if isinstance(part, Text | MText | Insert):
                found += self._of(part, depth + 1)
            elif len(parts) <= _PARTS:
                lines += self._whole(part)
        if lines and len(parts) <= _PARTS:
            whole = _around(lines)
            most = max([_SYMBOL_IN, *(box[2] - box[0] for box in found)])
            if max(whole[2] - whole[0], whole[3] - whole[1]) <= most:
                found.append(whole)
        return found

    def _note(self, entity: DXFEntity, depth: int) -> list[Box]:
        """Texts and lines of a dimension or leader."""
        found: list[Box] = []
        if entity.dxftype() == "LEADER":
            points = [Vec3(p) for p in getattr(entity, "vertices", ())]
            return self._along(points)
        for part in islice(entity.virtual_entities(), _PARTS):  # type: ignore[attr-defined]
            if isinstance(part, Text | MText | Insert):
                found += self._of(part, depth + 1)
            elif part.dxftype() in ("LINE", "LWPOLYLINE", "POLYLINE"):
                found += self._along(list(make_path(part).flattening(_STEP_IN)))
        return found

    def _whole(self, entity: DXFGraphic) -> list[Box]:
        """The box around a curve; none of what is no curve."""
        if entity.dxf.get("layer", "0").lower() in self._hidden:
            return []
        if entity.dxftype() not in ("LINE", "LWPOLYLINE", "POLYLINE", "CIRCLE", "ARC", "ELLIPSE"):
            return []
        points = list(make_path(entity).flattening(0.1 / self._inches))
        return [self._scaled(_around((p.x, p.y, p.x, p.y) for p in points))] if points else []

    def _along(self, points: Sequence[Vec3]) -> list[Box]:
        """Small boxes along a line."""
        step, found = _STEP_IN / self._inches, []
        for a, b in pairwise(points):
            level = abs(a.x - b.x) < 1e-9 or abs(a.y - b.y) < 1e-9
            count = 1 if level else math.ceil(a.distance(b) / step)
            if count > _MOST_BOXES:
                continue
            places = [a.lerp(b, n / count) for n in range(count + 1)]
            found += [_around((p.x, p.y, p.x, p.y) for p in pair) for pair in pairwise(places)]
        return [self._scaled(box) for box in found]

    def _hatch(self, hatch: Hatch) -> list[Box]:
        """Strips of the hatch's ground; none where it lies on a wall."""
        rings = [
            shapely.Polygon([(p.x * self._inches, p.y * self._inches) for p in points])
            for path in from_hatch(hatch)
            for points in [list(path.flattening(1.0 / self._inches))]
            if len(points) > 3
        ]
        ground = shapely.unary_union([ring.buffer(0) for ring in rings])
        if ground.is_empty:
            return []
        x0, y0, x1, y1 = ground.bounds
        count = math.ceil((y1 - y0) / _SLICE_IN)
        if count > _MOST_BOXES:
            return []
        strips = (
            shapely.intersection(ground, shapely.box(x0, y, x1, y + _SLICE_IN))
            for y in (y0 + n * _SLICE_IN for n in range(count))
        )
        boxes = [part.bounds for s in strips for part in shapely.get_parts(s) if part.area > 0.0]
        return [box for box in boxes if not any(overlap(box, wall) for wall in self._walls)]

    def _scaled(self, box: Box) -> Box:
        x0, y0, x1, y1 = (v * self._inches for v in box)
        return x0, y0, x1, y1


def _around(boxes: Iterable[Box]) -> Box:
    listed = list(boxes)
    x0, y0, x1, y1 = zip(*listed, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _box_of(entity: DXFEntity) -> Iterator[Box]:
    """The box of one text; none where its numbers are unusable."""
    if isinstance(entity, MText):
        height, turn = entity.dxf.char_height, entity.dxf.rotation
        lines = plain_mtext(entity.text[:_LONGEST], split=True) or [""]
        x, y, _ = entity.dxf.insert
        row, column = divmod(
            entity.dxf.attachment_point - 1, 3
        )  # 1 top left .. 9 bottom right (DXF reference)
        share_x, share_y = column / 2, 1 - row / 2
        high = height * LINE_STEP * len(lines)
    elif isinstance(entity, Text):
        height, turn, lines = (
            entity.dxf.height,
            entity.dxf.rotation,
            [plain_text(entity.dxf.text[:_LONGEST])],
        )
        is_aligned = entity.dxf.halign or entity.dxf.valign
        place = (
            entity.dxf.align_point
            if is_aligned and entity.dxf.hasattr("align_point")
            else entity.dxf.insert
        )
        x, y, high = place.x, place.y, height
        share_x = {1: 0.5, 2: 1.0, 4: 0.5}.get(entity.dxf.halign, 0.0)
        share_y = {2: 0.5, 3: 1.0}.get(entity.dxf.valign, 0.5 if entity.dxf.halign == 4 else 0.0)
    wide, pad = LETTER_WIDTH * height * max(map(len, lines)), _PAD * height
    across, along = (
        (-share_x * wide - pad, (1 - share_x) * wide),
        (-share_y * high - pad, (1 - share_y) * high + pad),
    )
    corners = [(dx, dy) for dx in across for dy in along]
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    xs = [x + dx * cos - dy * sin for dx, dy in corners]
    ys = [y + dx * sin + dy * cos for dx, dy in corners]
    box = (min(xs), min(ys), max(xs), max(ys))
    if all(map(math.isfinite, box)):
        yield box
