"""The unit from the building, the sheet and the words: what each says, and what they say
together."""

from __future__ import annotations

import pytest
from drawn_sheets import facade, moved, plan, scene, sheet, text

from dxf2veneer.propose.scene import Header
from dxf2veneer.propose.unit import absurd, decide, find_unit
from dxf2veneer.propose.unit.evidence import MM, Evidence, by_size
from dxf2veneer.propose.unit.measures import of_dimension, scale_of
from dxf2veneer.propose.unit.sheet import scale_in
from dxf2veneer.propose.unit.words import header, noted_unit
from dxf2veneer.propose.views import find_views

PER_UNIT = {"mm": 1.0, "cm": 0.1, "m": 0.001, "in": 1 / 25.4, "ft": 1 / 304.8}
"""Units for one millimetre; 1 in = 25.4 mm exactly (international yard and pound agreement of
1959)."""
CODES = {"in": 1, "ft": 2, "mm": 4, "cm": 5, "m": 6}
"""$INSUNITS (DXF reference, HEADER)."""


def found(drawn):
    return find_unit(drawn, find_views(drawn))


def likely(weights):
    return max(weights, key=lambda name: weights[name])


# ------------------------------------------------------------------ dimensions


@pytest.mark.parametrize(
    ("words", "measured", "unit"),
    [
        ("12'-6\"", 150.0, "in"),
        ("12'-6\"", 12.5, "ft"),
        ("12'-6\"", 3810.0, "mm"),
        ("3.81 m", 3810.0, "mm"),
        ("3810 mm", 3.81, "m"),
        ("2450", 2450.0, "mm"),
        ("2450", 2.45, "m"),
        ("2450", 245.0, "cm"),
        ("8.35", 8.35, "m"),
        ("8.35", 8350.0, "mm"),
        ("8,35", 835.0, "cm"),
        ("245", 2.45, "m"),
        ("245", 2450.0, "mm"),
    ],
)
def test_a_dimension_beside_its_length_tells_the_unit(words, measured, unit):
    """150 in are 12'-6" or 3.81 m; a bare number is whole mm or cm, or metres with decimals."""
    assert likely(of_dimension(words, measured)) == unit


@pytest.mark.parametrize("words", ["", "R", "4 x 250", "see A5", "0", "-"])
def test_what_is_no_length_says_nothing(words):
    assert of_dimension(words, 100.0) is None


def test_a_dimension_that_agrees_with_no_unit_says_nothing():
    assert of_dimension("12'-6\"", 7.0) is None


def test_a_note_settles_bare_numbers():
    """245 beside 245: centimetres as a rule, millimetres where a note says so."""
    assert likely(of_dimension("245", 245.0)) == "cm"
    assert likely(of_dimension("245", 245.0, "mm")) == "mm"


# ------------------------------------------------------------------ levels


def test_level_marks_on_one_scale_tell_it():
    """Heights in metres drawn in millimetres: 1000 to one; one mark off by 2 % of the range still
    counts."""
    assert scale_of([(0.0, 500.0), (2.8, 3300.0), (5.2, 5700.0)]) == pytest.approx(1000)
    assert scale_of([(0.0, 0.0), (2.8, 2890.0), (5.2, 5200.0)]) == pytest.approx(1000)


@pytest.mark.parametrize(
    "pairs",
    [
        [(0.0, 0.0)],
        [(0.0, 0.0), (2.8, 2800.0), (5.2, 9000.0)],
        [(0.0, 10.0), (3.0, -5.0)],
        [(1.0, 0.0), (1.0, 5.0)],
    ],
)
def test_marks_off_one_scale_tell_nothing(pairs):
    assert scale_of(pairs) is None


# ------------------------------------------------------------------ words and sheets


