"""Several files put in their places together: all of them or none.

    folder/.writing-x/new/a, b    made first
    folder/.writing-x/ready       all are made: from here on the change is finished, not dropped
    folder/.writing-x/old/a, b    what stood there, kept until the end
    folder/a, b                   each replaced in one step

Where a step fails, what stood there is put back. Where the program is killed between two steps, the
next run that writes into the folder finishes it.
"""

from __future__ import annotations

import os
import secrets
import shutil
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from dxf2veneer.basics.tolerances import CHANGE_LIVE_S, MAKING_S

_PREFIX = ".writing-"
_NEW, _OLD, _READY = "new", "old", "ready"


class CommitError(OSError):
    """A file could not be put in its place; its name is ``filename``."""


class StagingError(OSError):
    """No file can be made in a folder; its name is ``filename``."""


@contextmanager
def staged(folders: Iterable[Path]) -> Iterator[dict[Path, Path]]:
    """Folders to make files in, on the same disk as those they will stand in; gone at the end.

    Args:
        folders: Where the files will stand; made where they are missing.

    Yields:
        The folder to make files in, by the folder they will stand in.

    Raises:
        StagingError: No file can be made in a folder.
    """
    with ExitStack() as stack:
        areas = {}
        for folder in dict.fromkeys(folders):
            try:
                folder.mkdir(parents=True, exist_ok=True)
                area = folder / f"{_PREFIX}{secrets.token_hex(6)}"
                stack.callback(
                    _take_away, area
                )  # before it is there, so that no interrupt comes between
                area.mkdir(mode=0o700)
                (area / _NEW).mkdir()
                (area / _OLD).mkdir()
            except OSError as error:
                raise StagingError(
                    error.errno, error.strerror or str(error), str(folder)
                ) from error
            areas[folder] = area / _NEW
        yield areas


def _take_away(area: Path) -> None:
    """Take away a folder that may be there; an interrupt meanwhile is passed on once it is gone."""
    try:
        shutil.rmtree(area, ignore_errors=True)
    except BaseException:
        shutil.rmtree(area, ignore_errors=True)
        raise


def commit(made: Mapping[Path, Path]) -> None:
    """Put files made in staging folders in their places.

    Args:
        made: The file made, by the path where it belongs.

    Raises:
        CommitError: A file can't be put in its place; all is as it was before.
    """
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
            raise CommitError(error.errno, error.strerror or str(error), str(target)) from error
        raise


def finish_commit(folder: Path, is_ours: Callable[[Path], bool], now: float | None = None) -> bool:
    """Finish a change that a killed run left half done in a folder, and clear other leavings.

    Only files that are ours are put in place, over files that are ours and no newer than the
    change.

    Args:
        folder: The folder.
        is_ours: Whether a file was written by this tool and not changed since.
        now: Time in seconds since 1970; the clock's where it is left out.

    Returns:
        Whether a change was finished.
    """
    now = time.time() if now is None else now
    finished = False
    for area in sorted(folder.glob(f"{_PREFIX}*")):
        with suppress(OSError):
            mark = area / _READY
            if mark.is_file():
                since = mark.stat().st_mtime
                if now - since > CHANGE_LIVE_S:
                    finished |= _finish(folder, area, since, is_ours)
                    shutil.rmtree(area)
            elif now - area.stat().st_mtime > MAKING_S:
                shutil.rmtree(area) if area.is_dir() else area.unlink()
    return finished


def _finish(folder: Path, area: Path, since: float, is_ours: Callable[[Path], bool]) -> bool:
    pairs = [(draft, folder / draft.name) for draft in sorted((area / _NEW).iterdir())]
    for draft, target in pairs:
        replaceable = not target.exists() or (is_ours(target) and target.stat().st_mtime <= since)
        if not (replaceable and is_ours(draft)):
            return False
    for draft, target in pairs:
        os.replace(draft, target)
    return bool(pairs)


def _kept(target: Path, old: Path) -> Path | None:
    """Another name for what stands at the target, so that it can be put back;
    None where nothing stands there.
    """
    if not target.exists():
        return None
    try:
        os.link(target, old)
    except OSError:  # not every file system knows links
        shutil.copy2(target, old)
    return old
