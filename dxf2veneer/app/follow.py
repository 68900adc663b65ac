"""What `dxf2veneer watch` does with a save: a takeoff written anew, and one line about what
changed."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Protocol

from dxf2veneer.app.changes import courses_changed, what_changed
from dxf2veneer.app.outputs import Asked, Outputs, other_inputs
from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import SLOW_TAKEOFF_S
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job, load_job
from dxf2veneer.drawing.file.form import breaks_off
from dxf2veneer.model import Takeoff
from dxf2veneer.wording import say
from dxf2veneer.wording.hand_changes import hand_change_line

_STAYS = "the last outputs stay"


class Show(Protocol):
    """Shows one line, of an error or of a change."""

    def __call__(self, line: str, *, error: bool = False) -> None:
        """Show it."""


def unfit(drawings: Sequence[Path]) -> Callable[[Path, bytes], Message | None]:
    """Why a file's content is not whole yet: drawings need their end mark, others some text.

    Args:
        drawings: Which of the files are drawings.

    Returns:
        A function of a file and its bytes, whose result is None where the content is whole.
    """

    def why(file: Path, content: bytes) -> Message | None:
        if not content.strip():
            return message("watched-file-empty", file=str(file))
        if file in drawings and breaks_off(content):
            return message("file-breaks-off", file=str(file))
        return None

    return why


@dataclass
class Following:
    """The takeoff that follows its inputs; a ``watch.Follower``.

    ``make`` makes a takeoff and writes it; the function that it is given it calls as soon as course
    lines are known, with a takeoff that has no more than these. The first takeoff goes to
    ``report`` whole, each later one to ``show`` as what it changed, course lines ahead.
    """

    asked: Asked
    job: Job
    make: Callable[[Callable[[Takeoff], None]], tuple[Takeoff, Outputs]]
    show: Show
    report: Callable[[Takeoff, Outputs], None]
    last: Takeoff | None = None
    coursed_s: float = 0.0
    """What it took until course lines were known, the last time."""

    def inputs(self) -> tuple[Path, ...]:
        """The drawings, the job file, and what the job file names, as it last could be read."""
        with contextlib.suppress(SettingsError):
            self.job = load_job(self.asked.job_file, self.asked.settings)
        return (*self.asked.drawings, *other_inputs(self.asked, self.job))

    def attempt(self, files: Sequence[Path]) -> None:
        """Make and write the takeoff, and say what changed."""
        if self.coursed_s > SLOW_TAKEOFF_S:
            self.show(
                f"{_now()} saved; reading it again, which took {self.coursed_s:.0f} s last time …"
            )
        before, began = self.last, datetime.now()

        def coursed(early: Takeoff) -> None:
            self.coursed_s = _seconds_since(began)
            if before is not None:
                line = courses_changed(before, early)
                self._line(files, f"{line} ({self.coursed_s:.1f} s); panels follow")

        self.last, outputs = self.make(coursed)
        if before is None:
            self.report(self.last, outputs)
        else:
            line = what_changed(before, self.last)
            self._line(files, f"{line} ({_seconds_since(began):.1f} s)")
            for change in self.last.hand_changes:
                if change not in before.hand_changes:
                    self.show(f"{_now()} {hand_change_line(change)}")

    def unusable(self, why: Message) -> None:
        """Say why a save can't be used."""
        line = say(why, self.job.output.display)
        self.show(f"{_now()} {line}; {_STAYS}" if self.last else f"{_now()} {line}", error=True)

    def same(self, files: Sequence[Path]) -> None:
        """Say that a save changed nothing."""
        self._line(files, "unchanged")

    def _line(self, files: Sequence[Path], text: str) -> None:
        self.show(f"{_now()} {', '.join(f.name for f in files)}  {text}")


def _seconds_since(began: datetime) -> float:
    return (datetime.now() - began).total_seconds()


def _now() -> str:
    return f"{datetime.now():%H:%M:%S}"
