"""`dxf2veneer compare` as a user runs it."""

from __future__ import annotations

import json
from pathlib import Path

import ezdxf
import jsonschema
import pytest
from click.testing import CliRunner

from dxf2veneer.cli import main
from dxf2veneer.model import FIGURES, OPENING_FIGURES
from dxf2veneer.writers.revision.shape import FiguresJson, OpeningDeltaJson

ROOT = Path(__file__).parents[2]
SCHEMA = json.loads((ROOT / "docs" / "compare.schema.json").read_text("utf-8"))
JOB = """
[layers]
wall = ["WALL"]
window = ["WINDOW"]
name = ["NAME"]

[plan]
panels = false
"""


def run(*words: object):
    return CliRunner().invoke(main, ["compare", *map(str, words)])


def box(msp, layer: str, x0: float, y0: float, x1: float, y1: float) -> None:
    msp.add_lwpolyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], close=True,
                       dxfattribs={"layer": layer})  # fmt: skip


def drawn(path: Path, window=(60.0, 36.0, 96.0, 84.0), more=(), layers=("WALL", "WINDOW")) -> Path:
    r"""A wall of 20 by 9 ft with a window of 3 by 4 ft, its sill 3 ft up.

    .-----------------------.  108
    |      .----. 84        |
    |      |    |           |
    |      '----' 36        |
    '-----------------------'  0
    0      60  96          240
    """
    doc = ezdxf.new()
    doc.units = 1
    msp = doc.modelspace()
    box(msp, layers[0], 0.0, 0.0, 240.0, 108.0)
    for one in (window, *more):
        if one:
            box(msp, layers[1], *one)
    doc.saveas(path)
    return path


@pytest.fixture
def job(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(JOB)
    return path


def test_the_same_drawing_is_no_difference(tmp_path, job):
    old = drawn(tmp_path / "old.dxf")
    result = run(old, old, "--job", job, "--fail-on-change")
    assert result.exit_code == 0, result.output
    assert "no difference" in result.output


def test_a_window_that_grew_is_told_with_sizes_sill_and_areas(tmp_path, job):
    # 3'-0" x 4'-0" = 12 sq ft; 3'-6" x 4'-0" = 14 sq ft, its sill and head 2" higher
    old = drawn(tmp_path / "old.dxf")
    new = drawn(tmp_path / "new.dxf", (60.0, 38.0, 102.0, 86.0))
    out = tmp_path / "changes.json"
    result = run(old, new, "--job", job, "--json", out, "--fail-on-change")
    assert result.exit_code == 3, result.output
    assert 'window W1-O1: 3\'-0" x 4\'-0" -> 3\'-6" x 4\'-0", right side right 6", up 2"' in (
        result.output
    )
    found = json.loads(out.read_text("utf-8"))
    jsonschema.Draft202012Validator(SCHEMA).validate(found)
    (opening,) = found["openings"]
    assert (opening["id_old"], opening["id_new"], opening["change"]) == (
        "W1-O1", "W1-O1", "resized",
    )  # fmt: skip
    assert found["walls"][0]["delta"]["net_area_sqft"] == pytest.approx(-2.0, abs=1e-9)
    assert found["totals"]["delta"]["net_area_sqft"] == pytest.approx(-2.0, abs=1e-9)
    assert found["totals"]["deduct"]["net_area_sqft"] == pytest.approx(-2.0, abs=1e-9)
    assert found["changed"] is True


def test_moves_that_are_noise_are_ignored(tmp_path, job):
    old = drawn(tmp_path / "old.dxf")
    new = drawn(tmp_path / "new.dxf", (60.0, 36.25, 96.0, 84.25))
    assert run(old, new, "--job", job, "--fail-on-change").exit_code == 3
    assert run(old, new, "--job", job, "--fail-on-change", "--ignore-moves", "1/2").exit_code == 0


def test_results_are_compared_like_their_drawings(tmp_path, job):
    old = drawn(tmp_path / "old.dxf")
    new = drawn(tmp_path / "new.dxf", None, [(150.0, 36.0, 180.0, 84.0)])
    results = []
    for path in (old, new):
        results.append(path.with_suffix(".json"))
        words = ["takeoff", path, "-o", tmp_path / path.stem, "--job", job, "--json", results[-1]]
        assert CliRunner().invoke(main, list(map(str, words))).exit_code == 0
    changes = []
    # results know their walls: no job is needed
    for words in ((old, new, "--job", job), (*results, "--job", job), results):
        out = tmp_path / f"changes-{len(changes)}.json"
        assert run(*words, "--json", out).exit_code == 0
        found = json.loads(out.read_text("utf-8"))
        for side in ("old", "new"):
            del found[side]["source"]
        del found["made_by"]
        changes.append(found)
    assert changes[0] == changes[1] == changes[2]
    without = run(old, results[1])
    assert without.exit_code == 2 and "no wall layer is named" in without.output


def test_a_result_of_an_earlier_version_is_refused_in_one_line(tmp_path, job):
    old = drawn(tmp_path / "old.dxf")
    stored = tmp_path / "old.json"
    words = ["takeoff", old, "-o", tmp_path / "out", "--job", job, "--json", stored]
    assert CliRunner().invoke(main, list(map(str, words))).exit_code == 0
    found = json.loads(stored.read_text("utf-8"))
    for wall in found["walls"]:
        del wall["outline_in"]
    stored.write_text(json.dumps(found))
    result = run(stored, old, "--job", job)
    assert result.exit_code == 2
    assert "earlier version" in result.output


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"schema": "dxf2veneer-takeoff-1"}'])
def test_what_is_no_result_is_refused_in_one_line(tmp_path, job, text):
    stored = tmp_path / "old.json"
    stored.write_text(text)
    result = run(stored, drawn(tmp_path / "new.dxf"), "--job", job)
    assert result.exit_code == 2
    assert result.output.splitlines()[-1].startswith("Error: ")