@pytest.mark.parametrize(
    ("words", "unit"),
    [
        ("ALL DIMENSIONS IN MILLIMETERS", "mm"),
        ("Dimensions are in feet and inches", "in"),
        ("UNITS: MM", "mm"),
        ("Alle Maße in cm", "cm"),
        ("Cotes en mètres", "m"),
        ("Todas las cotas en metros", "m"),
        ("Maten in mm", "mm"),
        ("STONE VENEER IN PANELS", None),
        ("Verify all dimensions in field", None),
    ],
)
def test_a_note_on_dimensions_names_its_unit(words, unit):
    document, space = sheet()
    text(space, words, 0, 0)
    note = noted_unit(scene(document).texts)
    assert (note[0] if note else None) == unit


@pytest.mark.parametrize(
    ("words", "scale"),
    [
        ("1:50", 50),
        ("M 1 : 100", 100),
        ('SCALE: 1/4" = 1\'-0"', 48),
        ('1/8"=1\'-0"', 96),
        ('3/16" = 1\'-0"', 64),
        ('1 1/2" = 1\'-0"', 8),
        ("1:1", None),
        ("A-101", None),
    ],
)
def test_scales_are_read_as_people_write_them(words, scale):
    """1/4 in to the foot is 1:48 (12 in / 0.25 in)."""
    assert scale_in(words) == (None if scale is None else pytest.approx(scale))


def test_a_header_speaks_for_its_unit_and_a_missing_one_for_none():
    assert likely(header(Header(insunits=5))[0].weights) == "cm"
    assert header(Header()) == []


def test_a_size_speaks_for_the_unit_that_makes_it_usual():
    assert likely(by_size(2100.0, 2150.0, 0.13, 4.0)) == "mm"
    assert likely(by_size(84.0, 2150.0, 0.13, 4.0)) == "in"
    assert min(by_size(84.0, 2150.0, 0.13, 4.0).values()) == -4.0, "what one size says is bounded"


# ------------------------------------------------------------------ weighed together


def house():
    """The facade and the plan beside it, in millimetres, without a word."""
    document, space = sheet()
    facade(space, 0, 0)
    plan(space, 14000, 0)
    return scene(document)


@pytest.mark.parametrize("unit", list(MM))
def test_a_building_without_words_and_header_tells_its_unit(unit):
    """Windows of 1.2 m, a door of 2.1 m, a leaf of 0.9 m and a gable of 5.2 m make sense in one
    unit only."""
    assert found(moved(house(), 0, 0, PER_UNIT[unit])).unit == unit


@pytest.mark.parametrize("unit", list(MM))
@pytest.mark.parametrize("said", list(MM))
def test_a_wrong_header_is_outweighed_and_a_right_one_is_kept(unit, said):
    from dataclasses import replace

    drawn = replace(moved(house(), 0, 0, PER_UNIT[unit]), header=Header(insunits=CODES[said]))
    assert found(drawn).unit in ((unit,) if said == unit else (unit, None))


def test_dimensions_contradict_a_header():
    """The header says inches, every dimension reads in feet and inches what measures mm."""
    document, space = sheet(units=1)
    facade(space, 0, 0)
    for n, (x0, x1) in enumerate(((0, 2438.4), (2438.4, 4876.8), (4876.8, 8000))):
        feet, inches = divmod(round((x1 - x0) / 25.4), 12)
        space.add_linear_dim(
            base=(0, -1000 - 300 * n), p1=(x0, 0), p2=(x1, 0), text=f"{feet}'-{inches}\""
        ).render()
    result = found(scene(document))
    assert (result.unit, result.header) == ("mm", "in")


def test_circles_and_extents_say_nothing():
    """Circles of any size and a far-away stroke: no building, no unit."""
    document, space = sheet()
    for n in range(5):
        space.add_circle((100 * n, 0), 40)
    space.add_line((0, 0), (1e7, 0))
    assert found(scene(document)).unit is None


def test_an_empty_drawing_with_a_header_is_not_sure():
    document, _ = sheet(units=4)
    result = found(scene(document))
    assert (result.unit, result.sure, result.header) == (None, False, "mm")


