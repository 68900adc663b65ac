"""Text from outside is data in every output: each text of the model is hostile, and every writer is
tried with it.

takeoff --every text replaced--> spoiled takeoff --each writer--> read again by another's program
                                                                same structure as with plain texts?
"""

from __future__ import annotations

import csv
import dataclasses
import itertools
import json
import re
import shutil
import subprocess
import unicodedata
import zipfile
from pathlib import Path, PureWindowsPath
from xml.etree import ElementTree

import ezdxf
import openpyxl
import pytest
from builders import as_written
from ezdxf.lldxf.encoding import decode_dxf_unicode
from hostile import OURS, PAYLOADS, spoiled, whole
from sheets import cells, needs_office, recalculated, written
from test_report import Page

from dxf2veneer.app.outputs import Asked, outputs_of
from dxf2veneer.basics.notices import Level
from dxf2veneer.cli.terminal import summary, survey_lines
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.drawing import survey_drawing
from dxf2veneer.textio.escaping import (
    for_cell,
    for_csv,
    for_dxf,
    for_file_name,
    for_json,
    for_terminal,
    for_xdata,
    legible,
    visible,
)
from dxf2veneer.wording import say
from dxf2veneer.wording.notice_lines import notice_lines
from dxf2veneer.writers.csv_lines import write_lines
from dxf2veneer.writers.elevation import write_picture
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.layers import layer_names
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.report import write_pdf
from dxf2veneer.writers.report.page import report_text
from dxf2veneer.writers.result import write_result

PLAIN = "plain text"
every_payload = pytest.mark.parametrize("payload", PAYLOADS.values(), ids=PAYLOADS)


TEXT = '"(?:[^"]|"")*"'
"""A text in a formula: quotes inside are doubled."""


def hides(text, *, lines=False):
    """Signs of a text that can't be seen or turn the direction,
    by the Unicode database and not by our own list.
    """
    return [
        c
        for c in text
        if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp")
        and not (lines and c in "\t\n\r")
    ]


# ------------------------------------------------------------ the walk itself


def test_the_walk_reaches_every_text_but_ours():
    wall = spoiled(PLAIN).walls[1].wall
    assert (wall.name, wall.layer, wall.handles, wall.id) == (PLAIN, PLAIN, (f"{PLAIN} 0",), "W2")
    job = spoiled(PLAIN).job
    assert (job.job.note, job.layers.wall, job.output.display) == (
        PLAIN,
        (PLAIN, f"{PLAIN} 2"),
        "imperial",
    )
    assert say(spoiled(PLAIN).order.alternates[0].order.lines[0].item) == PLAIN
    assert spoiled(PLAIN).drawings[0].layers[0].name == PLAIN


def test_what_is_ours_is_there():
    names = {n.split(".")[0] for n in OURS}
    known = {cls.__name__ for cls in _classes(whole())}
    assert names <= known, "a class of the model has another name now"


def _classes(value):
    if dataclasses.is_dataclass(value) or hasattr(value, "_fields"):
        yield type(value)
        names = (
            value._fields
            if hasattr(value, "_fields")
            else [f.name for f in dataclasses.fields(value)]
        )
        for name in names:
            yield from _classes(getattr(value, name))
    elif isinstance(value, tuple):
        for item in value:
            yield from _classes(item)


# ------------------------------------------------------------------ workbook


@pytest.fixture(scope="module")
def plain_book(tmp_path_factory):
    return openpyxl.load_workbook(written(tmp_path_factory.mktemp("plain"), spoiled(PLAIN)))


