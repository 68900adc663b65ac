"""Drawings taken off on other machines, by the workers of a scheduler (dask.distributed).

A drawing travels as bytes with the files that its job names, and its outputs come back as bytes:
nothing has to stand on a disk that both see. They are put in their places here, so the record, and
what is spared, are those of a run on this machine.

      task --> parcel (bytes of the inputs) --> worker: takeoff in a folder of its own --.
        ^                                                                                |
        '-- in their places, recorded <-- outputs (bytes), row and notices <-------------'
"""

from __future__ import annotations

import tempfile
import warnings
from collections.abc import Generator, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.app.batch.budget import Budget, Ended
from dxf2veneer.app.batch.each import (
    Outcome,
    Task,
    Told,
    done_before,
    failed,
    outcome_of,
    recorded,
    taken_off,
    told_of,
)
from dxf2veneer.app.batch.workers import pooled
from dxf2veneer.app.faults import fault_of
from dxf2veneer.app.outputs import Asked, as_made, other_inputs
from dxf2veneer.app.sparing import spare
from dxf2veneer.app.writing import write_outputs, write_together
from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.basics.tolerances import SCHEDULER_WAIT_S
from dxf2veneer.basics.version import __version__
from dxf2veneer.config.job import Job
from dxf2veneer.textio.sent import sent_along

if TYPE_CHECKING:
    from distributed import Client

_AHEAD = 2
"""Drawings on their way for each worker, so that none waits while the next one travels."""


class SchedulerError(TakeoffError):
    """The scheduler or its workers can't be used."""


@dataclass(frozen=True)
class Parcel:
    """All that a worker needs for one drawing."""

    task: Task
    inputs: Mapping[Path, bytes]
    """Contents of drawing, product, prices: by the paths by which they were named."""
    before: bytes | None
    """The workbook of before, where changes by hand in it are to be kept."""


@dataclass(frozen=True)
class Returned:
    """What a worker sends back."""

    came: Told | Outcome
    """What is kept of the takeoff; the whole outcome where there is none."""
    files: Mapping[Path, bytes]
    """The outputs, by their places."""


def spread(
    tasks: Sequence[Task], asked: Asked, job: Job, *, address: str, budget: Budget
) -> Generator[Outcome]:
    """The outcome of each task, done by the workers of a scheduler; the record says so first.

    Args:
        tasks: The drawings.
        asked: The folder of the record, and whether other people's files may be replaced.
        job: The settings.
        address: Where the scheduler listens, such as ``tcp://10.0.0.5:8786``.
        budget: What each drawing may take on its worker.

    Returns:
        Outcomes in the order in which they are done.

    Raises:
        SchedulerError: It can't be used.
        OSError: The record can't be written.
    """
    with (
        _connected(address) as client,
        closing(_coming(tasks, asked, job, client, budget)) as coming,
    ):
        yield from recorded(coming, asked, job, budget)


@contextmanager
def _connected(address: str) -> Iterator[Client]:
    """A client whose workers have this version. Raises SchedulerError."""
    try:
        from distributed import Client
    except ImportError:
        raise SchedulerError(message("scheduler-not-installed")) from None
    try:
        client = Client(address, timeout=SCHEDULER_WAIT_S, set_as_default=False)
    except (OSError, ValueError) as error:
        why = str(error).partition("\n")[0] or type(error).__name__
        raise SchedulerError(message("scheduler-silent", address=address, why=why)) from None
    with client:
        try:
            client.wait_for_workers(1, timeout=SCHEDULER_WAIT_S)
        except TimeoutError:
            raise SchedulerError(
                message("scheduler-no-workers", address=address, seconds=SCHEDULER_WAIT_S)
            ) from None
        for worker, found in client.run(_version, on_error="return").items():
            if found != __version__:
                shown = found if isinstance(found, str) else "none"
                raise SchedulerError(
                    message(
                        "scheduler-other-version",
                        address=address,
                        worker=worker,
                        found=shown,
                        version=__version__,
                    )
                )
        yield client


def _version() -> str:
    """What a worker has."""
    return __version__


