"""What `layers` advises: a command only where the proposal would stand by it, else what to look
at."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from dxf2veneer.basics.tolerances import VIEW_SURE
from dxf2veneer.cli.proposal_lines import hidden_lines
from dxf2veneer.cli.terminal import suggestion
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.app.proposing import Seen
    from dxf2veneer.drawing.survey import Survey

_GARBLED = "\ufffd"
"""The sign that stands for a byte which no code page explains."""


def advice_lines(survey: Survey, seen: Seen | None, drawing: Path) -> Iterator[str]:
    """What to do next with a drawing.

    Args:
        survey: Its layers.
        seen: The drawing looked at as a whole; None where it is too large for that.
        drawing: The drawing as the user named it.

    Returns:
        Commands to copy, and what stands in the way of better ones.
    """
    named = quote(safe(str(drawing)))
    if seen is not None and seen.proposal.walls:
        yield "To see which walls and openings the drawing itself proposes:"
        yield f"  dxf2veneer propose {named}"
    if seen is None or _stands(survey, seen):
        command = suggestion(survey, str(drawing), seen.unit.unit if seen else None)
        if command:
            yield "To try with these layers:"
            yield f"  {command}"
    elif not seen.proposal.walls:
        kinds = sorted({v.kind for v in seen.proposal.views} - {"sheet"})
        listed = f" ({', '.join(kinds)})" if kinds else ""
        yield f"No view looks like an elevation with walls{listed}, so no command is suggested."
        yield "If one of them is an elevation, give its number to --view, and its layers to --faces"
    if seen is not None:
        yield from hidden_lines(seen)
    if any(_GARBLED in e.name for e in survey.layers):
        yield "Some names are garbled: the code page may be another, see --encoding"


def _stands(survey: Survey, seen: Seen) -> bool:
    """Whether the proposal has walls on a layer that is guessed to hold walls, or at least knows
    of no view that is certainly something else."""
    guessed = {e.name.lower() for e in survey.layers if e.guess == "wall"}
    proposed = {name.lower() for name in seen.proposal.layers.get("wall", ())}
    others = [v for v in seen.proposal.views if v.kind != "elevation" and v.confidence >= VIEW_SURE]
    return bool(guessed & proposed) or not others
