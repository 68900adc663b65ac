"""The overlay of a text drawing is the drawing's bytes with ours between them.

    theirs ... | ours | theirs ... | ours | theirs      taking ours out again gives the drawing

What is ours is found here line by line, by a reader that shares nothing with the writer: entries of
tables whose names are ours and were not there, entities with our extended data, a seal in front.
"""

from __future__ import annotations

import re
from pathlib import Path as File

import ezdxf
import pytest
from builders import drawing, job, write_dxf
from ezdxf import recover
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dxf2veneer.app.course_advice import advise
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.advice import Leave
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.advised import write_advised
from dxf2veneer.writers.overlay.graft.anatomy import VERSIONS

OURS = (b"DXF2VENEER", b"VENR-", b"A-ELEV-VENR-")
ASKED = job(plan__panels=False, drawing__units="in")
FRONT = drawing(wall=[(0, 0, 240, 96)], window=[(60, 30, 96, 62)])

MINIMAL = """0
SECTION
2
ENTITIES
0
POLYLINE
8
WALL
66
1
70
1
0
VERTEX
8
WALL
10
0
20
0
0
VERTEX
8
WALL
10
240
20
0
0
VERTEX
8
WALL
10
240
20
96
0
VERTEX
8
WALL
10
0
20
96
0
SEQEND
8
WALL
0
ENDSEC
0
EOF
"""
"""The least R12 drawing: no header, no tables, no handles."""


def overlay_of(source: File) -> File:
    """The overlay of a drawing, beside it."""
    target = source.with_name("courses.dxf")
    made = take_off([source], ASKED)
    write_overlay(made, made.drawings[0], source, target)
    return target


def advised_of(source: File) -> File:
    """Its copy with coursing advice, beside it: the window of 30 to 62 stands off every line."""
    target = source.with_name("advice.dxf")
    leaves = (Leave("window", 2.0),)
    made = advise([source], job(plan__panels=False, drawing__units="in", advice__may_move=leaves))
    assert made.groups[0].proposals
    write_advised(made, made.drawings[0], source, target)
    return target


def structures(content: bytes) -> list[bytes]:
    """A file cut in front of every group code 0, a leading comment by itself."""
    lines = content.splitlines(keepends=True)
    seal = 2 if lines[0].strip() == b"999" and b"dxf2veneer-" in lines[1] else 0
    cut = [b"".join(lines[:seal])] if seal else []
    for code, value in zip(lines[seal::2], lines[seal + 1 :: 2], strict=False):
        if code.strip() == b"0" or not cut or (seal and len(cut) == 1):
            cut.append(b"")
        cut[-1] += code + value
    rest = (len(lines) - seal) % 2
    return cut + ([lines[-1]] if rest else [])


def is_ours_alone(entry: bytes) -> bool:
    """Whether a structure can only have come from an overlay."""
    lines = [line.strip() for line in entry.splitlines()]
    if lines[0] == b"999":
        return True
    pairs = list(zip(lines[0::2], lines[1::2], strict=False))
    if pairs[0][1] in (b"LTYPE", b"LAYER", b"STYLE", b"APPID"):
        return next((v for c, v in pairs if c == b"2"), b"").startswith(OURS)
    return (b"1001", b"DXF2VENEER") in pairs


def taken_out(copy: bytes, source: bytes) -> bytes:
    """The copy without what is ours, the seed of handles as the source has it."""
    kept, owned = [], False
    for entry in structures(copy):
        kind = entry.split(b"\n")[1].strip() if entry.count(b"\n") > 1 else b""
        owned = (owned and kind in (b"VERTEX", b"SEQEND")) or is_ours_alone(entry)
        if not owned:
            kept.append(entry)
    seed = rb"(\$HANDSEED\s+5\s+)([0-9A-Fa-f]+)"
    before = re.search(seed, source)
    joined = b"".join(kept)
    return re.sub(seed, lambda m: m[1] + before[2], joined, count=1) if before else joined


def seed_of(content: bytes) -> int:
    return int(re.search(rb"\$HANDSEED\s+5\s+([0-9A-Fa-f]+)", content)[1], 16)


def handles_of(content: bytes) -> list[int]:
    """Handles of entities, blocks and entries, in the order of the file."""
    found = []
    for entry in structures(content):
        lines = [line.strip() for line in entry.splitlines()]
        pairs = list(zip(lines[0::2], lines[1::2], strict=False))
        code = b"105" if pairs[0][1] == b"DIMSTYLE" else b"5"
        own = next((v for c, v in pairs if c == code), None)
        if own and not any(c == b"9" for c, _ in pairs):
            found.append(int(own, 16))
    return found


