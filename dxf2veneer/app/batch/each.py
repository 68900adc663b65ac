"""Every drawing a job of its own: its takeoff made and written, unless that is done already."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from dxf2veneer import __version__
from dxf2veneer.app.batch import record
from dxf2veneer.app.batch.across import Row
from dxf2veneer.app.batch.desks import worked
from dxf2veneer.app.batch.record import Done
from dxf2veneer.app.outputs import (
    Asked,
    OutputClashError,
    Outputs,
    WriteError,
    other_inputs,
    spare,
    stems_of,
    with_pictures,
    write_outputs,
)
from dxf2veneer.config.job import Job
from dxf2veneer.config.settings import SettingsError
from dxf2veneer.wording import error_line

LOST = (
    "the process that worked on it ended early, perhaps for lack of memory; try it with --workers 1"
)


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
    """What came of one drawing: its row, and lines about grave notices."""

    row: Row
    done: Done | None = None
    """None where there is no takeoff; the row says why."""
    fresh: bool = True
    """Whether it was made now, and not found done."""
    told: tuple[str, ...] = ()


def outputs_of_each(asked: Asked) -> tuple[Outputs, ...]:
    """The files of each drawing. ``json_file``, ``report_file`` and ``pdf_file`` are folders then."""
    return tuple(
        Outputs(
            overlays=(asked.folder / f"{stem}-courses.dxf",),
            workbook=asked.folder / f"{stem}-takeoff.xlsx",
            result=asked.json_file / f"{stem}.json" if asked.json_file else None,
            lines=asked.csv_folder / f"{stem}-order.csv" if asked.csv_folder else None,
            report=asked.report_file / f"{stem}.html" if asked.report_file else None,
            pdf=asked.pdf_file / f"{stem}.pdf" if asked.pdf_file else None,
        )
        for stem in stems_of(asked.drawings)
    )


def tasks_of(asked: Asked, job: Job, *, again: bool = False) -> tuple[Task, ...]:
    """A task for each drawing. ``again`` takes nothing for done. Raises OSError for a record that can't be used."""
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
    """The outcome of each task as it is done, up to ``workers`` at once; the record says so first.

    Raises OSError where the record can't be written.
    """
    work = partial(take_one, asked=replace(asked, drawings=()), job=job)
    with closing(worked(work, tasks, min(workers, len(tasks)))) as coming:
        for task, outcome in coming:
            if outcome is None:
                outcome = _failed(task, f"{task.drawing}: {LOST}")
            if outcome.done and outcome.fresh:
                record.add(asked.folder, outcome.done)
            yield outcome
    record.open_record(asked.folder)


def take_one(task: Task, *, asked: Asked, job: Job) -> Outcome:
    """The outcome of one task. Whatever goes wrong with a drawing becomes a line in its row."""
    if task.before and task.before.holds(task.drawing, task.asked, asked.folder):
        return Outcome(task.before.row, task.before, fresh=False)
    from dxf2veneer.drawing import DrawingError

    try:
        return _made(task, replace(asked, drawings=(task.drawing,)), job)
    except (DrawingError, WriteError, SettingsError, OutputClashError) as error:
        return _failed(task, error_line(error, job.output.display))
    except Exception as error:  # a fault of ours with one drawing must not cost the others
        return _failed(
            task,
            f"{task.drawing}: an unexpected fault ({type(error).__name__}: {error}); report it with the drawing",
        )


def _made(task: Task, asked: Asked, job: Job) -> Outcome:
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.notices import Level
    from dxf2veneer.wording.notice_lines import notice_lines

    spare(task.outputs, asked, job)
    documents: dict[Path, Any] = {}
    takeoff = take_off(asked.drawings, job, keep=documents.__setitem__)
    outputs = with_pictures(task.outputs, takeoff, task.pictures)
    spare(outputs, asked, job)
    write_outputs(takeoff, asked.drawings, outputs, documents=documents)
    done = Done(
        drawing=takeoff.drawings[0].sha256,
        asked=task.asked,
        outputs={record.place(path, asked.folder): record.digest(path) for path in outputs},
        row=Row.of(str(task.drawing), takeoff),
    )
    return Outcome(
        done.row,
        done,
        told=tuple(notice_lines(takeoff.notices, takeoff.drawings, least=Level.ERROR)),
    )


def _failed(task: Task, problem: str) -> Outcome:
    return Outcome(Row(str(task.drawing), problem=problem))
