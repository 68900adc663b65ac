"""The command line: parse, call the pipeline, print, exit code. No arithmetic, no geometry.

Exit codes: 0 done; 1 a drawing that can't be used, an error among the notices, or a warning under
--strict; 2 wrong use.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from dxf2veneer import __version__
from dxf2veneer.job import SECTIONS, Job, load_job, new_job_text
from dxf2veneer.notices import Level
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


@main.command()
@click.argument("drawings", nargs=-1, required=True, type=FILE, metavar="DRAWING...")
@click.option("-o", "--out", "folder", type=FILE, required=True, metavar="DIR", help="folder for the workbook and the overlays; made if need be")
@click.option("--job", "job_file", type=FILE, metavar="FILE", help="job file (TOML); options win over it")
@click.option("--json", "json_file", type=FILE, metavar="FILE", help="write the whole result as JSON too")
@click.option("--csv", "csv_folder", type=FILE, metavar="DIR", help="write the order's lines as CSV into this folder too")
@click.option("--strict", is_flag=True, help="exit with 1 where there are warnings")
@click.option("-q", "--quiet", is_flag=True, help="print errors only")
@job_options
def takeoff(
    drawings: tuple[Path, ...], folder: Path, job_file: Path | None, json_file: Path | None, csv_folder: Path | None,
    strict: bool, quiet: bool, **settings: Any,
) -> None:  # fmt: skip
    """Measure the walls of one or more drawings and lay out their courses.

    Writes STEM-takeoff.xlsx and, for each drawing, STEM-courses.dxf into the folder. With several
    drawings there is one takeoff for the whole job, named after the job file or the first drawing.
    """
    job = _job(job_file, {key.replace("__", "."): value for key, value in settings.items()})
    if not job.layers.wall:
        raise click.UsageError("no wall layer is named; add --wall-layer LAYER or layers.wall in the job file (dxf2veneer layers DRAWING shows the layers)")
    outputs = _outputs(drawings, folder, job_file, json_file, csv_folder)
    _spare_inputs(outputs, drawings, (job_file, job.product_path, job.prices_path, *map(job.alternate_path, job.bid.alternates)))
    say = _speaker(quiet)
    result = _take_off(drawings, job, say)
    _write(result, drawings, outputs, say)
    _report(result, outputs, quiet=quiet)
    levels = {n.level for n in result.notices}
    if Level.ERROR in levels or (strict and Level.WARNING in levels):
        click.get_current_context().exit(1)


class _Outputs:
    """The files that one takeoff writes, none of them an input."""

    def __init__(self, workbook: Path, overlays: tuple[Path, ...], result: Path | None, lines: Path | None) -> None:
        self.workbook, self.overlays, self.result, self.lines = workbook, overlays, result, lines

    def __iter__(self) -> Any:
        return iter((self.workbook, *self.overlays, *(p for p in (self.result, self.lines) if p)))


def _outputs(
    drawings: tuple[Path, ...], folder: Path, job_file: Path | None, json_file: Path | None, csv_folder: Path | None
) -> _Outputs:
    """The output files. Drawings of one name get numbers."""
    stems: list[str] = []
    for drawing in drawings:
        stem, count = drawing.stem, 2
        while stem.lower() in (s.lower() for s in stems):
            stem, count = f"{drawing.stem}-{count}", count + 1
        stems.append(stem)
    whole = stems[0] if len(stems) == 1 or job_file is None else job_file.stem
    lines = csv_folder / f"{whole}-order.csv" if csv_folder else None
    return _Outputs(folder / f"{whole}-takeoff.xlsx", tuple(folder / f"{s}-courses.dxf" for s in stems), json_file, lines)


def _spare_inputs(outputs: _Outputs, drawings: tuple[Path, ...], others: tuple[Path | None, ...]) -> None:
    """Refuse outputs that are an input, are written twice or are folders, and a drawing named twice."""
    inputs: set[Path] = set()
    for drawing in drawings:
        if drawing.resolve() in inputs:
            raise click.UsageError(safe(f"{drawing} is named twice and would count twice"))
        inputs.add(drawing.resolve())
    inputs |= {p.resolve() for p in others if p}
    written: set[Path] = set()
    for path in outputs:
        if path.resolve() in inputs:
            raise click.UsageError(safe(f"{path} is an input and would be overwritten; choose another folder with -o"))
        if path.resolve() in written:
            raise click.UsageError(safe(f"{path} would be written twice; choose another file with --json"))
        if path.is_dir():
            raise click.UsageError(safe(f"{path} is a folder, so no file can be written there; choose another name"))
        written.add(path.resolve())


def _job(job_file: Path | None, options: dict[str, Any]) -> Job:
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


def _take_off(drawings: tuple[Path, ...], job: Job, say: Callable[[str], None]) -> Takeoff:
    from dxf2veneer.drawing import DrawingError
    from dxf2veneer.pipeline import take_off

    try:
        return take_off(drawings, job, progress=lambda step: say(safe(step)))
    except DrawingError as error:
        raise click.ClickException(safe(str(error))) from None
    except SettingsError as error:
        raise click.UsageError(safe(str(error))) from None


def _write(result: Takeoff, drawings: tuple[Path, ...], outputs: _Outputs, say: Callable[[str], None]) -> None:
    """Write all outputs or none: each is made in a folder aside, then all are put in their places."""
    import os
    import tempfile

    from dxf2veneer.writers.csv_lines import write_lines
    from dxf2veneer.writers.overlay import OverlayError, write_overlay
    from dxf2veneer.writers.result import write_result
    from dxf2veneer.writers.workbook import write_workbook

    folder = outputs.workbook.parent
    target = folder
    try:
        for target in dict.fromkeys(p.parent for p in outputs):
            target.mkdir(parents=True, exist_ok=True)
        target = folder
        with tempfile.TemporaryDirectory(prefix=".writing-", dir=folder) as aside:
            made = [Path(aside) / p.name for p in (*outputs.overlays, outputs.workbook)]
            for drawing, source, path in zip(result.drawings, drawings, made, strict=False):
                say(safe(f"writing {path.name}"))
                write_overlay(result, drawing, source, path)
            say(safe(f"writing {outputs.workbook.name}"))
            write_workbook(result, made[-1])
            if outputs.result:
                target = outputs.result
                write_result(result, target)
            if outputs.lines and result.order:
                target = outputs.lines
                write_lines(result.order, target)
            for draft, target in zip(made, (*outputs.overlays, outputs.workbook), strict=True):
                os.replace(draft, target)
    except OverlayError as error:
        raise click.ClickException(safe(str(error))) from None
    except OSError as error:
        raise click.ClickException(safe(f"can't write {target}: {error.strerror or error}; what stood there before is unchanged")) from None
    say("done")


def _report(result: Takeoff, outputs: _Outputs, *, quiet: bool) -> None:
    from dxf2veneer.terminal import notice_lines, summary

    if not quiet and sys.stderr.isatty():
        click.echo("\r\x1b[K", err=True, nl=False)
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
