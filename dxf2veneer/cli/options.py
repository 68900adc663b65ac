"""Options that several commands share."""

from __future__ import annotations

import dataclasses
import functools
import os
from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from shlex import quote
from typing import Any

import click

from dxf2veneer.app.outputs import Asked
from dxf2veneer.basics.messages import message
from dxf2veneer.cli.errors import FILES
from dxf2veneer.config.job import SECTIONS
from dxf2veneer.config.settings import described
from dxf2veneer.textio.plain_files import name_fault
from dxf2veneer.wording import say
from dxf2veneer.wording.table import safe

ADVICE = "advice"
"""The section whose settings a takeoff takes no notice of; they are options of `advise` alone."""


class _FileName(click.Path):
    """A name that a file can have; what stands there is looked at by whoever reads or writes it."""

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> str | bytes | os.PathLike[str]:
        """The path. Fails where no file can have that name."""
        fault = name_fault(Path(value))
        if fault:
            self.fail(safe(say(message("name-unusable", file=str(value), why=fault))), param, ctx)
        if ctx is not None and isinstance(param, click.Argument):
            ctx.meta.setdefault(FILES, []).append(Path(value))
        return super().convert(value, param, ctx)


FILE = _FileName(path_type=Path)
_METAVARS = {
    "drawing.hatch_pattern": "NAME",
    "drawing.view": "VIEW",
    "advice.may_move": "WHAT=LENGTH",
    "advice.may_resize": "WHAT=LENGTH",
}


def job_options(command: Callable[..., None]) -> Callable[..., None]:
    """An option for every setting of a takeoff that has one, named and described by the setting.

    Args:
        command: The command.

    Returns:
        The command with the options.
    """
    for section in reversed([s for s in SECTIONS if s != ADVICE]):
        command = section_options(section)(command)
    return command


def settings_of(given: Mapping[str, object]) -> dict[str, object]:
    """Settings by ``section.key`` from a command's parameters.

    Args:
        given: Parameters as ``section_options`` names them.

    Returns:
        The settings, as ``load_job`` takes them.
    """
    return {key.replace("__", "."): value for key, value in given.items()}


def given_again(given: Mapping[str, object], taken_by: click.Command) -> list[str]:
    """The options that were given to one command, for another command line to repeat.

    Args:
        given: Parameters as ``section_options`` names them.
        taken_by: The other command.

    Returns:
        Words for the shell, of the options that the other command takes too.
    """
    words = []
    for option in (p for p in taken_by.params if isinstance(p, click.Option)):
        value = given.get(option.name or "")
        if value is None or value == ():
            continue
        if isinstance(value, bool):
            words.append(option.opts[0] if value else option.secondary_opts[0])
            continue
        for one in value if isinstance(value, tuple) else (value,):
            words += [option.opts[0], quote(safe(str(one)))]
    return words


