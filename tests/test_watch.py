"""Following drawings: the ways programs save, what is never taken, and the line about what
changed."""

from __future__ import annotations

import contextlib
import dataclasses
import os
import re
import signal
import subprocess
import sys
import threading
import time
from decimal import Decimal
from pathlib import Path

import ezdxf
import pytest
from builders import drawing, write_dxf

from dxf2veneer.app import watch as watching
from dxf2veneer.app.changes import SAME, what_changed
from dxf2veneer.app.follow import Following, unfit
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.app.watch import Save, Saves, Trouble, follow
from dxf2veneer.basics.giving_up import GivenUpError, go_on, wanted_while
from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import SAVE_PATIENCE_S, SAVE_QUIET_S
from dxf2veneer.config.job import load_job
from dxf2veneer.drawing import DrawingError
from dxf2veneer.drawing.file.form import breaks_off
from dxf2veneer.wording import say

LAYERS = ["--wall-layer", "WALL", "--opening-layer", "OPENING"]

#   .---------------.     wall 200 x 96 and window 36 x 40; the other is 12 wider (8 sq ft)
#   |      [ ]      |
#   '---------------'
WINDOW = (60, 32, 96, 72)
FIRST = drawing(wall=[(0, 0, 200, 96)], opening=[WINDOW])
WIDER = drawing(wall=[(0, 0, 212, 96)], opening=[WINDOW])


@pytest.fixture(scope="module")
def texts(tmp_path_factory):
    """The bytes of the two drawings."""
    folder = tmp_path_factory.mktemp("texts")
    return [write_dxf(d, folder / f"{i}.dxf").read_bytes() for i, d in enumerate((FIRST, WIDER))]


# ---------------------------------------------------------- is it whole?


@pytest.mark.parametrize(
    ("content", "cut"),
    [
        (b"  0\nSECTION\n  0\nENDSEC\n  0\nEOF\n", False),
        (b"0\r\nSECTION\r\n0\r\nEOF\r\n\x1a", False),  # an old end-of-file byte behind it
        (b"0\nSECTION\n0\nEOF", False),
        (b"0\nSECTION\n0\nEO", True),
        (b"0\nSECTION\n1\nEOF", True),  # a text that reads EOF is no end mark
        (b"0\nSECTION\n0\n", True),
        (b"", True),
        (b"AC1032 and so on", False),  # a DWG: reading it says so
    ],
)
def test_a_drawing_ends_with_its_end_mark(content, cut):
    assert breaks_off(content) is cut


@pytest.mark.parametrize("version", ["R12", "R2018"])
@pytest.mark.parametrize("fmt", ["asc", "bin"])
def test_drawings_of_another_writer_are_whole_and_cut_short_anywhere_they_are_not(
    version, fmt, tmp_path
):
    document = ezdxf.new(version)
    document.saveas(tmp_path / "d.dxf", fmt=fmt)
    content = (tmp_path / "d.dxf").read_bytes()
    assert not breaks_off(content)
    size = len(content)
    assert all(breaks_off(content[:at]) for at in (size // 7, size // 2, size - 12))


# -------------------------------------------------- look by look, by the clock of the test


@pytest.fixture
def plan(tmp_path):
    file = tmp_path / "front.dxf"
    file.write_bytes(b"0\nEOF\n")
    return file


def settled(saves, files, now):
    """What the looks find from ``now`` on until it has been quiet long enough."""
    return [
        saves.look(files, now),
        saves.look(files, now + 0.9 * SAVE_QUIET_S),
        saves.look(files, now + 1.1 * SAVE_QUIET_S),
    ]


def test_a_save_is_found_once_it_is_quiet_and_only_once(plan):
    saves = Saves(unfit([plan]))
    early, soon, save = settled(saves, [plan], 10.0)
    assert (early, soon) == (None, None)
    assert isinstance(save, Save)
    assert save.changed == save.touched == (plan,)
    saves.accept(save)
    assert saves.look([plan], 99.0) is None


def test_while_the_file_grows_nothing_is_found(plan):
    saves = Saves(unfit([plan]))
    for step in range(20):
        plan.write_bytes(b"0\nSECTION\n" * step + b"0\nEOF\n")
        assert saves.look([plan], 10.0 + step * 0.9 * SAVE_QUIET_S) is None


def test_a_file_touched_without_a_change(plan):
    saves = Saves(unfit([plan]))
    saves.accept(settled(saves, [plan], 0.0)[-1])
    os.utime(plan, (1, 1))
    again = settled(saves, [plan], 5.0)[-1]
    assert (again.touched, again.changed) == ((plan,), ())


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (lambda p: p.write_bytes(b""), "it is empty"),
        (lambda p: p.write_bytes(b"0\nSECTION\n"), "breaks off before its end mark"),
        (lambda p: p.unlink(), "there is no such file"),
        (lambda p: (p.unlink(), p.mkdir()), "can't be read"),
    ],
)
def test_what_is_not_whole_is_told_once_after_a_while_and_is_no_save(plan, spoil, told):
    saves = Saves(unfit([plan]))
    saves.accept(settled(saves, [plan], 0.0)[-1])
    spoil(plan)
    assert settled(saves, [plan], 5.0) == [None, None, None]
    trouble = saves.look([plan], 5.1 + SAVE_PATIENCE_S)
    assert isinstance(trouble, Trouble)
    assert told in say(trouble.why)
    assert str(plan) in say(trouble.why)
    assert saves.look([plan], 60.0) is None
    if plan.is_dir():
        plan.rmdir()
    plan.write_bytes(b"0\nSECTION\n0\nEOF\n")
    assert settled(saves, [plan], 70.0)[-1].changed == (plan,)


