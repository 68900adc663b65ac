"""The overlay of the hand-made takeoff (sketch in takeoffs.py), read back with the DXF library."""

from __future__ import annotations

import dataclasses
import hashlib
import re
from collections import Counter
from pathlib import Path as File

import ezdxf
import pytest
from builders import as_written
from refusals import refused
from takeoffs import ARCHED, takeoff

from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job import with_settings
from dxf2veneer.drawing.entities.ours import APPID
from dxf2veneer.wording import error_line
from dxf2veneer.writers.overlay import OverlayError, write_overlay
from dxf2veneer.writers.overlay.layers import LAYERS, TEXT_LAYERS, layer_names
from dxf2veneer.writers.overlay.pen import tags_of

LAYER = layer_names("A-ELEV-VENR")


def write_source(path: File, drawing, version="R2018", fmt="asc") -> File:
    """The walls and openings of a drawing as a person drew them, a nested block and a text,
    on layers.
    """
    doc = ezdxf.new(version)
    if version != "R12":
        doc.header["$INSUNITS"] = {"in": 1, "mm": 4}[drawing.units]
    doc.layers.add("A-WALL", color=3)
    doc.blocks.new("LAMP").add_circle((0, 0), 2)
    doc.blocks.new("PAIR").add_blockref("LAMP", (5, 0))
    space = doc.modelspace()
    add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    for shape in drawing.shapes:
        scaled = [
            (x / drawing.inches_per_unit, y / drawing.inches_per_unit, b)
            for x, y, b in shape.path.vertices
        ]
        add(scaled, format="xyb", close=True, dxfattribs={"layer": "A-WALL"})
    space.add_text("existing grade", dxfattribs={"layer": "0"})
    space.add_blockref("PAIR", (40, 40), {"xscale": 2, "yscale": 0.5})
    doc.saveas(path, fmt=fmt)
    return path


def made(tmp_path: File, index=0, version="R2018", fmt="asc", result=None, **settings):
    """Paths of a source and of its overlay."""
    result = result or takeoff()
    if settings:
        result = dataclasses.replace(result, job=with_settings(result.job, **settings))
    drawing = result.drawings[index]
    source = write_source(tmp_path / "source.dxf", drawing, version, fmt)
    target = tmp_path / "courses.dxf"
    write_overlay(result, drawing, source, target)
    return source, target


def overlay_of(path: File):
    """(entity, tags) of everything that is ours."""
    return [(e, tags_of(e)) for e in ezdxf.readfile(path).modelspace() if tags_of(e)]


def on(path: File, key: str, kind: str):
    """Our entities of one type on one layer, samples in the legend left out."""
    return [
        e
        for e, t in overlay_of(path)
        if e.dxf.layer == LAYER[key] and e.dxftype() == kind and t["what"] != "legend"
    ]


def texts_of(path: File, what: str) -> list[str]:
    return [
        e.dxf.text for e, tags in overlay_of(path) if tags["what"] == what and e.dxftype() == "TEXT"
    ]


def texts(path: File, key: str) -> list[str]:
    return [e.dxf.text for e in on(path, key, "TEXT")]


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
def test_every_original_entity_is_still_there_and_the_audit_is_clean(tmp_path, version):
    source, target = made(tmp_path, version=version)
    before, after = ezdxf.readfile(source), ezdxf.readfile(target)
    for space in (
        lambda d: d.modelspace(),
        lambda d: d.blocks.get("PAIR"),
        lambda d: d.blocks.get("LAMP"),
    ):
        kept = {e.dxf.handle: (e.dxftype(), e.dxf.layer) for e in space(after)}
        assert {
            e.dxf.handle: (e.dxftype(), e.dxf.layer) for e in space(before)
        }.items() <= kept.items()
    assert after.dxfversion == before.dxfversion
    assert after.header.get("$INSUNITS") == before.header.get("$INSUNITS")
    assert after.layers.get("A-WALL").dxf.color == 3
    assert after.audit().errors == []
    assert len(overlay_of(target)) > 50


