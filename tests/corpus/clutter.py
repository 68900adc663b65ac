"""What lies about in working drawings: points, empty lines, construction lines, odd references."""

from __future__ import annotations

import random

from ezdxf.document import Drawing

from corpus.arrangement import Placed, extent
from corpus.entities import Pen


def clutter(rng: random.Random, doc: Drawing, pen: Pen, placed: Placed) -> set[str]:
    """Leaves some about; returns tags for what it left."""
    tags: set[str] = set()
    if rng.random() < 0.3:
        _points_and_specks(rng, doc, pen, placed)
        tags.add("specks")
    if rng.random() < 0.06 and not pen.old:
        _construction_lines(rng, doc, pen, placed)
        tags.add("construction-lines")
    if rng.random() < 0.45 and _flattened_references(doc):
        tags.add("z-scale-0")
    return tags


def _points_and_specks(rng: random.Random, doc: Drawing, pen: Pen, placed: Placed) -> None:
    """Points and lines without length, on corners of views and anywhere."""
    space, attribs = doc.modelspace(), pen.layer("other")
    for view, place in placed:
        x0, y0, x1, y1 = view.box
        for _ in range(rng.randint(0, 4)):
            spot = rng.uniform(x0, x1) + place.dx, rng.uniform(y0, y1) + place.dy
            at = pen.units(spot[0]), pen.units(spot[1])
            if rng.random() < 0.5:
                space.add_point(at, dxfattribs=attribs)
            else:
                space.add_line(
                    at, (at[0] + pen.units(rng.choice([0.0, 0.4])), at[1]), dxfattribs=attribs
                )


def _construction_lines(rng: random.Random, doc: Drawing, pen: Pen, placed: Placed) -> None:
    """Endless lines that someone aligned views with."""
    space, attribs = doc.modelspace(), pen.layer("other")
    x0, y0, _, _ = extent(placed)
    _, place = rng.choice(placed)
    at = pen.units(x0), pen.units(place.dy if rng.random() < 0.7 else y0)
    space.add_xline(at, (1, 0), dxfattribs=attribs)
    if rng.random() < 0.5:
        space.add_ray(at, (0, -1), dxfattribs=attribs)


def _flattened_references(doc: Drawing) -> bool:
    """Block references squeezed to no height: programs that explode blocks trip over them."""
    found = [e for e in doc.modelspace().query("INSERT") if not e.attribs]
    for reference in found:
        reference.dxf.zscale = 0.0
    return bool(found)
