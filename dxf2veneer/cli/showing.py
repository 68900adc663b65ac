"""What a takeoff shows on the terminal: steps while it is made, then notices and the summary."""

from __future__ import annotations

import logging
import sys
from typing import TYPE_CHECKING

import click

from dxf2veneer.app.outputs import Outputs
from dxf2veneer.app.stages import Progress
from dxf2veneer.basics.messages import Message
from dxf2veneer.basics.notices import Level
from dxf2veneer.wording import say
from dxf2veneer.wording.cautions import BRIEF, CAUTION
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.model import Takeoff

_LOG = logging.getLogger(__name__)


def speaker(quiet: bool) -> Progress:
    """Says what is being done, on the error stream, where a person is watching.

    Args:
        quiet: Whether to say nothing at all.

    Returns:
        A function of each step; where the log is shown it says nothing.
    """
    watched = not quiet and sys.stderr.isatty() and not _LOG.isEnabledFor(logging.INFO)

    def speak(step: Message) -> None:
        if watched:
            click.echo(f"\r\x1b[K{safe(say(step))} …", err=True, nl=False)

    return speak


def clear_line(quiet: bool) -> None:
    """Take the last step that was said off the terminal.

    Args:
        quiet: Whether nothing was said.
    """
    if not quiet and sys.stderr.isatty():
        click.echo("\r\x1b[K", err=True, nl=False)


def report(result: Takeoff, outputs: Outputs, *, quiet: bool) -> None:
    """Show notices, the closing summary and the files written.

    Args:
        result: The takeoff.
        outputs: The files.
        quiet: Whether to show errors alone.
    """
    from dxf2veneer.cli.terminal import summary
    from dxf2veneer.wording.hand_changes import hand_change_line
    from dxf2veneer.wording.notice_lines import notice_lines
    from dxf2veneer.writers.words import alert_words

    clear_line(quiet)
    display = result.job.output.display
    least = Level.ERROR if quiet else Level.WARNING
    for line in notice_lines(result.notices, result.drawings, least=least, display=display):
        click.echo(line, err=True)
    alert = alert_words(result)
    if quiet:
        if result.is_unconfirmed:
            click.echo(safe(alert), err=True)
        return
    for note in dict.fromkeys(n.message for n in result.notices if n.code == "WHOLE_COPY"):
        click.echo(safe(f"Note: {say(note, display)}"))
    click.echo()
    if alert:
        click.echo(safe(f"{alert[0].upper()}{alert[1:]}"))
    for line in summary(result):
        click.echo(line)
    for change in result.hand_changes:
        click.echo(hand_change_line(change))
    click.echo(safe("Written: " + ", ".join(str(p) for p in outputs)))
    click.echo(" ".join(BRIEF))
    click.echo(CAUTION)
