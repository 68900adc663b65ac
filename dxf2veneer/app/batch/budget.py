"""What the work on one drawing may take, and what keeps it to that.

Memory is bounded by the system, in the process that works. Time is looked after by the process that
waits for it (``workers.py``), which ends the other. That one also refuses to write outside its
folders, to ask the network or to start programs. Such refusals guard against a fault in us or a
Python library, not against somebody who runs machine code of theirs in the process.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from dxf2veneer.basics.messages import Message

_MEGABYTE = 1_000_000
_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_PATHS = {
    "os.mkdir": ((0, 2),), "os.rmdir": ((0, 1),), "os.remove": ((0, 1),),
    "os.rename": ((0, 2), (1, 3)), "os.link": ((1, 3),), "os.symlink": ((1, 2),),
    "os.truncate": ((0, None),), "os.chmod": ((0, 2),), "os.chown": ((0, 3),),
}  # fmt: skip
"""Which arguments of an event name what is changed, and the folder from which they do (table of
audit events, Python's library reference)."""
_REFUSED = ("socket.connect", "socket.bind", "socket.sendto", "socket.getaddrinfo", "os.exec",
            "os.system", "os.posix_spawn", "os.fork", "subprocess.Popen")  # fmt: skip


@dataclass(frozen=True)
class Budget:
    """What the work on one drawing may take; None is without bound."""

    seconds: float | None = None
    """Time from when it is handed out until it is done."""
    megabytes: int | None = None
    """Memory of the process that works, in millions of bytes."""
    folders: tuple[Path, ...] = ()
    """The only places where it may write; anywhere where there are none."""

    @property
    def is_bounded(self) -> bool:
        """Whether a process of its own is needed."""
        return self.seconds is not None or self.megabytes is not None


@dataclass(frozen=True)
class Ended:
    """Work that came to nothing, because its process had to end."""

    why: Literal["died", "time", "memory"]
    step: Message | None
    """What it was at, where it had said."""


def keep_to(budget: Budget) -> None:
    """Keep this process to its budget, for good.

    Args:
        budget: What it may take. Memory is bounded where the system can.
    """
    if budget.megabytes is not None:
        with suppress(ImportError, ValueError, OSError):
            import resource

            most = budget.megabytes * _MEGABYTE
            resource.setrlimit(resource.RLIMIT_DATA, (most, most))
    if budget.folders:
        _confine(budget.folders)


def _confine(folders: Sequence[Path]) -> None:
    """Refuse to write elsewhere, to use the network and to start programs."""
    allowed = tuple(os.path.realpath(str(folder)) for folder in (*folders, os.devnull))

    def is_inside(path: str | bytes | os.PathLike[str] | int, folder: int = -1) -> bool:
        if isinstance(path, int):
            return True  # a file that is open already
        named = os.fsdecode(path)
        if folder != -1:
            named = os.path.join(f"/proc/self/fd/{folder}", named)
        real = os.path.realpath(named)
        return any(real == there or real.startswith(there + os.sep) for there in allowed)

    def watch(event: str, args: tuple[Any, ...]) -> None:
        if event == "open":
            path, mode, flags = args
            writes = bool(flags & _WRITING) if isinstance(flags, int) else False
            if (writes or set(str(mode or "")) & set("wax+")) and not is_inside(path):
                raise PermissionError(f"outside the folders of this takeoff: {path!r}")
        elif event in _PATHS:
            for at, folder in _PATHS[event]:
                if not is_inside(args[at], -1 if folder is None else args[folder]):
                    raise PermissionError(f"outside the folders of this takeoff: {args[at]!r}")
        elif event in _REFUSED:
            raise PermissionError(f"a takeoff has no use for {event}")

    sys.addaudithook(watch)
