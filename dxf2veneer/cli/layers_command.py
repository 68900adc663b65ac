"""`dxf2veneer layers`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.basics.notices import Level
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.options import FILE, section_options
from dxf2veneer.config.job import Job, load_job


@click.command()
@click.argument("drawing", type=FILE)
@click.option("--json", "as_json", is_flag=True, help="print the table as JSON")
@click.option(
    "--faces",
    multiple=True,
    metavar="LAYER",
    help="list the faces that lines on this layer bound instead; may be repeated",
)
@click.option(
    "--window",
    multiple=True,
    metavar="X0,Y0,X1,Y1",
    help="with --faces: only those in this box, in drawing units",
)
@click.option("--units", metavar="UNIT", help="with --faces: unit of a drawing that names none")
@click.option(
    "--encoding", metavar="NAME", help="code page, where the file declares none or the wrong one"
)
@section_options("limits")
def layers(
    drawing: Path,
    as_json: bool,
    faces: tuple[str, ...],
    window: tuple[str, ...],
    units: str | None,
    encoding: str | None,
    **limits: str | None,
) -> None:
    """Show the layers of a drawing: what lies on them and what they could be. Run this first."""
    asked: dict[str, object] = {key.replace("__", "."): value for key, value in limits.items()}
    drawn = {"window": window, "units": units, "encoding": encoding}
    asked |= {"layers.wall": faces, **{f"drawing.{key}": value for key, value in drawn.items()}}
    with in_one_line():
        settings = load_job(None, asked)
    if faces:
        _faces(drawing, settings, as_json)
        return
    import json

    from dxf2veneer.cli.survey_json import survey_json
    from dxf2veneer.cli.terminal import suggestion, survey_lines
    from dxf2veneer.drawing import survey_drawing
    from dxf2veneer.wording.notice_lines import notice_lines

    with in_one_line():
        survey = survey_drawing(drawing, settings)
    if as_json:
        click.echo(json.dumps(survey_json(survey), indent=2))
        return
    for line in (*survey_lines(survey), *notice_lines(survey.notices, (), least=Level.INFO)):
        click.echo(line)
    command = suggestion(survey, str(drawing))
    if command:
        click.echo(f"\nTo try with these layers:\n  {command}")


def _faces(drawing: Path, job: Job, as_json: bool) -> None:
    """Print the faces between the lines of the job's wall layers."""
    import json
    from dataclasses import asdict

    from dxf2veneer.cli.terminal import face_lines
    from dxf2veneer.drawing import list_faces

    with in_one_line():
        found = list_faces(drawing, job)
    click.echo(
        json.dumps([asdict(f) for f in found], indent=2)
        if as_json
        else "\n".join(face_lines(found))
    )
