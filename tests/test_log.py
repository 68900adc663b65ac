"""The log: every stage with counts and time, also of workers; nothing where no one asks."""

from __future__ import annotations

import logging
import re
import subprocess
import sys

import pytest
from builders import drawing, write_dxf
from click.testing import CliRunner
from conftest import ROOT

from dxf2veneer.app.batch.workers import pooled
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job

LAYERS = ("--wall-layer", "WALL", "--opening-layer", "OPENING")
STAGES = ["reading", "recognizing", "measuring", "search for starts", "coursing", "planning"]
STAGES += ["judging the plan", "order", "cross-checks"]


@pytest.fixture
def front(tmp_path):
    walls = {"wall": [(0, 0, 200, 96)], "opening": [(60, 32, 96, 72)]}
    return write_dxf(drawing(**walls), tmp_path / "front.dxf")


def run(*args, code=0):
    done = CliRunner().invoke(main, [str(a) for a in args])
    assert done.exit_code == code, done.output
    return done


def test_every_stage_is_logged_with_counts_and_time(front, caplog):
    caplog.set_level(logging.INFO, "dxf2veneer")
    take_off(front, load_job(None, {"layers.wall": ("WALL",), "layers.opening": ("OPENING",)}))
    lines = [r.getMessage() for r in caplog.records if r.name.startswith("dxf2veneer.app")]
    assert all(re.fullmatch(r".+: .+ in \d+\.\d{3} s", line) for line in lines), lines
    begun = iter(lines)
    for stage in STAGES:
        assert any(line.startswith(stage) for line in begun), (stage, lines)
    assert any(line.startswith("measuring: 1 walls") for line in lines)


def test_debug_shows_the_log_on_the_error_stream_and_changes_nothing_else(front, tmp_path):
    plain = run("takeoff", front, *LAYERS, "-o", tmp_path / "out")
    told = run("--debug", "takeoff", front, *LAYERS, "-o", tmp_path / "out")
    assert told.stdout == plain.stdout
    assert "INFO dxf2veneer.app.laying: measuring: 1 walls in " in told.stderr
    assert "INFO dxf2veneer" not in plain.output
    again = run("takeoff", front, *LAYERS, "-o", tmp_path / "out")
    assert again.output == plain.output, "the log ends with the command that asked for it"


def test_debug_shows_where_an_error_comes_from(tmp_path):
    bad = tmp_path / "bad.dxf"
    bad.write_text("no drawing")
    command = ("takeoff", bad, *LAYERS, "-o", tmp_path / "out")
    assert "Traceback" not in run(*command, code=1).output
    told = run("--debug", *command, code=1)
    assert "Traceback (most recent call last)" in told.stderr
    assert "DrawingError" in told.stderr


def test_an_unexpected_fault_is_one_line_and_with_debug_a_traceback(front, monkeypatch):
    def fail(*args):
        raise ZeroDivisionError("of the test")

    monkeypatch.setattr("dxf2veneer.drawing.survey_drawing", fail)
    told = run("layers", front, code=1)
    (line,) = told.output.splitlines()
    assert line.startswith(f"Error: {front}: an unexpected fault (ZeroDivisionError: of the test)")
    assert "report this line to the makers of this tool with the file" in line
    assert line.endswith("--debug shows the whole trace")
    assert (
        'raise ZeroDivisionError("of the test")' in run("--debug", "layers", front, code=1).stderr
    )


def test_a_fault_names_its_file_stage_and_place(front, tmp_path, monkeypatch):
    """Whatever stage it comes from; here from that which reads price files."""

    def fail(*args, **given):
        raise RecursionError("deep\nand deeper " + "x" * 10_000)

    (tmp_path / "p.csv").write_text("item,unit,price\n")
    monkeypatch.setattr("dxf2veneer.order.tables.csv.reader", fail)
    out = tmp_path / "out"
    told = run("takeoff", front, *LAYERS, "-o", out, "--prices", tmp_path / "p.csv", code=1)
    (line,) = [text for text in told.stderr.splitlines() if "unexpected" in text]
    assert f"{front}: an unexpected fault while making the order (RecursionError: deep" in line
    assert " at order/tables.py:" in line
    assert len(line) < 600
    assert not out.exists()


