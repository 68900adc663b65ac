"""The command line: parse, call the pipeline, print, exit code. No arithmetic, no geometry.

Exit codes: 0 done; 1 a drawing that can't be used, an error among the notices, or a warning under
--strict; 2 wrong use; 130 interrupted (watch, which only an interrupt ends: 0).
"""

from __future__ import annotations

import gc
from typing import Any

import click

from dxf2veneer import __version__
from dxf2veneer.cli.job_command import job
from dxf2veneer.cli.layers_command import layers
from dxf2veneer.cli.making import INTERRUPTED
from dxf2veneer.cli.takeoff_command import takeoff
from dxf2veneer.cli.watch_command import watch

_COLLECT = (20_000, 5, 5)
"""How often memory is searched for cycles: Python's own pace costs a tenth of a takeoff's time, this one a
hundredth, with the same peak of memory (measured on 5,000 and 500,000 entities)."""


class _Commands(click.Group):
    """Commands of which an interrupt ends each in one line."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            click.echo("Interrupted.", err=True)
            ctx.exit(INTERRUPTED)


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="dxf2veneer")
def main() -> None:
    """From elevation drawings in DXF to a takeoff for panelised stone veneer.

    Begin with `dxf2veneer layers DRAWING`: it shows which layers could be walls and openings.
    """
    gc.set_threshold(*_COLLECT)


for command in (takeoff, watch, layers, job):
    main.add_command(command)
