"""`dxf2veneer compare`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from dxf2veneer.app.outputs import Asked, other_inputs
from dxf2veneer.app.sparing import spare_folder, spare_inputs, spare_others
from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import REVISION_MOVE_IN
from dxf2veneer.basics.units import parse_length
from dxf2veneer.cli.change_terms import check_order_files, terms_of
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.jobs import refuse_without_walls
from dxf2veneer.cli.options import FILE, job_options, settings_of
from dxf2veneer.cli.showing import clear_line, speaker
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job, load_job
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.app.revising import Compared, Version
    from dxf2veneer.app.revision_files import CompareFiles

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
    "--each",
    is_flag=True,
    help="OLD and NEW are folders in which every drawing is a job of its own; drawings are paired "
    "by name, else by what they show, and --json names a folder",
)
@click.option(
    "--keep-plan",
    is_flag=True,
    help="lay the new walls with what can be kept of the old plan: walls that did not change keep "
    "their pieces; two drawings are needed for it",
)
@click.option(
    "--keep-changes",
    "workbook",
    type=FILE,
    metavar="FILE",
    help="carry the changes made by hand in this workbook of the old takeoff over and list them, "
    "also those that no longer fit",
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
    each: bool,
    keep_plan: bool,
    workbook: Path | None,
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
    from dxf2veneer.app.revision_files import CompareFiles

    display = str(given.get("output__display") or "imperial")
    with in_one_line(display):
        most = REVISION_MOVE_IN if ignore_moves is None else parse_length(ignore_moves)
        settings = settings_of(given)
        job = load_job(job_file, settings)
        new_job = load_job(new_job_file, settings) if new_job_file else None
        check_order_files(order_files)
        terms = terms_of(change_number, change_date, change_reason, contract_price, earlier_changes)
        files = CompareFiles(json_file, report_file, folder, order_files, terms)
        asked = _Asked(
            old, new, job, new_job, files, most, keep_plan, workbook, force, quiet,
        )  # fmt: skip
        _refuse(asked, each)
        changed, is_amiss = (_compare_each if each else _compare_one)(asked)
    if is_amiss:
        click.get_current_context().exit(1)
    if fail_on_change and changed:
        click.get_current_context().exit(CHANGED)


class _Asked(NamedTuple):
    """What the command was asked for."""

    old: Path
    new: Path
    job: Job
    new_job: Job | None
    files: CompareFiles
    most: float
    keep_plan: bool
    workbook: Path | None
    force: bool
    quiet: bool


def _refuse(asked: _Asked, each: bool) -> None:
    """Raises SettingsError for options that don't go together."""
    results = any(path.suffix.lower() == ".json" for path in (asked.old, asked.new))
    if asked.keep_plan and results:
        raise SettingsError(message("keep-plan-of-results"))
    if asked.workbook and each:
        raise SettingsError(message("keep-changes-of-each"))
    if each and (asked.files.page or asked.files.folder or asked.files.orders):
        raise SettingsError(message("compare-files-of-each"))
    if asked.workbook and not asked.workbook.is_file():
        raise SettingsError(message("compare-file-missing", file=str(asked.workbook)))


def _spared(asked: _Asked, inputs: Sequence[Path], outputs: Sequence[Path]) -> None:
    """No output is an input or not ours. Raises OutputClashError."""
    others = other_inputs(Asked(tuple(inputs), Path()), asked.job)
    spare_inputs(outputs, (), [*inputs, *others])
    if not asked.force:
        spare_others(outputs)


def _compared(asked: _Asked) -> Callable[[Version, Version], Compared]:
    """Compares two versions as it was asked."""
    from dxf2veneer.app.revising import compared

    return partial(
        compared,
        job=asked.job,
        new_job=asked.new_job,
        tolerance=asked.most,
        keep_plan=asked.keep_plan,
        workbook=asked.workbook,
        progress=speaker(asked.quiet),
    )


def _compare_one(asked: _Asked) -> tuple[bool, bool]:
    """Compare two versions of a job and show what changed."""
    from dxf2veneer.app.revising import version_of
    from dxf2veneer.app.revision_files import write_compared
    from dxf2veneer.wording.revisions import compare_lines

    before, now = version_of(asked.old), version_of(asked.new)
    for version, job in ((before, asked.job), (now, asked.new_job or asked.job)):
        if version.result is None:  # a result knows its walls
            refuse_without_walls(job)
    spare_folder("-o", asked.files.folder)
    outputs = asked.files.all(now)
    _spared(asked, [*before.inputs, *now.inputs], outputs)
    found = _compared(asked)(before, now)
    write_compared(found, asked.new_job or asked.job, now, asked.files, speaker(asked.quiet))
    clear_line(asked.quiet)
    if not asked.quiet:
        for line in compare_lines(found.revision):
            click.echo(safe(line) if line else "")
        for path in outputs:
            click.echo(safe(f"wrote {path}"))
        click.echo(CAUTION)
    return found.revision.is_changed, False


def _compare_each(asked: _Asked) -> tuple[bool, bool]:
    """Compare the drawings of two folders and show what changed."""
    from dxf2veneer.app.outputs import stems_of
    from dxf2veneer.app.revising_each import pairs_of
    from dxf2veneer.cli.compare_each import compare_each

    refuse_without_walls(asked.job)
    pairs = pairs_of(asked.old, asked.new, asked.job)
    inputs = [path for pair in pairs for path in (pair.old, pair.new) if path]
    stems = stems_of([pair.new or pair.old or Path() for pair in pairs])
    folder = asked.files.result
    spare_folder("--json", folder)
    outputs = [folder / f"{stem}-changes.json" for stem in stems] if folder else []
    _spared(asked, inputs, outputs)
    return compare_each(pairs, asked.job, _compared(asked), outputs, quiet=asked.quiet)
