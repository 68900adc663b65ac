"""How the overlay reads: python tests/benchmarks/overlay_reading.py [SEED ...]

Lays the twenty houses of tests/houses.py, or those of the seeds given, with two notes, a bubble and
a dimension of the drafter's beside each wall, and counts on each overlay from the file alone: cut
pieces without a length that shows, texts of ours that cover each other, texts of ours that cover
the drawing's, lines that lead to a text and cross another text, an opening or another such line,
and the height of the smallest text on paper at the scale of the title. Panels are laid as fast as
can be: what is counted is where texts stand.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import ezdxf
import shapely

sys.path.insert(0, str(Path(__file__).parents[1]))

from houses import SEEDS, house

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.model import Takeoff
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.sizes import TextSizes

_LETTER = 0.75
"""Width of a letter in text heights, as a plotter's font draws it [from memory]."""
Box = tuple[float, float, float, float]


def noted(path: Path) -> None:
    """Add what a drafter writes beside walls: notes, bubbles with attributes, a dimension."""
    document = ezdxf.readfile(path)
    space = document.modelspace()
    bubble = document.blocks.new("GRID-BUBBLE")
    bubble.add_circle((0, 0), 1)
    bubble.add_attdef("NO", (0, 0), dxfattribs={"height": 0.8})
    walls = [p for p in space.query("LWPOLYLINE") if p.dxf.layer == "WALL" and p.closed]
    for number, wall in enumerate(walls):
        xs, ys = zip(*wall.get_points("xy"), strict=True)
        x0, y0, x1, y1 = min(xs), min(ys), max(xs), max(ys)
        size = (y1 - y0) / 25
        space.add_text("SEE DETAIL 4", height=size, dxfattribs={"insert": (x0, y1 + 2 * size)})
        note = {"insert": (x0 - 4 * size, (y0 + y1) / 2), "char_height": size}
        space.add_mtext("FIELD\\PVERIFY", note)
        at = {"xscale": 2 * size, "yscale": 2 * size}
        space.add_blockref("GRID-BUBBLE", (x0, y0 - 4 * size), at).add_attrib(
            "NO", str(number), (x0 - size / 2, y0 - 4.4 * size), {"height": size}
        )
        dimension = space.add_linear_dim(
            (x0, y0 - 7 * size), (x0, y0), (x1, y0), override={"dimtxt": size}
        )
        dimension.render()
    document.saveas(path)


def box_of(text: object, inches: float) -> Box:
    """The box of one of our texts, which stand level, in inches."""
    wide, high = _LETTER * len(text.dxf.text) * text.dxf.height * text.dxf.width, text.dxf.height
    x = text.dxf.insert.x if not text.dxf.halign else text.dxf.align_point.x
    y = text.dxf.insert.y if not text.dxf.valign else text.dxf.align_point.y
    x -= {0: 0.0, 1: 0.5, 2: 1.0}.get(text.dxf.halign, 0.0) * wide
    y -= {2: 0.5}.get(text.dxf.valign, 0.0) * high
    return x * inches, y * inches, (x + wide) * inches, (y + high) * inches


def theirs(path: Path, inches: float) -> Iterator[Box]:
    """Boxes of the drawing's own texts, attributes and dimensions' texts, in inches."""
    document = ezdxf.readfile(path)
    found = [e for e in document.modelspace() if e.dxftype() in ("TEXT", "MTEXT")]
    found += [a for insert in document.modelspace().query("INSERT") for a in insert.attribs]
    for dimension in document.modelspace().query("DIMENSION"):
        found += [e for e in dimension.virtual_entities() if e.dxftype() == "MTEXT"]
    for text in found:
        if text.dxftype() != "MTEXT":
            yield box_of(text, inches)
            continue
        lines, high = text.plain_text(split=True), text.dxf.char_height
        wide, tall = _LETTER * max(map(len, lines)) * high, 1.6 * high * (len(lines) - 0.4)
        row, column = divmod(text.dxf.attachment_point - 1, 3)
        x, y = text.dxf.insert.x - column / 2 * wide, text.dxf.insert.y - (2 - row) / 2 * tall
        yield x * inches, y * inches, (x + wide) * inches, (y + tall) * inches


