"""`dxf2veneer takeoff`."""

from __future__ import annotations

import click

from dxf2veneer.cli.making import made, report, speaker
from dxf2veneer.cli.options import takeoff_options
from dxf2veneer.notices import Level
from dxf2veneer.outputs import Asked


@click.command()
@takeoff_options
@click.option("--strict", is_flag=True, help="exit with 1 where there are warnings")
def takeoff(asked: Asked, quiet: bool, strict: bool) -> None:
    """Measure the walls of one or more drawings and lay out their courses.

    Writes STEM-takeoff.xlsx and, for each drawing, STEM-courses.dxf into the folder. With several
    drawings there is one takeoff for the whole job, named after the job file or the first drawing.
    """
    result, outputs = made(asked, speaker(quiet))
    report(result, outputs, quiet=quiet)
    levels = {n.level for n in result.notices}
    if Level.ERROR in levels or (strict and Level.WARNING in levels):
        click.get_current_context().exit(1)
