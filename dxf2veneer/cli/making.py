"""What every command that makes a takeoff does: job and outputs checked, the takeoff made, told what came of it."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
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


INTERRUPTED = 130
"""Exit code of a run that was interrupted, as shells have it."""


def prepared(asked: Asked) -> tuple[Job, Outputs]:
    """The job and the outputs of a takeoff. Wrong use ends here, before a drawing is read."""
    job = job_asked(asked)
    outputs = outputs_of(asked)
    try:
        spare_folders(folders_of(asked))
        spare(outputs, asked, job)
    except OutputClashError as error:
        raise click.UsageError(safe(str(error))) from None
    return job, outputs


def made(
    asked: Asked, say: Callable[[str], None], still: Callable[[], bool] = lambda: True
) -> tuple[Takeoff, Outputs]:
    """A takeoff and the outputs that it was written to; ``still`` as in write_outputs."""
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.drawing import DrawingError

    job, outputs = prepared(asked)

    def tell(step: str) -> None:
        say(safe(step))

    try:
        documents: dict[Path, Any] = {}
        result = take_off(asked.drawings, job, progress=tell, keep=documents.__setitem__)
        _refuse_unknown_layers(result)
        outputs = with_pictures(outputs, result, asked.picture_folder)
        spare(outputs, asked, job)
        write_outputs(result, asked.drawings, outputs, documents=documents, say=tell, still=still)
    except (DrawingError, WriteError) as error:
        raise click.ClickException(safe(str(error))) from None
    except (SettingsError, OutputClashError) as error:
        raise click.UsageError(safe(str(error))) from None
    say("done")
    return result, outputs


def _refuse_unknown_layers(result: Takeoff) -> None:
    """A layer that was typed as an option and that no drawing has is a slip of the keys; a job file may serve
    drawings that lack one. Raises DrawingError."""
    from dxf2veneer.drawing import DrawingError
    from dxf2veneer.drawing.layers import layer_matches, nearest_layers

    names = [layer.name for drawing in result.drawings for layer in drawing.layers]
    for key, patterns in result.job.items().items():
        if not (key.startswith("layers.") and result.job.source_of(key).startswith("option")):
            continue
        for pattern in patterns:
            if not any(layer_matches(name, (pattern,)) for name in names):
                files, near = (
                    ", ".join(d.file for d in result.drawings),
                    ", ".join(nearest_layers(pattern, names)),
                )
                option = result.job.source_of(key).removeprefix("option ")
                raise DrawingError(
                    f"{files}: no layer matches {option} {pattern}; the nearest are {near}; nothing was written"
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
