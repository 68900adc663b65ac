"""The list of changed cuts, by hand and doctored: a course of three pieces, one cut anew.

before   | 20 |   36   | 24 |       now   | 20 |   36   | 24 1/2 |
"""

import dataclasses
import re
from pathlib import Path

import ezdxf
import pytest
from builders import JOB, PRODUCT, drawing, line, write_dxf
from ezdxf import bbox

from dxf2veneer.app.laying import lay_out
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import with_settings
from dxf2veneer.model import LaidCourse
from dxf2veneer.order.changed_cuts import changed_cuts
from dxf2veneer.recognise import recognise
from dxf2veneer.verify.kept import check_kept
from dxf2veneer.wording.changes import change_cells, change_lines
from dxf2veneer.wording.choices import over_line
from dxf2veneer.writers.elevation.picture import elevation_svg
from dxf2veneer.writers.overlay import write_overlay
from dxf2veneer.writers.report.legend import keys_of
from dxf2veneer.writers.tables import tables_of


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wall")
    path = write_dxf(
        drawing(
            wall=[(0, 0, 132, 40), (200, 0, 332, 40)],
            outside_corner=[line(0, 0, 0, 40), line(132, 0, 132, 40)],
        ),
        folder / "two.dxf",
    )
    sheet = folder / "site.toml"
    sheet.write_text("[W1]\nwidths = [{ at = 20, measured = 132.5 }]", encoding="utf-8")
    return take_off(path, JOB), take_off(path, with_settings(JOB, site__file=str(sheet)))


def test_one_cut_a_course_is_listed_with_its_lengths_and_panels(made):
    """Five courses, each half an inch longer."""
    drawn, now = made
    assert [(c.wall, c.course, c.what) for c in now.changes.cuts] == [
        ("W1", course, "recut") for course in range(5)
    ]
    assert all(c.length - c.old_length == pytest.approx(0.5) for c in now.changes.cuts)
    pieces = sum(len(w.courses.pieces) for w in now.walls)
    assert now.changes.unchanged == pieces - 5
    assert now.changes.panels_before == drawn.plan.total
    assert now.changes.panels_now == now.plan.total


def test_the_list_in_words(made):
    _, now = made
    first = change_cells(now.changes.cuts[0], now.changes.cuts[0].course + 1, "imperial")
    assert first[:2] == ("W1", "1")
    assert "cut to another length" in first
    assert change_lines(now.changes)[0].startswith("Changed cuts: 5 (5 cut to another length); ")


def test_the_list_as_a_table_for_other_programs(made):
    """Courses count from 1 there, lengths are in inches; a takeoff as drawn has no row."""
    drawn, now = made
    table, none = (next(t for t in tables_of(x) if t.name == "changed-cuts") for x in (now, drawn))
    rows = [dict(zip(table.columns, row, strict=True)) for row in table.rows]
    assert [(r["wall"], r["course"], r["change"]) for r in rows] == [
        ("W1", course, "recut") for course in range(1, 6)
    ]
    assert all(r["length_in"] - r["length_before_in"] == pytest.approx(0.5) for r in rows)
    assert none.rows == []


def test_laid_courses_are_not_listed(made):
    drawn, now = made
    laid = [LaidCourse("W1", course, None, drawn.job.origin_of("plan.kerf")) for course in (0, 1)]
    changes = changed_cuts(drawn.walls, drawn.plan, now.walls, now.plan, laid)
    assert [c.course for c in changes.cuts] == [2, 3, 4]
    assert changes.laid == sum(p.course < 2 for p in now.walls[0].courses.pieces)


def test_equal_plans_have_no_changed_cuts(made):
    drawn, _ = made
    assert changed_cuts(drawn.walls, drawn.plan, drawn.walls, drawn.plan, []).cuts == ()


def codes(notices):
    return [n.message.code for n in notices]


def test_the_judge_agrees(made):
    drawn, now = made
    assert check_kept(drawn.walls, now.walls, now.site, now.changes, {"W1", "W2"}) == []


