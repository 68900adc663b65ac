"""What is made of the tables of starts: the job that each wall is laid with, units, notices."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.model import CoursePlan, StartTable, Wall
from dxf2veneer.notices import Notice
from dxf2veneer.wording.measures import length_text


def laid_with(job: Job, tables: Sequence[StartTable], wall: str) -> Job:
    """The job with the start as a number, which is the one that the wall is laid with."""
    start = next(o.start for t in tables if wall in t.walls for o in t.options if o.is_present)
    return with_settings(job, courses__start=start)


def with_units(tables: Iterable[StartTable], plan: CoursePlan) -> tuple[StartTable, ...]:
    """The tables with the units of the plan that was laid at the present starts, where they were not
    planned before: units first cut for a group's walls."""
    counted = {w.wall: w.flat + w.corner for w in plan.walls}
    return tuple(
        replace(t, options=tuple(
            replace(o, units=sum(counted[w] for w in t.walls)) if o.is_present and o.units is None else o for o in t.options
        ))
        for t in tables
    )  # fmt: skip


def tell_starts(tables: Sequence[StartTable], walls: Sequence[Wall], job: Job) -> list[Notice]:
    """Notices about best starts that were asked for and still leave slivers, or lie out of range."""
    told = []
    by_id = {w.id: w for w in walls}
    low, high = (
        length_text(v, job.output.display) for v in (job.courses.clearance, job.courses.highest)
    )
    for table in tables if job.courses.start == "best" else ():
        names, first, best = ", ".join(table.walls), by_id[table.walls[0]], table.best
        messages = {}
        if best.slivers:
            slivers = "1 sliver" if best.slivers == 1 else f"{best.slivers} slivers"
            messages["START_SLIVERS"] = (
                f"no start of {names} with the starter {low} to {high} above the base avoids slivers; the best leaves {slivers}"
            )
        if not best.fits:
            messages["START_OUT_OF_RANGE"] = (
                f"no start of {names} brings every starter within {low} to {high} above its base; the best leaves fewest outside"
            )
        told += [
            Notice(
                code,
                text,
                drawing=first.drawing,
                layer=first.layer,
                handle=first.handles[0],
                at_in=first.box[:2],
            )
            for code, text in messages.items()
        ]
    return told
