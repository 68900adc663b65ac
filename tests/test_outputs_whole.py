"""Outputs appear whole and together or not at all, and never in the place of what is not ours.

front.dxf: a wall of 240 x 96 in with a door      out/front-takeoff.xlsx, out/front-courses.dxf,
                                                  out/r.json, out/r.html, out/csv/...,
                                                  out/svg/W1.svg
"""

from __future__ import annotations

import errno
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import ezdxf
import openpyxl
import pytest
from click.testing import CliRunner

import dxf2veneer
from dxf2veneer.cli import main
from dxf2veneer.textio import staging as placing
from dxf2veneer.textio.whole_files import BLANK_SEAL, is_ours, write_csv, write_whole

LAYERS = ("--wall-layer", "WALL", "--opening-layer", "OPEN", "--no-plan")


def draw(path, width=240):
    doc = ezdxf.new("R2010")
    doc.header["$INSUNITS"] = 1
    for layer, box in (("WALL", (0, 0, width, 96)), ("OPEN", (24, 0, 60, 80))):
        doc.layers.add(layer)
        x0, y0, x1, y1 = box
        doc.modelspace().add_lwpolyline(
            [(x0, y0), (x1, y0), (x1, y1), (x0, y1)], close=True, dxfattribs={"layer": layer}
        )
    doc.saveas(path)
    return path


@pytest.fixture
def front(tmp_path):
    return draw(tmp_path / "front.dxf")


@pytest.fixture
def out(tmp_path):
    return tmp_path / "out"


def words(drawing, out, *more):
    every = (
        "--json",
        out / "r.json",
        "--report",
        out / "r.html",
        "--csv",
        out / "csv",
        "--svg",
        out / "svg",
    )
    return [str(w) for w in ("takeoff", drawing, *LAYERS, "-o", out, *every, *more)]


def run(drawing, out, *more, code=0):
    done = CliRunner().invoke(main, words(drawing, out, *more))
    assert done.exit_code == code, done.output
    assert done.exception is None or isinstance(done.exception, SystemExit)
    return done.output


def contents(folder):
    """Every file under a folder by its name, the insides of unfinished runs left out."""
    return {
        str(p.relative_to(folder)): p.read_bytes()
        for p in sorted(folder.rglob("*"))
        if p.is_file() and ".writing-" not in str(p)
    }


def left_over(folder):
    return [p for p in folder.rglob(".writing-*")]


def two_states(front, out):
    """The outputs of a wall of 240 in, which stand there, and those of one of 300 in, which a next
    run would write."""
    run(front, out)
    old = contents(out)
    draw(front, 300)
    new_out = out.with_name("new")
    run(front, new_out)
    new = contents(new_out)
    assert (
        old.keys() == new.keys() and len(old) == 6 and all(old[name] != new[name] for name in old)
    )
    return old, new


# ------------------------------------------------------------------- the seal


def test_every_output_is_known_again_and_written_over_without_asking(front, out):
    run(front, out)
    assert [p for p in out.rglob("*") if p.is_file() and not is_ours(p)] == []
    run(front, out)


@pytest.mark.parametrize(
    "name", ["front-courses.dxf", "r.json", "r.html", "csv/front-order.csv", "svg/W1.svg"]
)
def test_a_text_output_that_a_person_has_changed_is_theirs(front, out, name):
    run(front, out)
    path = out / name
    mine = path.read_bytes().replace(b"1", b"2", 1)
    path.write_bytes(mine)
    told = run(draw(front, 300), out, code=2)
    assert (
        told.count("\n") <= 4
        and f"{path.name} is there already" in told.replace("\n", "")
        and "--force" in told
    )
    assert path.read_bytes() == mine
    run(front, out, "--force")
    assert path.read_bytes() != mine and is_ours(path)


def test_a_workbook_that_another_program_has_saved_is_theirs(front, out):
    run(front, out)
    path = out / "front-takeoff.xlsx"
    book = openpyxl.load_workbook(path)
    book["Summary"]["A1"] = "prices filled in by hand"
    book.save(path)
    before = contents(out)
    run(front, out, code=2)
    assert contents(out) == before
    run(front, out, "--force")
    assert is_ours(path)


