"""`dxf2veneer advise`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dxf2veneer.app.outputs import Asked, other_inputs, stems_of
from dxf2veneer.app.sparing import spare_folders, spare_inputs, spare_others
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.jobs import job_asked
from dxf2veneer.cli.options import ADVICE, FILE, job_options, section_options, settings_of
from dxf2veneer.cli.showing import clear_line, speaker
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.table import safe, table

if TYPE_CHECKING:
    from dxf2veneer.model import CoursingAdvice


@click.command()
@click.argument("drawings", nargs=-1, required=True, type=FILE, metavar="DRAWING...")
@click.option(
    "-o",
    "--out",
    "folder",
    type=FILE,
    metavar="DIR",
    help="write STEM-advice.svg, walls as they stand and as proposed, and for each drawing "
    "STEM-advice.dxf, a copy with a layer for each proposal, into this folder; made if need be",
)
@click.option(
    "--job", "job_file", type=FILE, metavar="FILE", help="job file (TOML); options win over it"
)
@click.option("--json", "json_file", type=FILE, metavar="FILE", help="write the advice as JSON too")
@click.option(
    "--force",
    is_flag=True,
    help="replace files too that this tool did not write, or that were changed since",
)
@click.option("-q", "--quiet", is_flag=True, help="print errors only")
@section_options(ADVICE)
@job_options
def advise(
    drawings: tuple[Path, ...],
    folder: Path | None,
    job_file: Path | None,
    json_file: Path | None,
    force: bool,
    quiet: bool,
    **given: object,
) -> None:
    """Advise where to start the courses and which openings to move, so that less is ripped.

    Looks over the height of a whole course and moves openings and caps within the limits that
    --may-move and --may-resize give; without them they stay where they are drawn. Lists what
    beats the drawing as it stands and is beaten by nothing else. Give the options of the takeoff.
    """
    from dxf2veneer.app.course_advice import advise as advise_on
    from dxf2veneer.app.course_advice import write_all

    display = str(given.get("output__display") or "imperial")
    with in_one_line(display):
        settings = settings_of(given)
        asked = Asked(
            drawings, folder or Path(), job_file, json_file, force=force, settings=settings
        )
        job = job_asked(asked)
        picture = folder / f"{stems_of(drawings)[0]}-advice.svg" if folder else None
        copies = [folder / f"{stem}-advice.dxf" for stem in stems_of(drawings)] if folder else []
        outputs = [path for path in (picture, *copies, json_file) if path]
        spare_folders(asked)
        spare_inputs(outputs, drawings, other_inputs(asked, job))
        if not force:
            spare_others(outputs)
        advice = advise_on(drawings, job, progress=speaker(quiet))
        write_all(advice, drawings, picture=picture, copies=copies, json_file=json_file)
    clear_line(quiet)
    if not quiet:
        for line in advice_lines(advice):
            click.echo(safe(line) if line else "")
        for path in outputs:
            click.echo(safe(f"wrote {path}"))


def advice_lines(advice: CoursingAdvice) -> Iterator[str]:
    """What the terminal shows of advice.

    Args:
        advice: The advice.

    Returns:
        For each group of walls a table and a sentence for each proposal; then what holds for all.
    """
    from dxf2veneer.writers.advice.words import (
        Names,
        closing_of,
        head_of,
        notes_of,
        proposal_message,
        rows_of,
    )

    names, display = Names(advice), advice.job.output.display
    for group in advice.groups:
        together = ", courses together" if len(group.walls) > 1 else ""
        yield f"{', '.join(names.of(group.walls))}{together}:"
        yield from table(head_of(group), rows_of(group, display))
        for number, proposal in enumerate(group.proposals, 1):
            yield f"{number}: {say(proposal_message(proposal, group, names), display)}"
        for note in notes_of(group, advice, names):
            yield f"note: {say(note, display)}"
        yield ""
    for note in closing_of(advice):
        yield f"note: {say(note, display)}"
    yield CAUTION