def test_a_text_of_a_drawing_cannot_steer_the_terminal_through_the_log(tmp_path):
    bad = tmp_path / "bad\x1b[2J.dxf"
    bad.write_text("no drawing")
    told = run("--debug", "takeoff", bad, *LAYERS, "-o", tmp_path / "out", code=1)
    assert "\x1b" not in told.output


# ----------------------------------------------------------------------- workers


def logs_and_fails(task):
    """Work for a worker: it logs the task, and a fault with its traceback."""
    log = logging.getLogger("dxf2veneer.test")
    log.info("at work on %s", task)
    try:
        raise ZeroDivisionError("far away")
    except ZeroDivisionError:
        log.exception("it failed")
    return task


def test_what_a_worker_logs_is_logged_here(caplog):
    caplog.set_level(logging.INFO, "dxf2veneer")
    assert sorted(pooled(logs_and_fails, "ab", 2)) == [("a", "a"), ("b", "b")]
    told = [(r.processName, r.getMessage()) for r in caplog.records if r.name == "dxf2veneer.test"]
    assert {"at work on a", "at work on b"} < {text for _, text in told}
    assert all(process != "MainProcess" for process, _ in told)
    traces = [text for _, text in told if text.startswith("it failed")]
    assert len(traces) == 2
    assert all('raise ZeroDivisionError("far away")' in text for text in traces)


def test_nothing_of_the_log_is_sent_where_no_one_asks(capfd):
    assert sorted(pooled(quiet, "ab", 2)) == [("a", "a"), ("b", "b")]
    assert capfd.readouterr() == ("", "")


def quiet(task):
    """Work for a worker that logs what it does."""
    logging.getLogger("dxf2veneer.test").info("at work on %s", task)
    return task


def test_a_batch_with_debug_shows_the_tracebacks_of_its_workers(tmp_path):
    for name in ("one", "two"):
        (tmp_path / f"{name}.dxf").write_text("no drawing")
    files = sorted(tmp_path.glob("*.dxf"))
    command = ("takeoff", *files, *LAYERS, "--each", "--workers", 2, "-o", tmp_path / "out")
    plain = run(*command, code=1)
    assert "Traceback" not in plain.output
    told = run("--debug", *command, code=1)
    assert told.stderr.count("Traceback (most recent call last)") >= 2
    assert "SpawnProcess" in told.stderr


def test_the_log_of_a_cluster_comes_back(tmp_path, front):
    distributed = pytest.importorskip("distributed", reason="the extra 'distributed' is missing")
    page = (ROOT / "docs" / "many-drawings.md").read_text(encoding="utf-8")
    lines = "".join(f"        {line}\n" for line in page.splitlines() if line[:11] == "    client.")
    script = tmp_path / "cluster.py"
    script.write_text(
        "import logging, time\n"
        "from distributed import Client, LocalCluster\n"
        "from dxf2veneer import load_job, take_off\n"
        "if __name__ == '__main__':\n"
        "    logging.basicConfig(level=logging.WARNING)\n"
        "    logging.getLogger('dxf2veneer').setLevel(logging.INFO)\n"
        "    job = load_job(settings={'layers.wall': 'WALL', 'plan.panels': False})\n"
        "    with LocalCluster(n_workers=1, threads_per_worker=1, dashboard_address=None) as c:\n"
        "        with Client(c) as client:\n"
        f"{lines}"
        f"            client.submit(take_off, {str(front)!r}, job).result()\n"
        "            time.sleep(3)  # events may come after the result\n"
    )
    done = subprocess.run(
        [sys.executable, str(script)], capture_output=True, text=True, timeout=300, check=False
    )
    assert distributed and done.returncode == 0, done.stderr
    assert re.search(r"INFO:dxf2veneer\.app\.laying:measuring: 1 walls", done.stderr), done.stderr
