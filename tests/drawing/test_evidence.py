"""Evidence of the unit besides the header: each kind alone, agreement, conflict, silence."""

import time

import pytest
from drawings import OPENING, WALL, new, read, told
from refusals import refused

from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.cli.survey_json import survey_json
from dxf2veneer.cli.terminal import suggestion, survey_lines
from dxf2veneer.drawing import DrawingError, survey_drawing
from dxf2veneer.drawing.unit.evidence import (
    Evidence,
    Finding,
    Outline,
    of_dimension,
    of_height,
    of_outlines,
    of_text,
)
from dxf2veneer.wording import say


@pytest.mark.parametrize(
    ("text", "measured", "unit"),
    [
        ("12'-6\"", 150, "in"),  # 12 x 12 + 6 = 150 in
        ("12' - 6\"", 12.5, "ft"),
        ("12'-6\"", 3810, "mm"),  # 150 x 25.4
        ("12’-6” TYP.", 150, "in"),
        ("12'-6\" [3810]", 150, "in"),
        ("3.50 m", 3500, "mm"),
        ("3,50 m", 3.5, "m"),
        ("3500mm", 350, "cm"),
        ("3500 mm", 137.8, "in"),  # 3500 / 25.4 = 137.795
        ("3500", 3.5, "m"),
        ("3.5", 3500, "mm"),
        ("3810", 150, "in"),
        ("3810", 12.5, "ft"),
    ],
)
def test_a_dimension_text_beside_a_measured_length(text, measured, unit):
    assert of_dimension(text, measured) == (unit,)


@pytest.mark.parametrize(
    ("text", "measured"),
    [
        ("3500", 3500),  # the drawing's own number says nothing of its unit
        ("", 150),
        ("VARIES", 150),
        ("12'-6\"", 170),  # neither 12.5 ft nor 150 in nor any other unit
        ("3.50 m", 0),
        ("0", 0),
        ('1/0"', 3),
    ],
)
def test_a_dimension_text_that_says_nothing(text, measured):
    assert of_dimension(text, measured) == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("ALL DIMENSIONS IN MM", ("note", ("mm",))),
        ("Dimensions are in millimeters unless noted", ("note", ("mm",))),
        ("DIMENSIONS IN METRES", ("note", ("m",))),
        ("Units: cm", ("note", ("cm",))),
        ("DIMS. SHOWN IN INCHES", ("note", ("in",))),
        ("DIMENSIONS IN FEET AND INCHES", ("note", ("in", "ft"))),
        ('SCALE: 1/4" = 1\'-0"', ("note", ("in", "ft"))),
        ("1/8” = 1’-0”", ("note", ("in", "ft"))),
        ("1:50", ("scale", ("mm", "cm", "m"))),
        ("Scale 1 : 100 @ A3", ("scale", ("mm", "cm", "m"))),
    ],
)
def test_a_text_on_the_sheet(text, said):
    assert of_text(text) == said


@pytest.mark.parametrize(
    "text",
    ["NORTH", "FALL 1:50", "1:48", "11:500", "12'-6\"", "DIMENSIONS IN MIND", "UNITS IN A ROW", ""],
)
def test_a_text_that_says_nothing(text):
    assert of_text(text) is None


@pytest.mark.parametrize(
    ("width", "height", "unit"),
    [(36, 80, "in"), (3, 6.75, "ft"), (900, 2100, "mm"), (90, 210, "cm"), (0.9, 2.1, "m")],
)
def test_a_door_at_the_foot_of_a_wall(width, height, unit):
    """The wall is 5 doors wide and 1.3 high; the door begins one door's width from its left
    side."""
    wall = Outline((0, 0, 5 * width, 1.3 * height))
    door = Outline((width, 0, 2 * width, height), "D1")
    (found,) = of_outlines([wall, door])
    assert (found.source, found.units, found.handle) == ("door", (unit,), "D1")
    assert found.at == (1.5 * width, height / 2)