def test_a_cut_left_out_of_the_list_is_found(made):
    drawn, now = made
    fewer = dataclasses.replace(now.changes, cuts=now.changes.cuts[1:])
    found = codes(check_kept(drawn.walls, now.walls, now.site, fewer, {"W1", "W2"}))
    assert found == ["changed-cut-unlisted", "changed-cuts-miscounted"]


def test_a_piece_of_a_wall_as_drawn_that_moved_is_found(made):
    drawn, now = made
    second = now.walls[1]
    moved = dataclasses.replace(second.courses.pieces[0], x1=second.courses.pieces[0].x1 - 1)
    courses = dataclasses.replace(second.courses, pieces=(moved, *second.courses.pieces[1:]))
    walls = (now.walls[0], dataclasses.replace(second, courses=courses))
    assert "still-wall-changed" in codes(
        check_kept(drawn.walls, walls, now.site, now.changes, {"W1", "W2"})
    )


def test_a_laid_course_with_other_joints_than_stated_is_found(made):
    drawn, now = made
    origin = drawn.job.origin_of("plan.kerf")
    site = dataclasses.replace(now.site, laid=(LaidCourse("W1", 0, (5.0,), origin),))
    found = set(codes(check_kept(drawn.walls, now.walls, site, now.changes, {"W1", "W2"})))
    assert {"laid-joint-unstated", "laid-joint-missing"} <= found


def test_the_overlay_outlines_each_changed_piece_on_a_layer_of_its_own(made, tmp_path):
    drawn, now = made
    found = {}
    for name, one in (("drawn", drawn), ("now", now)):
        source = Path(one.drawings[0].file)
        write_overlay(one, one.drawings[0], source, tmp_path / f"{name}.dxf")
        space = ezdxf.readfile(tmp_path / f"{name}.dxf").modelspace()
        found[name] = space.query('LWPOLYLINE[layer ? ".*-PCHG"]')
    assert not found["drawn"]
    changed = {(c.course, c.number) for c in now.changes.cuts}
    pieces = [p for p in now.walls[0].courses.pieces if (p.course, p.number) in changed]
    assert sorted(round(bbox.extents([e]).size.x, 6) for e in found["now"]) == sorted(
        round(p.length, 6) for p in pieces
    )
    tags = [value for _, value in found["now"][0].get_xdata("DXF2VENEER")]
    assert "what=changed cut: recut" in tags


def test_the_picture_outlines_each_changed_piece_and_the_legend_counts_them(made):
    drawn, now = made
    assert "changes" not in str(elevation_svg(drawn, drawn.walls[0], (), alone=False))
    first, second = (str(elevation_svg(now, wall, (), alone=False)) for wall in now.walls)
    (outline,) = re.findall(r'<path class="changes"[^>]* d="([^"]*)"', first)
    changed = {(c.course, c.number) for c in now.changes.cuts}
    lengths = [p.length for p in now.walls[0].courses.pieces if (p.course, p.number) in changed]
    drawn_wide = [float(x) for x in re.findall(r"h([0-9.]+)v", outline)]
    assert sorted(drawn_wide) == pytest.approx(sorted(lengths), abs=0.01)
    assert 'class="changes"' not in second
    words = [text for text, _ in keys_of(now, now.walls[0])]
    assert "cut otherwise since site measures (section Changed cuts): 5" in words
    assert not any("site measures" in text for text, _ in keys_of(now, now.walls[1]))


def test_what_the_plan_takes_over_one_made_anew_is_told(made):
    """Each course of the walls is 132 or 132 1/2 in: planned anew for the measured sizes the job
    takes what the same walls take that are drawn so."""
    _, now = made
    anew = drawing(
        wall=[(0, 0, 132.5, 40), (200, 0, 332, 40)],
        outside_corner=[line(0, 0, 0, 40), line(132.5, 0, 132.5, 40)],
    )
    found = recognise([anew], JOB)
    plan = lay_out(found.walls, found.corners, JOB, PRODUCT).plan
    assert now.plan.plain.total == plan.total and now.plan.plain.cuts == plan.cuts
    assert now.plan.over == now.plan.total - plan.total
    assert "made anew for the sizes on site" in over_line(now.plan, None)
