"""Crew sheets as layouts of a drawing, and the walls at full size that they look at.

On paper 1 point is 1/72 in. A font of 7 points has capitals of some 0.72 of that, which is what a
drawing calls the height of a text.
"""

from __future__ import annotations

import itertools
from collections import Counter

import ezdxf
import pytest
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job, with_settings
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.writers.crew_sheets.sheets import sheets_of
from dxf2veneer.writers.overlay.papers import write_crew_drawing, write_unfolded_drawing

SAMPLES = ROOT / "samples"
UNITS = {"imperial": 1.0, "metric": 1.0 / 25.4}


@pytest.fixture(scope="module", params=["imperial", "metric"])
def made(request, tmp_path_factory):
    job = with_settings(load_job(SAMPLES / "gatehouse.toml"), output__display=request.param)
    takeoff = take_off([SAMPLES / "gatehouse.dxf"], job)
    file = tmp_path_factory.mktemp("crew") / "crew.dxf"
    write_crew_drawing(takeoff, file)
    return takeoff, file, ezdxf.readfile(file), UNITS[request.param]


def layouts(doc):
    return [doc.layouts.get(name) for name in doc.layouts.names_in_taborder()[1:]]


def window_of(layout):
    """The view of a sheet; the first one is the paper's own."""
    views = [v for v in layout.viewports() if v.dxf.id != 1]
    return views[0] if views else None


def wall_box(doc, wall):
    points = [
        (p[0], p[1])
        for e in doc.modelspace().query("LWPOLYLINE")
        if {"what=wall", f"wall={wall}"} <= {v for _, v in e.get_xdata("DXF2VENEER")}
        for p in e.get_points()
    ]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_every_sheet_is_a_layout_that_looks_at_its_part_at_scale(made):
    takeoff, _, doc, unit = made
    views = [(one.name, window_of(one)) for one in layouts(doc)]
    shown = [(name, view) for name, view in views if view is not None]
    sheets = list(sheets_of(takeoff))
    assert len(shown) == len(sheets) > 6
    for (name, view), sheet in zip(shown, sheets, strict=True):
        assert name.split()[0] == sheet.entry.wall.id
        assert view.dxf.view_height / view.dxf.height == pytest.approx(sheet.scale)
        high = (sheet.window.y1 - sheet.window.y0) / unit
        assert view.dxf.view_height == pytest.approx(high)
        x0, y0, x1, y1 = wall_box(doc, sheet.entry.wall.id)
        x, y, *_ = view.dxf.view_center_point
        assert x0 < x < x1 and y0 < y < y1
        assert x - x0 == pytest.approx(
            ((sheet.window.x0 + sheet.window.x1) / 2 - sheet.entry.wall.box[0]) / unit
        )


def test_no_text_is_smaller_than_seven_points_and_none_covers_another(made):
    _, _, doc, unit = made
    for layout in layouts(doc):
        boxes = []
        for text in layout.query("TEXT"):
            assert text.dxf.height * unit >= 7.0 / 72.0 * 0.72 - 1e-9
            wide = len(text.dxf.text) * 0.95 * text.dxf.height * text.dxf.width
            x, y, _ = text.dxf.get("align_point", text.dxf.insert)
            x -= {0: 0.0, 1: wide / 2, 2: wide}[text.dxf.halign]
            half = text.dxf.height / 2
            boxes.append((x, y - half, x + wide, y + half, text.dxf.text))
        for a, b in itertools.combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (layout.name, a, b)


def test_every_cut_has_its_size_on_its_face_or_its_number_and_stands_in_the_list(made):
    takeoff, _, doc, _ = made
    prefix = takeoff.job.output.layer_prefix
    on_faces, in_lists = Counter(), Counter()
    for layout in layouts(doc):
        own = layout.query(f'TEXT[layer=="{prefix}-LEGN"]')
        in_lists[layout.name.split(" list")[0]] += sum("/" in t.dxf.text for t in own)
        on_faces[layout.name] += len(layout.query(f'TEXT[layer=="{prefix}-PTXT"]'))
    for sheet in sheets_of(takeoff):
        part = sheet.window
        name = sheet.entry.wall.id + (f" part {part.number}" if part.of > 1 else "")
        assert on_faces[name] >= len(sheet.numbers)
        assert in_lists[name] >= len(sheet.rows)


def test_the_file_is_sound_ours_and_always_the_same(made, tmp_path):
    takeoff, file, doc, _ = made
    auditor = doc.audit()
    assert not auditor.errors and not auditor.fixes
    assert is_ours(file)
    write_crew_drawing(takeoff, tmp_path / "again.dxf")
    assert (tmp_path / "again.dxf").read_bytes() == file.read_bytes()


def test_unfolded_walls_meet_and_a_course_has_one_number_round_their_corner(made, tmp_path):
    """W1 and W2 of the sample meet at a corner; W1's base steps up two courses there."""
    takeoff, _, _, unit = made
    write_unfolded_drawing(takeoff, tmp_path / "walls.dxf")
    doc = ezdxf.readfile(tmp_path / "walls.dxf")
    assert not doc.audit().errors and is_ours(tmp_path / "walls.dxf")
    first, second = wall_box(doc, "W1"), wall_box(doc, "W2")
    assert first[2] == pytest.approx(second[0])
    told = {"W1": {}, "W2": {}}
    for text in doc.modelspace().query(f'TEXT[layer=="{takeoff.job.output.layer_prefix}-CNUM"]'):
        (wall,) = (v[5:] for _, v in text.get_xdata("DXF2VENEER") if v.startswith("wall="))
        if wall in told:
            told[wall][int(text.dxf.text)] = text.dxf.align_point[1] * unit
    assert min(told["W1"]) == 1 and min(told["W2"]) == 3
    whole = sorted(told["W1"].keys() & told["W2"].keys())[:-1]
    assert len(whole) > 5
    for number in whole:
        assert told["W1"][number] == pytest.approx(told["W2"][number], abs=1e-6)


def test_another_ending_is_refused_in_one_line(tmp_path):
    named = ("takeoff", SAMPLES / "gatehouse.dxf", "--job", SAMPLES / "gatehouse.toml")
    asked = (*named, "-o", tmp_path, "--crew-sheets", tmp_path / "crew.txt")
    done = CliRunner().invoke(main, [str(word) for word in asked])
    assert done.exit_code == 2 and ".pdf" in done.output and ".dxf" in done.output
