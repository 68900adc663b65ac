"""The files that a takeoff writes: their names, that none is an input, and that they appear together."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.textio.escaping import for_file_name
from dxf2veneer.textio.staging import CommitError, StagingError, commit, finish_commit, staged

if TYPE_CHECKING:
    from dxf2veneer.config.job import Job
    from dxf2veneer.model import Takeoff


class OutputClashError(ValueError):
    """An output can't be where it was asked for; the message is one line."""


class WriteError(Exception):
    """An output could not be written; the message is one line."""


class OvertakenError(Exception):
    """The inputs changed while the takeoff was made, so nothing was written."""


class LateInterrupt(KeyboardInterrupt):
    """An interrupt that came when all outputs stood in their places already."""


@dataclass(frozen=True)
class Asked:
    """What a command was asked to read and write."""

    drawings: tuple[Path, ...]
    folder: Path
    job_file: Path | None = None
    json_file: Path | None = None
    csv_folder: Path | None = None
    report_file: Path | None = None
    pdf_file: Path | None = None
    picture_folder: Path | None = None
    force: bool = False
    """Whether outputs may replace files that are not ours."""
    settings: Mapping[str, Any] = field(default_factory=dict)
    """Options that win over the job file, by ``section.key``; None or () where one was not given."""


def other_inputs(asked: Asked, job: Job) -> tuple[Path, ...]:
    """The files besides the drawings that a takeoff reads: job, product and price file, alternates' products."""
    named = (
        asked.job_file,
        job.product_path,
        job.prices_path,
        *map(job.alternate_path, job.bid.alternates),
    )
    return tuple(dict.fromkeys(p for p in named if p))


@dataclass(frozen=True)
class Outputs:
    """The files that one takeoff writes; one overlay for each drawing, in the same order."""

    overlays: tuple[Path, ...]
    workbook: Path
    result: Path | None = None
    lines: Path | None = None
    report: Path | None = None
    pdf: Path | None = None
    pictures: tuple[Path, ...] = ()
    """One for each wall in order, known only once the walls are: see ``with_pictures``."""

    def __iter__(self) -> Iterator[Path]:
        asked = (p for p in (self.result, self.lines, self.report, self.pdf) if p)
        return iter((self.workbook, *self.overlays, *asked, *self.pictures))


def outputs_of(asked: Asked) -> Outputs:
    """The output files of one takeoff over all drawings."""
    stems = stems_of(asked.drawings)
    whole = (
        stems[0]
        if len(stems) == 1 or asked.job_file is None
        else for_file_name(asked.job_file.stem)
    )
    lines = asked.csv_folder / f"{whole}-order.csv" if asked.csv_folder else None
    overlays = tuple(asked.folder / f"{s}-courses.dxf" for s in stems)
    return Outputs(
        overlays,
        asked.folder / f"{whole}-takeoff.xlsx",
        asked.json_file,
        lines,
        asked.report_file,
        asked.pdf_file,
    )


def stems_of(drawings: Sequence[Path]) -> list[str]:
    """What the outputs of each drawing are named after. Drawings of one name get numbers."""
    stems: list[str] = []
    taken: set[str] = set()
    for drawing in drawings:
        name = for_file_name(drawing.stem)
        stem, count = name, 2
        while stem.lower() in taken:
            stem, count = f"{name}-{count}", count + 1
        taken.add(stem.lower())
        stems.append(stem)
    return stems


def with_pictures(outputs: Outputs, takeoff: Takeoff, folder: Path | None) -> Outputs:
    """The outputs with a picture of every wall in the folder, where one was asked for."""
    if folder is None:
        return outputs
    from dxf2veneer.writers.elevation import picture_name

    return replace(outputs, pictures=tuple(folder / picture_name(wall) for wall in takeoff.walls))


def spare(outputs: Outputs, asked: Asked, job: Job) -> None:
    """Refuse outputs that would overwrite an input, another output or, without ``force``, what is not ours.

    Raises OutputClashError.
    """
    spare_inputs(outputs, asked.drawings, other_inputs(asked, job))
    if not asked.force:
        spare_others(outputs)


def spare_inputs(outputs: Iterable[Path], drawings: Sequence[Path], others: Sequence[Path]) -> None:
    """Refuse outputs that are an input, are written twice or are no plain files, and a drawing named twice.

    Raises OutputClashError.
    """
    inputs: set[object] = set()
    for drawing in drawings:
        if drawing.resolve() in inputs:
            raise OutputClashError(f"{drawing} is named twice and would count twice")
        inputs |= _names_of(drawing)
    for other in others:
        inputs |= _names_of(other)
    written: set[Path] = set()
    for path in outputs:
        if _names_of(path) & inputs:
            raise OutputClashError(
                f"{path} is an input and would be overwritten; choose another folder with -o"
            )
        if path.resolve() in written:
            raise OutputClashError(
                f"{path} would be written twice; choose another file with --json, --report or --pdf"
            )
        if path.is_dir():
            raise OutputClashError(
                f"{path} is a folder, so no file can be written there; choose another name"
            )
        if path.exists() and not path.is_file():
            raise OutputClashError(f"{path} is a device, not a file; choose another name")
        written.add(path.resolve())


