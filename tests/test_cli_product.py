"""`dxf2veneer product new` and `product check`, and how a takeoff names the demo product."""

from __future__ import annotations

import re
import tomllib

from builders import drawing, write_dxf
from click.testing import CliRunner

from dxf2veneer.cli import main
from dxf2veneer.config.product import SECTIONS, load_product, new_product_text
from dxf2veneer.config.settings import described


def run(*arguments):
    return CliRunner().invoke(main, [str(a) for a in arguments])


def uncommented():
    lines = new_product_text().splitlines()
    return "\n".join(line[2:] if re.match(r"# \w+ = ", line) else line for line in lines)


def test_the_template_asks_for_every_value_and_holds_when_uncommented(tmp_path):
    read = tomllib.loads(uncommented())
    asked = {f"{s}.{name}" for s, body in read.items() for name in body}
    every = {f"{s}.{n}" for s, owner in SECTIONS.items() for n, _, _ in described(owner)}
    assert asked == every
    (tmp_path / "panel.toml").write_text(uncommented())
    assert load_product(tmp_path / "panel.toml").generic == ()


def test_new_writes_once_and_names_the_next_step(tmp_path):
    file = tmp_path / "panel.toml"
    made = run("product", "new", file)
    assert made.exit_code == 0 and "--product" in made.output
    assert file.read_text("utf-8") == new_product_text()
    again = run("product", "new", file)
    assert again.exit_code == 2 and "is there already" in again.output


def test_a_template_that_is_not_filled_in_names_what_is_missing(tmp_path):
    run("product", "new", tmp_path / "panel.toml")
    told = run("product", "check", tmp_path / "panel.toml")
    assert told.exit_code == 2 and "panel.length is missing" in told.output


def test_check_says_what_the_demo_product_stands_in_for(tmp_path):
    (tmp_path / "panel.toml").write_text(
        "[panel]\nlength = 30  # invented\nheight = 6\n[laying]\nstagger = 6\nleast_piece = 6\n"
        "[cap]\nheight = 2\n[flat_panel]\nweight = 40\n"
    )
    told = run("product", "check", tmp_path / "panel.toml")
    assert told.exit_code == 0, told.output
    assert "1 marked as invented" in told.output
    assert re.search(r"stands in for values of: flat_panel, corner_panel, .*caulk", told.output)


def test_a_takeoff_says_that_its_product_is_the_demo(tmp_path):
    file = write_dxf(drawing(wall=[(0, 0, 120, 80)]), tmp_path / "front.dxf")
    panel = tmp_path / "panel.toml"
    panel.write_text(
        '[product]\nname = "Ours"\n[panel]\nlength = 30\nheight = 8\n[laying]\nstagger = 6\n'
        "least_piece = 6\n[cap]\nheight = 2\n"
    )
    demo = run("takeoff", file, "--wall-layer", "WALL", "-o", tmp_path / "a")
    assert "Demo product 8 x 36 in: its sizes, packages and weights are invented" in demo.output
    own = run("takeoff", file, "--wall-layer", "WALL", "--product", panel, "-o", tmp_path / "b")
    assert own.exit_code == 0 and "Demo product" not in own.output
