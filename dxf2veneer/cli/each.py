"""`dxf2veneer takeoff --each`: every drawing a job of its own, at the end one table of all."""

from __future__ import annotations

import sys
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import closing, contextmanager
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dxf2veneer.app.outputs import Asked, Outputs, other_inputs, outputs_of_each
from dxf2veneer.app.sparing import spare_folders, spare_inputs, spare_others
from dxf2veneer.app.writing import WriteError
from dxf2veneer.basics.messages import message
from dxf2veneer.cli.errors import INTERRUPTED, in_one_line, writing_to
from dxf2veneer.cli.jobs import job_asked, named_files
from dxf2veneer.cli.showing import clear_line
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.wording.cautions import CAUTION, UNCONFIRMED
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.app.batch.budget import Budget
    from dxf2veneer.app.batch.each import Outcome, Task


def take_each(
    asked: Asked,
    *,
    quiet: bool,
    strict: bool,
    workers: int | None,
    table_file: Path | None,
    again: bool,
    scheduler: str | None,
    budget: Budget,
) -> int:
    """Make the takeoffs and show the table.

    Args:
        asked: What the command was asked to read and write.
        quiet: Whether to print errors only.
        strict: Whether a warning counts as an error.
        workers: Drawings at work at once; None for one on each core.
        table_file: Where to write the table as CSV too.
        again: Whether nothing counts as done.
        scheduler: The address of a scheduler whose workers do it; None for this machine.
        budget: What each drawing may take.

    Returns:
        The exit code.

    Raises:
        UsageError: Both workers and a scheduler are given.
    """
    from dxf2veneer.app.batch.each import tasks_of
    from dxf2veneer.app.batch.record import NAME
    from dxf2veneer.app.batch.workers import ended_alike

    if scheduler and workers:
        raise click.UsageError("--workers is for this machine; a scheduler's workers are its own")
    with in_one_line():
        job = job_asked(asked, each=True)
        _refuse_of_one(job)
    every = outputs_of_each(asked)
    with in_one_line(job.output.display):
        _check(asked, job, every, asked.folder / NAME, table_file)
    outcomes: list[Outcome] = []
    interrupted = False
    try:
        with in_one_line(), _record_kept(asked.folder):
            tasks = tasks_of(asked, job, again=again)
            with (
                ended_alike(),
                _bar(len(tasks), quiet) as step,
                closing(_outcomes(tasks, asked, job, workers, scheduler, budget)) as coming,
            ):
                for outcome in coming:
                    outcomes.append(outcome)
                    _report(outcome, quiet)
                    step(outcome)
    except KeyboardInterrupt:
        interrupted = True
    order = {str(drawing): at for at, drawing in enumerate(asked.drawings)}
    outcomes.sort(key=lambda outcome: order[outcome.row.drawing])
    if interrupted:
        _close_early(outcomes, asked, job, quiet)
        return INTERRUPTED
    _close(outcomes, asked, job, table_file, quiet)
    rows = [outcome.row for outcome in outcomes]
    return int(any(r.problem or r.errors or (strict and r.warnings) for r in rows))


def _outcomes(
    tasks: Sequence[Task],
    asked: Asked,
    job: Job,
    workers: int | None,
    scheduler: str | None,
    budget: Budget,
) -> Generator[Outcome]:
    """What comes of each task, here or on other machines."""
    from dxf2veneer.app.batch.each import take_off_each
    from dxf2veneer.app.batch.workers import cores

    if scheduler:
        from dxf2veneer.app.batch.spread import spread

        return spread(tasks, asked, job, address=scheduler, budget=budget)
    return take_off_each(tasks, asked, job, workers=workers or cores(), budget=budget)


@contextmanager
def _record_kept(folder: Path) -> Iterator[None]:
    """What keeps the record from being read or written becomes an error of the package."""
    try:
        yield
    except OSError as error:
        why = error.strerror or str(error)
        raise WriteError(message("record-not-kept", folder=str(folder), why=why)) from error


def _refuse_of_one(job: Job) -> None:
    """Raises SettingsError for site measures, walls and quantities, which are of one takeoff."""
    if job.site.file:
        raise SettingsError(message("site-with-each"))
    for key, given in (("walls.rows", job.walls.rows), ("order.additions", job.order.additions)):
        if given:
            place = job.origin_of(key).place(folders=True)
            raise SettingsError(message("given-with-each", place=place, key=key))


def _check(
    asked: Asked, job: Job, every: Sequence[Outputs], record: Path, table_file: Path | None
) -> None:
    """What is wrong for every drawing is said once, before any is read. Raises TakeoffError."""
    tables = [table_file] if table_file else []
    spare_folders(asked, table_file, each=True)
    written = [*chain.from_iterable(every), record, *tables]
    spare_inputs(written, asked.drawings, other_inputs(asked, job))
    if not asked.force:
        spare_others(tables)
    named_files(job)
    for folder in {path.parent for path in chain.from_iterable(every)}:
        with writing_to(folder):
            folder.mkdir(parents=True, exist_ok=True)


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


def _report(outcome: Outcome, quiet: bool) -> None:
    """The one line of a drawing that can't be used, or the grave notices of one that can and what
    became of changes by hand."""
    for line in (f"Error: {safe(outcome.row.problem)}",) if outcome.row.problem else outcome.errors:
        clear_line(quiet)
        click.echo(line, err=True)
    for line in () if quiet else outcome.changes:
        clear_line(quiet)
        click.echo(f"{safe(Path(outcome.row.drawing).name)}: {line}")


def _close(
    outcomes: Sequence[Outcome], asked: Asked, job: Job, table_file: Path | None, quiet: bool
) -> None:
    """Write the table and show it."""
    from dxf2veneer.app.batch.summary import COLUMNS, cells
    from dxf2veneer.textio.whole_files import write_csv

    if table_file:
        with in_one_line(), writing_to(table_file):
            table_file.parent.mkdir(parents=True, exist_ok=True)
            write_csv(table_file, COLUMNS, [cells(outcome.row) for outcome in outcomes])
    if quiet:
        return
    _show(outcomes, job)
    click.echo()
    table = f"; the table: {table_file}" if table_file else ""
    click.echo(safe(f"{_counted(outcomes, asked)}. Written into {asked.folder}{table}"))
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
    from dxf2veneer.app.batch.summary import lines

    click.echo()
    if job.proposal.confirmed is False:
        click.echo(UNCONFIRMED.capitalize())
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