def test_the_source_is_not_touched(tmp_path):
    result = takeoff()
    source = write_source(tmp_path / "source.dxf", result.drawings[0])
    before = hashlib.sha256(source.read_bytes()).hexdigest(), source.stat().st_mtime_ns
    write_overlay(result, result.drawings[0], source, tmp_path / "courses.dxf")
    assert (hashlib.sha256(source.read_bytes()).hexdigest(), source.stat().st_mtime_ns) == before


def test_every_course_line_is_drawn(tmp_path):
    _, target = made(tmp_path)
    lines = takeoff().walls[0].courses.lines
    drawn = {(e.dxf.start.x, e.dxf.end.x, e.dxf.start.y) for e in on(target, "course", "LINE")}
    assert drawn == {(line.x0, line.x1, line.y) for line in lines}
    # 12 lines; y 0..72 (10 of them) break at the door, y 32..72 (6) at the window too, y 80 and 88
    # run through
    assert len(drawn) == 12 + 10 + 6


def test_courses_are_numbered_from_one_left_of_the_wall(tmp_path):
    _, target = made(tmp_path)
    numbers = on(target, "number", "TEXT")
    assert [e.dxf.text for e in numbers] == [str(n) for n in range(1, 13)]
    assert [tags_of(e)["course"] for e in numbers] == [str(n) for n in range(12)]
    assert all(e.dxf.align_point.x < 0 for e in numbers)
    assert [e.dxf.align_point.y for e in numbers] == [4 + 8 * n for n in range(12)]
    assert [e.dxf.height for e in numbers] == pytest.approx(
        [2.25] * 12
    )  # 3/32 in on a plot at 1:24


def test_heights_of_course_lines_stand_beside_them(tmp_path):
    _, target = made(tmp_path)
    heights = on(target, "height", "TEXT")
    assert [e.dxf.text for e in heights][:4] == ['0"', '8"', "1'-4\"", "2'-0\""]
    assert [e.dxf.align_point.y for e in heights] == [8 * n for n in range(12)]
    _, target = made(tmp_path, output__display="metric")
    assert texts(target, "height")[:3] == ["0 mm", "203 mm", "406 mm"]


def test_heights_are_above_the_level_line_where_there_is_one(tmp_path):
    result = takeoff()
    wall, *_ = result.walls
    wall = dataclasses.replace(
        wall,
        wall=dataclasses.replace(wall.wall, level_y=-4.0),
        courses=dataclasses.replace(wall.courses, starter_from="level"),
    )
    _, target = made(tmp_path, result=dataclasses.replace(result, walls=(wall,)))
    assert texts(target, "height")[:2] == ['4"', "1'-0\""]


def test_what_is_off_the_course_lines_is_marked_with_the_move_that_clears_it(tmp_path):
    #  78 |   |  |  O2  |    the sill of O2 at 30: 6 in of course 4 (24..32) are left below it
    #  30 |---|  +------+    up 2 in it would meet the line at 32; heads at 80 and the top at 96 run
    #  clean
    _, target = made(tmp_path)
    assert texts(target, "off") == ['sill: strip 6", up 2"']
    (mark,) = on(target, "off", "LWPOLYLINE")
    assert next(iter(mark.get_points("xy"))) == (140, 30)
    assert tags_of(mark) == {
        "what": "sill off course",
        "wall": "W1",
        "opening": "W1-O2",
        "course": "3",
    }
    _, target = made(
        tmp_path, index=1
    )  # the vent is too small for a text: it goes under the wall with its id
    assert sorted(texts(target, "off")) == [
        "W2-O1 head: strip 3\", up 3\"", "W2-O1 sill: strip 1\", down 1\"",
        "cap: strip 5 3/4\", up 2 1/4\"",
    ]  # fmt: skip


