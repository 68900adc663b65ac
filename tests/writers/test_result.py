"""The result file: every field of the format, held against its JSON Schema."""

from __future__ import annotations

import copy
import dataclasses
import json
import math
from pathlib import Path

import jsonschema
import pytest
from builders import as_written
from laid_out import RAKE, laid_out
from takeoffs import EVIL_TEXTS, takeoff

from dxf2veneer.basics.messages import Area, Length, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.model import CapMark, StartOption, StartTable
from dxf2veneer.writers.result import result_dict, write_result
from dxf2veneer.writers.result.message_data import message_data
from dxf2veneer.writers.result.schema import schema_text

SCHEMA_FILE = Path(__file__).parents[2] / "docs" / "result.schema.json"
SCHEMA = json.loads(SCHEMA_FILE.read_text("utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


@pytest.fixture
def result():
    return result_dict(takeoff())


def with_starts():
    """The job laid out by hand, with two starter heights to choose from:
    the present one and one 2 in lower.
    """
    options = (
        StartOption(0.0, 0.0, slivers=1, strips=2, ripped=5, units=14, is_present=True),
        StartOption(-2.0, -2.0, slivers=0, strips=2, ripped=6, units=None, is_best=True),
    )
    return dataclasses.replace(laid_out(), starts=(StartTable(("W1", "W2"), options),))


@pytest.fixture
def planned():
    return result_dict(with_starts())


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


def test_the_schema_is_that_of_the_shape():
    # python -m dxf2veneer.writers.result.schema > docs/result.schema.json
    assert SCHEMA_FILE.read_text("utf-8") == schema_text()


def test_result_follows_the_schema(result, planned):
    VALIDATOR.validate(result)
    VALIDATOR.validate(planned)


@pytest.mark.parametrize("made", [takeoff, with_starts])
def test_any_missing_or_misspelled_field_breaks_the_schema(made):
    whole = result_dict(made())
    places = {
        tuple("each" if isinstance(step, int) else step for step in p): p
        for p in every_place(whole)
    }
    # one of each kind; settings and the values of messages have names of their own
    places = [p for p in places.values() if not (p[0] == "job" and len(p) == 2)]
    places = [p for p in places if not {"values", "value_data"} & set(p[:-1])]
    assert len(places) > 120
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
        (("panels_by",), "guess"),
        (("walls", 0, "pieces", 0, "id"), "W1-0-1"),
        (("walls", 0, "pieces", 0, "kind"), "sawn"),
        (("walls", 0, "pieces", 0, "at_in"), -1.0),
        (("stock", "flat", "bounds", 0, "by"), "guess"),
        (("stock", "unit_list", 0, "parts"), []),
        (("stock", "walls", 0, "waste"), 1.5),
        (("starts", 0, "options", 0, "units"), 13.5),
    ],
)
def test_a_wrong_value_breaks_the_schema(planned, place, wrong):
    owner = planned
    for step in place[:-1]:
        owner = owner[step]
    owner[place[-1]] = wrong
    assert not VALIDATOR.is_valid(planned)


def test_areas_are_square_feet_and_lengths_inches(result):
    north = result["walls"][0]
    assert north["gross_area_sqft"] == 160.0  # 20 x 8 ft
    assert north["openings"][0]["area_sqft"] == 20.0  # 3 ft x 6 ft 8 in
    assert north["openings"][1]["trim"]["head_in"] == pytest.approx(20 * math.pi, rel=1e-15)
    assert north["starter_run_in"] == 204.0
    assert north["box_in"] == [0.0, 0.0, 240.0, 96.0]


def test_net_is_gross_less_deducted_trim_and_cap(result):
    for sums in (*result["walls"], result["totals"]):
        rest = (
            sums["gross_area_sqft"]
            - sums["deducted_area_sqft"]
            - sums["trim_area_sqft"]
            - sums["cap_area_sqft"]
        )
        assert sums["net_area_sqft"] == pytest.approx(rest, abs=1e-12)


def test_an_opening_under_the_threshold_counts_as_opening_but_is_not_deducted(result):
    south = result["walls"][1]
    assert (south["opening_area_sqft"], south["deducted_area_sqft"]) == (1.0, 0.0)


