"""The sheet to fill in, and a takeoff with it from end to end."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from dxf2veneer.cli import main

SAMPLES = Path(__file__).parent.parent.parent / "samples"


def run(*words):
    return CliRunner().invoke(main, [str(w) for w in words])


@pytest.fixture(scope="module")
def blank(tmp_path_factory):
    file = tmp_path_factory.mktemp("sheet") / "site.toml"
    done = run("site", SAMPLES / "boathouse.dxf", "--job", SAMPLES / "boathouse.toml", "-o", file)
    assert done.exit_code == 0, done.output
    return file


def test_the_sheet_has_every_drawn_size_beside_an_empty_field(blank):
    text = blank.read_text(encoding="utf-8")
    assert "[W1]" in text
    assert re.search(r'height = \{ drawn = "\d+ mm", measured = "" \}', text)
    assert re.search(r"\{ course = 1, at = \[\] \},  # planned", text)


def test_a_blank_sheet_changes_no_number(blank, tmp_path):
    results = []
    for name, more in (("drawn", ()), ("blank", ("--site", blank))):
        out = tmp_path / name
        done = run(
            *("takeoff", SAMPLES / "boathouse.dxf", "--job", SAMPLES / "boathouse.toml"),
            *("-o", out, "--json", out / "r.json", "-q", *more),
        )
        assert done.exit_code == 0, done.output
        results.append(json.loads((out / "r.json").read_text(encoding="utf-8")))
    drawn, own = results
    assert own["walls"] == drawn["walls"]
    assert own["stock"] == drawn["stock"]
    assert own["totals"] == drawn["totals"]
    assert [n["code"] for n in own["notices"] if n not in drawn["notices"]] == ["SITE_MEASURED"]


def test_the_sheet_is_never_overwritten(blank):
    done = run("site", SAMPLES / "boathouse.dxf", "--job", SAMPLES / "boathouse.toml", "-o", blank)
    assert done.exit_code == 2
    assert "is there already" in done.output


def test_site_measures_and_plans_side_by_side_exclude_each_other(blank, tmp_path):
    done = run(
        *("takeoff", SAMPLES / "boathouse.dxf", "--job", SAMPLES / "boathouse.toml"),
        *("-o", tmp_path, "--site", blank, "--compare-plans"),
    )
    assert done.exit_code == 2
    assert "leave one of the two out" in done.output


@pytest.mark.parametrize(
    ("text", "more", "line"),
    [
        ("[W1]\nlaid = 900", (), "more courses are laid than W1 has"),
        ("", ("--each",), "site measures name the walls of one takeoff"),
    ],
)
def test_what_no_wall_has_and_many_jobs_are_refused_in_one_line(text, more, line, tmp_path):
    sheet = tmp_path / "site.toml"
    sheet.write_text(text, encoding="utf-8")
    done = run(
        *("takeoff", SAMPLES / "boathouse.dxf", "--job", SAMPLES / "boathouse.toml"),
        *("-o", tmp_path / "out", "--site", sheet, *more),
    )
    assert done.exit_code == 2
    assert line in " ".join(done.output.split())


def test_no_plan_and_a_plan_that_is_kept_exclude_each_other(blank, tmp_path):
    done = run(
        *("takeoff", SAMPLES / "boathouse.dxf", "--job", SAMPLES / "boathouse.toml", "--no-plan"),
        *("-o", tmp_path / "out", "--site", blank, "--site-before", tmp_path / "r.json"),
    )
    assert done.exit_code == 2 and "leave out --no-plan" in done.output
