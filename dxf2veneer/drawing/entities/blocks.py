"""Walking a model space and the blocks it refers to.

Glossary
--------
block       a named collection of entities
reference   an INSERT: a block placed, scaled, turned, mirrored, perhaps in rows and columns
own layer   the layer an entity names
layer       the layer an entity shows on: content of a block on layer 0 takes its reference's layer,
            and so on outwards

Each entity comes out with the layer it shows on, the map to inches, and the handle of the entity
that a person can select: for block content the outermost reference. References to blocks that hold
nothing wanted are passed over without being opened.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from ezdxf.document import Drawing as Document
from ezdxf.lldxf.const import DXFAttributeError
from ezdxf.math import OCS, Matrix44, Vec3
from ezdxf.xclip import XClip

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import BLOCKS_DEEPEST
from dxf2veneer.drawing.entities.kinds import BAD_DATA, READERS
from dxf2veneer.drawing.entities.numbers import refuse_numbers
from dxf2veneer.drawing.errors import DrawingError, EntityError
from dxf2veneer.drawing.layers import clean_text
from dxf2veneer.drawing.notice_collector import NoticeCollector
from dxf2veneer.model import LayerState


@dataclass(frozen=True, slots=True)
class PlacedEntity:
    """An entity in its place."""

    entity: Any
    """The library's entity."""
    layer: str
    """The layer it shows on."""
    matrix: Matrix44
    """Its map to inches."""
    handle: str
    """Handle of the entity in model space to select."""
    hidden: Message | None
    """Why a person does not see it, or None."""


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a walk stands: the map so far and the references it went through."""

    matrix: Matrix44
    """The map so far."""
    layer: str | None = None
    """Layer of the innermost reference."""
    handle: str | None = None
    """Handle of the outermost reference."""
    hidden: Message | None = None
    """Why nobody sees what lies there, or None."""
    blocks: tuple[str, ...] = ()
    """Names of the blocks on the way, in lower case."""


def own_layer(entity: Any) -> str:
    """The layer an entity names.

    Args:
        entity: The entity.

    Returns:
        Its name; empty where it names none, as in old files and unknown kinds.
    """
    try:
        return clean_text(entity.dxf.layer) if entity.dxf.hasattr("layer") else ""
    except DXFAttributeError:
        return ""


def is_alive(entity: Any) -> bool:
    """Whether an entity still has data: the library takes that of bad ones while it reads.

    Args:
        entity: The entity.

    Returns:
        Whether it can be read.
    """
    return bool(entity.is_alive)


def _is_clipped(insert: Any) -> bool:
    """Whether a clip boundary hides a part of the reference; a damaged one hides nothing."""
    try:
        return bool(XClip(insert).is_clipping_enabled)
    except (AssertionError, *BAD_DATA):
        return False


def columns_rows(insert: Any) -> tuple[int, int]:
    """How often a reference is placed across and upward.

    Args:
        insert: The reference.

    Returns:
        (columns, rows), each at least 1.
    """
    return max(1, insert.dxf.get("column_count", 1)), max(1, insert.dxf.get("row_count", 1))


class Walker:
    """Yields every wanted entity of a document in its place; what can't be followed is reported."""

    def __init__(
        self,
        document: Document,
        states: Mapping[str, LayerState],
        wanted: Callable[[str], bool],
        collector: NoticeCollector,
        most: int,
    ) -> None:
        """A walker that has not gone anywhere yet.

        Args:
            document: The drawing.
            states: Its layers by lower-case name.
            wanted: Which layers to read.
            collector: Takes the notices.
            most: How many entities references may place: nested ones multiply.
        """
        self._document = document
        self._states = states
        self._is_wanted = wanted
        self._wanted: dict[str, bool] = {}
        self._collector = collector
        self._most = most
        self._holds: dict[str, tuple[bool, bool]] = {}
        self._sizes: dict[tuple[str, bool], int] = {}

    def walk(self, to_inches: float) -> Iterator[PlacedEntity]:
        """Every wanted entity of model space, block content included.

        Raises DrawingError where references multiply beyond measure.
        """
        try:
            self._refuse_endless()
        except RecursionError:
            raise DrawingError(message("blocks-too-deep")) from None
        place = _Place(Matrix44.scale(to_inches))
        return self._content(self._document.modelspace(), place)

    def walk_some(self, to_inches: float) -> Iterator[PlacedEntity]:
        """As ``walk``, but a reference beyond what the limit leaves stays unopened."""
        place, left = _Place(Matrix44.scale(to_inches)), self._most
        entities: Iterator[Any] = filter(is_alive, self._document.modelspace())
        for entity in entities:
            layer = own_layer(entity)
            size = self._size(entity, self.wanted(layer)) if entity.dxftype() == "INSERT" else 0
            if size <= left:
                left -= size
                yield from self._content((entity,), place)
            else:
                yield self._placed(entity, layer, place)
                yield from self._content(
                    entity.attribs,
                    replace(place, layer=layer, handle=str(entity.dxf.get("handle", ""))),
                )

    def _refuse_endless(self) -> None:
        placed = 0
        for entity in filter(is_alive, self._document.modelspace()):
            if entity.dxftype() != "INSERT":
                continue
            placed += self._size(entity, self.wanted(own_layer(entity)))
            if placed > self._most:
                raise DrawingError(
                    message(
                        "references-too-many",
                        most=self._most,
                        handle=str(entity.dxf.get("handle", "")),
                    )
                )

    def _size(self, insert: Any, is_wanted: bool) -> int:
        """The number of wanted entities that following a reference comes upon; ``is_wanted`` tells
        whether the layer that it shows on is."""
        name, places = insert.dxf.get("name", ""), math.prod(columns_rows(insert))
        fixed, inherited = self.holds(name)
        if places > self._most or not (fixed or (inherited and is_wanted)):
            return int(is_wanted)
        key = name.lower(), is_wanted
        if key not in self._sizes:
            self._sizes[key] = 0  # a block met again inside itself is not followed
            for entity in self._entities(name):
                own = own_layer(entity)
                shown = is_wanted if own in ("0", "") else self.wanted(own)
                self._sizes[key] += (
                    self._size(entity, shown) if entity.dxftype() == "INSERT" else shown
                )
        return 1 + places * self._sizes[key]

    def wanted(self, layer: str) -> bool:
        """Whether the layer is one of those to be read."""
        known = self._wanted.get(layer)
        if known is None:
            known = self._wanted[layer] = bool(layer) and self._is_wanted(layer)
        return known

    def _content(self, entities: Iterable[Any], place: _Place) -> Iterator[PlacedEntity]:
        for entity in filter(is_alive, entities):
            own = own_layer(entity)
            layer = place.layer if own in ("0", "") and place.layer is not None else own
            if entity.dxftype() == "INSERT":
                yield from self._reference(entity, layer, place)
            elif self.wanted(layer):
                yield self._placed(entity, layer, place)
            elif not layer and entity.dxftype() in READERS:
                self._collector.nameless(str(entity.dxftype()), str(entity.dxf.get("handle", "")))

    def _placed(self, entity: Any, layer: str, place: _Place) -> PlacedEntity:
        handle = place.handle or str(entity.dxf.get("handle", ""))
        return PlacedEntity(
            entity, layer, place.matrix, handle, place.hidden or self._why_hidden(entity, layer)
        )

    def _why_hidden(self, entity: Any, layer: str) -> Message | None:
        state = self._states.get(layer.lower())
        if state is not None and state.is_hidden:
            return message("layer-frozen") if state.is_frozen else message("layer-off")
        unseen = (entity.dxf.hasattr("invisible") and entity.dxf.invisible) or (
            entity.dxftype() == "ATTRIB" and entity.is_invisible
        )
        return message("entity-invisible") if unseen else None

    def _reference(self, insert: Any, layer: str, place: _Place) -> Iterator[PlacedEntity]:
        inside = replace(
            place, layer=layer, handle=place.handle or str(insert.dxf.get("handle", ""))
        )
        state = self._states.get(layer.lower())
        if state is not None and state.is_frozen and not inside.hidden:
            inside = replace(inside, hidden=message("reference-on-frozen", layer=state.name))
        elif insert.dxf.get("invisible", 0) and not inside.hidden:
            inside = replace(inside, hidden=message("reference-invisible"))
        yield from self._content(insert.attribs, replace(inside, matrix=place.matrix))
        name = insert.dxf.get("name", "")
        fixed, inherited = self.holds(name)
        if not fixed and not (inherited and self.wanted(layer)):
            if self.wanted(layer):
                yield self._placed(insert, layer, place)
            return
        if _is_clipped(insert):
            self._collector.clipped(clean_text(name), layer, inside.handle or "")
        try:
            for matrix in self._matrices(insert, name, inside):
                yield from self._content(
                    self._entities(name),
                    replace(inside, matrix=matrix, blocks=(*inside.blocks, name.lower())),
                )
        except EntityError as error:
            self._collector.add(
                "ENTITY_UNUSABLE",
                message("reference-left-out", block=clean_text(name), why=error.message),
                layer=layer,
                handle=inside.handle,
            )

    def _matrices(self, insert: Any, name: str, place: _Place) -> Iterator[Matrix44]:
        """The map of each row and column of a reference."""
        if name.lower() in place.blocks:
            raise EntityError(message("block-in-itself"))
        if len(place.blocks) >= BLOCKS_DEEPEST:
            raise EntityError(message("blocks-deeper", most=BLOCKS_DEEPEST))
        dxf = insert.dxf
        scales = tuple(dxf.get(k, 1.0) for k in ("xscale", "yscale", "zscale"))
        numbers = (*scales, dxf.get("rotation", 0.0), *Vec3(dxf.get("insert", (0, 0, 0))).xyz)
        if not all(map(math.isfinite, numbers)):
            raise EntityError(message("place-not-finite"))
        refuse_numbers(insert)
        if scales[0] == 0.0 or scales[1] == 0.0:
            raise EntityError(message("scale-zero"))
        columns, rows = columns_rows(insert)
        if columns * rows > self._most:
            raise EntityError(
                message("places-too-many", columns=columns, rows=rows, most=self._most)
            )
        base = self._base(name)
        before = Matrix44.translate(-base.x, -base.y, -base.z) * Matrix44.scale(*scales)
        after = Matrix44.z_rotate(math.radians(dxf.get("rotation", 0.0)))
        after = after * Matrix44.translate(*Vec3(dxf.get("insert", (0, 0, 0))).xyz)
        extrusion = Vec3(dxf.get("extrusion", (0, 0, 1)))
        if extrusion.x or extrusion.y or extrusion.z <= 0.0:
            after = after * OCS(extrusion).matrix
        after = after * place.matrix
        dx, dy = dxf.get("column_spacing", 0.0), dxf.get("row_spacing", 0.0)
        for row in range(rows):
            for column in range(columns):
                yield before * Matrix44.translate(column * dx, row * dy, 0.0) * after

    def _base(self, name: str) -> Vec3:
        block = self._document.blocks[name].block
        if block is None or not block.is_alive:
            raise EntityError(message("block-without-head"))
        return Vec3(block.dxf.get("base_point", (0, 0, 0)))

    def _entities(self, name: str) -> Iterable[Any]:
        return filter(is_alive, self._document.blocks[name])

    def holds(self, name: str) -> tuple[bool, bool]:
        """Whether a block holds content on a wanted layer, and whether content that takes its
        reference's layer, at any depth."""
        key = name.lower()
        if key in self._holds:
            return self._holds[key]
        self._holds[key] = (False, False)  # a block met again inside itself adds nothing
        if name not in self._document.blocks:
            return False, False
        fixed = inherited = False
        for entity in self._entities(name):
            layer = own_layer(entity)
            takes = layer in ("0", "")
            if entity.dxftype() == "INSERT":
                inner_fixed, inner_inherited = self.holds(entity.dxf.get("name", ""))
                tags = any(self.wanted(own_layer(a)) for a in filter(is_alive, entity.attribs))
                fixed |= (
                    inner_fixed or tags or (inner_inherited and not takes and self.wanted(layer))
                )
                inherited |= inner_inherited and takes
            else:
                fixed |= not takes and self.wanted(layer)
                inherited |= takes
        self._holds[key] = (fixed, inherited)
        return fixed, inherited