def test_arcs_stay_arcs(tmp_path):
    _, target = made(tmp_path)
    window = next(
        e
        for e, tags in overlay_of(target)
        if tags.get("opening") == "W1-O2" and e.dxftype() == "LWPOLYLINE"
    )
    bulges = sorted(b for *_, b in window.get_points("xyb"))
    assert bulges == pytest.approx([0, 0, 0, 1])  # the half circle of radius 20
    assert sorted(b for *_, b in ARCHED.vertices) == pytest.approx(bulges)


def test_walls_and_openings_are_named_with_their_areas(tmp_path):
    _, target = made(tmp_path)
    shown = texts(target, "label")
    for text in (
        "W1 North",
        "gross 160.00 sq ft",
        "W1-O1 door",
        "20.00 sq ft",
        "W1-O2 window",
        "+x",
    ):
        assert text in shown
    # net: 160 - 20 - (1200 + 200 pi) / 144 - (1328 + 192 pi) / 144 = 160 - 20 - 12.697 - 13.411
    assert "net 113.89 sq ft" in shown


def test_an_opening_that_is_not_deducted_says_so(tmp_path):
    _, target = made(tmp_path, index=1)
    assert any(text.endswith("not deducted") for text in texts(target, "label"))


def test_areas_are_metric_on_request(tmp_path):
    _, target = made(tmp_path, output__display="metric")
    assert "gross 14.86 m²" in texts(target, "label")  # 160 x 0.09290304


def test_edges_are_marked_by_kind(tmp_path):
    _, target = made(tmp_path)
    (end,) = on(target, "end", "LINE")
    (corner,) = on(target, "outside", "LINE")
    assert (end.dxf.start.x, end.dxf.end.y) == (0, 96)
    assert (corner.dxf.start.x, corner.dxf.end.y) == (240, 96)
    assert texts(target, "outside") == ["corner C1 outside 8'-0\""]
    assert tags_of(corner) == {"what": "right edge", "wall": "W1", "corner": "C1", "source": "3C"}


def test_starter_caps_and_trim_are_drawn(tmp_path):
    _, target = made(tmp_path)
    assert [(e.dxf.start.x, e.dxf.end.x) for e in on(target, "starter", "LINE")] == [
        (0, 24),
        (60, 240),
    ]
    assert len(on(target, "trim", "LWPOLYLINE")) >= 2
    assert on(target, "cap", "LINE") == []
    _, target = made(tmp_path, index=1)
    (mark,) = on(target, "cap", "LINE")
    assert (mark.dxf.start.x, mark.dxf.end.x, mark.dxf.end.y) == pytest.approx(
        (300 * 25.4, 420 * 25.4, 80 * 25.4)
    )


def test_slivers_are_filled_where_they_are(tmp_path):
    _, target = made(
        tmp_path, index=1
    )  # 1 in below the sill of the vent at 41: y 40..41, x 340..352, in mm
    (hatch,) = on(target, "sliver", "HATCH")
    corners = [(x, y) for x, y, _ in hatch.paths[0].vertices]
    xs, ys = sorted({x for x, _ in corners}), sorted({y for _, y in corners})
    assert xs == pytest.approx([340 * 25.4, 352 * 25.4])
    assert ys == pytest.approx([40 * 25.4, 41 * 25.4])
    assert hatch.dxf.solid_fill == 1
    assert tags_of(hatch) == {
        "what": "sliver at sill",
        "wall": "W2",
        "opening": "W2-O1",
        "course": "5",
    }


def test_the_overlay_of_a_millimeter_drawing_lies_on_its_outlines(tmp_path):
    source, target = made(tmp_path, index=1)
    drawn = ezdxf.readfile(source).modelspace().query("LWPOLYLINE").first
    (wall,) = on(target, "wall", "LWPOLYLINE")
    assert [c for p in wall.get_points("xyb") for c in p] == pytest.approx(
        [c for p in drawn.get_points("xyb") for c in p]
    )
    assert max(x for x, _ in wall.get_points("xy")) == pytest.approx(10_668)  # 420 in
    assert [e.dxf.height for e in on(target, "number", "TEXT")] == pytest.approx([2.25 * 25.4] * 10)