def test_the_file_has_every_figure_that_is_compared():
    assert set(FiguresJson.__annotations__) == set(FIGURES)
    assert set(OpeningDeltaJson.__annotations__) == set(OPENING_FIGURES)


@pytest.mark.parametrize("stored", [False, True], ids=["drawing", "result"])
def test_layers_under_another_name_are_found_by_what_lies_on_them(tmp_path, job, stored):
    windows = [(150.0, 36.0, 180.0, 84.0), (20.0, 40.0, 44.0, 70.0)]
    old = drawn(tmp_path / "old.dxf", more=windows)
    new = drawn(tmp_path / "new.dxf", more=windows, layers=("A-ELEV-1", "A-ELEV-2"))
    if stored:
        result = tmp_path / "old.json"
        words = ["takeoff", old, "-o", tmp_path / "out", "--job", job, "--json", result]
        assert CliRunner().invoke(main, list(map(str, words))).exit_code == 0
        old = result
    result = run(old, new, "--job", job, "--fail-on-change")
    assert result.exit_code == 0, result.output
    assert "no layer WALL" in result.output
    assert "what lay on it lies on A-ELEV-1 now" in result.output
    assert "layer WALL -> A-ELEV-1" in result.output


def test_layers_that_are_not_found_are_told_and_another_job_names_them(tmp_path, job):
    old = drawn(tmp_path / "old.dxf")
    new = drawn(tmp_path / "new.dxf", (150.0, 30.0, 200.0, 80.0), layers=("WALL", "GLASS"))
    result = run(old, new, "--job", job, "--fail-on-change")
    assert result.exit_code == 3
    assert "no other carries what lay on it; give the new layers by --new-job" in result.output
    other = tmp_path / "new.toml"
    other.write_text(JOB.replace("WINDOW", "GLASS"))
    result = run(old, new, "--job", job, "--new-job", other)
    assert "window W1-O1 added: 4'-2\" x 4'-2\"" in result.output
    assert "--new-job" not in result.output