def _coming(
    tasks: Sequence[Task], asked: Asked, job: Job, client: Client, budget: Budget
) -> Generator[tuple[Task, Outcome | Ended]]:
    """Tasks with their outcomes as they are done; few are on their way at once, so that few lie in
    memory here and there."""
    from distributed import KilledWorker, as_completed

    waiting: list[Task] = []
    for task in tasks:
        if found := done_before(task, asked):
            yield task, found
        else:
            waiting.append(task)
    others = {path: path.read_bytes() for path in other_inputs(replace(asked, job_file=None), job)}
    work = partial(afar, asked=replace(asked, drawings=()), job=job, budget=budget)
    left = iter(waiting)
    going: dict[str, Task] = {}
    done: Any = as_completed(loop=client.loop)

    def send(task: Task) -> Outcome | None:
        try:
            spare(task.outputs, replace(asked, drawings=(task.drawing,)), job)
            parcel = _parcel(task, asked, others)
        except TakeoffError as error:
            return failed(task, error.message, job)
        except OSError as error:
            return failed(task, _unread(task, error), job)
        with warnings.catch_warnings():
            warnings.filterwarnings("ignore", "Sending large graph")
            future = client.submit(work, parcel, pure=False)
        going[future.key] = task
        done.add(future)
        return None

    def more(count: int) -> Iterator[tuple[Task, Outcome]]:
        while count and (task := next(left, None)) is not None:
            if refused := send(task):
                yield task, refused
            else:
                count -= 1

    threads = max(1, sum(client.nthreads().values()))
    try:
        yield from more(threads * _AHEAD)
        while going:
            future = next(done)
            task = going.pop(future.key)
            fault = future.exception()
            if fault is None:
                yield task, _placed(task, future.result(), asked, job)
            elif isinstance(fault, KilledWorker):
                yield task, Ended("died", None)
            else:
                yield task, failed(task, fault_of(fault, [task.drawing]), job)
            future.release()
            yield from more(1)
    finally:
        client.cancel(list(done.futures))


def _unread(task: Task, error: OSError) -> Any:
    """What to tell of an input that can't be read here."""
    reason = error.strerror or type(error).__name__
    return message("watched-file-unreadable", file=str(error.filename or task.drawing), why=reason)


def _parcel(task: Task, asked: Asked, others: Mapping[Path, bytes]) -> Parcel:
    """What goes to the worker. Raises OSError."""
    workbook = task.outputs.workbook
    before = workbook.read_bytes() if asked.keep_changes and workbook.exists() else None
    return Parcel(task, {task.drawing: task.drawing.read_bytes(), **others}, before)


def _placed(task: Task, returned: Returned | Ended, asked: Asked, job: Job) -> Outcome | Ended:
    """The outcome once the outputs stand in their places."""
    if isinstance(returned, Ended):
        return returned
    if isinstance(returned.came, Outcome):
        return returned.came
    try:
        outputs = replace(
            task.outputs,
            cuts=task.outputs.cuts if task.outputs.cuts in returned.files else None,
            pictures=tuple(p for p in returned.files if p.parent == task.pictures),
        )
        spare(outputs, replace(asked, drawings=(task.drawing,)), job)
        write_together(
            [(path, partial(_write, content=content)) for path, content in returned.files.items()]
        )
    except TakeoffError as error:
        return failed(task, error.message, job)
    return outcome_of(task, returned.came, outputs, asked)


def _write(draft: Path, content: bytes) -> None:
    draft.write_bytes(content)


def afar(parcel: Parcel, *, asked: Asked, job: Job, budget: Budget) -> Returned | Ended:
    """The takeoff of one drawing, on a worker.

    Args:
        parcel: The drawing and what it needs.
        asked: Whether changes by hand are kept.
        job: The settings.
        budget: What it may take; bounded, it is made in a process of its own.

    Returns:
        Its outputs and its outcome.
    """
    with tempfile.TemporaryDirectory() as folder:
        work = partial(_made_afar, folder=Path(folder), asked=asked, job=job)
        if not budget.is_bounded:
            return work(parcel)
        _let_have_children()
        ((_, returned),) = pooled(work, [parcel], 1, replace(budget, folders=(Path(folder),)))
    return returned


def _let_have_children() -> None:
    """Workers are daemons, which may have no processes; ours ends with its pipe."""
    from multiprocessing import process

    process.current_process()._config["daemon"] = False  # type: ignore[attr-defined]


def _made_afar(parcel: Parcel, *, folder: Path, asked: Asked, job: Job) -> Returned:
    task = parcel.task
    places: dict[Path, Path] = {}

    def here(path: Path) -> Path:
        place = folder / str(len(places)) / path.name
        place.parent.mkdir()
        places[place] = path
        return place

    outputs = task.outputs.moved(here)
    if parcel.before is not None:
        outputs.workbook.write_bytes(parcel.before)
    with sent_along(parcel.inputs):
        return _returned(replace(task, outputs=outputs), task, places, folder, asked, job)


def _returned(
    here: Task, task: Task, places: dict[Path, Path], folder: Path, asked: Asked, job: Job
) -> Returned:
    """The takeoff of ``here``, made in a folder, with the places of ``task``."""
    try:
        takeoff, documents = taken_off(here, asked, job)
        pictures = folder / "pictures" if task.pictures else None
        outputs = as_made(here.outputs, takeoff, pictures)
        if pictures and task.pictures:
            pictures.mkdir()
            places |= {path: task.pictures / path.name for path in outputs.pictures}
        write_outputs(takeoff, (task.drawing,), outputs, documents=documents)
    except TakeoffError as error:
        return Returned(failed(task, error.message, job), {})
    except MemoryError:
        return Returned(failed(task, message("memory-ran-out", file=str(task.drawing)), job), {})
    except Exception as error:  # as on this machine: it must not cost the others
        return Returned(failed(task, fault_of(error, [task.drawing]), job), {})
    files = {places[path]: path.read_bytes() for path in outputs}
    return Returned(told_of(task, takeoff, job), files)
