"""A proposal as data, as a job file, as a picture; from a drawing file."""

import re
import tomllib
from pathlib import Path
from xml.etree import ElementTree

import ezdxf
import pytest
from facades import house, woodshed

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.units import parse_length
from dxf2veneer.config.job import Job, load_job
from dxf2veneer.propose import Proposal, ProposedWall, propose
from dxf2veneer.propose.proposal import ProposedLevel, ProposedView, Reason
from dxf2veneer.propose.reading import read_scene
from dxf2veneer.propose.views.levels import level_value
from dxf2veneer.writers.proposal.job_file import job_text
from dxf2veneer.writers.proposal.picture import picture

TOLD = Reason("WALL_BOUNDED", {"ground": True, "covered": 1.0, "openings": 0})


def drawn(path, lines, unit=4, factor=1000.0):
    """A drawing of the lines in millimetres, with a title under it."""
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = unit
    for a, b, c, d in lines:
        doc.modelspace().add_line(
            (a * factor, b * factor), (c * factor, d * factor), dxfattribs={"layer": "front"}
        )
    doc.modelspace().add_text("Front elevation", height=200).set_placement((2000, -1200))
    doc.saveas(path)
    return path


@pytest.fixture
def proposal(tmp_path):
    return propose(drawn(tmp_path / "house.dxf", house()))


def test_level_marks_give_lines_and_their_heights_to_take_in(tmp_path):
    """A triangle on a level line beside the front, its tip on the line at 1000 mm, says +1.00."""
    path = drawn(tmp_path / "house.dxf", house())
    doc = ezdxf.readfile(path)
    space = doc.modelspace()
    space.add_line((8200, 1000), (9600, 1000))
    space.add_lwpolyline([(8800, 1000), (8680, 1200), (8920, 1200)], close=True)
    space.add_text("+1.00", height=200).set_placement((8950, 1080))
    doc.saveas(path)
    found = propose(path)
    text = job_text(found, path, "0" * 64, Job())
    (row,) = re.findall(r'^#    "(level=.*)",  # (.*)$', text, re.MULTILINE)
    line, about = row
    assert re.fullmatch(r"level=-?[\d.]+,1000(\.0)? -?[\d.]+,1000(\.0)?", line)
    assert about.endswith('+1.00; level_height = "1 m"')
    job = tmp_path / "job.toml"
    taken = text.replace("[drawing]\n", f'[drawing]\nmark_line = ["{line}"]\n', 1)
    job.write_text(taken + '\n[output]\nlevel_height = "1 m"\n')
    made = take_off([path], load_job(job))
    assert made.job.output.level_height == pytest.approx(1000 / 25.4)
    assert made.walls[0].wall.level_y == pytest.approx(1000 / 25.4)


@pytest.mark.parametrize(
    ("text", "metric", "height", "inches"),
    [
        ("+2.85", True, "2.85 m", 2850 / 25.4),
        ("+2.85", False, None, None),  # feet or meters: not said
        ("+2850", True, None, None),
        ("-0,15 m", False, "-0.15 m", -150 / 25.4),
        ("EL. 100'-6\"", False, "100.5 ft", 1206.0),
        ("EL. 100.50'", False, "100.5 ft", 1206.0),
        ("%%p0.00", True, "0 m", 0.0),
    ],
)
def test_a_level_marks_height_has_the_unit_that_its_text_names(text, metric, height, inches):
    value, notation, _ = level_value(text)
    mark = ProposedLevel("V1", 0.0, text, value, notation)
    assert mark.height(is_metric=metric) == height
    assert height is None or parse_length(height) == pytest.approx(inches)


def test_the_json_has_the_agreed_shape(proposal):
    data = proposal.as_json()
    assert {"unit", "unit_evidence", "views", "walls", "openings"} <= set(data)
    assert [v["kind"] for v in data["views"]] == ["elevation"]
    (wall,) = data["walls"]
    assert set(wall) == {"id", "view", "outline", "confidence", "reason"}
    assert wall["view"] == data["views"][0]["id"]
    assert wall["outline"][0] != wall["outline"][-1]
    assert {tuple(round(v) for v in p) for p in wall["outline"]} == {
        (0, 0),
        (8000, 0),
        (8000, 3000),
        (0, 3000),
    }
    assert sorted((o["kind"], o["wall"]) for o in data["openings"]) == [
        ("door", wall["id"]),
        ("window", wall["id"]),
    ]
    assert all(
        0.0 < x["confidence"] <= 1.0 and x["reason"]["code"]
        for x in data["walls"] + data["openings"]
    )


