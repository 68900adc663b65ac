"""Walls that the job file gives by their sizes are laid out and counted as if they were drawn;
walls with another clearance, and without a barrier.

     .------------------.  10 ft      Back: 288 x 120, a window 36 x 48 from 60 to 96, 30 above
     |   .---.          |             the base, a door 36 x 80 from 160
     |   |   |   .---.  |
     |   '---'   |   |  |             Porch: 144 x 96 with two doors 36 x 80, spread: 24 between
     '-----------'---'--'             and beside them
"""

import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job
from dxf2veneer.wording import say

HEAD = """[layers]
wall = ["WALL"]
window = ["WINDOW"]
door = ["DOOR"]
outside_corner = ["OUTSIDE_CORNER"]
"""
BACK = """[[walls.rows]]
name = "Back"
width = "24'"
height = "10'"
left = "outside A"
right = "end"
openings = ["window 3' x 4' at 5', 2'-6\\"", "door 36 x 80 at 160"]
"""
PORCH = """[[walls.rows]]
name = "Porch"
width = 144
height = 96
openings = ["door 36 x 80 at spread", "door 36 x 80"]
"""
FIELD = drawing(wall=[(0, 0, 96, 96)])


def taken_off(folder, text, drawn=FIELD):
    path = folder / "job.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return take_off([write_dxf(drawn, folder / "wall.dxf")], load_job(path))


def test_a_wall_by_its_sizes_is_laid_out_like_the_same_wall_drawn(tmp_path):
    plain = "[plan]\npanels = true\n"
    given = taken_off(tmp_path, plain + BACK.replace("outside A", "end"))
    wall = given.walls[1]
    assert wall.wall.name == "Back (not drawn)"
    assert wall.quantities.gross_area == pytest.approx(288 * 120)
    assert wall.quantities.opening_area == pytest.approx(36 * 48 + 36 * 80)
    assert [e.kind for e in wall.wall.edges] == ["end", "end"]
    x0 = wall.wall.box[0]
    assert [(o.kind, o.box[0] - x0, o.box[1]) for o in wall.wall.openings] == [
        ("window", pytest.approx(60), pytest.approx(30)),
        ("door", pytest.approx(160), pytest.approx(0)),
    ]
    assert wall.courses.pieces
    told = {n.code: say(n.message) for n in given.notices}
    assert told["WALLS_NOT_DRAWN"] == "by the sizes in the job file, not drawn: Back"
    assert given.errors == ()


def test_openings_without_a_place_are_spread_evenly(tmp_path):
    made = taken_off(tmp_path, "[plan]\npanels = false\n" + PORCH)
    wall = made.walls[1].wall
    x0 = wall.box[0]
    assert [o.box[0] - x0 for o in wall.openings] == [pytest.approx(24), pytest.approx(84)]
    assert {o.kind for o in wall.openings} == {"door"}


def test_a_tag_makes_one_corner_of_a_drawn_edge_and_one_that_is_not(tmp_path):
    marked = drawing(wall=[(0, 0, 96, 120)])
    text = (
        '[plan]\npanels = false\n[drawing]\nunits = "in"\nmark_line = ["outside A=96,0 96,120"]\n'
    )
    made = taken_off(tmp_path, text + BACK, marked)
    (corner,) = [c for c in made.corners if c.kind == "outside"]
    assert corner.edges == (("W1", "right"), ("W2", "left"))
    assert corner.run == pytest.approx(120)


def test_a_gable_and_a_cap(tmp_path):
    rows = (
        '[walls]\nrows = [{ name = "Gable", width = 240, height = 96, peak = 156 },\n'
        '{ name = "Low", width = 120, height = 36, cap = true }]\n'
    )
    made = taken_off(tmp_path, "[plan]\npanels = false\n" + rows)
    gable, low = made.walls[1:]
    assert gable.quantities.gross_area == pytest.approx(240 * 96 + 240 * 60 / 2)
    assert low.quantities.cap_run == pytest.approx(120)


def test_an_alternate_may_leave_it_out_by_the_name_in_the_job_file(tmp_path):
    text = (
        '[plan]\npanels = false\n[bid]\nalternates = [{ name = "No back", without = ["back"] }]\n'
    )
    made = taken_off(tmp_path, text + BACK)
    base, other = made.order, made.order.alternates[0].order
    barrier = [next(x for x in o.lines if x.key == "wrb").chosen.sources for o in (base, other)]
    assert [s.ref for s in barrier[1]] == ["W1"]
    assert {"W1", "W2"} <= {s.ref for s in barrier[0]}