def test_a_workbook_that_was_changed_under_our_name_is_theirs(front, out):
    """The part that names the program stays ours, as some programs leave it."""
    run(front, out)
    path = out / "front-takeoff.xlsx"
    with zipfile.ZipFile(path) as old:
        parts, comment = {n: old.read(n) for n in old.namelist()}, old.comment
    assert b">dxf2veneer<" in parts["docProps/app.xml"]
    name = "xl/worksheets/sheet1.xml"
    changed = parts[name].replace(b'<row r="1"', b'<row r="1" ', 1)
    assert changed != parts[name], "a byte that no reader would see"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        new.comment = comment
        for part, content in {**parts, name: changed}.items():
            new.writestr(part, content)
    before = contents(out)
    assert not is_ours(path)
    run(front, out, code=2)
    each = ["takeoff", front, *LAYERS, "-o", out, "--each", "--workers", 1]
    done = CliRunner().invoke(main, [str(word) for word in each])
    assert done.exit_code == 1 and "is there already" in done.output.replace("\n", " ")
    assert contents(out)[path.name] == before[path.name]


def test_a_drawing_that_a_cad_program_has_saved_is_theirs(front, out):
    run(front, out, "--binary")
    path = out / "front-courses.dxf"
    assert is_ours(path), "a binary drawing carries the seal too"
    doc = ezdxf.readfile(path)
    doc.modelspace().add_point((0, 0))
    doc.saveas(path)
    run(front, out, code=2)


@pytest.mark.parametrize(
    "name",
    [
        "front-takeoff.xlsx",
        "front-courses.dxf",
        "r.json",
        "r.html",
        "csv/front-order.csv",
        "svg/W1.svg",
    ],
)
def test_a_strangers_file_is_never_replaced_without_force(front, out, name):
    path = out / name
    path.parent.mkdir(parents=True)
    path.write_bytes(b"my notes")
    told = run(front, out, code=2)
    assert "is there already" in told.replace("\n", " ") and contents(out) == {name: b"my notes"}


@pytest.mark.parametrize(
    "theirs",
    [b"", b"my notes", b"PK\x03\x04 broken zip", BLANK_SEAL.encode(), b"dxf2veneer-" + b"1" * 64],
)
def test_what_only_looks_like_ours_is_not(tmp_path, theirs):
    (tmp_path / "file").write_bytes(theirs)
    assert not is_ours(tmp_path / "file")