def spare_folders(folders: Mapping[str, Path | None]) -> None:
    """Refuse folders, by the option that names them, in whose place or above which a file stands.

    Raises OutputClashError.
    """
    for option, folder in folders.items():
        if folder is None:
            continue
        standing = next(
            (place for place in (folder, *folder.parents) if os.path.exists(place)), None
        )
        if standing and not os.path.isdir(standing):
            raise OutputClashError(
                f"{standing} is a file, not a folder; choose another place with {option}"
            )


def folders_of(asked: Asked, *, each: bool = False) -> dict[str, Path | None]:
    """The folder that each option asks to write into; with ``each`` those of files name folders too."""
    folders = {"-o": asked.folder, "--csv": asked.csv_folder, "--svg": asked.picture_folder}
    files = {"--json": asked.json_file, "--report": asked.report_file, "--pdf": asked.pdf_file}
    if each:
        return {
            **folders,
            **{
                f"{option}, which names a folder with --each": path
                for option, path in files.items()
            },
        }
    return {**folders, **{option: path and path.parent for option, path in files.items()}}


def spare_others(outputs: Iterable[Path]) -> None:
    """Refuse outputs in whose place stands what this tool did not write, or what was changed since.

    Raises OutputClashError.
    """
    from dxf2veneer.textio.whole_files import is_ours

    for path in outputs:
        if path.exists() and not is_ours(path):
            raise OutputClashError(
                f"{path} is there already, and this tool did not write it or it was changed since; "
                "keep it under another name, choose another place, or add --force to replace it"
            )


def _names_of(path: Path) -> set[object]:
    """What tells that two paths lead to one file: the whole path and, where it exists, the file's number."""
    try:
        found = path.stat()
    except OSError:
        return {path.resolve()}
    return {path.resolve(), (found.st_dev, found.st_ino)}


def write_outputs(
    takeoff: Takeoff, sources: Sequence[Path], outputs: Outputs,
    *, documents: dict[Path, Any] | None = None, say: Callable[[str], None] = lambda step: None, still: Callable[[], bool] = lambda: True,
) -> None:  # fmt: skip
    """Write all outputs or none: each is made in a folder aside, then all are put in their places.

    ``documents`` are sources that were read whole already; each is given up once it is copied.
    ``still`` is asked before the first is put in its place. Raises OvertakenError where it says no,
    WriteError where an output can't be made, and LateInterrupt for an interrupt after all were written.
    """
    from dxf2veneer.textio.whole_files import is_ours
    from dxf2veneer.writers.overlay import OverlayError

    target, placed = outputs.workbook, False
    try:
        folders = dict.fromkeys(p.resolve().parent for p in outputs)
        if any([finish_commit(folder, is_ours) for folder in folders]):
            say("finished what an earlier run had begun to write")
        with staged(folders) as rooms:
            made = {}
            for target, write in _writings(takeoff, sources, outputs, documents or {}):
                say(f"writing {target.name}")
                place_of = target.resolve()
                made[place_of] = rooms[place_of.parent] / place_of.name
                write(made[place_of])
            if not still():
                raise OvertakenError
            commit(made)
            placed = True
    except KeyboardInterrupt:
        raise LateInterrupt if placed else KeyboardInterrupt from None
    except OverlayError as error:
        raise WriteError(str(error)) from None
    except CommitError as error:
        raise WriteError(
            f"can't replace {error.filename}: {error.strerror}; is it open in another program? {_UNCHANGED}"
        ) from None
    except StagingError as error:
        first = next(p for p in outputs if str(p.resolve().parent) == error.filename)
        raise WriteError(
            f"can't write {first}: no file can be made in {first.parent} ({error.strerror}); {_UNCHANGED}"
        ) from None
    except OSError as error:
        raise WriteError(f"can't write {target}: {error.strerror or error}; {_UNCHANGED}") from None


_UNCHANGED = "what stood there before is unchanged"


def _writings(
    takeoff: Takeoff, sources: Sequence[Path], outputs: Outputs, documents: dict[Path, Any]
) -> Iterator[tuple[Path, Callable[[Path], object]]]:
    """Every output with what makes it, the overlays first."""
    from dxf2veneer.writers.csv_lines import write_lines
    from dxf2veneer.writers.elevation import write_picture
    from dxf2veneer.writers.overlay import write_overlay
    from dxf2veneer.writers.report import write_pdf, write_report
    from dxf2veneer.writers.result import write_result
    from dxf2veneer.writers.workbook import write_workbook

    for drawing, source, overlay in zip(takeoff.drawings, sources, outputs.overlays, strict=True):
        yield (
            overlay,
            partial(write_overlay, takeoff, drawing, source, document=documents.pop(source, None)),
        )
    yield outputs.workbook, partial(write_workbook, takeoff)
    if outputs.result:
        yield outputs.result, partial(write_result, takeoff)
    if outputs.lines and takeoff.order:
        yield outputs.lines, partial(
            write_lines,
            takeoff.order,
            errors=takeoff.errors,
            display=takeoff.job.output.display,
        )
    if outputs.report:
        yield outputs.report, partial(write_report, takeoff)
    if outputs.pdf:
        yield outputs.pdf, partial(write_pdf, takeoff)
    for wall, picture in zip(takeoff.walls, outputs.pictures, strict=False):
        yield picture, partial(write_picture, takeoff, wall)
