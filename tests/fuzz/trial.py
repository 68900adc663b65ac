"""One file through everything that the tool does with it.

A file passes where each step gives a result or stops with one clear line: no other exception, not
longer than ten seconds, not more than a gigabyte.
"""

from __future__ import annotations

import dataclasses
import json
import random
import resource
import signal
import tempfile
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.basics.notices import Level
from dxf2veneer.cli.survey_json import survey_json
from dxf2veneer.cli.terminal import face_lines, summary, survey_lines
from dxf2veneer.config.job import Job, load_job, with_settings
from dxf2veneer.drawing import DrawingError, survey_drawing
from dxf2veneer.drawing.load import load_faces
from dxf2veneer.drawing.outlines.picking import Face
from dxf2veneer.model import Takeoff
from dxf2veneer.wording import error_line, say
from dxf2veneer.wording.notice_lines import notice_lines
from dxf2veneer.writers.overlay import OverlayError, write_overlay
from dxf2veneer.writers.report import write_report
from dxf2veneer.writers.result import write_result
from dxf2veneer.writers.workbook import write_workbook

SECONDS = 10
BYTES = 1 << 30
LONGEST = 1_000
"""Characters of the longest message that is still one line to a reader."""

SETTINGS = {
    "layers.wall": ("A-WALL", "A-ELEV-OTLN"),
    "layers.opening": ("A-OPNG", "A-ELEV-GLAZ", "A-ELEV-VENT"),
    "layers.door": ("A-ELEV-DOOR",),
    "layers.outside_corner": ("A-ELEV-CORN-OUTS",),
    "layers.cap": ("A-ELEV-CAPS",),
    "layers.level": ("A-ELEV-LEVL",),
    "layers.name": ("A-ELEV-IDEN",),
    "plan.most": 120,  # laying out panels and courses has limits and tests of its own
    "limits.courses": 500,
    "limits.entities": 5_000,
}


class TooLongError(BaseException):
    """Of no kind that a reader catches."""


@dataclass(frozen=True)
class Failure:
    """What went wrong: its place in our code, so that equals are found once,
    and the whole story.
    """

    key: str
    story: str


def settings_for(chance: random.Random, *, thorough: bool = False) -> Job:
    """The job of one trial: mostly the plain one, sometimes with settings that take other ways;
    a thorough one has a plan.
    """
    asked = dict(SETTINGS)
    if chance.random() < 0.5:
        asked["drawing.units"] = chance.choice(("in", "mm", "ft"))
    if chance.random() < 0.3:
        asked |= {"trim.head": 8.0, "trim.jambs": 4.0, "trim.sill": 4.0, "courses.clearance": 4.0}
    if chance.random() < 0.15:
        asked["courses.start"] = "best"
    if chance.random() < 0.15:
        asked["recognise.nested_walls"] = chance.choice(("hole", "separate", "ignore"))
    if chance.random() < 0.15:
        asked |= {"drawing.window": ("N=-10,-10,210,110",), "drawing.opening_at": ("70,50", "1,1")}
    if chance.random() < 0.15:
        asked |= {
            "layers.wall_mark": ("A-ELEV-IDEN",),
            "layers.opening_mark": ("A-ELEV-IDEN",),
            "drawing.include_hidden": True,
        }
    if chance.random() < 0.15:
        asked["recognise.edge_kind"] = "end"
    return load_job(None, {**asked, "plan.panels": thorough or chance.random() < 0.25})


def failure_of(content: bytes, seed: int, *, thorough: bool = False) -> Failure | None:
    """What goes wrong with a file, or None. ``seed`` chooses settings and which outputs are
    tried.
    """
    chance = random.Random(seed)
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder:
        source = Path(folder) / "odd.dxf"
        source.write_bytes(content)
        try:
            with at_most(SECONDS):
                readable = _look(source, chance, thorough)
            if readable or thorough or chance.random() < 0.1:
                with at_most(SECONDS):
                    _take(source, chance, thorough)
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt | SystemExit):
                raise
            return failure_from(error)
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
    return Failure("memory", f"the process took {used >> 20} MB") if used > BYTES else None


