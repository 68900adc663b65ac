"""More than one machine: takeoffs as plain values, mapped over the processes of a local cluster."""

from __future__ import annotations

import os
import pickle
import re
import signal
import subprocess
import sys
import threading

import pytest
from builders import drawing, example_wall, line, write_dxf
from click.testing import CliRunner
from conftest import ROOT
from test_many import contents

import dxf2veneer.app.batch.spread as spread_module
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.cli import main
from dxf2veneer.config.job import load_job
from dxf2veneer.drawing import DrawingError

JOB = load_job(
    None,
    {
        "layers.wall": ("WALL",),
        "layers.opening": ("WINDOW", "DOOR"),
        "layers.outside_corner": ("OUTSIDE_CORNER",),
    },
)


@pytest.mark.parametrize(
    "source",
    [
        example_wall(),
        # an unpaired corner mark: a notice with a place
        drawing(
            wall=[(0, 0, 200, 96)],
            window=[(60, 32, 96, 72)],
            outside_corner=[line(200, 0, 200, 96)],
        ),
    ],
)
def test_a_takeoff_with_its_plan_is_the_same_after_a_journey(source, tmp_path):
    takeoff = take_off(write_dxf(source, tmp_path / "front.dxf"), JOB)
    assert takeoff.plan is not None
    assert takeoff.notices
    assert pickle.loads(pickle.dumps(takeoff)) == takeoff
    assert pickle.loads(pickle.dumps(JOB)) == JOB


def test_one_drawing_may_stand_without_a_list(tmp_path):
    file = write_dxf(example_wall(), tmp_path / "front.dxf")
    assert take_off(str(file), JOB) == take_off(file, JOB) == take_off([file], JOB)


def test_an_unusable_drawing_can_be_told_from_afar(tmp_path):
    with pytest.raises(DrawingError) as caught:
        take_off(tmp_path / "no.dxf", JOB)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)


@pytest.fixture
def cluster(tmp_path):
    """A scheduler and two workers, whose folder has none of the drawings."""
    distributed = pytest.importorskip("distributed", reason="the extra is not installed")
    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        dashboard_address=None,
        local_directory=str(tmp_path / "far"),
        env={"PYTHONPATH": os.pathsep.join(sys.path)},
    ) as made:
        yield made


@pytest.fixture
def street(tmp_path, monkeypatch):
    """Four drawings, one of which is none, a product and prices, seen from their own folder."""
    folder = tmp_path / "near"
    folder.mkdir()
    monkeypatch.chdir(folder)
    for n, width in enumerate((200, 300, 250)):
        source = drawing(wall=[(0, 0, width, 96)], opening=[(60, 32, 96, 72)])
        write_dxf(source, folder / f"h{n}.dxf")
    (folder / "odd.dxf").write_text("no drawing")
    (folder / "prices.csv").write_text("item,unit,price\nflat_panel,piece,12.50\n")
    (folder / "job.toml").write_text(
        '[layers]\nwall = "WALL"\nopening = "OPENING"\n[order]\nprices = "prices.csv"\n'
    )
    return folder


def each(*more, code):
    drawings = ["h0.dxf", "h1.dxf", "h2.dxf", "odd.dxf"]
    args = ["takeoff", *drawings, "--job", "job.toml", "--each", *map(str, more)]
    done = CliRunner().invoke(main, args)
    assert done.exit_code == code, done.output
    return done


def test_other_machines_write_the_same_bytes_and_keep_the_same_record(cluster, street, monkeypatch):
    each("-o", "here", "--svg", "here/svg", "--workers", 1, code=1)
    monkeypatch.setattr("dxf2veneer.app.batch.spread.SCHEDULER_WAIT_S", 120.0)
    address = cluster.scheduler_address
    afar = each("-o", "there", "--svg", "there/svg", "--scheduler", address, code=1)
    assert "3 of 4 drawings taken off, 1 can't be used" in afar.stdout
    assert "odd.dxf: this is no DXF file" in afar.stderr
    here, there = contents(street / "here"), contents(street / "there")
    record = "dxf2veneer-done.jsonl"
    assert there.keys() == here.keys()
    assert {n: b for n, b in there.items() if n != record} == {
        n: b for n, b in here.items() if n != record
    }

    again = each("-o", "there", "--svg", "there/svg", "--scheduler", address, code=1)
    assert "3 of 4 drawings taken off (3 by an earlier run)" in again.stdout


def test_a_worker_that_dies_in_the_middle_costs_nothing(cluster, street, monkeypatch):
    monkeypatch.setattr("dxf2veneer.app.batch.spread.SCHEDULER_WAIT_S", 120.0)
    at_work = threading.Event()
    placed = spread_module._placed

    def kill_one(*args):
        if not at_work.is_set():
            at_work.set()
            victim = next(iter(cluster.workers.values()))
            os.kill(victim.pid, signal.SIGKILL)
        return placed(*args)

    monkeypatch.setattr(spread_module, "_placed", kill_one)
    done = each("-o", "there", "--scheduler", cluster.scheduler_address, code=1)
    assert at_work.is_set()
    assert "3 of 4 drawings taken off, 1 can't be used" in done.stdout


def test_what_is_wrong_with_a_scheduler_is_one_line(street, monkeypatch):
    pytest.importorskip("distributed", reason="the extra is not installed")
    monkeypatch.setattr("dxf2veneer.app.batch.spread.SCHEDULER_WAIT_S", 1.0)
    silent = each("-o", "there", "--scheduler", "tcp://127.0.0.1:9", code=1)
    assert re.search(r"^Error: --scheduler tcp://127.0.0.1:9: no scheduler", silent.stderr, re.M)
    both = each("-o", "there", "--scheduler", "tcp://127.0.0.1:9", "--workers", 2, code=2)
    assert "--workers is for this machine" in both.stderr


def test_the_example_in_the_docs_runs_on_a_local_cluster(tmp_path):
    pytest.importorskip("distributed", reason="the extra 'distributed' is not installed")
    page = (ROOT / "docs" / "many-drawings.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"```python\n(.*?)```", page, re.DOTALL)
    (tmp_path / "example.py").write_text(example, encoding="utf-8")
    (tmp_path / "drawings").mkdir()
    # 200 x 96 and 300 x 96 with a window of 10 sq ft: 123.33 and 190.00 sq ft net
    for name, width in (("north", 200), ("south", 300)):
        write_dxf(
            drawing(wall=[(0, 0, width, 96)], opening=[(60, 32, 96, 72)]),
            tmp_path / "drawings" / f"{name}.dxf",
        )
    (tmp_path / "drawings" / "odd.dxf").write_text("no drawing")
    (tmp_path / "job.toml").write_text('[layers]\nwall = "WALL"\nopening = "OPENING"\n')
    done = subprocess.run(
        [sys.executable, "example.py"],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    north, odd, south = done.stdout.splitlines()
    assert re.fullmatch(r"drawings.north\.dxf 123\.33 sq ft \d+ panels", north)
    assert re.fullmatch(r"drawings.odd\.dxf: this is no DXF file.*", odd)
    assert re.fullmatch(r"drawings.south\.dxf 190\.00 sq ft \d+ panels", south)
