"""Drafting styles and a language that only kept-aside seeds use: nobody who tunes reads this."""

from __future__ import annotations

import math
import random

from ezdxf.document import Drawing
from ezdxf.entities import DXFGraphic, LWPolyline
from ezdxf.math import Matrix44, Vec3

from corpus.styles import Style
from corpus.words import Language

STYLES: list[Style] = [
    Style("strange-chords", "lines", "old", arcs="chords", blocks="openings", gap=4.0, sloppy=0.2,
          doubled=0.5, texts="mtext", hatches="lines", weight=5),
    Style("strange-mixed", "old", "unflagged", arcs="ellipse", blocks="nested", overshoot=60.0,
          sloppy=0.15, base=True, dims="entity", weight=5),
    Style("strange-pairs", split=0.2, doubled=0.05, texts="mtext", dims="entity", weight=5),
    Style("strange-turned", "closed", "lines", arcs="ellipse", open_base=True, weight=5),
    Style("strange-flipped", "lines", "closed", blocks="openings", scaled=True, base=True,
          weight=5),
]  # fmt: skip
TURN = 90.0
"""Degrees by which the block of a turned drawing is drawn otherwise than it stands."""


def disturb(rng: random.Random, doc: Drawing, style: str) -> None:
    """What some programs do to everything when they write a drawing."""
    if style == "strange-pairs":
        _pairs(doc)
    elif style == "strange-turned":
        _turned(doc)
    elif style == "strange-flipped":
        _flipped(rng, doc)


def _pairs(doc: Drawing) -> None:
    """Every line is a polyline of two points."""
    space = doc.modelspace()
    for line in list(space.query("LINE")):
        attribs = {"layer": line.dxf.layer, "linetype": line.dxf.linetype}
        ends = [Vec3(line.dxf.start).vec2, Vec3(line.dxf.end).vec2]
        if doc.dxfversion == "AC1009":
            space.add_polyline2d(ends, dxfattribs=attribs)
        else:
            space.add_lwpolyline(ends, dxfattribs=attribs)
        space.delete_entity(line)


def _turned(doc: Drawing) -> None:
    """All lines lie in a block that is drawn sideways and ten times as large."""
    space = doc.modelspace()
    block = doc.blocks.new("ALL")
    there = Matrix44.chain(Matrix44.z_rotate(math.radians(-TURN)), Matrix44.scale(10, 10, 10))
    for entity in list(space.query("LINE LWPOLYLINE POLYLINE ARC CIRCLE ELLIPSE")):
        moved: DXFGraphic = entity
        space.unlink_entity(moved)
        moved.transform(there)
        block.add_entity(moved)
    scales = {"xscale": 0.1, "yscale": 0.1, "zscale": 0.1, "rotation": TURN}
    space.add_blockref("ALL", (0, 0), dxfattribs=scales)


def _flipped(rng: random.Random, doc: Drawing) -> None:
    """Half of the arcs, circles and polylines are seen from behind: their normal is -z.

    Their x axis then runs the other way (arbitrary axis algorithm, DXF reference).
    """
    for entity in list(doc.modelspace().query("LWPOLYLINE ARC CIRCLE")):
        if rng.random() < 0.5:
            continue
        entity.dxf.extrusion = (0, 0, -1)
        if isinstance(entity, LWPolyline):
            points = [(-x, y, -bulge) for x, y, bulge in entity.get_points("xyb")]
            entity.set_points(points, format="xyb")
            continue
        center = Vec3(entity.dxf.center)
        entity.dxf.center = (-center.x, center.y, 0)
        if entity.dxftype() == "ARC":
            start, end = entity.dxf.start_angle, entity.dxf.end_angle
            entity.dxf.start_angle, entity.dxf.end_angle = 180 - end, 180 - start


LANGUAGES: list[Language] = [
    Language(
        "it",
        ("PROSPETTO NORD", "PROSPETTO SUD", "Prospetto principale", "Prospetto est",
         "Fronte strada"),
        ("PIANTA PIANO TERRA", "Pianta piano primo"),
        ("SEZIONE A-A", "Sezione trasversale"),
        ("PARTICOLARE 1", "Particolare gronda"),
        ("Pianta copertura", "COPERTURA"),
        ("Planimetria generale", "Lotto"),
        "scala {}",
        ("Soggiorno", "Cucina", "Camera", "Bagno", "Ingresso", "Autorimessa"),
        ("Verificare le misure in cantiere", "Pietra naturale", "Vedi particolare", "Intonaco"),
        "LEGENDA", ("Progetto", "Committente", "Data", "Disegnato", "Tavola"),
        {"wall": "Murature", "opening": "Infissi", "sash": "Vetri", "roof": "Copertura",
         "texture": "Rivestimento", "ground": "Terreno", "dim": "Quote", "note": "Testi",
         "level": "Livelli", "grid": "Assi", "plant": "Alberi", "frame": "Squadratura",
         "plan": "Tramezzi", "hatch": "Campiture", "all": "Prospetti", "hidden": "Esistente"},
    )
]  # fmt: skip
