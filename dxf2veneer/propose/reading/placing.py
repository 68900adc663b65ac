"""Blocks, flattened once and placed as often as references ask.

Content of a block on layer 0 takes its reference's layer, and so on outwards (DXF reference, BLOCK).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from ezdxf.document import Drawing as Document
from ezdxf.math import OCS, Vec3

from dxf2veneer.drawing.entities.blocks import columns_rows, is_alive, own_layer
from dxf2veneer.drawing.entities.kinds import BAD_DATA
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.propose.reading.curves import runs_of
from dxf2veneer.propose.reading.hatching import line_families, loops_of
from dxf2veneer.propose.reading.writing import TEXTS, dimension_of, text_of
from dxf2veneer.propose.scene import Box, Dimension, Floats, Hatch, Text

_DEEPEST = 64
_BY_BLOCK, _BY_LAYER = 0, 256
"""Colours that stand for the reference's and the layer's (DXF reference, code 62)."""

Drawn = tuple[str, str, str, str | None, int, bool, int, str]
"""An entity but for its box: kind, layer, handle, block, insert, closed, colour, line type."""


@dataclass
class Content:
    """What a block or space holds, its references resolved, in its own coordinates."""

    segments: list[Floats] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    drawn: list[Drawn] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    dimensions: list[Dimension] = field(default_factory=list)
    hatches: list[Hatch] = field(default_factory=list)
    loose: list[tuple[float, float, float, float]] = field(default_factory=list)
    """Segments read last, not yet an array."""

    def gather(self) -> Floats:
        """All segments as one array."""
        if self.loose:
            self.segments.append(np.array(self.loose))
            self.loose = []
        self.segments = [np.concatenate(self.segments)] if self.segments else [np.zeros((0, 4))]
        return self.segments[0]


class Placer:
    """Flattens spaces of a document; every block is read once."""

    def __init__(
        self,
        document: Document,
        hidden: frozenset[str],
        frozen: frozenset[str],
        most: int,
        include_hidden: bool = False,
    ) -> None:
        """``hidden`` and ``frozen`` are layers in lower case, ``most`` how many entities references may place."""
        self._document = document
        self._hidden = frozenset() if include_hidden else hidden
        self._frozen = frozenset() if include_hidden else frozen
        self._include_hidden = include_hidden
        self._most = most
        self._placed = 0
        self._references = 0
        self._blocks: dict[str, Content] = {}
        self._open: list[str] = []
        self.left_out: set[str] = set()

    def read(self, entities: Iterable[Any]) -> Content:
        """The content of a space: everything visible, each reference numbered.

        Raises:
            DrawingError: references nest to more entities than the limit.
        """
        content = Content()
        for entity in filter(is_alive, entities):
            if entity.dxftype() == "INSERT":
                self._reference(content, entity)
            else:
                self._entity(content, entity)
        return content

    def _is_hidden(self, layer: str) -> bool:
        if layer.lower() in self._hidden:
            self.left_out.add(layer)
            return True
        return False

    def _entity(self, content: Content, entity: Any) -> None:
        layer = own_layer(entity)
        inherits = bool(self._open) and layer in ("0", "")
        if not inherits and self._is_hidden(layer):
            return
        try:
            if entity.dxf.get("invisible", 0) and not self._include_hidden:
                return
            self._read(content, entity, "0" if inherits else layer)
        except BAD_DATA:
            return  # what can't be read is told where it is measured; here nothing rests on it

    def _read(self, content: Content, entity: Any, layer: str) -> None:
        kind = entity.dxftype()
        if kind in TEXTS:
            text = text_of(entity, layer)
            content.texts += [text] if text else []
        elif kind == "DIMENSION":
            dimension = dimension_of(entity, layer)
            content.dimensions += [dimension] if dimension else []
        elif kind in ("HATCH", "MPOLYGON"):
            hatch = _hatch(entity, layer)
            content.hatches += [hatch] if hatch else []
        else:
            self._curve(content, entity, kind, layer)

    def _curve(self, content: Content, entity: Any, kind: str, layer: str) -> None:
        rows: list[tuple[float, float, float, float]] = []
        closed = False
        for points, is_closed in runs_of(entity):
            following = points[1:] + points[:1] if is_closed else points[1:]
            rows += [(*p, *q) for p, q in zip(points, following, strict=False) if p != q]
            closed = is_closed or (len(points) > 3 and points[0] == points[-1])
        if not rows or not all(math.isfinite(v) for row in rows for v in row):
            return
        content.loose += rows
        content.counts.append(len(rows))
        colour, linetype = entity.dxf.get("color", _BY_LAYER), str(entity.dxf.get("linetype", "BYLAYER")).upper()
        content.drawn.append((kind, layer, str(entity.dxf.get("handle", "")), None, -1, closed, colour, linetype))

    def _reference(self, content: Content, insert: Any) -> None:
        """Add what a reference places; nothing where it can't be followed or nobody sees it."""
        layer = own_layer(insert)
        inherits = bool(self._open) and layer in ("0", "")
        try:
            unseen = insert.dxf.get("invisible", 0) and not self._include_hidden
            if unseen or (not inherits and layer.lower() in self._frozen):
                self.left_out.add(layer)
                return
            matrices = list(_matrices(insert, self._base(insert), self._most))
            inner = self._block(str(insert.dxf.get("name", "")))
        except BAD_DATA:
            return
        self._placed += len(matrices) * (
            len(inner.drawn) + len(inner.texts) + len(inner.hatches) + len(inner.dimensions)
        )
        if self._placed > self._most:
            raise DrawingError(
                f"block references nest to more than {self._most:,} entities (at handle {insert.dxf.get('handle', '')}); "
                f"explode or purge the drawing, or raise --limit-entities"
            )
        shown = _Shown(
            "0" if inherits else layer,
            "" if self._open else str(insert.dxf.get("handle", "")),
            None if self._open else str(insert.dxf.get("name", "")),
            -1 if self._open else self._references,
            insert.dxf.get("color", _BY_LAYER),
            str(insert.dxf.get("linetype", "BYLAYER")).upper(),
        )
        for attribute in filter(is_alive, insert.attribs):
            self._attribute(content, attribute, shown)
        for copy, matrix in enumerate(matrices):
            self._place(content, inner, matrix, shown if self._open else replace(shown, insert=shown.insert + copy))
        if not self._open:
            self._references += len(matrices)

    def _attribute(self, content: Content, attribute: Any, shown: _Shown) -> None:
        """Add an attribute, which stands in the coordinates of its reference's space."""
        layer = own_layer(attribute)
        layer = shown.layer if layer in ("0", "") else layer
        try:
            unseen = (attribute.is_invisible or attribute.dxf.get("invisible", 0)) and not self._include_hidden
            text = None if unseen or self._is_hidden(layer) else text_of(attribute, layer)
        except BAD_DATA:
            return
        if text is not None:
            content.texts.append(
                text._replace(handle=shown.handle or text.handle, block=shown.block, insert=shown.insert)
            )

    def _base(self, insert: Any) -> Vec3:
        block = self._document.blocks[insert.dxf.name].block
        return Vec3(block.dxf.get("base_point", (0, 0, 0))) if block is not None and block.is_alive else Vec3()

    def _block(self, name: str) -> Content:
        key = name.lower()
        if key in self._open or len(self._open) >= _DEEPEST:
            return Content()  # a block in itself places nothing
        if key not in self._blocks:
            self._open.append(key)
            try:
                self._blocks[key] = self.read(self._document.blocks[name])
            finally:
                self._open.pop()
        return self._blocks[key]

    def _place(self, content: Content, inner: Content, matrix: Affine, shown: _Shown) -> None:
        turned = matrix.segments(inner.gather())
        keep = [not (d[1] == "0" and not self._open and self._is_hidden(shown.layer)) for d in inner.drawn]
        if not all(keep):
            turned = turned[np.repeat(keep, inner.counts)]
        if content.loose:
            content.segments.append(np.array(content.loose))
            content.loose = []
        content.segments.append(turned)
        content.counts += [n for n, k in zip(inner.counts, keep, strict=True) if k]
        content.drawn += [shown.drawn(d) for d, k in zip(inner.drawn, keep, strict=True) if k]
        taken_hidden = not self._open and shown.layer.lower() in self._hidden
        content.texts += [shown.text(matrix.text(t)) for t in inner.texts if not (taken_hidden and t.layer == "0")]
        content.hatches += [
            shown.hatch(matrix.hatch(h)) for h in inner.hatches if not (taken_hidden and h.layer == "0")
        ]
        content.dimensions += [
            shown.dimension(matrix.dimension(d)) for d in inner.dimensions if not (taken_hidden and d.layer == "0")
        ]


