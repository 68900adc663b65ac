"""Reading only what is asked for gives what reading everything gives.

Every drawing here is read twice: with what is not wanted left out, and whole. A made drawing:

    model space   outlines, lines, hatches, texts, dimensions on wanted, other, hidden and
                  undeclared layers, references to HOUSE on any of them, with and without attributes
    block HOUSE -> block BAY -> block SASH, each with content on any layer, on layer 0 among them
"""

from __future__ import annotations

import io
import random
from pathlib import Path

import ezdxf
import pytest
from conftest import ROOT
from drawings import job, sheet
from hypothesis import given, settings
from hypothesis import strategies as st
from odd_files import ascii_of, binary_of, cut_files, document, entities, flipped_files, odd_files

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.drawing import DrawingError, load, load_drawing
from dxf2veneer.drawing.content import wanted_of
from dxf2veneer.drawing.file import source
from dxf2veneer.drawing.file.parts import UnsureError
from dxf2veneer.drawing.file.skim import skim
from dxf2veneer.wording import error_line, say
from dxf2veneer.writers.overlay import write_overlay

WANTED = ("A-WALL", "A-OPNG", "A-NAME")
OTHERS = (
    "A-DETL",
    "A-wall-2",
    "G-ANNO",
    "0",
    "HIDDEN",
    "UNDECLARED",
    "Undeclared-2",
    "123",
    "ÄUSSERES",
)
ASKED = job(layers__wall=("A-WALL", "SAMPLE-*"), layers__name=("A-NAME",))
SAMPLES = job(
    layers__wall=("A-WALL", "A-ELEV-OTLN"),
    layers__opening=("A-OPNG", "A-ELEV-GLAZ"),
    layers__name=("A-ELEV-IDEN",),
)


def read_twice(path: Path, asked=ASKED):
    """What reading part of the file and reading the whole of it give: a drawing, or the error's
    text."""

    def outcome():
        try:
            return load_drawing(path, asked, 0)
        except DrawingError as error:
            return error_line(error)

    part = outcome()
    with pytest.MonkeyPatch.context() as patch:
        whole_source = load.open_source
        patch.setattr(
            load,
            "open_source",
            lambda path, encoding, wanted, **limits: whole_source(path, encoding, **limits),
        )
        return part, outcome()


def is_skimmed(content: bytes, asked=ASKED) -> bool:
    """Whether anything is left out of that content."""
    try:
        return len(skim(content, asked.drawing.encoding, wanted_of(asked)).content) < len(content)
    except UnsureError:
        return False


# ------------------------------------------------------------- made drawings

layers = st.sampled_from(WANTED + OTHERS)
spots = st.tuples(st.integers(-500, 500), st.integers(-500, 500))
TEXTS = (
    "A-WALL",
    "0",
    "8",
    "ENTITIES",
    "ALL DIMENSIONS IN MM",
    "SCALE 1:50",
    "  0",
    "ENDSEC",
    "Fläche",
    "12'-6\"",
)


def polyline(space, box, on, text):
    """A polyline with vertices of its own, some of them on a wanted layer."""
    for vertex in space.add_polyline2d(box, close=True, dxfattribs=on).vertices[::2]:
        vertex.dxf.layer = "A-WALL"


DRAW = {
    "line": lambda space, box, on, text: space.add_line(box[0], box[2], dxfattribs=on),
    "outline": lambda space, box, on, text: space.add_lwpolyline(box, close=True, dxfattribs=on),
    "polyline": polyline,
    "circle": lambda space, box, on, text: space.add_circle(box[0], 9, dxfattribs=on),
    "hatch": lambda space, box, on, text: space.add_hatch(dxfattribs=on).paths.add_polyline_path(
        box, is_closed=True
    ),
    "text": lambda space, box, on, text: space.add_text(text, dxfattribs={**on, "insert": box[0]}),
    "mtext": lambda space, box, on, text: space.add_mtext(
        text, dxfattribs={**on, "insert": box[0]}
    ),
    "dimension": lambda space, box, on, text: space.add_linear_dim(
        box[3], box[0], box[1], text=text, dxfattribs=on
    ).render(),
    "point": lambda space, box, on, text: space.add_point(box[0], dxfattribs=on),
    "solid": lambda space, box, on, text: space.add_solid(box, dxfattribs=on),
    "spline": lambda space, box, on, text: space.add_spline(
        [box[0], box[2], box[1]], dxfattribs=on
    ),
}
IN_R12 = {"outline": "polyline", "mtext": "text", "spline": "line", "hatch": "solid"}
"""What stands in for kinds that R12 lacks."""


