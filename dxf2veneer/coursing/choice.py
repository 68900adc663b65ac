"""The best start of each group of walls, and the table that shows it beside others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from dxf2veneer.basics.tolerances import STARTS_SHOWN
from dxf2veneer.coursing.groups import CourseGroup
from dxf2veneer.coursing.search import StartSearch
from dxf2veneer.model import CoursePlan, StartOption, StartTable

Walls = tuple[str, ...]
"""Ids of a group's walls."""


def start_tables(
    searches: Iterable[StartSearch],
    panels: Mapping[Walls, Mapping[float, int]],
    *,
    takes_best: bool,
    kept: Mapping[Walls, float] = MappingProxyType({}),
) -> tuple[StartTable, ...]:
    """For each group the present start, the best one and some others, from the lowest up.

    Of the starts with the least score the best takes fewest panels; where no panels are known, or
    as many, it is the nearest to the present start.

    Args:
        searches: What was found for each group.
        panels: Flat and corner panels of the starts that were laid out, by walls and start.
        takes_best: Whether walls are laid with the best start, so that it is the present one.
        kept: By walls the start of a plan before that stays the present one.

    Returns:
        One table for each group.
    """
    return tuple(
        _table(s, panels.get(s.group.walls, {}), takes_best, kept.get(s.group.walls))
        for s in searches
    )


def start_of(tables: Iterable[StartTable], wall: str) -> float:
    """The start that a wall is laid with, in inches.

    Args:
        tables: One table for each group of walls.
        wall: The wall's id.

    Returns:
        The shift of its course lines.
    """
    return next(t.present.start for t in tables if wall in t.walls)


def with_panels(tables: Iterable[StartTable], plan: CoursePlan) -> tuple[StartTable, ...]:
    """The tables with the panels of a plan at the present starts, where none were counted before.

    Args:
        tables: One table for each group of walls.
        plan: The plan that the walls are laid by.

    Returns:
        The tables; a panel counts for the wall that first cuts it.
    """
    counted = {w.wall: w.flat + w.corner for w in plan.walls}
    return tuple(
        replace(table, options=tuple(_counted(table, o, counted) for o in table.options))
        for table in tables
    )


def _counted(table: StartTable, option: StartOption, counted: Mapping[str, int]) -> StartOption:
    if option.units is not None or not option.is_present:
        return option
    return replace(option, units=sum(counted[wall] for wall in table.walls))


def _table(
    search: StartSearch, panels: Mapping[float, int], takes_best: bool, kept: float | None
) -> StartTable:
    group = search.group
    best = min(search.tied, key=lambda s: panels[s]) if panels else search.tied[0]
    laid = kept if kept is not None else best if takes_best else group.shift
    shown = sorted(_shown(search, (laid, best)))
    options = tuple(
        StartOption(
            start=start,
            height=group.starter(start),
            slivers=slivers,
            strips=strips,
            ripped=ripped,
            units=panels.get(start),
            is_present=start == laid,
            is_best=start == best,
            fits=not outside,
        )
        for start, (outside, slivers, ripped, strips) in zip(
            shown, group.scores(shown), strict=True
        )
    )
    return StartTable(group.walls, options)


def _shown(search: StartSearch, first: Iterable[float]) -> list[float]:
    """Starts to show: the first ones, those of the lowest and of the highest starter in range, and
    the best ones of further stretches, none twice. Stretches without a start that reads well are
    left out."""
    group, present = search.group, search.group.shift
    least = min(s.score[0] for s in search.stretches)
    fit = [s for s in search.stretches if s.score[0] == least and s.legible]
    fit.sort(key=lambda s: (s.score, s.distance(present), s.candidates))
    shown = list(dict.fromkeys(first))
    for start in _ends(group, [start for s in fit for start in s.legible]):
        if not any(group.is_same(start, s) for s in shown):
            shown.append(start)
    for stretch in fit:
        start = stretch.pick(present)
        if len(shown) < STARTS_SHOWN and not any(
            stretch.holds(s) or group.is_same(start, s) for s in shown
        ):
            shown.append(start)
    return shown


def _ends(group: CourseGroup, legible: Sequence[float]) -> tuple[float, ...]:
    """The starts of the lowest and of the highest starter, of equals the nearest to the present."""

    def height(start: float) -> float:
        return round(group.starter(start), 6)  # equal where rounding alone differs

    near = sorted(legible, key=lambda s: (abs(s - group.shift), s))
    return (min(near, key=height), max(near, key=height)) if near else ()
