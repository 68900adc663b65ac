"""Outputs never take the place of an input, of one another, or of what is not ours."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from dxf2veneer.app.outputs import Asked, Outputs, other_inputs
from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.textio.plain_files import real

if TYPE_CHECKING:
    from dxf2veneer.config.job import Job


class OutputClashError(TakeoffError):
    """An output can't be where it was asked for."""


def spare(outputs: Outputs, asked: Asked, job: Job) -> None:
    """Refuse outputs that would overwrite an input, another output, or what is not ours.

    Args:
        outputs: The files to write.
        asked: The drawings, and whether other people's files may be replaced (``force``).
        job: Names further inputs.

    Raises:
        OutputClashError: One of them can't be written there.
    """
    spare_inputs(outputs, asked.drawings, other_inputs(asked, job))
    if not asked.force:
        kept = {outputs.workbook} if asked.keep_changes else set()
        spare_others(path for path in outputs if path not in kept)


def spare_inputs(outputs: Iterable[Path], drawings: Sequence[Path], others: Sequence[Path]) -> None:
    """Refuse outputs that are an input, are written twice or are no plain files.

    Args:
        outputs: The files to write.
        drawings: The drawings; one that is named twice is refused too.
        others: The other inputs.

    Raises:
        OutputClashError: One of them can't be written there, or a drawing would count twice.
    """
    inputs: set[object] = set()
    for drawing in drawings:
        if real(drawing) in inputs:
            raise OutputClashError(message("drawing-named-twice", file=str(drawing)))
        inputs |= _names_of(drawing)
    for other in others:
        inputs |= _names_of(other)
    written: set[Path] = set()
    for path in outputs:
        if _names_of(path) & inputs:
            raise OutputClashError(message("output-is-input", file=str(path)))
        if real(path) in written:
            raise OutputClashError(message("output-written-twice", file=str(path)))
        if path.is_dir():
            raise OutputClashError(message("output-is-folder", file=str(path)))
        if path.exists() and not path.is_file():
            raise OutputClashError(message("output-is-device", file=str(path)))
        written.add(real(path))


def spare_others(outputs: Iterable[Path]) -> None:
    """Refuse outputs in whose place stands what this tool did not write, or what was changed since.

    Args:
        outputs: The files to write.

    Raises:
        OutputClashError: One of them stands there and is not ours.
    """
    from dxf2veneer.textio.whole_files import is_ours

    for path in outputs:
        if path.exists() and not is_ours(path):
            raise OutputClashError(message("output-not-ours", file=str(path)))


def spare_folders(asked: Asked, table_file: Path | None = None, *, each: bool = False) -> None:
    """Refuse folders in whose place or above which a file stands.

    Args:
        asked: The folders and files that a command names.
        table_file: The file of a batch's table, where one is asked for.
        each: Whether every drawing is a job of its own, so that options of files name folders.

    Raises:
        OutputClashError: A file stands in the way; it is named with the option.
    """
    folders = {"-o": asked.folder, "--csv": asked.csv_folder, "--svg": asked.picture_folder}
    folders["--tables"] = asked.tables_folder
    files = {"--json": asked.json_file, "--report": asked.report_file, "--pdf": asked.pdf_file}
    named = [*files.items()]
    named += (("--bid", file) for file in asked.bid_files)
    named += (("--request", file) for file in asked.request_files)
    named += (("--story-pole", file) for file in asked.pole_files)
    named += (("--crew-sheets", file) for file in asked.crew_files)
    named += (("--unfolded", file) for file in asked.unfolded_files)
    named += (("--sketch", file) for file in asked.sketch_files)
    if each:
        _spare_folders((*folders.items(), ("--table", table_file and table_file.parent)))
        _spare_folders(named, are_files_alone=True)
    else:
        _spare_folders((*folders.items(), *((name, f and f.parent) for name, f in named)))


def spare_folder(option: str, folder: Path | None) -> None:
    """Refuse a folder in whose place or above which a file stands.

    Args:
        option: The option that names it.
        folder: The folder; None for none.

    Raises:
        OutputClashError: A file stands in the way.
    """
    _spare_folders([(option, folder)])


def _spare_folders(
    folders: Iterable[tuple[str, Path | None]], *, are_files_alone: bool = False
) -> None:
    """Refuse folders by the option that names them; ``are_files_alone`` where the option names a
    file but for ``--each``."""
    for option, folder in folders:
        places = (folder, *folder.parents) if folder else ()
        standing = next((place for place in places if os.path.exists(place)), None)
        if standing is None or os.path.isdir(standing):
            continue
        raise OutputClashError(
            message("folder-of-each-is-file", file=str(standing), option=option)
            if are_files_alone
            else message("folder-is-file", file=str(standing), option=option)
        )


def _names_of(path: Path) -> set[object]:
    """What tells that two paths lead to one file: the whole path and, where it exists, the file's
    number."""
    try:
        found = path.stat()
    except (OSError, ValueError):
        return {real(path)}
    return {real(path), (found.st_dev, found.st_ino)}