def test_a_locked_file_is_taken_when_it_is_free_though_its_stamp_is_the_same(plan, monkeypatch):
    locked = True
    read = watching.read_plain

    def guarded(path, most):
        if locked:
            raise PermissionError(13, "Permission denied")
        return read(path, most)

    monkeypatch.setattr(watching, "read_plain", guarded)
    saves = Saves(unfit([plan]))
    assert settled(saves, [plan], 0.0)[-1] is None
    assert "can't be read (Permission denied)" in say(saves.look([plan], 10.0).why)
    locked = False
    assert isinstance(saves.look([plan], 11.0), Save)


# --------------------------------------------------------- the follower in a thread


class Recorder:
    """A follower that notes what it is told. ``during`` is called while it works on a save."""

    def __init__(self, *files, during=lambda: None):
        self.files, self.during, self.told = files, during, []

    def inputs(self):
        return self.files

    def attempt(self, files):
        content = self.files[0].read_bytes()
        self.during()
        go_on()
        if content.startswith(b"BAD"):  # a drawing may hold these letters in a GUID
            raise DrawingError(message("watched-file-empty", file="bad"))
        self.told.append(("made", content))

    def unusable(self, why):
        self.told.append(("unusable", say(why)))

    def same(self, files):
        self.told.append(("same", tuple(f.name for f in files)))

    def wait(self, count, seconds=60.0):
        """What was told, once there are ``count`` of it and nothing more comes for a while."""
        end = time.monotonic() + seconds
        while len(self.told) < count and time.monotonic() < end:
            time.sleep(0.02)
        time.sleep(3 * SAVE_QUIET_S)
        return self.told


@contextlib.contextmanager
def followed(recorder):
    stop = threading.Event()
    thread = threading.Thread(target=follow, args=(recorder, unfit(recorder.files[:1]), stop))
    thread.start()
    try:
        yield
    finally:
        stop.set()
        thread.join(60)
        assert not thread.is_alive()


def plainly(file, content):
    file.write_bytes(content)


def rename_over(file, content):
    beside = file.with_name("sav7C1.tmp")
    beside.write_bytes(content)
    os.replace(beside, file)


def keep_a_backup(file, content):
    backup = file.with_suffix(".bak")
    backup.unlink(missing_ok=True)
    file.rename(backup)
    time.sleep(0.05)
    file.write_bytes(content)


def delete_and_create(file, content):
    file.unlink()
    time.sleep(0.3)
    file.write_bytes(content)


def slowly(file, content):
    size = len(content) // 5 + 1
    with file.open("wb", buffering=0) as out:
        for at in range(0, len(content), size):
            out.write(content[at : at + size])
            time.sleep(1.5 * SAVE_QUIET_S)  # longer than the wait for quiet: the end mark decides


def in_many_strokes(file, content):
    for _ in range(10):
        file.write_bytes(content)
        os.utime(file)


@pytest.mark.parametrize(
    "save", [plainly, rename_over, keep_a_backup, delete_and_create, slowly, in_many_strokes]
)
def test_every_way_of_saving_is_one_save_taken_whole(save, plan, texts):
    plan.write_bytes(texts[0])
    recorder = Recorder(plan)
    with followed(recorder):
        assert recorder.wait(1) == [("made", texts[0])]
        save(plan, texts[1])
        assert recorder.wait(2) == [("made", texts[0]), ("made", texts[1])]


