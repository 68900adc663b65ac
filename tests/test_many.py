"""Many drawings, each a job of its own: the same as one by one, side by side, and never done
twice."""

from __future__ import annotations

import csv
import importlib.util
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from builders import drawing, line, write_dxf
from click.testing import CliRunner

from dxf2veneer.app.batch import each as each_module
from dxf2veneer.app.batch import record
from dxf2veneer.app.batch.budget import Ended
from dxf2veneer.app.batch.workers import pooled
from dxf2veneer.cli import main

LAYERS = ["--wall-layer", "WALL", "--opening-layer", "OPENING"]
CORNERS = ["--outside-corner-layer", "OUTSIDE_CORNER"]
RECORD = record.NAME


#   .------------------.     wall 96 high and of any width, window 36 x 40 (10 sq ft)
#   |      [ ]         |
#   '------------------'
def elevation(width, **more):
    return drawing(wall=[(0, 0, width, 96)], opening=[(60, 32, 96, 72)], **more)


def run(*args, code=0):
    result = CliRunner().invoke(main, [str(a) for a in args])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    assert result.exit_code == code, result.output
    return result


def contents(folder):
    """Every file in a folder and below with what is in it."""
    return {
        p.relative_to(folder).as_posix(): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file()
    }


def written(folder):
    """When each output was put in its place."""
    return {p.name: p.stat().st_mtime_ns for p in folder.glob("*") if p.name != RECORD}


def rewritten(folder, before):
    """The outputs put in their places since."""
    return sorted(name for name, when in written(folder).items() if before.get(name) != when)


@pytest.fixture
def three(tmp_path):
    """North and south 200 and 300 wide, and between them a file that is no drawing."""
    files = [
        write_dxf(elevation(200), tmp_path / "north.dxf"),
        tmp_path / "odd.dxf",
        write_dxf(elevation(300), tmp_path / "south.dxf"),
    ]
    files[1].write_text("no drawing")
    return files


@pytest.fixture
def two(three):
    return [three[0], three[2]]


@pytest.fixture
def out(tmp_path):
    return tmp_path / "out"


def each(files, out, *args, code=0, workers=1):
    return run(
        "takeoff",
        *files,
        *LAYERS,
        "--no-plan",
        "-o",
        out,
        "--each",
        "--workers",
        workers,
        *args,
        code=code,
    )


# ------------------------------------------------------------------ the outputs


PDF = importlib.util.find_spec("typst") is not None
"""Whether the extra that typesets the PDF is installed."""


@pytest.mark.parametrize("workers", [1, 2])
def test_the_outputs_are_byte_for_byte_those_of_one_takeoff_each(two, tmp_path, workers):
    alone, together = tmp_path / "alone", tmp_path / "together"
    for file in two:
        name = file.stem
        run(
            "takeoff", file, *LAYERS, "-o", alone,
            "--json", alone / "json" / f"{name}.json", "--csv", alone / "csv",
            "--report", alone / "report" / f"{name}.html", "--svg", alone / "svg" / name,
            *(["--pdf", alone / "pdf" / f"{name}.pdf"] if PDF else []),
        )  # fmt: skip
    kinds = ("json", "csv", "report", "svg", *(["pdf"] if PDF else []))
    folders = [part for kind in kinds for part in (f"--{kind}", together / kind)]
    run("takeoff", *two, *LAYERS, "-o", together, "--each", "--workers", workers, *folders)
    found = contents(together)
    (together / RECORD).unlink()
    assert found.pop(RECORD)
    assert list(found) == [
        "csv/north-order.csv", "csv/south-order.csv", "json/north.json", "json/south.json",
        "north-courses.dxf", "north-cuts.xlsx", "north-takeoff.xlsx",
        *(["pdf/north.pdf", "pdf/south.pdf"] if PDF else []),
        "report/north.html", "report/south.html",
        "south-courses.dxf", "south-cuts.xlsx", "south-takeoff.xlsx",
        "svg/north/W1.svg", "svg/south/W1.svg",
    ]  # fmt: skip
    assert found == contents(alone)


