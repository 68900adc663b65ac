"""The command line: parse, call the pipeline, print, exit code. No arithmetic, no geometry.

Exit codes: 0 done; 1 a drawing that can't be used, an error among the notices, or a warning under
--strict; 2 wrong use; 130 interrupted (watch, which only an interrupt ends: 0).

    propose_command.py, confirm_command.py, takeoff_command.py, watch_command.py,
    layers_command.py, advise_command.py, compare_command.py, site_command.py, job_command.py,
    product_command.py
        each.py       takeoff --each: every drawing a job of its own
        making.py     a takeoff made and written; jobs.py its job; options.py its options
        showing.py    steps, notices and summary on the terminal; terminal.py their lines
    proposal_lines.py what the terminal shows of a proposal
    errors.py         one line and an exit code, the log
"""

from __future__ import annotations

import gc

import click

from dxf2veneer.basics.version import __version__
from dxf2veneer.cli.advise_command import advise
from dxf2veneer.cli.compare_command import compare
from dxf2veneer.cli.confirm_command import confirm
from dxf2veneer.cli.errors import Commands, open_log
from dxf2veneer.cli.job_command import job
from dxf2veneer.cli.layers_command import layers
from dxf2veneer.cli.product_command import product
from dxf2veneer.cli.propose_command import propose
from dxf2veneer.cli.site_command import site
from dxf2veneer.cli.takeoff_command import takeoff
from dxf2veneer.cli.watch_command import watch

COLLECT = (20_000, 5, 5)
"""How often memory is searched for cycles: Python's own pace costs a tenth of a takeoff's time,
this one a hundredth, with the same peak of memory (measured on 5,000 and 500,000 entities)."""


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="dxf2veneer")
@click.option("--debug", is_flag=True, help="Show the log and tracebacks on the error stream.")
@click.pass_context
def main(ctx: click.Context, debug: bool) -> None:
    """From elevation drawings in DXF to a takeoff for panelized stone veneer.

    Begin with `dxf2veneer propose DRAWING`: it finds walls and openings and draws them for you to
    look at. `dxf2veneer layers DRAWING` shows which layers there are.
    """
    gc.set_threshold(*COLLECT)
    open_log(ctx, debug)


for command in (propose, confirm, layers, advise, takeoff, compare, watch, site, job, product):
    main.add_command(command)