@contextmanager
def at_most(seconds: int) -> Iterator[None]:
    """Stops what takes longer by the processor's clock, whatever else the machine is doing."""

    def stop(signum: int, frame: object) -> None:
        raise TooLongError(f"longer than {seconds} s")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def _look(source: Path, chance: random.Random, thorough: bool) -> bool:
    """The command layers, with a list of faces now and then; whether the file can be read."""
    try:
        survey = survey_drawing(source)
        _check_lines(survey_lines(survey))
        _check_lines(notice_lines(survey.notices, (), least=Level.INFO))
        json.dumps(survey_json(survey))
    except DrawingError as error:
        _check_lines([error_line(error)])
        return False
    if thorough or chance.random() < 0.1:
        try:
            faces: list[Face] = load_faces(
                source, load_job(None, {**SETTINGS, "drawing.units": "in"})
            )
            _check_lines(face_lines(faces))
        except DrawingError as error:
            _check_lines([error_line(error)])
    return True


def _take(source: Path, chance: random.Random, thorough: bool) -> None:
    """The command takeoff, each output for a share of the files."""
    job = settings_for(chance, thorough=thorough)
    try:
        takeoff = take_off([source], job)
    except DrawingError as error:
        _check_lines([error_line(error)])
        return
    _check_lines(summary(takeoff))
    _check_lines(notice_lines(takeoff.notices, takeoff.drawings, least=Level.INFO))
    errors = [say(n.message) for n in takeoff.notices if n.level is Level.ERROR]
    assert not errors, f"numbers that do not agree: {errors[0]}"
    folder = source.parent
    write_result(takeoff, folder / "result.json")
    json.loads((folder / "result.json").read_text(encoding="utf-8"), parse_constant=_no_number)
    for share, write in ((0.2, _overlay), (0.1, _overlay_only), (0.03, _workbook), (0.2, _report)):
        if thorough or chance.random() < share:
            write(takeoff, source)


def _no_number(text: str) -> None:
    raise AssertionError(f"the result holds {text}")


def _overlay(takeoff: Takeoff, source: Path) -> None:
    written = source.with_name("courses.dxf")
    try:
        write_overlay(takeoff, takeoff.drawings[0], source, written)
    except OverlayError as error:
        _check_lines([error_line(error)])
        assert not written.exists()


def _overlay_only(takeoff: Takeoff, source: Path) -> None:
    only = dataclasses.replace(takeoff, job=with_settings(takeoff.job, output__overlay_only=True))
    write_overlay(only, only.drawings[0], source, source.with_name("only.dxf"))


def _workbook(takeoff: Takeoff, source: Path) -> None:
    write_workbook(takeoff, source.with_name("takeoff.xlsx"))


def _report(takeoff: Takeoff, source: Path) -> None:
    write_report(takeoff, source.with_name("report.html"))


def _check_lines(lines: object) -> None:
    """Each is one line of a length that can be read."""
    for line in lines:  # type: ignore[attr-defined]
        assert "\n" not in line, "more than one line"
        assert "Traceback" not in line
        assert len(line) <= LONGEST, f"a line of {len(line)} characters: {line[:200]}"


def failure_from(error: BaseException) -> Failure:
    """The error by its kind and the last place in our code that it went through."""
    frames = [
        f
        for f in traceback.extract_tb(error.__traceback__)
        if "dxf2veneer" in f.filename.rpartition("tests/")[2]
    ]
    ours = [
        f for f in frames if "/dxf2veneer/" in f.filename and "/fuzz/" not in f.filename
    ] or frames
    place = f"{Path(ours[-1].filename).name}:{ours[-1].name}" if ours else ""
    kind = type(error).__name__
    detail = str(error)[:24] if isinstance(error, AssertionError) else ""
    story = "".join(traceback.format_exception(error))
    return Failure(" ".join(f"{kind} {place} {detail}".split()), story)