def test_the_record_does_not_depend_on_who_was_first(two, tmp_path):
    for workers in (1, 2):
        each(two, tmp_path / f"out{workers}", workers=workers)
    assert (tmp_path / "out1" / RECORD).read_bytes() == (tmp_path / "out2" / RECORD).read_bytes()


def test_drawings_of_one_name_get_numbers(tmp_path, out):
    files = [write_dxf(elevation(200), tmp_path / folder / "wall.dxf") for folder in ("a", "b")]
    each(files, out)
    assert sorted(written(out)) == [
        "wall-2-courses.dxf",
        "wall-2-takeoff.xlsx",
        "wall-courses.dxf",
        "wall-takeoff.xlsx",
    ]


@pytest.mark.parametrize("workers", [1, 2])
def test_a_file_that_is_no_drawing_costs_only_itself(three, out, workers):
    result = each(three, out, workers=workers, code=1)
    (told,) = result.stderr.splitlines()
    assert told.startswith("Error: ")
    assert "odd.dxf: this is no DXF file" in told
    assert sorted(written(out)) == [
        "north-courses.dxf",
        "north-takeoff.xlsx",
        "south-courses.dxf",
        "south-takeoff.xlsx",
    ]
    assert re.search(r"odd\.dxf +(- +)+not done", result.stdout)
    assert "\n2 of 3 drawings taken off, 1 can't be used" in result.stdout


def test_a_fault_of_ours_costs_only_its_drawing(two, out, monkeypatch):
    true = each_module.Row.of
    monkeypatch.setattr(
        each_module.Row,
        "of",
        lambda name, takeoff: 1 / 0 if "north" in name else true(name, takeoff),
    )
    told = each(two, out, code=1).stderr
    assert re.fullmatch(
        r"Error: .*north\.dxf: an unexpected fault( while [a-z ]+)? \(ZeroDivisionError: .*\)"
        r".*; report this line to the makers of this tool with the file, .*\n",
        told,
    )
    assert "south-takeoff.xlsx" in written(out)


# -------------------------------------------------------------------- the table


def test_the_table_by_hand(three, out, tmp_path):
    shown = each(three, out, "--table", tmp_path / "t.csv", code=1).stdout
    # 200 x 96 / 144 = 133.33 sq ft, 300 x 96 / 144 = 200 sq ft; 1.1 x 123.33 / 2 = 67.8 and 1.1 x
    # 190 / 2 = 104.5 panels
    assert re.search(
        r"north\.dxf +1 +133\.33 sq ft +10\.00 sq ft +123\.33 sq ft +about 68 +- +- +\d+ +0 +0$",
        shown,
        re.MULTILINE,
    )
    assert re.search(
        r"all drawings +2 +333\.33 sq ft +20\.00 sq ft +313\.33 sq ft +about 173 ", shown
    )
    north, odd, south = csv.DictReader((tmp_path / "t.csv").open(encoding="utf-8-sig", newline=""))
    assert north["gross_sqft"] == "133.333333"
    assert (south["gross_sqft"], south["openings_sqft"], south["net_sqft"]) == ("200", "10", "190")
    assert (south["panels_by"], south["flat_panels"], south["corner_panels"], south["problem"]) == (
        "area",
        "105",
        "",
        "",
    )
    assert "no DXF file" in odd["problem"]
    assert odd["gross_sqft"] == ""


def test_the_table_counts_planned_panels_corner_pieces_and_warnings(tmp_path, out):
    # an unpaired corner mark is a warning; of 12 courses of 8 every other has a corner piece on
    # this wall
    file = write_dxf(elevation(200, outside_corner=[line(200, 0, 200, 96)]), tmp_path / "front.dxf")
    run("takeoff", file, *LAYERS, *CORNERS, "-o", out, "--each", "--table", tmp_path / "t.csv")
    (row,) = csv.DictReader((tmp_path / "t.csv").open(encoding="utf-8-sig", newline=""))
    assert (
        row["panels_by"],
        row["corner_pieces"],
        row["corner_panels"],
        row["warnings"],
        row["errors"],
    ) == ("plan", "6", "6", "1", "0")
    alone = run("takeoff", file, *LAYERS, *CORNERS, "-o", tmp_path / "alone").stdout
    assert f"Panels: {row['flat_panels']} flat and 6 corner" in alone


