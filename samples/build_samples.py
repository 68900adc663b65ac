"""Draw the sample elevations: python samples/build_samples.py [FOLDER]

Two buildings of our own. All sizes are invented; README.md beside this file works one wall by hand.
The bytes written are the same at every run, so that a test can compare them with the files kept
here.

Gatehouse (inches), one drawing, from left to right:

     FRONT                        SIDE           PORCH BACK      RETURN  PIER
    120 ___________________       180  .         42 __     __    ___     104 _ _
       |  __    .-.    __  | A  A   .-' '.         |  |___|  |B B|  |       | | |
       | |  |   | |   |  | |      .'  o   \\        |_________|   |__|       | | |
       | |__|   | |   |__| |      |       |        0        192  0  60      |_|_|
     0 |________| |__   ___|      |_______|                                0 16 32
                  216|_|16 336    0     224

Boathouse (millimeters): a front with a segmental arch for a top, a boat door, one window block used
twice (the second mirrored), and a plain side; a level line ties the courses of both walls.
"""

from __future__ import annotations

import io
import sys
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import Modelspace

WALL, GLAZ, DOOR, VENT = "A-ELEV-OTLN", "A-ELEV-GLAZ", "A-ELEV-DOOR", "A-ELEV-VENT"
OUTSIDE, INSIDE = "A-ELEV-CORN-OUTS", "A-ELEV-CORN-INSD"
CAPS, LEVEL, NAME, GROUND = "A-ELEV-CAPS", "A-ELEV-LEVL", "A-ELEV-IDEN", "A-ELEV-GRND"
COLORS = {
    WALL: 7,
    GLAZ: 4,
    DOOR: 3,
    VENT: 6,
    OUTSIDE: 1,
    INSIDE: 5,
    CAPS: 2,
    LEVEL: 30,
    NAME: 7,
    GROUND: 8,
}

SHEETS = {1: ((17, 11), "inch"), 4: ((420, 297), "mm")}
"""Sheet of a drawing by its $INSUNITS: width and height in a unit."""
DAYS = ("\n2451545.0\n", "\n2461347.0\n")
"""Julian day that the library writes where bytes must not change,
and that on which the samples were drawn, 2 November 2026.
"""

Vertices = list[tuple[float, ...]]


def new_drawing(units: int) -> Drawing:
    """An empty R2018 drawing in the given $INSUNITS with our layers."""
    doc = ezdxf.new("R2018", units=units)
    for name, color in COLORS.items():
        doc.layers.add(name, color=color)
    return doc


def outline(space: Modelspace, layer: str, vertices: Vertices, x: float = 0.0) -> None:
    """A closed polyline through (x, y) or (x, y, bulge), shifted sideways by ``x``."""
    shifted = [(v[0] + x, v[1], v[2] if len(v) > 2 else 0.0) for v in vertices]
    space.add_lwpolyline(shifted, format="xyb", close=True, dxfattribs={"layer": layer})


def line(space: Modelspace, layer: str, x0: float, y0: float, x1: float, y1: float) -> None:
    """One straight line."""
    space.add_line((x0, y0), (x1, y1), dxfattribs={"layer": layer})


def text(space: Modelspace, layer: str, words: str, x: float, y: float, height: float) -> None:
    """One line of text, its left end on the base line at (x, y)."""
    entity = space.add_text(words, height=height, dxfattribs={"layer": layer})
    entity.set_placement((x, y), align=TextEntityAlignment.LEFT)


def box(x0: float, y0: float, x1: float, y1: float) -> Vertices:
    """The corners of a rectangle."""
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def draw_front(space: Modelspace) -> None:
    """The Gatehouse's front: a base that steps up, two windows, a round-arched door."""
    outline(space, WALL, [(0, 0), (216, 0), (216, 16), (336, 16), (336, 120), (0, 120)])
    outline(space, GLAZ, box(36, 44, 96, 92))
    outline(space, GLAZ, box(252, 44, 300, 86))
    outline(space, DOOR, [(144, 0), (192, 0), (192, 72, 1.0), (144, 72)])
    line(space, OUTSIDE, 336, 16, 336, 120)
    text(space, OUTSIDE, "A", 342, 64, 6)
    text(space, NAME, "FRONT", 104, 106, 6)
    for x0, y0, x1, y1 in [(-24, 0, 216, 0), (216, 0, 216, 16), (216, 16, 360, 16)]:
        line(space, GROUND, x0, y0, x1, y1)


