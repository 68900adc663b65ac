"""`dxf2veneer confirm`."""

from __future__ import annotations

import threading
import webbrowser
from pathlib import Path
from typing import TYPE_CHECKING

import click

from dxf2veneer.cli.errors import in_one_line
from dxf2veneer.cli.options import FILE, section_options, settings_of
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.page.session import Session


_PAGE_OPENS_S = 1.5
"""Seconds that a browser is given to show the drawing before looking at it takes the processor."""


@click.command()
@click.argument("drawing", type=FILE)
@click.option(
    "--job",
    "job_file",
    type=FILE,
    metavar="FILE",
    help="the job file to mend, or to make (TOML)  [default: STEM-proposed.toml]",
)
@click.option(
    "-o",
    "--out",
    "folder",
    type=FILE,
    metavar="DIR",
    help="folder for takeoffs made on the page  [default: STEM-takeoff]",
)
@click.option("--no-browser", is_flag=True, help="print the address and open nothing")
@click.option(
    "--port",
    type=click.IntRange(0, 65_535),
    default=0,
    metavar="N",
    help="port of the page, where one is forwarded  [default: any free one]",
)
@section_options("drawing", only=("units", "encoding", "include_hidden"))
def confirm(
    drawing: Path,
    job_file: Path | None,
    folder: Path | None,
    no_browser: bool,
    port: int,
    **given: object,
) -> None:
    """Look at a proposal on a page, and mend it by pointing at the drawing.

    The page opens in your browser; only this machine can reach it. Every click is saved in the job
    file at once. Once you have looked at every elevation, takeoffs from that file are confirmed.
    """
    from dxf2veneer.app.outputs import stems_of
    from dxf2veneer.app.sparing import spare_inputs
    from dxf2veneer.page.server import serve
    from dxf2veneer.page.session import Session

    job_file = job_file or drawing.with_name(f"{stems_of([drawing])[0]}-proposed.toml")
    options = {k: v for k, v in settings_of(given).items() if v is not None}
    with in_one_line():
        spare_inputs([job_file], [drawing], [])
        click.echo(safe(f"Reading {drawing.name} …"), err=True)
        session = Session(drawing, job_file, options=options, outputs=folder, looks=False)
        server, address = serve(session, port)
    try:
        click.echo(address)
        click.echo(safe(f"Clicks are saved in {job_file}. Ctrl+C ends this."), err=True)
        threading.Thread(target=_look, args=(session,), daemon=True).start()
        if not no_browser:
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
        server.serve_forever()
    except KeyboardInterrupt:
        pass
    finally:
        server.server_close()
    click.echo(safe(f"Ended. Take off with: dxf2veneer takeoff {drawing} --job {job_file} -o out"))


def _look(session: Session) -> None:
    """Look at the drawing once the page shows it, and get ready for the first click."""
    session.is_shown.wait(_PAGE_OPENS_S)
    problem = session.look()
    if problem:
        click.echo(safe(problem), err=True)
    session.get_ready()
