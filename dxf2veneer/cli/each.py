"""`dxf2veneer takeoff --each`: every drawing a job of its own, with one table across them at the end."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dxf2veneer.app.outputs import (
    Asked,
    OutputClashError,
    Outputs,
    folders_of,
    other_inputs,
    spare_folders,
    spare_inputs,
    spare_others,
)
from dxf2veneer.cli.making import INTERRUPTED, clear_line, job_asked
from dxf2veneer.config.job import Job
from dxf2veneer.config.settings import SettingsError
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.app.batch.each import Outcome


def take_each(
    asked: Asked,
    *,
    quiet: bool,
    strict: bool,
    workers: int | None,
    table_file: Path | None,
    again: bool,
) -> int:
    """Make the takeoffs and show the table; the exit code."""
    from dxf2veneer.app.batch.desks import cores, ended_alike
    from dxf2veneer.app.batch.each import outputs_of_each, take_off_each, tasks_of
    from dxf2veneer.app.batch.record import NAME

    job = job_asked(asked)
    every = outputs_of_each(asked)
    _check(asked, job, every, asked.folder / NAME, table_file)
    outcomes: list[Outcome] = []
    interrupted = False
    try:
        tasks = tasks_of(asked, job, again=again)
        with (
            ended_alike(),
            _bar(len(tasks), quiet) as step,
            closing(take_off_each(tasks, asked, job, workers=workers or cores())) as coming,
        ):
            for outcome in coming:
                outcomes.append(outcome)
                _tell(outcome, quiet)
                step(outcome)
    except KeyboardInterrupt:
        interrupted = True
    except OSError as error:
        raise click.ClickException(
            safe(f"can't keep the record in {asked.folder}: {error.strerror or error}")
        ) from None
    order = {str(drawing): at for at, drawing in enumerate(asked.drawings)}
    outcomes.sort(key=lambda outcome: order[outcome.row.drawing])
    if interrupted:
        _close_early(outcomes, asked, job, quiet)
        return INTERRUPTED
    _close(outcomes, asked, job, table_file, quiet)
    return int(
        any(
            r.problem or r.errors or (strict and r.warnings)
            for r in (outcome.row for outcome in outcomes)
        )
    )


def _check(
    asked: Asked, job: Job, every: Sequence[Outputs], record: Path, table_file: Path | None
) -> None:
    """What is wrong for every drawing is told once, before any is read."""
    from dxf2veneer.config.product import load_product
    from dxf2veneer.order.alternates import prices_of

    tables = [table_file] if table_file else []
    try:
        spare_folders(
            {**folders_of(asked, each=True), "--table": table_file.parent if table_file else None}
        )
        spare_inputs(
            [*chain.from_iterable(every), record, *tables], asked.drawings, other_inputs(asked, job)
        )
        if not asked.force:
            spare_others(tables)
        load_product(job.product_path)
        for other in filter(None, map(job.alternate_path, job.bid.alternates)):
            load_product(other)
        prices_of(job)
    except (OutputClashError, SettingsError) as error:
        raise click.UsageError(safe(str(error))) from None
    folder = asked.folder
    try:
        for folder in {path.parent for path in chain.from_iterable(every)}:
            folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise click.ClickException(safe(f"can't write into {folder}: {error.strerror}")) from None


@contextmanager
def _bar(length: int, quiet: bool) -> Iterator[Callable[[Outcome], None]]:
    """Shows how far it is, where a person is watching the error stream."""
    if quiet or not sys.stderr.isatty():
        yield lambda outcome: None
        return

    def last(outcome: Outcome | None) -> str:
        return safe(Path(outcome.row.drawing).name) if outcome else ""

    with click.progressbar(
        length=length, label="Drawings", file=sys.stderr, show_pos=True, item_show_func=last
    ) as bar:
        yield lambda outcome: bar.update(1, outcome)


def _tell(outcome: Outcome, quiet: bool) -> None:
    """The one line of a drawing that can't be used, or the grave notices of one that can."""
    for line in (f"Error: {safe(outcome.row.problem)}",) if outcome.row.problem else outcome.told:
        clear_line(quiet)
        click.echo(line, err=True)


def _close(
    outcomes: Sequence[Outcome], asked: Asked, job: Job, table_file: Path | None, quiet: bool
) -> None:
    """Write the table and show it."""
    from dxf2veneer.app.batch.across import COLUMNS, cells
    from dxf2veneer.textio.whole_files import write_csv

    if table_file:
        try:
            table_file.parent.mkdir(parents=True, exist_ok=True)
            write_csv(table_file, COLUMNS, [cells(outcome.row) for outcome in outcomes])
        except OSError as error:
            raise click.ClickException(
                safe(f"can't write {table_file}: {error.strerror}")
            ) from None
    if quiet:
        return
    _show(outcomes, job)
    click.echo()
    click.echo(
        safe(
            f"{_counted(outcomes, asked)}. Written into {asked.folder}{f'; the table: {table_file}' if table_file else ''}"
        )
    )
    click.echo(CAUTION)


def _close_early(outcomes: Sequence[Outcome], asked: Asked, job: Job, quiet: bool) -> None:
    """Say what was done before an interrupt."""
    clear_line(quiet)
    if outcomes and not quiet:
        _show(outcomes, job)
    click.echo(
        safe(f"Interrupted: {_counted(outcomes, asked)}. The same command goes on with the rest."),
        err=True,
    )


def _show(outcomes: Sequence[Outcome], job: Job) -> None:
    from dxf2veneer.app.batch.across import lines

    click.echo()
    for line in lines([outcome.row for outcome in outcomes], job.output.display):
        click.echo(line)


def _counted(outcomes: Sequence[Outcome], asked: Asked) -> str:
    done = sum(outcome.done is not None for outcome in outcomes)
    before = sum(not outcome.fresh for outcome in outcomes)
    failed = len(outcomes) - done
    earlier = f" ({before} by an earlier run)" if before else ""
    return f"{done} of {len(asked.drawings)} drawings taken off{earlier}" + (
        f", {failed} can't be used" if failed else ""
    )
