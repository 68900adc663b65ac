"""Small sheets drawn in code: a facade, a plan, a section, frames; as lines of a document, in
millimetres unless said."""

from __future__ import annotations

import ezdxf
import numpy as np
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from dxf2veneer.propose.reading import scene_of
from dxf2veneer.propose.scene import Entities, Scene


def sheet(units: int = 0) -> tuple[Drawing, Modelspace]:
    document = ezdxf.new(units=units)
    return document, document.modelspace()


def scene(document: Drawing) -> Scene:
    return scene_of(document, unit_code=document.header.get("$INSUNITS", 0))


def box(
    space: Modelspace, x0: float, y0: float, x1: float, y1: float, *, loose: bool = True
) -> None:
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    if loose:
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            space.add_line(a, b)
    else:
        space.add_lwpolyline(corners, close=True)


def facade(
    space: Modelspace, x: float, y: float, *, width: float = 8000, size: float = 1.0
) -> None:
    """A gabled facade on a ground line, its lower left corner at (x, y).

               /\\          5200
             /    \\
           /________\\      2800
           | []  [] |      windows 1000 x 1200, sills at 900
           |  ||    |      door 1000 x 2100 at the ground
        ---------------    the ground runs 1500 past on either side
    """

    def line(x0: float, y0: float, x1: float, y1: float) -> None:
        space.add_line((x + x0 * size, y + y0 * size), (x + x1 * size, y + y1 * size))

    line(-1500, 0, width + 1500, 0)
    line(0, 0, 0, 2800)
    line(width, 0, width, 2800)
    line(0, 2800, width, 2800)
    line(0, 2800, width / 2, 5200)
    line(width / 2, 5200, width, 2800)
    for left in (700, width - 1700):
        box(space, x + left * size, y + 900 * size, x + (left + 1000) * size, y + 2100 * size)
    box(space, x + 3000 * size, y, x + 4000 * size, y + 2100 * size)


def plan(space: Modelspace, x: float, y: float, *, size: float = 1.0) -> None:
    """A room 9000 x 6000 with walls 300 thick and a door 900 wide that swings into it.

    .___________________.
    |  _______________  |
    | |               | |
    | |_____   _______| |     the door's leaf and its quarter circle stand in the gap
    |______|   |________|
    """
    box(space, x, y, x + 9000 * size, y + 6000 * size)
    box(space, x + 300 * size, y + 300 * size, x + 8700 * size, y + 5700 * size)
    space.add_line((x + 4000 * size, y + 300 * size), (x + 4000 * size, y + 1200 * size))
    space.add_arc((x + 4000 * size, y + 300 * size), 900 * size, 0, 90)


def section(space: Modelspace, x: float, y: float) -> None:
    """Two walls cut through with slabs between them.

       ||___________||
       ||___________||     upper slab
       ||           ||
       ||___________||     lower slab, the walls go on to their footing
    ___||___________||___  the ground
    """
    for left in (0, 6700):
        box(space, x + left, y - 500, x + left + 300, y + 5600)
    for low in (0, 2700, 5400):
        for height in (low, low + 200):
            space.add_line((x + 300, y + height), (x + 6700, y + height))
    space.add_line((x - 1500, y), (x, y))
    space.add_line((x + 7000, y), (x + 8500, y))


def text(space: Modelspace, words: str, x: float, y: float, height: float = 250) -> None:
    space.add_text(words, height=height).set_placement((x, y))


def moved(found: Scene, dx: float, dy: float, size: float = 1.0) -> Scene:
    """The scene scaled about the origin, then shifted: what the same sheet drawn elsewhere would
    give."""
    from dataclasses import replace

    def b(r: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        return r[0] * size + dx, r[1] * size + dy, r[2] * size + dx, r[3] * size + dy

    return replace(
        found,
        segments=found.segments * size + np.array([dx, dy, dx, dy]),
        entities=Entities.of(e._replace(box=b(e.box)) for e in found.entities),
        texts=tuple(
            t._replace(x=t.x * size + dx, y=t.y * size + dy, height=t.height * size, box=b(t.box))
            for t in found.texts
        ),
    )


def shuffled(found: Scene, seed: int) -> Scene:
    """The scene with its entities and texts in another order."""
    from dataclasses import replace

    order = np.random.default_rng(seed).permutation(len(found.entities))
    pieces = [found.segments_of(int(n)) for n in order]
    texts = np.random.default_rng(seed + 1).permutation(len(found.texts))
    return replace(
        found,
        segments=np.concatenate(pieces),
        owner=np.repeat(np.arange(len(order)), [len(p) for p in pieces]),
        entities=Entities.of(found.entities[int(n)] for n in order),
        texts=tuple(found.texts[int(n)] for n in texts),
    )
