"""Desks: processes that work on one task at a time.

No more tasks are in flight than there are desks, so that memory is bounded by what the desks' tasks
need. A process that dies (for lack of memory, say) costs the task on its desk and no other.

      tasks --> hand out --> pipe --> desk (a process): work(task) --.
                   ^                                                 |
                   '------------- outcome, or the pipe's end <-------'

On an interrupt the desks are asked to end (they take away what they were writing), and killed after
a moment if they don't.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from itertools import islice
from multiprocessing.connection import Connection, wait
from typing import Any, TypeVar, cast

T = TypeVar("T")
R = TypeVar("R")

_GRACE_S = 1.0
"""How long a desk may take to end before it is killed."""
_SPAWN = multiprocessing.get_context("spawn")
"""Fresh processes on every system: a copied one would hold the parent's locks."""


def cores() -> int:
    """The cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def worked(work: Callable[[T], R], tasks: Iterable[T], desks: int) -> Generator[tuple[T, R | None]]:
    """Each task with what ``work`` makes of it, as they are done; None where its process died.

    With one desk the work is done in this process. ``work``, tasks and outcomes must be picklable.
    """
    if desks == 1:
        yield from ((task, work(task)) for task in tasks)
        return
    waiting = iter(tasks)
    opened: list[_Desk] = []
    busy: dict[Connection, tuple[_Desk, T]] = {}

    def hand_out(task: T, desk: _Desk | None = None) -> None:
        if desk is None:
            desk = _Desk(work)
            opened.append(desk)
        desk.begin(task)
        busy[desk.pipe] = desk, task

    try:
        for task in islice(waiting, desks):
            hand_out(task)
        while busy:
            for pipe in cast("list[Connection]", wait(list(busy))):
                desk, task = busy.pop(pipe)
                outcome = desk.outcome()
                for following in islice(waiting, 1):
                    hand_out(following, None if desk.lost else desk)
                yield task, outcome
    finally:
        with deaf():
            _end(opened)


class _Desk:
    """One process and the pipe to it."""

    def __init__(self, work: Callable[[Any], Any]) -> None:
        self.pipe, far = _SPAWN.Pipe()
        self.lost = False
        self.process = _SPAWN.Process(
            target=_sit, args=(far, work, gc.get_threshold()), daemon=True
        )
        with (
            deaf()
        ):  # the process is born deaf too, so that Ctrl-C in a terminal reaches this one alone
            self.process.start()
        far.close()

    def begin(self, task: object) -> None:
        """Hand a task to the process. If it is dead, the outcome will tell."""
        with suppress(OSError):
            self.pipe.send(task)

    def outcome(self) -> Any:
        """What the work came to; None, and the desk is lost, where the process died over it."""
        try:
            return self.pipe.recv()
        except (EOFError, OSError):
            self.lost = True
            return None


def _sit(pipe: Connection, work: Callable[[Any], Any], collect: tuple[int, int, int]) -> None:
    """The life of a desk: work on what comes, until the other end of the pipe is closed. Memory is searched
    for cycles as often as in the process that opened the desk."""
    gc.set_threshold(*collect)
    signal.signal(
        signal.SIGTERM, lambda *_: sys.exit()
    )  # an exception, so that drafts are taken away
    with suppress(EOFError, OSError):
        while True:
            pipe.send(work(pipe.recv()))


def _end(desks: Sequence[_Desk]) -> None:
    """End all processes: those at work are asked to, and killed after a moment."""
    for desk in desks:
        desk.process.terminate()
    until = time.monotonic() + _GRACE_S
    for desk in desks:
        desk.process.join(max(0.0, until - time.monotonic()))
        if desk.process.is_alive():
            desk.process.kill()
            desk.process.join()
        desk.pipe.close()


@contextmanager
def deaf() -> Iterator[None]:
    """Ctrl-C does nothing meanwhile."""
    with _answering(signal.SIGINT, signal.SIG_IGN):
        yield


@contextmanager
def ended_alike() -> Iterator[None]:
    """A request to end (SIGTERM) is a KeyboardInterrupt meanwhile, just as Ctrl-C."""

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
