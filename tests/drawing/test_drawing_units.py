"""The drawing's unit: the header's, the user's, a missing one, an absurd one."""

from fractions import Fraction

import pytest
from drawings import OPENING, WALL, new, only_shape, read, told
from refusals import refused

from dxf2veneer.drawing import DrawingError
from dxf2veneer.wording import error_line, say

# checks.md G7: meters in one unit of each $INSUNITS code (DXF/INSUNITS documentation)
METRES = {
    1: "0.0254", 2: "0.3048", 3: "1609.344", 4: "0.001", 5: "0.01", 6: "1", 7: "1000", 8: "2.54e-8",
    9: "2.54e-5", 10: "0.9144", 11: "1e-10", 12: "1e-9", 13: "1e-6", 14: "0.1", 15: "10",
    16: "100", 17: "1e9", 18: "149597870700", 19: "9460730472580800", 20: "3.0856775814914e16",
    21: "1200/3937", 22: "100/3937", 23: "3600/3937", 24: "6336000/3937",
}  # fmt: skip


def wall(width, height, units=1):
    document = new(units=units)
    document.modelspace().add_lwpolyline(
        [(0, 0), (width, 0), (width, height), (0, height)], close=True, dxfattribs=WALL
    )
    return document


@pytest.mark.parametrize("code", METRES)
def test_every_header_code_gives_its_exact_inches(code, tmp_path):
    """A wall drawn 3 m x 2.5 m in the unit; 1 in = 25.4 mm exactly (checks.md G6, NIST SP 811 App.
    B.8)."""
    meters = Fraction(METRES[code])
    drawing = read(wall(float(3 / meters), float(Fraction(5, 2) / meters), code), tmp_path)
    assert drawing.inches_per_unit == float(meters / Fraction("0.0254"))
    assert only_shape(drawing).area * 0.00064516 == pytest.approx(7.5, rel=1e-12)
    assert drawing.units_from == "header"
    assert "UNITS_ABSURD" not in told(drawing)


def test_a_square_foot_in_square_meters(tmp_path):
    """checks.md G6: 1 sq ft = 0.09290304 m2 exactly."""
    drawing = read(wall(1.0, 0.09290304, 6), tmp_path)
    assert only_shape(drawing).area == pytest.approx(144, rel=1e-14)


def test_the_users_unit_wins_and_says_where_from(tmp_path):
    drawing = read(wall(240, 108, 4), tmp_path, drawing__units="in")
    assert (drawing.units, drawing.units_from, drawing.inches_per_unit) == ("in", "option", 1.0)


def test_the_job_files_unit_is_known_as_such(tmp_path):
    from dxf2veneer.config.job import load_job
    from dxf2veneer.drawing import load_drawing

    path, job_file = tmp_path / "a.dxf", tmp_path / "job.toml"
    wall(240, 108, 4).saveas(path)
    job_file.write_text('[layers]\nwall = ["A-WALL"]\n[drawing]\nunits = "in"\n')
    assert load_drawing(path, load_job(job_file), 0).units_from == "job"


def test_scale_multiplies(tmp_path):
    """Drawn at 1/48 (a quarter inch to the foot): 5 in x 2.25 in on paper are 20 ft x 9 ft."""
    drawing = read(wall(5, 2.25), tmp_path, drawing__scale=48)
    assert drawing.inches_per_unit == 48
    assert only_shape(drawing).box == (0, 0, 240, 108)


@pytest.mark.parametrize("code", [0, 99])
def test_without_a_unit_it_stops_with_sizes_in_the_everyday_units(code, tmp_path):
    document = wall(6096, 2743.2)  # millimeters: 20 ft x 9 ft
    document.header["$INSUNITS"] = code
    with refused(DrawingError) as error:
        read(document, tmp_path)
    line = error_line(error.value)
    assert "\n" not in line
    assert "6096 x 2743.2 units" in line
    assert "mm: 20'-0\" x 9'-0\"" in line
    assert all(f"{unit}: " in line for unit in ("in", "ft", "mm", "cm", "m"))
    assert "likely in or mm or cm" in line
    assert "--units" in line


def test_an_opening_narrows_the_likely_units(tmp_path):
    """An opening 2100 units high fits millimeters alone (in centimeters it would be 69 ft high)."""
    document = wall(6096, 2743.2, units=0)
    document.modelspace().add_lwpolyline(
        [(500, 0), (1400, 0), (1400, 2100), (500, 2100)], close=True, dxfattribs=OPENING
    )
    with refused(DrawingError, match="likely mm; add --units mm"):
        read(document, tmp_path)


@pytest.mark.parametrize(
    ("height", "unit", "absurd"),
    [
        (12, "in", False),
        (11.9, "in", True),
        (500, "ft", False),
        (500.5, "ft", True),
        (300, "mm", True),
        (2743, "mm", False),
    ],
)
def test_wall_heights_between_1_and_500_ft_make_sense(height, unit, absurd, tmp_path):
    drawing = read(wall(6096, height), tmp_path, drawing__units=unit)
    assert ("UNITS_ABSURD" in told(drawing)) is absurd


def test_absurd_unit_names_size_and_better_unit_and_obeys(tmp_path):
    """Meters that the header calls inches: 15 x 3 units are 15 in x 3 in."""
    drawing = read(wall(15, 3, 1), tmp_path)
    notice = next(n for n in drawing.notices if n.code == "UNITS_ABSURD")
    assert '1\'-3" wide and 3" high' in say(notice.message)
    assert "with --units ft or --units m it would make sense" in say(notice.message)
    assert notice.handle == drawing.shapes[0].handle
    assert only_shape(drawing).area == 45


def test_a_scrap_beside_a_sound_wall_says_nothing_of_the_unit(tmp_path):
    document = wall(240, 108)
    document.modelspace().add_lwpolyline(
        [(300, 0), (304, 0), (304, 2), (300, 2)], close=True, dxfattribs=WALL
    )
    assert "UNITS_ABSURD" not in told(read(document, tmp_path))


def test_an_absurd_size_is_told_in_the_users_units(tmp_path):
    drawing = read(wall(15, 3, 1), tmp_path)
    absurd = next(n for n in drawing.notices if n.code == "UNITS_ABSURD")
    assert "381 mm wide and 76 mm high" in say(absurd.message, "metric")


@pytest.mark.parametrize(("height", "absurd"), [(360, False), (361, True)])
def test_openings_up_to_30_ft_make_sense(height, absurd, tmp_path):
    document = wall(2000, 1000)
    document.modelspace().add_lwpolyline(
        [(50, 50), (90, 50), (90, 50 + height)], close=True, dxfattribs=OPENING
    )
    assert ("UNITS_ABSURD" in told(read(document, tmp_path))) is absurd
