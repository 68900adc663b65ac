"""The result file: every field of the format, held against its JSON Schema."""

from __future__ import annotations

import copy
import dataclasses
import json
import math
from pathlib import Path

import jsonschema
import pytest
from takeoffs import EVIL_TEXTS, takeoff

from dxf2veneer.model import CapMark, Piece
from dxf2veneer.notices import Notice
from dxf2veneer.writers.result import result_dict, write_result

SCHEMA = json.loads((Path(__file__).parents[2] / "docs" / "result.schema.json").read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


@pytest.fixture
def result():
    return result_dict(takeoff())


def with_piece():
    """The takeoff with one piece in W1, as the course plan will place it."""
    made = takeoff()
    wall, *rest = made.walls
    piece = Piece(0, 0.0, 24.0, 0.0, 8.0, "flat", "finished", "cut", False, False, "F1", ((0, 0), (24, 0), (24, 8)))
    wall = dataclasses.replace(wall, courses=dataclasses.replace(wall.courses, pieces=(piece,)))
    return dataclasses.replace(made, walls=(wall, *rest))


def every_place(value, at=()):
    """The path to every key of every object inside a result."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield (*at, key)
            yield from every_place(item, (*at, key))
    if isinstance(value, list):
        for count, item in enumerate(value):
            yield from every_place(item, (*at, count))


def test_the_schema_is_a_sound_schema():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_result_follows_the_schema(result):
    VALIDATOR.validate(result)
    VALIDATOR.validate(result_dict(with_piece()))


def test_any_missing_or_misspelled_field_breaks_the_schema():
    whole = result_dict(with_piece())
    places = [p for p in every_place(whole) if not (p[0] == "job" and len(p) == 2)]
    assert len(places) > 200
    for *parents, key in places:
        broken = copy.deepcopy(whole)
        owner = broken
        for step in parents:
            owner = owner[step]
        held = owner.pop(key)
        assert not VALIDATOR.is_valid(broken), f"{parents} without {key}"
        owner[f"{key}s"] = held
        assert not VALIDATOR.is_valid(broken), f"{parents} with {key}s"


@pytest.mark.parametrize(
    ("place", "wrong"),
    [
        (("schema",), "dxf2veneer-takeoff-2"),
        (("walls", 0, "edges", 0, "kind"), "corner"),
        (("walls", 0, "net_area_sqft"), "113.9"),
        (("drawings", 0, "units_from"), "guess"),
        (("notices", 0, "level"), "info"),
        (("notices", 0, "at_in"), [1.0]),
        (("corners", 0, "edges"), []),
        (("corners", 0, "edges", 0), ["W1", "right", "W2"]),
        (("job", "deduction.threshold_sqft"), 2.0),
    ],
)
def test_a_wrong_value_breaks_the_schema(result, place, wrong):
    owner = result
    for step in place[:-1]:
        owner = owner[step]
    owner[place[-1]] = wrong
    assert not VALIDATOR.is_valid(result)


def test_areas_are_square_feet_and_lengths_inches(result):
    north = result["walls"][0]
    assert north["gross_area_sqft"] == 160.0  # 20 x 8 ft
    assert north["openings"][0]["area_sqft"] == 20.0  # 3 ft x 6 ft 8 in
    assert north["openings"][1]["trim"]["head_in"] == pytest.approx(20 * math.pi, rel=1e-15)
    assert north["starter_run_in"] == 204.0
    assert north["box_in"] == [0.0, 0.0, 240.0, 96.0]


def test_net_is_gross_less_deducted_trim_and_cap(result):
    for sums in (*result["walls"], result["totals"]):
        rest = sums["gross_area_sqft"] - sums["deducted_area_sqft"] - sums["trim_area_sqft"] - sums["cap_area_sqft"]
        assert sums["net_area_sqft"] == pytest.approx(rest, abs=1e-12)


def test_an_opening_under_the_threshold_counts_as_opening_but_is_not_deducted(result):
    south = result["walls"][1]
    assert (south["opening_area_sqft"], south["deducted_area_sqft"]) == (1.0, 0.0)


def test_a_drawing_goes_by_its_name_wherever_it_lies(result):
    assert [d["file"] for d in result["drawings"]] == ["gatehouse.dxf", "=south [x].dxf"]  # from drawings/gatehouse.dxf


def test_corners_are_counted_once(result):
    assert result["totals"]["outside_corner_run_in"] == 96.0
    assert result["totals"]["inside_corner_run_in"] == 80.0
    assert result["corners"][0]["edges"] == [["W1", "right"], ["W2", "left"]]


def test_every_setting_says_where_it_came_from(result):
    assert result["job"]["deduction.threshold_sqft"] == {"value": 2.0, "from": "option --deduct-over"}
    assert result["job"]["drawing.gap"] == {"value": 0.25, "from": "default"}
    assert list(result["job"]) == list(takeoff().job.items())


def test_what_is_not_worked_out_yet_is_null_or_empty(result):
    assert result["stock"] is None and result["order"] is None
    assert result["totals"]["cost"] is None
    assert all(w["pieces"] == [] for w in result["walls"])


def test_the_file_is_utf8_and_the_same_every_time(tmp_path):
    write_result(takeoff(), tmp_path / "a.json")
    write_result(takeoff(), tmp_path / "b.json")
    raw = (tmp_path / "a.json").read_bytes()
    assert raw == (tmp_path / "b.json").read_bytes()
    assert json.loads(raw.decode("utf-8")) == result_dict(takeoff())
    assert b"\r" not in raw


def test_bytes_of_an_undeclared_code_page_are_written_out(result):
    assert result["walls"][1]["layer"] == r"@M\udc81uer"
    messages = [n["message"] for n in result["notices"]]
    assert [t for t in EVIL_TEXTS if "\ud83d" not in t] == messages[4:-1]
    assert messages[-1] == r"half \ud83d pair"


def test_numbers_survive_unrounded(tmp_path):
    write_result(takeoff(), tmp_path / "a.json")
    read = json.loads((tmp_path / "a.json").read_text("utf-8"))
    assert read["walls"][0]["opening_area_sqft"] * 144 == pytest.approx(4080 + 200 * math.pi, rel=1e-15)


def test_a_place_that_is_no_place_becomes_null():
    odd = dataclasses.replace(takeoff(), notices=(Notice("ENTITY_UNUSABLE", "x is NaN", 0, at_in=(math.nan, 3.0)),))
    assert result_dict(odd)["notices"][0]["at_in"] is None


def test_a_quantity_that_is_no_number_stops_the_writing_and_leaves_nothing(tmp_path):
    made = takeoff()
    odd = dataclasses.replace(made, totals=dataclasses.replace(made.totals, net_area=math.nan))
    with pytest.raises(ValueError, match="not JSON compliant"):
        write_result(odd, tmp_path / "a.json")
    assert list(tmp_path.iterdir()) == []


def test_a_failed_write_leaves_the_old_file(tmp_path):
    old = tmp_path / "a.json"
    old.write_text("old")
    made = takeoff()
    with pytest.raises(ValueError):
        write_result(dataclasses.replace(made, totals=dataclasses.replace(made.totals, net_area=math.inf)), old)
    assert old.read_text() == "old" and len(list(tmp_path.iterdir())) == 1


def test_the_hand_made_takeoff_agrees_with_itself():
    # the fixture's own check: the veneer left over is the net area, where nothing stayed undeducted
    north, south = takeoff().walls
    assert north.quantities.veneer.area == pytest.approx(north.quantities.net_area, rel=1e-12)
    assert south.quantities.veneer.area == pytest.approx(south.quantities.net_area - 144, rel=1e-12)
    assert south.wall.caps == (CapMark(300.0, 420.0, 80.0, "4D"),)
