"""Entities read in columns from the bytes are what the library reads of them.

Every drawing is read twice: its plain entities right from the file, and all of it by the library.
An entity that is not written plainly is left to the library:

    plain         LINE  LWPOLYLINE of straight pieces  CIRCLE  ARC  POINT  TEXT, one code after the
                  other as most write them
    not plain     bulges, extrusions, codes that come twice, numbers that are none, no handle, codes
                  in texts
"""

from __future__ import annotations

import contextlib
import random
import sys
import warnings
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from conftest import ROOT
from corpus import make_sheet

sys.path.insert(0, str(Path(__file__).parent.parent / "drawing"))
from odd_files import odd_files

from dxf2veneer.drawing import DrawingError
from dxf2veneer.drawing.file.parts import UnsureError
from dxf2veneer.drawing.file.plain import lift_plain
from dxf2veneer.propose import propose
from dxf2veneer.propose.reading import read_scene, reading

ODD = dict(odd_files())


def read_twice(path, **asked):
    """What both ways see of a file: a scene, or that it can't be read."""

    def seen():
        try:
            return read_scene(path, **asked)
        except DrawingError as error:
            return str(error)

    columns = seen()
    with pytest.MonkeyPatch.context() as patch:
        whole = reading.open_source
        patch.setattr(
            reading, "open_source", lambda p, code, _, limits: whole(p, code, None, limits)
        )
        return columns, seen()


def assert_same(path, **asked):
    """Both ways see the same."""
    one, other = read_twice(path, **asked)
    if isinstance(one, str) or isinstance(other, str):
        assert one == other
        return
    np.testing.assert_array_equal(one.segments, other.segments)
    np.testing.assert_array_equal(one.owner, other.owner)
    assert one.entities == other.entities
    assert (one.texts, one.dimensions, one.header) == (other.texts, other.dimensions, other.header)
    assert (one.hidden_layers, one.viewports) == (other.hidden_layers, other.viewports)


def lifted(path):
    """How many entities are read from the bytes."""
    try:
        plain = lift_plain(path.read_bytes(), None).plain
    except UnsureError:
        return 0
    return 0 if plain is None else len(plain.kind)


@pytest.mark.parametrize("seed", [0, 1, 8, 33, 10007, 10020])
def test_sheets_as_people_draw_them(seed, tmp_path):
    path = make_sheet(seed).write(tmp_path / "a.dxf")
    assert lifted(path) > 20
    assert_same(path)
    assert_same(path, include_hidden=True)


@pytest.mark.parametrize("path", sorted((ROOT / "samples").glob("**/*.dxf")), ids=lambda p: p.name)
def test_samples(path):
    assert_same(path)


@pytest.mark.parametrize("name", sorted(ODD))
def test_odd_files(name, tmp_path):
    path = tmp_path / "a.dxf"
    path.write_bytes(ODD[name])
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert_same(path)
        with contextlib.suppress(DrawingError):
            propose(path)


def drawn(version, chance):
    """Lines and polylines, each with some attribute or other, on shown and hidden layers."""
    doc = ezdxf.new(version)
    doc.layers.add("SHOWN")
    doc.layers.add("HIDDEN").off()
    doc.layers.add("COLD").freeze()
    doc.linetypes.add("BROKEN", [1.0, 0.5, -0.5])
    space = doc.modelspace()
    for n in range(120):
        look = {"layer": chance.choice(["SHOWN", "HIDDEN", "COLD", "0", "OF NO TABLE", "ÄUSSERES"])}
        look |= {} if n % 3 else {"color": chance.randrange(0, 257)}
        look |= {} if n % 4 else {"linetype": chance.choice(["BROKEN", "ByLayer"])}
        if version != "R12":
            look |= {"invisible": 1} if n % 7 == 0 else {}
        look |= {"extrusion": (0, 0, -1)} if n % 11 == 0 else {}
        points = [(chance.uniform(-9, 9), chance.uniform(-9, 9)) for _ in range(2 + n % 4)]
        points += [points[0]] if n % 5 == 0 else []
        if n % 13 == 0:
            space.add_text(str(n), height=1.0, dxfattribs=look)
        elif n % 2 or version == "R12":
            made = space.add_line(points[0], points[1], dxfattribs=look)
            if n % 9 == 0 and version != "R12":
                doc.appids.add("OTHERS") if "OTHERS" not in doc.appids else None
                made.set_xdata("OTHERS", [(1000, "text"), (1040, 1.0), (1010, (1.0, 2.0, 3.0))])
        else:
            bulged = [(*p, 0.5 if n % 8 == 0 else 0.0) for p in points]
            space.add_lwpolyline(bulged, format="xyb", close=n % 3 == 0, dxfattribs=look)
    return doc


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
@pytest.mark.parametrize("seed", range(4))
def test_lines_of_every_look(version, seed, tmp_path):
    path = tmp_path / "a.dxf"
    drawn(version, random.Random(seed)).saveas(path)
    assert lifted(path) > 30
    assert_same(path)
    assert_same(path, include_hidden=True)


