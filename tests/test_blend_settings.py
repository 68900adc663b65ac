"""Colors in product and job file: what can be written, and what is refused in one line."""

from __future__ import annotations

import pytest
from builders import drawing, job, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.blend import Blend, Color, WallShare, letters
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.config.product import GENERIC, load_product
from dxf2veneer.wording import say


def product_of(folder, colors: str):
    path = folder / "panel.toml"
    path.write_text(f"{GENERIC.read_text()}\n[blend]\ncolors = {colors}\n")
    return load_product(path)


def refused(folder, colors: str) -> str:
    with pytest.raises(SettingsError) as error:
        product_of(folder, colors)
    line = say(error.value.message)
    assert "\n" not in line
    return line


def test_colors_of_a_product(tmp_path):
    blend = product_of(
        tmp_path,
        '[{ name = "Buff", share = 60 }, '
        '{ name = "Dark  gray", share = 40, flat_per_package = 2 }]',
    ).blend
    assert blend.colors == (Color("Buff", 60.0), Color("Dark gray", 40.0, 2.0))
    assert blend.shares == {"Buff": 0.6, "Dark gray": 0.4}


@pytest.mark.parametrize(
    ("colors", "said"),
    [
        ('[{ name = "A", share = 60 }, { name = "B", share = 30 }]', "these come to 90 %"),
        ('[{ name = "A", share = 110 }, { name = "B", share = -10 }]', "share of table 1"),
        ('[{ name = "A", share = 50 }, { name = "B", share = -10 }]', "share of table 2"),
        ('[{ name = "Buff", share = 60 }, { name = "buff", share = 40 }]', "buff stands twice"),
        ('[{ name = "A", share = 100 }, { name = "B", share = 0 }]', "share of table 2"),
        ('[{ name = " ", share = 100 }]', "wants a name"),
        ('[{ name = "A" }]', "no share"),
        ('[{ name = "A", share = "nan" }]', "wants a number"),
        ('[{ name = "A", share = 100, tint = 3 }]', "unknown key tint"),
        ('"Buff"', "wants a list of tables"),
        (str([{"name": f"C{n}", "share": 10} for n in range(10)]).replace("': ", "' = ")
         .replace("'name'", "name").replace("'share'", "share"), "at most 8 colors"),
    ],
)  # fmt: skip
def test_what_is_wrong_ends_in_one_line(tmp_path, colors, said):
    line = refused(tmp_path, colors)
    assert said in line
    assert "blend.colors" in line and "panel.toml, line" in line


def test_thirds_may_be_rounded(tmp_path):
    thirds = ", ".join(f'{{ name = "{n}", share = 33.33 }}' for n in "ABC")
    assert sum(product_of(tmp_path, f"[{thirds}]").blend.shares.values()) == pytest.approx(1.0)


def test_letters_tell_colors_apart():
    assert letters(["Buff", "Brown", "Black"]) == {"Buff": "B", "Brown": "R", "Black": "L"}
    assert letters(["aa", "a", "A a"]) == {"aa": "A", "a": "1", "A a": "2"}


@pytest.mark.parametrize(
    ("least", "boxes"),
    # one of each; then 60/1.5 = 40 before 30/1.5 = 20; 60/2.5 = 24 before 20; 20 before 60/3.5
    [(1, (1, 1, 1)), (3, (1, 1, 1)), (4, (2, 1, 1)), (5, (3, 1, 1)), (6, (3, 2, 1))],
)
def test_boxes_that_are_open_at_a_time(least, boxes):
    blend = Blend((Color("Buff", 60.0), Color("Tan", 30.0), Color("Gray", 10.0)))
    assert tuple(blend.boxes(least).values()) == boxes


def test_shares_of_a_wall_come_to_the_whole(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text('[plan]\nblend = [{ wall = "FRONT", color = "Buff", share = 70 }]\n')
    with pytest.raises(SettingsError) as error:
        load_job(path)
    assert "these come to 70 %" in say(error.value.message)


@pytest.mark.parametrize(("wall", "color"), [("FRNT", "Buff"), ("W1", "Blue")])
def test_shares_of_a_wall_or_a_color_that_there_is_not_are_refused(tmp_path, wall, color):
    product_of(tmp_path, '[{ name = "Buff", share = 60 }, { name = "Tan", share = 40 }]')
    path = write_dxf(drawing(wall=[(0, 0, 96, 48)]), tmp_path / "wall.dxf")
    shares = (WallShare(wall, color, 100.0),)
    asked = with_settings(job(), plan__blend=shares, product__file=str(tmp_path / "panel.toml"))
    with pytest.raises(SettingsError) as error:
        take_off([path], asked)
    wrong, known = (wall, "W1") if wall != "W1" else (color, "Buff")
    line = say(error.value.message)
    assert wrong in line and known in line and "\n" not in line
