"""The product file and the arithmetic that rests on it."""

import pytest
from refusals import refused

from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.product import GENERIC, load_product
from dxf2veneer.wording import say

# BIA TN 10B (1993) Table 1 (brick sizes) and NCMA TEK 14 (1969) (block), counts recomputed:
# units in a square foot = 144 / (height x length)
COVERAGE = [
    ("block", "8", "16", 1.125),
    ("modular brick", "2 2/3", "8", 6.75),
    ("engineer modular", "3 1/5", "8", 5.625),
    ("norman", "2 2/3", "12", 4.5),
    ("utility", "4", "12", 3.0),
    ("panel", "8", "36", 0.5),
]


def product_file(folder, *, height, length):
    path = folder / "product.toml"
    path.write_text(
        f'[product]\nname = "Test"\n[panel]\nlength = "{length}"\nheight = "{height}"  # from a '
        "table\n"
        "[laying]\nstagger = 4\nleast_piece = 4\n[cap]\nheight = 2\n"
    )
    return path


@pytest.mark.parametrize(("name", "height", "length", "per_sqft"), COVERAGE)
def test_units_in_a_square_foot(tmp_path, name, height, length, per_sqft):
    product = load_product(product_file(tmp_path, height=height, length=length))
    assert 144 / product.coverage_area == pytest.approx(per_sqft, rel=1e-12)


@pytest.mark.parametrize(
    ("height", "courses", "feet", "inches"),
    # BIA TN 10B (June 1993) Table 3: 3 courses = 8 in, 5 courses = 16 in; NAVEDTRA 14045 for the 8
    # in unit
    [("2 2/3", 3, 0, 8), ("2 2/3", 12, 2, 8), ("2 2/3", 36, 8, 0), ("3 1/5", 5, 1, 4), ("3 1/5", 50,
    13, 4),
     ("8", 3, 2, 0), ("8", 12, 8, 0), ("8", 15, 10, 0)],
)  # fmt: skip
def test_height_of_courses(tmp_path, height, courses, feet, inches):
    product = load_product(product_file(tmp_path, height=height, length="8"))
    assert courses * product.panel.height == pytest.approx(12 * feet + inches, abs=1e-9)


def test_the_generic_product_says_where_each_value_is_from():
    product = load_product()
    assert product.coverage_area == 288  # common practice: a flat panel covers 2 sq ft
    comments = dict(product.comments)
    sizes = ["panel.length", "panel.height", "laying.stagger", "laying.least_piece", "cap.height"]
    assert all(comments[key] for key in sizes)
    assert product.file is None
    assert "generic-panel.toml" in say(product.origin.place())


def test_a_missing_value_is_named(tmp_path):
    path = product_file(tmp_path, height="8", length="36")
    path.write_text(path.read_text().replace("stagger = 4\n", ""))
    with refused(SettingsError, match=r"product\.toml, line 6: laying\.stagger is missing"):
        load_product(path)


def test_the_generic_file_is_a_file_of_the_package():
    assert GENERIC.is_file()
