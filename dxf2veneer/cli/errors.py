"""Errors of a command: one line and an exit code; the log and tracebacks where they are asked
for."""

from __future__ import annotations

import errno
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from dxf2veneer.app.faults import fault_of
from dxf2veneer.app.sparing import OutputClashError
from dxf2veneer.app.writing import WriteError
from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.wording import error_line, say
from dxf2veneer.wording.table import safe

INTERRUPTED = 130
"""Exit code of a run that was interrupted, as shells have it."""
_FORMAT = "%(asctime)s %(processName)s %(levelname)s %(name)s: %(message)s"
_PACKAGE = __name__.partition(".")[0]
_LOG = logging.getLogger(__name__)
FILES = f"{__name__}.files"
"""Where the context of a command keeps the files that it was given to work on."""


class Commands(click.Group):
    """Commands that end in one line, whatever happens."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            click.echo("Interrupted.", err=True)
            ctx.exit(INTERRUPTED)
        except (click.exceptions.Exit, click.Abort):
            raise
        except click.ClickException:
            _LOG.debug("the command ends with an error", exc_info=True)
            raise
        except Exception as error:
            if isinstance(error, OSError) and error.errno == errno.EPIPE:
                raise  # whoever read our output has gone; click ends quietly
            _LOG.debug("an unexpected fault", exc_info=True)
            fault = fault_of(error, ctx.meta.get(FILES, ()))
            raise click.ClickException(safe(say(fault))) from error


@contextmanager
def in_one_line(display: str = "imperial") -> Iterator[None]:
    """Errors of the package become errors of the command.

    Args:
        display: Units of lengths and areas in the line: ``imperial`` or ``metric``.

    Returns:
        A context.

    Raises:
        UsageError: Settings or outputs are wrong; the exit code is 2.
        ClickException: A drawing can't be used or an output not be written; the exit code is 1.
    """
    try:
        yield
    except (SettingsError, OutputClashError) as error:
        raise click.UsageError(safe(error_line(error, display))) from error
    except TakeoffError as error:
        raise click.ClickException(safe(error_line(error, display))) from error


@contextmanager
def writing_to(path: Path) -> Iterator[None]:
    """What keeps a file or folder from being written becomes an error of the package.

    Args:
        path: The file or folder.

    Returns:
        A context.

    Raises:
        WriteError: It can't be written.
    """
    try:
        yield
    except OSError as error:
        why = error.strerror or str(error)
        raise WriteError(message("cannot-write", file=str(path), why=why)) from error


def write_new(file: Path, text: str, next_step: str) -> None:
    """Write a commented file of settings where none stands, and say what to do with it.

    Args:
        file: The file.
        text: What it holds.
        next_step: What the reader does next.

    Raises:
        UsageError: Something stands there already, or it can't be written.
    """
    from dxf2veneer.textio.whole_files import write_whole

    if file.exists():
        raise click.UsageError(
            safe(f"{file} is there already; name another file, or take it away first")
        )
    with in_one_line(), writing_to(file):
        write_whole(file, lambda draft: draft.write_text(text, encoding="utf-8"))
    click.echo(safe(f"{file} written; {next_step}"))


class _Lines(logging.Formatter):
    """Lines of the log in which a text of a drawing can't steer the terminal."""

    def format(self, record: logging.LogRecord) -> str:
        """One record, its traceback in lines of their own."""
        return "\n".join(map(safe, super().format(record).splitlines()))


def open_log(ctx: click.Context, debug: bool) -> None:
    """Show the package's log on the error stream while a command runs, or nothing of it.

    Args:
        ctx: The command; the log is closed when it ends.
        debug: Whether to show it, with tracebacks.
    """
    log = logging.getLogger(_PACKAGE)
    level = log.level
    handler: logging.Handler = logging.StreamHandler() if debug else logging.NullHandler()
    handler.setFormatter(_Lines(_FORMAT))
    log.addHandler(handler)
    if debug:
        log.setLevel(logging.DEBUG)

    def close() -> None:
        log.removeHandler(handler)
        log.setLevel(level)

    ctx.call_on_close(close)
