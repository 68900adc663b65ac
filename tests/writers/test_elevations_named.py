"""Elevations by the boxes that the job file names; walls in the letter by names, never by ids.

 North                       South
.--------. .------.         .--------.
|        | | BAY  |         |        |      10, 4 and 10 ft wide, 8 ft high
'--------' '------'         '--------'
0      120 144  192         300    420
"""

from builders import drawing, write_dxf
from refusals import refused

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import load_job
from dxf2veneer.order.letter import letter_of
from dxf2veneer.writers.bid.content import content_of

WALLS = [(0, 0, 120, 96), (144, 0, 192, 96), (300, 0, 420, 96)]
JOB = """[layers]
wall = ["WALL"]
name = ["NAME"]
[plan]
panels = false
"""
BOXES = '[drawing]\nelevation = ["North=-10,-10,200,110", "South=290,-10,430,110"]\n'


def made(folder, text):
    job = folder / "job.toml"
    job.write_text(JOB + text, encoding="utf-8")
    drawn = drawing(wall=WALLS, texts=[("name", "BAY", (168, 48))])
    return take_off([write_dxf(drawn, folder / "sides.dxf")], load_job(job))


def rows(takeoff):
    letter = letter_of(takeoff, takeoff.order)
    table = next(s.table for s in content_of(letter).sections if s.title == "Scope")
    return [row[:2] for row in table.rows]


def test_a_box_names_the_elevation_of_all_its_walls(tmp_path):
    takeoff = made(tmp_path, BOXES)
    assert [(e.name, len(e.walls)) for e in takeoff.elevations] == [("North", 2), ("South", 1)]
    assert rows(takeoff) == [
        ("North", "wall 1 80.00 sq ft, BAY 32.00 sq ft"),
        ("South", "one wall 80.00 sq ft"),
    ]


def test_without_boxes_walls_without_a_name_are_told_by_number(tmp_path):
    assert rows(made(tmp_path, "")) == [
        ("sides", "wall 1 80.00 sq ft, wall 2 80.00 sq ft"),
        ("BAY", "one wall 32.00 sq ft"),
    ]


def test_a_treatment_means_the_walls_of_a_box(tmp_path):
    treated = '[[walls.treatments]]\nelevations = ["north"]\nbid = false\n'
    takeoff = made(tmp_path, BOXES + treated)
    assert [w.id for w in takeoff.out_of_bid] == ["W1", "W2"]


def test_an_elevation_that_is_none_is_refused_with_those_that_there_are(tmp_path):
    treated = '[[walls.treatments]]\nelevations = ["west"]\nbid = false\n'
    with refused(SettingsError, match="BAY, North, sides, sides.dxf, South"):
        made(tmp_path, BOXES + treated)
