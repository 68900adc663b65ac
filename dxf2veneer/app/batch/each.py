"""Every drawing a job of its own: its takeoff made and written, unless that is done already."""

from __future__ import annotations

import logging
from collections.abc import Generator, Iterable, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.app.batch import record
from dxf2veneer.app.batch.budget import Budget, Ended
from dxf2veneer.app.batch.record import Done
from dxf2veneer.app.batch.summary import Row
from dxf2veneer.app.batch.workers import pooled
from dxf2veneer.app.faults import fault_of
from dxf2veneer.app.hand_changes import with_hand_changes
from dxf2veneer.app.outputs import (
    Asked,
    Outputs,
    as_made,
    folders_of,
    other_inputs,
    outputs_of_each,
    stems_of,
)
from dxf2veneer.app.sparing import spare
from dxf2veneer.app.stages import watched
from dxf2veneer.app.writing import write_outputs
from dxf2veneer.basics.messages import Message, TakeoffError, message
from dxf2veneer.basics.version import __version__
from dxf2veneer.config.job import Job
from dxf2veneer.textio.plain_files import size_of
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.wording import say

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff

_LOG = logging.getLogger(__name__)


@dataclass(frozen=True)
class Task:
    """One drawing, the files to write, and what the record knows of them."""

    drawing: Path
    outputs: Outputs
    pictures: Path | None
    """The folder for its pictures, where they are asked for."""
    asked: str
    """Hash of all that the outputs follow from, besides the drawing."""
    before: Done | None = None


@dataclass(frozen=True)
class Told:
    """What is kept of a takeoff once its outputs are written."""

    drawing: str
    """SHA-256 of the drawing."""
    row: Row
    errors: tuple[str, ...]
    """Lines of its errors."""
    changes: tuple[str, ...]
    """Lines of the changes by hand in the workbook that stood there."""


@dataclass(frozen=True)
class Outcome:
    """What came of one drawing: its row in the summary."""

    row: Row
    done: Done | None = None
    """None where there is no takeoff; the row says why."""
    fresh: bool = True
    """Whether it was made now, and not found done."""
    errors: tuple[str, ...] = ()
    """Lines of the takeoff's errors."""
    changes: tuple[str, ...] = ()
    """Lines of the changes by hand in the workbook that stood there."""


def tasks_of(asked: Asked, job: Job, *, again: bool = False) -> tuple[Task, ...]:
    """A task for each drawing.

    Args:
        asked: The drawings and folders.
        job: The settings of every one.
        again: Whether nothing counts as done.

    Returns:
        The tasks in the order of the drawings.

    Raises:
        OSError: The record of the folder can't be used.
    """
    known = record.open_record(asked.folder)
    if again:
        known = {}
    inputs = [f"{path} {record.digest(path)}" for path in other_inputs(asked, job)]
    tasks = []
    for drawing, stem, outputs in zip(
        asked.drawings, stems_of(asked.drawings), outputs_of_each(asked), strict=True
    ):
        pictures = asked.picture_folder / stem if asked.picture_folder else None
        places = [
            record.place(path, asked.folder)
            for path in (*outputs, *([pictures] if pictures else []))
        ]
        hashed = record.hash_of([__version__, repr(job), str(drawing), *inputs, *places])
        tasks.append(Task(drawing, outputs, pictures, hashed, known.get(places[0])))
    return tuple(tasks)


def take_off_each(
    tasks: Sequence[Task], asked: Asked, job: Job, *, workers: int, budget: Budget
) -> Generator[Outcome]:
    """The outcome of each task as it is done; the record says so first.

    Args:
        tasks: The drawings.
        asked: The folder of the record, and whether other people's files may be replaced.
        job: The settings.
        workers: How many drawings are at work at once.
        budget: What each may take.

    Returns:
        Outcomes in the order in which they are done.

    Raises:
        OSError: The record can't be written.
    """
    work = partial(take_one, asked=replace(asked, drawings=()), job=job)
    outputs = chain.from_iterable(task.outputs for task in tasks)
    bounded = replace(budget, folders=folders_of(asked, outputs))
    with closing(pooled(work, tasks, min(workers, len(tasks)), bounded)) as coming:
        yield from recorded(coming, asked, job, budget)


def recorded(
    coming: Iterable[tuple[Task, Outcome | Ended]], asked: Asked, job: Job, budget: Budget
) -> Generator[Outcome]:
    """Outcomes, each written into the record before it is passed on.

    Args:
        coming: Tasks and what came of them, as they are done.
        asked: The folder of the record.
        job: The settings.
        budget: What each might take.

    Returns:
        The outcomes; for work that ended before it was done the row says why.

    Raises:
        OSError: The record can't be written.
    """
    for task, outcome in coming:
        if isinstance(outcome, Ended):
            outcome = failed(task, why_ended(outcome, (task.drawing,), budget), job)
        if outcome.done and outcome.fresh:
            record.add(asked.folder, outcome.done)
        yield outcome
    record.open_record(asked.folder)