def test_a_bad_save_is_told_and_a_good_one_mends_it(plan):
    recorder = Recorder(plan)
    with followed(recorder):
        recorder.wait(1)
        plan.write_bytes(b"BAD\n0\nEOF\n")
        assert recorder.wait(2)[1:] == [("unusable", "bad: it is empty")]
        plan.write_bytes(b"0\nEOF\n")
        assert recorder.wait(3)[2:] == [("made", b"0\nEOF\n")]
        os.utime(plan)
        assert recorder.wait(4)[3:] == [("same", ("front.dxf",))]


def test_a_save_during_the_work_overtakes_it(plan):
    contents = iter([b"1\n0\nEOF\n", b"2\n0\nEOF\n"])

    def during():
        if content := next(contents, None):
            plan.write_bytes(content)

    recorder = Recorder(plan, during=during)
    with followed(recorder):
        assert recorder.wait(1) == [("made", b"2\n0\nEOF\n")]


def test_without_events_it_looks_by_itself(plan, monkeypatch):
    monkeypatch.setattr(watching, "_WAKING", ())
    recorder = Recorder(plan)
    with followed(recorder):
        recorder.wait(1)
        plan.write_bytes(b"5\n0\nEOF\n")
        assert recorder.wait(2)[1:] == [("made", b"5\n0\nEOF\n")]


# --------------------------------------------------------------- what changed


@pytest.fixture(scope="module")
def base(tmp_path_factory):
    return taken(tmp_path_factory.mktemp("base"), FIRST)


def taken(folder, source, **settings):
    options = {"layers.wall": ("WALL",), "layers.opening": ("OPENING",), **settings}
    return take_off([write_dxf(source, folder / "front.dxf")], load_job(None, options))


#   courses of 8: a head at 73 leaves a strip of 7, one at 71 a strip of 1: a sliver
def windowed(top):
    return drawing(wall=[(0, 0, 200, 96)], opening=[(60, 32, 96, top)])


@pytest.mark.parametrize(
    ("source", "told"),
    [
        (FIRST, [SAME]),
        (
            WIDER,
            [
                "gross +8.00 sq ft to 141.33 sq ft",
                "net +8.00 sq ft to 131.33 sq ft",
                "starter +1'-0\" to 17'-8\"",
            ],
        ),
        (
            drawing(wall=[(0, 0, 200, 96)]),
            [
                "openings −10.00 sq ft to 0.00 sq ft",
                "net +10.00 sq ft to 133.33 sq ft",
                "openings counted −1 to 0",
            ],
        ),
        (drawing(wall=[(0, 0, 200, 96), (300, 0, 396, 96)], opening=[WINDOW]), ["walls +1 to 2"]),
        (windowed(79), ["openings +1.75 sq ft to 11.75 sq ft", "new: SLIVER head of W1-O1"]),
    ],
)
def test_the_line_of_what_changed(base, tmp_path, source, told):
    line = what_changed(base, taken(tmp_path, source))
    assert all(part in line.split(", ") for part in told), line
    assert "\n" not in line


def test_what_is_new_one_way_is_cleared_the_other(base, tmp_path):
    other = taken(tmp_path, windowed(79))
    assert "cleared: SLIVER head of W1-O1" in what_changed(other, base)


def test_panels_by_plan_and_by_area(base, tmp_path):
    wider = taken(tmp_path, WIDER)
    more = wider.plan.flat.units - base.plan.flat.units
    assert f"flat panels {more:+d} to {wider.plan.flat.units}" in what_changed(base, wider)
    assert f"flat panels −{more} to {base.plan.flat.units}" in what_changed(wider, base), (
        "a true minus, as before areas"
    )
    loose = dataclasses.replace(wider, plan=None)
    assert f"no longer planned: about {loose.estimate.panels} panels by area" in what_changed(
        base, loose
    )
    assert "now planned: " in what_changed(loose, wider)
    # 1.1 x 123.33 / 2 is 67.8 and 1.1 x 131.33 / 2 is 72.2
    assert "panels by area +5 to 73" in what_changed(dataclasses.replace(base, plan=None), loose)
    assert "panels by area −5 to 68" in what_changed(loose, dataclasses.replace(base, plan=None))


def test_the_bid(base):
    def bid(total):
        lines = (
            *base.order.bid.lines[:-1],
            dataclasses.replace(base.order.bid.lines[-1], running=total),
        )
        return dataclasses.replace(
            base,
            order=dataclasses.replace(
                base.order, bid=dataclasses.replace(base.order.bid, lines=lines)
            ),
        )

    assert what_changed(bid(Decimal("1000.00")), bid(Decimal("1234.50"))).startswith(
        "bid +234.50 to 1,234.50"
    )
    assert what_changed(bid(Decimal("1234.50")), bid(Decimal("1000.00"))).startswith(
        "bid −234.50 to 1,000.00"
    )
    assert what_changed(bid(Decimal("1000.00")), bid(None)) == "bid has no total any more"