@every_payload
def test_the_workbook_holds_no_formula_but_ours(tmp_path, payload, plain_book):
    path = written(tmp_path, spoiled(payload))
    book = openpyxl.load_workbook(path)

    def formulas(of):
        return {(c.parent.title, c.coordinate): c.value for c in cells(of) if c.data_type == "f"}

    def without_texts(of):
        return {
            place: re.sub(rf"{TEXT}(&{TEXT})*", '""', formula)
            for place, formula in formulas(of).items()
        }

    assert without_texts(book) == without_texts(plain_book)
    texts = [text for formula in formulas(book).values() for text in re.findall(TEXT, formula)]
    assert all(len(t.encode("utf-16-le")) // 2 <= 255 + 2 and not hides(t) for t in texts), (
        "Excel's limit for a text in a formula"
    )
    assert book.sheetnames == plain_book.sheetnames
    assert {n: d.attr_text for n, d in book.defined_names.items()} == {
        n: d.attr_text for n, d in plain_book.defined_names.items()
    }
    texts = [c for c in cells(book) if c.data_type == "s"]
    assert all(c.quotePrefix for c in texts)
    assert all(
        len(c.value.encode("utf-16-le")) // 2 <= 32_767 and not hides(c.value, lines=True)
        for c in texts
    )
    with zipfile.ZipFile(path) as packed:
        for name in packed.namelist():
            ElementTree.fromstring(packed.read(name))
        footers = re.findall(
            r"<oddFooter>(.*?)</oddFooter>",
            "".join(packed.read(n).decode() for n in packed.namelist() if "worksheets" in n),
        )
    codes = {
        code
        for footer in footers
        for code in re.findall("&amp;(.)", footer.replace("&amp;&amp;", ""))
    }
    assert footers and codes <= set("LCRPN"), "nothing but sides and page numbers is a code"


@needs_office
def test_a_spreadsheet_program_shows_the_texts_as_they_are(tmp_path):
    made = spoiled(PAYLOADS["formula"])
    shown = [
        c.value
        for c in cells(recalculated(written(tmp_path, made), tmp_path))
        if isinstance(c.value, str)
    ]
    assert shown.count(PAYLOADS["formula"]) > 20
    assert not [text for text in shown if text.startswith(("#", "Err:"))]


# ----------------------------------------------------------------------- CSV


@every_payload
def test_no_field_of_the_csv_begins_a_formula_however_it_is_split(tmp_path, payload):
    path = tmp_path / "lines.csv"
    write_lines(spoiled(payload).order, path)
    text = path.read_text(encoding="utf-8-sig")
    assert not hides(text.replace("\n", ""))
    csv.field_size_limit(10_000_000)
    for separator, quote in itertools.product(",;|:\t ", "\"'`"):
        fields = {
            f.strip()
            for row in csv.reader(text.splitlines(), delimiter=separator, quotechar=quote)
            for f in row
        }
        assert not [f for f in fields if f.startswith(tuple("=+-@＝＋－＠")) and len(f) > 1], (
            separator,
            quote,
        )


def test_the_csv_reads_back_as_it_was(tmp_path):
    write_lines(spoiled("50% 'off', \"new\"").order, tmp_path / "lines.csv")
    with (tmp_path / "lines.csv").open(encoding="utf-8-sig", newline="") as file:
        first, *_ = csv.DictReader(file)
    assert first["item"] == "50% 'off', \"new\"" and re.fullmatch(
        "dxf2veneer-[0-9a-f]{64}", first["made_by"]
    )


# ---------------------------------------------------------------------- JSON


@every_payload
def test_the_json_keeps_every_text_and_hides_nothing(tmp_path, payload):
    made = spoiled(payload)
    write_result(made, tmp_path / "result.json")
    text = (tmp_path / "result.json").read_text(encoding="utf-8")
    assert not hides(text.replace("\n", ""))
    assert json.loads(text)["walls"][1]["name"] == legible(payload)


# ---------------------------------------------------------- page and pictures


@every_payload
def test_the_page_has_the_elements_of_a_plain_one(payload):
    page, plain = Page(report_text(spoiled(payload))), Page(report_text(spoiled(PLAIN)))

    # names of openings stand where they fit; a cell that holds a long word is of the class "long"
    def parts(of):
        return [
            (tag, sorted(a))
            for tag, a in (
                (t, {k: v for k, v in a.items() if (k, v) != ("class", "long")})
                for t, a in of.elements
            )
            if tag != "text"
        ]

    assert parts(page) == parts(plain)
    assert {tuple(sorted(a)) for tag, a in page.elements if tag == "text"} <= {
        tuple(sorted(a)) for tag, a in plain.elements if tag == "text"
    }
    assert all(a["href"].startswith("#") for _, a in page.elements if "href" in a)
    assert len(page.scripts) == 2 and page.scripts[1] == plain.scripts[1]
    assert json.loads(page.scripts[0]).keys() == json.loads(plain.scripts[0]).keys()
    assert not hides(report_text(spoiled(payload)), lines=True)