def take_one(task: Task, *, asked: Asked, job: Job) -> Outcome:
    """The outcome of one task. Whatever goes wrong with a drawing becomes a line in its row.

    Args:
        task: The drawing.
        asked: Whether other people's files may be replaced.
        job: The settings.

    Returns:
        What is found done, made now, or why there is no takeoff.
    """
    if found := done_before(task, asked):
        return found
    try:
        return _made(task, replace(asked, drawings=(task.drawing,)), job)
    except TakeoffError as error:
        _LOG.debug("%s can't be used", task.drawing, exc_info=True)
        return failed(task, error.message, job)
    except MemoryError:
        return failed(task, message("memory-ran-out", file=str(task.drawing)), job)
    except Exception as error:  # a fault of ours with one drawing must not cost the others
        _LOG.exception("an unexpected fault with %s", task.drawing)
        return failed(task, fault_of(error, [task.drawing]), job)


def done_before(task: Task, asked: Asked) -> Outcome | None:
    """The outcome of a task that is done already.

    Args:
        task: The drawing.
        asked: The folder of the record, and whether changes by hand are kept: where they are not, a
            workbook that holds some is not done.

    Returns:
        What the record says; None where the task is to be done.
    """
    if task.before is None or not task.before.holds(task.drawing, task.asked, asked.folder):
        return None
    if not asked.keep_changes and not is_ours(task.outputs.workbook):
        return None
    _LOG.info("%s is done already", task.drawing)
    return Outcome(task.before.row, task.before, fresh=False)


def _made(task: Task, asked: Asked, job: Job) -> Outcome:
    spare(task.outputs, asked, job)
    takeoff, documents = taken_off(task, asked, job)
    outputs = as_made(task.outputs, takeoff, task.pictures)
    spare(outputs, asked, job)
    write_outputs(takeoff, asked.drawings, outputs, documents=documents, progress=watched())
    return outcome_of(task, told_of(task, takeoff, job), outputs, asked)


def taken_off(task: Task, asked: Asked, job: Job) -> tuple[Takeoff, dict[Path, Any]]:
    """The takeoff of a task's drawing, before anything is written.

    Args:
        task: The drawing, and the workbook whose changes by hand may be kept.
        asked: Whether they are.
        job: The settings.

    Returns:
        The takeoff, and documents that were read whole.

    Raises:
        TakeoffError: It can't be made.
    """
    from dxf2veneer.app.pipeline import take_off

    documents: dict[Path, Any] = {}
    takeoff = take_off([task.drawing], job, progress=watched(), keep=documents.__setitem__)
    if asked.keep_changes:
        takeoff = with_hand_changes(takeoff, task.outputs.workbook)
    return takeoff, documents


def told_of(task: Task, takeoff: Takeoff, job: Job) -> Told:
    """What is kept of a takeoff once its outputs are written.

    Args:
        task: The drawing.
        takeoff: Its takeoff.
        job: The settings; their units.

    Returns:
        Its row and the lines of its errors and of changes by hand.
    """
    from dxf2veneer.basics.notices import Level
    from dxf2veneer.wording.hand_changes import hand_change_line
    from dxf2veneer.wording.notice_lines import notice_lines

    lines = notice_lines(
        takeoff.notices, takeoff.drawings, least=Level.ERROR, display=job.output.display
    )
    changes = tuple(map(hand_change_line, takeoff.hand_changes))
    row = Row.of(str(task.drawing), takeoff)
    return Told(takeoff.drawings[0].sha256, row, tuple(lines), changes)


def outcome_of(task: Task, told: Told, outputs: Iterable[Path], asked: Asked) -> Outcome:
    """The outcome of a task whose outputs stand in their places.

    Args:
        task: The drawing.
        told: What is kept of its takeoff.
        outputs: The files.
        asked: The folder of the record.

    Returns:
        Its row, its line for the record, and the lines of errors and changes by hand.
    """
    hashes = {record.place(path, asked.folder): record.digest(path) for path in outputs}
    done = Done(drawing=told.drawing, asked=task.asked, outputs=hashes, row=told.row)
    return Outcome(told.row, done, errors=told.errors, changes=told.changes)


def why_ended(ended: Ended, drawings: Sequence[Path], budget: Budget) -> Message:
    """Why work on a takeoff came to nothing.

    Args:
        ended: How it ended, and at what.
        drawings: Its drawings.
        budget: What it might take.

    Returns:
        What to tell.
    """
    files = tuple(map(str, drawings))
    size = sum(size_of(path) or 0 for path in drawings) / 1e6
    if ended.why == "time":
        return message("over-time", files=files, size=size, seconds=budget.seconds, step=ended.step)
    return message(
        "worker-lost", files=files, size=size, megabytes=budget.megabytes, step=ended.step
    )


def failed(task: Task, why: Message, job: Job) -> Outcome:
    """The outcome of a task that came to nothing.

    Args:
        task: The drawing.
        why: What to tell.
        job: The settings; their units.

    Returns:
        A row that says why.
    """
    return Outcome(Row(str(task.drawing), problem=say(why, job.output.display)))