def test_a_drawing_goes_by_its_name_wherever_it_lies(result):
    assert [d["file"] for d in result["drawings"]] == [
        "gatehouse.dxf",
        "=south [x].dxf",
    ]  # from drawings/gatehouse.dxf


def test_corners_are_counted_once(result):
    assert result["totals"]["outside_corner_run_in"] == 96.0
    assert result["totals"]["inside_corner_run_in"] == 80.0
    assert result["corners"][0]["edges"] == [["W1", "right"], ["W2", "left"]]


def test_every_setting_says_where_it_came_from(result):
    assert result["job"]["deduction.threshold_sqft"] == {
        "value": 2.0,
        "from": "option --deduct-over",
        "from_data": {"code": "origin-option", "values": {"option": "deduct-over"}},
    }
    assert result["job"]["drawing.gap"] == {
        "value": 0.25,
        "from": "default",
        "from_data": {"code": "origin-default", "values": {}},
    }
    assert list(result["job"]) == list(takeoff().job.items())


def test_an_estimate_by_area_says_so_and_has_no_stock(result):
    assert result["panels_by"] == "area" and result["stock"] is None
    assert all(w["pieces"] == [] for w in result["walls"])
    assert result["order"] is None and result["totals"]["cost"] is None


def test_a_piece_says_where_it_is_what_it_is_and_what_it_is_cut_from(planned):
    front, side = (w["pieces"] for w in planned["walls"])
    assert (len(front), len(side)) == (10, 7)
    notched, rake, lamp = front[4], side[6], side[4]
    assert notched == {
        "id": "W1/1/2", "course": 1, "number": 2, "x0_in": 24.0, "x1_in": 60.0, "y0_in": 8.0,
        "y1_in": 16.0,
        "length_in": 36.0, "height_in": 8.0, "unit": "flat", "kind": "notched", "left": "factory",
        "right": "factory",
        "ripped": True, "glued": False, "angle_deg": None, "stock": "F4", "at_in": 0.0,
        "outline_in": [[24, 8], [30, 8], [30, 14.5], [42, 14.5], [42, 8], [60, 8], [60, 16], [24,
        16]], "holes_in": [],
    }  # fmt: skip
    assert (rake["id"], rake["angle_deg"], rake["height_in"]) == ("W2/2/1", RAKE, 4.0)
    assert lamp["holes_in"] == [[[230.0, 10.0], [234.0, 10.0], [234.0, 14.0], [230.0, 14.0]]]


def test_the_bounds_stand_beside_the_units(planned):
    stock = planned["stock"]
    flat, corner = stock["flat"], stock["corner"]
    assert (flat["units"], flat["lower_bound"], flat["pieces_length_in"]) == (10, 10, 355.875)
    assert (corner["units"], corner["lower_bound"], corner["left"], corner["right"]) == (4, 4, 1, 4)
    assert [(b["by"], b["units"]) for b in corner["bounds"]] == [("length", 3), ("hands", 4)]
    assert (stock["units"], stock["lower_bound"], stock["cuts"]) == (14, 13, 8)
    assert [(w["wall"], w["flat"], w["corner"], w["lower_bound"],
        w["by_area"]) for w in stock["walls"]] == [
        ("W1", 8, 2, 8, 8), ("W2", 2, 2, 5, 5),
    ]  # fmt: skip


def test_units_and_pieces_point_at_each_other(planned):
    pieces = {p["id"]: p for w in planned["walls"] for p in w["pieces"]}
    units = planned["stock"]["unit_list"]
    assert sorted(part for unit in units for part in unit["parts"]) == sorted(pieces)
    for unit in units:
        parts = [pieces[part] for part in unit["parts"]]
        assert {p["stock"] for p in parts} == {unit["id"]}
        assert (
            sum(p["length_in"] for p in parts)
            == unit["used_in"]
            == unit["length_in"] - unit["waste_in"]
        )
        assert [p["at_in"] for p in parts] == sorted(p["at_in"] for p in parts)


def test_a_rule_that_does_not_hold_says_where_and_why(planned):
    (ledge,) = planned["stock"]["yielded"]
    assert (
        ledge["rule"] == "L24"
        and ledge["at_in"] == [36.0, 15.25]
        and ledge["why"].startswith("the head of W1-O1")
    )
    assert [b["rule"] for b in planned["stock"]["breaks"]] == ["L24", "L3"]
    assert planned["stock"]["breaks"][1]["why"] == ""