def test_a_scaled_drawing_gets_its_overlay_at_its_own_size(tmp_path):
    result = takeoff()
    quarter = dataclasses.replace(result.drawings[0], inches_per_unit=4.0)
    result = dataclasses.replace(result, drawings=(quarter, result.drawings[1]))
    _, target = made(tmp_path, result=result)
    (wall,) = on(target, "wall", "LWPOLYLINE")
    assert max(x for x, _ in wall.get_points("xy")) == 60  # 240 / 4


def test_notices_stand_at_their_place_and_a_crowd_shares_one_text(tmp_path):
    _, target = made(tmp_path)
    places = {tuple(tags.items()): e for e, tags in overlay_of(target) if tags["what"] == "notice"}
    assert len(places) == 10  # nine unusable entities and the cross check
    shown = texts(target, "notice")
    assert sum(1 for t in shown if "ENTITY_UNUSABLE" in t) < 9
    assert "ERROR CROSS_CHECK" in shown
    cross = next(
        e
        for e, t in overlay_of(target)
        if t.get("notice") == "CROSS_CHECK" and e.dxftype() == "LWPOLYLINE"
    )
    xs, ys = zip(*cross.get_points("xy"), strict=True)
    assert ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2) == pytest.approx((120, 48))


def test_notices_without_a_finite_place_are_left_to_the_workbook(tmp_path):
    odd = (
        Notice("NO_WALL", as_written("none"), 0),
        Notice("NO_AREA", as_written("nowhere"), 0, at_in=(float("nan"), 1.0)),
    )
    _, target = made(tmp_path, result=dataclasses.replace(takeoff(), notices=odd))
    assert [t for _, t in overlay_of(target) if t["what"] == "notice"] == []


def test_only_the_drawings_own_walls_and_notices_are_drawn(tmp_path):
    _, target = made(tmp_path, index=1)
    assert {tags["wall"] for _, tags in overlay_of(target) if "wall" in tags} == {"W2"}
    assert {tags["notice"] for _, tags in overlay_of(target) if "notice" in tags} == {
        "CORNER_UNPAIRED",
        "SLIVER",
    }


def test_the_tags_of_an_entity_read_back(tmp_path):
    _, target = made(tmp_path)
    line = next(
        e for e in on(target, "course", "LINE") if e.dxf.start.y == 40 and e.dxf.start.x == 60
    )
    assert [(t.code, t.value) for t in line.get_xdata(APPID)] == [
        (1000, "what=course line"), (1000, "wall=W1"), (1000, "course=5"), (1003, LAYER["course"]),
    ]  # fmt: skip
    (wall,) = on(target, "wall", "LWPOLYLINE")
    assert tags_of(wall) == {"what": "wall", "wall": "W1", "source": "2F"}


def test_every_entity_of_the_overlay_is_tagged_and_plain(tmp_path):
    source, target = made(tmp_path, index=1)
    old = {e.dxf.handle for e in ezdxf.readfile(source).modelspace()}
    new = [e for e in ezdxf.readfile(target).modelspace() if e.dxf.handle not in old]
    assert all(tags_of(e)["what"] for e in new)
    assert {e.dxftype() for e in new} == {"LINE", "LWPOLYLINE", "TEXT", "HATCH"}
    shown = [e for e in new if tags_of(e)["what"] != "legend"]
    assert all(e.dxf.get("color", 256) == 256 and not e.dxf.hasattr("linetype") for e in shown)