def test_a_fireplace_indoors_has_no_barrier_and_no_clearance(tmp_path):
    #  the drawn wall 96 x 96 outdoors: 4 above its base; Back on the floor: 64 sq ft of barrier
    #  with its laps remain, 36/34 x 1200/1194 of it
    text = "[plan]\npanels = false\n[courses]\nclearance = 4\n"
    treat = '[[walls.treatments]]\nwalls = ["Porch"]\nbarrier = false\nclearance = 0\n'
    made = taken_off(tmp_path, text + PORCH + treat)
    outdoors, indoors = made.walls
    assert outdoors.courses.starter_y - outdoors.wall.box[1] == pytest.approx(4)
    assert indoors.courses.starter_y - indoors.wall.box[1] == pytest.approx(0)
    barrier = next(x for x in made.order.lines if x.key == "wrb").chosen
    assert barrier.measured == pytest.approx(64 * 36 / 34 * 1200 / 1194)
    assert [s.ref for s in barrier.sources] == ["W1"]
    hung = next(x for x in made.order.labour if x.key == "barrier")
    assert (hung.measure, hung.quantity) == ("barrier_area", pytest.approx(64))
    assert made.errors == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (BACK.replace("window 3' x 4' at 5'", "hatch 3' x 4' at 5'"), "wants one of window, door"),
        (BACK.replace(", 2'-6\\\"", ""), "wants the height of its sill"),
        (BACK.replace(" at 160", ""), "wants a place for every opening"),
        (BACK + BACK, "wants a name of its own for each wall, and 'Back'"),
        (BACK.replace("outside A", "corner A"), "left of table 1 wants one of outside"),
        (PORCH + "peak = 90\n", "wants a peak higher than the sides"),
        (
            '[[walls.treatments]]\nwalls = ["HEARTH"]\nphase = "A"\n',
            "no wall is called 'HEARTH'; walls: W1",
        ),
        ('[[walls.treatments]]\nwalls = ["W1"]\n', "wants in table 1 what is different"),
        (BACK.replace("door 36 x 80 at 160", "door 36 x 80 at 260"), "wants openings inside"),
        (BACK.replace("3' x 4' at 5'", "3' x 8' at 5'"), "wants openings inside"),
        (BACK.replace("at 160", "at 90"), "don't overlap, and door .* of the wall 'Back'"),
        (PORCH.replace("144", "71"), "wants openings that fit side by side"),
        (
            '[[walls.rows]]\nname = "Gable"\nwidth = 240\nheight = 96\npeak = 156\n'
            # the top is 96 + 60 x 60/120 = 126 over 60 and over 180
            'openings = ["window 60 x 31 at 60, 96"]\n',
            "wants openings inside",
        ),
    ],
)
def test_a_wrong_row_is_told_in_one_line(tmp_path, text, told):
    with refused(SettingsError, match=told):
        taken_off(tmp_path, "[plan]\npanels = false\n" + text)


def test_openings_that_just_fit_are_taken(tmp_path):
    row = PORCH.replace("width = 144", "width = 72")
    gable = (
        '[[walls.rows]]\nname = "Gable"\nwidth = 240\nheight = 96\npeak = 156\n'
        'openings = ["window 60 x 30 at 60, 96", "window 60 x 30 at 120, 96"]\n'
    )
    made = taken_off(tmp_path, "[plan]\npanels = false\n" + row + gable)
    assert [len(w.wall.openings) for w in made.walls] == [0, 2, 2]


NAMED = (
    '[plan]\npanels = false\n[drawing]\nunits = "in"\n'
    'wall_outline = ["SIDE=120,0 216,0 216,96 120,96", "W1=240,0 336,0 336,96 240,96"]\n'
)
"""Beside the drawn W1, which has no name, W2 is called SIDE and W3 is called W1."""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (BACK.replace("Back", "Side"), "'Side' is the name or id of another wall too"),
        (BACK.replace("Back", "w2"), "'w2' is the name or id of another wall too"),
        (
            '[[walls.treatments]]\nwalls = ["W1"]\nbarrier = false\n',
            "'W1' is the id of one wall and the name of another, W3",
        ),
        (
            '[bid]\nalternates = [{ name = "Less", without = ["w1"] }]\n',
            "'w1' is the id of one wall and the name of another, W3",
        ),
        (
            '[[walls.treatments]]\nwalls = ["W2"]\nphase = "A"\n'
            '[[walls.treatments]]\nwalls = ["side"]\nphase = "B"\n',
            "treatments give the wall 'SIDE' more than one phase",
        ),
        (
            '[[walls.treatments]]\nwalls = ["W2"]\nclearance = 0\n'
            '[[walls.treatments]]\nwalls = ["side"]\nclearance = 2\n',
            "treatments give the wall 'SIDE' more than one clearance",
        ),
        (
            '[[walls.treatments]]\nwalls = ["W2"]\nbarrier = true\nphase = "A"\n'
            '[[walls.treatments]]\nwalls = ["side"]\nbarrier = false\n',
            "treatments give the wall 'SIDE' more than one barrier",
        ),
    ],
)
def test_a_name_means_one_wall_and_its_treatments_agree(tmp_path, text, told):
    with refused(SettingsError, match=told):
        taken_off(tmp_path, NAMED + text)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        (BACK, "walls.rows"),
        ('[order]\nadditions = [{ area = 9, reason = "Rear" }]\n', "order.additions"),
    ],
)
def test_what_is_of_one_takeoff_is_not_given_to_each_drawing(tmp_path, text, key):
    path = tmp_path / "job.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    drawn = write_dxf(FIELD, tmp_path / "wall.dxf")
    command = ["takeoff", drawn, "--job", path, "-o", tmp_path / "out", "--each"]
    done = CliRunner().invoke(main, [str(word) for word in command])
    assert done.exit_code == 2
    assert f"{key} is of one takeoff, and --each" in " ".join(done.output.split())
    assert not list((tmp_path / "out").glob("*.xlsx"))
