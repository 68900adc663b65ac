"""A pool of worker processes, each of which works on one task at a time.

No more tasks are in flight than there are workers, so that memory is bounded by what those tasks
need. A process that dies (for lack of memory, say) or that takes longer than its budget costs the
task it works on and no other.

      tasks --> hand out --> pipe --> worker (a process): work(task) --.
                   ^                                                   |
                   '------- log, outcome, or the pipe's end <----------'

What a worker logs, and each step that it begins, comes through the same pipe. On an interrupt the
workers are asked to end (they take away what they were writing), and killed after a moment if they
don't.
"""

from __future__ import annotations

import gc
import logging
import multiprocessing
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from itertools import islice
from logging.handlers import QueueHandler
from multiprocessing.connection import Connection, wait
from typing import Any, Literal, NamedTuple, TypeVar, cast

from dxf2veneer.app.batch.budget import Budget, Ended, keep_to
from dxf2veneer.app.stages import Progress, unwatched, watch_steps
from dxf2veneer.basics.messages import Message
from dxf2veneer.basics.tolerances import WORKER_GRACE_S

_BOUNDLESS = Budget()
T = TypeVar("T")
R = TypeVar("R")

_SPAWN = multiprocessing.get_context("spawn")
"""Fresh processes on every system: a copied one would hold the parent's locks."""
_ROOT = __name__.partition(".")[0]
"""Name of the package's logger, under which all others stand."""


def cores() -> int:
    """The cores that this process may use.

    Returns:
        Their number, one at least.
    """
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def pooled(
    work: Callable[[T], R],
    tasks: Iterable[T],
    workers: int,
    budget: Budget = _BOUNDLESS,
    progress: Progress = unwatched,
) -> Generator[tuple[T, R | Ended]]:
    """Each task with what ``work`` makes of it, as they are done.

    Args:
        work: Works on one task; it, tasks and outcomes must be picklable.
        tasks: Are taken one by one, no sooner than a worker is free.
        workers: Number of processes; with one the work is done in this process, if it is not
            bounded.
        budget: What the work on each task may take.
        progress: Is given each step that a worker process begins.

    Returns:
        Tasks and outcomes in the order in which they are done; ``Ended`` where the process died or
        was ended.
    """
    if workers == 1 and not budget.is_bounded:
        yield from ((task, work(task)) for task in tasks)
        return
    waiting = iter(tasks)
    opened: list[_Worker] = []
    busy: dict[Connection, tuple[_Worker, T]] = {}

    def hand_out(task: T, worker: _Worker | None = None) -> None:
        if worker is None:
            worker = _Worker(work, budget)
            opened.append(worker)
        worker.begin(task)
        busy[worker.pipe] = worker, task

    try:
        for task in islice(waiting, workers):
            hand_out(task)
        while busy:
            ready = cast("list[Connection]", wait(list(busy), _patience(busy.values())))
            late = [pipe for pipe, (worker, _) in busy.items() if worker.is_late]
            for pipe in dict.fromkeys((*ready, *late)):
                worker, task = busy[pipe]
                received = worker.received() if pipe in ready else worker.ended("time")
                if isinstance(received, logging.LogRecord):
                    logging.getLogger(received.name).handle(received)
                    continue
                if isinstance(received, Message):
                    worker.step = received
                    progress(received)
                    continue
                del busy[pipe]
                for following in islice(waiting, 1):
                    hand_out(following, None if worker.lost else worker)
                yield task, received.value if isinstance(received, _Done) else received
    finally:
        with deaf():
            _end(opened)


def _patience(busy: Iterable[tuple[_Worker, Any]]) -> float | None:
    """Seconds until the first worker is late; None where there is no hurry."""
    until = [worker.until for worker, _ in busy if worker.until is not None]
    return max(0.0, min(until) - time.monotonic()) if until else None


class _Done(NamedTuple):
    """What the work on a task came to."""

    value: Any


