"""Blocks, flattened once and placed as often as references ask.

Content of a block on layer 0 takes its reference's layer, and so on outwards (DXF reference,
BLOCK).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from ezdxf.document import Drawing as Document
from ezdxf.lldxf.const import DXFError
from ezdxf.math import Vec3

from dxf2veneer.basics.messages import message
from dxf2veneer.drawing.entities.blocks import is_alive, own_layer
from dxf2veneer.drawing.entities.kinds import BAD_DATA
from dxf2veneer.drawing.entities.numbers import has_usable_numbers
from dxf2veneer.drawing.entities.ours import own_tags
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.propose.reading.affine import Affine, affine_maps
from dxf2veneer.propose.reading.content import Content, Drawn
from dxf2veneer.propose.reading.curves import runs_of
from dxf2veneer.propose.reading.hatching import line_families, loops_of
from dxf2veneer.propose.reading.reach import in_reach, within_reach
from dxf2veneer.propose.reading.writing import TEXTS, dimension_of, text_of
from dxf2veneer.propose.scene import Dimension, Hatch, Text

_DEEPEST = 64
_BY_BLOCK, _BY_LAYER = 0, 256
"""Colours that stand for the reference's and the layer's (DXF reference, code 62)."""


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
        """``hidden`` and ``frozen`` are layers in lower case, ``most`` how many entities
        references may place."""
        self._document = document
        self._hidden = frozenset() if include_hidden else hidden
        self._frozen = frozenset() if include_hidden else frozen
        self._include_hidden = include_hidden
        self._most = most
        self._placed = 0
        self._references = 0
        self._names: dict[str, str] = {}
        self._hides: dict[str, bool] = {}
        self._blocks: dict[str, Content] = {}
        self._open: list[str] = []
        self.left_out: set[str] = set()

    def read(self, entities: Iterable[Any]) -> Content:
        """The content of a space: everything visible, each reference numbered; what an overlay drew
        is no part of it.

        Raises:
            DrawingError: references nest to more entities than the limit.
        """
        content = Content()
        for entity in entities:
            content.before.append(len(content.drawn))
            content.texts_before.append(len(content.texts))
            if not is_alive(entity) or own_tags(entity):
                continue
            if entity.dxftype() == "INSERT":
                self._reference(content, entity)
            else:
                self._entity(content, entity)
        return content

    def _layer(self, entity: Any) -> str:
        """The layer that an entity names; names are cleaned once each."""
        try:
            name = entity.dxf.layer
        except (DXFError, AttributeError):
            return own_layer(entity)
        known = self._names.get(name)
        if known is None:
            known = self._names[name] = own_layer(entity)
        return known

    def is_hidden(self, layer: str) -> bool:
        """Whether a layer is not shown; one that hides something is noted as left out.

        Args:
            layer: its name.

        Returns:
            Whether it is off or frozen, and hidden layers are not asked for.
        """
        hides = self._hides.get(layer)
        if hides is None:
            hides = self._hides[layer] = layer.lower() in self._hidden
        if hides:
            self.left_out.add(layer)
        return hides

    def _entity(self, content: Content, entity: Any) -> None:
        layer = self._layer(entity)
        inherits = bool(self._open) and layer in ("0", "")
        if not inherits and self.is_hidden(layer):
            return
        try:
            if _given(entity.dxf, "invisible", 0) and not self._include_hidden:
                return
            if has_usable_numbers(entity):
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
        elif kind in ("MULTILEADER", "MLEADER"):
            for part in entity.virtual_entities():
                if part.dxftype() in ("LINE", "LWPOLYLINE", "SPLINE"):
                    self._curve(content, part, part.dxftype(), layer, shown_as="LEADER")
                else:
                    self._read(content, part, layer)
        elif kind in ("HATCH", "MPOLYGON"):
            hatch = _hatch(entity, layer)
            content.hatches += [hatch] if hatch else []
        else:
            self._curve(content, entity, kind, layer)

    def _curve(
        self, content: Content, entity: Any, kind: str, layer: str, shown_as: str = ""
    ) -> None:
        rows: list[tuple[float, float, float, float]] = []
        closed = False
        for points, is_closed in runs_of(entity, kind):
            following = points[1:] + points[:1] if is_closed else points[1:]
            rows += [(*p, *q) for p, q in zip(points, following, strict=False) if p != q]
            closed = is_closed or (len(points) > 3 and points[0] == points[-1])
        if not rows:
            return
        content.loose += rows
        content.counts.append(len(rows))
        dxf = entity.dxf
        colour, linetype = (
            _given(dxf, "color", _BY_LAYER),
            str(_given(dxf, "linetype", "BYLAYER")).upper(),
        )
        content.drawn.append(
            (
                shown_as or kind,
                layer,
                str(_given(dxf, "handle", "")),
                None,
                -1,
                closed,
                colour,
                linetype,
            )
        )

    def _reference(self, content: Content, insert: Any) -> None:
        """Add what a reference places; nothing where it can't be followed or nobody sees it."""
        layer = own_layer(insert)
        inherits = bool(self._open) and layer in ("0", "")
        try:
            unseen = insert.dxf.get("invisible", 0) and not self._include_hidden
            if unseen or (not inherits and layer.lower() in self._frozen):
                self.left_out.add(layer)
                return
            matrices = [
                m
                for m in affine_maps(insert, self._base(insert), self._most)
                if in_reach(m.a, m.b, m.c, m.d, m.e, m.f)
            ]
            inner = self._block(str(insert.dxf.get("name", "")))
        except BAD_DATA:
            return
        self._placed += len(matrices) * (
            len(inner.drawn) + len(inner.texts) + len(inner.hatches) + len(inner.dimensions)
        )
        if self._placed > self._most:
            raise DrawingError(
                message(
                    "references-too-many",
                    most=self._most,
                    handle=str(insert.dxf.get("handle", "")),
                )
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
            self._place(
                content,
                inner,
                matrix,
                shown if self._open else replace(shown, insert=shown.insert + copy),
            )
        if not self._open:
            self._references += len(matrices)

    def _attribute(self, content: Content, attribute: Any, shown: _Shown) -> None:
        """Add an attribute, which stands in the coordinates of its reference's space."""
        layer = own_layer(attribute)
        layer = shown.layer if layer in ("0", "") else layer
        try:
            unseen = (
                attribute.is_invisible or attribute.dxf.get("invisible", 0)
            ) and not self._include_hidden
            text = None if unseen or self.is_hidden(layer) else text_of(attribute, layer)
        except BAD_DATA:
            return
        if text is not None:
            content.texts.append(
                text._replace(
                    handle=shown.handle or text.handle, block=shown.block, insert=shown.insert
                )
            )

    def _base(self, insert: Any) -> Vec3:
        block = self._document.blocks[insert.dxf.name].block
        return (
            Vec3(block.dxf.get("base_point", (0, 0, 0)))
            if block is not None and block.is_alive
            else Vec3()
        )

    def _block(self, name: str) -> Content:
        key = name.lower()
        if key in self._open or len(self._open) >= _DEEPEST:
            return Content()  # a block in itself places nothing
        if key not in self._blocks:
            self._open.append(key)
            try:
                self._blocks[key] = within_reach(self.read(self._document.blocks[name]))
            finally:
                self._open.pop()
        return self._blocks[key]

    def _place(self, content: Content, inner: Content, matrix: Affine, shown: _Shown) -> None:
        turned = matrix.segments(inner.gather())
        keep = [
            not (d[1] == "0" and not self._open and self.is_hidden(shown.layer))
            for d in inner.drawn
        ]
        if not all(keep):
            turned = turned[np.repeat(keep, inner.counts)]
        if content.loose:
            content.segments.append(np.array(content.loose))
            content.loose = []
        content.segments.append(turned)
        content.counts += [n for n, k in zip(inner.counts, keep, strict=True) if k]
        content.drawn += [shown.drawn(d) for d, k in zip(inner.drawn, keep, strict=True) if k]
        taken_hidden = not self._open and shown.layer.lower() in self._hidden
        content.texts += [
            shown.text(matrix.text(t)) for t in inner.texts if not (taken_hidden and t.layer == "0")
        ]
        content.hatches += [
            shown.hatch(matrix.hatch(h))
            for h in inner.hatches
            if not (taken_hidden and h.layer == "0")
        ]
        content.dimensions += [
            shown.dimension(matrix.dimension(d))
            for d in inner.dimensions
            if not (taken_hidden and d.layer == "0")
        ]


def _given(dxf: Any, name: str, default: Any) -> Any:
    """An attribute that most entities lack, without asking the library for its own default, which
    takes long."""
    return getattr(dxf, name) if dxf.hasattr(name) else default


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
        return t._replace(
            layer=layer, handle=self.handle or t.handle, block=self.block, insert=self.insert
        )

    def hatch(self, h: Hatch) -> Hatch:
        layer = self.layer if h.layer == "0" else h.layer
        return h._replace(
            layer=layer, handle=self.handle or h.handle, block=self.block, insert=self.insert
        )

    def dimension(self, d: Dimension) -> Dimension:
        return d._replace(
            layer=self.layer if d.layer == "0" else d.layer, handle=self.handle or d.handle
        )


def _hatch(entity: Any, layer: str) -> Hatch | None:
    loops = [np.array(loop) for loop in loops_of(entity)]
    if not loops:
        return None
    extrusion = entity.dxf.get("extrusion")
    if extrusion is not None and extrusion.z < 0.0:
        loops = [loop * (-1.0, 1.0) for loop in loops]
    low, high = np.min([p.min(0) for p in loops], 0), np.max([p.max(0) for p in loops], 0)
    solid = bool(entity.dxf.get("solid_fill", 0))
    pattern = "SOLID" if solid else str(entity.dxf.get("pattern_name", "")).strip()
    box = float(low[0]), float(low[1]), float(high[0]), float(high[1])
    lines = () if solid else line_families(entity)
    return Hatch(
        pattern, solid, box, tuple(loops), str(entity.dxf.get("handle", "")), layer, None, -1, lines
    )
