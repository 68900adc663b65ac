"""`dxf2veneer propose`."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

import click

from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.options import FILE, section_options, settings_of
from dxf2veneer.config.job import load_job


@click.command()
@click.argument("drawing", type=FILE)
@click.option(
    "--picture",
    type=FILE,
    metavar="FILE",
    help="the picture: views, walls and openings numbered (SVG)  [default: STEM-proposed.svg]",
)
@click.option(
    "--job",
    "job_file",
    type=FILE,
    metavar="FILE",
    help="the job file that takes it off (TOML)  [default: STEM-proposed.toml]",
)
@click.option(
    "--json",
    "json_file",
    type=FILE,
    metavar="FILE",
    help="write the outlines as JSON too, in drawing units",
)
@click.option(
    "--page",
    type=FILE,
    metavar="FILE",
    help="write a page to look at too, which holds the drawing and the job file's text (HTML, "
    "opens without a network)",
)
@click.option(
    "--cladding",
    "claddings",
    multiple=True,
    metavar="NAME",
    help="only walls on which this is drawn: stones, boards, battens, slabs, the pattern of a "
    "hatch, or plain for walls on which none was recognized; may be given several times",
)
@click.option(
    "--force",
    is_flag=True,
    help="replace files too that this tool did not write, or that were changed since",
)
@section_options("drawing", only=("units", "scale", "view", "encoding", "include_hidden"))
@section_options("output", only=("display",))
@section_options("limits")
def propose(
    drawing: Path,
    picture: Path | None,
    job_file: Path | None,
    json_file: Path | None,
    page: Path | None,
    claddings: tuple[str, ...],
    force: bool,
    **given: object,
) -> None:
    """Propose the walls and openings of a drawing that you don't know. Begin with this.

    Finds views, unit, walls and openings by what is drawn. Look at the picture: nothing is measured
    until a takeoff is made from the job file, and every output of that says that it is proposed
    until the job file says that you have looked.
    """
    from dxf2veneer.app.narrowing import clad
    from dxf2veneer.app.outputs import stems_of
    from dxf2veneer.app.proposing import displayed, see, write_proposal
    from dxf2veneer.app.sparing import spare_inputs, spare_others
    from dxf2veneer.cli.proposal_lines import next_lines, proposal_lines
    from dxf2veneer.page.single import write_page

    stem = stems_of([drawing])[0]
    picture = picture or drawing.with_name(f"{stem}-proposed.svg")
    with in_one_line():
        settings = load_job(None, settings_of(given))
        seen = see(drawing, settings)
        settings = displayed(settings, seen)
        seen = replace(seen, proposal=clad(drawing, seen.proposal, claddings))
        written = job_file or drawing.with_name(f"{stem}-proposed.toml")
        asked = [picture, written, json_file, page]
        outputs = [path for path in asked if path]
        spare_inputs(outputs, [drawing], [])
        if not force:
            spare_others(outputs)
        write_proposal(
            seen,
            settings,
            picture=picture,
            job_file=written,
            json_file=json_file,
            also=[(page, partial(write_page, seen, settings))] if page else [],
        )
    for line in proposal_lines(seen, settings):
        click.echo(line)
    click.echo()
    for line in next_lines(seen, drawing, picture, written):
        click.echo(line)