@pytest.mark.parametrize(("took", "told"), [(1.9, 1), (12.4, 2)])
def test_a_drawing_that_takes_long_to_read_is_announced_when_it_begins(base, took, told):
    lines = []
    following = Following(
        None,
        None,
        lambda coursed: (base, ()),
        lambda line, error=False: lines.append(line),
        print,
        base,
        took,
    )
    following.attempt([Path("front.dxf")])
    assert len(lines) == told
    assert told == 1 or lines[0].endswith("saved; reading it again, which took 12 s last time …")


def test_course_lines_are_told_before_panels(base, tmp_path):
    """The head at 79 leaves a strip of 1 in under the course line at 80."""
    wider, lines = taken(tmp_path, windowed(79)), []
    early = dataclasses.replace(wider, plan=None, order=None, notices=())

    def make(coursed):
        coursed(early)
        return wider, ()

    show = lambda line, error=False: lines.append(line.split("  ", 1)[1])  # noqa: E731
    Following(None, None, make, show, print, base).attempt([Path("front.dxf")])
    first, second = lines
    assert first.startswith("course lines: openings +1.75 sq ft") and "panels follow" in first
    assert "new: SLIVER head of W1-O1" in first and "no longer planned" not in first
    assert second.startswith("openings +1.75 sq ft") and "panels follow" not in second


def test_what_is_early_is_what_the_takeoff_has_without_its_panels(tmp_path):
    early, job = [], load_job(None, {"layers.wall": ("WALL",), "layers.opening": ("OPENING",)})
    file = write_dxf(windowed(79), tmp_path / "front.dxf")
    made = take_off([file], job, coursed=early.append)
    (bare,) = early
    assert bare.plan is None and bare.order is None and bare.totals == made.totals
    assert [w.courses.conflicts for w in bare.walls] == [w.courses.conflicts for w in made.walls]


def test_a_plan_that_nobody_waits_for_is_given_up_in_its_middle(tmp_path):
    """The planner asks at every course: here it is told once that it may stop."""
    asked = []

    def still():
        asked.append(None)
        return len(asked) < 5

    with pytest.raises(GivenUpError), wanted_while(still):
        taken(tmp_path, FIRST)
    assert len(asked) == 5
    taken(tmp_path, FIRST)  # and is wanted again afterwards


def test_metric_lines(base, tmp_path):
    # 8 sq ft are 0.74 m2
    assert "+0.74 m² to 12.20 m²" in what_changed(
        base, taken(tmp_path, WIDER, **{"output.display": "metric"})
    )


# ------------------------------------------------------------ the command itself


class Watching:
    """`dxf2veneer watch` as a process, its lines read as they come."""

    def __init__(self, folder, *args):
        command = [sys.executable, "-u", "-m", "dxf2veneer.cli", "watch", *map(str, args)]
        self.lines: list[str] = []
        # a shell's background job has interrupts ignored, and hands that on
        heard = lambda: signal.signal(signal.SIGINT, signal.SIG_DFL)  # noqa: E731
        self.process = subprocess.Popen(
            command,
            cwd=folder,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            preexec_fn=heard,
        )
        threading.Thread(
            target=lambda: self.lines.extend(iter(self.process.stdout.readline, "")), daemon=True
        ).start()
        self._read = self._lines()

    def _lines(self):
        at = 0
        while True:
            while at >= len(self.lines):
                yield None
            at += 1
            yield self.lines[at - 1].rstrip()

    def until(self, pattern, seconds=300.0):
        """The next line with that pattern; those passed over are kept in ``lines``."""
        end = time.monotonic() + seconds
        for line in self._read:
            if line is not None and re.search(pattern, line):
                return line
            if line is None:
                assert time.monotonic() < end, f"no {pattern} in {self.lines}"
                time.sleep(0.01)

    def end(self):
        self.process.send_signal(signal.SIGINT)
        return self.process.wait(60)


@pytest.fixture
def start(tmp_path):
    begun = []

    def begin(*args):
        begun.append(Watching(tmp_path, *args))
        return begun[-1]

    yield begin
    for one in begun:
        one.process.kill()
        one.process.wait()