@every_payload
def test_a_picture_has_the_elements_of_a_plain_one(tmp_path, payload):
    def parts(made):
        write_picture(made, made.walls[1], tmp_path / "W2.svg")
        return [
            (e.tag, sorted(e.attrib))
            for e in ElementTree.parse(tmp_path / "W2.svg").iter()
            if not e.tag.endswith("}text")
        ]

    assert parts(spoiled(payload)) == parts(spoiled(PLAIN))


@pytest.mark.parametrize(
    "payload",
    [
        PAYLOADS["markup"],
        PAYLOADS["direction"],
        '#panic() $x$ `y` *z* @a #image("/etc/passwd") [b] \\u{41}',
    ],
    ids=ascii,
)
def test_the_pdf_shows_the_texts_as_they_are(tmp_path, payload):
    pytest.importorskip("typst", reason="the optional extra for PDF is not installed")
    if shutil.which("pdftotext") is None:
        pytest.skip("no pdftotext on this machine")
    write_pdf(spoiled(payload), tmp_path / "r.pdf")
    text = subprocess.run(
        ["pdftotext", "-raw", str(tmp_path / "r.pdf"), "-"], capture_output=True, check=True
    ).stdout.decode()
    assert not hides(text.replace("\x0c", ""), lines=True)
    assert "".join(visible(payload).split()) in "".join(text.split())


# ------------------------------------------------------------------ terminal


@every_payload
def test_the_terminal_gets_as_many_lines_and_no_hidden_sign(payload):
    def shown(made):
        return [*summary(made), *notice_lines(made.notices, made.drawings, least=Level.INFO)]

    lines = shown(spoiled(payload))
    assert len(lines) == len(shown(spoiled(PLAIN)))
    assert not hides("".join(lines))


@every_payload
def test_the_table_of_layers_has_no_hidden_sign(samples, payload):
    survey = survey_drawing(samples / "gatehouse.dxf", load_job())
    lines = list(
        survey_lines(
            dataclasses.replace(
                survey,
                file=payload,
                layers=tuple(
                    dataclasses.replace(e, name=payload, why=as_written(payload))
                    for e in survey.layers
                ),
            )
        )
    )
    assert len(lines) == len(list(survey_lines(survey))) and not hides("".join(lines))


# --------------------------------------------------------------------- overlay


@pytest.mark.parametrize("kind", ["R12 binary", "R2000", "R2018"])
@every_payload
def test_the_overlay_is_sound_and_shows_the_texts(tmp_path, payload, kind):
    version, _, binary = kind.partition(" ")

    def overlay(text):
        made = spoiled(text)
        made = dataclasses.replace(
            made,
            job=with_settings(
                made.job,
                output__overlay_only=True,
                output__binary=bool(binary),
                output__dxf_version=version,
            ),
        )
        (tmp_path / "source.dxf").write_bytes(b"")
        write_overlay(made, made.drawings[1], tmp_path / "source.dxf", tmp_path / "courses.dxf")
        return ezdxf.readfile(tmp_path / "courses.dxf")

    def read(
        text,
    ):  # what a drawing of an older version can't hold stands in it as \U+ and four digits
        return decode_dxf_unicode(text)

    doc = overlay(payload)
    assert doc.audit().errors == []
    names = {layer.dxf.name for layer in doc.layers}
    assert names - {"0", "Defpoints"} == set(
        layer_names(spoiled(payload).job.output.layer_prefix).values()
    )
    texts = [read(e.dxf.text) for e in doc.modelspace().query("TEXT")]
    assert for_dxf(f"W2 {payload}") in texts
    assert not [
        t
        for t in texts
        if hides(t) or "%%" in t or re.search(r"\^(?! )|\\[UuMm]\+", t) or len(t) > 80
    ]
    strings = [tag.value for e in doc.modelspace() for tag in e.get_xdata("DXF2VENEER")]
    assert strings and not [s for s in strings if hides(s) or len(s) > 255]


