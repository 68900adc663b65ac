"""Everything there is to report about a drawing, as data.

A notice has a stable code, a level, a message, and where it can, the drawing, layer, handle and
place it speaks of. The catalog below is the one list of codes and levels; what each code means
and what to do stands in ``wording/notice_catalog.py``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from dxf2veneer.basics.messages import Message, message


class Level(StrEnum):
    """How grave a notice is."""

    INFO = "info"
    WARNING = "warning"
    ERROR = "error"


_I, _W, _E = Level.INFO, Level.WARNING, Level.ERROR

CATALOG: dict[str, Level] = {
    # reading
    "HIDDEN_LAYER": _I,
    "DRAWING_REPAIRED": _W,
    "ENTITY_UNUSABLE": _W,
    "ENTITY_KIND_IGNORED": _I,
    "BLOCK_CLIPPED": _W,
    "EXTERNAL_REFERENCE": _W,
    "UNITS_ABSURD": _W,
    "UNITS_DOUBTFUL": _W,
    "PROPOSAL_UNCONFIRMED": _W,
    "PROPOSAL_OF_ANOTHER": _W,
    "SIDES_UNMARKED": _W,
    "CLADDINGS_DRAWN": _W,
    "HATCHED_OUTSIDE": _W,
    "DRAWING_TRACED": _W,
    "NO_SUCH_LAYER": _W,
    "WINDOW_CROSSED": _W,
    "MARK_UNUSED": _W,
    "WHOLE_COPY": _I,
    "SURVEY_SAMPLED": _I,
    # recognising
    "NO_WALL": _W,
    "OPEN_OUTLINE": _W,
    "GAP_CLOSED": _I,
    "LAYERS_JOINED": _I,
    "LOOSE_LINES_UNUSED": _W,
    "SELF_CROSSING": _W,
    "DOUBLED_OUTLINE": _W,
    "NO_AREA": _W,
    "NESTED_WALL": _W,
    "NESTED_WALL_ASKED": _I,
    "WALLS_OVERLAP": _W,
    "OPENING_OUTSIDE_WALL": _W,
    "OPENING_PARTLY_OUTSIDE": _W,
    "OPENING_SPLIT": _I,
    "OPENINGS_OVERLAP": _W,
    "OPENING_NESTED": _I,
    "DOOR_ASSUMED": _I,
    "DOOR_EXTENDED": _W,
    "NAME_UNUSED": _I,
    "NAMES_SEVERAL": _W,
    "CORNER_MARK_UNUSED": _W,
    "CORNER_UNPAIRED": _W,
    "CORNER_TAG_CLASH": _W,
    "CORNER_HEIGHTS_DIFFER": _W,
    "CAP_MARK_UNUSED": _W,
    "TRIM_OVERLAPS": _W,
    "WALLS_NOT_DRAWN": _I,
    "LEVEL_UNUSED": _W,
    # sizes measured on site
    "SITE_MEASURED": _I,
    "SITE_BEYOND_TOLERANCE": _W,
    "SITE_DRAWN_DIFFERS": _W,
    "SITE_BEFORE_KEPT": _I,
    # a second look at the whole drawing
    "NOT_SEEN_WHOLE": _I,
    "OPENING_UNCLAIMED": _W,
    "OPENING_WITHOUT_HEAD": _W,
    "WALL_LIKE_OPENING": _W,
    "WALL_OUTLINE_OPEN": _W,
    "ELEVATION_NOT_TAKEN": _W,
    "WALLS_OF_OTHER_VIEW": _W,
    # courses
    "STARTER_BELOW_BASE": _W,
    "STARTER_HIGH": _W,
    "BELOW_STARTER": _I,
    "BASE_STEPPED": _I,
    "CORNER_UNTIED": _W,
    "SLIVER": _W,
    "START_SLIVERS": _W,
    "START_OUT_OF_RANGE": _W,
    # the order
    "OUT_OF_BID": _I,
    "CORNER_OF_PRODUCTS": _W,
    "PLAN_TOO_BIG": _W,
    "PLAN_SEARCH_ENDED": _I,
    "RULE_YIELDS": _I,
    "RULE_AS_LAID": _I,
    "RULE_BROKEN": _W,
    "PLAN_FAULT": _E,
    "BLEND_UNEVEN": _W,
    "ORDER_BY_AREA": _I,
    "GOODS_GENERIC": _I,
    "LAYER_PREFIX_FORM": _W,
    "FEW_STUDS": _I,
    "PRICE_MISSING": _W,
    "PRICE_OF_PRODUCT": _W,
    "PRICE_EXPIRED": _W,
    "PRICES_LEFT_OUT": _I,
    "ADDED": _I,
    "HAND_CHANGES_APART": _W,
    "TRUCK_TOO_SMALL": _W,
    "PRICE_UNUSED": _W,
    "PRICES_UNDATED": _I,
    "WORK_UNRATED": _W,
    # checks
    "CROSS_CHECK": _E,
}
"""Every code and its level. What a code means and what to do stands in ``wording``."""


_DOUBTS = ("UNITS_ABSURD", "UNITS_DOUBTFUL", "NO_WALL")
"""Warnings after which the whole takeoff may be of the wrong thing."""


@dataclass(frozen=True, slots=True)
class Notice:
    """One thing to report."""

    code: str
    message: Message
    drawing: int | None = None
    """Index of the drawing it speaks of."""
    layer: str | None = None
    handle: str | None = None
    at_in: tuple[float, float] | None = None
    """The place in the drawing's coordinates, in inches."""
    count: int = 1
    """How many it stands for: more than one where those of a kind are too many to be listed one
    by one."""

    def __post_init__(self) -> None:
        if self.code not in CATALOG:
            raise ValueError(f"notice code {self.code} is not in the catalog")

    @property
    def level(self) -> Level:
        """The level that the catalog gives this code."""
        return CATALOG[self.code]


