"""Walls unfolded round their corners, and as they may look."""

from __future__ import annotations

import re
import struct
from xml.etree import ElementTree

import pytest
import shapely
from conftest import ROOT
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.writers.unfolded import write_sketch, write_unfolded
from dxf2veneer.writers.unfolded.stones import stones_of
from dxf2veneer.writers.unfolded.strips import strips_of

SAMPLES = ROOT / "samples"


@pytest.fixture(scope="module")
def made():
    job = with_settings(load_job(SAMPLES / "gatehouse.toml"), plan__panels=False)
    return take_off([SAMPLES / "gatehouse.dxf"], job)


@pytest.fixture(scope="module")
def laid():
    return take_off([SAMPLES / "gatehouse.dxf"], load_job(SAMPLES / "gatehouse.toml"))


def test_walls_that_meet_stand_side_by_side(made):
    """The sample's corners join W1 to W2, W3 to W4, W5 to W6 (samples/README.md)."""
    strips = strips_of(made)
    assert [[p.entry.wall.id for p in s] for s in strips] == [
        ["W1", "W2"], ["W3", "W4"], ["W5", "W6"],
    ]  # fmt: skip
    for left, right in strips:
        assert left.entry.wall.box[2] + left.dx == pytest.approx(right.entry.wall.box[0] + right.dx)
        assert right.corner and not left.corner


def test_course_lines_run_through_at_every_corner(made):
    """Courses of walls that meet are a whole number of courses apart."""
    height = made.product.panel.height
    for left, right in strips_of(made):
        apart = left.entry.courses.starter_y + left.dy - right.entry.courses.starter_y - right.dy
        assert apart / height == pytest.approx(round(apart / height), abs=1e-9)


@given(st.floats(1, 40), st.floats(0.3, 8), st.integers(0, 999), st.floats(-500, 500))
def test_stones_fill_a_piece_and_never_overlap(length, height, seed, x0):
    stones = list(stones_of((x0, 0.0, x0 + length, height), 8.0, str(seed)))
    boxes = [shapely.box(*s[:4]) for s in stones]
    piece = shapely.box(x0, 0.0, x0 + length, height).buffer(1e-6)
    assert all(piece.contains(box) for box in boxes)
    filled = sum(box.area for box in boxes)
    assert shapely.union_all(boxes).area == pytest.approx(filled, rel=1e-9)
    assert 0.6 * length * height <= filled < length * height
    assert stones == list(stones_of((x0, 0.0, x0 + length, height), 8.0, str(seed)))


@pytest.mark.parametrize("write", [write_sketch, write_unfolded])
def test_pictures_are_whole_to_scale_and_the_same_every_time(write, laid, tmp_path):
    write(laid, tmp_path / "a.svg")
    write(laid, tmp_path / "b.svg")
    assert (tmp_path / "a.svg").read_bytes() == (tmp_path / "b.svg").read_bytes()
    assert is_ours(tmp_path / "a.svg")
    root = ElementTree.parse(tmp_path / "a.svg").getroot()
    _, _, wide, _ = map(float, root.attrib["viewBox"].split())
    scale = wide * 25.4 / float(root.attrib["width"].removesuffix("mm"))
    text = (tmp_path / "a.svg").read_text(encoding="utf-8")
    (told,) = re.findall(r"1:(\d+)", text)
    assert scale == pytest.approx(float(told), rel=1e-4)
    assert {f"W{n}" for n in range(1, 7)} <= set(re.findall(r">(W\d)\b", text))


def test_the_sketch_says_that_it_is_one(laid, tmp_path):
    write_sketch(laid, tmp_path / "a.svg")
    text = (tmp_path / "a.svg").read_text(encoding="utf-8")
    assert "A sketch, not a photograph" in text and "invented" in text


def test_a_png_is_one_and_is_ours(laid, tmp_path):
    pytest.importorskip("typst")
    write_sketch(laid, tmp_path / "a.png")
    content = (tmp_path / "a.png").read_bytes()
    assert content.startswith(b"\x89PNG\r\n\x1a\n") and is_ours(tmp_path / "a.png")
    wide, high = struct.unpack(">II", content[16:24])
    assert wide > 1000 and high > 500


def test_without_a_plan_course_lines_are_drawn_instead(made, tmp_path):
    write_unfolded(made, tmp_path / "a.svg")
    assert 'class="course"' in (tmp_path / "a.svg").read_text(encoding="utf-8")
    write_sketch(made, tmp_path / "b.svg")
