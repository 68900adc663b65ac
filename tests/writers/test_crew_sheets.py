"""Crew sheets: every cut can be read on site.

Points are 1/72 in, so at 1:24 a piece of 8 in is 24 points wide and 7 points are 2 1/3 in of wall.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from dataclasses import dataclass

import pytest
from click.testing import CliRunner
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.model import Course, Piece
from dxf2veneer.writers.crew_sheets.labels import label_of
from dxf2veneer.writers.crew_sheets.pdf import content_of, write_crew_sheets
from dxf2veneer.writers.crew_sheets.rows import is_cut
from dxf2veneer.writers.crew_sheets.windows import windows_of

SAMPLES = ROOT / "samples"


@pytest.fixture(scope="module")
def made():
    return take_off([SAMPLES / "gatehouse.dxf"], load_job(SAMPLES / "gatehouse.toml"))


def piece(x0, x1, y0=0.0, y1=8.0, **more):
    given = {"unit": "flat", "left": "cut", "right": "factory", "ripped": False, "glued": False}
    return Piece(0, x0, x1, y0, y1, stock="F12", **given | more)


@pytest.mark.parametrize(
    ("one", "scale", "lines"),
    [
        (piece(0, 20.5), 24.0, ("20 1/2  F12",)),
        (piece(0, 11.5), 24.0, ("11 1/2", "F12")),
        (piece(0, 7.3125), 24.0, ("7 5/16", "F12")),
        (piece(0, 30.0, 0, 3.25), 24.0, ("30 × 3 1/4  F12",)),
        (piece(0, 20.0, unit="corner", left="finished"), 24.0, ("20  F12 L",)),
    ],
)
def test_a_label_has_the_length_and_as_much_else_as_fits(one, scale, lines):
    """7 5/16 in are 22 points at 1:24; six letters of 3.9 are 24 with what is left free around:
    too wide in one line, so that the length stands in two."""
    label, told = label_of(one, 5, 8.0, scale, "imperial")
    assert told
    assert label.lines == lines if one.length > 8 else label.lines[0] == "7"


def test_a_piece_too_small_for_its_length_has_its_number_in_the_list():
    label, told = label_of(piece(0, 5.9375, 0, 2.0), 31, 8.0, 48.0, "imperial")
    assert not told and label.lines == ("#31",)


@dataclass
class Walls:
    """As much of a wall as windows look at."""

    box: tuple[float, float, float, float]

    def entry(self):
        _x0, y0, _x1, y1 = self.box
        courses = [Course(n, y0 + 8 * n, y0 + 8 * n + 8) for n in range(int((y1 - y0 + 7.99) // 8))]
        inner = type("Inner", (), {"box": self.box})
        return type("Entry", (), {"wall": inner, "courses": type("C", (), {"courses": courses})})


@given(st.floats(20, 2000), st.floats(9, 600), st.lists(st.floats(0, 1), max_size=12))
def test_every_piece_lies_whole_on_some_sheet(wide, high, shares):
    """Pieces are 36 in at most and lie in one course, wherever they begin."""
    entry = Walls((5.0, 3.0, 5.0 + wide, 3.0 + high)).entry()
    cut = []
    for n, share in enumerate(shares):
        course = entry.courses.courses[n % len(entry.courses.courses)]
        length = min(36.0, wide)
        x0 = 5.0 + share * (wide - length)
        cut.append(piece(x0, x0 + length, course.y0, min(course.y1, 3.0 + high)))
    scale, windows = windows_of(entry, cut, (11.0, 8.0), 8.0, 36.0, "imperial")
    assert all(any(w.holds(p) for w in windows) for p in cut)
    assert all(
        w.x1 - w.x0 <= 11.0 * scale + 1e-6 and w.y1 - w.y0 <= 8.0 * scale + 8.0 for w in windows
    )


def test_every_cut_of_the_job_is_listed_with_its_size(made):
    """As many different pieces as the plan has cut ones, in the order of laying on each sheet."""
    sheets = content_of(made)["sheets"]
    listed = {(s["title"].split(",")[0].split()[0], row.piece) for s in sheets for row in s["rows"]}
    cut = {
        (w.wall.id, f"{w.courses.number(p.course)}/{p.number}")
        for w in made.walls
        for p in w.courses.pieces
        if is_cut(p)
    }
    assert listed == cut
    for sheet in sheets:
        courses = [int(row.piece.split("/")[0]) for row in sheet["rows"]]
        assert courses == sorted(courses)


def test_running_dimensions_and_rests(made):
    """Read from the pieces themselves: where a piece begins, and that both parts of a panel name
    each other."""
    rows = {}
    for sheet in content_of(made)["sheets"]:
        wall = sheet["title"].split(",")[0].split()[0]
        rows |= {f"{wall} {row.piece}": row for row in sheet["rows"]}
    for name, row in rows.items():
        for other in re.findall(r"rest to (\S+ \S+?)(?:,|$)", row.what):
            if other in rows:
                assert rows[other].panel == row.panel
                assert f"rest of {name}" in rows[other].what


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler-utils")
def test_no_text_on_paper_is_smaller_than_seven_points(made, tmp_path):
    """The box that poppler gives a word is as high as its font is large, descenders included."""
    pytest.importorskip("typst")
    pdf = tmp_path / "crew.pdf"
    write_crew_sheets(made, pdf)
    command = ["pdftotext", "-bbox", str(pdf), "-"]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    heights = [
        float(b) - float(a) for a, b in re.findall(r'yMin="([\d.]+)" .*?yMax="([\d.]+)"', text)
    ]
    assert len(heights) > 500 and min(heights) >= 7.0 - 0.01


def test_crew_sheets_without_a_plan_are_refused(tmp_path):
    given = [SAMPLES / "gatehouse.dxf", "--job", SAMPLES / "gatehouse.toml", "-o", tmp_path / "o"]
    command = ["takeoff", *given, "--no-plan", "--crew-sheets", tmp_path / "c.pdf"]
    told = CliRunner().invoke(main, [str(word) for word in command])
    assert told.exit_code == 2 and "--crew-sheets show every piece" in told.output
    assert not (tmp_path / "o").exists()


def test_where_a_job_is_too_big_for_a_plan_the_sheet_says_so(tmp_path):
    job = with_settings(load_job(SAMPLES / "gatehouse.toml"), plan__panels=False)
    bare = take_off([SAMPLES / "gatehouse.dxf"], job)
    assert content_of(bare)["sheets"] == []
    json.dumps(content_of(bare))