def test_a_strangers_zip_that_unpacks_without_end_is_no_trouble(tmp_path):
    with zipfile.ZipFile(tmp_path / "bomb.xlsx", "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("docProps/app.xml", b" " * 50_000_000)
    assert not is_ours(tmp_path / "bomb.xlsx")


@pytest.mark.parametrize("name", ["fifo", "folder"])
def test_what_is_no_plain_file_is_refused_with_force_too(front, out, name, tmp_path):
    out.mkdir()
    os.mkfifo(tmp_path / "fifo")
    (tmp_path / "folder").mkdir()
    done = CliRunner().invoke(main, words(front, out, "--force", "--json", tmp_path / name))
    assert done.exit_code == 2 and contents(out) == {}


def test_force_never_writes_over_an_input(front, out, tmp_path):
    (tmp_path / "link.dxf").hardlink_to(front)
    before = front.read_bytes()
    for target in (front, tmp_path / "link.dxf"):
        assert "is an input" in run(front, out, "--force", "--json", target, code=2)
    assert front.read_bytes() == before and not out.exists()


def test_a_link_keeps_leading_where_it_led(front, out, tmp_path):
    run(front, out)
    (out / "r.json").rename(tmp_path / "elsewhere.json")
    (out / "r.json").symlink_to(tmp_path / "elsewhere.json")
    run(draw(front, 300), out)
    assert (out / "r.json").is_symlink() and b"300" in (tmp_path / "elsewhere.json").read_bytes()


def test_a_table_without_rows_carries_its_seal(tmp_path):
    write_csv(tmp_path / "t.csv", ("a", "b"), [])
    assert is_ours(tmp_path / "t.csv")


def test_a_text_that_spells_a_seal_does_no_harm(tmp_path):
    for text in (BLANK_SEAL, "dxf2veneer-" + "a" * 64):
        write_csv(tmp_path / "t.csv", ("a",), [(text,)])
        assert is_ours(tmp_path / "t.csv")


# ------------------------------------------------------ failures that are told


@pytest.mark.parametrize("at", [0, 2, 5])
def test_where_one_can_not_be_replaced_all_stay(front, out, monkeypatch, at):
    """As Windows does while another program has a file open."""
    old, _ = two_states(front, out)
    real, done = os.replace, []

    def replace(source, target):
        if ".writing-" in str(source) and ".writing-" not in str(target) and len(done) == at:
            done.append("failed")
            raise PermissionError(errno.EACCES, "Permission denied", str(source))
        if ".writing-" not in str(target) and "failed" not in done:
            done.append(target)
        return real(source, target)

    monkeypatch.setattr(placing.os, "replace", replace)
    told = run(front, out, code=1).replace("\n", " ")
    assert (
        done[-1] == "failed"
        and "can't replace" in told
        and "open in another program" in told
        and "unchanged" in told
    )
    assert contents(out) == old and left_over(out) == []


def test_new_outputs_of_a_run_that_fails_go_again(front, out, monkeypatch):
    real = os.replace

    def replace(source, target):
        if str(target).endswith("W1.svg") and ".writing-" not in str(target):
            raise OSError(errno.EIO, "Input/output error")
        return real(source, target)

    monkeypatch.setattr(placing.os, "replace", replace)
    assert "W1.svg: Input/output error" in run(front, out, code=1).replace("\n", " ")
    assert contents(out) == {}


def test_an_interrupt_between_two_puts_all_back(front, out, monkeypatch):
    old, _ = two_states(front, out)
    real, count = os.replace, []

    def replace(source, target):
        if ".writing-" not in str(target):
            count.append(target)
            if len(count) == 3:
                raise KeyboardInterrupt
        return real(source, target)

    monkeypatch.setattr(placing.os, "replace", replace)
    assert run(front, out, code=130) == "Interrupted: nothing was written.\n"
    assert contents(out) == old and left_over(out) == []


def interrupt(*args, **more):
    raise KeyboardInterrupt


@pytest.mark.parametrize(
    "step", ["dxf2veneer.app.pipeline.take_off", "dxf2veneer.writers.workbook.write_workbook"]
)
def test_an_interrupt_before_writes_nothing(front, out, monkeypatch, step):
    monkeypatch.setattr(step, interrupt)
    assert run(front, out, "--quiet", code=130) == "Interrupted: nothing was written.\n"
    assert not out.exists() or (contents(out) == {} and left_over(out) == [])


@pytest.mark.parametrize(
    "step", ["dxf2veneer.textio.staging.shutil.rmtree", "dxf2veneer.cli.terminal.summary"]
)
def test_an_interrupt_after_says_that_all_is_written(front, out, monkeypatch, step):
    """While the folders aside are taken away, or while the table of walls is shown."""
    monkeypatch.setattr(step, interrupt)
    assert run(front, out, code=130).endswith("Interrupted: all outputs are written.\n")
    assert len(contents(out)) == 6


def test_a_process_that_is_interrupted_ends_with_130(front, out):
    """As a terminal does on Ctrl-C; the takeoff stops in the middle and signals itself."""
    script = (
        "import os, signal, sys\nfrom dxf2veneer.app import pipeline\n"
        "from dxf2veneer.cli import main\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "pipeline.take_off = lambda *a, **b: os.kill(os.getpid(), signal.SIGINT)\n"
        "main(sys.argv[1:])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, *words(front, out)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (
        130,
        "",
        "Interrupted: nothing was written.\n",
    )


def test_an_interrupt_of_another_command_is_one_line_too(front, monkeypatch):
    monkeypatch.setattr("dxf2veneer.drawing.survey_drawing", interrupt)
    done = CliRunner().invoke(main, ["layers", str(front)])
    assert (done.exit_code, done.output) == (130, "Interrupted.\n")


def test_a_full_disk_leaves_what_stood_there(front, out):
    """A limit on the size of files stands in for the disk: the report, the largest output, no
    longer fits."""
    old, new = two_states(front, out)
    room = len(new["r.html"]) - 1

    def limit():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (room, room))

    done = subprocess.run(
        [sys.executable, "-m", "dxf2veneer.cli", *words(front, out)],
        capture_output=True,
        text=True,
        preexec_fn=limit,
        check=False,
    )
    assert (
        done.returncode == 1
        and "can't write" in done.stderr
        and "unchanged" in done.stderr
        and "Traceback" not in done.stderr
    )
    assert contents(out) == old and left_over(out) == []