def section_options(
    section: str, *, only: Collection[str] = ()
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """The options of one section's settings.

    Args:
        section: The section's name.
        only: Names of the settings to take; all where left out.

    Returns:
        What adds them to a command.
    """

    def add(command: Callable[..., None]) -> Callable[..., None]:
        for name, about, default in reversed(list(described(SECTIONS[section]))):
            if about.option and (not only or name in only):
                command = _option(f"{section}.{name}", about.option, about.help, default)(command)
        return command

    return add


def _option(
    key: str, option: str, help_line: str, default: Any
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    parameter = key.replace(".", "__")
    if isinstance(default, bool):
        return click.option(
            f"--{option}/--no-{option}", parameter, default=None, help=f"{help_line}."
        )
    if isinstance(default, tuple):
        return click.option(
            f"--{option}",
            parameter,
            multiple=True,
            metavar=_METAVARS.get(key, "LAYER" if key.startswith("layers.") else "X,Y…"),
            help=f"{help_line}; may be repeated.",
        )
    number = f"{default:g}" if isinstance(default, float) else default
    shown = "" if default is None else f"  [default: {number}]"
    return click.option(f"--{option}", parameter, metavar="VALUE", help=f"{help_line}.{shown}")


def takeoff_options(command: Callable[..., None]) -> Callable[..., None]:
    """What every command that makes a takeoff takes.

    Args:
        command: Gets it as one ``Asked`` besides its own options.

    Returns:
        The command with the options.
    """

    @functools.wraps(command)
    def packed(**given: Any) -> None:
        settings = {
            key.replace("__", "."): given.pop(key) for key in [k for k in given if "__" in k]
        }
        parts = {
            part.name: given.pop(part.name)
            for part in dataclasses.fields(Asked)
            if part.name in given
        }
        command(Asked(**parts, settings=settings), **given)

    for add in reversed((*_TAKEOFF_OPTIONS, job_options)):
        packed = add(packed)
    return packed


_TAKEOFF_OPTIONS = (
    click.argument("drawings", nargs=-1, required=True, type=FILE, metavar="DRAWING..."),
    click.option(
        "-o",
        "--out",
        "folder",
        type=FILE,
        required=True,
        metavar="DIR",
        help="folder for the workbook and the overlays; made if need be",
    ),
    click.option(
        "--job",
        "job_file",
        type=FILE,
        metavar="FILE",
        help="job file (TOML); options win over it",
    ),
    click.option(
        "--json",
        "json_file",
        type=FILE,
        metavar="FILE",
        help="write the whole result as JSON too",
    ),
    click.option(
        "--csv",
        "csv_folder",
        type=FILE,
        metavar="DIR",
        help="write the order's lines as CSV into this folder too",
    ),
    click.option(
        "--report",
        "report_file",
        type=FILE,
        metavar="FILE",
        help="write a page with every elevation, the tables and the notices too "
        "(HTML, opens without a network)",
    ),
    click.option(
        "--pdf",
        "pdf_file",
        type=FILE,
        metavar="FILE",
        help="write the same as a PDF, each elevation to scale on its own page "
        '(needs the extra: pip install "dxf2veneer[pdf]")',
    ),
    click.option(
        "--bid",
        "bid_files",
        type=FILE,
        multiple=True,
        metavar="FILE",
        help="write the customer's bid too, a letter without costs: .xlsx, or .pdf (needs the "
        "extra as --pdf does); may be repeated",
    ),
    click.option(
        "--request",
        "request_files",
        type=FILE,
        multiple=True,
        metavar="FILE",
        help="write a request for quotation to the supplier too, without prices: .xlsx or .csv; "
        "may be repeated",
    ),
    click.option(
        "--story-pole",
        "pole_files",
        type=FILE,
        multiple=True,
        metavar="FILE",
        help="write a rod with the height of every course line, head, sill, cap and top for each "
        "level line: .pdf (in parts at full size to tape together; wants the extra as --pdf does) "
        "or .svg (in one piece); may be repeated",
    ),
    click.option(
        "--crew-sheets",
        "crew_files",
        type=FILE,
        multiple=True,
        metavar="FILE",
        help="write every wall, or part of it, on a sheet large enough to read each cut on site, "
        "with its cut list: .pdf (wants the extra as --pdf does) or .dxf (a layout for each sheet, "
        "all walls at full size in model space); may be repeated",
    ),
    click.option(
        "--unfolded",
        "unfolded_files",
        type=FILE,
        multiple=True,
        metavar="FILE",
        help="write all walls in one picture, those that meet at corners side by side with their "
        "courses running through: .svg, .png (which wants the extra as --pdf does) or .dxf (at "
        "full size, on the layers of the overlay); may be repeated",
    ),
    click.option(
        "--sketch",
        "sketch_files",
        type=FILE,
        multiple=True,
        metavar="FILE",
        help="write the walls as they may look when they are finished, with invented stones: .svg "
        "or .png; may be repeated",
    ),
    click.option(
        "--tables",
        "tables_folder",
        type=FILE,
        metavar="DIR",
        help="write every table of the estimate as CSV, and all as JSON, into this folder too",
    ),
    click.option(
        "--svg",
        "picture_folder",
        type=FILE,
        metavar="DIR",
        help="write a picture of every wall into this folder too (SVG, to the plotting scale)",
    ),
    click.option(
        "--force",
        is_flag=True,
        help="replace files too that this tool did not write, or that were changed since",
    ),
    click.option(
        "--keep-changes",
        is_flag=True,
        help="write the workbook anew with what was changed by hand in its tinted cells, and list "
        "each change; what else was added to it is lost",
    ),
    click.option("-q", "--quiet", is_flag=True, help="print errors only"),
)