def add(space, kind, layer, at, text, r12):
    """Draw one entity."""
    x, y = at
    box = [(x, y), (x + 40, y), (x + 40, y + 70), (x, y + 70)]
    DRAW[IN_R12.get(kind, kind) if r12 else kind](space, box, {"layer": layer}, text)


def refer(space, block, layer, at, tag):
    """Place a block, with an attribute where a layer for it is given."""
    reference = space.add_blockref(block, at, dxfattribs={"layer": layer, "xscale": 2})
    if tag:
        reference.add_attrib("NO", "W1", at, dxfattribs={"layer": tag})


references = st.lists(
    st.tuples(st.sampled_from(("HOUSE", "BAY", "Sash", "GONE")), layers, spots, st.none() | layers),
    max_size=4,
)


def contents(most):
    """Some entities: (kind, layer, place, text)."""
    return st.lists(
        st.tuples(st.sampled_from(list(DRAW)), layers, spots, st.sampled_from(TEXTS)), max_size=most
    )


@st.composite
def drawings(draw):
    """A made drawing's document."""
    version = draw(st.sampled_from(("R12", "R2000", "R2004", "R2007", "R2010", "R2018")))
    doc, r12 = ezdxf.new(version, units=1), version == "R12"
    for name in {*WANTED, *OTHERS[:5], "123"} - {"0"}:
        doc.layers.add(name)
    doc.layers.get("HIDDEN").freeze()
    if draw(st.booleans()):
        doc.layers.get(draw(st.sampled_from(WANTED))).off()
    inner = {"HOUSE": "BAY", "BAY": "SASH", "SASH": None}
    for name in draw(st.permutations(list(inner))):
        block = doc.blocks.new(name)
        _fill(block, draw(contents(3)), r12)
        for _, layer, at, tag in draw(references)[:2] if inner[name] else ():
            refer(block, inner[name], layer, at, tag)
    _fill(doc.modelspace(), draw(contents(8)), r12)
    for item in draw(references):
        refer(doc.modelspace(), *item)
    _fill(doc.modelspace(), draw(st.sampled_from([[], [("outline", "A-WALL", (0, 0), "")]])), r12)
    _fill(doc.paperspace(), draw(contents(2)), r12)
    return doc


def _fill(space, items, r12):
    for item in items:
        add(space, *item, r12)


def padded(content: bytes, width: int) -> bytes:
    """The file with its group codes right-aligned to a width."""
    lines = content.split(b"\n")
    return b"\n".join(
        line.strip().rjust(width) if n % 2 == 0 and line.strip() else line
        for n, line in enumerate(lines)
    )


@settings(
    deadline=None, max_examples=settings().max_examples // 3
)  # each drawing is made, written and read three times
@given(
    doc=drawings(),
    width=st.sampled_from((0, 3, 6)),
    ends=st.sampled_from((b"\n", b"\r\n")),
    encoding=st.sampled_from((None, "gbk", "utf-8")),
)
def test_part_and_whole_are_the_same(doc, width, ends, encoding, tmp_path_factory):
    path = tmp_path_factory.mktemp("made") / "drawing.dxf"
    content = padded(ascii_of(doc), width).replace(b"\n", ends)
    path.write_bytes(content)
    asked = (
        ASKED
        if encoding is None
        else job(layers__wall=("A-WALL",), layers__name=("A-NAME",), drawing__encoding=encoding)
    )
    part, whole = read_twice(path, asked)
    assert part == whole
    skim(content, encoding, wanted_of(asked))  # raises where it is not sure


# ------------------------------------------------------------- drawings at hand

OLD = {
    **dict(odd_files()),
    **dict(cut_files([ROOT / "samples" / "gatehouse.dxf"])),
    **dict(flipped_files()),
}


