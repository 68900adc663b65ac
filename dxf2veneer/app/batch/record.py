"""The record of what is done: one line of JSON for each drawing, beside its outputs.

A line holds hashes of the drawing, of what was asked and of every output. It is added once all
outputs stand in their places, so a drawing without one is not done. A later line wins over an
earlier one about the same workbook; a line that can't be read says nothing, and its drawing is done
again.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path

from dxf2veneer.app.batch.summary import Row
from dxf2veneer.textio.plain_files import open_plain
from dxf2veneer.textio.whole_files import write_whole

NAME = "dxf2veneer-done.jsonl"


@dataclass(frozen=True)
class Done:
    """A drawing whose outputs stand in their places; all hashes are SHA-256."""

    drawing: str
    """Hash of the drawing."""
    asked: str
    """Hash of all else that the outputs follow from."""
    outputs: dict[str, str]
    """Hash of every output, by its path from the record's folder; the workbook is the first."""
    row: Row

    @property
    def workbook(self) -> str:
        """The workbook's path, which is no other drawing's."""
        return next(iter(self.outputs))

    def holds(self, drawing: Path, asked: str, folder: Path) -> bool:
        """Whether nothing has changed since: the drawing, what is asked, the outputs."""
        return (
            self.asked == asked
            and self.drawing == digest(drawing)
            and all(digest(folder / path) == there for path, there in self.outputs.items())
        )


def digest(path: Path) -> str:
    """The hash of a file's content.

    Args:
        path: The file.

    Returns:
        Its SHA-256 in hexadecimal digits; empty where it can't be read.
    """
    with suppress(OSError), open_plain(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
    return ""


def place(path: Path, folder: Path) -> str:
    """A path as the record of a folder writes it: from there, so that both can move together.

    Args:
        path: The file.
        folder: The record's folder.

    Returns:
        The path with forward slashes.
    """
    try:
        return Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # on another drive
        return path.resolve().as_posix()


def open_record(folder: Path) -> dict[str, Done]:
    """What the record of a folder knows, by workbook.

    The file is left in order, without lines that are overtaken or torn.

    Args:
        folder: The record's folder.

    Returns:
        What is done, by the path of its workbook.

    Raises:
        OSError: The record can't be read or put in order.
    """
    file = folder / NAME
    try:
        content = file.read_bytes()
    except FileNotFoundError:
        return {}
    known = {done.workbook: done for done in map(_parsed, content.splitlines()) if done}
    tidy = b"".join(_line(known[workbook]) for workbook in sorted(known))
    if tidy != content:
        write_whole(file, lambda draft: draft.write_bytes(tidy))
    return known


def add(folder: Path, done: Done) -> None:
    """Add a line to the record of a folder.

    Args:
        folder: The record's folder.
        done: A drawing whose outputs stand in their places.

    Raises:
        OSError: The record can't be written.
    """
    with (folder / NAME).open("ab") as file:
        file.write(_line(done))


def hash_of(texts: Iterable[str]) -> str:
    """One hash of several texts.

    Args:
        texts: The texts; their order counts.

    Returns:
        A SHA-256 in hexadecimal digits.
    """
    return hashlib.sha256(json.dumps(list(texts)).encode()).hexdigest()


def _line(done: Done) -> bytes:
    return json.dumps(asdict(done)).encode() + b"\n"


def _parsed(line: bytes) -> Done | None:
    try:
        values = json.loads(line)
        done = Done(
            str(values["drawing"]),
            str(values["asked"]),
            dict(values["outputs"]),
            Row(**values["row"]),
        )
    except (ValueError, TypeError, KeyError):
        return None
    return done if done.outputs else None