def test_an_overlay_over_its_own_output_doubles_nothing(tmp_path):
    result = takeoff()
    _, first = made(tmp_path)
    second = tmp_path / "again.dxf"
    write_overlay(result, result.drawings[0], first, second)
    once, twice = ezdxf.readfile(first), ezdxf.readfile(second)
    assert Counter(e.dxftype() for e in twice.modelspace()) == Counter(
        e.dxftype() for e in once.modelspace()
    )
    assert sorted(layer.dxf.name for layer in twice.layers) == sorted(
        layer.dxf.name for layer in once.layers
    )
    assert twice.audit().errors == []


def test_an_earlier_overlay_under_another_prefix_goes_too(tmp_path):
    _, first = made(tmp_path, output__layer_prefix="OLD")
    second = tmp_path / "again.dxf"
    write_overlay(takeoff(), takeoff().drawings[0], first, second)
    assert [e for e in ezdxf.readfile(second).modelspace() if e.dxf.layer.startswith("OLD")] == []


def test_what_the_user_drew_on_our_layers_or_copied_to_their_own_stays(tmp_path):
    _, first = made(tmp_path)
    doc = ezdxf.readfile(first)
    own = doc.modelspace().add_line((1, 1), (2, 2), {"layer": LAYER["wall"]})
    copied = on(first, "wall", "LWPOLYLINE")[0]
    copied = doc.entitydb[copied.dxf.handle]
    copied.dxf.layer = "A-WALL"
    doc.saveas(first)
    second = tmp_path / "again.dxf"
    write_overlay(takeoff(), takeoff().drawings[0], first, second)
    kept = {e.dxf.handle for e in ezdxf.readfile(second).modelspace()}
    assert {own.dxf.handle, copied.dxf.handle} <= kept


def test_a_layer_whose_look_the_user_changed_keeps_it(tmp_path):
    _, first = made(tmp_path)
    doc = ezdxf.readfile(first)
    doc.layers.get(LAYER["course"]).dxf.color = 51
    doc.saveas(first)
    second = tmp_path / "again.dxf"
    write_overlay(takeoff(), takeoff().drawings[0], first, second)
    assert ezdxf.readfile(second).layers.get(LAYER["course"]).dxf.color == 51


@pytest.mark.parametrize("only", [False, True])
def test_two_runs_give_the_same_bytes(tmp_path, only):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    source, target = made(tmp_path, output__overlay_only=only)
    result = takeoff()
    result = dataclasses.replace(result, job=with_settings(result.job, output__overlay_only=only))
    write_overlay(result, result.drawings[0], source, tmp_path / "second.dxf")
    assert (tmp_path / "second.dxf").read_bytes() == target.read_bytes()
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_the_title_says_the_day_of_the_drawing_or_the_one_it_is_given(tmp_path, monkeypatch):
    source, target = made(tmp_path)
    # DXF reference, dates: 2451544.91568287 is December 31, 1999, 9:58:35 in the evening; 8456 days
    # on is 2023-02-24
    source.write_bytes(
        re.sub(rb"(\$TDUPDATE\r?\n *40\r?\n)[^\r\n]*", rb"\g<1>2460000.91", source.read_bytes())
    )
    write_overlay(takeoff(), takeoff().drawings[0], source, target)
    assert "drawing gatehouse.dxf, sha256 aaaaaaaa, last saved 2023-02-24" in texts(target, "title")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    write_overlay(takeoff(), takeoff().drawings[0], source, target)
    assert "drawing gatehouse.dxf, sha256 aaaaaaaa, overlay of 1970-01-02" in texts(target, "title")


def test_the_legend_explains_the_layers_that_were_drawn_on(tmp_path):
    _, target = made(tmp_path)
    shown = set(texts_of(target, "legend"))
    used = {e.dxf.layer for e, _ in overlay_of(target)}
    for key, look in LAYERS.items():
        assert ({look.suffix, look.content} <= shown) == (
            LAYER[key] in used and key not in TEXT_LAYERS
        ), key
    samples = [e for e, t in overlay_of(target) if t["what"] == "legend" and e.dxftype() != "TEXT"]
    assert {e.dxf.layer for e in samples} == {LAYER["legend"]}
    assert {LAYERS[k].color for k in ("wall", "course", "end", "outside")} <= {
        e.dxf.color for e in samples
    }
    assert min(e.dxf.align_point.y for e in on(target, "title", "TEXT")) < 0  # below the walls