@dataclass(frozen=True, slots=True)
class _Shown:
    """What content of a block takes from its reference."""

    layer: str
    handle: str
    block: str | None
    insert: int
    colour: int
    linetype: str

    def drawn(self, d: Drawn) -> Drawn:
        layer = self.layer if d[1] == "0" else d[1]
        colour = self.colour if d[6] == _BY_BLOCK else d[6]
        linetype = self.linetype if d[7] == "BYBLOCK" else d[7]
        return d[0], layer, self.handle or d[2], self.block, self.insert, d[5], colour, linetype

    def text(self, t: Text) -> Text:
        layer = self.layer if t.layer == "0" else t.layer
        return t._replace(layer=layer, handle=self.handle or t.handle, block=self.block, insert=self.insert)

    def hatch(self, h: Hatch) -> Hatch:
        layer = self.layer if h.layer == "0" else h.layer
        return h._replace(layer=layer, handle=self.handle or h.handle, block=self.block, insert=self.insert)

    def dimension(self, d: Dimension) -> Dimension:
        return d._replace(layer=self.layer if d.layer == "0" else d.layer, handle=self.handle or d.handle)


@dataclass(frozen=True, slots=True)
class Affine:
    """The map (x, y) -> (a x + b y + e, c x + d y + f)."""

    a: float
    b: float
    c: float
    d: float
    e: float
    f: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        """The image of a point."""
        return self.a * x + self.b * y + self.e, self.c * x + self.d * y + self.f

    def points(self, points: Floats) -> Floats:
        """The images of rows of x, y."""
        turn = np.array([[self.a, self.c], [self.b, self.d]])
        return np.asarray(points @ turn + (self.e, self.f), float)

    def segments(self, segments: Floats) -> Floats:
        """The images of rows of x0, y0, x1, y1."""
        return self.points(segments.reshape(-1, 2)).reshape(-1, 4)

    def box(self, box: Box) -> Box:
        """The box of the image of a box."""
        corners = [self.at(x, y) for x in box[::2] for y in box[1::2]]
        return (
            min(p[0] for p in corners),
            min(p[1] for p in corners),
            max(p[0] for p in corners),
            max(p[1] for p in corners),
        )

    def text(self, t: Text) -> Text:
        """A text, moved, scaled and turned."""
        angle = math.radians(t.rotation)
        direction = (
            self.a * math.cos(angle) + self.b * math.sin(angle),
            self.c * math.cos(angle) + self.d * math.sin(angle),
        )
        x, y = self.at(t.x, t.y)
        turned = math.degrees(math.atan2(direction[1], direction[0]))
        return t._replace(x=x, y=y, height=t.height * math.hypot(self.b, self.d), rotation=turned, box=self.box(t.box))

    def hatch(self, h: Hatch) -> Hatch:
        """A hatch, its pattern scaled by the square root of the change of area."""
        factor = math.sqrt(abs(self.a * self.d - self.b * self.c))
        turn = math.degrees(math.atan2(self.c, self.a))
        lines = tuple(((angle + turn) % 180.0, gap * factor, dashed) for angle, gap, dashed in h.lines)
        return h._replace(box=self.box(h.box), loops=tuple(map(self.points, h.loops)), lines=lines)

    def dimension(self, d: Dimension) -> Dimension:
        """A dimension, its length scaled like that between its points."""
        (x0, y0), (x1, y1) = self.at(d.x0, d.y0), self.at(d.x1, d.y1)
        before = math.dist((d.x0, d.y0), (d.x1, d.y1))
        factor = math.dist((x0, y0), (x1, y1)) / before if before else 1.0
        return d._replace(
            measured=d.measured * factor, height=d.height * factor, x0=x0, y0=y0, x1=x1, y1=y1, box=self.box(d.box)
        )