def crossing(some: list[Any], others: list[Any]) -> list[tuple[int, int]]:
    """Pairs of shapes of which one reaches into the other: not only to its edge."""
    if not some or not others:
        return []
    found = shapely.STRtree(others).query(some, predicate="intersects").T.tolist()
    return [(a, b) for a, b in found if not shapely.touches(some[a], others[b])]


def leading(space: Any, inches: float) -> list[tuple[Any, str]]:
    """Lines that lead from a piece to its text, with the piece's id."""
    found = [(e, tags_of(e)) for e in space.query("LINE")]
    return [
        (
            shapely.LineString([(p.x * inches, p.y * inches) for p in (e.dxf.start, e.dxf.end)]),
            tags["piece"],
        )
        for e, tags in found
        if tags.get("what") == "leader"
    ]


def measured(seed: int, folder: Path) -> tuple[int, int, int, int, int, int, int, float]:
    """Cut pieces, those without a length, our texts, pairs of ours and of ours with the drawing's
    that cover each other, leaders and what they cross, and the smallest text on paper in points.
    """
    source, job = house(seed, folder)
    noted(source)
    job = with_settings(job, plan__search=0)
    made: Takeoff = take_off([source], job)
    drawing, target = made.drawings[0], folder / f"{seed}-courses.dxf"
    write_overlay(made, drawing, source, target)
    inches = drawing.inches_per_unit
    space = ezdxf.readfile(target).modelspace()
    ours = [(e, tags) for e in space.query("TEXT") if (tags := tags_of(e))]
    product = made.product
    panels = {"corner": product.corner.length, "flat": product.panel.length}
    cut = {
        f"{w.wall.id}/{p.course}/{p.number}"
        for w in made.walls
        for p in w.courses.pieces
        if abs(p.length - panels[p.unit]) > 1e-6
    }
    told = {
        tags["piece"]
        for e, tags in ours
        if tags["what"] == "piece text" and (e.dxf.text.endswith('"') or e.dxf.text[-1].isdigit())
    }
    boxes = [shapely.box(*box_of(e, inches)) for e, _ in ours]
    among = sum(a < b for a, b in crossing(boxes, boxes))
    with_theirs = len(crossing(boxes, [shapely.box(*box) for box in theirs(source, inches)]))
    lines = leading(space, inches)
    drawn, owners = [line for line, _ in lines], [owner for _, owner in lines]
    over = sum(
        ours[b][1].get("piece") != owners[a] or ours[b][1]["what"] != "piece text"
        for a, b in crossing(drawn, boxes)
    )
    over += sum(a < b for a, b in crossing(drawn, drawn))
    openings = [o.region.polygon for w in made.walls for o in w.wall.openings]
    over += len(crossing(drawn, openings))
    scale = TextSizes.of(made, drawing).scale
    smallest = min(e.dxf.height for e, _ in ours) * inches / scale * 72
    return len(cut), len(cut - told), len(boxes), among, with_theirs, len(lines), over, smallest


def main() -> None:
    """Print a row for each house, and the sums."""
    seeds = [int(word) for word in sys.argv[1:]] or list(SEEDS)
    print("house  cut  no length  texts  ours on ours  on theirs  leaders  they cross  smallest pt")
    rows = []
    for seed in seeds:
        with tempfile.TemporaryDirectory() as folder:
            rows.append(measured(seed, Path(folder)))
        print(f"{seed:5d} " + " ".join(f"{v:8.4g}" for v in rows[-1]), flush=True)
    cut, bare, texts, among, others, lines, over, _ = (
        sum(column) for column in zip(*rows, strict=True)
    )
    print(f"all: {cut} cut, {bare} without a length; {texts} texts, {among} pairs of ours,")
    smallest = min(row[-1] for row in rows)
    print(f"{others} with the drawing's; {lines} leaders cross {over}; smallest {smallest:.1f} pt")


if __name__ == "__main__":
    main()