@pytest.mark.parametrize(("index", "unit", "reach"), [(0, 1, 240), (1, 4, 420 * 25.4)])
def test_overlay_only_holds_our_layers_in_the_drawings_unit_and_place(tmp_path, index, unit, reach):
    _, target = made(tmp_path, index=index, output__overlay_only=True)
    doc = ezdxf.readfile(target)
    assert doc.header["$INSUNITS"] == unit
    assert all(tags_of(e) for e in doc.modelspace())
    (wall,) = on(target, "wall", "LWPOLYLINE")
    assert max(x for x, _ in wall.get_points("xy")) == pytest.approx(reach)
    assert doc.audit().errors == []


def test_r12_gets_polylines_and_strokes(tmp_path):
    source, target = made(tmp_path, index=1, version="R12")
    old = {e.dxf.handle for e in ezdxf.readfile(source).modelspace()}
    new = [e for e in ezdxf.readfile(target).modelspace() if e.dxf.handle not in old]
    assert {e.dxftype() for e in new} == {"LINE", "POLYLINE", "TEXT"}
    strokes = on(target, "sliver", "LINE")
    assert len(strokes) == 12  # 12 in by 1 in: a stroke an inch
    assert all(e.dxf.end.y - e.dxf.start.y == pytest.approx(25.4) for e in strokes)


def test_r12_keeps_bulges(tmp_path):
    _, target = made(tmp_path, version="R12")
    window = next(
        e
        for e, t in overlay_of(target)
        if t.get("opening") == "W1-O2" and e.dxftype() == "POLYLINE"
    )
    assert sorted(v.dxf.get("bulge", 0) for v in window.vertices) == pytest.approx([0, 0, 0, 1])


@pytest.mark.parametrize("only", [False, True])
@pytest.mark.parametrize(
    ("version", "code"), [("R12", "AC1009"), ("R2000", "AC1015"), ("R2013", "AC1027")]
)
def test_another_version_is_written_on_request(tmp_path, version, code, only):
    _, target = made(tmp_path, output__dxf_version=version, output__overlay_only=only)
    doc = ezdxf.readfile(target)
    assert doc.dxfversion == code and doc.audit().errors == []
    assert len(overlay_of(target)) > 50
    assert texts(target, "number") == [str(n) for n in range(1, 13)]


def test_a_newer_drawing_asked_for_as_r12_loses_none_of_its_content(tmp_path):
    result = takeoff()
    source = write_source(tmp_path / "source.dxf", result.drawings[0])
    doc = ezdxf.readfile(source)
    doc.modelspace().add_mtext("two\\Plines", {"layer": "A-ANNO"})
    doc.modelspace().add_spline([(0, 0), (10, 5), (20, 0)], dxfattribs={"layer": "A-GRADE"})
    doc.saveas(source)
    result = dataclasses.replace(result, job=with_settings(result.job, output__dxf_version="R12"))
    write_overlay(result, result.drawings[0], source, tmp_path / "courses.dxf")
    space = ezdxf.readfile(tmp_path / "courses.dxf").modelspace()
    theirs = Counter((e.dxf.layer, e.dxftype()) for e in space if not tags_of(e))
    assert theirs[("A-WALL", "POLYLINE")] == 3  # the wall and two openings
    assert theirs[("A-ANNO", "TEXT")] == 2 and theirs[("A-GRADE", "POLYLINE")] == 1
    assert not any(
        "source" in tags for _, tags in overlay_of(tmp_path / "courses.dxf")
    )  # handles are new ones


