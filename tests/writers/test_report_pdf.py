"""The PDF, read by other programs: pages, sizes, that the pictures are to scale, and what it says
without the extra.

``laid_out()`` has W1, 96 x 20 in, and W2; F1 and F2 lie side by side in W1's first course, each 36
in long.
"""

from __future__ import annotations

import dataclasses
import importlib.util
import re
import shutil
import subprocess

import pytest
from click.testing import CliRunner
from laid_out import laid_out
from takeoffs import EVIL_NAME, takeoff
from test_report import EVIL, renamed

from dxf2veneer.cli import main
from dxf2veneer.writers import typeset as typesetting
from dxf2veneer.writers.report import write_pdf
from dxf2veneer.writers.report.pdf import blocks_of
from dxf2veneer.writers.report.tables import table
from dxf2veneer.writers.sizes import fitting_scale

typeset = pytest.mark.skipif(
    importlib.util.find_spec("typst") is None or shutil.which("pdfinfo") is None,
    reason="the extra for the PDF or poppler's programs are not on this machine",
)
LETTER, A4, TABLOID = (792.0, 612.0), (841.89, 595.276), (1224.0, 792.0)
"""Long and short side in points: 11 x 8.5 in, 297 x 210 mm, 17 x 11 in."""


def read(program, *words):
    return subprocess.run(
        [program, *map(str, words)], capture_output=True, text=True, timeout=300, check=True
    ).stdout


def written(tmp_path, job):
    path = tmp_path / "report.pdf"
    write_pdf(job, path)
    return path


def sizes(path):
    """Width and height of each page in points."""
    found = re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", read("pdfinfo", "-l", "999", path))
    return [(float(w), float(h)) for w, h in found]


def on_paper(job, paper):
    return dataclasses.replace(
        job,
        job=dataclasses.replace(job.job, output=dataclasses.replace(job.job.output, paper=paper)),
    )


@typeset
@pytest.mark.parametrize(
    ("job", "paper"),
    [
        (laid_out(), LETTER),
        (laid_out(display="metric"), A4),
        (on_paper(laid_out(), "tabloid"), TABLOID),
        (takeoff(), LETTER),
    ],
    ids=["inches", "metric", "asked for", "by area"],
)
def test_each_elevation_has_a_page_across_and_the_tables_stand_upright(tmp_path, job, paper):
    path = written(tmp_path, job)
    pages = sizes(path)
    across = [n for n, (w, h) in enumerate(pages, 1) if w > h]
    assert len(across) == 2
    assert all(size == pytest.approx(paper, abs=0.1) for size in (pages[n - 1] for n in across))
    assert all(
        size == pytest.approx(paper[::-1], abs=0.1)
        for size in (s for n, s in enumerate(pages, 1) if n not in across)
    )
    for page, wall in zip(across, ("W1", "W2"), strict=True):
        text = read("pdftotext", "-f", page, "-l", page, "-layout", path, "-")
        alert, heading = [line for line in text.splitlines() if line][:2]  # both jobs have an error
        assert "do not use these numbers" in alert and heading.startswith(wall)
        assert "1:" in text and "course line" in text


@typeset
def test_a_picture_on_paper_is_to_scale(tmp_path):
    # 1/2 in = 1'-0", the largest usual scale: panels 36 in apart are 36 / 24 in = 108 points apart
    words = read("pdftotext", "-bbox", written(tmp_path, laid_out()), "-")
    middle = {
        name: (float(a) + float(b)) / 2
        for a, b, name in re.findall(r'xMin="([\d.]+)".*?xMax="([\d.]+)".*?>(F1|F2)</word>', words)
    }
    assert middle["F2"] - middle["F1"] == pytest.approx(108.0, abs=0.5)
    assert "1:24" in words


@typeset
def test_the_same_takeoff_gives_the_same_bytes_and_no_date(tmp_path):
    first = written(tmp_path, laid_out()).read_bytes()
    assert first == written(tmp_path, laid_out()).read_bytes()
    assert "Date" not in read("pdfinfo", tmp_path / "report.pdf")