WORDS = ["103.25", "FRONT  ELEVATION ", "Größe", "%%c 20", r"a\\U+00B2", "^J", " ", "x" * 60]


def drawn_rounds(version, chance):
    """Arcs, circles, points and texts, each with some attribute or other, among blocks in blocks
    that hold the like."""
    doc = ezdxf.new(version)
    doc.layers.add("SHOWN")
    doc.layers.add("HIDDEN").off()
    doc.layers.add("COLD").freeze()
    inner, outer = doc.blocks.new("INNER"), doc.blocks.new("OUTER")
    inner.add_circle((1, 2), 3, dxfattribs={"layer": "SHOWN"})
    inner.add_text("in a block", height=0.3)
    outer.add_arc((0, 0), 2, 10, 200, dxfattribs={"layer": "HIDDEN"})
    outer.add_blockref("INNER", (4, 1), dxfattribs={"xscale": -1.0, "rotation": 30.0})
    space = doc.modelspace()
    for n in range(160):
        look = {"layer": chance.choice(["SHOWN", "HIDDEN", "COLD", "0", "OF NO TABLE", "ÄUSSERES"])}
        look |= {} if n % 3 else {"color": chance.randrange(0, 257)}
        look |= {"invisible": 1} if n % 7 == 0 and version != "R12" else {}
        look |= {"extrusion": (0, 0, -1)} if n % 11 == 0 else {}
        look |= {"extrusion": (0.6, 0, 0.8)} if n % 23 == 0 else {}
        look |= {"thickness": 2.0} if n % 13 == 0 else {}
        at = (chance.uniform(-9, 9), chance.uniform(-9, 9), chance.choice([0.0, 5.0]))
        size = chance.choice([0.0, 0.2, 3.0, 1e5]) if n % 5 == 0 else chance.uniform(0.1, 9)
        turn = [chance.choice([0.0, 90.0, 360.0, -45.0, chance.uniform(-720, 720)]) for _ in "ab"]
        match chance.choice(["ARC", "ARC", "CIRCLE", "POINT", "TEXT", "TEXT", "INSERT"]):
            case "ARC":
                space.add_arc(at, size, *turn, dxfattribs=look)
            case "CIRCLE":
                space.add_circle(at, size, dxfattribs=look)
            case "POINT":
                space.add_point(at, dxfattribs=look)
            case "TEXT":
                look |= {"rotation": turn[0]} if n % 2 else {}
                look |= {"width": chance.uniform(0.5, 2.0)} if n % 4 == 0 else {}
                look |= {"oblique": 15.0} if n % 9 == 0 else {}
                text = space.add_text(
                    chance.choice([*WORDS, str(n)]), height=size + 0.1, dxfattribs=look
                )
                text.dxf.insert = at
                if n % 3 == 0:
                    text.dxf.halign, text.dxf.valign = chance.randrange(6), chance.randrange(4)
                    if n % 2:
                        text.dxf.align_point = (at[0] + 2.0, at[1] + 1.0)
            case "INSERT":
                look.pop("thickness", None)
                space.add_blockref("OUTER", at, dxfattribs=look)
    return doc


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
@pytest.mark.parametrize("seed", range(6))
def test_arcs_and_texts_of_every_look(version, seed, tmp_path):
    path = tmp_path / "a.dxf"
    drawn_rounds(version, random.Random(seed)).saveas(path)
    assert lifted(path) > 30
    assert_same(path)
    assert_same(path, include_hidden=True)


