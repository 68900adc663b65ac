"""Places that do not hold with every edge off, marked on overlay and picture.

two courses of 8 in, a wall of 72 in: whole panels      |= 36 =|= 36 =|
in course 1, so that no end piece can grow              |= 18 =|= 36 =|= 18 =|
"""

from __future__ import annotations

import ezdxf
import pytest
from builders import drawing, job, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.wording.tolerance import fragile_words
from dxf2veneer.writers.elevation.picture import elevation_svg
from dxf2veneer.writers.fragile import fragile_mark, fragile_on
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.report.legend import keys_of

SURE = {"plan__look": "off", "plan__offcuts": "job"}


@pytest.fixture(scope="module")
def path(tmp_path_factory):
    return write_dxf(drawing(wall=[(0, 0, 72, 16)]), tmp_path_factory.mktemp("wall") / "wall.dxf")


@pytest.fixture(scope="module")
def taken(path):
    """A takeoff with a job that allows for edges off by half an inch, and one for none."""
    return {off: take_off([path], job(plan__tolerance=off, **SURE)) for off in (0.5, 0.0)}


def test_a_mark_stands_on_the_foot_of_its_course(taken):
    takeoff = taken[0.5]
    (wall,) = takeoff.walls
    places = fragile_on(takeoff, wall)
    assert places and len(places) == len(takeoff.plan.tolerance.places)
    for place in places:
        left, right, top = fragile_mark(wall, place)
        foot = 8.0 * place.course
        assert (left[1], right[1]) == (foot, foot) and foot < top[1] < foot + 2.0
        assert left[0] < place.at[0] == top[0] < right[0]


def test_the_overlay_has_them_on_a_layer_of_their_own_with_their_tags(taken, path, tmp_path):
    takeoff = taken[0.5]
    write_overlay(takeoff, takeoff.drawings[0], path, tmp_path / "overlay.dxf")
    found = ezdxf.readfile(tmp_path / "overlay.dxf").modelspace().query('*[layer ? ".*-XTOL"]')
    assert len(found) == len(takeoff.plan.tolerance.places)
    tags = [value for _, value in found[0].get_xdata("DXF2VENEER")]
    assert "rule=L27" in tags and any(tag.startswith("what=edges off: ") for tag in tags)


def test_the_picture_marks_them_and_says_what_to_do(taken):
    takeoff = taken[0.5]
    (wall,) = takeoff.walls
    picture = str(elevation_svg(takeoff, wall, (), alone=True))
    assert picture.count('class="fragile"') == 1
    words = fragile_words(fragile_on(takeoff, wall)[0], 1, 0.5, "imperial")
    assert words.startswith("W1, course 1: edges 1/2") and "measure first" in words
    assert "measure first" in picture
    keys = [text for text, _ in keys_of(takeoff, wall)]
    assert f"(sheet Panels): {len(takeoff.plan.tolerance.places)}" in " ".join(keys)


def test_without_errors_allowed_for_nothing_is_marked(taken, path, tmp_path):
    takeoff = taken[0.0]
    (wall,) = takeoff.walls
    assert fragile_on(takeoff, wall) == ()
    assert "fragile" not in str(elevation_svg(takeoff, wall, (), alone=False))
    write_overlay(takeoff, takeoff.drawings[0], path, tmp_path / "overlay.dxf")
    assert not ezdxf.readfile(tmp_path / "overlay.dxf").modelspace().query('*[layer ? ".*-XTOL"]')
