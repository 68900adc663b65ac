"""Drawings from which the mutations start: small, and together of every kind that the reader
knows.
"""

from __future__ import annotations

import sys
from pathlib import Path

from ezdxf.document import Drawing

ROOT = Path(__file__).parents[2]
CORPUS = Path(__file__).parent / "corpus"
sys.path[:0] = [str(ROOT / "tests" / "drawing")]

from odd_files import ascii_of, binary_of, document, entities, odd_files, SHEET  # noqa: E402, I001

_LARGEST = 40_000
"""Bytes of the largest odd file that is worth mutating; a larger one only costs time."""


def seeds() -> list[bytes]:
    """Files of every version and kind, the small ones more than once,
    so that they are drawn more often.
    """
    kinds = [
        ascii_of(make(version))
        for version in ("R12", "R2000", "R2018")
        for make in MAKERS
        if version != "R12" or make in _OLD
    ]
    small = [entities(SHEET), *kinds, *(_only_entities(make("R2000")) for make in MAKERS * 3)]
    odd = [content for _, content in odd_files() if len(content) < _LARGEST]
    samples = [
        (ROOT / "samples" / name).read_bytes() for name in ("gatehouse.dxf", "boathouse.dxf")
    ]
    known = [path.read_bytes() for path in sorted(CORPUS.glob("*.dxf"))]
    return [
        *small * (len(odd) // len(small)),
        *odd,
        *samples,
        *known,
        *map(binary_of, (make("R2000") for make in MAKERS)),
    ]


def _lines_and_arcs(version: str) -> Drawing:
    doc = document(version)
    space, opening = doc.modelspace(), {"layer": "A-OPNG"}
    space.add_circle((20, 20), 6, opening)
    space.add_arc((40, 20), 5, 0, 180, opening)
    space.add_line((45, 20), (35, 20), opening)
    space.add_polyline2d(
        [(100, 10), (120, 10, 0.5), (120, 40)], format="xyb", close=True, dxfattribs=opening
    )
    space.add_polyline3d([(130, 10, 0), (140, 10, 0), (140, 30, 0)], close=True, dxfattribs=opening)
    return doc


def _marks(version: str) -> Drawing:
    doc = document(version)
    space = doc.modelspace()
    for x in (0, 200):
        space.add_line((x, 0), (x, 100), {"layer": "A-ELEV-CORN-OUTS"})
    space.add_line((0, 100), (200, 100), {"layer": "A-ELEV-CAPS"})
    space.add_line((-5, 12), (205, 12), {"layer": "A-ELEV-LEVL"})
    space.add_text("NORTH", height=4, dxfattribs={"layer": "A-ELEV-IDEN"}).set_placement((15, 80))
    space.add_point((150, 50), {"layer": "A-ELEV-IDEN"})
    return doc


def _blocks(version: str) -> Drawing:
    doc = document(version)
    space, opening = doc.modelspace(), {"layer": "A-OPNG"}
    inner, outer = doc.blocks.new("INNER"), doc.blocks.new("OUTER")
    inner.add_polyline2d([(0, 0), (4, 0), (4, 6), (0, 6)], close=True)
    outer.add_blockref("INNER", (1, 1), {"rotation": 10})
    outer.add_attdef("TAG", (0, 0), dxfattribs={"layer": "A-ELEV-IDEN"})
    rows = {"xscale": 1.5, "yscale": 1.2, "column_count": 2, "column_spacing": 12}
    space.add_blockref("OUTER", (150, 20), {**opening, **rows}).add_attrib(
        "TAG", "W1", (150, 20), {"layer": "A-ELEV-IDEN"}
    )
    return doc


def _curves(version: str) -> Drawing:
    doc = document(version)
    space, opening = doc.modelspace(), {"layer": "A-OPNG"}
    space.add_ellipse((30, 60), (8, 2), 0.5, 0.0, 6.283185307179586, opening)
    space.add_open_spline([(150, 60), (160, 62), (165, 75), (150, 60)], dxfattribs=opening)
    space.add_spline([(100, 60), (110, 62), (100, 60)], dxfattribs=opening)
    return doc


def _hatches(version: str) -> Drawing:
    doc = document(version)
    space = doc.modelspace()
    space.add_hatch(dxfattribs={"layer": "A-OPNG"}).paths.add_polyline_path(
        [(5, 60), (15, 60), (15, 70, 0.3), (5, 70)]
    )
    edges = space.add_hatch(dxfattribs={"layer": "A-WALL"}).paths.add_edge_path()
    edges.add_line((220, 0), (260, 0))
    edges.add_line((260, 0), (260, 40))
    edges.add_arc((240, 40), 20, 0, 180)
    edges.add_spline(
        degree=2, control_points=[(220, 40), (221, 20), (220, 0)], knot_values=[0, 0, 0, 1, 1, 1]
    )
    return doc


def _words(version: str) -> Drawing:
    doc = document(version)
    space = doc.modelspace()
    space.add_mtext("6'-0\"\\PHEAD", {"layer": "A-ELEV-IDEN", "insert": (120, 80)})
    space.add_linear_dim((0, -10), (0, 0), (200, 0)).render()
    return doc


MAKERS = (_lines_and_arcs, _marks, _blocks, _curves, _hatches, _words)
"""The elevation of the odd files with a few entities of one sort besides."""
_OLD = (_lines_and_arcs, _marks, _blocks)
"""Those that R12 can hold."""


def _only_entities(doc: Drawing) -> bytes:
    """The blocks and entities of a drawing without tables, objects and most of the header."""
    text = ascii_of(doc).decode("ascii")
    blocks = text[
        text.index("  0\nSECTION\n  2\nBLOCKS") : text.index("  0\nSECTION\n  2\nOBJECTS")
    ]
    head = "  0\nSECTION\n  2\nHEADER\n  9\n$INSUNITS\n 70\n1\n  0\nENDSEC\n"
    return f"{head}{blocks}  0\nEOF\n".encode()