PLAIN_LINE = ["LINE", "5", "FF1", "100", "AcDbEntity", "8", "0", "100", "AcDbLine"]
PLAIN_LINE += ["10", "1.0", "20", "2.0", "30", "0.0", "11", "4.0", "21", "6.0", "31", "0.0"]


HEAD = ["5", "FF1", "100", "AcDbEntity", "8", "0", "100"]
PLAIN = {
    "POINT": [*HEAD, "AcDbPoint", "10", "1.0", "20", "2.0", "30", "0.0"],
    "CIRCLE": [*HEAD, "AcDbCircle", "10", "1.0", "20", "2.0", "30", "0.0", "40", "2.5"],
    "ARC": [
        *(*HEAD, "AcDbCircle", "10", "1.0", "20", "2.0", "30", "0.0", "40", "2.5"),
        *("100", "AcDbArc", "50", "30.0", "51", "120.0"),
    ],
    "TEXT": [
        *(*HEAD, "AcDbText", "10", "1.0", "20", "2.0", "30", "0.0", "40", "2.5", "1", "NOTE"),
        *("72", "1", "11", "4.0", "21", "5.0", "31", "0.0", "100", "AcDbText", "73", "2"),
    ],
}
"""The codes and values of an entity of each kind as most write them."""


def with_line(path, words):
    """A drawing with a few lines, and one more that is written in these words."""
    doc = ezdxf.new("R2010")
    for n in range(6):
        doc.modelspace().add_line((0, n), (5, n))
    doc.saveas(path)
    text = path.read_text(encoding="utf-8")
    before, after = text.rsplit("  0\nENDSEC\n  0\nSECTION\n  2\nOBJECTS", 1)
    own = "\n".join(["  0", *words, ""])
    whole = f"{before}{own}  0\nENDSEC\n  0\nSECTION\n  2\nOBJECTS{after}"
    path.write_text(whole, encoding="utf-8")
    return path


def replaced(old, *new):
    """The line with some of its words instead of one code and value."""
    at = next(i for i in range(1, len(PLAIN_LINE), 2) if PLAIN_LINE[i] == old)
    return [*PLAIN_LINE[:at], *new, *PLAIN_LINE[at + 2 :]]


def test_a_plain_line_is_read_from_the_bytes(tmp_path):
    path = with_line(tmp_path / "a.dxf", PLAIN_LINE)
    assert lifted(path) == 6  # of seven: the first on each layer stays
    assert_same(path)
    np.testing.assert_array_equal(read_scene(path).segments[-1], [1.0, 2.0, 4.0, 6.0])


@pytest.mark.parametrize(
    "words",
    [
        replaced("10", "10", "1.0", "10", "3.0"),
        replaced("20"),
        replaced("20", "20", "two"),
        replaced("20", "20", "nan"),
        replaced("20", "20", "2.0" + "0" * 60),
        replaced("8", "8", "A/B"),
        replaced("8", "8", " 0"),
        replaced("8"),
        replaced("5"),
        replaced("5", "5", "NONE"),
        replaced("8", "8", "0", "62", "999"),
        replaced("8", "8", "0", "62", "red"),
        replaced("8", "8", "0", "60", "1"),
        replaced("8", "8", "0", "67", "1"),
        replaced("8", "8", "0", "102", "{OTHERS", "330", "1F", "102", "}"),
        replaced("31", "31", "0.0", "210", "0.0", "220", "0.0", "230", "-1.0"),
        replaced("31", "11", "9.0"),
        replaced("30"),
        replaced("31", "31", "0.0", "1001", "OTHERS", "1000", "text"),
        ["LINE", "5", "FF1", "8", "0", *PLAIN_LINE[9:]],
        ["LINE", "5", "FF1", "100", "AcDbLine", "8", "0", "100", "AcDbEntity", *PLAIN_LINE[9:]],
    ],
    ids=lambda words: " ".join(words)[:60],
)
def test_lines_that_are_written_otherwise(words, tmp_path):
    assert_same(with_line(tmp_path / "a.dxf", words))


def otherwise(kind, old, *new):
    """An entity of a kind with some of its words instead of one code and value."""
    words = PLAIN[kind]
    at = next(i for i in range(0, len(words), 2) if words[i] == old)
    return [kind, *words[:at], *new, *words[at + 2 :]]