@pytest.mark.parametrize("name", OLD)
def test_odd_files_read_the_same(name, tmp_path):
    path = tmp_path / "odd.dxf"
    path.write_bytes(OLD[name])
    part, whole = read_twice(path, SAMPLES)
    assert part == whole


SHARED = sorted((ROOT.parent / "shared" / "drawings").glob("*.dxf"))


@pytest.mark.parametrize(
    "path", [*sorted((ROOT / "samples").glob("*.dxf")), *SHARED], ids=lambda p: p.stem
)
def test_drawings_read_the_same_whichever_layer_is_wanted(path):
    document = ezdxf.readfile(path)
    names = sorted({layer.dxf.name for layer in document.layers})
    chosen = random.Random(5).sample(names, min(4, len(names)))
    for name in chosen:
        part, whole = read_twice(path, job(layers__wall=(name,), drawing__units="in"))
        assert part == whole
        assert is_skimmed(path.read_bytes(), job(layers__wall=(name,)))


# ------------------------------------------------------------- one matter each


def drawn(*, wall="A-WALL", version="R2018", junk=50):
    """The elevation of the odd files, with lines on another layer."""
    doc = document(version, wall)
    for x in range(junk):
        doc.modelspace().add_line((x, 0), (x, 9), dxfattribs={"layer": "A-DETL"})
    return doc


LEFT_OUT = {
    "plain": ascii_of(drawn()),
    "cr-lf": ascii_of(drawn()).replace(b"\n", b"\r\n"),
    "r12": ascii_of(drawn(version="R12")),
    "umlaut": ascii_of(drawn()).replace(b"A-DETL", "ÄUSSERES".encode()),
    "chinese": ascii_of(drawn()).replace(b"A-DETL", "外墙".encode()),
    "number": ascii_of(drawn()).replace(b"A-DETL", b"0815"),
    "wildcard": ascii_of(drawn()).replace(b"A-DETL", b"A-DET[*]?"),
    "after-the-end": ascii_of(drawn()) + b"999\nby hand\n",
    "comment": ascii_of(drawn()).replace(b"  0\nLINE", b"999\n  0\n  0\nLINE", 3),
}


@pytest.mark.parametrize("name", LEFT_OUT)
def test_what_is_not_asked_for_is_left_out(name):
    content = LEFT_OUT[name]
    rest = skim(content, None, wanted_of(ASKED))
    assert rest.content.count(b"LINE\n") - rest.content.count(b"POLYLINE\n") <= 1


NOT_SURE = {
    "mixed line ends": ascii_of(drawn()).replace(b"\n", b"\r\n", 40),
    "carriage returns alone": ascii_of(drawn()).replace(b"\n", b"\r"),
    "a group code that is none": ascii_of(drawn()).replace(b" 10\n", b" 1O\n", 1),
    "padding after the code": ascii_of(drawn()).replace(b"AcDbLine\n 10\n", b"AcDbLine\n 10 \n", 1),
    "leading zeros": ascii_of(drawn()).replace(b"  8\nA-DETL", b"008\nA-DETL", 1),
    "no handles": entities(" ".join(["0 LINE 8 A-WALL 10 0 20 0 11 9 21 9"] * 9)),
    "two sections of entities": ascii_of(drawn()).replace(b"  2\nOBJECTS", b"  2\nENTITIES"),
    "an odd line": ascii_of(drawn()).replace(b"ENTITIES\n", b"ENTITIES\n\n"),
}


@pytest.mark.parametrize("name", NOT_SURE)
def test_what_is_not_sure_is_left_to_the_full_reader(name):
    content = NOT_SURE[name]
    with pytest.raises(UnsureError):
        skim(content, None, wanted_of(ASKED))


def test_binary_files_are_left_to_the_full_reader():
    stream = io.BytesIO()
    drawn().write(stream, fmt="bin")
    with pytest.raises(UnsureError):
        skim(stream.getvalue(), None, wanted_of(ASKED))


