"""What `layers` advises: a command only where the proposal would stand by it, else what to look
at."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from dxf2veneer.cli.proposal_lines import hidden_lines
from dxf2veneer.cli.terminal import suggestion
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.app.proposing import Seen
    from dxf2veneer.config.job import Job
    from dxf2veneer.drawing.survey import Survey

_GARBLED = "\ufffd"
"""The sign that stands for a byte which no code page explains."""


def advice_lines(
    survey: Survey, seen: Seen | None, drawing: Path, job: Job, again: dict[str, list[str]]
) -> Iterator[str]:
    """What to do next with a drawing.

    Args:
        survey: Its layers.
        seen: The drawing looked at as a whole; None where it is too large for that.
        drawing: The drawing as the user named it.
        job: How it is read.
        again: The options by which it is read so, for each command that may be advised.

    Returns:
        Commands to copy, and what stands in the way of better ones.
    """
    from dxf2veneer.app.advising import layers_to_name

    named = quote(safe(str(drawing)))
    proposing = " ".join(["dxf2veneer propose", named, *again["propose"]])
    if seen is None:
        yield "Too large for a look at the drawing as a whole, so no takeoff is suggested here."
        yield f"This takes more time, and looks:\n  {proposing}"
    elif seen.proposal.walls:
        yield "To see which walls and openings the drawing itself proposes:"
        yield f"  {proposing}"
        layers = layers_to_name(survey, seen, job)
        if layers:
            yield "To take off with these layers, which agree with that:"
            yield f"  {suggestion(survey, layers, [named, *again['takeoff']], seen.unit.unit)}"
        elif any(e.guess == "wall" for e in survey.layers):
            yield "What the layers could be does not agree with that, so no command names them."
    else:
        kinds = sorted({v.kind for v in seen.proposal.views} - {"sheet"})
        listed = f" ({', '.join(kinds)})" if kinds else ""
        yield f"No view looks like an elevation with walls{listed}, so no command is suggested."
        yield "If one of them is an elevation, give its number to --view, and its layers to --faces"
    if seen is not None:
        yield from hidden_lines(seen)
    if any(_GARBLED in e.name for e in survey.layers):
        yield "Some names are garbled: the code page may be another, see --encoding"
