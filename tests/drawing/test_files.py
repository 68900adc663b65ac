"""Files of every sort give a drawing or one clear line, and are never changed."""

import hashlib
import math

import ezdxf
import pytest
from drawings import WALL, job, new, read, sheet, told
from refusals import refused

from dxf2veneer.drawing import DrawingError, load_drawing, survey_drawing
from dxf2veneer.wording import error_line, say

BOX = [(0, 0), (200, 0), (200, 100), (0, 100)]


def drawn():
    document = new()
    document.modelspace().add_lwpolyline(BOX, close=True, dxfattribs=WALL)
    return document


def readers_refuse(path, match):
    """Reading stops with one line, in ``load_drawing`` and in ``survey_drawing`` alike."""
    for reader in (lambda: load_drawing(path, job(), 0), lambda: survey_drawing(path)):
        with refused(DrawingError, match=match) as error:
            reader()
        assert "\n" not in error_line(error.value)
        assert str(path) in error_line(error.value)


@pytest.mark.parametrize(
    ("content", "match"),
    [
        (b"", "empty"),
        (b" \r\n\n", "empty"),
        (b"AC1032\0\0\0\0\0" + bytes(100), "DWG.*save it as DXF"),
        (b"%PDF-1.7\n", "PDF"),
        (b"Dear Sir or Madam,\nplease find enclosed\n", "no DXF file"),
        (bytes(range(256)) * 20, "no DXF file"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00" + bytes(range(1, 60)), "damaged or cut short"),
        (b"0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nA-WALL\nxx\n", "damaged"),
    ],
)
def test_other_content_is_named(content, match, tmp_path):
    path = tmp_path / "elevation.dxf"
    path.write_bytes(content)
    readers_refuse(path, match)


def test_missing_file_and_folder(tmp_path):
    readers_refuse(tmp_path / "none.dxf", "no such file")
    readers_refuse(tmp_path, "folder")


def test_the_file_stays_as_it_was_and_its_checksum_is_known(tmp_path):
    drawing = read(drawn(), tmp_path)
    path = tmp_path / "drawing.dxf"
    assert drawing.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert [p.name for p in tmp_path.iterdir()] == ["drawing.dxf"]


def test_file_cut_after_its_entities_is_repaired_and_told(tmp_path):
    path = tmp_path / "short.dxf"
    drawn().saveas(path)
    text = path.read_text()
    path.write_text(text[: text.index("ENDSEC", text.index("OBJECTS"))])
    drawing = load_drawing(path, job(), 0)
    assert drawing.shapes[0].path.area == pytest.approx(20_000)
    assert drawing.notices[0].code == "DRAWING_REPAIRED"
    assert "missing ENDSEC" in say(drawing.notices[0].message)


def test_file_cut_among_its_entities_is_refused_since_walls_could_be_missing(tmp_path):
    path = tmp_path / "short.dxf"
    drawn().saveas(path)
    text = path.read_text()
    path.write_text(text[: text.index("ENDSEC", text.index("A-WALL", text.index("ENTITIES")))])
    readers_refuse(path, "nothing could be rescued")


def test_point_without_its_y_is_told_and_the_repair_named(tmp_path):
    path = tmp_path / "half.dxf"
    path.write_text(
        sheet("0 CIRCLE 5 A1 8 A-WALL 10 5.0 40 9.0 0 CIRCLE 5 A2 8 A-WALL 10 5.0 20 7.0 40 60.0")
    )
    drawing = load_drawing(path, job(), 0)
    assert [s.handle for s in drawing.shapes] == ["A2"]
    assert [(n.code, n.handle) for n in drawing.notices[:2]] == [
        ("DRAWING_REPAIRED", None),
        ("ENTITY_UNUSABLE", "A1"),
    ]


def test_guessed_number_is_named_in_the_notice(tmp_path):
    path = tmp_path / "comma.dxf"
    path.write_text(sheet("0 CIRCLE 5 A2 8 A-WALL 10 5.0 20 7.0 40 60,5"))
    (notice,) = [n for n in load_drawing(path, job(), 0).notices if n.code == "DRAWING_REPAIRED"]
    assert '"60,5"' in say(notice.message)


@pytest.mark.parametrize("fmt", ["asc", "bin"])
def test_cut_anywhere_gives_one_line_or_a_notice(fmt, tmp_path):
    path = tmp_path / "short.dxf"
    drawn().saveas(path, fmt=fmt)
    content = path.read_bytes()
    for tenth in range(1, 10):
        path.write_bytes(content[: len(content) * tenth // 10])
        try:
            assert "DRAWING_REPAIRED" in told(load_drawing(path, job(), 0))
        except DrawingError as error:
            assert "\n" not in error_line(error)


def test_nothing_is_written_to_the_terminal(tmp_path, capfd):
    read(drawn(), tmp_path)
    assert capfd.readouterr() == ("", "")


def test_layer_names_in_an_undeclared_code_page_can_be_written(tmp_path):
    """0xC4 is the A with two dots in Windows-1252; the file claims to be UTF-8."""
    path = tmp_path / "old.dxf"
    document = drawn()
    document.modelspace().add_line((0, 0), (9, 9), dxfattribs={"layer": "XXFASSADE"})
    document.saveas(path)
    path.write_bytes(path.read_bytes().replace(b"XXFASSADE", b"\xc4FASSADE"))
    names = [layer.name for layer in load_drawing(path, job(), 0).layers]
    assert "ÄFASSADE" in names
    "".join(names).encode("utf-8")


def test_hand_written_minimal_file(tmp_path):
    path = tmp_path / "minimal.dxf"
    path.write_text(sheet("0 CIRCLE 8 A-WALL 10 5.0 20 7.0 40 60.0"))
    assert load_drawing(path, job(), 0).shapes[0].path.box == pytest.approx((-55, -53, 65, 67))


@pytest.mark.parametrize(
    ("entity", "reason"),
    [
        ("0 LINE 5 A1 8 A-WALL 10 1.0 20 1.0", "no end"),
        ("0 CIRCLE 5 A1 8 A-WALL 10 5.0 20 7.0", "no radius"),
        ("0 CIRCLE 5 A1 8 A-WALL 10 5.0 20 7.0 40 -1.0", "radius is -1"),
        ("0 CIRCLE 5 A1 8 A-WALL 10 nan 20 7.0 40 9.0", "finite"),
        ("0 LINE 5 A1 8 A-WALL 10 1.0 20 1.0 11 inf 21 1.0", "finite"),
        ("0 LINE 5 A1 8 A-WALL 10 1.0 20 1.0 11 1.0 21 1.0", "no length"),
        ("0 ARC 5 A1 8 A-WALL 40 1.0 50 0.0 51 90.0", "no center"),
        (
            "0 LINE 5 A1 10 1.0 20 1.0 11 2.0 21 1.0",
            "1 entity of kind LINE left out, naming no layer",
        ),
        ("0 INSERT 5 A1 8 A-WALL 10 1.0 20 1.0", None),
    ],
)
def test_one_bad_entity_costs_only_itself(entity, reason, tmp_path):
    path = tmp_path / "bad.dxf"
    path.write_text(sheet(entity + " 0 CIRCLE 5 A2 8 A-WALL 10 5.0 20 7.0 40 60.0"))
    drawing = load_drawing(path, job(), 0)
    assert [s.handle for s in drawing.shapes] == ["A2"]
    code = "ENTITY_UNUSABLE" if reason else "ENTITY_KIND_IGNORED"
    notice = next(n for n in drawing.notices if n.code == code)
    assert notice.handle == "A1"
    assert (reason or "INSERT") in say(notice.message)


def test_version_of_the_file_is_its_own(tmp_path):
    path = tmp_path / "old.dxf"
    ezdxf.new("R2000", units=1).saveas(path)
    assert survey_drawing(path).dxf_version == "AC1015"


DISC = "0 CIRCLE 5 A1 8 A-WALL 10 200 20 100 40 60"


def test_a_file_without_a_header_has_no_unit(tmp_path):
    """The library would take meters; nobody said so."""
    path = tmp_path / "bare.dxf"
    path.write_text(
        "\n".join(["0", "SECTION", "2", "ENTITIES", *DISC.split(), "0", "ENDSEC", "0", "EOF", ""])
    )
    with refused(DrawingError, match="--units"):
        load_drawing(path, job(), 0)
    drawing = load_drawing(path, job(drawing__units="in"), 0)
    assert [s.path.area for s in drawing.shapes] == [pytest.approx(math.pi * 60**2)]


def test_a_second_entities_section_is_told(tmp_path):
    path = tmp_path / "twice.dxf"
    path.write_text(sheet(f"{DISC} 0 ENDSEC 0 SECTION 2 ENTITIES {DISC}"))
    drawing = load_drawing(path, job(), 0)
    repaired = next(n for n in drawing.notices if n.code == "DRAWING_REPAIRED")
    assert "2 ENTITIES sections" in say(repaired.message)


@pytest.mark.parametrize(
    "bad",
    [
        "0 CIRCLE 5 B1 8 A-WALL 10 abc 20 7.0 40 60.0",
        "0 LWPOLYLINE 5 B1 8 A-WALL 90 4 70 1 10 x 20 0 10 120 20 0",
        "0 LINE 5 B1 8 A-WALL 10 0 20 ? 11 5 21 5",
    ],
)
def test_an_entity_that_stops_the_reading_is_left_out_and_named(bad, tmp_path):
    """A word in place of a number stops the library; the rest of the drawing is read all the
    same."""
    path = tmp_path / "word.dxf"
    path.write_text(sheet(f"{DISC} {bad} 0 CIRCLE 5 C1 8 A-WALL 10 900 20 100 40 30"))
    drawing = load_drawing(path, job(), 0)
    assert sorted(s.handle for s in drawing.shapes) == ["A1", "C1"]
    repaired = next(n for n in drawing.notices if n.code == "DRAWING_REPAIRED")
    assert f"{bad.split()[1]} B1" in say(repaired.message)
