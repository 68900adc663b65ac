"""Following files while other programs save them.

A save is seldom one event: a program may empty the file and fill it slowly, write a temporary file
and rename it over, delete and create anew, or hold the file locked for a while. So events from the
file system only wake the follower. What counts is what it finds when it looks:

    stamps differ -> wait until they stay the same -> read all -> whole? -> a save
         ^                                             |
         '--------- look again, say so after a while <---' missing, locked, breaks off

Where events do not come (a drive on the network) it looks by itself, twice a second.
"""

from __future__ import annotations

import hashlib
import logging
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event
from typing import NamedTuple, Protocol

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer

from dxf2veneer.basics.giving_up import GivenUpError, wanted_while
from dxf2veneer.basics.messages import Message, TakeoffError, message
from dxf2veneer.basics.tolerances import SAVE_PATIENCE_S, SAVE_QUIET_S, WATCH_LOOK_S, WATCH_STEP_S
from dxf2veneer.textio.plain_files import read_plain

_LOG = logging.getLogger(__name__)

_WAKING = ("created", "modified", "moved", "deleted", "closed")
"""Kinds of events that can mean a save; opening and reading, which the takeoff does itself, are
none."""


class Stamp(NamedTuple):
    """What tells one state of a file from another without reading it."""

    modified_ns: int
    size: int
    file_id: int


def stamp(path: Path) -> Stamp | None:
    """What tells a file's state without reading it.

    Args:
        path: The file.

    Returns:
        Its stamp, None where there is none to be had.
    """
    try:
        found = path.stat()
    except OSError:
        return None
    return Stamp(found.st_mtime_ns, found.st_size, found.st_ino)


class Save(NamedTuple):
    """Files that were saved and are whole: those touched, those of them whose content is
    another."""

    touched: tuple[Path, ...]
    changed: tuple[Path, ...]
    digests: dict[Path, str]


class Trouble(NamedTuple):
    """A file that has not been whole for a while."""

    why: Message


@dataclass
class Saves:
    """Finds saves of files, look by look.

    ``unfit`` says of a file's content why it is not whole, None where it is. A save stays new, look
    after look, until it is accepted.
    """

    unfit: Callable[[Path, bytes], Message | None]
    pending: bool = False
    """Whether something has changed that was not handed out as a save yet."""
    stuck: bool = False
    """Whether it is quiet, but a file is not whole."""
    _stamps: dict[Path, Stamp | None] = field(default_factory=dict)
    _digests: dict[Path, str] = field(default_factory=dict)
    _touched: set[Path] = field(default_factory=set)
    _since: float = 0.0
    _reported: Message | None = None

    def look(self, files: Sequence[Path], now: float) -> Save | Trouble | None:
        """What there is to know of the files at the time ``now``, in seconds of any clock."""
        stamps = {f: stamp(f) for f in files}
        if stamps != self._stamps:
            self._touched |= {f for f in files if stamps[f] != self._stamps.get(f)}
            self._stamps, self._since, self._reported = stamps, now, None
            self.pending, self.stuck = True, False
            return None
        if not self.pending or now - self._since < SAVE_QUIET_S:
            return None
        digests, trouble = self._read(files)
        self.stuck = trouble is not None
        if trouble:
            if now - self._since < SAVE_PATIENCE_S or trouble == self._reported:
                return None
            self._reported = trouble
            return Trouble(trouble)
        if not self.unchanged():
            return None  # while they were read; the next look sees it
        self.pending = False
        changed = tuple(f for f in files if digests[f] != self._digests.get(f))
        return Save(tuple(f for f in files if f in self._touched), changed, digests)

    def unchanged(self) -> bool:
        """Whether the files still are as they were at the last look."""
        return all(stamp(f) == was for f, was in self._stamps.items())

    def accept(self, save: Save) -> None:
        """Take this save for known."""
        self._digests = save.digests
        self._touched = set()

    def _read(self, files: Sequence[Path]) -> tuple[dict[Path, str], Message | None]:
        digests = {}
        for file in files:
            try:
                content = read_plain(file, sys.maxsize)
            except FileNotFoundError:
                return {}, message("file-gone", file=str(file))
            except OSError as error:
                why = error.strerror or type(error).__name__
                return {}, message("watched-file-unreadable", file=str(file), why=why)
            if trouble := self.unfit(file, content):
                return {}, trouble
            digests[file] = hashlib.sha256(content).hexdigest()
        return digests, None


class Follower(Protocol):
    """What is done with the saves of files."""

    def inputs(self) -> Sequence[Path]:
        """The files to follow; asked at every save, since a job file names others."""

    def attempt(self, files: Sequence[Path]) -> None:
        """Work on a save of ``files``.

        May raise TakeoffError, and GivenUpError once the inputs are no longer as they were.
        """

    def unusable(self, why: Message) -> None:
        """Report why files can't be used."""

    def same(self, files: Sequence[Path]) -> None:
        """Report that files were saved and are the same."""


def follow(follower: Follower, unfit: Callable[[Path, bytes], Message | None], stop: Event) -> None:
    """Follow files: work on them once at the beginning and after every save.

    Args:
        follower: Names the files and works on them.
        unfit: Says why a file with that content is not whole, None where it is.
        stop: Ends it when set.
    """
    saves, files, failed = Saves(unfit), tuple(follower.inputs()), False
    wake = Event()
    with _events(wake) as listen_to:
        listen_to(files)
        while not stop.is_set():
            found = saves.look(files, time.monotonic())
            if isinstance(found, Trouble):
                follower.unusable(found.why)
            elif found is not None:
                named = tuple(follower.inputs())
                if named != files:  # the job names other files now, which must be whole as well
                    files = named
                    listen_to(files)
                elif found.changed or failed:
                    failed = not _work(follower, saves, found)
                else:
                    saves.accept(found)
                    follower.same(found.touched)
                continue
            if saves.pending and not saves.stuck:
                stop.wait(WATCH_STEP_S)
            else:
                wake.wait(WATCH_LOOK_S)
                wake.clear()


def _work(follower: Follower, saves: Saves, save: Save) -> bool:
    """Work on a save; whether that went well."""
    try:
        with wanted_while(saves.unchanged):
            follower.attempt(save.changed or save.touched)
    except GivenUpError:
        saves.pending = True
        return False
    except TakeoffError as error:
        _LOG.debug("a save can't be used", exc_info=True)
        saves.pending = not saves.unchanged()
        if not saves.pending:  # else it may have been half of a save that was read
            saves.accept(save)
            follower.unusable(error.message)
        return False
    saves.accept(save)
    return True


@contextmanager
def _events(wake: Event) -> Iterator[Callable[[Sequence[Path]], None]]:
    """Sets ``wake`` at events of the files last given to the function that it yields."""
    observer = Observer()
    names: set[str] = set()

    class Waker(FileSystemEventHandler):
        def on_any_event(self, event: FileSystemEvent) -> None:
            places = (str(event.src_path), str(event.dest_path))
            if event.event_type in _WAKING and any(
                Path(p).name.casefold() in names for p in places if p
            ):
                wake.set()

    def listen_to(files: Sequence[Path]) -> None:
        observer.unschedule_all()
        names.clear()
        places = {p for f in files for p in (f.absolute(), f.resolve())}
        names.update(p.name.casefold() for p in places)
        for folder in {p.parent for p in places}:
            with suppress(
                OSError
            ):  # no such folder yet, or no more watches to be had: it looks by itself
                observer.schedule(Waker(), str(folder), recursive=False)

    with suppress(OSError):
        observer.start()
    try:
        yield listen_to
    finally:
        if observer.is_alive():
            observer.stop()
            observer.join()
