"""Files as they arrive: old, cut short, mistyped, in other code pages.

``odd_files`` builds them all.

Most of them hold this elevation, in inches, wall on A-WALL and window on A-OPNG, and one oddity:

    100 .---------------.
        |     .--. 70   |
        |     '--' 30   |
      0 '---------------'
        0     60 90    200
"""

from __future__ import annotations

import io
import random
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace
from ezdxf.xclip import XClip

WALL_BOX = [(0, 0), (200, 0), (200, 100), (0, 100)]
WINDOW_BOX = [(60, 30), (90, 30), (90, 70), (60, 70)]
WALL_AREA, WINDOW_AREA = 20_000, 1_200

FLIPS = 50
"""Copies of a file in each of which a few bytes are another's."""


def document(version: str = "R2018", wall: str = "A-WALL") -> Drawing:
    """The elevation above."""
    doc = ezdxf.new(version, units=1)
    add = doc.modelspace().add_polyline2d if version == "R12" else doc.modelspace().add_lwpolyline
    add(WALL_BOX, close=True, dxfattribs={"layer": wall})
    add(WINDOW_BOX, close=True, dxfattribs={"layer": "A-OPNG"})
    return doc


def ascii_of(doc: Drawing) -> bytes:
    """The document as an ASCII file."""
    text = io.StringIO()
    doc.write(text)
    return text.getvalue().encode(doc.output_encoding, "dxfreplace")


def binary_of(doc: Drawing) -> bytes:
    """The document as a binary file."""
    stream = io.BytesIO()
    doc.write(stream, fmt="bin")
    return stream.getvalue()


def tags(text: str) -> bytes:
    """A file of words, code and value in turn."""
    return "\n".join([*text.split(), ""]).encode()


def entities(text: str, header: str = "0 SECTION 2 HEADER 9 $INSUNITS 70 1 0 ENDSEC") -> bytes:
    """A file of hand-written entities, and no tables."""
    return tags(f"{header} 0 SECTION 2 ENTITIES {text} 0 ENDSEC 0 EOF")


def box(layer: str, x0: object, y0: object, x1: object, y1: object) -> str:
    """Four lines without handles."""
    corners = [(x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)]
    layer = f"8 {layer}" if layer else ""
    return " ".join(
        f"0 LINE {layer} 10 {a} 20 {b} 11 {c} 21 {d}" for (a, b), (c, d) in pairwise(corners)
    )


SHEET = f"{box('A-WALL', 0, 0, 200, 100)} {box('A-OPNG', 60, 30, 90, 70)}"


def odd_files() -> Iterator[tuple[str, bytes]]:
    """Name and content of every file."""
    yield from _old()
    yield from _sections()
    yield from _references()
    yield from _numbers()
    yield from _names()
    yield from _layouts_of_lines()