needs_interrupts = pytest.mark.skipif(
    os.name == "nt", reason="a process can't be sent Ctrl-C alone there"
)


@needs_interrupts
def test_the_command_follows_saves_and_ends_cleanly(start, tmp_path, texts):
    front = tmp_path / "front.dxf"
    front.write_bytes(texts[0])
    # the outputs stand beside the drawing: writing them must not wake it again
    watch = start("front.dxf", *LAYERS, "-o", ".", "--json", "r.json")
    watch.until("Written: ")
    made = {
        name: (tmp_path / name).read_bytes()
        for name in ("front-courses.dxf", "front-takeoff.xlsx", "r.json")
    }

    began = time.monotonic()
    rename_over(front, texts[1])
    early = watch.until("front.dxf  course lines: gross ")
    print(f"course lines were told {time.monotonic() - began:.2f} s after the save")
    assert "panels follow" in early
    line = watch.until("front.dxf  gross ")
    print(f"a small drawing's outputs stood {time.monotonic() - began:.2f} s after its save")
    assert re.match(
        r"\d\d:\d\d:\d\d front\.dxf  gross \+8\.00 sq ft to 141\.33 sq ft, .* \(\d+\.\d s\)$", line
    )
    assert all((tmp_path / name).read_bytes() != before for name, before in made.items())

    made = {name: (tmp_path / name).read_bytes() for name in made}
    front.write_bytes(texts[0][:3000])
    assert "breaks off" in watch.until("front.dxf")
    front.write_bytes(texts[0].replace(b"WALL", b"WELL"))
    assert "the last outputs stay" in watch.until("front.dxf")
    assert {name: (tmp_path / name).read_bytes() for name in made} == made
    front.write_bytes(texts[0])
    watch.until(r"front\.dxf  gross −8\.00")
    assert watch.end() == 0
    watch.until("Ended")
    assert (
        sum("front.dxf" in line and re.match(r"\d\d:", line) is not None for line in watch.lines)
        == 6
    )
    assert not any("Traceback" in line for line in watch.lines)
    assert sorted(p.name for p in tmp_path.iterdir()) == [
        "front-courses.dxf",
        "front-cuts.xlsx",
        "front-takeoff.xlsx",
        "front.dxf",
        "r.json",
    ]


@needs_interrupts
def test_job_product_and_price_files_are_followed_too(start, tmp_path, texts):
    (tmp_path / "front.dxf").write_bytes(texts[0])
    job_text = '[layers]\nwall = "WALL"\nopening = "OPENING"\n[plan]\npanels = false\n'
    (tmp_path / "job.toml").write_text(job_text)
    watch = start("front.dxf", "--job", "job.toml", "-o", "out")
    watch.until("Written: ")
    # trim of 6 at the head of a window 36 wide: 216 sq in less net area
    (tmp_path / "job.toml").write_text(job_text + "[trim]\nhead = 6\n")
    assert "net −1.50 sq ft to 121.83 sq ft" in watch.until(r"job\.toml  ")
    (tmp_path / "job.toml").write_text(job_text + "[trim]\nheed = 6\n")
    assert "heed" in watch.until(r"job\.toml")
    (tmp_path / "prices.csv").write_text("item,unit,price\nflat_panel,box,54.00\n")
    (tmp_path / "job.toml").write_text(job_text + '[order]\nprices = "prices.csv"\n')
    watch.until(r"job\.toml.*  net \+1\.50")
    (tmp_path / "prices.csv").write_text("item,unit,price\nflat_panel,box,none\n")
    assert "row 2" in watch.until(r"prices\.csv")
    assert watch.end() == 0


def test_wrong_use_ends_as_in_takeoff(tmp_path, texts):
    def ended(*args):
        command = [sys.executable, "-m", "dxf2veneer.cli", "watch", *args]
        done = subprocess.run(
            command, cwd=tmp_path, capture_output=True, encoding="utf-8", timeout=300, check=False
        )
        assert "Traceback" not in done.stderr
        return done.returncode, done.stderr.strip().splitlines()[-1]

    assert ended("no.dxf", *LAYERS, "-o", "out") == (1, "Error: no.dxf: there is no such file")
    (tmp_path / "front.dxf").write_bytes(texts[0])
    assert ended("front.dxf", "-o", "out")[0] == 2
    assert ended("front.dxf", *LAYERS, "--job", "no.toml", "-o", "out")[0] == 2
    code, told = ended("front.dxf", *LAYERS, "-o", "out", "--json", "front.dxf")
    assert (code, "would be overwritten" in told) == (2, True)
    assert not (tmp_path / "out").exists()
