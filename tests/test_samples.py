"""The samples: their drawings are what the script draws, their numbers are those worked by hand.

The numbers of the wall FRONT are derived in samples/README.md, step by step, from the sketch in
samples/build_samples.py. Every size is our own.
"""

from __future__ import annotations

import importlib.util
import json
import math
import re
from functools import cache

import ezdxf
import jsonschema
import pyogrio
import pytest
import shapely
from golden_files import as_text, difference

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.writers.result import result_dict

SQFT = 144.0
NAMES = ("gatehouse", "boathouse")


@cache
def sample(folder, name):
    return take_off([folder / f"{name}.dxf"], load_job(folder / f"{name}.toml"))


@pytest.fixture
def gatehouse(samples):
    return sample(samples, "gatehouse")


@pytest.fixture
def boathouse(samples):
    return sample(samples, "boathouse")


def wall(takeoff, name):
    return next(w for w in takeoff.walls if w.wall.name == name)


def test_the_script_draws_the_committed_bytes(samples, tmp_path):
    spec = importlib.util.spec_from_file_location("build_samples", samples / "build_samples.py")
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    for made in script.build(tmp_path):
        assert made.read_bytes() == (samples / made.name).read_bytes(), made.name


def test_front_areas(gatehouse):
    q = wall(gatehouse, "FRONT").quantities
    trim = (68 * 60 - 60 * 48) + (56 * 54 - 48 * 42) + 2 * 4 * 72 + math.pi / 2 * (32**2 - 24**2)
    openings = 60 * 48 + 48 * 42 + 48 * 72 + math.pi * 24**2 / 2
    assert q.gross_area == pytest.approx(336 * 120 - 120 * 16, rel=1e-12)
    assert q.opening_area == q.deducted_area == pytest.approx(openings, rel=1e-9)
    assert q.trim_area == pytest.approx(trim, rel=1e-9)
    assert q.net_area == pytest.approx(38400 - openings - trim, rel=1e-9)
    assert q.perimeter == pytest.approx(912, rel=1e-12)


def test_front_runs(gatehouse):
    front = wall(gatehouse, "FRONT")
    q = front.quantities
    assert q.base_run == pytest.approx(216 + 120)
    assert q.starter_run == pytest.approx(216 + 120 - 48 - 2 * 4)
    assert math.fsum(o.trim_head for o in q.openings) == pytest.approx(
        60 + 48 + math.pi * 24, rel=1e-9
    )
    assert math.fsum(o.trim_jambs for o in q.openings) == pytest.approx(2 * (48 + 42 + 72))
    assert math.fsum(o.trim_sill for o in q.openings) == pytest.approx(60 + 48)
    assert [o.opening.kind for o in q.openings] == ["window", "door", "window"]


def test_front_course_lines(gatehouse):
    courses = wall(gatehouse, "FRONT").courses
    assert courses.starter_y == 4
    assert [c.y0 for c in courses.courses] == [4 + 8 * i for i in range(15)]
    # what a course line is cut by at the height of the windows and the door's jambs, trim included
    ends = sorted(x for line in courses.lines if line.y == 60 for x in (line.x0, line.x1))
    assert ends == pytest.approx([0, 32, 100, 140, 196, 248, 304, 336])


def test_front_heads_and_sills(gatehouse):
    strips = {(c.what, c.opening): c.strip for c in wall(gatehouse, "FRONT").courses.conflicts}
    assert strips["head", "W1-O1"] == pytest.approx(0)  # 92 + 8 = 100 = 4 + 12 x 8
    assert strips["head", "W1-O3"] == pytest.approx(6)  # 100 - (86 + 8)
    assert strips["sill", "W1-O1"] == pytest.approx(4)  # (44 - 4) - 36
    assert strips["top", None] == pytest.approx(4)  # 120 - 116


def test_corners_are_counted_once(gatehouse):
    found = {(c.kind, c.tag): (c.run, c.edges) for c in gatehouse.corners}
    assert found == {
        ("outside", "A"): (104.0, (("W1", "right"), ("W2", "left"))),
        ("inside", "B"): (42.0, (("W3", "right"), ("W4", "left"))),
        ("outside", None): (104.0, (("W5", "right"), ("W6", "left"))),
    }


def test_gable_and_wainscot(gatehouse):
    side, porch = wall(gatehouse, "SIDE").quantities, wall(gatehouse, "PORCH BACK").quantities
    assert side.gross_area == pytest.approx(224 * 104 + 224 * 60 / 2)
    assert side.opening_area == pytest.approx(math.pi * 9**2, rel=1e-9)
    assert side.rake_run == pytest.approx(156 + 100)  # 144-60-156 and 80-60-100 triangles
    assert porch.gross_area == pytest.approx(192 * 42 - 60 * 8)
    assert porch.cap_run == pytest.approx(84 + 60 + 48)
    assert porch.cap_area == pytest.approx(192 * 2.25)


