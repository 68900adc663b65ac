"""A takeoff made from the page: the same as the command makes of the saved job file."""

from __future__ import annotations

import logging
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import Message, TakeoffError
from dxf2veneer.basics.notices import Level
from dxf2veneer.config.job import load_job
from dxf2veneer.model import Takeoff
from dxf2veneer.wording import error_line, say
from dxf2veneer.wording.cautions import UNCONFIRMED

_LOG = logging.getLogger(__name__)


@dataclass(frozen=True)
class Status:
    """How far a takeoff is."""

    revision: int = 0
    """The state of the marks that it is made of; 0 before the first one."""
    step: str = ""
    """What is being done; empty when nothing is."""
    problem: str = ""
    """Why there is none; empty where there is one."""
    rows: tuple[tuple[str, str], ...] = ()
    """What it comes to: name and value."""
    files: tuple[tuple[str, Path], ...] = ()
    """What was written: what it is, and where."""

    def as_json(self) -> dict[str, Any]:
        """The status as plain data; files by their names alone."""
        return {
            "revision": self.revision,
            "step": self.step,
            "problem": self.problem,
            "rows": [list(row) for row in self.rows],
            "files": [[what, path.name] for what, path in self.files],
        }


class Taking:
    """Makes takeoffs, one at a time, beside the requests of the page."""

    def __init__(self, folder: Path) -> None:
        """Outputs go into a folder, which is made when the first takeoff is."""
        self._folder = folder
        self._lock = threading.Lock()
        self._status = Status()

    @property
    def status(self) -> Status:
        """How far the last takeoff is."""
        return self._status

    def file(self, name: str) -> Path | None:
        """A file that the last takeoff wrote, by its name; None where there is none."""
        return next((path for _, path in self._status.files if path.name == name), None)

    def start(self, drawing: Path, job_file: Path, revision: int) -> Status:
        """Begin a takeoff, unless one is being made.

        Args:
            drawing: The drawing.
            job_file: The saved job file.
            revision: The state of the marks.

        Returns:
            The status.
        """
        if self._lock.acquire(blocking=False):
            self._status = Status(revision, step="Reading")
            threading.Thread(
                target=self._run, args=(drawing, job_file, revision), daemon=True
            ).start()
        return self._status

    def _run(self, drawing: Path, job_file: Path, revision: int) -> None:
        try:
            self._status = self._made(drawing, job_file, revision)
        except TakeoffError as error:
            self._status = Status(revision, problem=error_line(error))
        except Exception as error:  # a fault must end on the page, not in a thread's silence
            _LOG.debug("a takeoff failed", exc_info=True)
            self._status = Status(revision, problem=f"The takeoff failed: {type(error).__name__}")
        finally:
            self._lock.release()

    def _made(self, drawing: Path, job_file: Path, revision: int) -> Status:
        from dxf2veneer.app.outputs import Asked, outputs_of
        from dxf2veneer.app.pipeline import take_off
        from dxf2veneer.app.sparing import spare, spare_folders
        from dxf2veneer.app.writing import write_outputs

        def progress(step: Message) -> None:
            self._status = Status(revision, step=say(step))

        report = self._folder / f"{drawing.stem}.html"
        asked = Asked((drawing,), self._folder, job_file, report_file=report)
        job, outputs = load_job(job_file), outputs_of(asked)
        spare_folders(asked)
        spare(outputs, asked, job)
        taken = take_off(drawing, job, progress=progress)
        write_outputs(taken, (drawing,), outputs, progress=progress)
        files = (
            ("Report", report),
            ("Workbook", outputs.workbook),
            ("Drawing with courses", outputs.overlays[0]),
        )
        return Status(revision, rows=_rows(taken), files=files)


def _rows(taken: Takeoff) -> tuple[tuple[str, str], ...]:
    """What an estimator asks first: panels, waste, hours, money."""
    rows = []
    if taken.is_unconfirmed:
        rows.append(("State", UNCONFIRMED))
    if taken.errors:
        rows.append(("Errors", f"{len(taken.errors)}: do not use the numbers, see the report"))
    if taken.plan:
        rows.append(("Flat panels", f"{taken.plan.flat.units:,}"))
        rows.append(("Corner panels", f"{taken.plan.corner.units:,}"))
        rows.append(("Waste by layout", f"{taken.waste:.1%}"))
    else:
        rows.append(("Panels by area", f"{taken.estimate.panels:,}"))
    if taken.order:
        total = taken.order.bid.total
        rows.append(("Hours", f"{taken.order.hours:,}"))
        money = "no total: prices are missing" if total is None else f"{total:,}"
        rows.append(("Bid", f"{money} {taken.order.currency if total is not None else ''}".strip()))
    warnings = sum(n.count for n in taken.notices if n.level is Level.WARNING)
    rows.append(("Warnings", f"{warnings}, in the report" if warnings else "none"))
    return tuple(rows)
