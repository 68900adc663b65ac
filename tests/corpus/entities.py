"""The pen: turns shapes into DXF entities as an office's style and layer habit want them."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field, replace
from itertools import pairwise

from ezdxf.document import Drawing
from ezdxf.layouts import BaseLayout

from corpus.dimensioning import drawn_dimension, measured
from corpus.habits import GROUPS, Habit, color
from corpus.hatching import hatch_lines, pattern
from corpus.shapes import (
    Arc,
    Curve,
    Fill,
    Group,
    Measure,
    Note,
    Oval,
    Path,
    Point,
    Shape,
    arc_points,
    bulge_arc,
    dimension_line,
    edges,
    flat,
    opened,
)
from corpus.styles import Style
from corpus.words import Language

LOOSE_ROLES = {"wall", "opening", "sash", "roof", "fascia", "trim"}
"""Roles whose line ends a sloppy hand misses."""


@dataclass(frozen=True)
class Placement:
    """Where the origin of shapes lies on the sheet, and how much larger they are drawn (mm)."""

    dx: float = 0.0
    dy: float = 0.0
    scale: float = 1.0

    def at(self, p: Point) -> Point:
        return self.dx + self.scale * p[0], self.dy + self.scale * p[1]


@dataclass
class Pen:
    """Draws into one document. ``unit_mm`` is the length of a drawing unit in millimeters."""

    doc: Drawing
    style: Style
    habit: Habit
    language: Language
    unit_mm: float
    rng: random.Random
    blocks: dict[tuple[tuple[Shape, ...], float], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.old = self.doc.dxfversion == "AC1009"

    def layer(self, role: str) -> dict[str, str]:
        name = self.habit.of(role, self.language)
        if name not in self.doc.layers:
            self.doc.layers.add(name, color=color(GROUPS[role]))
        return {"layer": name}

    def draw(self, shapes: list[Shape], into: BaseLayout, place: Placement) -> None:
        """Draw all shapes, in their order."""
        for shape in shapes:
            getattr(self, f"_{type(shape).__name__.lower()}")(shape, into, place)

    def units(self, value: float) -> float:
        return round(value / self.unit_mm, 9)

    def to(self, p: Point, place: Placement) -> Point:
        x, y = place.at(p)
        return self.units(x), self.units(y)

    def _path(self, shape: Path, into: BaseLayout, place: Placement) -> None:
        if shape.role == "note" and len(shape.points) == 3 and self.style.leaders and not self.old:
            arrow = {"dimasz": self.units(60.0 * place.scale)}
            points = [self.to(p, place) for p in shape.points]
            into.add_leader(points, "EZDXF", override=arrow, dxfattribs=self.layer("note"))
            return
        kind = self._kind_of(shape)
        if kind in ("closed", "unflagged", "old"):
            self._polyline(shape, into, place, kind)
            return
        for a, b, bulge in edges(shape):
            if bulge:
                self._round(shape.role, *bulge_arc(a, b, bulge), into, place)
            else:
                self._line(shape, a, b, into, place)

    def _kind_of(self, shape: Path) -> str:
        """Entity for a path: outlines and frames as the style says, open strokes as lines."""
        kind = (
            self.style.frames if shape.role in ("opening", "sash", "trim") else self.style.outline
        )
        if len(shape.points) == 2 and not shape.closed:
            return "lines"
        if self.old and kind in ("closed", "unflagged"):
            return "old"
        return kind

    def _polyline(self, shape: Path, into: BaseLayout, place: Placement, kind: str) -> None:
        if self.style.arcs == "chords" and any(shape.bulges):
            shape = Path(shape.role, tuple(flat(shape)), False, (), shape.linetype)
        points = [self.to(p, place) for p in shape.points]
        bulges = list(shape.bulges) or [0.0] * len(points)
        bulges += [0.0] * (len(points) - len(bulges))
        close = shape.closed
        if close and kind == "unflagged":
            points, bulges, close = [*points, points[0]], [*bulges, 0.0], False
        attribs = self._attribs(shape)
        rows = [(x, y, b) for (x, y), b in zip(points, bulges, strict=True)]
        if kind == "old":
            entity = into.add_polyline2d(rows, format="xyb", close=close, dxfattribs=attribs)
        else:
            entity = into.add_lwpolyline(rows, format="xyb", close=close, dxfattribs=attribs)
        del entity

    def _attribs(self, shape: Shape) -> dict[str, str]:
        attribs = self.layer(shape.role)
        linetype = getattr(shape, "linetype", "")
        return {**attribs, "linetype": linetype} if linetype else attribs

    def _line(self, shape: Path, a: Point, b: Point, into: BaseLayout, place: Placement) -> None:
        if shape.role in LOOSE_ROLES:
            a, b = self._sloppy(a, b), self._sloppy(b, a)
        attribs = self._attribs(shape)
        pieces = [(a, b)]
        if shape.role in LOOSE_ROLES and self.rng.random() < self.style.split:
            t = self.rng.uniform(0.2, 0.8)
            middle = (a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t)
            pieces = [(a, middle), (middle, b)]
        if shape.role in LOOSE_ROLES and self.rng.random() < self.style.doubled:
            pieces.append((b, a))
        for start, end in pieces:
            ends = self.to(start, place), self.to(end, place)
            if self.style.depth:
                z = self.units(round(self.rng.uniform(0, self.style.depth)))
                ends = (*ends[0], z), (*ends[1], z)  # type: ignore[assignment]
            into.add_line(*ends, dxfattribs=attribs)

    def _sloppy(self, a: Point, b: Point) -> Point:
        """The end a of a line from b, missed or passed by the hand."""
        style, length = self.style, math.dist(a, b)
        if self.rng.random() >= style.sloppy or length < 8 * max(style.gap, style.overshoot):
            return a
        by = -style.gap * self.rng.random()
        if self.rng.random() < 0.5:
            by = style.overshoot * self.rng.random()
        return a[0] + (a[0] - b[0]) / length * by, a[1] + (a[1] - b[1]) / length * by

    def _round(
        self, role: str, center: Point, radius: float, start: float, end: float,
        into: BaseLayout, place: Placement,
    ) -> None:  # fmt: skip
        """An arc from start to end in radians, as the style draws arcs.

        As a spline it runs along the points of its chords, under 0.1 % of the radius beside them.
        """
        attribs, at = self.layer(role), self.to(center, place)
        size = self.units(radius * place.scale)
        low, high = min(start, end), max(start, end)
        points = [self.to(p, place) for p in arc_points(center, radius, low, high)]
        if self.style.arcs == "chords":
            for a, b in pairwise(points):
                into.add_line(a, b, dxfattribs=attribs)
        elif self.style.arcs == "spline" and not self.old:
            into.add_open_spline(points, degree=2, dxfattribs=attribs)
        elif self.style.arcs == "ellipse" and not self.old:
            into.add_ellipse(at, (size, 0), 1.0, low, high, dxfattribs=attribs)
        else:
            into.add_arc(at, size, math.degrees(low), math.degrees(high), dxfattribs=attribs)

    def _arc(self, shape: Arc, into: BaseLayout, place: Placement) -> None:
        if shape.end - shape.start >= 360:
            size = self.units(shape.radius * place.scale)
            into.add_circle(self.to(shape.center, place), size, dxfattribs=self._attribs(shape))
            return
        start, end = math.radians(shape.start), math.radians(shape.end)
        self._round(shape.role, shape.center, shape.radius, start, end, into, place)

    def _curve(self, shape: Curve, into: BaseLayout, place: Placement) -> None:
        points = [self.to(p, place) for p in shape.points]
        if self.old or len(points) < 4:
            into.add_polyline2d(points, dxfattribs=self.layer(shape.role))
        else:
            into.add_open_spline(points, degree=3, dxfattribs=self.layer(shape.role))

    def _oval(self, shape: Oval, into: BaseLayout, place: Placement) -> None:
        if self.old:
            points = [self.to(p, place) for p in flat(shape)]
            into.add_polyline2d(points, close=True, dxfattribs=self.layer(shape.role))
            return
        rx, ry = (self.units(r * place.scale) for r in (shape.rx, shape.ry))
        major, ratio = ((rx, 0), ry / rx) if rx >= ry else ((0, ry), rx / ry)
        into.add_ellipse(
            self.to(shape.center, place), major, ratio, dxfattribs=self.layer(shape.role)
        )

    def _note(self, shape: Note, into: BaseLayout, place: Placement) -> None:
        attribs = self.layer(shape.role)
        height, at = self.units(shape.height * place.scale), self.to(shape.at, place)
        if self.style.texts == "mtext" and not self.old:
            formatted = self.style.leaders and shape.role == "title" and len(shape.text) > 2
            into.add_mtext(
                f"{{\\fArial|b1|i0;\\L{shape.text}\\l}}" if formatted else shape.text,
                {**attribs, "char_height": height, "insert": at, "attachment_point": 7,
                 "rotation": shape.rotation},
            )  # fmt: skip
        else:
            into.add_text(
                shape.text, height=height, rotation=shape.rotation, dxfattribs=attribs
            ).set_placement(at)

    def _fill(self, shape: Fill, into: BaseLayout, place: Placement) -> None:
        if self.style.hatches == "none":
            return
        if self.old or self.style.hatches == "lines":
            for a, b in hatch_lines(shape):
                into.add_line(
                    self.to(a, place), self.to(b, place), dxfattribs=self.layer(shape.role)
                )
            return
        hatch = into.add_hatch(color=8, dxfattribs=self.layer(shape.role))
        if shape.pattern != "SOLID":
            definition = pattern(shape.pattern, self.units(shape.spacing * place.scale))
            hatch.set_pattern_fill(shape.pattern, scale=1.0, definition=definition)
        for ring in (shape.outline, *shape.holes):
            hatch.paths.add_polyline_path([self.to(p, place) for p in ring], is_closed=True)

    def _measure(self, shape: Measure, into: BaseLayout, place: Placement) -> None:
        text = measured(math.dist(shape.a, shape.b), self.unit_mm)
        if self.style.dims == "none":
            return
        if self.old or self.style.dims == "exploded":
            self.draw(drawn_dimension(shape, text), into, place)
            return
        a, b = sorted((self.to(shape.a, place), self.to(shape.b, place)))
        height = self.units(shape.height * place.scale)
        sizes = {name: height for name in ("dimtxt", "dimasz", "dimexe", "dimexo")}
        dimension = into.add_linear_dim(
            self.to(dimension_line(shape)[0], place), a, b, text=text, override=sizes,
            angle=0.0 if abs(b[0] - a[0]) > abs(b[1] - a[1]) else 90.0,
            dxfattribs=self.layer(shape.role),
        )  # fmt: skip
        dimension.render()

    def _group(self, shape: Group, into: BaseLayout, place: Placement) -> None:
        if self.style.blocks == "none" and not (self.style.attributes and _values(shape)):
            self.draw(opened(shape), into, place)
            return
        values = _values(shape) if self.style.attributes else []
        inner = tuple(s for s in shape.shapes if s not in values)
        pen = replace(self, unit_mm=1.0) if self.style.scaled else self
        size = pen.unit_mm / self.unit_mm
        name = self._block(shape, inner, pen, place)
        scales = {"xscale": -size if shape.mirrored else size, "yscale": size, "zscale": size}
        at = self.to(shape.at, place)
        reference = into.add_blockref(name, at, dxfattribs={**self.layer(shape.role), **scales})
        for note in values:
            spot = self.to((shape.at[0] + note.at[0], shape.at[1] + note.at[1]), place)
            height = self.units(note.height * place.scale)
            attribs = {**self.layer(note.role), "height": height}
            reference.add_attrib(note.tag, note.text, spot, dxfattribs=attribs)

    def _block(self, shape: Group, inner: tuple[Shape, ...], pen: Pen, place: Placement) -> str:
        """The name of the block that holds the shapes, made when they are first needed."""
        key = (inner, place.scale)
        if key in self.blocks:
            return self.blocks[key]
        name, count = shape.name, 1
        while name in self.doc.blocks:
            count += 1
            name = f"{shape.name}-{count}"
        block = self.doc.blocks.new(name)
        self.blocks[key] = name
        if self.style.blocks == "nested" and len(inner) > 2 and shape.role == "opening":
            leaf = Group(shape.role + "", f"{name}-leaf", (0.0, 0.0), inner[1:])
            inner = (inner[0], replace(leaf, role="sash"))
        pen.draw(list(inner), block, Placement(scale=place.scale))
        return name

    def draw_view(self, name: str, shapes: list[Shape], into: BaseLayout, place: Placement) -> None:
        """Draw a view, as one block where the style keeps views as blocks."""
        if self.style.blocks != "view":
            self.draw(shapes, into, place)
            return
        block = self.doc.blocks.new(name)
        self.draw(shapes, block, Placement(scale=place.scale))
        at = self.units(place.dx), self.units(place.dy)
        into.add_blockref(name, at, dxfattribs=self.layer("wall"))


def _values(shape: Group) -> list[Note]:
    """The notes of a group that differ from one place to the next."""
    return [s for s in shape.shapes if isinstance(s, Note) and s.tag]
