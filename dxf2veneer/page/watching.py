"""Whether a file has changed on the disk and is no longer being written."""

from __future__ import annotations

import os
from pathlib import Path

Stamp = tuple[int, int, int]
"""What tells that a file is another: its number, size, and time of the last change."""


class Watched:
    """A file that is looked at again and again."""

    def __init__(self, path: Path) -> None:
        """Begin with the file as it is."""
        self._path = path
        self.stamp = _stamp(path)
        """The file that was taken last."""
        self._changing: Stamp | None = None

    def has_changed(self) -> bool:
        """Whether it is another file than the one that was taken last, and the same as at the last
        look; that one is then taken."""
        found = _stamp(self._path)
        if found is None or found == self.stamp:
            return False
        if found != self._changing:
            self._changing = found
            return False
        self.stamp, self._changing = found, None
        return True


def _stamp(path: Path) -> Stamp | None:
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_ino, found.st_size, found.st_mtime_ns
