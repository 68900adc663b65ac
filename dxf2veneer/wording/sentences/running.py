"""Sentences about a run: its steps, its inputs and outputs, batches, a watch over drawings."""

from __future__ import annotations

from collections.abc import Mapping

from dxf2veneer.messages import Value
from dxf2veneer.notices import CATALOGUE
from dxf2veneer.wording.say import Sentence, shown


def _no_usable_outline(values: Mapping[str, Value], display: str) -> str:
    handle, more, trouble = values["handle"], values["more"], values["trouble"]
    place = f", handle {handle}" if handle else ""
    others = f" (and {more} more like it)" if more else ""
    return (
        f"{shown(values['files'], display)}: no usable wall outline; "
        f"{shown(trouble, display)}{place}{others}. {CATALOGUE[str(values['notice'])].remedy}"
    )


SENTENCES: dict[str, Sentence] = {
    # steps of a takeoff
    "reading-drawing": "reading {file}",
    "recognizing": "recognizing walls and openings",
    "measuring-wall": "measuring {wall}",
    "laying-panels": "laying panels",
    "judging-plan": "judging the plan",
    "making-order": "making the order",
    "writing-file": "writing {file}",
    "earlier-write-finished": "finished what an earlier run had begun to write",
    # a job that can't be taken off
    "no-outline": (
        "{files}: no closed wall outline on the named layers; see: dxf2veneer layers {first}"
    ),
    "no-usable-outline": _no_usable_outline,
    "wall-too-big": (
        "{file}: {wall} on layer {layer} (handle {handle}) measures {width} x {height}, "
        "more courses or panels side by side than --limit-courses ({most:,}) allows; "
        "check the drawing's unit, or raise the limit"
    ),
    "plan-too-big": (
        "about {about:,} panels, more than the {most:,} that are laid out; "
        "they are estimated by area"
    ),
}
