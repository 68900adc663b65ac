"""The command line: parse, call the pipeline, print, exit code. No arithmetic, no geometry.

Exit codes: 0 done; 1 a drawing that can't be used, an error among the notices, or a warning under
--strict; 2 wrong use.
"""

from __future__ import annotations

import click

from dxf2veneer import __version__
from dxf2veneer.cli.job_command import job
from dxf2veneer.cli.layers_command import layers
from dxf2veneer.cli.takeoff_command import takeoff
from dxf2veneer.cli.watch_command import watch


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="dxf2veneer")
def main() -> None:
    """From elevation drawings in DXF to a takeoff for panelised stone veneer.

    Begin with `dxf2veneer layers DRAWING`: it shows which layers could be walls and openings.
    """


for command in (takeoff, watch, layers, job):
    main.add_command(command)