@pytest.fixture
def small_disk(tmp_path):
    """A disk of 600 kB."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = (
        subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=600k", "tmpfs", str(disk)],
            capture_output=True,
            check=False,
        )
        if os.name == "posix"
        else None
    )
    if mounted is None or mounted.returncode:
        pytest.skip("a small disk can't be mounted here")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_disk_that_is_really_full(front, small_disk):
    out = small_disk / "out"
    run(front, out)
    old = contents(out)
    (small_disk / "ballast").write_bytes(b"x" * (600_000 - sum(map(len, old.values())) - 60_000))
    told = run(draw(front, 300), out, code=1).replace("\n", " ")
    assert "No space left on device" in told and "unchanged" in told
    assert contents(out) == old and left_over(out) == []


def test_a_folder_that_can_not_be_written_to(front, tmp_path, monkeypatch):
    real = Path.mkdir

    def refuse(path, *args, **more):
        if path.name.startswith(".writing-"):
            raise PermissionError(errno.EROFS, "Read-only file system")
        real(path, *args, **more)

    out = tmp_path / "out"
    run(front, out)
    old = contents(out)
    monkeypatch.setattr(Path, "mkdir", refuse)
    told = run(draw(front, 300), out, code=1).replace("\n", " ")
    assert "can't write" in told and "Read-only file system" in told and contents(out) == old


def test_an_interrupt_while_drafts_are_taken_away_waits_until_they_are(tmp_path, monkeypatch):
    real, calls = shutil.rmtree, []

    def interrupted(room, **more):
        calls.append(room)
        if len(calls) == 1:
            raise SystemExit
        real(room, **more)

    monkeypatch.setattr(placing.shutil, "rmtree", interrupted)
    with pytest.raises(SystemExit), placing.staged([tmp_path]) as rooms:
        (rooms[tmp_path] / "a").write_text("made")
    assert len(calls) == 2 and list(tmp_path.iterdir()) == []


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="no folder that nobody may write to")
def test_a_folder_that_nobody_may_write_to(front, tmp_path):
    done = CliRunner().invoke(main, ["takeoff", str(front), *LAYERS, "-o", "/proc/self/out"])
    assert done.exit_code == 1 and "can't write" in done.output and done.output.count("\n") <= 3


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="no folder that nobody may write to")
@pytest.mark.parametrize(
    ("option", "place", "folder"),
    [("--json", "/proc/x.json", "/proc"), ("--report", "/proc/sub/x.html", "/proc/sub")],
)
def test_the_output_that_can_not_be_made_is_named_and_no_other(front, out, option, place, folder):
    done = CliRunner().invoke(main, ["takeoff", str(front), *LAYERS, "-o", str(out), option, place])
    assert (
        done.exit_code == 1
        and f"can't write {place}: no file can be made in {folder} (" in done.output
    )
    assert str(out) not in done.output and contents(out) == {} and left_over(out) == []


def test_the_output_whose_folder_can_not_be_marked_is_named(front, out, monkeypatch):
    real = Path.touch

    def touch(path, **more):
        if path.parents[1].name == "svg":
            raise OSError(errno.EIO, "Input/output error")
        real(path, **more)

    monkeypatch.setattr(Path, "touch", touch)
    assert (
        "can't replace" in (told := run(front, out, code=1).replace("\n", " "))
        and "svg/W1.svg: Input/output error" in told
    )
    assert contents(out) == {}


# --------------------------------------------------------------------- killed

KILLED_AT = """
import os, signal, sys
from dxf2veneer.textio import staging as placing
from dxf2veneer.cli import main
real, count, at = os.replace, [0], int(sys.argv[1])
def replace(source, target):
    if ".writing-" not in str(target):
        if count[0] == at:
            os.kill(os.getpid(), signal.SIGKILL)
        count[0] += 1
    return real(source, target)