def draw_side(space: Modelspace, x: float) -> None:
    """The side: a gable whose ridge is off the middle, with a round vent."""
    outline(space, WALL, [(0, 16), (224, 16), (224, 120), (144, 180), (0, 120)], x)
    space.add_circle((x + 144, 140), radius=9, dxfattribs={"layer": VENT})
    line(space, OUTSIDE, x, 16, x, 120)
    text(space, OUTSIDE, "A", x - 12, 64, 6)
    text(space, NAME, "SIDE", x + 40, 60, 6)


def draw_porch(space: Modelspace, back: float, side: float) -> None:
    """Two wainscots with caps that meet in an inside corner; a window stands on the first."""
    outline(
        space,
        WALL,
        [(0, 0), (192, 0), (192, 42), (144, 42), (144, 34), (84, 34), (84, 42), (0, 42)],
        back,
    )
    for x0, x1, y in [(0, 84, 42), (84, 144, 34), (144, 192, 42)]:
        line(space, CAPS, back + x0, y, back + x1, y)
    line(space, INSIDE, back + 192, 0, back + 192, 42)
    text(space, INSIDE, "B", back + 198, 18, 6)
    text(space, NAME, "PORCH BACK", back + 24, 14, 6)
    outline(space, WALL, box(0, 0, 60, 42), side)
    line(space, CAPS, side, 42, side + 60, 42)
    line(space, INSIDE, side, 0, side, 42)
    text(space, INSIDE, "B", side - 12, 18, 6)
    text(space, NAME, "PORCH RETURN", side + 4, 14, 4)


def draw_pier(space: Modelspace, x: float) -> None:
    """Two faces of a pier, drawn side by side: the line they share is their corner."""
    outline(space, WALL, box(0, 0, 16, 104), x)
    outline(space, WALL, box(16, 0, 32, 104), x)
    line(space, OUTSIDE, x + 16, 0, x + 16, 104)
    text(space, NAME, "PIER FACE", x + 1, 40, 2)
    text(space, NAME, "PIER RETURN", x + 17, 40, 2)


def gatehouse() -> Drawing:
    """The Gatehouse, in inches."""
    doc = new_drawing(1)
    space = doc.modelspace()
    draw_front(space)
    draw_side(space, 400)
    draw_porch(space, 700, 960)
    draw_pier(space, 1100)
    return doc


def boathouse() -> Drawing:
    """The Boathouse, in millimeters."""
    doc = new_drawing(4)
    space = doc.modelspace()
    window = doc.blocks.new("RAKED-WINDOW")
    window.add_lwpolyline(
        [(0, 0), (900, 0), (900, 1200), (0, 900)], close=True, dxfattribs={"layer": "0"}
    )
    outline(space, WALL, [(0, 0), (6000, 0), (6000, 2400, 0.5), (0, 2400)])
    outline(space, DOOR, box(1700, 0, 4100, 2100))
    space.add_blockref("RAKED-WINDOW", (600, 900), dxfattribs={"layer": GLAZ})
    space.add_blockref("RAKED-WINDOW", (5400, 1000), dxfattribs={"layer": GLAZ, "xscale": -1})
    line(space, OUTSIDE, 6000, 0, 6000, 2400)
    text(space, OUTSIDE, "K", 6150, 1200, 150)
    text(space, NAME, "LAKE FRONT", 2300, 2600, 150)
    outline(space, WALL, box(0, 0, 4500, 2400), 8000)
    line(space, OUTSIDE, 8000, 0, 8000, 2400)
    text(space, OUTSIDE, "K", 7700, 1200, 150)
    text(space, NAME, "LAND SIDE", 9500, 1200, 150)
    line(space, LEVEL, -300, 100, 12800, 100)
    return doc


def build(folder: Path) -> list[Path]:
    """Write both drawings into a folder; their paths."""
    ezdxf.options.write_fixed_meta_data_for_testing = True
    written = []
    for name, draw in (("gatehouse.dxf", gatehouse), ("boathouse.dxf", boathouse)):
        path, doc = folder / name, draw()
        for kind in sorted(doc.entitydb.dxf_types_in_use()):
            doc.classes.add_class(
                kind
            )  # left to itself the library adds them in the order of a set
        size, units = SHEETS[doc.units]
        doc.paperspace().page_setup(size=size, units=units)
        plain = io.StringIO()
        doc.write(plain)
        path.write_text(plain.getvalue().replace(*DAYS), encoding="utf-8", newline="\n")
        written.append(path)
    return written


if __name__ == "__main__":
    for made in build(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent):
        print(made)
