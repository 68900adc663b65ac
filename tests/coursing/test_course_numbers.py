"""The number of a course is the same on all walls that a level line ties together.

  W1               W2
60 .-----------.   60 .------.
   |  5 ...    |      |  5   |
32 |- - - - - -|   32 |- - - |
   |  4        |      |  4   |
24 |- - - - - -|   24 |- - - |
   |  3        |      |  3   |
16 |- - - - - -|   16 '------'    the first course of W2 is number 3
   |  2        |
 8 |- - - - - -|
   |  1        |
 0 '-----------'
"""

from __future__ import annotations

import re

import ezdxf
import pytest
from builders import JOB, PRODUCT, drawing, job, line, walls_of, write_dxf
from hypothesis import given
from hypothesis import strategies as st

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.site_file import load_site
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.numbering import numbered
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import WallTakeoff
from dxf2veneer.recognise import recognise
from dxf2veneer.site.measured import as_measured
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.result.walls import wall_dict
from dxf2veneer.writers.site_sheet import sheet_text
from dxf2veneer.writers.unfolded import write_unfolded

TWO = {"wall": [(0, 0, 120, 60), (140, 16, 200, 60)], "level": [line(-10, 0, 210, 0)]}


def numbers(*drawings, settings=JOB):
    """By wall the number and the height of every course."""
    found = recognise(drawings, settings)
    sums = [measure_wall(w, settings, PRODUCT) for w in found.walls]
    walls = [WallTakeoff(s.wall, s, course_wall(s, settings, PRODUCT)) for s in sums]
    return {
        w.wall.id: {w.courses.number(c.index): c.y0 for c in w.courses.courses}
        for w in numbered(walls, found.corners, 8.0)
    }


def test_the_same_line_has_one_number_on_both_walls():
    found = numbers(drawing(**TWO))
    assert list(found["W1"].items())[:3] == [(1, 0.0), (2, 8.0), (3, 16.0)]
    assert list(found["W2"].items())[:2] == [(3, 16.0), (4, 24.0)]


def test_a_level_line_above_the_bases_does_not_move_the_first_number():
    found = numbers(drawing(wall=TWO["wall"], level=[line(-10, 48, 210, 48)]))
    assert found["W1"][1] == 0.0 and min(found["W2"]) == 3


def test_walls_without_a_level_line_count_from_their_own_first_course():
    found = numbers(drawing(wall=TWO["wall"]))
    assert found["W1"][1] == 0.0 and found["W2"][1] == 16.0


def test_a_corner_ties_walls_without_level_lines_on_the_feet_of_its_edges():
    """W1's base steps up to 16 at corner A, where W2 begins on 116: course 3 of W1 runs on as its
    first."""
    stepped = [(0, 0), (60, 0), (60, 16), (120, 16), (120, 60), (0, 60)]
    found = numbers(
        drawing(
            wall=[stepped, (300, 116, 400, 160)],
            outside_corner=[line(120, 16, 120, 60), line(300, 116, 300, 160)],
            texts=[("outside_corner", "A", (120, 30)), ("outside_corner", "A", (300, 130))],
        )
    )
    assert min(found["W1"]) == 1 and min(found["W2"]) == 3


def test_course_lines_that_miss_each_other_at_a_corner_tie_nothing():
    high = [(0, 0), (60, 0), (60, 13), (120, 13), (120, 60), (0, 60)]
    found = numbers(
        drawing(
            wall=[high, (300, 116, 400, 160)],
            outside_corner=[line(120, 13, 120, 60), line(300, 116, 300, 160)],
            texts=[("outside_corner", "A", (120, 30)), ("outside_corner", "A", (300, 130))],
        )
    )
    assert min(found["W1"]) == 1 and min(found["W2"]) == 1


def test_a_corner_ties_walls_of_two_drawings_on_their_level_lines():
    """W2 begins 16 over its level line, W1 on it: round corner A course 3 of W1 runs on as the
    first of W2."""
    west = drawing(
        wall=[(0, 0, 120, 60)],
        level=[line(-10, 0, 130, 0)],
        outside_corner=[line(120, 0, 120, 60)],
        texts=[("outside_corner", "A", (120, 30))],
    )
    south = drawing(
        index=1,
        file="south.dxf",
        wall=[(500, 116, 600, 160)],
        level=[line(490, 100, 610, 100)],
        outside_corner=[line(500, 116, 500, 160)],
        texts=[("outside_corner", "A", (500, 130))],
    )
    found = numbers(west, south)
    assert min(found["W1"]) == 1 and min(found["W2"]) == 3


@given(st.lists(st.integers(0, 6), min_size=1, max_size=5), st.integers(6, 7))
def test_equal_heights_have_equal_numbers_and_one_is_the_lowest(bases, level):
    # every wall stands across the level line, which is 48 or 56 high
    walls = [(n * 100, base * 8, n * 100 + 60, base * 8 + 60) for n, base in enumerate(bases)]
    one = drawing(wall=walls, level=[line(-10, level * 8, 1000, level * 8)])
    found = numbers(one)
    by_height: dict[float, set[int]] = {}
    for courses in found.values():
        for number, y in courses.items():
            by_height.setdefault(round(y, 6), set()).add(number)
    assert all(len(told) == 1 for told in by_height.values())
    assert by_height[min(by_height)] == {1}


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("numbers")
    path = write_dxf(drawing(**TWO), folder / "two.dxf")
    return take_off([path], job()), path


def test_every_output_takes_the_same_number(made, tmp_path):
    """The first course of W2 is number 3 in overlay, result, site sheet, cut list and strip."""
    takeoff, path = made
    write_overlay(takeoff, takeoff.drawings[0], path, tmp_path / "overlay.dxf")
    texts = {}
    for text in ezdxf.readfile(tmp_path / "overlay.dxf").modelspace().query("TEXT"):
        tags = dict(v.partition("=")[::2] for _, v in text.get_xdata("DXF2VENEER") if "=" in str(v))
        if tags.get("what") == "course number":
            texts.setdefault(tags["wall"], []).append(int(text.dxf.text))
    assert min(texts["W1"]) == 1 and min(texts["W2"]) == 3
    assert [c["number"] for c in wall_dict(takeoff.walls[1])["courses"]][:2] == [3, 4]
    (own,) = re.findall(r"\[W2\].*", sheet_text(takeoff), re.DOTALL)
    assert re.findall(r"course = (\d+)", own)[:2] == ["3", "4"]
    write_unfolded(takeoff, tmp_path / "walls.svg")
    drawn = re.findall(r">(\d+)(?:  [^<]*)?</text>", (tmp_path / "walls.svg").read_text("utf-8"))
    assert drawn.count("3") == 2 and drawn.count("1") == 1


def test_joints_of_a_laid_course_are_stated_by_that_number(tmp_path):
    """Two courses lie under the first of W1 on other walls: course 3 is its first one."""
    (wall,) = walls_of(drawing(wall=[(0, 0, 120, 60)]))

    def stated(course):
        file = tmp_path / "site.toml"
        file.write_text(f"[W1]\nlaid = 1\njoints = [{{ course = {course}, at = [36] }}]", "utf-8")
        return as_measured([wall], [], load_site(file), {"W1": 2}).measures.laid

    (laid,) = stated(3)
    assert (laid.course, laid.joints) == (0, (36.0,))
    for other in (1, 2, 4):
        with pytest.raises(SettingsError, match=f"site-joints-not-laid.*'course', {other}"):
            stated(other)
