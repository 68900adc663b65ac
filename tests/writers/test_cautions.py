"""What each reader of a sheet must know stands on the sheet that he gets, in every format.

One small job is taken off by the command with every output; each output is then read by itself.
"""

from __future__ import annotations

import csv
import json
import re
import shutil
import subprocess

import ezdxf
import openpyxl
import pytest
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.cli import main
from dxf2veneer.wording.cautions import BRIEF, CAUTION, CAUTIONS, Reader

JOB = """
[layers]
wall = "WALL"
[job]
name = "Shed"
[letter]
customer = "Somebody"
[order]
prices = "prices.csv"
"""
OUTPUTS = {
    "json": "r.json", "report": "r.html", "request": "rfq.csv", "bid": "bid.xlsx", "tables": "t",
    "story-pole": "pole.svg", "unfolded": "u.svg", "crew-sheets": "crew.pdf",
}  # fmt: skip


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("cautions")
    doc = ezdxf.new("R2010", units=1)
    points = [(0, 0), (120, 0), (120, 60), (0, 60)]
    doc.modelspace().add_lwpolyline(points, close=True, dxfattribs={"layer": "WALL"})
    doc.saveas(folder / "shed.dxf")
    (folder / "job.toml").write_text(JOB)
    (folder / "prices.csv").write_text("item,unit,price\nflat_panel,box,54\n")
    options = [
        text for name, file in OUTPUTS.items() for text in (f"--{name}", str(folder / file))
    ] + ["--request", str(folder / "rfq.xlsx"), "--svg", str(folder / "pictures")]
    known = {o for p in main.commands["takeoff"].params for o in p.opts}
    assert not [o for o in options if o.startswith("--") and o not in known]
    arguments = [str(folder / "shed.dxf"), "--job", str(folder / "job.toml"), *options]
    ran = CliRunner().invoke(main, ["takeoff", *arguments, "-o", str(folder)])
    assert ran.exit_code == 0, ran.output
    return folder, ran.output


def words(text):
    return re.sub(r"\s+", " ", text)


def sheet(path, title):
    book = openpyxl.load_workbook(path)
    return [str(c.value) for row in book[title].iter_rows() for c in row if c.value is not None]


@pytest.mark.parametrize(
    ("file", "title", "readers"),
    [
        ("shed-cuts.xlsx", "Cut list", [Reader.SAW, Reader.CARRIER]),
        ("shed-cuts.xlsx", "Stock", [Reader.SAW, Reader.CARRIER]),
        ("shed-takeoff.xlsx", "Order", [Reader.BUYER, Reader.CARRIER]),
        ("shed-takeoff.xlsx", "Supplier", [Reader.CARRIER]),
        ("shed-takeoff.xlsx", "Labor", [Reader.INSTALLER, Reader.CARRIER]),
        ("shed-takeoff.xlsx", "Assumptions", list(Reader)),
        ("rfq.xlsx", "Request", [Reader.CARRIER]),
    ],
)
def test_each_sheet_tells_who_gets_it(made, file, title, readers):
    folder, _ = made
    cells = sheet(folder / file, title)
    for reader in readers:
        assert any(CAUTIONS[reader] in cell for cell in cells), reader


@pytest.mark.parametrize(
    ("file", "title"),
    [("shed-takeoff.xlsx", "Order"), ("shed-takeoff.xlsx", "Supplier"), ("rfq.xlsx", "Request")],
)
def test_sheets_with_invented_packages_and_weights_say_so(made, file, title):
    cells = sheet(made[0] / file, title)
    assert any("invented, nobody gave them: flat_panel" in cell for cell in cells)


def test_the_terminal_tells_dust_weight_height_and_who_decides(made):
    *_, brief, last = made[1].strip().splitlines()
    assert (brief, last) == (" ".join(BRIEF), CAUTION)
    assert all(word in brief for word in ("silica", "1926.1153", "heavy", "height"))


def test_csv_tells_in_rows_of_their_own(made):
    folder, _ = made
    *_, last = csv.reader((folder / "rfq.csv").open(encoding="utf-8-sig", newline=""))
    assert last[0] == "caution" and last[1].startswith(CAUTIONS[Reader.CARRIER])
    assert "invented, nobody gave them: flat_panel" in last[1]
    (file,) = (folder / "t").glob("*-cautions.csv")
    _, *rows = csv.reader(file.open(encoding="utf-8-sig", newline=""))
    assert {row[0]: row[1] for row in rows} == {str(r): t for r, t in CAUTIONS.items()}


def test_json_and_page_tell_every_reader(made):
    folder, _ = made
    told = json.loads((folder / "r.json").read_text("utf-8"))["cautions_by_reader"]
    assert {one["reader"]: one["caution"] for one in told} == {
        str(r): t for r, t in CAUTIONS.items()
    }
    page = words((folder / "r.html").read_text("utf-8"))
    for text in CAUTIONS.values():
        assert text.replace("'", "&#39;") in page or text in page


def test_pictures_tell_installer_and_designer(made):
    folder, _ = made
    (picture,) = (folder / "pictures").glob("*.svg")
    for file, readers in (
        (picture, (Reader.SAW, Reader.INSTALLER, Reader.DESIGNER)),
        (folder / "u.svg", (Reader.INSTALLER, Reader.DESIGNER)),
        (folder / "pole.svg", (Reader.INSTALLER,)),
    ):
        text = words(file.read_text("utf-8")).replace("&#39;", "'").replace("&#x27;", "'")
        for reader in readers:
            assert CAUTIONS[reader] in text, (file.name, reader)


def test_the_overlay_tells_dust_weight_and_height(made):
    folder, _ = made
    doc = ezdxf.readfile(folder / "shed-courses.dxf")
    texts = {t.dxf.text for t in doc.modelspace().query("TEXT")}
    assert set(BRIEF) <= texts


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler is not installed")
def test_crew_sheets_tell_saw_carrier_and_installer_on_every_page(made):
    folder, _ = made
    text = subprocess.run(
        ["pdftotext", "-raw", str(folder / "crew.pdf"), "-"], capture_output=True, check=True
    ).stdout.decode()
    pages = [words(page) for page in text.split("\f") if page.strip()]
    for page in pages:
        assert CAUTIONS[Reader.SAW] in page
        assert "heavy to lift" in page and "1926.501" in page and "Glue" in page


def test_the_customers_letter_tells_who_decides_and_of_dust(made):
    folder, _ = made
    book = openpyxl.load_workbook(folder / "bid.xlsx")
    cells = [str(c.value) for s in book for row in s.iter_rows() for c in row if c.value]
    assert any("not a design" in c for c in cells) and any("silica" in c for c in cells)


def test_no_caution_says_that_anything_complies():
    page = (ROOT / "dxf2veneer" / "wording" / "cautions.py").read_text("utf-8")
    assert "complian" not in page and "complies" not in page
