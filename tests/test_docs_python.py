"""The page about use from Python: its examples run, and importing is as quiet as it says."""

from __future__ import annotations

import doctest
import logging
import shutil
import subprocess
import sys

import pytest
from builders import example_wall, write_dxf
from conftest import ROOT

import dxf2veneer
from dxf2veneer import (
    OutputClashError,
    SettingsError,
    TakeoffError,
    WriteError,
    describe,
    load_job,
    load_product,
    survey,
    take_off,
    write_overlay,
    write_result,
    write_workbook,
)

JOB = load_job(settings={"layers.wall": "WALL", "layers.opening": ("WINDOW", "DOOR")})


@pytest.fixture
def takeoff(tmp_path):
    return take_off(write_dxf(example_wall(), tmp_path / "front.dxf"), JOB)


def test_the_examples_run(tmp_path, monkeypatch):
    for file in (ROOT / "samples").glob("gatehouse*"):
        shutil.copy(file, tmp_path)
    monkeypatch.chdir(tmp_path)
    level = logging.getLogger("dxf2veneer").level
    try:
        failed, tried = doctest.testfile(str(ROOT / "docs" / "python.md"), module_relative=False)
    finally:
        logging.getLogger("dxf2veneer").setLevel(level)
    assert (failed, tried > 15) == (0, True)
    written = {
        "gatehouse-takeoff.xlsx",
        "gatehouse-courses.dxf",
        "gatehouse.html",
        "gatehouse.json",
    }
    assert written <= {p.name for p in tmp_path.iterdir()}


def test_importing_changes_nothing_and_loads_nothing():
    script = (
        "import os, sys, logging; before = dict(os.environ); import dxf2veneer\n"
        "assert dict(os.environ) == before\n"
        "assert not logging.getLogger('dxf2veneer').handlers\n"
        "light = ('dxf2veneer.basics', 'dxf2veneer.basics.version')\n"
        "heavy = ('dxf2veneer.', 'ezdxf', 'openpyxl', 'numpy', 'shapely')\n"
        "print([m for m in sys.modules if m.startswith(heavy) and m not in light])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout == "[]\n"


def test_every_public_name_is_there_and_documented():
    for name in set(dxf2veneer.__all__) - {"__version__"}:
        assert getattr(dxf2veneer, name).__doc__, name
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        dxf2veneer.nothing  # noqa: B018


@pytest.mark.parametrize(
    ("call", "line"),
    [
        (lambda: take_off("no.dxf", JOB), "no.dxf: there is no such file"),
        (lambda: survey("no.dxf"), "no.dxf: there is no such file"),
        (lambda: load_job("no.toml"), "no.toml"),
        (lambda: load_job(settings={"layers.walls": "A"}), "layers.walls is not a setting"),
        (lambda: load_product("no.toml"), "no.toml"),
    ],
)
def test_errors_say_their_line(call, line):
    with pytest.raises(TakeoffError) as error:
        call()
    assert line in str(error.value) == describe(error.value)


def test_wrong_settings_are_errors_of_their_own():
    with pytest.raises(SettingsError):
        load_job(settings={"courses.clearance": "high"})


def test_an_error_speaks_in_the_units_of_the_job(tmp_path):
    #  a wall 200 x 96 in is 2.4 m high: 12 courses of 8 in, and 5 panels long
    settings = {"output.display": "metric", "limits.courses": 4}
    file = write_dxf(example_wall(), tmp_path / "front.dxf")
    with pytest.raises(TakeoffError, match=r"measures [\d ]+ mm x [\d ]+ mm, more courses"):
        take_off(file, load_job(settings={"layers.wall": "WALL", **settings}))


def test_no_input_and_no_file_of_others_is_overwritten(takeoff, tmp_path):
    drawing, mine = tmp_path / "front.dxf", tmp_path / "mine.xlsx"
    mine.write_bytes(b"mine")
    before = drawing.read_bytes()
    with pytest.raises(OutputClashError, match="this tool did not write it"):
        write_overlay(takeoff, drawing)
    with pytest.raises(OutputClashError, match="this tool did not write it"):
        write_workbook(takeoff, mine)
    assert (drawing.read_bytes(), mine.read_bytes()) == (before, b"mine")


def test_what_was_written_before_is_replaced(takeoff, tmp_path):
    for _ in range(2):
        write_result(takeoff, tmp_path / "front.json")


def test_a_file_that_cannot_be_written_is_one_line(takeoff, tmp_path):
    with pytest.raises(WriteError, match=r"can't write .*no.front\.json: No such file"):
        write_result(takeoff, tmp_path / "no" / "front.json")