def cut_files(sources: list[Path]) -> Iterator[tuple[str, bytes]]:
    """ASCII and binary copies of drawings, cut at every tenth."""
    for source in sources:
        for form, content in (
            ("ascii", source.read_bytes()),
            ("binary", binary_of(ezdxf.readfile(source))),
        ):
            for tenth in range(1, 10):
                yield (
                    f"{source.stem}-{form}-{tenth}0-percent",
                    content[: len(content) * tenth // 10],
                )


def flipped_files() -> Iterator[tuple[str, bytes]]:
    """Copies of an ASCII and a binary file with one to eight bytes of any value, the same at every
    run."""
    chance = random.Random(3)
    for number in range(FLIPS):
        content = bytearray((binary_of if number % 5 == 4 else ascii_of)(document()))
        for _ in range(chance.randint(1, 8)):
            content[chance.randrange(len(content))] = chance.randrange(256)
        yield f"flipped-{number}", bytes(content)


def _old() -> Iterator[tuple[str, bytes]]:
    for version in ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"):
        yield version, ascii_of(document(version))
        yield f"{version}-binary", binary_of(document(version))
    yield (
        "r10-without-tables",
        entities(SHEET, "0 SECTION 2 HEADER 9 $ACADVER 1 AC1006 9 $INSUNITS 70 1 0 ENDSEC"),
    )
    yield "r9-without-header", entities(SHEET, "")
    yield "version-of-the-future", ascii_of(document()).replace(b"AC1032", b"AC9999")
    yield "no-version-but-a-word", ascii_of(document()).replace(b"AC1032", b"hello!")
    r12 = document("R12")
    r12.header["$HANDLING"] = 0
    yield "r12-without-handles", ascii_of(r12)


def _sections() -> Iterator[tuple[str, bytes]]:
    sound = ascii_of(document())
    yield "empty-model-space", ascii_of(ezdxf.new(units=1))
    yield "no-entities-section", tags("0 SECTION 2 HEADER 9 $INSUNITS 70 1 0 ENDSEC 0 EOF")
    yield "only-eof", tags("0 EOF")
    yield "only-the-first-tag", tags("0 SECTION")
    yield "without-eof", entities(SHEET).removesuffix(b"0\nEOF\n")
    yield "without-last-endsec", entities(SHEET).removesuffix(b"0\nENDSEC\n0\nEOF\n")
    yield "without-any-endsec", sound.replace(b"  0\nENDSEC\n", b"")
    yield (
        "section-without-name",
        tags(f"0 SECTION 0 ENDSEC 0 SECTION 2 ENTITIES {SHEET} 0 ENDSEC 0 EOF"),
    )
    yield "section-of-another-name", entities(SHEET).replace(b"HEADER", b"HAEDER")
    yield (
        "section-twice",
        entities(f"{SHEET} 0 ENDSEC 0 SECTION 2 ENTITIES {box('A-WALL', 300, 0, 400, 80)}"),
    )
    yield "endtab-missing", sound.replace(b"  0\nENDTAB\n", b"")
    yield "endblk-missing", sound.replace(b"  0\nENDBLK\n", b"")
    yield (
        "tables-empty",
        tags(f"0 SECTION 2 TABLES 0 ENDSEC 0 SECTION 2 ENTITIES {SHEET} 0 ENDSEC 0 EOF"),
    )
    yield (
        "table-of-nothing",
        tags(
            "0 SECTION 2 TABLES 0 TABLE 2 LAYER 70 9 0 ENDTAB 0 ENDSEC "
            f"0 SECTION 2 ENTITIES {SHEET} 0 ENDSEC 0 EOF"
        ),
    )
    yield "objects-missing", sound[: sound.index(b"  0\nSECTION\n  2\nOBJECTS")] + b"  0\nEOF\n"
    yield "same-handle-throughout", entities(SHEET.replace("0 LINE", "0 LINE 5 A1"))
    yield "handle-no-number", entities(SHEET.replace("0 LINE", "0 LINE 5 XYZ"))
    yield "unit-no-number", entities(SHEET, "0 SECTION 2 HEADER 9 $INSUNITS 70 inch 0 ENDSEC")
    yield "unit-without-value", entities(SHEET, "0 SECTION 2 HEADER 9 $INSUNITS 0 ENDSEC")
    yield "unit-99", entities(SHEET, "0 SECTION 2 HEADER 9 $INSUNITS 70 99 0 ENDSEC")
    yield "zeros-at-the-end", sound + bytes(4000)
    yield "words-after-eof", sound + b"Kind regards\n"
    yield "nothing-but-zeros", bytes(4000)
    yield "sentinel-only", b"AutoCAD Binary DXF\r\n\x1a\x00"
    yield "proxy", ascii_of(_with_proxy())


def _with_proxy() -> Drawing:
    doc = document()
    proxy = doc.modelspace().new_entity("ACAD_PROXY_ENTITY", {"layer": "A-WALL"})
    assert proxy.dxf.layer == "A-WALL"
    return doc


def _references() -> Iterator[tuple[str, bytes]]:
    for x, y, z in (
        (0, 1, 1),
        (1, 0, 1),
        (1, 1, 0),
        (0, 0, 0),
        (1e100, 1e100, 1),
        (1e200, 1e200, 1),
        (1e-200, 1e-200, 1),
    ):
        yield f"scale-{x}-{y}-{z}", _with_block(xscale=x, yscale=y, zscale=z)
    yield "minsert", _with_block(column_count=3, row_count=2, column_spacing=50, row_spacing=40)
    yield "minsert-one-on-another", _with_block(column_count=3, row_count=2)
    yield "minsert-negative", _with_block(column_count=-3, row_count=-2)
    yield (
        "minsert-of-a-billion",
        _with_block(column_count=32_000, row_count=32_000, column_spacing=1, row_spacing=1),
    )
    yield "block-missing", entities(f"{SHEET} 0 INSERT 5 A1 8 A-WALL 2 NONE 10 0 20 0")
    yield "reference-without-name", entities(f"{SHEET} 0 INSERT 5 A1 8 A-WALL 10 0 20 0")
    yield "reference-without-place", entities(f"{SHEET} 0 INSERT 5 A1 8 A-WALL 2 NONE")
    clipped = document()
    reference = _sash(clipped).add_blockref("SASH", (20, 20), dxfattribs={"layer": "A-OPNG"})
    XClip(reference).set_block_clipping_path([(0, 0), (10, 10)])
    yield "xclip", ascii_of(clipped)
    itself = document()
    _sash(itself).add_blockref("SASH", (0, 0), dxfattribs={"layer": "A-OPNG"})
    itself.blocks["SASH"].add_blockref("SASH", (5, 5))
    yield "block-in-itself", ascii_of(itself)
    ring = document()
    _sash(ring).add_blockref("SASH", (0, 0), dxfattribs={"layer": "A-OPNG"})
    ring.blocks["SASH"].add_blockref("PANE", (5, 5))
    ring.blocks.new("PANE").add_blockref("SASH", (5, 5))
    yield "blocks-in-a-ring", ascii_of(ring)
    yield "blocks-that-double-40-times", ascii_of(_doubling(40))
    for depth in (200, 2000):
        yield f"blocks-nested-{depth}-deep", ascii_of(_deep(depth))


def _sash(doc: Drawing) -> Modelspace:
    """A block of one box; the model space that may refer to it."""
    doc.blocks.new("SASH").add_lwpolyline([(0, 0), (12, 0), (12, 16), (0, 16)], close=True)
    return doc.modelspace()


def _with_block(**attributes: float) -> bytes:
    doc = document()
    reference = _sash(doc).add_blockref("SASH", (10, 10), dxfattribs={"layer": "A-OPNG"})
    reference.dxf.__dict__.update(
        attributes
    )  # the library refuses to set some of them, but files hold them
    return ascii_of(doc)


def _doubling(times: int) -> Drawing:
    doc = document()
    _sash(doc).add_blockref("D0", (0, 0), dxfattribs={"layer": "A-OPNG"})
    for depth in range(times):
        block = doc.blocks.new(f"D{depth}")
        for x in (0, 1):
            block.add_blockref(f"D{depth + 1}" if depth + 1 < times else "SASH", (x, 0))
    return doc


def _deep(depth: int) -> Drawing:
    doc = document()
    _sash(doc).add_blockref("N0", (0, 0), dxfattribs={"layer": "A-OPNG"})
    for level in range(depth):
        doc.blocks.new(f"N{level}").add_blockref(
            f"N{level + 1}" if level + 1 < depth else "SASH", (0, 0)
        )
    return doc


def _numbers() -> Iterator[tuple[str, bytes]]:
    for value in (
        "nan",
        "inf",
        "-inf",
        "1e300",
        "-1e300",
        "1e308",
        "1e999",
        "1e-310",
        "0x10",
        "1,5",
        "1_0",
        "--1",
        "1d5",
        "*****",
    ):
        yield (
            f"coordinate-{value}".replace("*", "star"),
            entities(f"{SHEET} {box('A-WALL', 300, 0, value, 80)}"),
        )
        yield (
            f"circle-{value}".replace("*", "star"),
            entities(f"{SHEET} 0 CIRCLE 8 A-WALL 10 5.0 20 7.0 40 {value}"),
        )
    yield "all-at-1e300", entities(f"{box('A-WALL', '1e300', '1e300', '2e300', '2e300')}")
    yield "all-at-one-point", entities(box("A-WALL", 5, 5, 5, 5))
    yield "far-from-zero", entities(box("A-WALL", 4500000, 5200000, 4500200, 5200100))
    yield (
        "bulge-huge",
        entities(
            f"{SHEET} 0 LWPOLYLINE 8 A-WALL 90 3 70 1 10 0 20 0 42 1e300 10 9 20 0 42 nan 10 9 20 9"
        ),
    )
    yield (
        "polyline-without-vertices",
        entities(f"{SHEET} 0 POLYLINE 8 A-WALL 66 1 70 1 0 SEQEND 0 LWPOLYLINE 8 A-WALL 90 0 70 1"),
    )
    yield (
        "polyline-without-seqend",
        entities(f"{SHEET} 0 POLYLINE 8 A-WALL 66 1 70 1 0 VERTEX 8 A-WALL 10 0 20 0"),
    )
    yield (
        "vertex-count-wrong",
        entities(f"{SHEET} 0 LWPOLYLINE 8 A-WALL 90 9999 70 1 10 0 20 0 10 9 20 0 10 9 20 9"),
    )
    yield "spline-of-nothing", entities(f"{SHEET} 0 SPLINE 8 A-WALL 70 1 71 3 72 0 73 0 74 0")
    yield (
        "spline-knots-wrong",
        entities(f"{SHEET} 0 SPLINE 8 A-WALL 71 3 40 0 40 0 10 0 20 0 30 0 10 9 20 9 30 0"),
    )
    yield (
        "ellipse-flat",
        entities(f"{SHEET} 0 ELLIPSE 8 A-WALL 10 0 20 0 11 9 21 0 40 0 41 0 42 6.28"),
    )
    yield "hatch-of-nothing", entities(f"{SHEET} 0 HATCH 8 A-WALL 2 SOLID 70 1 71 0 91 1 92 1 93 0")
    yield "layer-attribute-missing", entities(f"{SHEET} {box('', 300, 0, 400, 80)}")
    yield "every-layer-attribute-missing", entities(box("", 300, 0, 400, 80))
    yield (
        "extrusion-zero",
        entities(f"{SHEET} 0 CIRCLE 8 A-WALL 10 5.0 20 7.0 40 3 210 0 220 0 230 0"),
    )


NAMES = {
    "cp1252": "WÄNDE-Ñ",
    "cp1251": "СТЕНЫ",
    "gbk": "外墙",
    "cp932": "外壁表",
    "utf-8": "Façade-外",
}
"""A layer name in each code page."""


def undeclared(encoding: str) -> bytes:
    """The elevation with its wall on a layer whose name is in a code page that the file does not
    declare."""
    text = ascii_of(document("R2000", wall="A-WALL")).decode("ascii")
    return text.replace("ANSI_1252", "").replace("A-WALL", NAMES[encoding]).encode(encoding)


def _names() -> Iterator[tuple[str, bytes]]:
    for encoding in NAMES:
        yield f"undeclared-{encoding}", undeclared(encoding)
    for number, name in enumerate(
        (
            "A WALL",
            "A|WALL",
            "A-WALL*",
            "[A]",
            "a" * 2000,
            "\x01\x02",
            "^J",
            r"\U+ZZZZ",
            r"\U+D800",
            "%%d",
            "=1+1",
            "'\"<>&",
        )
    ):
        yield f"layer-name-{number}", ascii_of(document("R2000")).replace(b"A-OPNG", name.encode())
    yield "layer-name-empty", ascii_of(document()).replace(b"A-OPNG", b"")


def _layouts_of_lines() -> Iterator[tuple[str, bytes]]:
    sound = ascii_of(document())
    yield "crlf", sound.replace(b"\n", b"\r\n")
    yield "cr", sound.replace(b"\n", b"\r")
    yield "bom", b"\xef\xbb\xbf" + sound
    yield "utf-16", sound.decode("ascii").encode("utf-16")
    yield "blank-line-first", b"\n" + sound
    yield "blank-line-between", sound.replace(b"ENTITIES\n", b"ENTITIES\n\n")
    yield (
        "codes-padded",
        b"\n".join(
            b"   " + t + b"  " if n % 2 == 0 else t for n, t in enumerate(sound.split(b"\n"))
        ),
    )
    yield (
        "values-padded",
        b"\n".join(t + b"   " if n % 2 else t for n, t in enumerate(sound.split(b"\n"))),
    )
    yield "codes-unpadded", b"\n".join(t.strip() for t in sound.split(b"\n"))
    yield "comments", sound.replace(b"  0\nSECTION", b"999\nby hand\n  0\nSECTION")
    yield "code-no-number", sound.replace(b" 10\n", b" 1O\n")
    yield "code-9999999999", sound.replace(b"ENTITIES\n", b"ENTITIES\n9999999999\nx\n")
    yield "one-long-line", sound.replace(b"\n", b" ")