def doubts(notices: Iterable[Notice], drawings: int) -> list[Notice]:
    """What to look at before any number is used.

    That is a unit that makes no sense, a drawing without walls, a layer that none of the drawings
    has.

    Args:
        notices: All notices of a takeoff.
        drawings: How many drawings it has.

    Returns:
        Those in doubt, each message or layer once, in the order given.
    """
    listed = list(notices)
    lacking = Counter(n.layer for n in listed if n.code == "NO_SUCH_LAYER")
    nowhere = {layer for layer, count in lacking.items() if count >= drawings}
    found: dict[tuple[str, Message | str | None], Notice] = {}
    for n in listed:
        if n.code in _DOUBTS:
            found.setdefault((n.code, n.message), n)
        elif n.code == "NO_SUCH_LAYER" and n.layer in nowhere:
            found.setdefault((n.code, n.layer), n)
    return list(found.values())


def count_by_level(notices: Iterable[Notice]) -> dict[Level, int]:
    """How many notices there are of each level.

    Args:
        notices: All notices of a takeoff.

    Returns:
        The counts, every level named; a notice that stands for several counts as so many.
    """
    counts = dict.fromkeys(Level, 0)
    for notice in notices:
        counts[notice.level] += notice.count
    return counts


def facts(notices: Iterable[Notice]) -> list[tuple[Notice, ...]]:
    """Notices of one code and one cause together: one fact, however many places show it.

    Args:
        notices: Notices.

    Returns:
        The facts in the order of their first notices; causes differ where messages have other
        codes, and where they speak of other layers.
    """
    found: dict[tuple[str, str, str | None], list[Notice]] = {}
    for notice in notices:
        cause = notice.code, notice.message.code, notice.layer
        found.setdefault(cause, []).append(notice)
    return [tuple(group) for group in found.values()]


def gathered(notices: Iterable[Notice], most: int) -> list[Notice]:
    """At most so many notices of each code and drawing.

    Args:
        notices: All notices, in the order in which they were found.
        most: How many of one code and drawing are listed one by one.

    Returns:
        The notices by code and drawing. Those beyond come together in one that stands behind the
        others and says how many they are; it carries layer, handle and place of the first of them.
    """
    kept: dict[tuple[str, int | None], list[Notice]] = {}
    beyond: dict[tuple[str, int | None], Notice] = {}
    for notice in notices:
        key = notice.code, notice.drawing
        group = kept.setdefault(key, [])
        if notice.count == 1 and len(group) < most:
            group.append(notice)
        else:
            first = beyond.setdefault(key, replace(notice, count=0))
            beyond[key] = replace(first, count=first.count + notice.count)
    listed: list[Notice] = []
    for key, group in kept.items():
        listed += group
        if key in beyond:
            more = beyond[key]
            listed.append(replace(more, message=message("more-of-this-kind", count=more.count)))
    return listed
