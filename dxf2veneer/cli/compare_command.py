"""`dxf2veneer compare`."""

from __future__ import annotations

from pathlib import Path

import click

from dxf2veneer.app.outputs import Asked, other_inputs
from dxf2veneer.app.sparing import spare_folder, spare_inputs, spare_others
from dxf2veneer.basics.tolerances import REVISION_MOVE_IN
from dxf2veneer.basics.units import parse_length
from dxf2veneer.cli.change_terms import check_order_files, terms_of
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.jobs import job_asked
from dxf2veneer.cli.options import FILE, job_options, settings_of
from dxf2veneer.cli.showing import clear_line, speaker
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.table import safe

CHANGED = 3
"""Exit code of a difference that matters under --fail-on-change."""


@click.command()
@click.argument("old", type=FILE)
@click.argument("new", type=FILE)
@click.option(
    "--job", "job_file", type=FILE, metavar="FILE", help="job file (TOML); options win over it"
)
@click.option(
    "--new-job",
    "new_job_file",
    type=FILE,
    metavar="FILE",
    help="another job file for the new drawing, where its layers have other names",
)
@click.option(
    "--json", "json_file", type=FILE, metavar="FILE", help="write what changed as JSON too"
)
@click.option(
    "--report",
    "report_file",
    type=FILE,
    metavar="FILE",
    help="write a page too that shows each changed wall before and now, without money (HTML, opens "
    "without a network)",
)
@click.option(
    "-o",
    "--out",
    "folder",
    type=FILE,
    metavar="DIR",
    help="folder for a copy of each new drawing with outlines before and now and clouds round "
    "what changed, on layers of their own; made if need be",
)
@click.option(
    "--change-order",
    "order_files",
    type=FILE,
    multiple=True,
    metavar="FILE",
    help="write a change order for the customer too, add and deduct apart, without costs: .xlsx, "
    'or .pdf (needs the extra: pip install "dxf2veneer[pdf]"); may be repeated',
)
@click.option("--change-number", metavar="TEXT", default="", help="number of the change order")
@click.option("--change-date", metavar="TEXT", default="", help="its date, as it is printed")
@click.option("--change-reason", metavar="TEXT", default="", help="why it is made")
@click.option(
    "--contract-price",
    metavar="AMOUNT",
    help="price agreed on before any change  [default: that of the takeoff of OLD]",
)
@click.option(
    "--earlier-change",
    "earlier_changes",
    multiple=True,
    metavar="NUMBER=AMOUNT",
    help="a change order before this one, below 0 where it deducts; may be repeated",
)
@click.option(
    "--ignore-moves",
    metavar="LENGTH",
    help=f"edges that are off by no more did not move  [default: {REVISION_MOVE_IN:g} in]",
)
@click.option(
    "--fail-on-change",
    is_flag=True,
    help=f"exit with {CHANGED} where anything differs that is built or measured",
)
@click.option(
    "--force",
    is_flag=True,
    help="replace files too that this tool did not write, or that were changed since",
)
@click.option("-q", "--quiet", is_flag=True, help="print errors only")
@job_options
def compare(
    old: Path,
    new: Path,
    job_file: Path | None,
    new_job_file: Path | None,
    json_file: Path | None,
    report_file: Path | None,
    folder: Path | None,
    order_files: tuple[Path, ...],
    change_number: str,
    change_date: str,
    change_reason: str,
    contract_price: str | None,
    earlier_changes: tuple[str, ...],
    ignore_moves: str | None,
    fail_on_change: bool,
    force: bool,
    quiet: bool,
    **given: object,
) -> None:
    """Say what changed from OLD to NEW, and what that does to areas, panels, hours and money.

    OLD and NEW are each a drawing, a folder of drawings that are one job, or the JSON of an
    earlier takeoff. Walls and openings are known again by place, shape, name and handle, also where
    the drawing was moved, saved anew or drawn in another unit.
    """
    from dxf2veneer.app.revising import compared, version_of
    from dxf2veneer.app.revision_files import CompareFiles, write_compared
    from dxf2veneer.wording.revisions import compare_lines

    display = str(given.get("output__display") or "imperial")
    with in_one_line(display):
        most = REVISION_MOVE_IN if ignore_moves is None else parse_length(ignore_moves)
        before, now = version_of(old), version_of(new)
        drawings = (*before.drawings, *now.drawings)
        asked = Asked(drawings, Path(), job_file, json_file, settings=settings_of(given))
        job = job_asked(asked)
        new_asked = Asked(drawings, Path(), new_job_file, settings=settings_of(given))
        new_job = job_asked(new_asked) if new_job_file else None
        check_order_files(order_files)
        terms = terms_of(change_number, change_date, change_reason, contract_price, earlier_changes)
        files = CompareFiles(json_file, report_file, folder, order_files, terms)
        spare_folder("-o", folder)
        outputs = files.all(now)
        spare_inputs(outputs, (), [*before.inputs, *now.inputs, *other_inputs(asked, job)])
        if not force:
            spare_others(outputs)
        found = compared(before, now, job, new_job, tolerance=most, progress=speaker(quiet))
        write_compared(found, new_job or job, now, files, speaker(quiet))
    clear_line(quiet)
    if not quiet:
        for line in compare_lines(found.revision):
            click.echo(safe(line) if line else "")
        for path in outputs:
            click.echo(safe(f"wrote {path}"))
        click.echo(CAUTION)
    if fail_on_change and found.revision.is_changed:
        click.get_current_context().exit(CHANGED)