@dataclass(frozen=True)
class _Manner:
    """What a worker takes over from the process that starts it."""

    collect: tuple[int, int, int]
    """How often memory is searched for cycles."""
    log_level: int
    budget: Budget


class _Worker:
    """One process and the pipe to it."""

    def __init__(self, work: Callable[[Any], Any], budget: Budget) -> None:
        self.pipe, far = _SPAWN.Pipe()
        self.lost = False
        self.step: Message | None = None
        self.until: float | None = None
        self._budget = budget
        level = logging.getLogger(_ROOT).getEffectiveLevel()
        manner = _Manner(gc.get_threshold(), level, budget)
        self.process = _SPAWN.Process(target=_live, args=(far, work, manner), daemon=True)
        with deaf():  # the process is born deaf too, so that Ctrl-C reaches this one alone
            self.process.start()
        far.close()

    def begin(self, task: object) -> None:
        """Hand a task to the process. If it is dead, the outcome will tell."""
        self.step = None
        if self._budget.seconds is not None:
            self.until = time.monotonic() + self._budget.seconds
        with suppress(OSError):
            self.pipe.send(task)

    @property
    def is_late(self) -> bool:
        """Whether its time is up."""
        return self.until is not None and time.monotonic() >= self.until

    def received(self) -> logging.LogRecord | Message | _Done | Ended:
        """A line of the log, a step, or what the work came to; where the process died over it, the
        worker is lost."""
        try:
            return cast("logging.LogRecord | Message | _Done", self.pipe.recv())
        except (EOFError, OSError):
            return self.ended("died" if self._budget.megabytes is None else "memory")

    def ended(self, why: Literal["died", "time", "memory"]) -> Ended:
        """Its work comes to nothing; the process is ended if it lives."""
        self.lost = True
        with deaf():
            _end([self])
        return Ended(why, self.step)


class _PipeHandler(QueueHandler):
    """Sends what is logged through a pipe; tracebacks go as text."""

    def enqueue(self, record: logging.LogRecord) -> None:
        """Send one record."""
        with suppress(OSError):
            self.queue.send(record)  # type: ignore[attr-defined]


def _live(pipe: Connection, work: Callable[[Any], Any], manner: _Manner) -> None:
    """The life of a worker: work on what comes, until the other end of the pipe is closed."""
    gc.set_threshold(*manner.collect)
    root = logging.getLogger(_ROOT)
    root.setLevel(manner.log_level)
    root.addHandler(_PipeHandler(cast("Any", pipe)))
    watch_steps(pipe.send)
    keep_to(manner.budget)
    # an exception, so that drafts are taken away
    signal.signal(signal.SIGTERM, lambda *_: sys.exit())
    with suppress(EOFError, OSError):
        while True:
            pipe.send(_Done(work(pipe.recv())))


def _end(workers: Sequence[_Worker]) -> None:
    """End all processes: those at work are asked to, and killed after a moment."""
    for worker in workers:
        worker.process.terminate()
    until = time.monotonic() + WORKER_GRACE_S
    for worker in workers:
        worker.process.join(max(0.0, until - time.monotonic()))
        if worker.process.is_alive():
            worker.process.kill()
            worker.process.join()
        worker.pipe.close()


@contextmanager
def deaf() -> Iterator[None]:
    """Ctrl-C does nothing meanwhile.

    Returns:
        A context.
    """
    with _answering(signal.SIGINT, signal.SIG_IGN):
        yield


@contextmanager
def ended_alike() -> Iterator[None]:
    """A request to end (SIGTERM) is a KeyboardInterrupt meanwhile, just as Ctrl-C.

    Returns:
        A context.

    Raises:
        KeyboardInterrupt: The request came.
    """

    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    with _answering(signal.SIGTERM, interrupt):
        yield


@contextmanager
def _answering(signum: int, answer: Any) -> Iterator[None]:
    """A signal has another answer meanwhile; only the main thread can give one."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signum, answer)
    try:
        yield
    finally:
        signal.signal(signum, before)
