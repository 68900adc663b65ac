"""`dxf2veneer watch`."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from dxf2veneer.app.outputs import Asked, Outputs
from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.making import made, prepared
from dxf2veneer.cli.options import takeoff_options
from dxf2veneer.cli.showing import clear_line, report, speaker
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff


@click.command()
@takeoff_options
def watch(asked: Asked, quiet: bool) -> None:
    """Follow drawings: at every save, write anew what takeoff writes and say what changed.

    Follows the job, product and price files too. A drawing that can't be used, or is half written,
    leaves the last outputs as they are. Course lines, slivers and areas are told first, panels
    and files follow; a newer save drops the work on an older one. Ctrl-C ends.
    """
    with in_one_line():
        job, _ = prepared(asked)
    for drawing in asked.drawings:
        if not drawing.exists():
            raise click.ClickException(safe(f"{drawing}: there is no such file"))
    from threading import Event

    from dxf2veneer.app.follow import Following, unfit
    from dxf2veneer.app.watch import follow

    def attempt(coursed: Callable[[Takeoff], None]) -> tuple[Takeoff, Outputs]:
        return made(asked, speaker(quiet), coursed)

    def show(line: str, *, error: bool = False) -> None:
        clear_line(quiet)
        if error or not quiet:
            click.echo(safe(line), err=error)

    following = Following(
        asked, job, attempt, show, lambda result, outputs: report(result, outputs, quiet=quiet)
    )
    show(
        f"Following {', '.join(map(str, following.inputs()))}. "
        "The first takeoff is being made; Ctrl-C ends."
    )
    with contextlib.suppress(KeyboardInterrupt):
        follow(following, unfit(asked.drawings), Event())
    show("Ended; the last outputs stay.")