def _matrices(insert: Any, base: Vec3, most: int) -> Iterable[Affine]:
    """The map of each row and column of a reference, seen from above."""
    dxf = insert.dxf
    sx, sy, angle = dxf.get("xscale", 1.0), dxf.get("yscale", 1.0), math.radians(dxf.get("rotation", 0.0))
    columns, rows = columns_rows(insert)
    if sx == 0.0 or sy == 0.0 or columns * rows > most:
        return
    where = Vec3(dxf.get("insert", (0, 0, 0)))
    cos, sin = math.cos(angle), math.sin(angle)
    extrusion = Vec3(dxf.get("extrusion", (0, 0, 1)))
    flip = -1.0 if not (extrusion.x or extrusion.y) and extrusion.z < 0.0 else 1.0
    tilt = OCS(extrusion) if extrusion.x or extrusion.y else None
    for i in range(columns * rows):
        dx, dy = (i % columns) * dxf.get("column_spacing", 0.0), (i // columns) * dxf.get("row_spacing", 0.0)
        ox, oy = dx - base.x * sx, dy - base.y * sy
        plane = Affine(
            cos * sx, -sin * sy, sin * sx, cos * sy, where.x + cos * ox - sin * oy, where.y + sin * ox + cos * oy
        )
        if tilt is None:
            yield replace(plane, a=flip * plane.a, b=flip * plane.b, e=flip * plane.e)
        else:
            u, v = tilt.to_wcs(Vec3(plane.a, plane.c)), tilt.to_wcs(Vec3(plane.b, plane.d))
            o = tilt.to_wcs(Vec3(plane.e, plane.f, where.z))
            yield Affine(u.x, v.x, u.y, v.y, o.x, o.y)


def _hatch(entity: Any, layer: str) -> Hatch | None:
    loops = [np.array(loop) for loop in loops_of(entity)]
    if not loops or not all(np.isfinite(loop).all() for loop in loops):
        return None
    extrusion = entity.dxf.get("extrusion")
    if extrusion is not None and extrusion.z < 0.0:
        loops = [loop * (-1.0, 1.0) for loop in loops]
    low, high = np.min([p.min(0) for p in loops], 0), np.max([p.max(0) for p in loops], 0)
    solid = bool(entity.dxf.get("solid_fill", 0))
    pattern = "SOLID" if solid else str(entity.dxf.get("pattern_name", "")).strip()
    box = float(low[0]), float(low[1]), float(high[0]), float(high[1])
    lines = () if solid else line_families(entity)
    return Hatch(pattern, solid, box, tuple(loops), str(entity.dxf.get("handle", "")), layer, None, -1, lines)