def test_a_wall_of_many_entities_names_them_all(tmp_path):
    # 300 handles of 4 signs are 1,499 bytes, six times what one string of extended data holds
    made = whole()
    handles = tuple(f"{0x1000 + n:X}" for n in range(300))
    walls = tuple(
        dataclasses.replace(w, wall=dataclasses.replace(w.wall, handles=handles))
        for w in made.walls
    )
    made = dataclasses.replace(
        made, walls=walls, job=with_settings(made.job, output__overlay_only=True)
    )
    (tmp_path / "source.dxf").write_bytes(b"")
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    doc = ezdxf.readfile(tmp_path / "courses.dxf")
    (outline,) = [e for e in doc.modelspace() if tags_of(e).get("what") == "wall"]
    assert tags_of(outline)["source"] == ",".join(handles)
    assert max(len(tag.value) for tag in outline.get_xdata("DXF2VENEER")) <= 255


# ------------------------------------------------------------- names of files

RESERVED = {"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10))}
"""Microsoft, Naming Files, Paths, and Namespaces (read from memory)."""


@pytest.mark.parametrize(
    "stem",
    [
        *PAYLOADS.values(),
        "CON",
        "com1.a",
        "nul .b",
        "..",
        ".",
        "-rf",
        ".hidden",
        "~x",
        "dot.",
        "ü" * 200,
        "Ж" * 200,
        "😀" * 100,
        "a:b",
        "a/b\\c",
    ],
    ids=ascii,
)
def test_names_of_outputs_are_good_names_everywhere(stem):
    drawing = Path("in") / f"{stem.replace('/', '_').replace(chr(0), '')[:200]}.dxf"
    for path in outputs_of(Asked((drawing,), Path("out"), csv_folder=Path("out"))):
        assert path.parent == Path("out")
        assert not hides(path.name) and not set('<>:"/\\|?*') & set(path.name)
        assert path.name[0] not in ".-~ " and path.name[-1] not in ". "
        assert (
            path.name.split(".")[0].strip().lower() not in RESERVED
            and not PureWindowsPath(path.name).drive
        )
        assert len(path.name.encode("utf-8")) <= 255


def test_drawings_whose_names_become_one_get_numbers():
    names = [
        o.name for o in outputs_of(Asked((Path("a:b.dxf"), Path("a?b.dxf")), Path("out"))).overlays
    ]
    assert names == ["a_b-courses.dxf", "a_b-2-courses.dxf"]


# ---------------------------------------------------------------- one by one


def test_signs_that_can_not_be_seen_are_written_out_wherever_unicode_has_them():
    missed = [
        f"{c:04x}"
        for c in range(0x110000)
        if hides(chr(c)) and chr(c) not in "\t\n\r" and visible(chr(c)) == chr(c)
    ]
    assert missed == []
    assert visible("Müller ½ 外墙 é 😀 a b") == "Müller ½ 外墙 é 😀 a b"


@pytest.mark.parametrize(
    ("way", "text", "shown"),
    [
        (for_terminal, "\x1b[31mred\x1b[0m", r"\x1b[31mred\x1b[0m"),
        (for_terminal, "two\r\nlines\tand a tab", "two lines and a tab"),
        (for_terminal, "x" * 3000, "x" * 1999 + "…"),
        (for_csv, "=1", "’=1"),
        (for_csv, "W1, =1 and '=2", "W1, ’=1 and '’=2"),
        (for_csv, "a -b", "a ’-b"),
        (for_csv, "673'-6\"", "673'-6\""),
        (for_csv, "net - trim + 10 %", "net - trim + 10 %"),
        (for_csv, "e-mail x@y 1-2", "e-mail x@y 1-2"),
        (for_cell, "a\r\nb\tc\x0b", "a\nb\tc\\x0b"),
        (for_cell, "😀" * 20_000, "😀" * 16_383 + "…"),
        (for_cell, "\n" * 300, "\n" * 253 + " " * 47),
        (for_json, '"a\u202eb\x7f"', r'"a\u202eb\u007f"'),
        (for_xdata, "x" * 300, "x" * 248 + "…"),
        (for_xdata, "Ж" * 300, "Ж" * 35 + "…"),
        (for_dxf, "😀 ＝1", r"\U0001f600 ＝1"),
        (for_file_name, "../x", "_x"),
    ],
    ids=lambda value: getattr(value, "__name__", None) or ascii(value)[:24],
)  # fmt: skip
def test_the_ways_out(way, text, shown):
    assert way(text) == shown
