"""`dxf2veneer layers`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.basics.notices import Level
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.options import FILE, given_again, section_options, settings_of
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
@section_options(
    "drawing",
    only=(
        *("units", "scale", "gap", "window", "window_closes", "view"),
        *("encoding", "hatch_pattern", "include_hidden"),
    ),
)
@section_options("limits")
def layers(
    drawing: Path,
    as_json: bool,
    faces: tuple[str, ...],
    **given: object,
) -> None:
    """Show the views and layers of a drawing: what lies on them and what they could be."""
    from dxf2veneer.app.proposing import in_views

    with in_one_line():
        settings = in_views(load_job(None, {**settings_of(given), "layers.wall": faces}), drawing)
    if faces:
        _faces(drawing, settings, as_json)
        return
    import json

    from dxf2veneer.app.proposing import see_if_small
    from dxf2veneer.cli.advice import advice_lines
    from dxf2veneer.cli.proposal_lines import unit_lines, view_lines
    from dxf2veneer.cli.propose_command import propose
    from dxf2veneer.cli.survey_json import survey_json
    from dxf2veneer.cli.takeoff_command import takeoff
    from dxf2veneer.cli.terminal import survey_lines
    from dxf2veneer.drawing import survey_drawing
    from dxf2veneer.wording.notice_lines import notice_lines

    with in_one_line():
        survey = survey_drawing(drawing, settings)
        seen = see_if_small(drawing, settings)
    if as_json:
        click.echo(json.dumps(survey_json(survey, seen), indent=2))
        return
    for line in (*survey_lines(survey), *notice_lines(survey.notices, (), least=Level.INFO)):
        click.echo(line)
    if seen is not None:
        for line in ("", *view_lines(seen.proposal), "", *unit_lines(seen)):
            click.echo(line)
    again = {str(c.name): given_again(given, c) for c in (propose, takeoff)}
    for line in ("", *advice_lines(survey, seen, drawing, settings, again)):
        click.echo(line)


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
