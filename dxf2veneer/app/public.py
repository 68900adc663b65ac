"""What a program uses: the functions of the command line, with errors that say their line.

Every function here raises errors whose ``str`` is the line that the command line would print.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dxf2veneer.app import pipeline
from dxf2veneer.app.sparing import OutputClashError, spare_inputs
from dxf2veneer.app.stages import Progress, unwatched
from dxf2veneer.app.writing import WriteError
from dxf2veneer.basics.messages import Area, Length, Message, TakeoffError, message
from dxf2veneer.basics.notices import Level, Notice
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.job import load_job as read_job
from dxf2veneer.config.product import Product
from dxf2veneer.config.product import load_product as read_product
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.model import Takeoff
from dxf2veneer.textio.whole_files import is_ours
from dxf2veneer.wording import error_line, say

if TYPE_CHECKING:
    from dxf2veneer.drawing.survey import Survey

__all__ = [
    "Area",
    "DrawingError",
    "Job",
    "Length",
    "Level",
    "Message",
    "Notice",
    "OutputClashError",
    "Product",
    "SettingsError",
    "Takeoff",
    "TakeoffError",
    "WriteError",
    "describe",
    "load_job",
    "load_product",
    "result",
    "survey",
    "take_off",
    "write_overlay",
    "write_report",
    "write_result",
    "write_workbook",
]


def load_job(file: Path | str | None = None, settings: Mapping[str, Any] | None = None) -> Job:
    """The job: every setting of a takeoff.

    Args:
        file: A job file (TOML); without one every setting has its default.
        settings: Settings that win over the file, by ``section.key`` as docs/settings.md lists
            them. Lengths are inches, or text such as ``4'-6 1/2"`` or ``120 mm``.

    Returns:
        The job, checked.

    Raises:
        SettingsError: The file can't be read, or a setting is unknown or wrong.
    """
    with _worded():
        return read_job(None if file is None else Path(file), settings)


def load_product(file: Path | str | None = None) -> Product:
    """The panel: its sizes in inches, and the rules by which it is laid.

    Args:
        file: A product file (TOML); without one a generic panel.

    Returns:
        The product, checked.

    Raises:
        SettingsError: The file can't be read, or a value is missing or wrong.
    """
    with _worded():
        return read_product(None if file is None else Path(file))


def survey(drawing: Path | str, job: Job | None = None) -> Survey:
    """What a drawing holds: its unit, its layers, and what they could be.

    Args:
        drawing: A drawing in DXF.
        job: Limits and code page, where the defaults don't suit.

    Returns:
        Layers with entities, closed outlines and areas in drawing units.

    Raises:
        DrawingError: The drawing can't be read.
    """
    from dxf2veneer.drawing import survey_drawing

    with _worded(job):
        return survey_drawing(Path(drawing), job)


def take_off(
    drawings: Path | str | Sequence[Path | str], job: Job, *, progress: Progress = unwatched
) -> Takeoff:
    """The takeoff of one job over one drawing or several.

    Walls are what lies inside closed outlines; areas and lengths of straight and circular outlines
    are closed forms. Courses and panels follow the rules that docs/rules.md lists with their
    origins. Job and takeoff can be pickled, so that this can be mapped over other processes.

    Args:
        drawings: A drawing in DXF, or several that are one job: corners pair across them.
        job: The settings; names at least one wall layer.
        progress: Is given a message of each step as it begins; ``describe`` words it.

    Returns:
        Walls with quantities, courses and pieces; totals, plan, order, notices, assumptions.
        Lengths are inches, areas square inches, x and y the drawing's own in inches.

    Raises:
        DrawingError: A drawing can't be used.
        SettingsError: A product or price file can't be used.
    """
    with _worded(job):
        return pipeline.take_off(drawings, job, progress=progress)


def describe(said: Message | Notice | TakeoffError, display: str = "imperial") -> str:
    """The English line of a message, a notice or an error.

    Args:
        said: What there is to say, as data.
        display: Units of lengths and areas in it: ``imperial`` or ``metric``.

    Returns:
        One line without a full stop.
    """
    if isinstance(said, TakeoffError):
        return error_line(said, display)
    return say(said.message if isinstance(said, Notice) else said, display)


def result(takeoff: Takeoff) -> dict[str, Any]:
    """The takeoff in plain dicts, lists, texts and numbers.

    Args:
        takeoff: The takeoff.

    Returns:
        What the JSON file holds, as docs/result.schema.json describes it: lengths in inches under
        keys that end in ``_in``, areas in square feet under keys that end in ``_sqft``.
    """
    from dxf2veneer.writers.result import result_dict

    return dict(result_dict(takeoff))


def write_workbook(takeoff: Takeoff, file: Path | str) -> None:
    """Write the takeoff as an Excel workbook, whole or not at all.

    Args:
        takeoff: The takeoff.
        file: The workbook (.xlsx); one that this tool wrote is replaced.

    Raises:
        OutputClashError: The file is an input, no plain file, or stands there and is not ours.
        WriteError: It can't be written.
    """
    from dxf2veneer.writers import workbook

    with _target(takeoff, file) as target:
        workbook.write_workbook(takeoff, target)


def write_report(takeoff: Takeoff, file: Path | str) -> None:
    """Write the takeoff as a page with every elevation, whole or not at all.

    Args:
        takeoff: The takeoff.
        file: The page (.html), which opens without a network; one that this tool wrote is replaced.

    Raises:
        OutputClashError: The file is an input, no plain file, or stands there and is not ours.
        WriteError: It can't be written.
    """
    from dxf2veneer.writers import report

    with _target(takeoff, file) as target:
        report.write_report(takeoff, target)


def write_result(takeoff: Takeoff, file: Path | str) -> None:
    """Write the takeoff as JSON, whole or not at all.

    Args:
        takeoff: The takeoff.
        file: The file (.json); one that this tool wrote is replaced.

    Raises:
        OutputClashError: The file is an input, no plain file, or stands there and is not ours.
        WriteError: It can't be written.
    """
    from dxf2veneer.writers import result as writer

    with _target(takeoff, file) as target:
        writer.write_result(takeoff, target)


def write_overlay(takeoff: Takeoff, file: Path | str, *, drawing: int = 0) -> None:
    """Write a copy of a drawing with the takeoff drawn on it, whole or not at all.

    Args:
        takeoff: The takeoff; its drawing is read again from where it was.
        file: The overlay (.dxf), never the drawing itself; one that this tool wrote is replaced.
        drawing: Index of the drawing, where the takeoff has several.

    Raises:
        OutputClashError: The file is an input, no plain file, or stands there and is not ours.
        WriteError: It can't be written.
        TakeoffError: The drawing has changed since, or can't be copied without loss.
    """
    from dxf2veneer.writers import overlay

    source = takeoff.drawings[drawing]
    with _target(takeoff, file) as target:
        overlay.write_overlay(takeoff, source, Path(source.file), target)


@contextmanager
def _target(takeoff: Takeoff, file: Path | str) -> Iterator[Path]:
    """A file to write, which is no input of the takeoff. Raises OutputClashError and WriteError."""
    target, job = Path(file), takeoff.job
    drawings = [Path(d.file) for d in takeoff.drawings]
    named = (job.product_path, job.prices_path, job.site_path, job.before_path)
    others = (*named, *job.other_products)
    with _worded(job):
        if target.is_file() and not is_ours(target):
            raise OutputClashError(message("file-not-ours", file=str(target)))
        spare_inputs([target], drawings, [other for other in others if other])
        try:
            yield target
        except OSError as error:
            why = error.strerror or str(error)
            raise WriteError(message("cannot-write", file=str(target), why=why)) from error


@contextmanager
def _worded(job: Job | None = None) -> Iterator[None]:
    """Errors that leave say their line in the units of the job."""
    try:
        yield
    except TakeoffError as error:
        error.words = error_line(error, job.output.display if job else "imperial")
        raise
