"""One drawing and one job file while the page is open."""

from __future__ import annotations

import dataclasses
import logging
import threading
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, cast

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.config.job import Job
from dxf2veneer.config.toml_edit import Value
from dxf2veneer.page.answers import bound_at, outlines_at
from dxf2veneer.page.edits import EditError, edited
from dxf2veneer.page.history import History
from dxf2veneer.page.job_file import read_job_file
from dxf2veneer.page.marks import Marks, Unit, informed, of_job, proposed
from dxf2veneer.page.opened import Opened, looked_at, read_drawing
from dxf2veneer.page.pointing import Snap
from dxf2veneer.page.state import state_of
from dxf2veneer.page.taking import Status, Taking
from dxf2veneer.page.watching import Stamp, Watched
from dxf2veneer.wording import error_line, say

_LOG = logging.getLogger(__name__)
_LOOKING = "Looking for views, walls and openings"
_READING = "Reading the drawing again"
_NEEDS_VIEWS = frozenset({"look", "crop", "unit"})
"""Changes that can be made only where the views are known."""


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
        looks: bool = True,
    ) -> None:
        """Open a drawing and its job file.

        Args:
            drawing: The drawing.
            job: The job file, which need not be there yet.
            options: Settings of the section ``drawing`` by ``section.key``; they win over the job
                file and are written into it.
            outputs: Folder for takeoffs; beside the drawing, named after it, where left out.
            looks: Whether to look for views, walls and openings at once, which may take long;
                otherwise ``look`` does it.

        Raises:
            DrawingError: The drawing can't be read.
            SettingsError: The job file can't be used.
        """
        self.is_shown = threading.Event()
        """Set once a page shows the drawing and asks what it measures."""
        self._lock = threading.RLock()
        self._options = dict(options or {})
        self._file = read_job_file(job, _settings(self._options))
        self._job = self._file.job(self._options)
        self._watched = Watched(drawing)
        self._opened = read_drawing(drawing, self._job)
        self._history = History(self._first_marks())
        self._revision = 0
        self._trouble = self._problem = ""
        self._looking = _LOOKING
        self._saved_early = False
        self._taking = Taking(outputs or drawing.with_name(f"{drawing.stem}-takeoff"))
        self._unfit: frozenset[int] = frozenset()
        if looks:
            self.look()

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

    def look(self) -> str:
        """Look for views, walls and openings, while the page already shows the drawing.

        Returns:
            What kept them from being found, which the page tells too; empty where nothing did.
        """
        with self._lock:
            read, job = self._opened, self._job
        found, problem = read, ""
        try:
            found = looked_at(read, job)
        except TakeoffError as error:
            problem = f"Nothing could be proposed: {error_line(error)}"
        except Exception as error:  # a fault must end on the page, not in a thread's silence
            _LOG.debug("looking at the drawing failed", exc_info=True)
            problem = f"Nothing could be proposed: {type(error).__name__}"
        with self._lock:
            if self._opened is read:  # it has not been read again meanwhile
                self._take_in(found, problem)
        return problem

    def get_ready(self) -> None:
        """Find the outlines of the elevations, which takes seconds, before anybody points."""
        opened = self._opened
        elevations = [v.box for v in opened.proposal.views if v.kind == "elevation"]
        opened.ground.get_ready(elevations)

    def outlines_at(self, x: float, y: float) -> list[dict[str, Any]]:
        """Outlines round a place, see ``answers``."""
        with self._lock:
            asked = self._opened.ground, self._history.now, self._job.output.display
        return outlines_at(*asked, (x, y))

    def snap(self, x: float, y: float, reach: float) -> Snap | None:
        """The end, crossing or line next to a place."""
        with self._lock:
            ground = self._opened.ground
        return ground.snap((x, y), reach)

    def bound_at(self, x: float, y: float, reach: float, how: str) -> dict[str, Any] | None:
        """The line next to a place and what it would bound, see ``answers``."""
        with self._lock:
            asked = self._opened.ground, self._history.now, self._job.output.display
        return bound_at(*asked, (x, y), reach, how)

    def figures(self) -> dict[str, Any]:
        """What the marks come to, with the revision that they were measured at."""
        from dxf2veneer.page.figures import figures, job_of

        self.is_shown.set()
        with self._lock:
            marks, job, revision = self._history.now, self._job, self._revision
        return {"revision": revision, **figures(self.drawing, job_of(job, marks), marks)}

    def courses(self) -> dict[str, Any]:
        """Course lines and slivers of each wall, with the revision that they belong to."""
        from dxf2veneer.page.coursing import courses
        from dxf2veneer.page.figures import job_of

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
            if self._looking and not self._is_marked:
                told = say(message("page-still-looking"))
                return Status(self._revision, problem=told).as_json()
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

    def _take_in(self, found: Opened, problem: str) -> None:
        """What was found becomes what the page shows; marks that a person made stay."""
        self._opened, self._problem, self._looking = found, problem, ""
        if self._is_marked:
            suggested = self._proposed(self._history.now.unit)
            self._history = self._history.mapped(lambda marks: informed(marks, suggested))
        else:
            self._history = History(self._first_marks())
        self._opened = self._opened.in_unit(self._history.now.unit)
        self._revision += 1
        if self._saved_early:
            self._saved_early = False
            self._save()

    def _edited(self, asked: Mapping[str, Any]) -> Marks:
        """The marks after a change. Another unit gives another proposal, which takes the place of
        the first one where nobody has changed it yet."""
        before = self._history.now
        if self._looking and (asked.get("do") in _NEEDS_VIEWS or not self._is_marked):
            raise EditError(message("page-still-looking"))
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
                if self._looking:  # whether all was looked at is known once the views are
                    self._saved_early = True
                else:
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
            looking=self._looking,
            problem=self._problem,
            unfit=self._unfit,
            display=self._job.output.display,
        )

    @property
    def _is_marked(self) -> bool:
        """Whether a person or the job's layers say what is a wall; else the proposal counts."""
        return _says_walls(self._job) or bool(self._history.before)

    def _first_marks(self) -> Marks:
        """The marks of the job file; where it has none those that the drawing proposes."""
        asked = self._job.drawing
        unit = Unit(asked.units or self._opened.proposal.unit, asked.scale)
        suggested = self._proposed(unit)
        if _says_walls(self._job):
            return informed(of_job(self._job), suggested)
        return suggested

    def _follow(self) -> None:
        """Begin to read the drawing again where it has changed on the disk and is no longer being
        written."""
        if not self._watched.has_changed():
            return
        self._looking = _READING
        self._revision += 1
        asked = self._watched.stamp
        threading.Thread(target=self._read_again, args=(asked,), daemon=True).start()

    def _read_again(self, asked: Stamp | None) -> None:
        """Read the drawing and look at it again; nothing that was pointed at is lost."""
        with self._lock:
            before, job, marks = self._opened, self._job, self._history.now
            is_marked = self._is_marked
        opened, problem = before, ""
        try:
            opened = read_drawing(before.path, job)
        except TakeoffError as error:
            problem = f"The drawing has changed: {error_line(error)}"
        unfit = before.unfit(marks, opened) if is_marked else frozenset()
        with self._lock:
            if asked != self._watched.stamp:  # it has changed once more
                return
            self._revision += 1
            if problem:
                self._problem, self._looking = problem, ""
                return
            self._opened, self._looking, self._unfit = opened, _LOOKING, unfit
            if self._history.now.looked_at:
                unseen = dataclasses.replace(self._history.now, looked_at=frozenset())
                self._history = self._history.then(unseen)
            if self._file.is_there:
                self._save()
        self.look()


def _says_walls(job: Job) -> bool:
    return bool(job.drawing.wall_outline or job.drawing.opening_outline or job.layers.wall)


def _settings(options: Mapping[str, object]) -> dict[tuple[str, str], Value]:
    """Options as settings of a file, but for the unit, which is one of the marks."""
    return {
        ("drawing", key.partition(".")[2]): cast(Value, value)
        for key, value in options.items()
        if key != "drawing.units"
    }
