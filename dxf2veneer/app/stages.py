"""What is being done, for whoever watches: steps as messages, and the log with counts and times."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from dxf2veneer.basics.messages import Message

Progress = Callable[[Message], None]
"""Is given each step as it begins."""


def unwatched(step: Message) -> None:
    """Show no step.

    Args:
        step: What begins.
    """


_WATCHED: ContextVar[Progress] = ContextVar("watched", default=unwatched)


def watched() -> Progress:
    """Who is given the steps of this process.

    Returns:
        What ``watch_steps`` was given; ``unwatched`` without it.
    """
    return _WATCHED.get()


def watch_steps(progress: Progress) -> None:
    """Have the steps of this process told from now on.

    Args:
        progress: Is given each step as it begins.
    """
    _WATCHED.set(progress)


@contextmanager
def timed(log: logging.Logger, stage: str) -> Iterator[dict[str, object]]:
    """Log a stage with how long it took and what came of it.

    Args:
        log: The logger of the module that runs the stage.
        stage: The stage, and what it works on.

    Returns:
        Counts to be logged at its end, by name; filled in by the block.
    """
    log.debug("%s begins", stage)
    began = time.perf_counter()
    counts: dict[str, object] = {}
    yield counts
    took = time.perf_counter() - began
    listed = ", ".join(f"{count} {name}" for name, count in counts.items())
    log.info("%s: %s in %.3f s", stage, listed or "done", took)
