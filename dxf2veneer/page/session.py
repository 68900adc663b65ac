"""One drawing and one job file while the page is open."""

from __future__ import annotations

import dataclasses
import os
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, cast

from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.config.toml_edit import Value
from dxf2veneer.page.coursing import courses
from dxf2veneer.page.edits import edited
from dxf2veneer.page.figures import figures, job_of
from dxf2veneer.page.fitting import fitting_kind, kind_there
from dxf2veneer.page.history import History
from dxf2veneer.page.job_file import read_job_file
from dxf2veneer.page.marks import Marks, Unit, informed, of_job, proposed
from dxf2veneer.page.opened import open_drawing
from dxf2veneer.page.pointing import Snap
from dxf2veneer.page.state import size_text, state_of
from dxf2veneer.page.taking import Status, Taking
from dxf2veneer.wording import error_line

Stamp = tuple[int, int, int]
"""What tells that a file is another: its number, size, and time of the last change."""


class Session:
    """State of the page: the drawing as read, the marks with their history, the job file.

    Requests come from several threads; each method holds the lock while it runs, but for
    those that may take long and only read.
    """

    def __init__(
        self,
        drawing: Path,
        job: Path,
        *,
        options: Mapping[str, object] | None = None,
        outputs: Path | None = None,
    ) -> None:
        """Open a drawing and its job file.

        Args:
            drawing: The drawing.
            job: The job file, which need not be there yet.
            options: Settings of the section ``drawing`` by ``section.key``; they win over the job
                file and are written into it.
            outputs: Folder for takeoffs; beside the drawing, named after it, where left out.

        Raises:
            DrawingError: The drawing can't be read.
            SettingsError: The job file can't be used.
        """
        self._lock = threading.RLock()
        self._options = dict(options or {})
        self._file = read_job_file(job, _settings(self._options))
        self._job = self._file.job(self._options)
        self._stamp = _stamp(drawing)
        self._opened = open_drawing(drawing, self._job)
        self._history = History(self._first_marks())
        self._revision = 1
        self._trouble = ""
        self._taking = Taking(outputs or drawing.with_name(f"{drawing.stem}-takeoff"))
        self._unfit: frozenset[int] = frozenset()
        self._changing: Stamp | None = None

    # ------------------------------------------------------------------ reading

    @property
    def drawing(self) -> Path:
        """The drawing's file."""
        return self._opened.path

    @property
    def job_path(self) -> Path:
        """The job file's place."""
        return self._file.path

    @property
    def marks(self) -> Marks:
        """The marks as they are now."""
        return self._history.now

    def state(self) -> dict[str, Any]:
        """Everything that the page shows but lines and figures, as plain data."""
        with self._lock:
            self._follow()
            return self._state()

    def lines(self) -> bytes:
        """The drawing's lines, packed."""
        with self._lock:
            return self._opened.lines

    def get_ready(self) -> None:
        """Find the outlines of the elevations, which takes seconds, before anybody points."""
        opened = self._opened
        elevations = [v.box for v in opened.proposal.views if v.kind == "elevation"]
        opened.ground.get_ready(elevations)

    def outlines_at(self, x: float, y: float) -> list[dict[str, Any]]:
        """Outlines round a place, smallest first: points, size, what kind would fit, what it is."""
        with self._lock:
            ground, marks = self._opened.ground, self._history.now
            display = self._job.output.display
        return [
            {
                "points": [list(p) for p in outline],
                "size": size_text(outline, marks.unit.inches, display),
                "fits": kind_there(marks, outline) or fitting_kind(marks, outline),
                "is": kind_there(marks, outline),
            }
            for outline in ground.outlines_at((x, y))
        ]

    def snap(self, x: float, y: float, reach: float) -> Snap | None:
        """The end, crossing or line next to a place."""
        with self._lock:
            ground = self._opened.ground
        return ground.snap((x, y), reach)

    def bound_at(self, x: float, y: float, reach: float, how: str) -> dict[str, Any] | None:
        """The line next to a place, and the walls as it would bound them; None without a line or a
        wall."""
        with self._lock:
            ground, marks = self._opened.ground, self._history.now
            display = self._job.output.display
        line = ground.line_at((x, y), reach)
        if line is None:
            return None
        asked = {"do": "bound", "line": line, "at": (x, y), "how": how}
        try:
            after = edited(marks, asked)
        except TakeoffError:
            return None
        made = [m.outline for m in after.walls if m not in marks.walls]
        return {
            "line": [list(p) for p in line],
            "outlines": [[list(p) for p in outline] for outline in made],
            "sizes": [size_text(outline, marks.unit.inches, display) for outline in made],
        }

    def figures(self) -> dict[str, Any]:
        """What the marks come to, with the revision that they were measured at."""
        with self._lock:
            marks, job, revision = self._history.now, self._job, self._revision
        return {"revision": revision, **figures(self.drawing, job_of(job, marks), marks)}

    def courses(self) -> dict[str, Any]:
        """Course lines and slivers of each wall, with the revision that they belong to."""
        with self._lock:
            marks, job, revision = self._history.now, self._job, self._revision
        return {"revision": revision, **courses(self.drawing, job_of(job, marks), marks)}

    def job_text(self) -> str:
        """The job file as it would be saved now."""
        with self._lock:
            return self._text()

    # ----------------------------------------------------------------- changing

    def edit(self, asked: Mapping[str, Any]) -> dict[str, Any]:
        """Make a change and save.

        Args:
            asked: The change, see ``edits``.

        Returns:
            The new state.

        Raises:
            EditError: It can't be made.
        """
        return self._step(lambda: self._history.then(self._edited(asked)))

    def take_off(self) -> dict[str, Any]:
        """Save, and begin a takeoff of the job file."""
        with self._lock:
            if not self._file.is_there or self._trouble:
                self._save()
            if self._trouble:
                return Status(self._revision, problem=self._trouble).as_json()
            started = self._taking.start(self.drawing, self.job_path, self._revision)
            return started.as_json()

    def takeoff(self) -> dict[str, Any]:
        """How far the takeoff is, and what it came to."""
        return self._taking.status.as_json()

    def output(self, name: str) -> Path | None:
        """A file that the takeoff wrote; None where it wrote none of that name."""
        return self._taking.file(name)

    def undo(self) -> dict[str, Any]:
        """Take the last step back and save."""
        return self._step(lambda: self._history.undone())

    def redo(self) -> dict[str, Any]:
        """Make a step again that was taken back, and save."""
        return self._step(lambda: self._history.redone())

    def settle(self, *, mine: bool) -> dict[str, Any]:
        """End a clash over the job file: write over it, or take it as it stands.

        Args:
            mine: Whether what was pointed at counts, and not the file.

        Returns:
            The new state.

        Raises:
            SettingsError: The file can't be used.
        """
        with self._lock:
            there = self._file.read_again()
            if mine:
                # what the other hand wrote beside our marks stays
                self._file = there
                self._save()
            else:
                job = there.job(self._options)
                self._file, self._job, self._trouble = there, job, ""
                self._history = self._history.then(self._first_marks())
                self._revision += 1
            return self._state()

    # ------------------------------------------------------------------- inside

    def _edited(self, asked: Mapping[str, Any]) -> Marks:
        """The marks after a change. Another unit gives another proposal, which takes the place of
        the first one where nobody has changed it yet."""
        before = self._history.now
        if asked.get("do") == "look" and asked.get("view") == "*":
            views = self._opened.views_with_walls(before)
            return dataclasses.replace(before, looked_at=before.looked_at | views)
        if asked.get("do") == "crop":
            kept = self._opened.views_with_walls(before)
            boxes = [v.box for v in self._opened.proposal.views if v.id in kept]
            asked = {**asked, "views": boxes}
        after = edited(before, asked)
        if after.unit.inches and after.marks == self._proposed(before.unit).marks:
            self._opened = self._opened.in_unit(after.unit)
            after = after.having(self._proposed(after.unit).marks)
        return after

    def _proposed(self, unit: Unit) -> Marks:
        return proposed(self._opened.proposal, unit)

    def _step(self, made: Callable[[], History[Marks]]) -> dict[str, Any]:
        with self._lock:
            history = made()
            if history is not self._history:
                self._history = history
                self._opened = self._opened.in_unit(history.now.unit)
                self._revision += 1
                self._save()
            return self._state()

    def _save(self) -> None:
        try:
            self._file = self._file.saved(self._text())
            self._job = self._file.job(self._options)
            self._trouble = ""
        except TakeoffError as error:
            self._trouble = error_line(error)

    def _text(self) -> str:
        marks = self._history.now
        confirmed = self._opened.is_confirmed(marks)
        is_open = bool(marks.walls) or not self._job.layers.wall
        return self._file.text_with(
            marks, confirmed=confirmed if is_open else None, sha256=self._opened.sha256
        )

    def _state(self) -> dict[str, Any]:
        return state_of(
            self._opened,
            self._history,
            revision=self._revision,
            job_file=self._file.path,
            is_saved=self._file.is_there and not self._trouble,
            trouble=self._trouble,
            unfit=self._unfit,
            display=self._job.output.display,
        )

    def _first_marks(self) -> Marks:
        """The marks of the job file; where it has none those that the drawing proposes."""
        asked = self._job.drawing
        unit = Unit(asked.units or self._opened.proposal.unit, asked.scale)
        suggested = self._proposed(unit)
        if asked.wall_outline or asked.opening_outline or self._job.layers.wall:
            return informed(of_job(self._job), suggested)
        return suggested

    def _follow(self) -> None:
        """Read the drawing again where it has changed on the disk and is no longer being written;
        nothing that was pointed at is lost."""
        stamp = _stamp(self.drawing)
        if stamp == self._stamp or stamp is None:
            return
        if stamp != self._changing:
            self._changing = stamp
            return
        self._stamp, self._changing = stamp, None
        before = self._opened
        try:
            opened = open_drawing(before.path, self._job)
            self._opened = opened.in_unit(self._history.now.unit)
        except TakeoffError as error:
            self._trouble = error_line(error)
            self._revision += 1
            return
        self._unfit = before.unfit(self._history.now, self._opened)
        self._revision += 1
        if self._history.now.looked_at:
            unseen = dataclasses.replace(self._history.now, looked_at=frozenset())
            self._history = self._history.then(unseen)
        if self._file.is_there:
            self._save()


def _settings(options: Mapping[str, object]) -> dict[tuple[str, str], Value]:
    """Options as settings of a file, but for the unit, which is one of the marks."""
    return {
        ("drawing", key.partition(".")[2]): cast(Value, value)
        for key, value in options.items()
        if key != "drawing.units"
    }


def _stamp(path: Path) -> Stamp | None:
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_ino, found.st_size, found.st_mtime_ns