def test_the_tables_names_can_not_run_as_formulas(tmp_path, out):
    file = write_dxf(elevation(200), tmp_path / "=HYPERLINK(1).dxf")
    words = [
        sys.executable,
        "-m",
        "dxf2veneer.cli",
        "takeoff",
        file.name,
        *LAYERS,
        "--no-plan",
        "-o",
        "out",
        "--each",
        "--table",
        "t.csv",
    ]
    subprocess.run(words, cwd=tmp_path, check=True, timeout=300, capture_output=True)
    assert not re.search(
        r"^[=+@-]", (tmp_path / "t.csv").read_text(encoding="utf-8-sig"), re.MULTILINE
    )
    assert "HYPERLINK(1).dxf" in (tmp_path / "t.csv").read_text(encoding="utf-8-sig")


def test_strict_counts_the_warnings_of_an_earlier_run_too(tmp_path, out):
    files = [
        write_dxf(elevation(200, outside_corner=[line(200, 0, 200, 96)]), tmp_path / "front.dxf")
    ]
    each(files, out, *CORNERS)
    each(files, out, *CORNERS, "--strict", code=1)


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="no folder that nobody may write to")
def test_a_table_that_can_not_be_written(two, out):
    result = each(two, out, "--table", "/proc/no/t.csv", code=1)
    assert "can't write" in result.stderr
    assert len(written(out)) == 4


# ---------------------------------------------------------------- wrong use


@pytest.mark.parametrize("option", [["--workers", "2"], ["--table", "t.csv"], ["--again"]])
def test_options_for_many_jobs_ask_for_each(two, out, option):
    assert (
        f"{option[0]} is for drawings that are jobs of their own; add --each"
        in run("takeoff", *two, *LAYERS, "-o", out, *option, code=2).stderr
    )


def test_what_is_wrong_for_every_drawing_is_told_once(two, out, tmp_path):
    told = each(two, out, "--product", tmp_path / "no.toml", code=2).stderr
    assert told.count("no.toml: there is no such file") == 1
    assert "twice" in each([two[0], two[0]], out, code=2).stderr
    assert (
        "is an input and would be overwritten" in each(two, out, "--table", two[1], code=2).stderr
    )
    (tmp_path / "r.json").write_text("a file")
    told = each(two, out, "--json", tmp_path / "r.json", code=2).stderr
    assert (
        "r.json is a file, not a folder; choose another place with --json, "
        "which names a folder with --each" in told
    )
    told = each(two, out, "--table", tmp_path / "r.json" / "t.csv", code=2).stderr
    assert "r.json is a file, not a folder; choose another place with --table" in told
    assert written(out) == {}


# ------------------------------------------------------------ done is not redone


def test_a_second_run_makes_only_what_changed(two, out):
    each(two, out)
    before, rows = written(out), (out / RECORD).read_bytes()
    shown = each(two, out).stdout
    assert rewritten(out, before) == []
    assert "2 of 2 drawings taken off (2 by an earlier run)" in shown
    assert "333.33 sq ft" in shown, "the table is whole all the same"
    assert (out / RECORD).read_bytes() == rows
    write_dxf(elevation(240), two[0])
    each(two, out)
    assert rewritten(out, before) == ["north-courses.dxf", "north-takeoff.xlsx"]


def test_a_drawing_more_is_made_alone(two, out):
    each(two[:1], out)
    before = written(out)
    each(two, out)
    assert rewritten(out, before) == ["south-courses.dxf", "south-takeoff.xlsx"]


