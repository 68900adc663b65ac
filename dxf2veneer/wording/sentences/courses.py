"""Sentences about course lines, starters and slivers."""

from __future__ import annotations

from collections.abc import Mapping

from dxf2veneer.basics.messages import Value
from dxf2veneer.wording.phrases import Sentence, Words

_NAMED = 3
"""Openings that one line names."""


def _sliver(values: Mapping[str, Value], words: Words) -> str:
    owners, places = values["owners"], values["places"]
    assert isinstance(owners, tuple) and isinstance(places, int)
    strip, up, down = (words.show(values[name]) for name in ("strip", "up", "down"))
    more = f" and {len(owners) - _NAMED} more" if len(owners) > _NAMED else ""
    all_places = f" ({places} places)" if places > len(owners) else ""
    what = values["what"]
    return (
        f"course {values['course']} leaves a strip of {strip} at the {what} of "
        f"{words.show(owners[:_NAMED])}{more}{all_places}; "
        f"it runs clean if the {what} moves {up} up or {down} down"
    )


_UNTIED = (
    "{one} and {other} meet at corner {corner}, but the first course of {other} is drawn {apart} "
    "{direction} and no level line ties the two: as drawn, "
)

SENTENCES: dict[str, Sentence] = {
    "starter-below-base": "the starter line of {wall} lies {below} below its base",
    "starter-high": "the starter line of {wall} lies {above} above its base",
    "base-steps": (
        "the base of {wall} steps or slopes up by {rise}, "
        "which leaves a first course of {rest} over it"
    ),
    "base-steps-by-courses": (
        "the base of {wall} steps or slopes up by {rise}, a whole number of courses"
    ),
    "below-starter": (
        "{bare} of the walls lie below the starter strip and bear no panel; "
        "the net area of {net} counts them"
    ),
    "sliver": _sliver,
    "corner-lines-miss": _UNTIED + "their course lines miss each other by {miss}",
    "corner-pieces-clash": _UNTIED + "both may have their corner piece in the same course",
    "start-leaves-slivers": (
        "no start of {walls} with the starter {low} to {high} above the base avoids slivers; "
        "the best leaves {slivers} {slivers:sliver|slivers}"
    ),
    "start-out-of-range": (
        "no start of {walls} brings every starter within {low} to {high} above its base; "
        "the best leaves fewest outside"
    ),
}
