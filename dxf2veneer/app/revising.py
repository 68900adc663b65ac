"""Two versions of a job's drawings taken off and compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from dxf2veneer.app.hand_changes import with_hand_changes
from dxf2veneer.app.pipeline import take_off
from dxf2veneer.app.plan_before import plan_before
from dxf2veneer.app.relayering import lacks_layers, relayered
from dxf2veneer.app.stages import Progress, unwatched
from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import REVISION_MOVE_IN
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.drawing import DrawingError
from dxf2veneer.model import Recorded, Revision, Takeoff
from dxf2veneer.revisions import compare, load_recorded, recorded


@dataclass(frozen=True)
class Compared:
    """A comparison, and the takeoffs that it is of."""

    revision: Revision
    old: Takeoff | None
    """None where a result file was compared."""
    new: Takeoff | None
    """None where a result file was compared."""


@dataclass(frozen=True)
class Version:
    """One side of a comparison: drawings that are one job, or the result of a takeoff."""

    name: str
    """What to call it: the file's name, or the folder's."""
    drawings: tuple[Path, ...]
    result: Path | None = None

    @property
    def inputs(self) -> tuple[Path, ...]:
        """Every file that is read."""
        return (*self.drawings, *([self.result] if self.result else []))


def version_of(path: Path) -> Version:
    """What a path names.

    Args:
        path: A drawing, a result file (JSON), or a folder: of drawings, which are one job, or of
            one result.

    Returns:
        The drawings or the result.

    Raises:
        SettingsError: There is no such file, or neither drawing nor result in the folder.
    """
    if path.is_dir():
        return _of_folder(path)
    if not path.exists():
        raise SettingsError(message("compare-file-missing", file=str(path)))
    if path.suffix.lower() == ".json":
        return Version(path.name, (), path)
    return Version(path.name, (path,))


def _of_folder(folder: Path) -> Version:
    drawings = files_in(folder, ".dxf")
    if drawings:
        return Version(folder.name, drawings)
    results = files_in(folder, ".json")
    if not results:
        raise SettingsError(message("compare-nothing-there", folder=str(folder)))
    if len(results) > 1:
        raise SettingsError(message("compare-mixed", folder=str(folder)))
    return Version(results[0].name, (), results[0])


def files_in(folder: Path, ending: str) -> tuple[Path, ...]:
    """The files of a folder with an ending, by name.

    Args:
        folder: The folder.
        ending: Such as ``.dxf``; upper and lower case alike.

    Returns:
        The files.
    """
    return tuple(sorted(p for p in folder.iterdir() if p.suffix.lower() == ending and p.is_file()))


def compared(
    old: Version,
    new: Version,
    job: Job,
    new_job: Job | None = None,
    *,
    tolerance: float = REVISION_MOVE_IN,
    keep_plan: bool = False,
    workbook: Path | None = None,
    progress: Progress = unwatched,
) -> Compared:
    """Take both versions off and compare them.

    Args:
        old: The version before.
        new: The version now.
        job: The settings of both takeoffs.
        new_job: Other settings for the new one.
        tolerance: Edges that are off by no more than this many inches did not move.
        keep_plan: Whether the new walls are laid with what can be kept of the plan before.
        workbook: The workbook before, whose changes by hand are carried over.
        progress: Is given each step as it begins.

    Returns:
        The comparison, with the takeoffs that were made for it.

    Raises:
        TakeoffError: A drawing, result or setting can't be used.
    """
    old_record, old_takeoff = _side(old, job, progress)
    notes: tuple[Message, ...] = ()
    new_takeoff: Takeoff | None
    if new.result:
        new_record, new_takeoff = load_recorded(new.result), None
    else:
        make = partial(take_off, new.drawings, progress=progress)
        if keep_plan and old_takeoff:
            make = partial(make, before=partial(plan_before, old_takeoff))
        if new_job:
            new_takeoff = make(new_job)
        else:
            new_takeoff, notes = _relayered(old_record, old, new, job, make)
        if workbook:
            new_takeoff = with_hand_changes(new_takeoff, workbook)
        new_record = _record(new_takeoff, new)
    revision = compare(old_record, new_record, tolerance=tolerance, notes=notes)
    return Compared(revision, old_takeoff, new_takeoff)


def _side(side: Version, job: Job, progress: Progress) -> tuple[Recorded, Takeoff | None]:
    """A takeoff made, or an earlier one read."""
    if side.result:
        return load_recorded(side.result), None
    takeoff = take_off(side.drawings, job, progress=progress)
    return _record(takeoff, side), takeoff


def _record(takeoff: Takeoff, side: Version) -> Recorded:
    """A takeoff as its result file would record it."""
    from dxf2veneer.writers.result import result_dict

    return recorded(result_dict(takeoff), side.name)


def _relayered(
    before: Recorded, old: Version, new: Version, job: Job, make: Callable[[Job], Takeoff]
) -> tuple[Takeoff, tuple[Message, ...]]:
    """The takeoff of new drawings, with the names that layers have there, and what is told of
    these."""
    try:
        takeoff = make(job)
    except DrawingError:
        asked, notes = relayered(before, old.drawings, new.drawings, job)
        if asked is job:
            raise
    else:
        if not lacks_layers(before, takeoff.drawings, job):
            return takeoff, ()
        asked, notes = relayered(before, old.drawings, new.drawings, job)
        if asked is job:
            return takeoff, notes
    return make(asked), notes