def test_every_other_input_makes_all_anew(two, out, tmp_path, monkeypatch):
    product = tmp_path / "panel.toml"
    product.write_text(
        "[panel]\nlength = 36\nheight = 8\n[laying]\nstagger = 8\nleast_piece = 8\n"
        "[cap]\nheight = 2\n"
    )
    job = tmp_path / "job.toml"
    job.write_text('[layers]\nwall = "WALL"\n[product]\nfile = "panel.toml"\n')

    def change(*args):
        before = written(out)
        each(two[:1], out, "--job", job, *args)
        return len(rewritten(out, before))

    assert change() == 2
    assert change() == 0
    assert change("--start", "1") == 2  # an option
    assert change() == 2
    job.write_text(job.read_text() + "[trim]\nhead = 4\n")
    assert change() == 2
    product.write_text(product.read_text().replace("length = 36", "length = 30"))
    assert change() == 2
    assert change() == 0
    assert change("--csv", out) == 3  # another output
    monkeypatch.setattr(each_module, "__version__", "99")
    assert change("--csv", out) == 3
    assert change("--csv", out) == 0
    assert change("--csv", out, "--again") == 3


def test_an_output_that_is_gone_is_made_again(two, out):
    each(two, out)
    before = written(out)
    (out / "south-courses.dxf").unlink()
    each(two, out)
    assert rewritten(out, before) == ["south-courses.dxf", "south-takeoff.xlsx"]


def test_an_output_that_somebody_changed_is_replaced_only_by_force(two, out):
    each(two, out)
    overlay = out / "south-courses.dxf"
    mine = overlay.read_bytes().replace(b"EOF", b"999\nmine\n  0\nEOF")
    overlay.write_bytes(mine)
    told = each(two, out, code=1).stderr
    assert told.count("Error: ") == 1
    assert "south-courses.dxf is there already" in told
    assert overlay.read_bytes() == mine
    each(two, out, "--force")
    assert overlay.read_bytes() != mine


def test_the_whole_folder_can_move(two, tmp_path):
    each(two, tmp_path / "out", "--json", tmp_path / "out" / "json")
    (tmp_path / "out").rename(tmp_path / "moved")
    before = written(tmp_path / "moved")
    each(two, tmp_path / "moved", "--json", tmp_path / "moved" / "json")
    assert rewritten(tmp_path / "moved", before) == []


@pytest.mark.parametrize(
    "torn",
    [
        b'{"drawing": "12',
        b"\xff\xfe\n",
        b"[]\n",
        b'{"drawing":1,"asked":2,"outputs":{},"row":{}}\n',
    ],
)
def test_a_torn_line_of_the_record_costs_only_its_drawing(two, out, torn):
    each(two, out)
    before = written(out)
    kept, lost = (out / RECORD).read_bytes().splitlines(keepends=True)
    assert b"south" in lost
    (out / RECORD).write_bytes(kept + torn)
    each(two, out)
    assert rewritten(out, before) == ["south-courses.dxf", "south-takeoff.xlsx"]
    assert (out / RECORD).read_bytes() == kept + lost


# ----------------------------------------------------------- workers


def doubled_or_dead(task):
    """Work for a worker: -1 kills its process."""
    if task < 0:
        os._exit(9)
    return 2 * task


def test_a_process_that_dies_costs_only_the_task_it_works_on():
    assert dict(pooled(doubled_or_dead, [1, -1, 2, 3, -2, 4], 2)) == {
        1: 2,
        -1: Ended("died", None),
        2: 4,
        3: 6,
        -2: Ended("died", None),
        4: 8,
    }


def test_no_more_tasks_are_in_flight_than_there_are_workers():
    taken = []

    def tasks():
        for number in range(20):
            taken.append(number)
            yield number

    coming = pooled(doubled_or_dead, tasks(), 2)
    for done, _ in enumerate(coming, 1):
        assert len(taken) <= done + 2
    assert len(taken) == 20


# ------------------------------------------------------------------ interrupts


