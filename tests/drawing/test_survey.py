"""The survey of a file: counts and sizes are facts, guesses say why."""

import json
import math

import pytest
from drawings import new

from dxf2veneer.cli.survey_json import survey_json
from dxf2veneer.cli.terminal import survey_lines
from dxf2veneer.drawing import survey_drawing
from dxf2veneer.wording import say

#  FRAME (-500,-500) to (1500,1000) holds one WALL 240 x 108 with two openings; CORN marks its left
#  side, NAMES names it, NOTES stands outside; SOFA lies in a block, on layer 0, placed on FURN


@pytest.fixture
def survey(tmp_path):
    document = new(units=1)
    space = document.modelspace()

    def box(layer, x0, y0, x1, y1):
        space.add_lwpolyline(
            [(x0, y0), (x1, y0), (x1, y1), (x0, y1)], close=True, dxfattribs={"layer": layer}
        )

    box("FRAME", -500, -500, 1500, 1000)
    box("SKIN", 0, 0, 240, 108)
    box("HOLES", 20, 36, 56, 84)
    space.add_circle((120, 60), 12, dxfattribs={"layer": "HOLES"})
    space.add_line((0, 0), (0, 108), dxfattribs={"layer": "CORN"})
    space.add_text("North", dxfattribs={"layer": "NAMES", "insert": (100, 20)})
    space.add_text("Sheet", dxfattribs={"layer": "NOTES", "insert": (900, 20)})
    document.blocks.new("SOFA").add_line((0, 0), (30, 0))
    space.add_blockref(
        "SOFA", (600, 0), dxfattribs={"layer": "FURN", "column_count": 3, "column_spacing": 50}
    )
    document.layers.add("GONE").freeze()
    box("GONE", 5000, 5000, 9000, 9000)
    document.layers.add("BARE").off()
    path = tmp_path / "a.dxf"
    document.saveas(path)
    return survey_drawing(path)


def layer(survey, name):
    return next(entry for entry in survey.layers if entry.name == name)


def test_guesses(survey):
    guesses = {entry.name: entry.guess for entry in survey.layers if entry.guess}
    assert guesses == {
        "SKIN": "wall",
        "HOLES": "openings",
        "CORN": "corner marks",
        "NAMES": "names",
    }
    assert say(layer(survey, "SKIN").why) == "1 of 1 outlines hold 2 outlines of other layers"


def test_facts_of_a_layer(survey):
    holes = layer(survey, "HOLES")
    assert dict(holes.counts) == {"LWPOLYLINE": 1, "CIRCLE": 1}
    assert holes.closed_outlines == 2
    assert holes.closed_area == pytest.approx(36 * 48 + math.pi * 144)
    assert (holes.width, holes.height) == pytest.approx((112, 48))


def test_block_content_counts_on_the_layer_it_shows_on(survey):
    furn = layer(survey, "FURN")
    assert dict(furn.counts) == {"LINE": 3}
    assert furn.width == pytest.approx(130)


def test_states(survey):
    assert [layer(survey, n).state for n in ("SKIN", "GONE", "BARE")] == ["on", "frozen", "off"]
    assert layer(survey, "BARE").entities == 0


def test_extent_is_of_the_probable_walls_in_every_everyday_unit(survey):
    assert survey.units == "in"
    assert say(survey.measured) == "closed outlines on SKIN"
    assert (survey.width, survey.height) == (240, 108)
    assert any("20'-0\" x 9'-0\"" in line for line in survey_lines(survey))


def test_json_has_each_english_line_with_its_code_and_values_beside_it(survey):
    data = json.loads(json.dumps(survey_json(survey)))
    skin = next(e for e in data["layers"] if e["name"] == "SKIN")
    assert skin["why"] == "1 of 1 outlines hold 2 outlines of other layers"
    assert skin["why_data"] == {"code": "guess-wall", "values": {"holding": 1, "of": 1, "held": 2}}
    assert next(e for e in data["layers"] if e["name"] == "BARE")["why_data"] is None
    assert data["measured"] == "closed outlines on SKIN"
    assert data["measured_data"]["values"] == {"layers": ["SKIN"]}
    assert data["units"] == "in"
    assert next(e for e in data["layers"] if e["name"] == "HOLES")["counts"] == {
        "LWPOLYLINE": 1,
        "CIRCLE": 1,
    }


def test_outline_that_nearly_closes_counts_as_closed(tmp_path):
    document = new(units=1)
    document.modelspace().add_lwpolyline(
        [(0, 0), (90, 0), (90, 50), (0, 50), (0, 0.1)], dxfattribs={"layer": "X"}
    )
    path = tmp_path / "a.dxf"
    document.saveas(path)
    assert layer(survey_drawing(path), "X").closed_area == pytest.approx(4500)


def test_header_unit_is_told_even_where_the_job_names_another(tmp_path):
    from drawings import job

    path = tmp_path / "a.dxf"
    document = new(units=4)
    document.modelspace().add_circle((0, 0), 900, dxfattribs={"layer": "X"})
    document.saveas(path)
    assert survey_drawing(path, job(drawing__units="in")).units == "mm"
