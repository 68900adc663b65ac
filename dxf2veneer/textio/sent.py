"""Inputs that come from another machine, as bytes under the paths by which they were named.

Where a drawing is taken off on another machine (``app/batch/spread.py``), nothing else is there to
be read. ``plain_files.py`` looks here first, so that readers see no difference.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path

_OURS = Path(__file__).parents[1]
"""What comes with the package is there everywhere."""
_SENT: ContextVar[Mapping[Path, bytes] | None] = ContextVar("sent", default=None)


@contextmanager
def sent_along(files: Mapping[Path, bytes]) -> Iterator[None]:
    """Inputs are these meanwhile, and no others.

    Args:
        files: Their contents, by the paths by which they were named.

    Returns:
        Nothing; it is a context.
    """
    token = _SENT.set(files)
    try:
        yield
    finally:
        _SENT.reset(token)


def sent(path: Path) -> bytes | None:
    """The content of an input that was sent along.

    Args:
        path: The file, as it was named.

    Returns:
        Its bytes; None where inputs are read from the disk.

    Raises:
        FileNotFoundError: Inputs are sent, and this one was not.
    """
    files = _SENT.get()
    if files is None or path.is_relative_to(_OURS):
        return None
    if path not in files:
        raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), str(path))
    return files[path]
