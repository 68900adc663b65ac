"""Reasons as English sentences: the one place where codes become words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from dxf2veneer.propose.proposal import Reason

SENTENCES: Mapping[str, str] = {
    "WALL_BOUNDED": "closed by {bounds}; {openings} openings in it",
    "WALL_CLADDING": "closed by {bounds}, parted where the cladding changes; {claddings}",
    "OPENING_FRAMED": "{frames} frame(s) one inside the other",
    "OPENING_GAP_IN_BOARDS": "{lines} lines of the cladding end at each jamb, none crosses",
    "OPENING_OUTLINE_FREE": "a free-standing outline of an opening's size",
    "CORNER_HEIGHTS_AGREE": "the sides of two elevations have the same height",
    "CORNER_ALONE": "no side of another elevation has this height alone",
    "VIEW_FRAME": "a sheet frame",
    "VIEW_TITLED": "its title says so",
}
"""Sentence of each code; values of the reason fill it in."""


def in_words(reason: Reason) -> str:
    """A reason as a sentence without a full stop; the code itself where it has none.

    Args:
        reason: code and values.

    Returns:
        Plain English.
    """
    sentence = SENTENCES.get(reason.code)
    if sentence is None:
        return " ".join(
            [reason.code.lower().replace("_", " "), *(f"{k} {v}" for k, v in reason.values.items())]
        )
    return sentence.format_map({**_derived(reason.values), **reason.values})


def _derived(values: Mapping[str, Any]) -> dict[str, str]:
    bounds = ["ground"] if values.get("ground") else []
    bounds += ["eaves"] if values.get("covered") else []
    claddings = ", ".join(values.get("cladding") or ["no cladding drawn"])
    return {"bounds": " and ".join(bounds) or "lines on all sides", "claddings": claddings}
