"""The command `confirm`: it prints an address, saves every step, and ends on an interrupt."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import time
import urllib.request

import pytest
from click.testing import CliRunner
from fronts import draw_front

from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job


@pytest.fixture
def front(tmp_path):
    return draw_front(tmp_path / "front.dxf")


def started(front):
    """The command, and the address that it prints."""
    command = [sys.executable, "-m", "dxf2veneer.cli", "confirm", str(front), "--no-browser"]
    running = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        cwd=front.parent,
        # a run in the background hands on that SIGINT is ignored
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )
    assert running.stdout
    return running, running.stdout.readline().strip()


def edit(address, asked):
    origin = address.rsplit("/", 2)[0]
    request = urllib.request.Request(
        address + "edit",
        json.dumps(asked).encode(),
        {"Content-Type": "application/json", "Origin": origin},
    )
    with urllib.request.urlopen(request, timeout=20) as answer:
        return json.load(answer)


def looked(address):
    """Waits until the command has looked at the drawing."""
    for _ in range(300):
        with urllib.request.urlopen(address + "state", timeout=20) as answer:
            if not json.load(answer)["looking"]:
                return
        time.sleep(0.1)
    raise AssertionError("the command looks and looks")


@pytest.mark.parametrize(
    "end",
    [signal.SIGINT, pytest.param(signal.SIGKILL, id="SIGKILL")],
)
def test_what_was_clicked_is_in_the_job_file_however_the_command_ends(front, end):
    running, address = started(front)
    try:
        assert address.startswith("http://127.0.0.1:")
        looked(address)
        assert edit(address, {"do": "look", "view": "V1", "seen": True})["confirmed"]
    finally:
        running.send_signal(end)
        told, _ = running.communicate(timeout=20)
    job = load_job(front.with_name("front-proposed.toml"))
    assert job.proposal.confirmed
    assert len(job.drawing.opening_outline) == 2
    assert [p.name for p in front.parent.glob(".writing-*")] == []
    if end == signal.SIGINT:
        assert running.returncode == 0
        assert "dxf2veneer takeoff" in told


def test_an_interrupt_while_it_still_looks_ends_it_at_once_and_writes_nothing(front):
    running, address = started(front)
    assert address.startswith("http://127.0.0.1:")
    running.send_signal(signal.SIGINT)  # the address comes before the proposal does
    told, complaints = running.communicate(timeout=20)
    assert running.returncode == 0
    assert "dxf2veneer takeoff" in told
    assert all(
        line.startswith(("Reading", "Clicks are saved in")) for line in complaints.splitlines()
    )
    assert [p.name for p in front.parent.iterdir()] == ["front.dxf"]


def test_the_drawing_itself_is_no_job_file(front):
    told = CliRunner().invoke(main, ["confirm", str(front), "--job", str(front), "--no-browser"])
    assert told.exit_code == 2
    assert "Traceback" not in told.output


def test_a_job_file_that_is_none_ends_in_one_line(front):
    wrong = front.with_name("wrong.toml")
    wrong.write_text("[drawing]\nunits = 'furlong'\n")
    told = CliRunner().invoke(main, ["confirm", str(front), "--job", str(wrong), "--no-browser"])
    assert told.exit_code == 2
    assert "wrong.toml, line 2" in told.output


def test_a_drawing_that_is_none_ends_in_one_line(tmp_path):
    path = tmp_path / "none.dxf"
    path.write_text("no drawing")
    told = CliRunner().invoke(main, ["confirm", str(path), "--no-browser"])
    assert told.exit_code == 1
    assert "Traceback" not in told.output