def test_what_is_no_door():
    wall = Outline((0, 0, 240, 120))
    assert of_outlines([Outline((40, 0, 76, 80))]) == []  # nothing holds it: a piece of timber
    assert (
        of_outlines([wall, Outline((40, 30, 76, 110))]) == []
    )  # a tall window, 30 in above the foot
    assert of_outlines([wall, Outline((40, 0, 150, 80))]) == []  # 110 in wide
    assert (
        of_outlines([Outline((0, 0, 6000, 2400)), Outline((40, 0, 76, 80))]) == []
    )  # a 200 ft wall: a vent in mm


def test_a_scale_counts():
    """Drawn at 1/48: 0.75 x 1.75 in on paper are 36 x 84 in."""
    (found,) = of_outlines([Outline((0, 0, 5, 2.25)), Outline((1, 0, 1.75, 1.75))], scale=48)
    assert found.units == ("in",)


def test_a_height():
    """5 in and 5 mm are no wall; 5 ft is, and 5 m; 5 cm is not."""
    assert [e.units for e in of_height(5)] == [("ft", "m")]
    assert of_height(0) == []


def finding(*evidence, highest=0.0):
    return Finding(
        tuple(Evidence(source, tuple(units.split()), source) for source, units in evidence), highest
    )


def test_agreement_recommends():
    agreed = finding(("dimension", "in"), ("note", "in ft"), ("height", "in ft cm"))
    assert (agreed.recommendation, agreed.conflicts) == ("in", False)
    assert agreed.against(unit_by_name("mm")).source == "dimension"
    assert agreed.against(unit_by_name("ft")).source == "dimension"
    assert agreed.against(unit_by_name("in")) is None
    assert agreed.against(unit_by_name("in-us")) is None


def test_conflict_recommends_nothing():
    torn = finding(("dimension", "in"), ("dimension", "mm"))
    assert (torn.recommendation, torn.fitting, torn.conflicts) == (None, (), True)
    assert torn.against(unit_by_name("m")) is None


def test_silence():
    assert (
        Finding().recommendation,
        Finding().conflicts,
        Finding().against(unit_by_name("in")),
    ) == (None, False, None)


def test_several_units_fit():
    several = finding(("height", "ft m"))
    assert (several.recommendation, several.fitting) == (None, ("ft", "m"))
    assert several.against(unit_by_name("in")).source == "height"
    assert (
        several.against(unit_by_name("yd")) is None
    )  # sizes are judged in the everyday units alone


def test_a_scale_alone_casts_no_doubt():
    assert finding(("scale", "mm cm m")).against(unit_by_name("in")) is None


def test_a_door_says_nothing_where_walls_have_a_usual_height():
    """A wall 240 cm high (94 in) with an 80 x 100 cm hatch: a door in inches, but the drawing is in
    cm."""
    assert finding(("door", "in"), highest=240).against(unit_by_name("cm")) is None
    assert finding(("door", "in"), highest=120).against(unit_by_name("mm")).source == "door"


#            150
#      |<-- 12'-6" -->|     a wall 150 x 96 with a window 36 x 48; the header says millimetres
#      +--------------+ 96
#      |    +---+     |
#      |    +---+     |
#      +--------------+ 0


def rectangle(space, x0, y0, x1, y1, attribs):
    space.add_lwpolyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], close=True, dxfattribs=attribs)


def front(units=4, text="12'-6\"", layer="DIMS", note=None):
    document = new(units=units)
    space = document.modelspace()
    rectangle(space, 0, 0, 150, 96, WALL)
    rectangle(space, 60, 30, 96, 78, OPENING)
    if text is not None:
        space.add_linear_dim(
            (0, 120), (0, 96), (150, 96), text=text, dxfattribs={"layer": layer}
        ).render()
    if note:
        space.add_mtext(note, dxfattribs={"layer": "SHEET", "insert": (200, 0)})
    return document


def doubts(drawing):
    return [n for n in drawing.notices if n.code == "UNITS_DOUBTFUL"]


