"""Outputs appear whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def whole_file(path: Path) -> Iterator[Path]:
    """A place beside ``path`` to write to; it takes the name of ``path`` once everything is written.

    Where the writing fails nothing is left behind and a file that stood at ``path`` stays as it was.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        yield part
        os.replace(part, path)
    finally:
        part.unlink(missing_ok=True)
