"""The pen: draws in inches into a drawing of any unit and version, and tags what it draws."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace

import shapely
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Layout
from ezdxf.lldxf.const import BOUNDARY_PATH_EXTERNAL, BOUNDARY_PATH_OUTERMOST, BYLAYER, DXF12

from dxf2veneer.drawing.entities.ours import APPID, LAYER_TAG, STRING_TAG, own_tags
from dxf2veneer.geometry import Path, Point
from dxf2veneer.textio.escaping import for_dxf, for_xdata
from dxf2veneer.writers.overlay.layers import (
    LAYERS,
    LINETYPES,
    EntityTags,
    Key,
    Look,
    layer_names,
)
from dxf2veneer.writers.texts import Box, Line

_ALIGN = {
    "left": TextEntityAlignment.MIDDLE_LEFT,
    "middle": TextEntityAlignment.MIDDLE_CENTER,
    "right": TextEntityAlignment.MIDDLE_RIGHT,
}
_FONT = "txt"
_MOST_STROKES = 24
_PATTERN = [[45.0, (0.0, 0.0), (-1.0, 1.0), []]]
_PATTERN_PITCH = math.sqrt(2.0)
"""Distance of the pattern's lines at scale 1, here and where a program goes by the name alone
(LibreCAD 2.2)."""
_PATTERN_SHARE = 0.35
"""Distance of a hatch's lines, in course heights."""


class Pen:
    """Draws on our layers of one document. Places and heights are inches."""

    def __init__(
        self,
        doc: Document,
        *,
        prefix: str,
        inches_per_unit: float,
        course_in: float,
        with_source: bool = True,
        looks: Mapping[Key, Look] = LAYERS,
    ) -> None:
        """A pen for ``doc``, in which it makes our layers; linetypes are sized after the course's
        height.

        Without ``with_source`` no entity names the one that it shows, because handles have changed.
        ``looks`` are the layers that can be drawn on.
        """
        self.used: set[Key] = set()
        """The layers drawn on."""
        self._doc = doc
        self._space: Layout = doc.modelspace()
        self._is_sample = False
        self._is_r12 = doc.dxfversion <= DXF12
        self._inches = inches_per_unit
        self._course = course_in
        self._with_source = with_source
        self._drawn: set[tuple[object, ...]] = set()
        self._names = layer_names(prefix, looks)
        self._shift = (0.0, 0.0)
        _make_tables(doc, self._names, looks, course=course_in / inches_per_unit)

    def line(self, layer: Key, start: Point, end: Point, tags: EntityTags) -> None:
        """A straight line; one that the layer has already is not drawn again."""
        if self._is_new(layer, frozenset((start, end))):
            self._tag(self._space.add_line(self._at(start), self._at(end), self._on(layer)), tags)

    def path(self, layer: Key, path: Path, tags: EntityTags) -> None:
        """A polyline whose arcs stay arcs; one that the layer has already is not drawn again."""
        if not self._is_new(layer, path):
            return
        vertices = [(*self._at((x, y)), bulge) for x, y, bulge in path.vertices]
        add = self._space.add_polyline2d if self._is_r12 else self._space.add_lwpolyline
        self._tag(add(vertices, format="xyb", close=path.closed, dxfattribs=self._on(layer)), tags)

    def text(self, layer: Key, line: Line, tags: EntityTags) -> None:
        """One line of text."""
        entity = self._space.add_text(
            for_dxf(line.text),
            height=line.height / self._inches,
            dxfattribs=self._on(layer) | {"style": APPID, "width": line.narrow},
        )
        entity.set_placement(self._at((line.x, line.y)), align=_ALIGN[line.align])
        self._tag(entity, tags)

    def seal(self, seal: str) -> None:
        """Note a seal in the drawing: on the title's layer, which is always there."""
        self._doc.layers.get(self._names["title"]).set_xdata(APPID, [(STRING_TAG, seal)])

    def fill(self, layer: Key, box: Box, tags: EntityTags) -> None:
        """A filled rectangle with its outline: a solid hatch, or strokes where R12 has none."""
        x0, y0, x1, y1 = box
        self.path(layer, Path.box_of(x0, y0, x1, y1), tags)
        if self._is_r12:
            count = max(2, min(_MOST_STROKES, round((x1 - x0) / (y1 - y0))))
            pitch = (x1 - x0) / count
            for n in range(count):
                self.line(layer, (x0 + n * pitch, y0), (x0 + (n + 1) * pitch, y1), tags)
            return
        on = self._on(layer)
        hatch = self._space.add_hatch(color=int(on.get("color", BYLAYER)), dxfattribs=on)
        hatch.paths.add_polyline_path(
            [self._at(p) for p in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))], is_closed=True
        )
        self._tag(hatch, tags)

    def hatch(
        self,
        layer: Key,
        rings: Sequence[Sequence[Point]],
        tags: EntityTags,
        *,
        closer: float = 1.0,
        falls: bool = False,
    ) -> None:
        """Slanted lines across the first ring less the others: a hatch, or lines where R12 has
        none; so many times closer than usual, and from left to right they rise or fall."""
        pitch = _PATTERN_SHARE * self._course / closer
        if self._is_r12:
            for start, end in _falling(rings, pitch) if falls else _slanted(rings, pitch):
                self.line(layer, start, end, tags)
            return
        on = self._on(layer)
        color = int(on.get("color", BYLAYER))
        hatch = self._space.add_hatch(color=color, dxfattribs=on)
        hatch.set_pattern_fill(
            "ANSI31",
            color=color,
            angle=90.0 if falls else 0.0,
            scale=pitch / self._inches / _PATTERN_PITCH,
            definition=_PATTERN,
        )
        for number, ring in enumerate(rings):
            flags = BOUNDARY_PATH_OUTERMOST if number else BOUNDARY_PATH_EXTERNAL
            hatch.paths.add_polyline_path([self._at(p) for p in ring], is_closed=True, flags=flags)
        self._tag(hatch, tags)

    def _is_new(self, layer: Key, what: object) -> bool:
        """Whether the layer has nothing in this very place yet."""
        key = (layer, what, self._is_sample, self._shift)
        if key in self._drawn:
            return False
        self._drawn.add(key)
        return True

    def _at(self, point: Point) -> Point:
        (x, y), (dx, dy) = point, self._shift
        return (x + dx) / self._inches, (y + dy) / self._inches

    def units(self, lengths: Point) -> Point:
        """Two lengths in the unit of the drawing, such as a place or a width and a height."""
        return lengths[0] / self._inches, lengths[1] / self._inches

    @contextmanager
    def moved(self, dx: float, dy: float) -> Iterator[None]:
        """What is drawn meanwhile stands elsewhere, by so many inches."""
        before, self._shift = self._shift, (dx, dy)
        yield
        self._shift = before

    @contextmanager
    def on_paper(self, layout: Layout) -> Iterator[None]:
        """What is drawn meanwhile stands on a layout, in inches from its lower left corner."""
        before = self._space, self._drawn
        self._space, self._drawn = layout, set()
        yield
        self._space, self._drawn = before

    @contextmanager
    def samples(self) -> Iterator[None]:
        """What is drawn meanwhile lies on the legend's layer and only looks like its own, so that
        nothing but the takeoff is on the others."""
        self._is_sample = True
        yield
        self._is_sample = False

    def _on(self, layer: Key) -> dict[str, str | int]:
        """Where an entity lies: by layer, or for a sample with the look that the layer has in this
        drawing."""
        if not self._is_sample:
            self.used.add(layer)
            return {"layer": self._names[layer]}
        look = self._doc.layers.get(self._names[layer])
        weight = {} if self._is_r12 else {"lineweight": look.dxf.lineweight}
        return {
            "layer": self._names["legend"],
            "color": look.color,
            "linetype": look.dxf.linetype,
        } | weight

    def _tag(self, entity: DXFGraphic, tags: EntityTags) -> None:
        shown = tags if self._with_source else replace(tags, source=None)
        strings = [(STRING_TAG, for_xdata(s)) for s in shown.strings()]
        entity.set_xdata(APPID, [*strings, (LAYER_TAG, entity.dxf.layer)])


