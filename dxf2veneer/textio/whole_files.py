"""Files appear whole or not at all, and carry a seal by which they are known again.

A writer puts ``BLANK_SEAL`` somewhere into what it writes, packed files behind their end, as the
comment of the archive. It is replaced by a digest of the whole file, so that a file counts as ours
only while it is as it was written: one that a person or another program has changed is theirs.
"""

from __future__ import annotations

import csv
import hashlib
import os
import re
import secrets
import stat
from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal
from pathlib import Path

from dxf2veneer.textio.escaping import for_csv

PROGRAM = "dxf2veneer"
BLANK_SEAL = f"{PROGRAM}-{'0' * 64}"
_BLANK = BLANK_SEAL.encode()
_SEAL = re.compile(rb"dxf2veneer-[0-9a-f]{64}")
_PLACES = 6
"""Decimal places of a number in a table for people; the JSON holds every digit."""


def write_whole(path: Path, write: Callable[[Path], object]) -> None:
    """Let ``write`` make a file beside ``path``, then put it, sealed, in its place in one step.

    Where ``write`` fails nothing is left behind, and what stood at ``path`` stays as it was.

    Args:
        path: Where the file belongs.
        write: Makes a file at the path it is given, which has the same ending as ``path``.

    Raises:
        OSError: The file can't be made or put in its place; and whatever ``write`` raises.
    """
    target = path.resolve()
    draft = target.with_name(f".writing-{secrets.token_hex(6)}{target.suffix}")
    try:
        write(draft)
        _seal(draft)
        os.replace(draft, target)
    finally:
        draft.unlink(missing_ok=True)


Cell = str | int | float | Decimal | None


def write_csv(path: Path, columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> None:
    """Write a table as UTF-8 CSV, whole or not at all.

    Texts can't run as formulas, numbers stand with a decimal point and six places at most, None is
    empty. One column more, ``made_by``, holds the seal in its first row, or in its head where there
    are no rows.

    Args:
        path: Where the file belongs.
        columns: Heads of the columns.
        rows: Cells of each row, as many as there are columns.

    Raises:
        OSError: The file can't be written.
    """
    table = [tuple(map(_csv_cell, row)) for row in rows]
    last = "made_by" if table else f"made_by {BLANK_SEAL}"

    def write(draft: Path) -> None:
        # the byte order mark tells a spreadsheet that the text is UTF-8
        with draft.open("w", encoding="utf-8-sig", newline="") as file:
            lines = csv.writer(file, quoting=csv.QUOTE_MINIMAL, lineterminator="\r\n")
            lines.writerow((*columns, last))
            lines.writerows((*row, "" if n else BLANK_SEAL) for n, row in enumerate(table))

    write_whole(path, write)


def _csv_cell(value: Cell) -> str:
    if isinstance(value, str):
        return for_csv(value)
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return f"{value:f}"
    return repr(round(value, _PLACES)).removesuffix(".0")


def is_ours(path: Path) -> bool:
    """Whether this tool wrote a file and nobody has changed it since.

    Args:
        path: The file.

    Returns:
        False also where it can't be read.
    """
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return False
        content = path.read_bytes()
    except OSError:
        return False
    seals = set(_SEAL.findall(content))
    return bool(seals) and _digest(_SEAL.sub(_BLANK, content)) in seals


def _seal(path: Path) -> None:
    """Put the digest of the file in place of its blank seals, and the file safely on the disk."""
    with path.open("r+b") as file:
        content = bytearray(file.read())
        blank = [found.start() for found in re.finditer(re.escape(_BLANK), content)]
        if blank:
            for found in list(_SEAL.finditer(content)):
                content[slice(*found.span())] = _BLANK
            seal = _digest(content)
            for place in blank:
                file.seek(place)
                file.write(seal)
        file.flush()
        os.fsync(file.fileno())


def _digest(content: bytes | bytearray) -> bytes:
    return f"{PROGRAM}-{hashlib.sha256(content).hexdigest()}".encode()