def test_the_job_file_takes_off_what_is_proposed(tmp_path):
    path = drawn(tmp_path / "shed.dxf", woodshed())
    text = job_text(propose(path), path, "0" * 64, Job())
    assert tomllib.loads(text)["proposal"] == {"confirmed": False, "sha256": "0" * 64}
    job = tmp_path / "shed.toml"
    job.write_text(text, encoding="utf-8")
    totals = take_off([path], load_job(job)).totals
    mm2 = 25.4**2
    assert totals.gross_area * mm2 == pytest.approx(6000 * 3000, rel=1e-3)
    assert totals.net_area * mm2 == pytest.approx(6000 * 3000 - 1000 * 1000 - 900 * 2200, rel=1e-3)


SVG = "{http://www.w3.org/2000/svg}"


def test_the_picture_is_xml_with_a_number_on_everything(proposal, tmp_path):
    scene = read_scene(tmp_path / "house.dxf")
    root = ElementTree.fromstring(picture(proposal, scene, name="house.dxf", job=Job()))
    texts = {t.text for t in root.iter(f"{SVG}text")}
    assert {w.id for w in proposal.walls} <= texts
    assert all({o.id, o.short_id} & texts for o in proposal.openings)
    assert "Front elevation" in texts, "what is written in the drawing"
    assert "house.dxf: read in millimeters" in texts
    assert any(t.startswith("proposed, not confirmed") for t in texts if t)


def test_what_a_drawing_says_stays_text(tmp_path):
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 4
    for a, b, c, d in woodshed():
        doc.modelspace().add_line(
            (a * 1000, b * 1000), (c * 1000, d * 1000), dxfattribs={"layer": "a'b&ü"}
        )
    doc.saveas(tmp_path / "odd.dxf")
    text = job_text(propose(tmp_path / "odd.dxf"), tmp_path / "o\ndd.dxf", "0" * 64, Job())
    assert len(tomllib.loads(text)["drawing"]["wall_outline"]) == 1


@pytest.mark.parametrize(
    ("titles", "names"),
    [
        (
            ('STREET ELEVATION 1/4" = 1\'-0"', "Südansicht M 1:100"),
            ["STREET ELEVATION", "Südansicht"],
        ),
        (("FRONT ELEVATION (1:50)", "ELEVATION 2"), ["FRONT ELEVATION", "ELEVATION 2"]),
        (("NORTH  Scale: 1:50", "NORTH"), ["NORTH", "NORTH"]),  # numbers tell walls apart
        (("A = B", "1:50"), ["A B", ""]),
    ],
)
def test_walls_are_named_by_their_views_without_the_scale(titles, names):
    views = tuple(
        ProposedView(f"V{n}", "elevation", t, (9.0 * n, 0, 9.0 * n + 8, 3), 0.9, TOLD)
        for n, t in enumerate(titles, 1)
    )
    walls = tuple(
        ProposedWall(
            f"W{n}",
            v.id,
            ((v.box[0], 0.0), (v.box[2], 0.0), (v.box[2], 3.0), (v.box[0], 3.0)),
            0.9,
            TOLD,
        )
        for n, v in enumerate(views, 1)
    )
    proposal = Proposal("m", True, (), views, walls, ())
    data = tomllib.loads(job_text(proposal, Path("a.dxf"), "0" * 64, Job()))
    listed = data["drawing"]["wall_outline"]
    assert [one.rpartition("=")[0] for one in listed] == names


@pytest.mark.parametrize(("scale", "families"), [(20.0, 1), (0.01, 0)])
def test_the_picture_shows_hatches_by_their_lines_or_as_a_tint(tmp_path, scale, families):
    """Over the left half of the front lines at 45 degrees: 3.175 x 20 = 63.5 mm apart they are
    lines on the picture, a two-thousandth of that apart no eye tells them from a tint."""
    path = drawn(tmp_path / "house.dxf", house())
    doc = ezdxf.readfile(path)
    hatch = doc.modelspace().add_hatch()
    hatch.set_pattern_fill("ANSI31", scale=scale)
    hatch.paths.add_polyline_path([(0, 0), (3000, 0), (3000, 3000), (0, 3000)], is_closed=True)
    doc.saveas(path)
    text = picture(propose(path), read_scene(path), name="house.dxf", job=Job())
    root = ElementTree.fromstring(text)
    lined = [p for p in root.iter(f"{SVG}pattern") if p.get("id").startswith("h-")]
    assert [p.get("patternTransform") for p in lined] == ["rotate(-45)"] * families
    assert ('fill="#999"' in text) is (families == 0)
