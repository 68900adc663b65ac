"""Long computations that nobody waits for any more are given up.

Whoever starts one says with ``wanted_while`` how to find out; its loops ask with ``go_on``. Without
``wanted_while`` they are always wanted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar


class GivenUpError(Exception):
    """Nobody wants the result any more."""


def _always() -> bool:
    return True


_WANTED: ContextVar[Callable[[], bool]] = ContextVar("wanted", default=_always)


def go_on() -> None:
    """Go on, unless nobody wants the result.

    Raises:
        GivenUpError: Nobody does.
    """
    if not _WANTED.get()():
        raise GivenUpError


@contextmanager
def wanted_while(still: Callable[[], bool]) -> Iterator[None]:
    """Within it, computations are wanted as long as ``still`` says so.

    Args:
        still: Is asked often, so it has to be quick.

    Returns:
        Nothing; it is a context.
    """
    token = _WANTED.set(still)
    try:
        yield
    finally:
        _WANTED.reset(token)
