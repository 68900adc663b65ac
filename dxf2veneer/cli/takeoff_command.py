"""`dxf2veneer takeoff`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.app.batch.budget import Budget
from dxf2veneer.app.outputs import Asked
from dxf2veneer.app.writing import LateInterrupt
from dxf2veneer.basics.notices import Level
from dxf2veneer.cli.errors import INTERRUPTED, in_one_line
from dxf2veneer.cli.making import made_within
from dxf2veneer.cli.options import FILE, takeoff_options
from dxf2veneer.cli.showing import clear_line, report, speaker


@click.command()
@takeoff_options
@click.option("--strict", is_flag=True, help="exit with 1 where there are warnings")
@click.option(
    "--each",
    is_flag=True,
    help="every drawing is a job of its own; --json, --report, --pdf, --bid, --request, "
    "--story-pole, --crew-sheets, --unfolded and --sketch name folders then",
)
@click.option(
    "--workers",
    type=click.IntRange(min=1),
    metavar="N",
    help="with --each: drawings at work at once; memory grows with it  "
    "[default: one for each core]",
)
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    help="with --each: drawings are sent to the workers of this dask scheduler, such as "
    "tcp://10.0.0.5:8786, and their outputs come back",
)
@click.option(
    "--limit-seconds",
    type=click.FloatRange(min=0, min_open=True),
    metavar="N",
    help="give a drawing up that takes longer; with --each it costs that drawing alone",
)
@click.option(
    "--limit-memory",
    type=click.IntRange(min=1),
    metavar="MB",
    help="the same for memory, in megabytes, where the system can bound it",
)
@click.option(
    "--table",
    "table_file",
    type=FILE,
    metavar="FILE",
    help="with --each: write the table across drawings as CSV too",
)
@click.option("--again", is_flag=True, help="with --each: make anew what an earlier run has done")
def takeoff(
    asked: Asked,
    quiet: bool,
    strict: bool,
    each: bool,
    workers: int | None,
    table_file: Path | None,
    again: bool,
    scheduler: str | None,
    limit_seconds: float | None,
    limit_memory: int | None,
) -> None:
    """Measure the walls of one or more drawings and lay out their courses.

    Writes STEM-takeoff.xlsx, where there is a plan its piece lists STEM-cuts.xlsx, and for each
    drawing STEM-courses.dxf into the folder. With several
    drawings there is one takeoff for the whole job, named after the job file or the first drawing;
    with --each there is one for every drawing.
    """
    exit_with = click.get_current_context().exit
    budget = Budget(limit_seconds, limit_memory)
    if each:
        from dxf2veneer.cli.each import take_each

        exit_with(
            take_each(
                asked,
                quiet=quiet,
                strict=strict,
                workers=workers,
                table_file=table_file,
                again=again,
                scheduler=scheduler,
                budget=budget,
            )
        )
    of_each = {"--workers": workers, "--table": table_file, "--again": again}
    for name, given in (of_each | {"--scheduler": scheduler}).items():
        if given:
            raise click.UsageError(
                f"{name} is for drawings that are jobs of their own; add --each, or leave it out"
            )
    exit_with(_take_one(asked, budget, quiet=quiet, strict=strict))


def _take_one(asked: Asked, budget: Budget, *, quiet: bool, strict: bool) -> int:
    """Make and write one takeoff and show it; the exit code."""
    written = False
    try:
        with in_one_line():
            result, outputs = made_within(asked, budget, speaker(quiet))
        written = True
        report(result, outputs, quiet=quiet)
    except KeyboardInterrupt as interrupt:
        clear_line(quiet)
        stands = (
            "all outputs are written"
            if written or isinstance(interrupt, LateInterrupt)
            else "nothing was written"
        )
        click.echo(f"Interrupted: {stands}.", err=True)
        return INTERRUPTED
    levels = {n.level for n in result.notices}
    if strict and Level.WARNING in levels and Level.ERROR not in levels:
        click.echo("Ends with 1: under --strict warnings count as errors.", err=True)
    return int(Level.ERROR in levels or (strict and Level.WARNING in levels))
