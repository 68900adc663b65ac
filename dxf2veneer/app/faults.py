"""What nobody foresaw, as one line: the files, what was being done, and how to report it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from traceback import extract_tb

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import LIBRARY_TEXT_LETTERS

_PACKAGE = Path(__file__).parent.parent


def fault_of(error: BaseException, files: Sequence[Path]) -> Message:
    """An error of a kind that is no ``TakeoffError``.

    Args:
        error: The error, with its traceback.
        files: What the command worked on; may be none.

    Returns:
        One line's message: files, the room of the package where it happened, kind and text.
    """
    text = " ".join(str(error).split())[:LIBRARY_TEXT_LETTERS]
    room, place = _place(error)
    return message(
        "fault",
        files=tuple(str(file) for file in files),
        room=room,
        place=place,
        kind=type(error).__name__,
        text=text,
    )


def _place(error: BaseException) -> tuple[str, str]:
    """The room of the package that an error came from, and the file and line there."""
    for frame in reversed(extract_tb(error.__traceback__)):
        path = Path(frame.filename)
        if path.is_relative_to(_PACKAGE):
            inside = path.relative_to(_PACKAGE)
            return inside.parts[0], f"{inside.as_posix()}:{frame.lineno}"
    return "", ""