def test_a_takeoff_warns_and_keeps_the_unit(tmp_path):
    drawing = read(front(), tmp_path)
    (notice,) = doubts(drawing)
    assert say(notice.message) == (
        "the drawing is read in millimeters, but a dimension of 150 units reads “12'-6\"”, "
        "which fits inches; if that is right, add --units in"
    )
    assert notice.handle
    assert drawing.units == "mm"


def test_no_doubt_where_the_unit_fits(tmp_path):
    assert doubts(read(front(units=1), tmp_path)) == []
    assert doubts(read(front(), tmp_path, drawing__units="in")) == []


def test_the_text_that_the_dimension_draws_counts(tmp_path):
    """No text of the user's: the style's own block of texts says 12'-6" (architectural,
    DIMLUNIT 4)."""
    document = front(units=4, text=None)
    dim = document.modelspace().add_linear_dim(
        (0, 120), (0, 96), (150, 96), dxfattribs={"layer": "DIMS"}
    )
    dim.render()
    for entity in dim.dimension.get_geometry_block().query("MTEXT TEXT"):
        entity.text = "12'-6\""
    (notice,) = doubts(read(document, tmp_path))
    assert "12'-6\"" in say(notice.message)


def test_hidden_layers_do_not_count(tmp_path):
    document = front()
    document.layers.add("DIMS").freeze()
    assert doubts(read(document, tmp_path)) == doubts(read(front(text=None), tmp_path))


def test_conflicting_evidence_is_said_and_decides_nothing(tmp_path):
    document = front(note="ALL DIMENSIONS IN MM")
    assert doubts(read(document, tmp_path)) == []
    survey = survey_drawing(tmp_path / "drawing.dxf")
    assert survey.recommended is None
    assert "  The evidence conflicts: check a length that you know." in list(survey_lines(survey))


def test_a_drawing_without_a_unit_hears_the_evidence(tmp_path):
    with refused(
        DrawingError,
        match=r"a dimension of 150 units reads “12'-6\"”, which fits inches; add --units in$",
    ):
        read(front(units=0), tmp_path)
    with refused(DrawingError, match="the evidence conflicts"):
        read(front(units=0, note="DIMENSIONS IN METRES"), tmp_path)


def test_the_survey_shows_it(tmp_path):
    path = tmp_path / "a.dxf"
    front(units=0, note="1:50").saveas(path)
    assert survey_drawing(path).recommended is None
    front(note='SCALE 1/4" = 1\'-0"').saveas(path)
    survey = survey_drawing(path)
    assert survey.recommended == "in"
    assert [e.source for e in survey.evidence] == ["dimension", "note", "height"]
    lines = list(survey_lines(survey))
    assert "  The unit in the file does not fit: add --units in" in lines
    plain = survey_json(survey)
    assert (plain["recommended"], plain["fitting_units"], len(plain["evidence"])) == (
        "in",
        ["in"],
        3,
    )


def test_the_command_to_copy_has_the_recommended_unit(tmp_path):
    path = tmp_path / "a.dxf"
    front(units=0, text="3810").saveas(path)
    assert "--units in" in suggestion(survey_drawing(path), str(path))


def test_an_angle_or_a_broken_dimension_is_no_evidence(tmp_path):
    document = front(units=1, text=None)
    space = document.modelspace()
    space.add_angular_dim_3p((0, 200), (0, 0), (100, 0), (0, 100), text="12 m").render()
    space.add_text("", dxfattribs={"layer": "SHEET"})
    broken = space.add_linear_dim((0, 120), (0, 96), (150, 96), text="3 m").render()
    broken.dimension.dxf.discard("defpoint2")
    assert told(read(document, tmp_path)) == []


def test_many_outlines_are_quick():
    """4000 doors of 36 x 80 in one wall, of which 200 are looked at, and without it: a second is
    plenty."""
    outlines = [Outline((40.0 * i, 0, 40.0 * i + 36, 80)) for i in range(4000)] + [
        Outline((0, 0, 200_000, 120))
    ]
    begun = time.process_time()
    assert len(of_outlines(outlines[::-1])) == 200
    assert of_outlines(outlines[:-1]) == []
    assert time.process_time() - begun < 1