def test_what_an_older_version_can_not_hold_stops_the_copy(tmp_path):
    result = takeoff()
    source = write_source(tmp_path / "source.dxf", result.drawings[0])
    doc = ezdxf.readfile(source)
    doc.modelspace().add_xline((0, 0), (1, 0))
    doc.saveas(source)
    result = dataclasses.replace(result, job=with_settings(result.job, output__dxf_version="R12"))
    with refused(
        OverlayError,
        "can't be copied whole as R12, which has no place for 1 XLINE; leave out --dxf-version",
    ) as error:
        write_overlay(result, result.drawings[0], source, tmp_path / "courses.dxf")
    assert "\n" not in error_line(error.value) and not (tmp_path / "courses.dxf").exists()


@pytest.mark.parametrize("only", [False, True])
def test_binary_is_written_on_request(tmp_path, only):
    _, target = made(tmp_path, output__binary=True, output__overlay_only=only)
    assert target.read_bytes()[:18] == b"AutoCAD Binary DXF"
    assert len(overlay_of(target)) > 50


def test_r12_refuses_names_that_do_not_fit(tmp_path):
    with refused(OverlayError, r"layer_prefix .* too long for an R12 drawing.* shorten it by 4$"):
        made(tmp_path, version="R12", output__layer_prefix="X" * 30)
    assert not (tmp_path / "courses.dxf").exists()
    assert max(len(name) for name in LAYER.values()) <= 31


def test_a_binary_drawing_stays_binary(tmp_path):
    source, target = made(tmp_path, fmt="bin")
    assert target.read_bytes()[:18] == source.read_bytes()[:18] == b"AutoCAD Binary DXF"
    assert ezdxf.readfile(target).audit().errors == []


def test_names_in_an_undeclared_code_page_come_through_byte_for_byte(tmp_path):
    result = takeoff()
    source = write_source(tmp_path / "source.dxf", result.drawings[0], "R2000")
    source.write_bytes(source.read_bytes().replace(b"A-WALL", b"M\x81uer"))
    write_overlay(result, result.drawings[0], source, tmp_path / "courses.dxf")
    assert (tmp_path / "courses.dxf").read_bytes().count(b"M\x81uer") == source.read_bytes().count(
        b"M\x81uer"
    )


@pytest.mark.parametrize(
    ("content", "reason"),
    [(None, "can't be copied whole"), (b"not a drawing", "can't be copied whole")],
)
def test_a_source_that_can_not_be_read_gives_one_line_and_no_file(tmp_path, content, reason):
    source, target = tmp_path / "source.dxf", tmp_path / "courses.dxf"
    if content is not None:
        source.write_bytes(content)
    with refused(OverlayError, reason) as error:
        write_overlay(takeoff(), takeoff().drawings[0], source, target)
    line = error_line(error.value)
    assert str(source) in line and "\n" not in line
    assert not target.exists()


def test_the_drawing_itself_is_never_overwritten(tmp_path):
    source = write_source(tmp_path / "source.dxf", takeoff().drawings[0])
    with refused(OverlayError, "overwrite the drawing itself"):
        write_overlay(takeoff(), takeoff().drawings[0], source, tmp_path / "." / "source.dxf")


@pytest.mark.parametrize("name", ["woodshed-front-traced", "woodshed-front", "pavilion-view-1"])
def test_drawings_of_other_people_are_copied_entity_by_entity(tmp_path, real_drawings, name):
    source, target = real_drawings / f"{name}.dxf", tmp_path / "courses.dxf"
    write_overlay(takeoff(), takeoff().drawings[1], source, target)
    before, after = ezdxf.readfile(source), ezdxf.readfile(target)
    spaces = [block.name for block in before.blocks]
    assert sum(len(before.blocks.get(block)) for block in spaces) > 100
    for block in spaces:
        for entity in before.blocks.get(block):
            copy = after.entitydb[entity.dxf.handle]
            assert copy.dxftype() == entity.dxftype()
            # a value that says what is the default anyway may be left out
            assert {k: copy.dxf.get_default(k) for k in entity.dxfattribs()} == entity.dxfattribs()