@pytest.mark.parametrize("made_by", [overlay_of, advised_of])
@pytest.mark.parametrize("ends", [b"\n", b"\r\n"], ids=["lf", "crlf"])
@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
def test_without_what_is_ours_the_copy_is_the_drawing(tmp_path, version, ends, made_by):
    source = write_dxf(FRONT, tmp_path / "front.dxf", version=version)
    plain = source.read_bytes().replace(b"\r\n", b"\n")
    # a comment of the user's in the header and among the tables
    plain = plain.replace(b"  0\nENDSEC", b"999\nkept as it is\n  0\nENDSEC", 2)
    source.write_bytes(plain.replace(b"\n", ends))
    target = made_by(source)
    before, after = source.read_bytes(), target.read_bytes()
    assert taken_out(after, before) == before != after
    assert after.count(b"\r\n") == (after.count(b"\n") if ends == b"\r\n" else 0)
    assert after.count(b"kept as it is") == 2
    assert len(set(handles_of(after))) == len(handles_of(after))
    assert seed_of(before) <= max(handles_of(after)) < seed_of(after)
    document = ezdxf.readfile(target)
    auditor = document.audit()
    assert auditor.errors == [] and auditor.fixes == []
    assert document.acad_release == version
    assert is_ours(target)


def test_advice_and_overlay_take_each_other_out_and_leave_the_drawing(tmp_path):
    source = write_dxf(FRONT, tmp_path / "front.dxf")
    over = source.with_name("over.dxf")
    over.write_bytes(advised_of(source).read_bytes())
    target = overlay_of(over)
    assert taken_out(target.read_bytes(), source.read_bytes()) == source.read_bytes()
    assert b"advised" not in target.read_bytes()


def test_owners_are_model_space_and_the_tables(tmp_path):
    target = overlay_of(write_dxf(FRONT, tmp_path / "front.dxf"))
    text = target.read_text("utf-8")
    document = ezdxf.readfile(target)
    space = document.block_records.get("*Model_Space").dxf.handle
    entities = text[text.index("ENTITIES") : text.index("OBJECTS")]
    assert set(re.findall(r"\n330\n([0-9A-F]+)", entities)) == {space}
    for table in (document.layers, document.linetypes, document.styles, document.appids):
        assert {entry.dxf.owner for entry in table} == {table.head.dxf.handle}
    normal = document.layers.get("0").dxf.plotstyle_handle
    assert {layer.dxf.plotstyle_handle for layer in document.layers} == {normal}


def test_the_least_r12_drawing_gets_tables_and_no_handles(tmp_path):
    source = tmp_path / "front.dxf"
    source.write_text(MINIMAL)
    target = overlay_of(source)
    document = ezdxf.readfile(target)
    assert document.audit().errors == []
    assert document.layers.get("A-ELEV-VENR-CRSE").dxf.color == 92
    assert "VENR-DASH" in document.linetypes
    assert MINIMAL.encode().split(b"ENTITIES")[1][:-20] in target.read_bytes()
    assert handles_of(target.read_bytes()) == []


@pytest.mark.parametrize("code", ["AC1012", "AC1014"])
def test_r13_and_r14_keep_their_version(tmp_path, code):
    source = write_dxf(FRONT, tmp_path / "front.dxf", version="R2000")
    source.write_bytes(source.read_bytes().replace(b"AC1015", code.encode()))
    target = overlay_of(source)
    assert taken_out(target.read_bytes(), source.read_bytes()) == source.read_bytes()
    assert ezdxf.readfile(target).loaded_dxfversion == code
    ours = [e for e in ezdxf.readfile(target).modelspace() if e.has_xdata("DXF2VENEER")]
    assert {e.dxftype() for e in ours} <= {"LINE", "POLYLINE", "TEXT"}


def test_texts_are_written_in_the_code_page_of_the_drawing(tmp_path):
    source = write_dxf(
        drawing(wall=[(0, 0, 240, 96)], texts=[("name", "Sünd", (120, 48))]),
        tmp_path / "front.dxf",
        version="R2000",
    )
    assert b"ANSI_1252" in source.read_bytes() and b"S\xfcnd" in source.read_bytes()
    assert overlay_of(source).read_bytes().count(b"S\xfcnd") > source.read_bytes().count(b"S\xfcnd")


def test_a_wrong_seed_gives_no_handle_twice(tmp_path):
    source = write_dxf(FRONT, tmp_path / "front.dxf")
    source.write_bytes(re.sub(rb"(\$HANDSEED\s+5\s+)[0-9A-F]+", rb"\g<1>2", source.read_bytes()))
    after = overlay_of(source).read_bytes()
    assert len(set(handles_of(after))) == len(handles_of(after))
    assert seed_of(after) > max(handles_of(after))


