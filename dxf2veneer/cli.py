"""The command line: parse, call the pipeline, print, exit code. No arithmetic, no geometry.

Exit codes: 0 done; 1 a drawing that can't be used, an error among the notices, or a warning under
--strict; 2 wrong use.
"""

from __future__ import annotations

import contextlib
import dataclasses
import functools
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dxf2veneer import __version__
from dxf2veneer.job import SECTIONS, Job, load_job, new_job_text
from dxf2veneer.notices import Level
from dxf2veneer.outputs import (
    Asked,
    OutputClashError,
    Outputs,
    WriteError,
    other_inputs,
    outputs_of,
    spare_inputs,
    with_pictures,
    write_outputs,
)
from dxf2veneer.settings import SettingsError, described
from dxf2veneer.terminal import safe

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff

FILE = click.Path(path_type=Path)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="dxf2veneer")
def main() -> None:
    """From elevation drawings in DXF to a takeoff for panelised stone veneer.

    Begin with `dxf2veneer layers DRAWING`: it shows which layers could be walls and openings.
    """


def job_options(command: Callable[..., None]) -> Callable[..., None]:
    """An option for every setting of the job that has one, named and described by the setting."""
    for section, owner in reversed(list(SECTIONS.items())):
        for name, about, default in reversed(list(described(owner))):
            if about.option:
                command = _option(f"{section}.{name}", about.option, about.help, default)(command)
    return command


def _option(key: str, option: str, help_line: str, default: Any) -> Callable[[Callable[..., None]], Callable[..., None]]:
    parameter = key.replace(".", "__")
    if isinstance(default, bool):
        return click.option(f"--{option}/--no-{option}", parameter, default=None, help=f"{help_line}.")
    if isinstance(default, tuple):
        return click.option(f"--{option}", parameter, multiple=True, metavar="LAYER" if key.startswith("layers.") else "NAME" if key == "drawing.hatch_pattern" else "X,Y…", help=f"{help_line}; may be repeated.")
    shown = "" if default is None else f"  [default: {default:g}]" if isinstance(default, float) else f"  [default: {default}]"
    return click.option(f"--{option}", parameter, metavar="VALUE", help=f"{help_line}.{shown}")


def takeoff_options(command: Callable[..., None]) -> Callable[..., None]:
    """What every command that makes a takeoff takes; the command gets it as one ``Asked`` besides its own."""

    @functools.wraps(command)
    def packed(**given: Any) -> None:
        settings = {key.replace("__", "."): given.pop(key) for key in [k for k in given if "__" in k]}
        parts = {part.name: given.pop(part.name) for part in dataclasses.fields(Asked) if part.name in given}
        command(Asked(**parts, settings=settings), **given)

    for add in reversed((
        click.argument("drawings", nargs=-1, required=True, type=FILE, metavar="DRAWING..."),
        click.option("-o", "--out", "folder", type=FILE, required=True, metavar="DIR", help="folder for the workbook and the overlays; made if need be"),
        click.option("--job", "job_file", type=FILE, metavar="FILE", help="job file (TOML); options win over it"),
        click.option("--json", "json_file", type=FILE, metavar="FILE", help="write the whole result as JSON too"),
        click.option("--csv", "csv_folder", type=FILE, metavar="DIR", help="write the order's lines as CSV into this folder too"),
        click.option("--report", "report_file", type=FILE, metavar="FILE", help="write a page with every elevation, the tables and the notices too (HTML, opens without a network)"),
        click.option("--svg", "picture_folder", type=FILE, metavar="DIR", help="write a picture of every wall into this folder too (SVG, to the plotting scale)"),
        click.option("-q", "--quiet", is_flag=True, help="print errors only"),
        job_options,
    )):  # fmt: skip
        packed = add(packed)
    return packed


