"""Several files put in their places together: all of them or none.

    folder/.writing-x/new/a, b    made first
    folder/.writing-x/ready       all are made: from here on the change is finished, not dropped
    folder/.writing-x/old/a, b    what stood there, kept until the end
    folder/a, b                   each replaced in one step

Where a step fails, what stood there is put back. Where the program is killed between two steps, the next
run that writes into the folder finishes it.
"""

from __future__ import annotations

import os
import secrets
import shutil
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

_PREFIX = ".writing-"
_NEW, _OLD, _READY = "new", "old", "ready"
_LIVE_S = 5.0
"""How old a change that is ready must be before another run takes it for broken off; placing takes milliseconds."""
_MAKING_S = 86_400.0
"""How old files still being made must be before another run takes them for left behind."""


class PlacingError(OSError):
    """A file could not be put in its place; its name is ``filename``."""


class RoomError(OSError):
    """No file can be made in a folder; its name is ``filename``."""


@contextmanager
def aside(folders: Iterable[Path]) -> Iterator[dict[Path, Path]]:
    """A folder to make files in for each folder they will stand in, on the same disk; gone at the end. Raises RoomError."""
    with ExitStack() as stack:
        rooms = {}
        for folder in dict.fromkeys(folders):
            try:
                folder.mkdir(parents=True, exist_ok=True)
                room = folder / f"{_PREFIX}{secrets.token_hex(6)}"
                stack.callback(
                    _take_away, room
                )  # before it is there, so that no interrupt comes between
                room.mkdir(mode=0o700)
                (room / _NEW).mkdir()
                (room / _OLD).mkdir()
            except OSError as error:
                raise RoomError(error.errno, error.strerror or str(error), str(folder)) from error
            rooms[folder] = room / _NEW
        yield rooms


def _take_away(room: Path) -> None:
    """Take away a folder that may be there; an interrupt meanwhile is passed on once it is gone."""
    try:
        shutil.rmtree(room, ignore_errors=True)
    except BaseException:
        shutil.rmtree(room, ignore_errors=True)
        raise


def place(made: Mapping[Path, Path]) -> None:
    """Put files made in such folders in their places: target -> made. Raises PlacingError, all being as before."""
    marks: dict[Path, Path] = {}
    for target, draft in made.items():
        marks.setdefault(draft.parents[1] / _READY, target)
    done: list[tuple[Path, Path | None]] = []
    target = Path()
    try:
        for mark, first in marks.items():
            target = first
            mark.touch()
        for target, draft in made.items():
            old = _kept(target, draft.parents[1] / _OLD / draft.name)
            os.replace(draft, target)
            done.append((target, old))
    except BaseException as error:
        for mark in marks:
            mark.unlink(missing_ok=True)
        for placed, old in reversed(done):
            if old:
                os.replace(old, placed)
            else:
                placed.unlink(missing_ok=True)
        if isinstance(error, OSError):
            raise PlacingError(error.errno, error.strerror or str(error), str(target)) from error
        raise


def finish_earlier(folder: Path, is_ours: Callable[[Path], bool], now: float | None = None) -> bool:
    """Finish a change that a killed run left half done in a folder, and clear what is left of others; whether one was.

    Only files that are ours are put in place, over files that are ours and no newer than the change.
    """
    now = time.time() if now is None else now
    finished = False
    for room in sorted(folder.glob(f"{_PREFIX}*")):
        with suppress(OSError):
            mark = room / _READY
            if mark.is_file():
                since = mark.stat().st_mtime
                if now - since > _LIVE_S:
                    finished |= _finish(folder, room, since, is_ours)
                    shutil.rmtree(room)
            elif now - room.stat().st_mtime > _MAKING_S:
                shutil.rmtree(room) if room.is_dir() else room.unlink()
    return finished


def _finish(folder: Path, room: Path, since: float, is_ours: Callable[[Path], bool]) -> bool:
    pairs = [(draft, folder / draft.name) for draft in sorted((room / _NEW).iterdir())]
    for draft, target in pairs:
        replaceable = not target.exists() or (is_ours(target) and target.stat().st_mtime <= since)
        if not (replaceable and is_ours(draft)):
            return False
    for draft, target in pairs:
        os.replace(draft, target)
    return bool(pairs)


def _kept(target: Path, old: Path) -> Path | None:
    """Another name for what stands at the target, so that it can be put back; None where nothing stands there."""
    if not target.exists():
        return None
    try:
        os.link(target, old)
    except OSError:  # not every file system knows links
        shutil.copy2(target, old)
    return old