needs_signals = pytest.mark.skipif(
    os.name == "nt", reason="a process can't be sent Ctrl-C alone there"
)


NAMES = [f"h{n}.dxf" for n in range(8)]


def command(workers, folder):
    return [
        sys.executable,
        "-m",
        "dxf2veneer.cli",
        "takeoff",
        *NAMES,
        *LAYERS,
        "--no-plan",
        "--each",
        "--workers",
        str(workers),
        "-o",
        folder,
    ]


@pytest.fixture(scope="module")
def street(tmp_path_factory):
    """A folder of eight drawings, taken off without an interrupt into ``whole``."""
    folder = tmp_path_factory.mktemp("street")
    for n, name in enumerate(NAMES):
        write_dxf(elevation(400 + 12 * n), folder / name)
    subprocess.run(command(1, "whole"), cwd=folder, capture_output=True, timeout=300, check=True)
    return folder


@needs_signals
@pytest.mark.parametrize(
    ("workers", "number"), [(1, signal.SIGINT), (2, signal.SIGINT), (2, signal.SIGTERM)]
)
def test_an_interrupt_ends_soon_leaves_nothing_half_and_the_next_run_goes_on(
    street, workers, number
):
    out = street / f"out-{workers}-{number:d}"
    # a shell's background job has interrupts ignored, and hands that on
    heard = lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)  # noqa: E731
    running = subprocess.Popen(
        command(workers, out.name), cwd=street,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, encoding="utf-8",
        start_new_session=True, preexec_fn=heard,
    )  # fmt: skip
    until = time.monotonic() + 300
    begun = lambda: (out / RECORD).exists() and b"\n" in (out / RECORD).read_bytes()  # noqa: E731
    while not begun() and running.poll() is None and time.monotonic() < until:
        time.sleep(0.02)
    began = time.monotonic()
    if number == signal.SIGINT:
        os.killpg(running.pid, number)  # as a terminal does: every process of the group gets it
    else:
        running.send_signal(number)
    shown, told = running.communicate(timeout=300)
    took = time.monotonic() - began
    print(f"with {workers} workers it ended {took:.2f} s after signal {number}")
    assert took < 20.0  # a second or two on a machine with nothing else to do
    assert running.returncode == 130, told
    (done,) = re.findall(r"^Interrupted: (\d+) of 8 drawings taken off", told, re.MULTILINE)
    assert 1 <= int(done) < 8
    assert shown.count(".dxf") == int(done), "the table shows what was done"
    assert "Traceback" not in told
    assert not list(out.glob(".*")), "no draft stays"

    recorded = [json.loads(text) for text in (out / RECORD).read_text().splitlines()]
    assert len(recorded) == int(done)
    before = written(out)
    finished = subprocess.run(
        command(workers, out.name),
        cwd=street,
        capture_output=True,
        encoding="utf-8",
        timeout=300,
        check=True,
    )
    assert f"8 of 8 drawings taken off ({done} by an earlier run)" in finished.stdout
    assert {name for entry in recorded for name in entry["outputs"]}.isdisjoint(
        rewritten(out, before)
    )
    assert contents(out) == contents(street / "whole")


@needs_signals
def test_the_progress_bar_is_for_a_person_at_a_terminal(two, tmp_path):
    import pty

    words = [
        sys.executable,
        "-m",
        "dxf2veneer.cli",
        "takeoff",
        *map(str, two),
        *LAYERS,
        "--no-plan",
        "--each",
        "--workers",
        "1",
        "-o",
        "out",
    ]
    piped = subprocess.run(words, cwd=tmp_path, capture_output=True, timeout=300, check=True)
    assert piped.stderr == b""
    near, far = pty.openpty()
    subprocess.run(
        [*words, "--again"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=far,
        timeout=300,
        check=True,
    )
    os.close(far)
    shown = os.read(near, 100_000).decode()
    os.close(near)
    assert "Drawings" in shown
    assert "2/2" in shown