def test_starter_heights_are_listed_with_what_they_cost(planned):
    (table,) = planned["starts"]
    assert table["walls"] == ["W1", "W2"]
    assert [(o["start_in"], o["slivers"], o["units"], o["present"],
        o["best"]) for o in table["options"]] == [
        (0.0, 1, 14, True, False), (-2.0, 0, None, False, True),
    ]  # fmt: skip


def test_the_file_is_utf8_and_the_same_every_time(tmp_path):
    write_result(takeoff(), tmp_path / "a.json")
    write_result(takeoff(), tmp_path / "b.json")
    raw = (tmp_path / "a.json").read_bytes()
    assert raw == (tmp_path / "b.json").read_bytes()
    read = json.loads(raw.decode("utf-8"))
    assert read.pop("made_by").startswith("dxf2veneer-") and read == result_dict(takeoff())
    assert b"\r" not in raw


def test_bytes_of_an_undeclared_code_page_are_written_out(result):
    assert result["walls"][1]["layer"] == r"@M\udc81uer"
    messages = [n["message"] for n in result["notices"]]
    assert [t for t in EVIL_TEXTS if "\ud83d" not in t] == messages[4:-1]
    assert messages[-1] == r"half \ud83d pair"


def test_numbers_survive_unrounded(tmp_path):
    write_result(takeoff(), tmp_path / "a.json")
    read = json.loads((tmp_path / "a.json").read_text("utf-8"))
    assert read["walls"][0]["opening_area_sqft"] * 144 == pytest.approx(
        4080 + 200 * math.pi, rel=1e-15
    )


def test_a_place_that_is_no_place_becomes_null():
    odd = dataclasses.replace(
        takeoff(),
        notices=(Notice("ENTITY_UNUSABLE", as_written("x is NaN"), 0, at_in=(math.nan, 3.0)),),
    )
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
        write_result(
            dataclasses.replace(made, totals=dataclasses.replace(made.totals, net_area=math.inf)),
            old,
        )
    assert old.read_text() == "old" and len(list(tmp_path.iterdir())) == 1


def test_the_hand_made_takeoff_agrees_with_itself():
    # the fixture's own check: the veneer left over is the net area, where nothing stayed undeducted
    north, south = takeoff().walls
    assert north.quantities.veneer.area == pytest.approx(north.quantities.net_area, rel=1e-12)
    assert south.quantities.veneer.area == pytest.approx(south.quantities.net_area - 144, rel=1e-12)
    assert south.wall.caps == (CapMark(300.0, 420.0, 80.0, "4D"),)


def test_a_message_stands_beside_its_line_as_code_and_values():
    # 12 sq ft are 1,728 sq in; lists go by their first
    said = message(
        "wall-of-sizes",
        wall="W1",
        gap=Length(1.5),
        area=Area(1728.0),
        count=3,
        heights=(Length(8.0), Length(16.0)),
        why=message("level-line", level=Length(4.0)),
        none=None,
    )
    assert message_data(said) == {
        "code": "wall-of-sizes",
        "values": {
            "wall": "W1",
            "gap_in": 1.5,
            "area_sqft": 12.0,
            "count": 3,
            "heights_in": [8.0, 16.0],
            "why": {"code": "level-line", "values": {"level_in": 4.0}},
            "none": None,
        },
    }
    assert message_data(None) is None


def test_a_notice_is_an_english_line_and_beside_it_data():
    more = Notice("NO_AREA", message("more-of-this-kind", count=1200), 0, count=1200)
    (made,) = result_dict(dataclasses.replace(takeoff(), notices=(more,)))["notices"]
    assert made["message"].startswith("1,200 more of this kind are not listed")
    assert made["message_data"] == {"code": "more-of-this-kind", "values": {"count": 1200}}
    assert made["count"] == 1200


def test_a_rule_has_its_code_for_programs_and_its_name_for_people(planned):
    assert [(b["rule"], b["rule_name"]) for b in planned["stock"]["breaks"]] == [
        ("L24", "least strip"),
        ("L3", "stagger"),
    ]
