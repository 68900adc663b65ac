"""Files that a command or a setting names: job, product, prices, site measures, earlier results."""

from __future__ import annotations

from pathlib import Path

from dxf2veneer.basics.messages import message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.textio.plain_files import LARGEST, name_fault, read_plain


def read_named(path: Path, most: int = LARGEST) -> bytes:
    """The content of a file that a command or a setting names.

    Args:
        path: The file.
        most: Bytes that it may have.

    Returns:
        Its bytes.

    Raises:
        SettingsError: It is missing, is no plain file, is too large or can't be read.
    """
    try:
        return read_plain(path, most)
    except FileNotFoundError:
        raise SettingsError(message("file-missing", file=str(path))) from None
    except OSError as error:
        if not name_fault(path) and path.is_dir():
            raise SettingsError(message("file-is-folder", file=str(path))) from None
        why = error.strerror or type(error).__name__
        raise SettingsError(message("settings-unreadable", file=str(path), why=why)) from None