@main.command()
@takeoff_options
@click.option("--strict", is_flag=True, help="exit with 1 where there are warnings")
def takeoff(asked: Asked, quiet: bool, strict: bool) -> None:
    """Measure the walls of one or more drawings and lay out their courses.

    Writes STEM-takeoff.xlsx and, for each drawing, STEM-courses.dxf into the folder. With several
    drawings there is one takeoff for the whole job, named after the job file or the first drawing.
    """
    result, outputs = _made(asked, _speaker(quiet))
    _report(result, outputs, quiet=quiet)
    levels = {n.level for n in result.notices}
    if Level.ERROR in levels or (strict and Level.WARNING in levels):
        click.get_current_context().exit(1)


@main.command()
@takeoff_options
def watch(asked: Asked, quiet: bool) -> None:
    """Follow drawings: at every save, write anew what takeoff writes and say what changed.

    Follows the job, product and price files too. A drawing that can't be used, or is half written,
    leaves the last outputs as they are. --no-plan makes large jobs quicker. Ctrl-C ends.
    """
    job, _ = _prepared(asked)
    for drawing in asked.drawings:
        if not drawing.exists():
            raise click.ClickException(safe(f"{drawing}: there is no such file"))
    from threading import Event

    from dxf2veneer.following import Following, unfit
    from dxf2veneer.watching import UnusableError, follow

    def attempt(still: Callable[[], bool]) -> tuple[Takeoff, Outputs]:
        try:
            return _made(asked, _speaker(quiet), still)
        except click.ClickException as error:
            raise UnusableError(error.message) from None

    def show(line: str, *, error: bool = False) -> None:
        _clear_line(quiet)
        if error or not quiet:
            click.echo(safe(line), err=error)

    following = Following(asked, job, attempt, show, lambda result, outputs: _report(result, outputs, quiet=quiet))
    show(f"Following {', '.join(map(str, following.inputs()))}. Ctrl-C ends.")
    with contextlib.suppress(KeyboardInterrupt):
        follow(following, unfit(asked.drawings), Event())
    show("Ended; the last outputs stay.")


def _prepared(asked: Asked) -> tuple[Job, Outputs]:
    """The job and the outputs of a takeoff. Wrong use ends here, before a drawing is read."""
    job = _job(asked.job_file, asked.settings)
    if not job.layers.wall:
        raise click.UsageError("no wall layer is named; add --wall-layer LAYER or layers.wall in the job file (dxf2veneer layers DRAWING shows the layers)")
    outputs = outputs_of(asked)
    try:
        spare_inputs(outputs, asked.drawings, other_inputs(asked, job))
    except OutputClashError as error:
        raise click.UsageError(safe(str(error))) from None
    return job, outputs


def _made(
    asked: Asked, say: Callable[[str], None], still: Callable[[], bool] = lambda: True
) -> tuple[Takeoff, Outputs]:
    """A takeoff and the outputs that it was written to; ``still`` as in write_outputs."""
    from dxf2veneer.drawing import DrawingError
    from dxf2veneer.pipeline import take_off

    job, outputs = _prepared(asked)

    def tell(step: str) -> None:
        say(safe(step))

    try:
        result = take_off(asked.drawings, job, progress=tell)
        outputs = with_pictures(outputs, result, asked.picture_folder)
        spare_inputs(outputs, asked.drawings, other_inputs(asked, job))
        write_outputs(result, asked.drawings, outputs, say=tell, still=still)
    except (DrawingError, WriteError) as error:
        raise click.ClickException(safe(str(error))) from None
    except (SettingsError, OutputClashError) as error:
        raise click.UsageError(safe(str(error))) from None
    say("done")
    return result, outputs


def _job(job_file: Path | None, options: Mapping[str, Any]) -> Job:
    try:
        return load_job(job_file, options)
    except SettingsError as error:
        raise click.UsageError(safe(str(error))) from None


def _speaker(quiet: bool) -> Callable[[str], None]:
    """Says what is being done, on the error stream, where a person is watching."""
    watched = not quiet and sys.stderr.isatty()

    def say(step: str) -> None:
        if watched:
            click.echo(f"\r\x1b[K{step} …", err=True, nl=False)

    return say


def _clear_line(quiet: bool) -> None:
    """Take the last step that was said off the terminal."""
    if not quiet and sys.stderr.isatty():
        click.echo("\r\x1b[K", err=True, nl=False)