def evidence(what, unit, weight):
    return Evidence(what, {}, {n: 0.0 if n == unit else -weight for n in MM})


def test_strong_evidence_on_both_sides_is_silent():
    result = decide([evidence("dimensions", "mm", 7.0), evidence("levels", "cm", 7.0)], None)
    assert result.unit is None


def test_weak_signs_never_argue_out_a_header():
    """Letters and courses that look like centimetres, beside a header of millimetres."""
    result = decide(
        [
            evidence("header", "mm", 1.8),
            evidence("letters", "cm", 2.0),
            evidence("courses", "cm", 2.0),
        ],
        "mm",
    )
    assert result.unit is None


def test_chances_add_up_to_one_and_evidence_comes_heaviest_first():
    result = decide([evidence("letters", "mm", 1.0), evidence("levels", "mm", 5.0)], None)
    assert sum(result.chances.values()) == pytest.approx(1)
    assert [e.what for e in result.evidence] == ["levels", "letters"]


@pytest.mark.parametrize("size", [0.1, 0.01, 1 / 25.4])
def test_scaling_a_drawing_changes_its_unit_by_that_factor(size):
    """What is sure in millimetres is as sure in the unit that is as many times larger."""
    expected = {0.1: "cm", 1 / 25.4: "in"}.get(size)
    result = found(moved(house(), 0, 0, size))
    assert result.unit == expected, "a hundredth of a millimetre's drawing is in no everyday unit"


# ------------------------------------------------------------------ what no building has


WALL, DOOR, WINDOW = (
    (0.0, 0.0, 8000.0, 2800.0),
    (3000.0, 0.0, 4000.0, 2100.0),
    (700.0, 900.0, 1700.0, 2100.0),
)


def test_a_house_in_millimetres_is_as_buildings_are():
    assert absurd("mm", [WALL], [DOOR], [DOOR, WINDOW], [250.0] * 5) == []


def test_the_same_house_in_metres_is_absurd_in_everything_and_millimetres_would_do():
    """2800 m of wall, a door of 2100 m: the units that would make sense are named."""
    result = {a.what: a for a in absurd("m", [WALL], [DOOR], [DOOR, WINDOW], [250.0] * 5)}
    assert set(result) == {"wall height", "door height", "opening height", "letter height", "area"}
    assert result["door height"].better == ("mm",)
    assert result["door height"].place == (3500.0, 1050.0)
    assert result["door height"].size == pytest.approx(2100 * 39.3700787)


def test_a_house_in_millimetres_read_as_inches_warns():
    """Followed in silence, the wall of 22.4 m² would be 155,556 sq ft (22.4e6 sq in / 144)."""
    result = {a.what: a for a in absurd("in", [WALL], [], [WINDOW])}
    assert result["opening height"].better == ("mm",)
    assert "area" not in result, "155,556 sq ft there are; the heights tell"
    (area,) = [a for a in absurd("in", [WALL, WALL], [], []) if a.what == "area"]
    assert area.size == pytest.approx(2 * 8000 * 2800 / 144)


def test_an_unknown_unit_is_refused():
    with pytest.raises(ValueError, match="unit-unknown"):
        absurd("parsnip", [WALL], [], [])


# ------------------------------------------------------------------ other people's drawings


@pytest.mark.parametrize(
    "name",
    [
        "woodshed-front",
        "woodshed-plan",
        "woodshed-section-a",
        "woodshed-roof-front",
        "woodshed-foundation-front",
    ],
)
def test_a_right_header_is_never_doubted(real_drawings, name):
    from dxf2veneer.propose.reading import read_scene

    assert found(read_scene(real_drawings / f"{name}.dxf")).unit in ("mm", None)


def test_the_pavilion_is_in_metres_whatever_its_header_says(real_drawings):
    from dxf2veneer.propose.reading import read_scene

    result = found(read_scene(real_drawings / "pavilion-sheet.dxf"))
    assert (result.unit, result.header) == ("m", "in")