def test_folders_are_compared_drawing_by_drawing_in_one_table(tmp_path, job):
    # same name, other name but the same drawing, one that is gone and one that is new
    for name in ("old", "new"):
        (tmp_path / name).mkdir()
    windows = [(150.0, 36.0, 180.0, 84.0), (20.0, 40.0, 44.0, 70.0)]
    drawn(tmp_path / "old" / "front.dxf")
    drawn(tmp_path / "new" / "front.dxf", (60.0, 36.0, 102.0, 84.0))
    drawn(tmp_path / "old" / "rear.dxf", more=windows)
    drawn(tmp_path / "new" / "back.dxf", more=windows)
    drawn(tmp_path / "new" / "side.dxf", None, [(200.0, 10.0, 210.0, 20.0)])
    out = tmp_path / "changes"
    words = (tmp_path / "old", tmp_path / "new", "--job", job, "--each", "--json", out)
    result = run(*words, "--fail-on-change")
    assert result.exit_code == 3, result.output
    lines = [line.split() for line in result.output.splitlines()]
    assert ["front.dxf", "1", "0", "1", "0", "0", "0", "0", "-2.00", "sq", "ft", "-"] in lines
    assert any(line[:4] == ["rear.dxf", "->", "back.dxf", "4"] for line in lines)
    assert "drawing side.dxf added" in result.output
    assert {p.name for p in out.iterdir()} == {"front-changes.json", "back-changes.json"}


def test_each_wants_two_folders(tmp_path, job):
    old = drawn(tmp_path / "old.dxf")
    result = run(old, tmp_path, "--job", job, "--each")
    assert result.exit_code == 2
    assert "name two folders" in result.output


def test_changes_by_hand_are_carried_over_and_those_that_do_not_fit_are_told(tmp_path, job):
    import openpyxl

    old = drawn(tmp_path / "old.dxf", more=[(150.0, 36.0, 180.0, 84.0)])
    words = ["takeoff", old, "-o", tmp_path / "out", "--job", job]
    assert CliRunner().invoke(main, list(map(str, words))).exit_code == 0
    workbook = tmp_path / "out" / "old-takeoff.xlsx"
    book = openpyxl.load_workbook(workbook)
    sheet = book["Openings"]
    column = next(
        c.column for row in sheet.iter_rows() for c in row if str(c.value).startswith("Deducted")
    )
    for row in sheet.iter_rows(min_row=2):
        if row[0].value in ("W1-O1", "W1-O2"):
            sheet.cell(row[0].row, column).value = "no"
    book.save(workbook)
    new = drawn(tmp_path / "new.dxf")
    result = run(old, new, "--job", job, "--keep-changes", workbook)
    assert result.exit_code == 0, result.output
    carried, lost = result.output.split("Changes by hand that no longer fit:")
    assert "Changes by hand carried over:" in carried
    assert "W1-O1" in carried.split("Changes by hand carried over:")[1]
    assert "W1-O2" in lost


def test_with_the_plan_kept_unchanged_walls_keep_their_pieces(tmp_path):
    from dxf2veneer.app.revising import compared, version_of
    from dxf2veneer.config.job import load_job, with_settings

    samples = ROOT / "samples"
    doc = ezdxf.readfile(samples / "gatehouse.dxf")
    # the window at the right of the front: 4'-0" x 3'-6", its right side 6" farther
    window = doc.entitydb["3B"]
    window.set_points([(252, 44), (306, 44), (306, 86), (252, 86)], format="xy")
    doc.saveas(tmp_path / "new.dxf")
    job = with_settings(load_job(samples / "gatehouse.toml"), order__prices=None)
    sides = version_of(samples / "gatehouse.dxf"), version_of(tmp_path / "new.dxf")
    found = compared(*sides, job, keep_plan=True)
    assert found.old and found.new

    def pieces(takeoff, wall):
        return {
            (p.course, round(p.x0, 6), round(p.x1, 6), p.left, p.right)
            for w in takeoff.walls if w.wall.id == wall for p in w.courses.pieces
        }  # fmt: skip

    still = [w for w in found.revision.walls if not w.touched]
    assert len(still) == 5
    for wall in still:
        assert pieces(found.old, wall.id_old) == pieces(found.new, wall.id_new)
    changed = pieces(found.old, "W1") ^ pieces(found.new, "W1")
    assert 0 < len(changed) < 40
