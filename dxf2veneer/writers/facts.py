"""Notices as people read them in sheets and pages: one row for one fact, with its places."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dxf2veneer.basics.notices import Level, Notice, facts
from dxf2veneer.model import Takeoff
from dxf2veneer.wording import say
from dxf2veneer.writers.words import place_words

_SHOWN = 12
"""Further places that a row names; the result has each."""


@dataclass(frozen=True)
class Fact:
    """Notices of one cause."""

    first: Notice
    numbers: tuple[int, ...]
    """Numbers of its notices, as the pictures and the overlay mark them."""
    count: int
    """How many times it was found."""
    further: str
    """Where else: a place for each notice after the first, or its own words where it has none."""


def facts_of(takeoff: Takeoff) -> list[Fact]:
    """The facts that a takeoff's notices tell.

    Args:
        takeoff: The takeoff.

    Returns:
        The facts, the gravest first, each level in the order of their first notices.
    """
    numbers = {id(notice): n for n, notice in enumerate(takeoff.notices, 1)}
    gravest = list(reversed(Level))
    found = sorted(facts(takeoff.notices), key=lambda fact: gravest.index(fact[0].level))
    return [
        Fact(
            group[0],
            tuple(numbers[id(notice)] for notice in group),
            sum(notice.count for notice in group),
            _further(group[1:], takeoff),
        )
        for group in found
    ]


def _further(others: Sequence[Notice], takeoff: Takeoff) -> str:
    display = takeoff.job.output.display
    places = dict.fromkeys(
        place_words(n, takeoff.drawings, layer=False) or say(n.message, display) for n in others
    )
    shown = list(places)[:_SHOWN]
    if len(places) > _SHOWN:
        shown.append(f"and {len(places) - _SHOWN:,} more: the result (--json) has each")
    return "; ".join(shown)