def test_an_overlay_over_an_overlay_is_the_drawing_with_one(tmp_path):
    first = overlay_of(write_dxf(FRONT, tmp_path / "front.dxf"))
    again = tmp_path / "again"
    again.mkdir()
    source = again / "front.dxf"
    source.write_bytes(first.read_bytes())
    second = overlay_of(source)
    drawn = (tmp_path / "front.dxf").read_bytes()
    assert taken_out(second.read_bytes(), drawn) == drawn
    count = [len(ezdxf.readfile(path).modelspace()) for path in (first, second)]
    assert count[0] == count[1]
    assert is_ours(second) and ezdxf.readfile(second).audit().errors == []


def test_layers_of_our_names_stay_as_the_user_has_them(tmp_path):
    source = write_dxf(FRONT, tmp_path / "front.dxf")
    document = ezdxf.readfile(source)
    document.layers.add("a-elev-venr-crse", color=51, lineweight=9)
    document.saveas(source)
    target = overlay_of(source)
    assert target.read_bytes().count(b"a-elev-venr-crse") == 1
    copy = ezdxf.readfile(target)
    assert copy.layers.get("A-ELEV-VENR-CRSE").dxf.color == 51
    assert copy.audit().errors == []


def test_a_salvaged_drawing_is_copied_with_its_damage(tmp_path):
    source = write_dxf(FRONT, tmp_path / "front.dxf")
    broken = b"  0\nLINE\n  5\nFFF0\n100\nAcDbEntity\n  8\nWALL\n 10\nnot a number\n 20\n0.0\n"
    content = source.read_bytes().replace(b"\r\n", b"\n")
    at = content.index(b"  0\nENDSEC", content.index(b"ENTITIES"))
    source.write_bytes(content[:at] + broken + content[at:])
    with pytest.raises(Exception, match=r"float|number|Invalid"):
        ezdxf.readfile(source)
    target = overlay_of(source)
    assert taken_out(target.read_bytes(), source.read_bytes()) == source.read_bytes()
    assert len(take_off([target], ASKED).walls) == 1


KINDS = ("line", "text", "mtext", "hatch", "insert", "dimension", "spline", "xdata", "point")


@settings(
    deadline=None, max_examples=12, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    version=st.sampled_from(["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]),
    kinds=st.lists(st.sampled_from(KINDS), max_size=12),
    seed=st.integers(0, 2**32),
    ends=st.sampled_from([b"\n", b"\r\n"]),
)
def test_random_drawings_are_kept_to_the_byte(tmp_path, version, kinds, seed, ends):
    source = write_dxf(FRONT, tmp_path / "front.dxf", version=version)
    document = ezdxf.readfile(source)
    fill(document, kinds, seed)
    document.saveas(source)
    source.write_bytes(source.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", ends))
    target = overlay_of(source)
    assert taken_out(target.read_bytes(), source.read_bytes()) == source.read_bytes()
    assert ezdxf.readfile(target).audit().errors == []
    _, auditor = recover.readfile(target)
    assert auditor.errors == []


def fill(document, kinds, seed) -> None:
    """Entities of some kinds in a drawing, at places that follow from a seed."""
    space = document.modelspace()
    block = document.blocks.new("MARK")
    block.add_circle((0, 0), 6)
    block.add_attdef("NO", (0, 0), dxfattribs={"height": 4})
    if "APP" not in document.appids:
        document.appids.add("APP")
    is_r12 = document.acad_release == "R12"
    for n, kind in enumerate(kinds):
        at = ((seed * (n + 3)) % 400 - 80, (seed * (n + 7)) % 300 - 90)
        if kind == "line":
            space.add_line(at, (at[0] + 9, at[1]), {"layer": f"L{n}"})
        elif kind == "text":
            space.add_text("ENDSEC", height=5, dxfattribs={"insert": at})
        elif kind == "mtext" and not is_r12:
            space.add_mtext("ENTITIES\\PSECTION", {"insert": at, "char_height": 5})
        elif kind == "hatch" and not is_r12:
            corners = [at, (at[0] + 30, at[1]), (at[0], at[1] + 30)]
            space.add_hatch().paths.add_polyline_path(corners, is_closed=True)
        elif kind == "insert":
            space.add_blockref("MARK", at).add_auto_attribs({"NO": "7"})
        elif kind == "dimension":
            space.add_linear_dim(at, (0, 0), (40, 0)).render()
        elif kind == "spline" and not is_r12:
            space.add_spline([at, (0, 0), (9, 9)])
        elif kind == "xdata":
            space.add_point(at).set_xdata("APP", [(1000, "DXF2VENEER"), (1070, 0)])
        else:
            space.add_point(at)


def test_every_version_of_the_reference_is_known():
    # DXF reference, $ACADVER: AC1009 R11 and R12, AC1012 R13, AC1014 R14, AC1015 2000, AC1018 2004,
    # AC1021 2007, AC1024 2010, AC1027 2013, AC1032 2018
    assert tuple(f"AC10{n:02d}" for n in (9, 12, 14, 15, 18, 21, 24, 27, 32)) == VERSIONS
