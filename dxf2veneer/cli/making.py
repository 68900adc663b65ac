"""What every command that makes a takeoff does: job and outputs checked, the takeoff made, written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dxf2veneer.app.outputs import (
    Asked,
    OutputClashError,
    Outputs,
    WriteError,
    folders_of,
    outputs_of,
    spare,
    spare_folders,
    with_pictures,
    write_outputs,
)
from dxf2veneer.config.job import Job, load_job
from dxf2veneer.config.settings import SettingsError
from dxf2veneer.notices import Level
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff


def prepared(asked: Asked) -> tuple[Job, Outputs]:
    """The job and the outputs of a takeoff, before a drawing is read.

    Args:
        asked: What the command was asked to read and write.

    Returns:
        The job, and the files to write; pictures come once walls are known.

    Raises:
        UsageError: A setting is wrong.
        OutputClashError: An output can't be where it was asked for.
    """
    job = job_asked(asked)
    outputs = outputs_of(asked)
    spare_folders(asked)
    spare(outputs, asked, job)
    return job, outputs


def made(
    asked: Asked, progress: Progress, still: Callable[[], bool] = lambda: True
) -> tuple[Takeoff, Outputs]:
    """A takeoff, made and written.

    Args:
        asked: What the command was asked to read and write.
        progress: Is given each step as it begins.
        still: Whether the inputs are as they were, see ``write_outputs``.

    Returns:
        The takeoff and its files.

    Raises:
        UsageError: A setting is wrong.
        TakeoffError: A drawing can't be used, or an output not be written.
    """
    from dxf2veneer.app.pipeline import take_off

    job, outputs = prepared(asked)
    documents: dict[Path, Any] = {}
    result = take_off(asked.drawings, job, progress=progress, keep=documents.__setitem__)
    _refuse_unknown_layers(result)
    outputs = with_pictures(outputs, result, asked.picture_folder)
    spare(outputs, asked, job)
    write_outputs(
        result, asked.drawings, outputs, documents=documents, progress=progress, still=still
    )
    return result, outputs


def _refuse_unknown_layers(result: Takeoff) -> None:
    """A layer that was typed as an option and that no drawing has is a slip of the keys; a job file
    may serve drawings that lack one. Raises DrawingError."""
    from dxf2veneer.drawing import DrawingError
    from dxf2veneer.drawing.layers import layer_matches, nearest_layers

    names = [layer.name for drawing in result.drawings for layer in drawing.layers]
    for key, patterns in result.job.items().items():
        if not (key.startswith("layers.") and result.job.origin_of(key).kind == "option"):
            continue
        for pattern in patterns:
            if not any(layer_matches(name, (pattern,)) for name in names):
                raise DrawingError(
                    message(
                        "no-layer-typed",
                        files=tuple(d.file for d in result.drawings),
                        option=result.job.source_of(key).removeprefix("option "),
                        pattern=pattern,
                        nearest=tuple(nearest_layers(pattern, names)),
                    )
                )


def job_asked(asked: Asked) -> Job:
    """The job that a takeoff was asked for. One that names no wall layer, or a PDF that can't be made, is wrong use."""
    job = job_of(asked.job_file, asked.settings)
    if not job.layers.wall:
        raise click.UsageError(
            "no wall layer is named; add --wall-layer LAYER or layers.wall in the job file (dxf2veneer layers DRAWING shows the layers)"
        )
    if asked.pdf_file:
        from dxf2veneer.writers.report import pdf

        if not pdf.is_available():
            raise click.UsageError(f"--pdf: {pdf.INSTALL}")
    return job


def job_of(job_file: Path | None, options: Mapping[str, Any]) -> Job:
    """The job of a file, or none, and options. Wrong settings are wrong use."""
    try:
        return load_job(job_file, options)
    except SettingsError as error:
        raise click.UsageError(safe(str(error))) from None


def speaker(quiet: bool) -> Callable[[str], None]:
    """Says what is being done, on the error stream, where a person is watching."""
    watched = not quiet and sys.stderr.isatty()

    def say(step: str) -> None:
        if watched:
            click.echo(f"\r\x1b[K{step} …", err=True, nl=False)

    return say


def clear_line(quiet: bool) -> None:
    """Take the last step that was said off the terminal."""
    if not quiet and sys.stderr.isatty():
        click.echo("\r\x1b[K", err=True, nl=False)


def report(result: Takeoff, outputs: Outputs, *, quiet: bool) -> None:
    """Show notices, the closing summary and the files written; errors alone where it is to be quiet."""
    from dxf2veneer.cli.terminal import summary
    from dxf2veneer.wording import say
    from dxf2veneer.wording.notice_lines import notice_lines

    clear_line(quiet)
    display, least = result.job.output.display, Level.ERROR if quiet else Level.WARNING
    for line in notice_lines(result.notices, result.drawings, least=least, display=display):
        click.echo(line, err=True)
    if quiet:
        return
    for line in dict.fromkeys(
        say(n.message, display) for n in result.notices if n.code == "WHOLE_COPY"
    ):
        click.echo(safe(f"Note: {line}"))
    click.echo()
    for line in summary(result):
        click.echo(line)
    click.echo(safe("Written: " + ", ".join(str(p) for p in outputs)))
    click.echo(CAUTION)