def test_values_that_look_like_structure_are_values(tmp_path):
    """A text of one nought, and integers that read like group codes."""
    path = tmp_path / "drawing.dxf"
    path.write_text(sheet(
        "0 TEXT 5 A1 8 A-DETL 10 0 20 0 40 1 1 0 0 LINE 5 A2 8 A-DETL 62 8 10 0 20 0 11 5 21 5 "
        "0 CIRCLE 5 A3 8 A-WALL 10 9 20 9 40 5 "
        "0 TEXT 5 A4 8 A-DETL 10 0 20 0 40 1 1 A-WALL"
    ))  # fmt: skip
    part, whole = read_twice(path)
    assert part == whole
    assert [s.handle for s in part.shapes] == ["A3"]
    rest = skim(path.read_bytes(), None, wanted_of(ASKED)).content
    assert [handle in rest for handle in (b"A1", b"A2", b"A3", b"A4")] == [
        True,
        False,
        True,
        False,
    ]  # no table has A-DETL, so one of its entities stays


def test_layers_of_no_table_are_told_once_and_their_other_entities_left_out():
    text = " ".join(
        f"0 LINE 5 {n:X} 8 LOOSE-{n % 3} 10 {n} 20 0 11 {n} 21 9" for n in range(16, 76)
    )
    rest = skim(sheet(text).encode(), None, wanted_of(ASKED))
    assert [rest.content.count(b"LOOSE-%d" % n) for n in range(3)] == [1, 1, 1]


# ------------------------------------------------------------- large drawings


@pytest.mark.parametrize(
    ("asked", "slow"),
    [
        ({}, False),
        ({"output__dxf_version": "R12"}, True),
        ({"output__binary": True}, True),
        ({"output__binary": True, "output__overlay_only": True}, False),
    ],
)
def test_large_drawings_say_which_way_is_faster(asked, slow, tmp_path, monkeypatch):
    (tmp_path / "drawing.dxf").write_bytes(ascii_of(drawn()))
    monkeypatch.setattr(load, "WHOLE_COPY_BYTES", 1000)
    told = load_drawing(tmp_path / "drawing.dxf", job(**asked), 0).notices
    assert ["is faster without" in say(n.message) for n in told if n.code == "WHOLE_COPY"] == [
        True
    ] * slow


@pytest.mark.parametrize(
    ("content", "overlay_only", "reads"),
    [(ascii_of, True, 1), (ascii_of, False, 1), (binary_of, True, 1), (binary_of, False, 1)],
    ids=["text-alone", "text-copied", "binary-alone", "binary-copied"],
)
def test_whole_drawing_is_read_once(content, overlay_only, reads, tmp_path, monkeypatch):
    path, asked = (
        tmp_path / "drawing.dxf",
        job(output__overlay_only=overlay_only, plan__panels=False),
    )
    path.write_bytes(content(drawn()))
    wholes = []

    def whole(*given, read=source.document_in):
        wholes.append(given)
        return read(*given)

    monkeypatch.setattr(source, "document_in", whole)
    kept = {}
    takeoff = take_off([path], asked, keep=kept.__setitem__)
    assert set(kept) == (set() if overlay_only else {path})
    write_overlay(takeoff, takeoff.drawings[0], path, tmp_path / "copy.dxf", kept.get(path))
    assert len(wholes) == reads
    write_overlay(takeoff, takeoff.drawings[0], path, tmp_path / "anew.dxf")
    assert (tmp_path / "anew.dxf").read_bytes() == (tmp_path / "copy.dxf").read_bytes()


@pytest.mark.parametrize("each", [False, True])
def test_the_command_reads_a_binary_drawing_once(each, tmp_path, monkeypatch):
    path = tmp_path / "drawing.dxf"
    path.write_bytes(binary_of(drawn()))
    wholes = []

    def whole(*given, read=source.document_in):
        wholes.append(given)
        return read(*given)

    monkeypatch.setattr(source, "document_in", whole)
    options = [
        "--wall-layer",
        "A-WALL",
        "--no-plan",
        "-o",
        str(tmp_path / "out"),
        *(["--each", "--workers", "1"] if each else []),
    ]
    main(["takeoff", str(path), *options], standalone_mode=False)
    assert len(wholes) == 1
    assert (tmp_path / "out" / "drawing-courses.dxf").exists()
