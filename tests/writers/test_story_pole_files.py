"""Story poles as files: parts at full size on paper, the whole rod as a picture.

The places of the ruler's numbers in the PDF are read by another program (pdftotext); 72 points are
an inch (ISO 32000, user space units).
"""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from xml.etree import ElementTree

import ezdxf
import pytest
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.cli import main

needs_pdf = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler-utils")
pytest.importorskip("typst")
SAMPLES = ROOT / "samples"


def run(*words):
    drawing, job = SAMPLES / "gatehouse.dxf", SAMPLES / "gatehouse.toml"
    command = ["takeoff", drawing, "--job", job, "--no-plan", "-q", *words]
    return CliRunner().invoke(main, [str(word) for word in command])


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    folder = tmp_path_factory.mktemp("poles")
    told = run(
        "-o", folder / "o", "--story-pole", folder / "p.pdf", "--story-pole", folder / "p.svg"
    )
    assert told.exit_code == 0, told.output
    metric = ("--display", "metric", "--force")
    told = run("-o", folder / "o", *metric, "--story-pole", folder / "m.pdf")
    assert told.exit_code == 0, told.output
    return folder


def words_of(pdf, page):
    """(text, x, y of its foot) of every word of a page, in points."""
    command = ["pdftotext", "-bbox", "-f", str(page), "-l", str(page), str(pdf), "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    found = re.findall(
        r'<word xMin="([\d.]+)" yMin="[\d.]+" xMax="[\d.]+" yMax="([\d.]+)">(.*?)<', text
    )
    return [(word, float(x), float(y)) for x, y, word in found]


def ruler(pdf, page, most):
    """Numbers on the ruler of the first part with their heights, from its foot up."""
    numbers = [(w, x, y) for w, x, y in words_of(pdf, page) if w.isdigit() and x < most]
    return {int(w): y for w, _, y in numbers}


@needs_pdf
def test_an_inch_on_the_rod_is_an_inch_on_paper(folder):
    at = ruler(folder / "p.pdf", 2, 34 + 0.42 * 72)
    assert at[1] - at[7] == pytest.approx(6 * 72.0, abs=0.3)


@needs_pdf
def test_ten_centimeters_on_the_rod_are_ten_on_paper(folder):
    at = ruler(folder / "m.pdf", 2, 34 + 0.42 * 72)
    assert at[1] - at[9] == pytest.approx(80.0 / 25.4 * 72.0, abs=0.3)


@needs_pdf
def test_the_first_page_lists_every_height(folder):
    """The Gatehouse's walls stand on 0 with 4 in of clearance: course 2 begins 1'-0" up."""
    command = ["pdftotext", "-layout", "-f", "1", "-l", "1", str(folder / "p.pdf"), "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    words = [(html.unescape(w), x, y) for w, x, y in words_of(folder / "p.pdf", 1)]
    ((left, foot),) = [(x, y) for w, x, y in words if w == "1'-0\"" and x > 250]
    row = [w for w, x, y in words if x >= left and abs(y - foot) < 1]
    assert row == ["1'-0\"", "course", "2"]
    assert "Heights above lowest base" in " ".join(text.split())
    assert "An aid to bidding, not a design" in text


def test_the_picture_is_at_full_size(folder):
    """One unit of the picture is an inch: its size in millimeters is 25.4 times its own."""
    root = ElementTree.parse(folder / "p.svg").getroot()
    _, _, wide, high = map(float, root.attrib["viewBox"].split())
    assert float(root.attrib["width"].removesuffix("mm")) == pytest.approx(25.4 * wide, abs=0.01)
    assert float(root.attrib["height"].removesuffix("mm")) == pytest.approx(25.4 * high, abs=0.01)


def test_the_level_line_has_the_name_and_height_that_the_job_gives(tmp_path):
    job = tmp_path / "j.toml"
    text = (SAMPLES / "gatehouse.toml").read_text(encoding="utf-8")
    text = text.replace('prices = "gatehouse-prices.csv"\n', "")
    named = '[output]\nlevel_name = "Top of slab"\nlevel_height = "100\'-0\\""\n'
    job.write_text(text + named, encoding="utf-8")
    drawing = tmp_path / "d.dxf"
    document = ezdxf.readfile(SAMPLES / "gatehouse.dxf")
    document.layers.add("LEVEL")
    document.modelspace().add_line((-500, 4), (5000, 4), dxfattribs={"layer": "LEVEL"})
    document.saveas(drawing)
    command = ["takeoff", drawing, "--job", job, "--no-plan", "-q", "--level-layer", "LEVEL"]
    command += ["-o", tmp_path / "o", "--story-pole", tmp_path / "p.svg"]
    told = CliRunner().invoke(main, [str(word) for word in command])
    assert told.exit_code == 0, told.output
    text = html.unescape((tmp_path / "p.svg").read_text(encoding="utf-8"))
    assert "above Top of slab = 100'-0\"" in text


def test_another_ending_is_refused_in_one_line(tmp_path):
    told = run("-o", tmp_path / "o", "--story-pole", tmp_path / "p.png")
    assert told.exit_code == 2 and "--story-pole" in told.output and ".svg" in told.output
    assert not (tmp_path / "o").exists()
