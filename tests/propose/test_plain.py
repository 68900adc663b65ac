"""Lines read in columns from the bytes are what the library reads of them.

Every drawing is read twice: its plain lines and polylines right from the file, and all of it by the
library. An entity that is not written plainly is left to the library:

    plain         LINE  LWPOLYLINE of straight pieces, one code after the other as most write them
    not plain     bulges, extrusions, codes that come twice, numbers that are none, no handle
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


PLAIN_LINE = ["LINE", "5", "FF1", "100", "AcDbEntity", "8", "0", "100", "AcDbLine"]
PLAIN_LINE += ["10", "1.0", "20", "2.0", "30", "0.0", "11", "4.0", "21", "6.0", "31", "0.0"]


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