def test_boathouse_in_millimeters(boathouse):
    mm = 25.4
    front = wall(boathouse, "LAKE FRONT").quantities
    # the top: chord 6000, rise 1500, so radius 3750 and half angle asin(0.8)
    angle = 2 * math.asin(0.8)
    arch = 3750**2 / 2 * (angle - math.sin(angle))
    assert front.gross_area * mm**2 == pytest.approx(6000 * 2400 + arch, rel=1e-9)
    assert front.rake_run * mm == pytest.approx(3750 * angle, rel=1e-9)
    windows = [o for o in front.openings if o.opening.kind == "window"]
    assert [o.area * mm**2 for o in windows] == pytest.approx([900 * 1050, 900 * 1050])
    assert [o.sill_y * mm for o in windows] == pytest.approx([900, 1000])
    # the second window is mirrored: its high side stands left, towards the door
    high = [max((y, x) for x, y in o.opening.region.parts[0].outer.points)[1] * mm for o in windows]
    assert high == pytest.approx([1500, 4500])
    assert {round(w.courses.starter_y * mm, 6) for w in boathouse.walls} == {100}
    assert boathouse.corner_run("outside") * mm == pytest.approx(2400)
    assert boathouse.end_run * mm == pytest.approx(2 * 2400)


@pytest.mark.parametrize("name", NAMES)
def test_samples_give_no_warnings(samples, name):
    assert [n.code for n in sample(samples, name).notices if n.level != "info"] == []


@pytest.mark.parametrize("name", NAMES)
def test_result_is_as_before(samples, name, request, refresh_golden):
    golden = request.path.parent / "golden" / f"{name}.json"
    found = as_text(result_dict(sample(samples, name)), samples)
    if refresh_golden:
        golden.write_text(found, encoding="utf-8")
    changed = difference(golden, found)
    assert not changed, f"{changed}\nif this is right: pytest --refresh-golden"


def test_the_comparison_can_fail(samples, request):
    golden = request.path.parent / "golden" / "gatehouse.json"
    result = result_dict(sample(samples, "gatehouse"))
    result["walls"][0]["gross_area_sqft"] += 2e-6
    changed = difference(golden, as_text(result, samples))
    assert len(re.findall(r"^[-+] .*gross_area_sqft", changed, re.MULTILINE)) == 2


@pytest.mark.parametrize("name", NAMES)
def test_result_keeps_to_the_schema(samples, name):
    schema = json.loads(
        (samples.parent / "docs" / "result.schema.json").read_text(encoding="utf-8")
    )
    plain = json.loads(json.dumps(result_dict(sample(samples, name))))
    jsonschema.Draft202012Validator(schema).validate(plain)


@pytest.mark.parametrize("name", NAMES)
def test_samples_audit_clean(samples, name):
    assert ezdxf.readfile(samples / f"{name}.dxf").audit().errors == []


@pytest.mark.parametrize("name", NAMES)
def test_gdal_reads_the_same_outlines(samples, name):
    # GDAL's own DXF reader, arcs in steps of half a degree (areas of arcs 1e-5 low); a circle stays
    # a line there
    options = {
        "DXF_CLOSED_LINE_AS_POLYGON": "YES",
        "DXF_MERGE_BLOCK_GEOMETRIES": "NO",
        "OGR_ARC_STEPSIZE": "0.5",
    }
    pyogrio.set_gdal_config_options(options)
    _, _, shapes, (layers,) = pyogrio.raw.read(samples / f"{name}.dxf", columns=["Layer"])
    theirs = {}
    for layer, outline in zip(layers, shapely.from_wkb(shapes), strict=True):
        if outline.geom_type == "Polygon":
            theirs.setdefault(layer, []).append(outline.area)
    takeoff = sample(samples, name)
    ours = {}
    for shape in takeoff.drawings[0].shapes:
        if shape.path.closed and shape.entity != "CIRCLE":
            ours.setdefault(shape.layer, []).append(
                shape.path.area / takeoff.drawings[0].inches_per_unit ** 2
            )
    assert {layer: len(areas) for layer, areas in ours.items()} == {
        layer: len(areas) for layer, areas in theirs.items()
    }
    for layer, areas in ours.items():
        assert sorted(areas) == pytest.approx(sorted(theirs[layer]), rel=2e-5), layer
