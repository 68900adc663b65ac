"""What every takeoff says of a unit and of outlines that the whole drawing contradicts."""

from __future__ import annotations

import ezdxf
import pytest
from click.testing import CliRunner

from dxf2veneer.app import second_look
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.wording import say


def facade(path, code, unit_mm):
    """A front of 9 x 3 m with a door of 0.9 x 2.1 m and two framed windows of 1.2 x 1.2 m."""
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = code
    space = doc.modelspace()

    def box(x, y, wide, high, layer):
        corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
        points = [(a / unit_mm, b / unit_mm) for a, b in corners]
        space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})

    box(0, 0, 9000, 3000, "WALL")
    box(4000, 0, 900, 2100, "OPEN")
    for x in (1000, 6500):
        box(x, 900, 1200, 1200, "OPEN")
        box(x + 60, 960, 1080, 1080, "SASH")
    doc.saveas(path)
    return path


def notices(path, **settings):
    asked = {"layers.wall": ("WALL",), "plan.panels": False, **settings}
    return take_off(path, load_job(None, asked)).notices


def codes(path, **settings):
    return [n.code for n in notices(path, **settings)]


def test_a_drawing_that_claims_mm_and_is_cm_warns(tmp_path):
    told = codes(facade(tmp_path / "a.dxf", 4, 10.0), **{"layers.opening": ("OPEN",)})
    assert {"UNITS_ABSURD", "UNITS_DOUBTFUL"} & set(told)


@pytest.mark.parametrize(("code", "unit_mm"), [(4, 1.0), (5, 10.0), (6, 1000.0), (1, 25.4)])
def test_a_right_header_is_not_argued_away(tmp_path, code, unit_mm):
    told = codes(facade(tmp_path / "a.dxf", code, unit_mm), **{"layers.opening": ("OPEN",)})
    assert not {"UNITS_ABSURD", "UNITS_DOUBTFUL", "OPENING_UNCLAIMED"} & set(told)


def test_a_wall_whose_outline_is_open_round_its_windows_is_told(tmp_path):
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 4
    space = doc.modelspace()
    for line in (((0, 0), (9000, 0)), ((9000, 0), (9000, 3000)), ((0, 0), (0, 2900))):
        space.add_line(*line, dxfattribs={"layer": "WALL"})
    window = [(1000, 900), (2200, 900), (2200, 2100), (1000, 2100)]
    space.add_lwpolyline(window, close=True, dxfattribs={"layer": "WALL"})
    doc.saveas(tmp_path / "a.dxf")
    assert "WALL_OUTLINE_OPEN" in codes(tmp_path / "a.dxf")


@pytest.mark.parametrize(
    ("title", "told"), [("GROUND FLOOR PLAN", True), ("FRONT ELEVATION", False)]
)
def test_walls_of_a_plan_are_told_by_its_title(tmp_path, title, told):
    path = facade(tmp_path / "a.dxf", 4, 1.0)
    doc = ezdxf.readfile(path)
    doc.modelspace().add_text(title, height=250, dxfattribs={"insert": (3000, -900)})
    doc.saveas(path)
    found = codes(path, **{"layers.opening": ("OPEN",)})
    assert ("WALLS_OF_OTHER_VIEW" in found) is told
    pointed = codes(path, **{"drawing.window": ("-500,-500,9500,3500",)})
    assert "WALLS_OF_OTHER_VIEW" not in pointed


def test_a_drawing_of_too_many_lines_is_said_not_to_be_seen_whole(tmp_path, monkeypatch):
    path = facade(tmp_path / "a.dxf", 4, 1.0)  # six rectangles of four lines each
    monkeypatch.setattr(second_look, "SECOND_LOOK_SEGMENTS", 24)
    assert "NOT_SEEN_WHOLE" not in codes(path)
    monkeypatch.setattr(second_look, "SECOND_LOOK_SEGMENTS", 23)
    (told,) = [n for n in notices(path) if n.code == "NOT_SEEN_WHOLE"]
    assert "24 lines" in say(told.message)


@pytest.mark.parametrize("command", ["layers", "propose"])
def test_a_unit_that_makes_no_building_warns_before_any_takeoff(command, tmp_path):
    doc = ezdxf.new("R2010", units=1)  # 52 x 4.8 units under a title: no door says how large
    space = doc.modelspace()
    space.add_lwpolyline([(0, 0), (52, 0), (52, 4.8), (0, 4.8)], close=True)
    space.add_line((-5, 0), (57, 0))
    space.add_text("FRONT ELEVATION", height=0.5, dxfattribs={"insert": (20, -2)})
    path = tmp_path / "a.dxf"
    doc.saveas(path)
    picture = ["--picture", str(tmp_path / "a.svg"), "--job", str(tmp_path / "a.toml")]
    asked = [command, str(path), *(picture if command == "propose" else [])]
    told = CliRunner().invoke(main, asked).output
    assert "warning" in told
    assert "read in inches" in told
    right = [*asked, "--units", "m", *(["--force"] if command == "propose" else [])]
    assert "read in" not in CliRunner().invoke(main, right).output
