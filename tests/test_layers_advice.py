"""`layers` suggests a takeoff only where it covers the ground that the drawing itself proposes.

          /\\
         /  \\            ROOF, with its fascia
    .---------------.
    | [##]   [##]   |     WALL 240 x 108, closed
    |   .--.        |     FRAMES: two windows, each with panes on GLASS
    '---|  |--------'     DOOR
    ===================   GROUND
"""

import json
import shlex

import pytest
from click.testing import CliRunner
from corpus import make_sheet
from drawing.drawings import new

from dxf2veneer.cli import main


def lines_of(*words):
    result = CliRunner().invoke(main, ["layers", *map(str, words)])
    assert result.exit_code == 0, result.output
    return result.output.splitlines()


def commands_of(lines, name):
    return [line.split() for line in map(str.strip, lines) if line.startswith(f"dxf2veneer {name}")]


@pytest.fixture
def house(tmp_path):
    """Draws the house above; ``wall`` says whether its outline closes, ``sills`` whether sills lie
    on the layer of the frames."""

    def draw(*, wall=True, sills=False, units=1):
        document = new(units=units)
        space = document.modelspace()

        def path(layer, *points, close=True):
            space.add_lwpolyline(points, close=close, dxfattribs={"layer": layer})

        def box(layer, x0, y0, x1, y1):
            path(layer, (x0, y0), (x1, y0), (x1, y1), (x0, y1))

        path("WALL", (0, 0), (240, 0), (240, 108), (0, 108), (0, 0 if wall else 60), close=False)
        for x in (36, 144):
            box("FRAMES", x, 42, x + 36, 90)
            if sills:
                box("FRAMES", x - 2, 39, x + 38, 42)
            for pane in (x + 3, x + 19):
                box("GLASS", pane, 45, pane + 14, 87)
        box("FRAMES", 92, 0, 128, 80)
        path("ROOF", (-12, 108), (252, 108), (120, 190))
        path("GROUND", (-80, 0), (320, 0), close=False)
        target = tmp_path / "house.dxf"
        document.saveas(target)
        return target

    return draw


def test_the_layers_that_agree_with_the_proposal_make_a_command_that_runs(house, tmp_path):
    lines = lines_of(house())
    (command,) = commands_of(lines, "takeoff")
    words = [*command[1:-1], str(tmp_path / "out")]
    taken = tmp_path / "takeoff.json"
    result = CliRunner().invoke(main, [*words, "--no-plan", "--json", str(taken)])
    assert result.exit_code == 0, result.output
    totals = json.loads(taken.read_text())["totals"]
    assert totals["gross_area_sqft"] == pytest.approx(240 * 108 / 144)
    assert totals["opening_area_sqft"] == pytest.approx((2 * 36 * 48 + 36 * 80) / 144)


def test_windows_whose_panes_lie_on_another_layer_are_no_walls(house):
    lines = lines_of(house(wall=False))
    assert any("FRAMES" in line and "wall:" in line for line in lines)  # by their outlines alone
    assert not commands_of(lines, "takeoff")
    assert any("No view looks like an elevation with walls" in line for line in lines)


def test_sills_among_the_frames_would_count_as_openings(house):
    assert not commands_of(lines_of(house(sills=True)), "takeoff")


@pytest.mark.parametrize("seed", [15, 52, 72])
def test_roofs_pens_and_numbers_of_a_strange_office_are_not_named(seed, tmp_path):
    sheet = make_sheet(seed).write(tmp_path / "sheet.dxf")
    assert not commands_of(lines_of(sheet), "takeoff")


def test_the_commands_repeat_the_options_by_which_the_drawing_was_read(house):
    path = house(units=0)
    lines = lines_of(path, "--units", "in", "--include-hidden", "--window", "-90,-10,330,200")
    (takeoff,), (propose,) = commands_of(lines, "takeoff"), commands_of(lines, "propose")
    assert takeoff.count("--units") == 1
    assert takeoff[takeoff.index("--window") + 1] == "-90,-10,330,200"
    assert "--include-hidden" in takeoff
    assert propose[propose.index("--units") + 1] == "in"
    assert "--window" not in propose  # which knows no windows


def test_without_a_unit_the_command_asks_for_the_one_that_the_drawing_shows(house):
    (takeoff,) = commands_of(lines_of(house(units=0)), "takeoff")
    assert shlex.join(takeoff).count("--units") == 1