def _slanted(rings: Sequence[Sequence[Point]], pitch: float) -> list[tuple[Point, Point]]:
    """Lines at 45 degrees, ``pitch`` apart, that lie in the first ring and in none of the
    others."""
    ground = shapely.Polygon(rings[0], rings[1:])
    x0, y0, x1, y1 = ground.bounds
    step = pitch * math.sqrt(2.0)
    first, last = math.floor((x0 - y1) / step) + 1, math.ceil((x1 - y0) / step)
    rays = [
        shapely.LineString([(n * step + y0, y0), (n * step + y1, y1)]) for n in range(first, last)
    ]
    cut = shapely.get_parts(shapely.intersection(ground, rays)) if rays else []
    lines = [line.coords for line in cut if line.geom_type == "LineString" and not line.is_empty]
    return [((a[0], a[1]), (b[0], b[1])) for a, b in lines]


def _falling(rings: Sequence[Sequence[Point]], pitch: float) -> list[tuple[Point, Point]]:
    """The same the other way round."""
    mirrored = [[(-x, y) for x, y in ring] for ring in rings]
    return [((-a[0], a[1]), (-b[0], b[1])) for a, b in _slanted(mirrored, pitch)]


def tags_of(entity: DXFEntity) -> dict[str, str]:
    """The tags of an overlay entity by key; empty for an entity that is not ours.

    Args:
        entity: The entity.

    Returns:
        The tags by key; empty for an entity that is not ours.
    """
    tags: dict[str, str] = {}
    strings = (tag.value for tag in own_tags(entity) if tag.code == STRING_TAG)
    for key, _, value in (text.partition("=") for text in strings):
        tags[key] = f"{tags[key]},{value}" if key in tags else value
    return tags


def remove_overlay(doc: Document) -> int:
    """Take an earlier overlay out of a drawing.

    Args:
        doc: The drawing in memory.

    Returns:
        How many entities were removed.
    """
    space = doc.modelspace()
    old = [e for e in space if tags_of(e)]
    for entity in old:
        space.delete_entity(entity)
    return len(old)


def _make_tables(
    doc: Document, names: Mapping[Key, str], looks: Mapping[Key, Look], *, course: float
) -> None:
    """Our appid, text style, linetypes and layers; a layer that is there keeps the user's look."""
    if APPID not in doc.appids:
        doc.appids.add(APPID)
    if APPID not in doc.styles:
        doc.styles.add(APPID, font=_FONT)
    unit = course / (doc.header.get("$LTSCALE", 1.0) or 1.0)
    for name, pattern in LINETYPES.items():
        if name in doc.linetypes:
            doc.linetypes.remove(name)
        scaled = [length * unit for length in pattern]
        doc.linetypes.add(name, [sum(map(abs, scaled)), *scaled], description=_drawn(pattern))
    for key, name in names.items():
        if name not in doc.layers:
            look = looks[key]
            doc.layers.add(
                name, color=look.color, linetype=look.linetype, lineweight=look.lineweight
            )


def _drawn(pattern: Iterable[float]) -> str:
    """A linetype's description: its pattern in characters."""
    return "".join(" " if length < 0 else "." if length <= 0.1 else "__" for length in pattern) * 4
