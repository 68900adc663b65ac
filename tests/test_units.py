"""Units: exact factors, lengths as people write and read them."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from refusals import refused

from dxf2veneer.basics import units
from dxf2veneer.wording import measures

# DXF reference, $INSUNITS: meters in one unit. G7 of the project's list of published values.
INSUNITS = {
    1: ".0254", 2: ".3048", 3: "1609.344", 4: ".001", 5: ".01", 6: "1", 7: "1000", 8: "2.54e-8",
    9: "2.54e-5",
    10: ".9144", 11: "1e-10", 12: "1e-9", 13: "1e-6", 14: ".1", 15: "10", 16: "100", 17: "1e9",
    18: "149597870700", 19: "9460730472580800", 20: "3.0856775814914e16",
    21: "1200/3937", 22: "100/3937", 23: "3600/3937", 24: "6336000/3937",
}  # fmt: skip


@pytest.mark.parametrize(("code", "meters"), INSUNITS.items())
def test_insunits_factors_are_exact(code, meters):
    unit = units.unit_by_code(code)
    assert unit is not None
    assert unit.meters == Fraction(meters)


def test_the_table_has_no_other_codes():
    assert {u.code for u in units.UNITS} == set(INSUNITS)
    assert units.unit_by_code(0) is None
    assert units.unit_by_code(25) is None


def test_everyday_factors():
    # NIST SP 811 App. B.8 (read in a copy): 1 in = 25.4 mm, 1 sq ft = 0.09290304 m2, 1 lb =
    # 0.45359237 kg
    assert units.unit_by_name("ft").inches == 12.0
    assert units.unit_by_name("mm").inches == 1 / 25.4
    assert pytest.approx(1 / 0.09290304, rel=1e-15) == units.SQUARE_FEET_PER_SQUARE_METER
    assert units.POUND_KG == 0.45359237


@pytest.mark.parametrize(
    ("name", "code"),
    [("Feet", 2), ("'", 2), ('"', 1), ("Meter", 6), ("METERS", 6), (" mm ", 4), ("ft-us", 21)],
)
def test_names_and_aliases(name, code):
    assert units.unit_by_name(name).code == code


def test_an_unknown_unit_names_the_everyday_ones():
    with refused(
        units.WrongValueError,
        match=r"'cubit' is not a unit of length; use one of in, ft, mm, cm, m",
    ):
        units.unit_by_name("cubit")


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        (8, 8), (8.5, 8.5), ("8", 8), ("8.5", 8.5), (".5", 0.5), ("8 1/2", 8.5), ('8-1/2"', 8.5),
        ("1/16", 0.0625),
        ("4'", 48), ("4'-6", 54), ("4'-6 1/2\"", 54.5), ("4' 6-1/2\"", 54.5), ("4ft 6in", 54),
        ("4.5'", 54),
        ("-1 1/4", -1.25), ("4′-6″", 54), ("8½", 8.5), ("203.2 mm", 8), ("1 m", 1000 / 25.4),
        ("-25.4mm", -1),
        ("2 yd", 72),
    ],
)  # fmt: skip
def test_lengths_as_people_write_them(text, inches):
    assert units.parse_length(text) == inches


@pytest.mark.parametrize(
    "text", ["", "  ", "eight", "8 cubits", "1/0", "8 1/2 1/2", "--3", "nan", "1e400 mm", True]
)
def test_what_is_no_length_says_so(text):
    with refused(units.WrongValueError, match="length"):
        units.parse_length(text)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_a_length_is_finite(value):
    with refused(units.WrongValueError, match="finite"):
        units.parse_length(value)


@pytest.mark.parametrize(
    ("inches", "text"),
    [(0, '0"'), (6.5, '6 1/2"'), (0.0625, '1/16"'), (12, "1'-0\""), (54.5, "4'-6 1/2\""), (11.99,
    "1'-0\""),
     (-15, "-1'-3\""), (-0.001, '0"'), (109.606, "9'-1 5/8\"")],
)  # fmt: skip
def test_lengths_as_people_read_them(inches, text):
    assert measures.feet_inches(inches) == text


@given(st.integers(-200_000, 200_000))
def test_sixteenths_survive_printing_and_reading(sixteenths):
    assert units.parse_length(measures.feet_inches(sixteenths / 16)) == sixteenths / 16


@given(st.floats(-1e5, 1e5))
def test_printing_is_off_by_half_a_sixteenth_at_most(inches):
    assert abs(units.parse_length(measures.feet_inches(inches)) - inches) <= 1 / 32 + 1e-9


@given(st.integers(-10_000_000, 10_000_000))
def test_millimeters_survive_reading_and_printing(mm):
    text = measures.millimeters(units.parse_length(f"{mm} mm"))
    assert text.replace(" ", "") == f"{mm}mm"


def test_display_chooses_the_units():
    assert measures.length_text(54.5, "imperial") == "4'-6 1/2\""
    assert measures.length_text(54.5, "metric") == "1 384 mm"
    assert measures.area_text(100.0, "imperial") == "100.00 sq ft"
    assert measures.area_text(100.0, "metric") == "9.29 m²"
    assert units.square_feet(288.0) == 2.0


@pytest.mark.parametrize(
    ("text", "scale"),
    [
        ("48", 48),
        (48, 48),
        ("1:50", 50),
        ("1 : 50", 50),
        ('1/4" = 1\'-0"', 48),
        ("3/32\"=1'", 128),
        ("1 cm = 1 m", 100),
        ("1\" = 20'", 240),
    ],
)
def test_plotting_scales_as_people_write_them(text, scale):
    assert units.parse_plot_scale(text) == pytest.approx(scale, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["", "large", "1:0", "0:1", "0", "-48", "1/4", "inf", "nan", "1:2:3", "=", True]
)
def test_what_is_no_scale_says_so(text):
    with refused(units.WrongValueError, match="is not a plotting scale; write it like"):
        units.parse_plot_scale(text)