@pytest.mark.parametrize("kind", PLAIN)
def test_each_kind_is_read_from_the_bytes(kind, tmp_path):
    path = with_line(tmp_path / "a.dxf", [kind, *PLAIN[kind]])
    assert lifted(path) == 6  # of seven: the first on each layer stays
    assert_same(path)


def test_an_arc_from_the_bytes_lies_on_its_circle(tmp_path):
    path = with_line(tmp_path / "a.dxf", ["ARC", *PLAIN["ARC"]])
    seen = read_scene(path)
    points = seen.segments_of(len(seen.entities) - 1).reshape(-1, 2)
    np.testing.assert_allclose(np.hypot(*(points - (1.0, 2.0)).T), 2.5)
    np.testing.assert_allclose(points[0], (1.0 + 2.5 * 0.75**0.5, 3.25))  # 30 degrees
    np.testing.assert_allclose(points[-1], (-0.25, 2.0 + 2.5 * 0.75**0.5))  # 120 degrees


def test_a_text_from_the_bytes_stands_at_its_second_point(tmp_path):
    path = with_line(tmp_path / "a.dxf", ["TEXT", *PLAIN["TEXT"]])
    (text,) = read_scene(path).texts
    assert (text.text, text.x, text.y, text.height) == ("NOTE", 4.0, 5.0, 2.5)
    x0, y0, x1, y1 = text.box  # centred, and its middle on the point
    assert ((x0 + x1) / 2, (y0 + y1) / 2, y1 - y0) == pytest.approx((4.0, 5.0, 2.5))


@pytest.mark.parametrize(
    "words",
    [
        otherwise("ARC", "40"),
        otherwise("ARC", "40", "40", "-2.5"),
        otherwise("ARC", "40", "40", "0.0"),
        otherwise("ARC", "40", "40", "inf"),
        otherwise("ARC", "40", "40", "1e300"),
        otherwise("ARC", "50"),
        otherwise("ARC", "50", "50", "nan"),
        otherwise("ARC", "51", "51", "30.0"),
        otherwise("ARC", "51", "51", "120.0", "210", "0.0", "220", "0.0", "230", "-1.0"),
        otherwise("ARC", "40", "40", "2.5", "50", "0.0"),
        otherwise("ARC", "100", "100", "AcDbCircle"),
        ["ARC", "5", "FF1", "8", "0", *PLAIN["ARC"][8:20]],
        otherwise("CIRCLE", "40", "40", "2.5", "38", "9.0"),
        otherwise("CIRCLE", "40", "40", "two"),
        otherwise("CIRCLE", "10", "10", "1e13"),
        otherwise("TEXT", "1"),
        otherwise("TEXT", "1", "1", ""),
        otherwise("TEXT", "1", "1", "   "),
        otherwise("TEXT", "1", "1", "%%uNOTE"),
        otherwise("TEXT", "1", "1", r"\U+00D8 20"),
        otherwise("TEXT", "1", "1", "two^Jlines"),
        otherwise("TEXT", "1", "1", "Größe"),
        otherwise("TEXT", "1", "1", "long " * 30),
        otherwise("TEXT", "40", "40", "0.0"),
        otherwise("TEXT", "40", "40", "2.5", "41", "-1.0"),
        otherwise("TEXT", "40", "40", "2.5", "41", "0.8", "50", "33.0"),
        otherwise("TEXT", "72", "72", "9"),
        otherwise("TEXT", "72", "72", "3"),
        otherwise("TEXT", "72", "72", "1.0"),
        otherwise("TEXT", "73", "73", "7"),
        otherwise("TEXT", "73"),
        otherwise("TEXT", "1", "1", "NOTE", "7", "NO SUCH STYLE", "71", "2"),
        otherwise("POINT", "8", "8", "A/B"),
        otherwise("POINT", "30"),
        otherwise("POINT", "30", "30", "0.0", "1001", "OTHERS", "1010", "1.0"),
    ],
    ids=lambda words: " ".join(words)[:80],
)
def test_arcs_and_texts_that_are_written_otherwise(words, tmp_path):
    assert_same(with_line(tmp_path / "a.dxf", words))
