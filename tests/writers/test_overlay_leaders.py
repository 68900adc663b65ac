"""Lengths of cut pieces that have no room for them, on the overlay of a made house."""

from __future__ import annotations

import ezdxf
import shapely
from houses import house

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.labels import is_cut_to_length
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.texts import Line

_ALIGN = {0: "left", 1: "middle", 2: "right"}


def box_of(text, inches):
    """The box of one of our texts in inches, a little smaller than it is drawn."""
    x, y, _ = text.dxf.align_point * inches
    size, align = text.dxf.height * inches, _ALIGN[text.dxf.halign]
    x0, y0, x1, y1 = Line(text.dxf.text, x, y, size, align, text.dxf.width).box
    return x0 + 1e-5, y0 + 1e-5, x1 - 1e-5, y1 - 1e-5


def test_no_line_to_a_length_crosses_a_text_an_opening_or_another_such_line(tmp_path):
    """Some cuts of the house have no room for their length; each is told all the same."""
    source, job = house(4, tmp_path)
    settings = with_settings(job, plan__search=0)
    made = take_off([source], settings)
    write_overlay(made, made.drawings[0], source, tmp_path / "courses.dxf")
    inches = made.drawings[0].inches_per_unit
    space = ezdxf.readfile(tmp_path / "courses.dxf").modelspace()
    tagged = [(e, tags) for e in space if (tags := tags_of(e))]
    texts = [(box_of(e, inches), tags) for e, tags in tagged if e.dxftype() == "TEXT"]
    lines = [
        (
            shapely.LineString([(p.x * inches, p.y * inches) for p in (e.dxf.start, e.dxf.end)]),
            tags["piece"],
        )
        for e, tags in tagged
        if tags["what"] == "leader"
    ]
    openings = [o.region.polygon for w in made.walls for o in w.wall.openings]
    assert len(lines) > 5
    for line, piece in lines:
        others = [shapely.box(*b) for b, tags in texts if tags.get("piece") != piece]
        others += [*openings, *(other for other, _ in lines if other is not line)]
        assert not any(line.intersects(other) for other in others)
    told = {tags["piece"] for _, tags in texts if tags["what"] == "piece text"}
    cut = {
        f"{w.wall.id}/{p.course}/{p.number}"
        for w in made.walls
        for p in w.courses.pieces
        if is_cut_to_length(p, made.product)
    }
    assert cut <= told