@typeset
@pytest.mark.parametrize(
    "name", [*EVIL, "#panic()", '*bold* _x_ $x$ @y #import "@preview/a:1"', EVIL_NAME], ids=ascii
)
def test_a_name_is_only_text(tmp_path, name):
    path = written(tmp_path, renamed(name))
    assert len(sizes(path)) == len(sizes(written(tmp_path, renamed("plain"))))
    assert "JavaScript:      no" in read("pdfinfo", path)


@typeset
def test_tables_and_caution_stand_on_the_pages(tmp_path):
    text = " ".join(read("pdftotext", "-raw", written(tmp_path, laid_out()), "-").split())
    assert "14 panels in all; no layout can use fewer than 13" in text
    assert 'W1-O1 head 2 1 1/2" sliver 1 1/2" 6 1/2"' in text
    assert "a licensed professional decide" in text


@typeset
def test_errors_stand_on_top_of_every_page(tmp_path):
    pages = read("pdftotext", "-raw", written(tmp_path, laid_out()), "-").rstrip("\f").split("\f")
    assert len(pages) > 2
    assert {page.splitlines()[0] for page in pages} == {
        "1 error: do not use these numbers; see the notices"
    }


def test_the_largest_usual_scale_that_fits_is_taken_and_a_whole_number_beyond():
    # a room of 10 x 6 in: 400 in of wall need 1:40, the next usual one is 1:48; 3,001 in need more
    # than 1:300
    assert fitting_scale(400.0, 100.0, (10.0, 6.0), "imperial") == 48.0
    assert fitting_scale(100.0, 192.0, (10.0, 6.0), "imperial") == 32.0
    assert fitting_scale(400.0, 100.0, (10.0, 6.0), "metric") == 50.0
    assert fitting_scale(3001.0, 100.0, (10.0, 6.0), "imperial") == 301.0


def test_a_table_of_the_page_becomes_a_table_on_paper():
    markup = table("Runs", ("Run", "Length"), [("Starter <1>", "3'-0\"")], last=("all", "3'-0\""))
    (block,) = blocks_of(markup)
    assert block["title"] == "Runs" and block["numbers"] == [False, True]
    assert block["rows"] == [
        [{"text": "Starter <1>", "small": ""}, {"text": "3'-0\"", "small": ""}]
    ]
    assert block["last"] == ["all", "3'-0\""]


@pytest.mark.parametrize("option", ["--pdf", "--bid"])
def test_without_the_extra_one_line_says_how_to_install_it(samples, tmp_path, monkeypatch, option):
    monkeypatch.setattr(typesetting, "is_available", lambda: False)
    command = [
        "takeoff",
        str(samples / "gatehouse.dxf"),
        "--job",
        str(samples / "gatehouse.toml"),
        "--no-plan",
        "-o",
        str(tmp_path / "out"),
        option,
        str(tmp_path / "report.pdf"),
    ]
    told = CliRunner().invoke(main, command)
    assert told.exit_code == 2 and 'pip install "dxf2veneer[pdf]"' in told.output
    assert f"{option}: a PDF needs" in told.output
    assert not (tmp_path / "out").exists() and not (tmp_path / "report.pdf").exists()


@typeset
def test_the_pdf_is_among_the_outputs(samples, tmp_path):
    command = [
        "takeoff",
        str(samples / "boathouse.dxf"),
        "--job",
        str(samples / "boathouse.toml"),
        "--no-plan",
        "-o",
        str(tmp_path / "out"),
        "--pdf",
        str(tmp_path / "deep" / "report.pdf"),
    ]
    told = CliRunner().invoke(main, command)
    assert told.exit_code == 0 and "report.pdf" in told.output
    assert (tmp_path / "deep" / "report.pdf").read_bytes().startswith(b"%PDF-")
