"""The benchmark of proposals counts what it says, shown with engines that know all or nothing."""

import json
import sys
from pathlib import Path

import pytest

from corpus import KEPT_ASIDE, make_sheet
from corpus.matching import shape_of

sys.path.append(str(Path(__file__).parent.parent / "benchmarks"))

import estates
import proposals
import real_proposals

SEED = 33  # four elevations among a section and a legend


@pytest.fixture
def knowing(monkeypatch):
    """An engine that answers with the truth of one sheet."""
    truth = make_sheet(SEED).truth
    monkeypatch.setattr(proposals, "propose", lambda path: truth)
    return truth


def test_a_knowing_engine_has_all_and_no_fault(knowing):
    result = proposals.tried(SEED)
    assert (result.score.faults, result.crash) == ([], "")
    table = proposals.table("one", [result])
    for what in ("views", "walls", "openings"):
        row = next(line for line in table.splitlines() if line.startswith(what)).split()
        assert row[1:3] == ["100.0", "100.0"]
    assert f"{'walls':16}   100.0        100.0  {len(knowing['walls']):4}" in table


def test_a_silent_engine_finds_nothing_and_all_is_told(monkeypatch):
    nothing = {"unit": None, "views": [], "walls": [], "openings": []}
    monkeypatch.setattr(proposals, "propose", lambda path: nothing)
    result = proposals.tried(SEED)
    truth = make_sheet(SEED).truth
    assert result.score.hits["walls"] == 0 and result.score.recall("unit silent") == 1.0
    told = [f for f in result.score.faults if f.startswith(("wall missed", "opening missed"))]
    assert len(told) == len(truth["walls"]) + len(truth["openings"])
    assert f"seed {SEED}:" in proposals.worst([result], 1)


def test_a_crash_is_counted_and_the_benchmark_goes_on(monkeypatch):
    def crash(path):
        raise ValueError("cannot read this")

    monkeypatch.setattr(proposals, "propose", crash)
    result = proposals.tried(SEED)
    assert "cannot read this" in result.crash
    assert "1 crashed" in proposals.table("one", [result])


def test_single_sheets_kept_aside_are_never_shown(knowing, monkeypatch, capsys):
    class Here:
        """Runs in this process, where the engine is replaced."""

        def __init__(self, workers):
            pass

        def __enter__(self):
            return self

        def __exit__(self, *error):
            return None

        def map(self, function, seeds, chunksize):
            return map(function, seeds)

    monkeypatch.setattr(proposals, "ProcessPoolExecutor", Here)
    for seed, shown in ((SEED, True), (KEPT_ASIDE[0], False)):
        arguments = ["proposals.py", "--seeds", str(seed), "--only-worst", "1", "--by-tag"]
        monkeypatch.setattr(sys, "argv", arguments)
        proposals.main()
        out = capsys.readouterr().out
        assert "recall %" in out
        assert (f"seed {seed}:" in out) == shown


def test_a_crowded_drawing_has_at_least_so_many_entities(tmp_path):
    import ezdxf

    path = tmp_path / "sheets.dxf"
    estates.sheets(path, 4000)
    assert 4000 <= len(ezdxf.readfile(path).modelspace()) < 8000


def test_known_values_of_the_woodshed():
    """From the note beside the drawings: 17,358,240 mm2 of wall, 3,792,240 mm2 of openings."""
    assert shape_of(real_proposals.WOODSHED_WALL).area == 17_358_240
    holes = [shape_of(o).area for _, o in real_proposals.WOODSHED_OPENINGS.values()]
    assert sum(holes) == 3_792_240


def test_real_drawings_are_asked_what_is_known(tmp_path):
    for name in ("woodshed-front", "woodshed-plan", "pavilion-sheet"):
        (tmp_path / f"{name}.dxf").touch()
    right = {
        "woodshed-front": {
            "unit": "mm",
            "views": [],
            "walls": [{"outline": real_proposals.WOODSHED_WALL}],
            "openings": [
                {"outline": o, "kind": kind}
                for kind, o in real_proposals.WOODSHED_OPENINGS.values()
            ],
        },
        "woodshed-plan": {"unit": "mm", "views": [], "walls": [], "openings": []},
        "pavilion-sheet": {
            "unit": "m",
            "views": [{"kind": "elevation"}] * 4,
            "walls": [],
            "openings": [],
        },
    }
    report = real_proposals.report(tmp_path, lambda path: right[path.stem])
    assert report.count("ok") == len(report.splitlines()) == 10
    wrong = {**right["woodshed-front"], "unit": "in"}
    report = real_proposals.report(tmp_path, lambda path: wrong)
    assert "NO  woodshed-plan.dxf: 1 walls, there are none" in report
    assert "NO  pavilion-sheet.dxf: 0 elevations, there are 4" in report
    assert report.count("NO  ") == 5  # three units, the plan's wall, the pavilion's elevations


def test_a_folder_of_drawings_is_compared_with_the_truth_beside_them(tmp_path, knowing):
    sheet = make_sheet(SEED)
    path = sheet.write(tmp_path / "front.dxf")
    (tmp_path / "front.truth.json").write_text(json.dumps(sheet.truth))
    result = proposals.tried_file(path)
    assert (result.name, result.score.faults) == ("front", [])