placing.os.replace = replace
main(sys.argv[2:])
"""


@pytest.mark.parametrize("at", [0, 1, 5])
def test_a_run_killed_while_it_puts_outputs_in_place_is_finished_by_the_next(front, out, at):
    old, new = two_states(front, out)
    done = subprocess.run(
        [sys.executable, "-c", KILLED_AT, str(at), *words(front, out)],
        capture_output=True,
        check=False,
    )
    assert done.returncode == -signal.SIGKILL
    found = contents(out)
    assert sum(found[name] == new[name] for name in found) == at
    assert all(found[name] in (old[name], new[name]) for name in old), "each output is whole"
    later = time.time() + 60
    assert any(
        [
            placing.finish_commit(folder, is_ours, later)
            for folder in (out, out / "csv", out / "svg")
        ]
    )
    assert contents(out) == new and left_over(out) == []


def test_a_broken_off_change_never_goes_over_newer_or_other_files(front, out):
    _, new = two_states(front, out)
    for theirs in (b"mine", new["r.json"].replace(b"300", b"301")):
        subprocess.run(
            [sys.executable, "-c", KILLED_AT, "0", *words(front, out)],
            capture_output=True,
            check=False,
        )
        (out / "r.json").write_bytes(theirs)
        before = contents(out)
        placing.finish_commit(out, is_ours, time.time() + 60)
        assert (
            contents(out)["r.json"] == theirs
            and contents(out)["front-courses.dxf"] == before["front-courses.dxf"]
        )
        run(front, out, "--force")


def test_a_change_that_may_be_under_way_is_left_alone(front, out):
    two_states(front, out)
    subprocess.run(
        [sys.executable, "-c", KILLED_AT, "2", *words(front, out)], capture_output=True, check=False
    )
    before = contents(out)
    assert not placing.finish_commit(out, is_ours, time.time())
    assert contents(out) == before and left_over(out)


def test_what_a_run_killed_earlier_left_is_cleared_after_a_day(out):
    (out / ".writing-abc" / "new").mkdir(parents=True)
    (out / ".writing-abc" / "new" / "r.json").write_text("half")
    placing.finish_commit(out, is_ours, time.time() + 3600)
    assert left_over(out)
    placing.finish_commit(out, is_ours, time.time() + 90_000)
    assert left_over(out) == [] and contents(out) == {}


@pytest.mark.parametrize("seed", range(2))
def test_killed_at_any_moment_every_output_is_whole(front, out, seed):
    old, new = two_states(front, out)
    process = subprocess.Popen(
        [sys.executable, "-m", "dxf2veneer.cli", *words(front, out)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    time.sleep(random.Random(seed).uniform(0.1, 2.5))
    process.kill()
    process.wait()
    found = contents(out)
    assert all(found[name] in (old[name], new[name]) for name in old)
    run(front, out)
    assert contents(out) == new


def test_a_file_is_on_the_disk_before_it_takes_its_place(tmp_path, monkeypatch):
    told = []
    monkeypatch.setattr(os, "fsync", lambda number: told.append("fsync"))
    real = os.replace
    monkeypatch.setattr(os, "replace", lambda a, b: (told.append("replace"), real(a, b)))
    write_whole(tmp_path / "a", lambda draft: draft.write_text("x"))
    assert told == ["fsync", "replace"]


# ------------------------------------------------------- what a drawing names

WATCH = """
import os, sys
from pathlib import Path
seen = []
def note(event, args):
    if event in (
        "open", "os.listdir", "os.scandir", "socket.connect", "socket.getaddrinfo",
        "urllib.Request", "subprocess.Popen", "os.exec", "os.system",
    ):
        seen.append((event, args[0] if args else None))
sys.addaudithook(note)
from dxf2veneer.cli import main
try:
    main(sys.argv[2:])
finally:
    for event, what in seen:
        if "bait" in str(what) or not event in ("open", "os.listdir", "os.scandir"):
            print("FOLLOWED", event, what)
"""


def test_what_a_drawing_refers_to_is_never_opened(tmp_path, out):
    bait = tmp_path / "bait"
    bait.mkdir()
    draw(bait / "bait.dxf")
    (bait / "bait.png").write_bytes(b"\x89PNG")
    doc = ezdxf.readfile(draw(tmp_path / "front.dxf"))
    space = doc.modelspace()
    for n, path in enumerate(
        (
            str(bait / "bait.dxf"),
            "http://127.0.0.1:9/bait.dxf",
            r"\\\\127.0.0.1\\bait\\bait.dxf",
            "bait/bait.dxf",
        )
    ):
        doc.add_xref_def(path, f"XREF{n}")
        space.add_blockref(f"XREF{n}", (0, 0), dxfattribs={"layer": "WALL"})
    space.add_image(
        doc.add_image_def(str(bait / "bait.png"), (10, 10)),
        (0, 0),
        (10, 10),
        dxfattribs={"layer": "OPEN"},
    )
    space.add_underlay(doc.add_underlay_def(str(bait / "bait.pdf"), "pdf", "1"), (0, 0))
    doc.styles.add("BAIT", font=str(bait / "bait.shx"))
    space.add_text("x", dxfattribs={"style": "BAIT", "layer": "WALL"})
    doc.saveas(tmp_path / "front.dxf")
    done = subprocess.run(
        [sys.executable, "-c", WATCH, "-", *words(tmp_path / "front.dxf", out)],
        capture_output=True,
        text=True,
        cwd=tmp_path,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "FOLLOWED" not in done.stdout, done.stdout
    assert "EXTERNAL_REFERENCE" in done.stderr


def test_the_module_of_outputs_puts_nothing_in_place_by_itself():
    """Every file takes its place in staging.py or whole_files.py, which put it there whole."""
    source = Path(dxf2veneer.__file__).parent
    moving = [
        p.name for p in source.rglob("*.py") if "os.replace(" in p.read_text(encoding="utf-8")
    ]
    assert sorted(moving) == ["staging.py", "whole_files.py"]
