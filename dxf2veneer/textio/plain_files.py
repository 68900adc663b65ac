"""Files that are read: by names that a system can have, plain ones alone, no larger than expected.

A queue (fifo) never ends being opened, a device never ends being read, and a name may hold a null
byte, be longer than any disk takes, or lead in a circle.
"""

from __future__ import annotations

import errno
import os
import stat
from io import BufferedReader
from pathlib import Path

from dxf2veneer.textio.sent import sent

LONGEST_NAME = 255
"""Most bytes of one name of a folder or file (NAME_MAX of ext4, APFS, NTFS)."""
LARGEST = 64_000_000
"""Most bytes of a file of settings or prices; one that people write has thousands."""


class NotPlainError(OSError):
    """What stands there is a queue, a socket or a device."""


class TooLargeError(OSError):
    """It is larger than any file of its kind."""


def name_fault(path: Path) -> str | None:
    """Why no file can be found or made under a name, whatever the disk holds.

    Args:
        path: The name, with its folders.

    Returns:
        The reason in a few words; None where there is none.
    """
    try:
        os.stat(path)
    except ValueError:
        return "a null byte stands in it"
    except OSError as error:
        if error.errno == errno.ELOOP:
            return "its links lead in a circle"
        if error.errno == errno.ENAMETOOLONG:
            return f"it is longer than {LONGEST_NAME} bytes"
    if any(len(os.fsencode(part)) > LONGEST_NAME for part in path.parts):
        return f"it is longer than {LONGEST_NAME} bytes"
    return None


def real(path: Path) -> Path:
    """Where a path leads, links followed as far as they go: one that leads in a circle stays.

    Args:
        path: The path.

    Returns:
        The whole path.
    """
    return Path(os.path.realpath(path))


def open_plain(path: Path) -> BufferedReader:
    """A plain file, opened for reading; nothing waits for a queue or a device.

    Args:
        path: The file.

    Returns:
        The open file.

    Raises:
        NotPlainError: It is none.
        OSError: It can't be read, or has a name that no file can have.
    """
    fault = name_fault(path)
    if fault:
        raise OSError(errno.EINVAL, fault, str(path))
    number = os.open(path, os.O_RDONLY | _NO_WAITING)
    if stat.S_ISREG(os.fstat(number).st_mode):
        return os.fdopen(number, "rb")
    os.close(number)
    raise NotPlainError(errno.EINVAL, "it is no plain file", str(path))


def read_plain(path: Path, most: int = LARGEST) -> bytes:
    """The bytes of a plain file.

    Args:
        path: The file.
        most: Bytes that it may have.

    Returns:
        Its content.

    Raises:
        NotPlainError: It is none.
        TooLargeError: It is larger.
        OSError: It can't be read, or has a name that no file can have.
    """
    content = sent(path)
    if content is not None:
        return content
    with open_plain(path) as file:
        if os.fstat(file.fileno()).st_size > most:
            raise TooLargeError(errno.EFBIG, f"it is larger than {most / 1e6:g} MB", str(path))
        return file.read()


def size_of(path: Path) -> int | None:
    """How large an input is.

    Args:
        path: The file.

    Returns:
        Its bytes; None where no plain file is there.
    """
    try:
        content = sent(path)
    except FileNotFoundError:
        return None
    if content is not None:
        return len(content)
    return path.stat().st_size if path.is_file() else None


_NO_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
