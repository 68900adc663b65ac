"""`dxf2veneer site`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.app.outputs import Asked
from dxf2veneer.cli.errors import in_one_line, writing_to
from dxf2veneer.cli.jobs import job_asked
from dxf2veneer.cli.options import FILE, job_options, settings_of
from dxf2veneer.cli.showing import speaker
from dxf2veneer.wording.table import safe


@click.command()
@click.argument("drawings", nargs=-1, required=True, type=FILE, metavar="DRAWING...")
@click.option(
    "-o", "--out", "sheet", type=FILE, required=True, metavar="FILE", help="file to write (TOML)"
)
@click.option(
    "--job", "job_file", type=FILE, metavar="FILE", help="job file (TOML); options win over it"
)
@job_options
def site(drawings: tuple[Path, ...], sheet: Path, job_file: Path | None, **given: object) -> None:
    """Write a sheet of site measures to fill in.

    It has every drawn size of walls and openings beside an empty field, and every course with its
    planned joints. `dxf2veneer takeoff --site FILE` takes it. Give the options of that takeoff.
    """
    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.textio.whole_files import write_whole
    from dxf2veneer.writers.site_sheet import write_site_sheet

    if sheet.exists():
        raise click.UsageError(
            safe(f"{sheet} is there already; name another file, or take it away first")
        )
    with in_one_line():
        asked = Asked(drawings, sheet.parent, job_file, settings=settings_of(given))
        job = job_asked(asked)
        result = take_off(drawings, job, progress=speaker(quiet=False))
        with writing_to(sheet):
            write_whole(sheet, lambda draft: write_site_sheet(result, draft))
    openings = sum(len(w.wall.openings) for w in result.walls)
    counts = f"walls: {len(result.walls)}, openings: {openings}"
    click.echo(safe(f"{sheet} written ({counts}); fill in what was measured"))
