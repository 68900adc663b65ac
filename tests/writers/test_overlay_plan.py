"""The course plan on the overlay: the job laid out by hand (sketch in laid_out.py), read back with
the DXF library.

W1 has 10 pieces, W2 has 7; every count below is taken from the sketch.
"""

from __future__ import annotations

import dataclasses
import time
from collections import Counter

import ezdxf
import pytest
from builders import as_written
from laid_out import laid_out

from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.job import with_settings
from dxf2veneer.geometry import Path, Region
from dxf2veneer.model import (
    CoursePlan,
    Piece,
    StockCount,
    Takeoff,
    Totals,
    Wall,
    WallCourses,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.overlay.labels import label_texts
from dxf2veneer.writers.overlay.layers import layer_names
from dxf2veneer.writers.overlay.pen import tags_of
from dxf2veneer.writers.overlay.plan import joints
from dxf2veneer.writers.spans import end_spans

LAYER = layer_names("A-ELEV-VENR")


def overlay(tmp_path, index=0, version="R2018", made=None, **settings):
    """The overlay of one wall over an empty drawing: (entity, tags) of all but the legend."""
    made = made or laid_out()
    made = dataclasses.replace(made, job=with_settings(made.job, **settings))
    ezdxf.new(version).saveas(tmp_path / "source.dxf")
    write_overlay(made, made.drawings[index], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    doc = ezdxf.readfile(tmp_path / "courses.dxf")
    assert doc.audit().errors == []
    return [
        (e, tags_of(e)) for e in doc.modelspace() if tags_of(e)["what"] not in ("legend", "title")
    ]


def on(found, key, kind):
    return [(e, tags) for e, tags in found if e.dxf.layer == LAYER[key] and e.dxftype() == kind]


def test_a_joint_is_drawn_once_where_two_pieces_meet(tmp_path):
    #  16..20   8, 44, 80
    #   8..16   24, 60
    #   0..8    36, 72
    drawn = [
        (e.dxf.start.x, e.dxf.start.y, e.dxf.end.y, tags["piece"])
        for e, tags in on(overlay(tmp_path), "joint", "LINE")
    ]
    assert sorted(drawn) == [
        (8, 16, 20, "W1/2/1,W1/2/2"), (24, 8, 16, "W1/1/1,W1/1/2"), (36, 0, 8, "W1/0/1,W1/0/2"),
        (44, 16, 20, "W1/2/2,W1/2/3"),
        (60, 8, 16, "W1/1/2,W1/1/3"), (72, 0, 8, "W1/0/2,W1/0/3"), (80, 16, 20, "W1/2/3,W1/2/4"),
    ]  # fmt: skip


def piece(x, y, outline=(), **more):
    return Piece(
        0, *x, *y, "flat", "factory", "factory", False, False, "F1", outline=outline, **more
    )


def test_a_joint_is_as_high_as_both_ends_that_meet_there():
    #  8 |      .-|     the left piece is raked up to 6 at the joint, the right one is 4 high
    #    |  .-'  +---
    #  0 +-'----+---
    #    0      30    60
    slope = ((0.0, 0.0), (30.0, 0.0), (30.0, 6.0))
    pieces = (piece((0.0, 30.0), (0.0, 6.0), slope), piece((30.0, 60.0), (0.0, 4.0)))
    assert [(x, span) for _, _, x, span in joints(pieces)] == [(30.0, (0.0, 4.0))]
    assert end_spans(pieces[0], pieces[0].x0) == []  # it runs out to a point


def test_a_slot_parts_a_joint_and_a_gap_makes_none():
    #  8 +----+  +----+     a slot from y = 3 to 5 reaches the joint at 30; nothing meets at 60.5
    #    |    '--|    |
    #    |    .--|    |
    #  0 +----+--+----+  +--
    #         20 30   60 60.5
    slotted = (
        (0.0, 0.0),
        (30.0, 0.0),
        (30.0, 3.0),
        (20.0, 3.0),
        (20.0, 5.0),
        (30.0, 5.0),
        (30.0, 8.0),
        (0.0, 8.0),
    )
    pieces = (
        piece((0.0, 30.0), (0.0, 8.0), slotted),
        piece((30.0, 60.0), (0.0, 8.0)),
        piece((60.5, 70.0), (0.0, 8.0)),
    )
    assert [(x, span) for _, _, x, span in joints(pieces)] == [
        (30.0, (0.0, 3.0)),
        (30.0, (5.0, 8.0)),
    ]


def test_pieces_cut_to_a_shape_are_outlined_in_their_place(tmp_path):
    shaped = on(overlay(tmp_path), "shaped", "LWPOLYLINE")
    assert sorted(tags["piece"] for _, tags in shaped) == [
        "W1/1/2",
        "W1/2/1",
        "W1/2/2",
        "W1/2/3",
    ]  # the corner piece is on PCOR
    notched = next(e for e, tags in shaped if tags["piece"] == "W1/1/2")
    assert list(notched.get_points("xy")) == [
        (24, 8),
        (30, 8),
        (30, 14.5),
        (42, 14.5),
        (42, 8),
        (60, 8),
        (60, 16),
        (24, 16),
    ]
    of_side = Counter(
        tags["what"] for _, tags in on(overlay(tmp_path, index=1), "shaped", "LWPOLYLINE")
    )
    assert of_side == {
        "shaped piece": 2,
        "hole in piece": 1,
    }  # the panel with the light in it, and the rake


def test_corner_pieces_point_to_their_finished_end(tmp_path):
    found = on(overlay(tmp_path, index=1), "corner", "LWPOLYLINE")
    hands = {
        tags["piece"]: (tags["hand"], [x / 25.4 for x, _ in e.get_points("xy")])
        for e, tags in found
        if tags["what"] == "hand"
    }
    assert {id: hand for id, (hand, _) in hands.items()} == {
        "W2/0/3": "right",
        "W2/1/1": "left",
        "W2/1/3": "right",
    }
    assert hands["W2/1/1"][1][0] == pytest.approx(200) and min(hands["W2/1/1"][1]) == pytest.approx(
        200
    )
    assert hands["W2/0/3"][1][0] == pytest.approx(264) and max(hands["W2/0/3"][1]) == pytest.approx(
        264
    )
    assert sum(tags["what"] == "corner piece" for _, tags in found) == 3


def test_glued_pieces_are_hatched(tmp_path):
    hatches = on(overlay(tmp_path), "glued", "HATCH")
    assert sorted(tags["piece"] for _, tags in hatches) == ["W1/2/1", "W1/2/2", "W1/2/3", "W1/2/4"]
    assert all(e.dxf.solid_fill == 0 and len(e.pattern.lines) == 1 for e, _ in hatches)


def test_r12_has_slanted_lines_for_hatches_that_stay_in_their_piece(tmp_path):
    found = overlay(tmp_path, index=1, version="R12")
    assert {e.dxftype() for e, _ in found} == {"LINE", "POLYLINE", "TEXT"}
    lines = on(found, "glued", "LINE")
    assert len(lines) >= 3
    for e, tags in lines:
        assert tags["piece"] == "W2/2/1"
        for x, y, _ in (e.dxf.start / 25.4, e.dxf.end / 25.4):
            assert (
                x >= 200 - 1e-6 and 16 - 1e-6 <= y <= 20 - (x - 200) / 6 + 1e-6
            )  # under the slope: 4 down on 24


def test_cut_ends_are_marked_at_their_foot(tmp_path):
    # W1: C1 left at 72, F3 left at 0, F6 left at 0, C2 left at 80
    ticks = {(tags["piece"], tags["what"]): e for e, tags in on(overlay(tmp_path), "cut", "LINE")}
    assert {id: what for id, what in ticks} == {
        "W1/0/3": "cut left end", "W1/1/1": "cut left end", "W1/2/1": "cut left end",
        "W1/2/4": "cut left end",
    }  # fmt: skip
    tick = ticks["W1/0/3", "cut left end"]
    assert (
        (tick.dxf.start.x, tick.dxf.end.y) == (72, 0)
        and tick.dxf.end.x > 72
        and 0 < tick.dxf.start.y < 2
    )
    # W2: F3 right, C3 left, C2 right, C4 left; the rake's right end is a point
    assert len(on(overlay(tmp_path, index=1), "cut", "LINE")) == 4


def test_rules_that_do_not_hold_are_marked_with_their_number(tmp_path):
    found = overlay(tmp_path)
    (circle,) = on(found, "rule", "LWPOLYLINE")
    assert [b for *_, b in circle[0].get_points("xyb")] == [1.0, 1.0]
    assert [e.dxf.text for e, _ in on(found, "rule", "TEXT")] == ["least strip (L24): forced"]
    assert circle[1] == {"what": "rule", "wall": "W1", "course": "1", "rule": "L24"}
    assert [e.dxf.text for e, _ in on(overlay(tmp_path, index=1), "rule", "TEXT")] == [
        "stagger (L3): BROKEN"
    ]


def test_a_broken_rule_is_marked_once_though_a_notice_tells_it_too(tmp_path):
    told = (
        Notice("RULE_BROKEN", as_written("rule L3"), 1, at_in=(254.875, 8.0)),
        Notice("SLIVER", as_written("a strip"), 1, at_in=(230.0, 10.0)),
    )
    found = overlay(tmp_path, index=1, made=dataclasses.replace(laid_out(), notices=told))
    assert {tags["notice"] for _, tags in found if "notice" in tags} == {"SLIVER"}
    assert len(on(found, "rule", "TEXT")) == 1


def test_the_text_of_a_piece_is_its_unit_and_cut_length(tmp_path):
    found = {tags["piece"]: e.dxf.text for e, tags in on(overlay(tmp_path), "piece", "TEXT")}
    assert found == {
        "W1/0/1": "F1", "W1/0/2": "F2", "W1/0/3": 'C1 24"', "W1/1/1": 'F3 24"', "W1/1/2": "F4",
        "W1/1/3": "F5",
        "W1/2/1": 'F6 8"', "W1/2/2": "F7", "W1/2/3": "F8", "W1/2/4": 'C2 16"',
    }  # fmt: skip
    metric = {
        tags["piece"]: e.dxf.text
        for e, tags in on(overlay(tmp_path, output__display="metric"), "piece", "TEXT")
    }
    assert metric["W1/1/1"] == "F3 610"  # 24 x 25.4


def test_texts_that_would_be_too_small_are_left_out_or_stand_beside_a_cut_piece(tmp_path):
    # at 1:48 the least text is 1/16 in x 48 = 3 in high, and the strip of 4 in has room for half of
    # that
    found = {
        tags["piece"]: e
        for e, tags in on(overlay(tmp_path, output__plot_scale=48.0), "piece", "TEXT")
    }
    assert {id for id in found if id.startswith("W1/2")} == {"W1/2/1", "W1/2/4"}
    assert found["W1/1/1"].dxf.text == 'F3 24"' and found["W1/0/1"].dxf.height == 4
    # the two cut pieces of the strip, 8 and 16 long, show their lengths beside it; no line leads
    # from the left one out of the wall without crossing heights and numbers, so it is in the list
    aside = [found["W1/2/1"].dxf, found["W1/2/4"].dxf]
    assert [text.text for text in aside] == ['3/1 F6 8"', 'C2 16"']
    assert all(text.height == 3 for text in aside)
    places = [text.align_point for text in aside]
    assert not any(0 <= at.x <= 96 and 16 <= at.y <= 20 for at in places)
    # at 1:96 no text of the least 6 in fits half of a course of 8 in: cut pieces point out of it
    beside = {
        tags["piece"]: e.dxf
        for e, tags in on(overlay(tmp_path, output__plot_scale=96.0), "piece", "TEXT")
    }
    assert sorted(beside) == ["W1/0/3", "W1/1/1", "W1/2/1", "W1/2/4"]
    at = [text.align_point for text in beside.values()]
    assert all(p.y < 0 or not 0 <= p.x <= 96 for p in at)


def test_a_length_beside_its_piece_has_a_line_to_it(tmp_path):
    found = overlay(tmp_path, output__plot_scale=48.0)
    leaders = {tags["piece"]: e.dxf for e, tags in on(found, "piece", "LINE")}
    # F6 covers (0, 16) to (8, 20), C2 (80, 16) to (96, 20)
    assert sorted(leaders) == ["W1/2/4"]
    assert 80 < leaders["W1/2/4"].start.x < 96 and 16 < leaders["W1/2/4"].start.y < 20


def test_a_text_of_a_piece_keeps_clear_of_the_drawings_own_texts(tmp_path):
    made = laid_out()
    doc = ezdxf.new()
    doc.modelspace().add_text("NORTH", height=6).set_placement((2, 1))  # over F1, x 0..36, y 0..8
    doc.saveas(tmp_path / "source.dxf")
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    found = [
        (e, tags_of(e)) for e in ezdxf.readfile(tmp_path / "courses.dxf").modelspace() if tags_of(e)
    ]
    texts = {tags["piece"]: e for e, tags in on(found, "piece", "TEXT")}
    assert "W1/0/2" in texts
    assert "W1/0/1" not in texts or texts["W1/0/1"].dxf.align_point.x > 2 + 5 * 6 * 0.7


def test_a_panel_cut_only_in_height_has_no_length_in_its_text():
    made = laid_out()
    pieces = {(p.course, p.number): p for p in made.walls[0].courses.pieces}
    assert label_texts(pieces[2, 2], made.product, "imperial") == ("F7",)
    assert label_texts(pieces[0, 3], made.product, "imperial") == ('C1 24"', '24"')


def test_every_entity_of_a_piece_names_piece_unit_and_length(tmp_path):
    found = [tags for _, tags in overlay(tmp_path, index=1) if "stock" in tags]
    assert {tags["piece"] for tags in found if tags["what"] == "piece text"} >= {"W2/0/1", "W2/1/2"}
    cut = next(
        tags for tags in found if tags["what"] == "cut right end" and tags["piece"] == "W2/0/2"
    )
    assert cut == {
        "what": "cut right end", "wall": "W2", "course": "0", "piece": "W2/0/2", "stock": "F3",
        "length": "11.875",
    }  # fmt: skip


def test_the_title_counts_panels_beside_their_bounds(tmp_path):
    overlay(tmp_path)
    shown = [
        e.dxf.text for e in ezdxf.readfile(tmp_path / "courses.dxf").modelspace().query("TEXT")
    ]
    assert "panels of the whole job: 10 flat (lower bound 10), 4 corner (lower bound 4)" in shown
    assert "together 14; no layout can use fewer than 13" in shown
    bare = dataclasses.replace(laid_out(), plan=None)
    overlay(tmp_path, made=bare)
    shown = [
        e.dxf.text for e in ezdxf.readfile(tmp_path / "courses.dxf").modelspace().query("TEXT")
    ]
    assert "panels not laid out; a number of panels is an estimate by area" in shown


@pytest.mark.parametrize("version", ["R12", "R2018"])
def test_a_second_run_replaces_the_plan_and_doubles_nothing(tmp_path, version):
    overlay(tmp_path, version=version)
    made = laid_out()
    once = ezdxf.readfile(tmp_path / "courses.dxf").modelspace()
    write_overlay(made, made.drawings[0], tmp_path / "courses.dxf", tmp_path / "again.dxf")
    twice = ezdxf.readfile(tmp_path / "again.dxf").modelspace()
    assert Counter((e.dxf.layer, e.dxftype()) for e in once) == Counter(
        (e.dxf.layer, e.dxftype()) for e in twice
    )


def many_pieces(courses=100, across=100) -> Takeoff:
    """One wall of 10,000 panels of 36 x 8 in, every other course moved by 18 in;
    every seventh piece ripped, every fifth cut.
    """
    base = laid_out()
    wide, high = across * 36.0, courses * 8.0
    pieces = tuple(
        Piece(c, 36.0 * n + 18 * (c % 2), 36.0 * (n + 1) + 18 * (c % 2), c * 8.0,
        c * 8.0 + (4.0 if n % 7 == 0 else 8.0),
              "flat", "factory" if n % 5 else "cut", "factory", n % 7 == 0, n % 7 == 0,
              f"F{c * across + n + 1}", number=n + 1)
        for c in range(courses) for n in range(across)
    )  # fmt: skip
    wall = Wall("W1", "Long", 0, "A-WALL", ("2F",), Region.of(Path.box_of(0, 0, wide, high)))
    measured = WallQuantities(wall, *[wide * high] * 6, *[0.0] * 5, (), veneer=wall.region)
    entry = WallTakeoff(wall, measured, WallCourses("W1", 0.0, "base", (), (), (), (), pieces))
    none = StockCount(10_000, 10_000, 360_000.0, 0, 0, 0, ())
    plan = CoursePlan((), none, none, (), 10_000)
    return dataclasses.replace(
        base, walls=(entry,), plan=plan, notices=(), totals=Totals.of([measured])
    )


def test_ten_thousand_pieces_are_written_in_a_few_seconds(tmp_path):
    made = many_pieces()
    made = dataclasses.replace(made, job=with_settings(made.job, output__overlay_only=True))
    ezdxf.new().saveas(tmp_path / "source.dxf")
    begun = time.process_time()
    write_overlay(made, made.drawings[0], tmp_path / "source.dxf", tmp_path / "courses.dxf")
    assert time.process_time() - begun < 20  # 5 to 8 s where it was measured
    raw = (tmp_path / "courses.dxf").read_text("utf-8")
    assert raw.count("\nwhat=joint\n") == 100 * 99
    assert raw.count("\nwhat=piece text\n") > 8_000
    assert raw.count("\nwhat=cut left end\n") == 100 * 20
