"""`dxf2veneer compare --each`: drawings of two folders, at the end one table of all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dxf2veneer.cli.errors import writing_to
from dxf2veneer.cli.showing import clear_line
from dxf2veneer.config.job import Job
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.wording.revisions import EACH_HEAD, compare_lines, each_rows
from dxf2veneer.wording.table import safe, table

if TYPE_CHECKING:
    from dxf2veneer.app.revising import Compared, Version
    from dxf2veneer.app.revising_each import Outcome, Pair


def compare_each(
    pairs: Sequence[Pair],
    job: Job,
    compare: Callable[[Version, Version], Compared],
    json_files: Sequence[Path],
    *,
    quiet: bool,
) -> tuple[bool, bool]:
    """Compare the pairs and show what changed, and the table.

    Args:
        pairs: The drawings.
        job: Names the reader's units.
        compare: Compares two of them.
        json_files: Where each comparison is written, as many as there are pairs; empty for none.
        quiet: Whether to print errors only.

    Returns:
        Whether anything changed, and whether a drawing can't be used.
    """
    from dxf2veneer.app.revising_each import compared_each
    from dxf2veneer.writers.revision import write_compare

    outcomes = []
    for number, outcome in enumerate(compared_each(pairs, compare)):
        outcomes.append(outcome)
        clear_line(quiet)
        if outcome.problem:
            click.echo(f"Error: {safe(say(outcome.problem, job.output.display))}", err=True)
        if outcome.compared is None:
            continue
        if json_files:
            with writing_to(json_files[number]):
                json_files[number].parent.mkdir(parents=True, exist_ok=True)
                write_compare(outcome.compared.revision, json_files[number])
        if not quiet and outcome.compared.revision.is_changed:
            for line in compare_lines(outcome.compared.revision):
                click.echo(safe(line) if line else "")
            click.echo()
    if not quiet:
        _show(outcomes)
    changed = any(
        one.compared.revision.is_changed if one.compared else one.problem is None
        for one in outcomes
    )
    return changed, any(one.problem for one in outcomes)


def _show(outcomes: Sequence[Outcome]) -> None:
    """The table, and the drawings that have no other."""
    done = [(o.pair.name, o.compared.revision) for o in outcomes if o.compared]
    if done:
        for line in table(EACH_HEAD, each_rows(done)):
            click.echo(line)
    for outcome in outcomes:
        if outcome.compared is None and not outcome.problem:
            word = "added" if outcome.pair.old is None else "removed"
            click.echo(safe(f"drawing {outcome.pair.name} {word}"))
    click.echo(CAUTION)
