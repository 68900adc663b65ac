"""Writes recorded primitives as DXF entities, in the office's manner."""

from __future__ import annotations

from itertools import pairwise
from random import Random
from typing import Any

import ezdxf
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment as Align
from ezdxf.math import fit_points_to_cad_cv
from ezdxf.sections.classes import CLASS_DEFINITIONS

from .geom import Point, parts
from .office import Office
from .page import Blank, Dim, Leader, Mark, Page, Text
from .scene import Fill, Item, Stroke
from .words import ROLES

PAPER_PATTERNS = ("ANSI31", "ANSI37", "EARTH", "DOTS")
ALIGN = {"left": Align.LEFT, "center": Align.MIDDLE_CENTER, "right": Align.RIGHT}


def length(office: Office, metres: float) -> str:
    """A length as written on the drawing."""
    if office.imperial:
        inches = round(metres / 0.0254)
        sign = "-" if inches < 0 else ""
        return f"{sign}{abs(inches) // 12}'-{abs(inches) % 12}\""
    if office.unit == "mm":
        return f"{metres * 1000:.0f}"
    return f"{metres:.2f}" if office.unit == "m" else f"{metres * 100:.0f}"


def new_document(office: Office) -> Drawing:
    """An empty drawing with the office's layers, units and styles."""
    doc = ezdxf.new(office.version, setup=["linetypes"])
    doc.header["$LTSCALE"] = 0.35 * office.factor
    if doc.dxfversion != "AC1009":
        doc.header["$MEASUREMENT"] = 0 if office.imperial else 1
        if office.insunits is None:
            del doc.header["$INSUNITS"]
        else:
            doc.header["$INSUNITS"] = office.insunits
    for i, role in enumerate(ROLES):
        name = office.layers[role]
        if name not in doc.layers:
            layer = doc.layers.add(
                name, color=(7, 8, 30, 31, 140, 4, 3, 9, 2, 1, 7, 82, 6, 7, 252, 5, 7, 8, 9)[i]
            )
            if role == "hidden":
                layer.dxf.linetype = "DASHED"
    style = doc.dimstyles.duplicate_entry("Standard", "OFFICE")
    size = office.text(2.0) * office.factor
    style.dxf.dimtxt, style.dxf.dimexe, style.dxf.dimexo = size, size * 0.6, size * 0.6
    style.dxf.dimgap = size * 0.4
    style.dxf.dimtsz = size * 0.6 if not office.imperial or office.scale == 48 else 0
    style.dxf.dimasz = size
    style.dxf.dimtad = 1
    if doc.dxfversion != "AC1009":
        for name in sorted(CLASS_DEFINITIONS):
            doc.classes.add_class(name)
    return doc