def _report(result: Takeoff, outputs: Outputs, *, quiet: bool) -> None:
    from dxf2veneer.terminal import notice_lines, summary

    _clear_line(quiet)
    for line in notice_lines(result.notices, result.drawings, least=Level.ERROR if quiet else Level.WARNING):
        click.echo(line, err=True)
    if quiet:
        return
    click.echo()
    for line in summary(result):
        click.echo(line)
    click.echo(safe("Written: " + ", ".join(str(p) for p in outputs)))
    click.echo("An aid to bidding, not a design: local codes, the maker's instructions and a licensed professional decide.")


@main.command()
@click.argument("drawing", type=FILE)
@click.option("--json", "as_json", is_flag=True, help="print the table as JSON")
@click.option("--faces", multiple=True, metavar="LAYER", help="list the faces that lines on this layer bound instead; may be repeated")
@click.option("--window", multiple=True, metavar="X0,Y0,X1,Y1", help="with --faces: only those in this box, in drawing units")
@click.option("--units", metavar="UNIT", help="with --faces: unit of a drawing that names none")
@click.option("--encoding", metavar="NAME", help="code page, where the file declares none or the wrong one")
def layers(
    drawing: Path, as_json: bool, faces: tuple[str, ...], window: tuple[str, ...], units: str | None, encoding: str | None
) -> None:
    """Show the layers of a drawing: what lies on them and what they could be. Run this first."""
    settings = _job(None, {"layers.wall": faces, "drawing.window": window, "drawing.units": units, "drawing.encoding": encoding})
    if faces:
        _faces(drawing, settings, as_json)
        return
    import json

    from dxf2veneer.drawing import DrawingError, survey_drawing
    from dxf2veneer.terminal import notice_lines, suggestion, survey_lines

    try:
        survey = survey_drawing(drawing, settings)
    except DrawingError as error:
        raise click.ClickException(safe(str(error))) from None
    if as_json:
        click.echo(json.dumps(survey.to_dict(), indent=2))
        return
    for line in (*survey_lines(survey), *notice_lines(survey.notices, (), least=Level.WARNING)):
        click.echo(line)
    command = suggestion(survey, str(drawing))
    if command:
        click.echo(f"\nTo try with these layers:\n  {command}")


def _faces(drawing: Path, job: Job, as_json: bool) -> None:
    """Print the faces between the lines of the job's wall layers."""
    import json
    from dataclasses import asdict

    from dxf2veneer.drawing import DrawingError, list_faces
    from dxf2veneer.terminal import face_lines, safe

    try:
        found = list_faces(drawing, job)
    except DrawingError as error:
        raise click.ClickException(safe(str(error))) from None
    click.echo(json.dumps([asdict(f) for f in found], indent=2) if as_json else "\n".join(face_lines(found)))


@main.group()
def job() -> None:
    """Write or check a job file."""


@job.command("new")
@click.argument("file", type=FILE, default=Path("job.toml"))
def job_new(file: Path) -> None:
    """Write a commented job file with every setting at its default."""
    from dxf2veneer.writers.files import write_whole

    if file.exists():
        raise click.UsageError(safe(f"{file} is there already; name another file, or take it away first"))
    try:
        write_whole(file, lambda draft: draft.write_text(new_job_text(), encoding="utf-8"))
    except OSError as error:
        raise click.ClickException(safe(f"can't write {file}: {error.strerror}")) from None
    click.echo(safe(f"{file} written; take away the # before a setting to change it"))


@job.command("check")
@click.argument("file", type=FILE)
def job_check(file: Path) -> None:
    """Say whether a job file, and the product and price files it names, are right, and which line is wrong."""
    from dxf2veneer.alternates import prices_of
    from dxf2veneer.product import load_product

    checked = _job(file, {})
    try:
        product = load_product(checked.product_path)
        for other in filter(None, map(checked.alternate_path, checked.bid.alternates)):
            load_product(other)
        prices = prices_of(checked)
    except SettingsError as error:
        raise click.UsageError(safe(str(error))) from None
    click.echo(safe(f"{file} is right: {len(checked.sources)} settings, product {product.product.name}, {len(prices.items)} prices"))


if __name__ == "__main__":
    main()
