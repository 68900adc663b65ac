"""What a drawing may take: what takes more costs that drawing alone, and leaves nothing behind."""

from __future__ import annotations

import multiprocessing
import os
import socket
import subprocess
import time
from functools import partial
from pathlib import Path

import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner
from test_many import contents

from dxf2veneer.app.batch.budget import Budget, Ended
from dxf2veneer.app.batch.workers import pooled
from dxf2veneer.cli import main

LAYERS = ["--wall-layer", "WALL", "--opening-layer", "OPENING"]


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exit_code == code, result.output
    return result


@pytest.fixture
def house(tmp_path):
    """A wall 200 x 96 with a window 36 x 40."""
    source = drawing(wall=[(0, 0, 200, 96)], opening=[(60, 32, 96, 72)])
    return write_dxf(source, tmp_path / "house.dxf")


def sleeping(seconds):
    time.sleep(seconds)
    return "done"


def test_work_that_takes_too_long_is_ended_and_the_others_go_on():
    came = dict(pooled(sleeping, [60.0, 0.0, 0.1], 2, Budget(seconds=15.0)))
    assert came == {60.0: Ended("time", None), 0.0: "done", 0.1: "done"}


def hoarding(megabytes):
    return len(bytearray(megabytes * 1_000_000))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="memory is bounded on POSIX systems alone")
def test_work_that_takes_too_much_memory_costs_itself_alone():
    came = dict(pooled(hoarding, [5_000, 5], 1, Budget(megabytes=1_000)))
    assert isinstance(came[5_000], Ended)
    assert came[5_000].why == "memory"
    assert came[5] == 5_000_000


def trespassing(deed, outside):
    deeds = {
        "write": lambda: Path(outside, "x").write_text("x"),
        "rename": lambda: os.rename(Path(outside, "there"), Path(outside, "gone")),
        "remove": lambda: os.remove(Path(outside, "there")),
        "folder": lambda: os.mkdir(Path(outside, "new")),
        "connect": lambda: socket.create_connection(("127.0.0.1", 9)),
        "name": lambda: socket.getaddrinfo("localhost", 80),
        "program": lambda: subprocess.run(["true"], check=False),
        "read": lambda: Path(outside, "there").read_text(),
        "inside": lambda: Path("inside").write_text("x"),
    }
    try:
        return repr(deeds[deed]())
    except PermissionError as error:
        return f"refused: {error}"


def test_bounded_work_writes_into_its_folders_alone_and_asks_no_network(tmp_path, monkeypatch):
    outside, own = tmp_path / "outside", tmp_path / "own"
    outside.mkdir()
    own.mkdir()
    (outside / "there").write_text("text")
    monkeypatch.chdir(own)
    deeds = ["write", "rename", "remove", "folder", "connect", "name", "program", "read", "inside"]
    budget = Budget(seconds=60.0, folders=(own,))
    came = dict(pooled(partial(trespassing, outside=outside), deeds, 1, budget))
    assert came.pop("read") == "'text'"
    assert came.pop("inside") == "1"
    assert all(said.startswith("refused: ") for said in came.values()), came
    assert contents(tmp_path) == {"outside/there": b"text", "own/inside": b"x"}


def test_a_bounded_takeoff_writes_the_same_bytes(house, tmp_path):
    run("takeoff", house, *LAYERS, "-o", tmp_path / "free", "--svg", tmp_path / "free" / "svg")
    within = ("--limit-seconds", 300, "--limit-memory", 2_000)
    bounded = tmp_path / "bounded"
    shown = run("takeoff", house, *LAYERS, "-o", bounded, "--svg", bounded / "svg", *within)
    assert contents(bounded) == contents(tmp_path / "free")
    assert "net" in shown.stdout


@pytest.mark.parametrize(
    ("limit", "value", "said"),
    [("--limit-seconds", "0.01", "not done after 0.01 s"), ("--limit-memory", "20", "memory")],
)
def test_a_takeoff_over_its_budget_ends_in_one_line_and_writes_nothing(
    house, tmp_path, limit, value, said
):
    ended = run("takeoff", house, *LAYERS, "-o", tmp_path / "out", limit, value, code=1)
    (line,) = [text for text in ended.stderr.splitlines() if text.startswith("Error: ")]
    assert said in line
    assert "house.dxf" in line
    assert limit in line
    assert not (tmp_path / "out").exists()


def test_errors_of_a_bounded_takeoff_are_those_of_a_free_one(house, tmp_path):
    wrong = ("takeoff", house, "--wall-layer", "WALLS", "-o", tmp_path / "out")
    assert (
        run(*wrong, "--limit-seconds", 300, code=1).stderr.splitlines()[-1]
        == run(*wrong, code=1).stderr.splitlines()[-1]
    )


def test_with_each_a_drawing_over_its_budget_costs_its_row(house, tmp_path):
    each = ("--each", "-o", tmp_path / "out", "--limit-seconds", "0.01")
    ended = run("takeoff", house, *LAYERS, *each, code=1)
    assert "0 of 1 drawings taken off, 1 can't be used" in ended.stdout
    assert multiprocessing.active_children() == []