class Emitter:
    """Puts pages into a layout of the drawing."""

    def __init__(self, doc: Drawing, office: Office, rng: Random) -> None:
        """Write into the document with the office's habits."""
        self.doc, self.office, self.rng = doc, office, rng
        self.r12 = doc.dxfversion == "AC1009"
        self.layout: Any = doc.modelspace()
        self.dx = self.dy = 0.0

    def page(self, page: Page, layout: Any, dx: float, dy: float) -> None:
        """Write a page shifted by dx, dy metres."""
        self.layout, self.dx, self.dy = layout, dx, dy
        for p in page.prims:
            if isinstance(p, Item):
                self._block(p)
            else:
                self._prim(p)

    def _prim(self, p: Any) -> None:
        match p:
            case Stroke():
                self._stroke(p)
            case Fill():
                self._fill(p)
            case Text():
                self._text(p)
            case Dim():
                self._dim(p)
            case Leader():
                self._leader(p)
            case Mark():
                self._mark(p)
            case Blank():
                if not self.r12:
                    self.layout.add_wipeout(
                        [self._at(q) for q in p.pts], {"layer": self.office.layers["text"]}
                    )

    def _at(self, p: Point) -> Point:
        k = self.office.factor
        return round((p[0] + self.dx) * k, 6), round((p[1] + self.dy) * k, 6)

    def _attribs(self, role: str, dashed: bool = False) -> dict[str, Any]:
        out: dict[str, Any] = {"layer": self.office.layers[role]}
        if dashed and (role != "hidden" or self.office.layers[role] == "0"):
            out["linetype"] = "DASHED"
        return out

    def _stroke(self, s: Stroke) -> None:
        attribs = self._attribs(s.role, s.dashed)
        if s.arc is not None and len(s.pts) > 3:
            self._arc(s, attribs)
            return
        pts = [self._at(p) for p in s.pts]
        kind = self.office.entity
        if kind == "mixed":
            kind = self.rng.choice(("lines", "lw", "poly"))
        if s.role in ("hatch", "roofhatch") and len(pts) > 3:
            kind = "lw"
        if kind == "lw" and self.r12:
            kind = "poly"
        if len(pts) == 2 or kind == "lines":
            ends = [*pts, pts[0]] if s.closed else pts
            for a, b in pairwise(ends):
                if a != b:
                    self._line(a, b, s.role, attribs)
        elif kind == "lw":
            self.layout.add_lwpolyline(pts, close=s.closed, dxfattribs=attribs)
        else:
            self.layout.add_polyline2d(pts, close=s.closed, dxfattribs=attribs)

    def _line(self, a: Point, b: Point, role: str, attribs: dict[str, Any]) -> None:
        slop = self.office.slop * self.office.factor
        if slop and role in ("wall", "back", "roof", "trim", "ground"):
            span = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
            if span > 20 * slop:
                u, v = self.rng.uniform(-slop, slop) / span, self.rng.uniform(-slop, slop) / span
                a, b = (
                    (a[0] + u * (b[0] - a[0]), a[1] + u * (b[1] - a[1])),
                    (b[0] + v * (b[0] - a[0]), b[1] + v * (b[1] - a[1])),
                )
        self.layout.add_line(a, b, dxfattribs=attribs)
        if self.office.twice and role in ("wall", "roof") and self.rng.random() < 0.15:
            self.layout.add_line(b, a, dxfattribs=attribs)

    def _arc(self, s: Stroke, attribs: dict[str, Any]) -> None:
        assert s.arc is not None
        cx, cy, r, a0, a1 = s.arc
        centre, radius = self._at((cx, cy)), r * self.office.factor
        if s.role == "plant" and self.office.splines and not self.r12 and not s.closed:
            curve = fit_points_to_cad_cv([(*self._at(p), 0.0) for p in s.pts[::3]])
            self.layout.add_spline(dxfattribs=attribs).apply_construction_tool(curve)
        elif abs(a1 - a0) >= 360:
            self.layout.add_circle(centre, radius, dxfattribs=attribs)
        else:
            self.layout.add_arc(centre, radius, a0, a1, dxfattribs=attribs)

    def _fill(self, f: Fill) -> None:
        if self.r12:
            return
        k = self.office.factor
        polys = parts(f.area, 0.003)
        if not polys:
            return
        hatch = self.layout.add_hatch(color=256, dxfattribs=self._attribs(f.role))
        if f.pattern == "SOLID":
            hatch.set_solid_fill(color=9)
        else:
            mm = self.office.text(1.0) if f.pattern in PAPER_PATTERNS else 0.001
            mm *= 25.4 if self.office.imperial else 1.0  # patterns are kept in inches then
            hatch.set_pattern_fill(f.pattern, scale=f.size * mm * k, angle=f.angle)
        for p in polys:
            hatch.paths.add_polyline_path(
                [self._at((x, y)) for x, y in p.exterior.coords[:-1]], is_closed=True, flags=1
            )
            for hole in p.interiors:
                hatch.paths.add_polyline_path(
                    [self._at((x, y)) for x, y in hole.coords[:-1]], is_closed=True, flags=16
                )

    def _text(self, t: Text) -> None:
        height = t.h * self.office.factor
        attribs = {**self._attribs(t.role), "height": height, "rotation": t.angle}
        if t.rich and not self.r12:
            attribs.pop("height")
            attribs["char_height"] = height
            corner = {"left": 7, "center": 5, "right": 9}[t.align]
            m = self.layout.add_mtext(t.s, {**attribs, "attachment_point": corner})
            m.set_location(self._at((t.x, t.y)))
            return
        self.layout.add_text(t.s, dxfattribs=attribs).set_placement(
            self._at((t.x, t.y)), align=ALIGN[t.align]
        )

    def _dim(self, d: Dim) -> None:
        office = self.office
        value = abs(d.b[1] - d.a[1]) if d.upright else abs(d.b[0] - d.a[0])
        words = length(office, value)
        if office.real_dims:
            self.layout.add_linear_dim(
                base=self._at(d.at),
                p1=self._at(d.a),
                p2=self._at(d.b),
                angle=90 if d.upright else 0,
                dimstyle="OFFICE",
                text=words,
                dxfattribs=self._attribs("dim"),
            ).render()
            return
        if d.upright:
            a, b = (d.at[0], d.a[1]), (d.at[0], d.b[1])
        else:
            a, b = (d.a[0], d.at[1]), (d.b[0], d.at[1])
        t = office.text(1.0)
        attribs = self._attribs("dim")
        self.layout.add_line(self._at(a), self._at(b), dxfattribs=attribs)
        for x, y in (a, b):
            self.layout.add_line(
                self._at((x - t, y - t)), self._at((x + t, y + t)), dxfattribs=attribs
            )
        mid = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        spot = (mid[0] - 1.6 * t, mid[1]) if d.upright else (mid[0], mid[1] + 1.6 * t)
        self._text(
            Text(*spot, words, office.text(2.0), "dim", "center", 90.0 if d.upright else 0.0)
        )

    def _leader(self, p: Leader) -> None:
        attribs = self._attribs("text")
        pts = [self._at(q) for q in p.pts]
        if self.office.real_dims and not self.r12:
            self.layout.add_leader(pts, dimstyle="OFFICE", dxfattribs=attribs)
            return
        for a, b in pairwise(pts):
            self.layout.add_line(a, b, dxfattribs=attribs)
        self.layout.add_circle(
            pts[0], self.office.text(0.5) * self.office.factor, dxfattribs=attribs
        )

    def _mark(self, m: Mark) -> None:
        k = self.office.factor
        name = f"{m.name}_{m.h:.3f}"
        if name not in self.doc.blocks:
            block = self.doc.blocks.new(name)
            self._into(block, m.strokes)
            block.add_attdef(
                m.tag, (m.dx * k, m.dy * k), "", height=m.h * k, dxfattribs=self._attribs("text")
            )
        ref = self.layout.add_blockref(name, self._at((m.x, m.y)), dxfattribs=self._attribs("text"))
        ref.add_auto_attribs({m.tag: m.value})

    def _into(self, block: Any, strokes: list[Stroke], unit: float = 0.0) -> None:
        """Draw strokes into a block about its origin."""
        keep = self.layout, self.dx, self.dy, self.office.slop, self.office.factor
        self.layout, self.dx, self.dy, self.office.slop = block, 0.0, 0.0, 0.0
        if unit:
            self.office.factor = unit
        for s in strokes:
            self._stroke(s)
        self.layout, self.dx, self.dy, self.office.slop, self.office.factor = keep

    def _block(self, item: Item) -> None:
        office = self.office
        if not office.use_blocks:
            for s in item.strokes:
                self._stroke(s)
            return
        name = item.block.replace(" ", "_").replace(".", "-").upper()
        unit = 1000.0 if office.scaled else 0.0
        if name not in self.doc.blocks:
            block = self.doc.blocks.new(name)
            if office.nested and len(item.local) > 2:
                inner = self.doc.blocks.new(name + "_IN")
                self._into(inner, item.local[1:], unit)
                self._into(block, item.local[:1], unit)
                block.add_blockref(inner.name, (0, 0), {"layer": "0"})
            else:
                self._into(block, item.local, unit)
        scale = office.factor / unit if unit else 1.0
        role = "door" if item.opening in ("door", "garage") else "window"
        self.layout.add_blockref(
            name,
            self._at(item.origin),
            {
                "layer": office.layers[role],
                "xscale": -scale if item.mirror else scale,
                "yscale": scale,
                "zscale": scale,
            },
        )
