"""Every drawing a job of its own: its takeoff made and written, unless that is done already."""

from __future__ import annotations

import logging
from collections.abc import Generator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from dxf2veneer.app.batch import record
from dxf2veneer.app.batch.record import Done
from dxf2veneer.app.batch.summary import Row
from dxf2veneer.app.batch.workers import pooled
from dxf2veneer.app.faults import fault_of
from dxf2veneer.app.hand_changes import with_hand_changes
from dxf2veneer.app.outputs import (
    Asked,
    Outputs,
    as_made,
    other_inputs,
    outputs_of_each,
    stems_of,
)
from dxf2veneer.app.sparing import spare
from dxf2veneer.app.writing import write_outputs
from dxf2veneer.basics.messages import Message, TakeoffError, message
from dxf2veneer.basics.version import __version__
from dxf2veneer.config.job import Job
from dxf2veneer.wording import say

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
class Outcome:
    """What came of one drawing: its row in the summary."""

    row: Row
    done: Done | None = None
    """None where there is no takeoff; the row says why."""
    fresh: bool = True
    """Whether it was made now, and not found done."""
    errors: tuple[str, ...] = ()
    """Lines of the takeoff's errors."""


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
    tasks: Sequence[Task], asked: Asked, job: Job, *, workers: int
) -> Generator[Outcome]:
    """The outcome of each task as it is done; the record says so first.

    Args:
        tasks: The drawings.
        asked: The folder of the record, and whether other people's files may be replaced.
        job: The settings.
        workers: How many drawings are at work at once.

    Returns:
        Outcomes in the order in which they are done.

    Raises:
        OSError: The record can't be written.
    """
    work = partial(take_one, asked=replace(asked, drawings=()), job=job)
    with closing(pooled(work, tasks, min(workers, len(tasks)))) as coming:
        for task, outcome in coming:
            if outcome is None:
                outcome = _failed(task, message("worker-lost", file=str(task.drawing)), job)
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
    if task.before and task.before.holds(task.drawing, task.asked, asked.folder):
        _LOG.info("%s is done already", task.drawing)
        return Outcome(task.before.row, task.before, fresh=False)
    try:
        return _made(task, replace(asked, drawings=(task.drawing,)), job)
    except TakeoffError as error:
        _LOG.debug("%s can't be used", task.drawing, exc_info=True)
        return _failed(task, error.message, job)
    except Exception as error:  # a fault of ours with one drawing must not cost the others
        _LOG.exception("an unexpected fault with %s", task.drawing)
        return _failed(task, fault_of(error, [task.drawing]), job)


def _made(task: Task, asked: Asked, job: Job) -> Outcome:
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.basics.notices import Level
    from dxf2veneer.wording.notice_lines import notice_lines

    spare(task.outputs, asked, job)
    documents: dict[Path, Any] = {}
    takeoff = take_off(asked.drawings, job, keep=documents.__setitem__)
    if asked.keep_changes:
        takeoff = with_hand_changes(takeoff, task.outputs.workbook)
    outputs = as_made(task.outputs, takeoff, task.pictures)
    spare(outputs, asked, job)
    write_outputs(takeoff, asked.drawings, outputs, documents=documents)
    done = Done(
        drawing=takeoff.drawings[0].sha256,
        asked=task.asked,
        outputs={record.place(path, asked.folder): record.digest(path) for path in outputs},
        row=Row.of(str(task.drawing), takeoff),
    )
    lines = notice_lines(
        takeoff.notices, takeoff.drawings, least=Level.ERROR, display=job.output.display
    )
    return Outcome(done.row, done, errors=tuple(lines))


def _failed(task: Task, why: Message, job: Job) -> Outcome:
    return Outcome(Row(str(task.drawing), problem=say(why, job.output.display)))
