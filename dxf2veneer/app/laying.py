"""Recognized walls measured, coursed, planned and checked: the middle of a takeoff.

walls -> measured -> groups -> searches -> panels of tied starts -> tables -> courses -> plan
                                           (only for the best start)
"""

from __future__ import annotations

import dataclasses
import logging
from collections.abc import Callable, Sequence
from typing import NamedTuple

from dxf2veneer.app.stages import Progress, timed, unwatched
from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.choice import start_of, start_tables, with_panels
from dxf2veneer.coursing.groups import course_groups
from dxf2veneer.coursing.notices import course_notices
from dxf2veneer.coursing.numbering import numbered
from dxf2veneer.coursing.search import StartSearch, search_start
from dxf2veneer.measure import measure_wall, trim_notices
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    LaidCourse,
    Part,
    StartTable,
    StockCount,
    Wall,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.planning.keeping.keeping import plan_kept
from dxf2veneer.planning.plan import panels_needed, plan_panels
from dxf2veneer.site.earlier import Earlier
from dxf2veneer.verify.blend import blend_notices, spread_of
from dxf2veneer.verify.handling import handling_of
from dxf2veneer.verify.look import look_of
from dxf2veneer.verify.mitres import mitres_of
from dxf2veneer.verify.plan import judge, with_laid, with_reasons
from dxf2veneer.verify.plan.findings import notices_of
from dxf2veneer.verify.tolerance import tolerance_of
from dxf2veneer.verify.totals import check_laid

_LOG = logging.getLogger(__name__)


class LaidOut(NamedTuple):
    """Walls measured, coursed and planned, and what there is to report."""

    walls: tuple[WallTakeoff, ...]
    plan: CoursePlan | None
    """None where the job asks for none, or is too big for one."""
    notices: tuple[Notice, ...]
    starts: tuple[StartTable, ...]
    """One table for each group of walls whose courses run together."""
    parts: tuple[Part, ...] = ()
    """The walls of each product, where the job has several."""


def lay_out(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    progress: Progress = unwatched,
    coursed: Callable[[LaidOut], None] = lambda _: None,
) -> LaidOut:
    """Measure, course, plan and check recognized walls; an alternate comes through here too.

    Args:
        walls: The walls as recognized.
        corners: Corners that join them.
        job: The settings.
        product: The panel they are laid with.
        progress: Is given each step as it begins.
        coursed: Is given what is known before panels are planned: walls, courses, notices.

    Returns:
        The walls with quantities, courses and pieces, the plan, notices and tables of starts.

    Raises:
        SettingsError: The product's corner panel is too short to be cut into two pieces.
    """
    if job.plan.panels:
        _refuse_short_corner_panels(walls, job, product)
        refuse_unknown_bays(walls, job)
    measured = _measured(walls, job, product, progress)
    starts = _starts(measured, corners, job, product)
    with timed(_LOG, "coursing") as counts:
        bare = _coursed(measured, starts, corners, job, product)
        counts["courses"] = sum(len(w.courses.courses) for w in bare)
    notices = [n for w in walls for n in trim_notices(w, job.trim)]
    notices += course_notices(bare, corners, starts, job, product)
    coursed(LaidOut(tuple(bare), None, tuple(notices), starts))
    laid, plan, found = planned(bare, job, product, progress)
    notices += [*found, *check_laid(laid, corners, plan, job, product)]
    return LaidOut(laid, plan, tuple(notices), with_panels(starts, plan) if plan else starts)


def laid_before(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    earlier: Earlier,
    job: Job,
    product: Product,
    progress: Progress = unwatched,
) -> LaidOut:
    """Walls as drawn with the pieces that an earlier takeoff laid them out with.

    Args:
        walls: The walls as recognized, those of that takeoff.
        corners: Corners that join them.
        earlier: Its plan.
        job: The settings.
        product: The panel they are laid with.
        progress: Is given each step as it begins.

    Returns:
        The walls with courses at that plan's heights and its pieces, and its panels; nothing of it
        is judged again, since it is no plan of this takeoff.
    """
    measured = _measured(walls, job, product, progress)
    searches = [search_start(g) for g in course_groups(measured, corners, job, product)]
    is_best = job.courses.start == "best"
    starts = start_tables(searches, {}, takes_best=is_best, kept=earlier.starts)
    laid = tuple(
        dataclasses.replace(
            w, courses=dataclasses.replace(w.courses, pieces=earlier.pieces[w.wall.id])
        )
        for w in _coursed(measured, starts, corners, job, product)
    )
    flat, corner = (
        StockCount(sum(u.kind == kind for u in earlier.units), 0, 0.0, 0, 0, 0, ())
        for kind in ("flat", "corner")
    )
    plan = CoursePlan(earlier.units, flat, corner, walls=(), bound=0) if job.plan.panels else None
    return LaidOut(laid, plan, (), starts)


def lay_out_kept(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    before: LaidOut,
    courses_laid: Sequence[LaidCourse],
    job: Job,
    product: Product,
    progress: Progress = unwatched,
) -> LaidOut:
    """Measure and course walls as they stand on site, and keep what can be kept of a plan.

    Args:
        walls: The walls as measured on site.
        corners: Corners that join them.
        before: The walls as drawn, laid out.
        courses_laid: Courses that are laid already.
        job: The settings.
        product: The panel they are laid with.
        progress: Is given each step as it begins.

    Returns:
        The walls with quantities, courses at the heights of the plan before, pieces, the plan,
        notices and tables of starts.
    """
    measured = _measured(walls, job, product, progress)
    kept = {table.walls: table.present.start for table in before.starts}
    searches = [search_start(g) for g in course_groups(measured, corners, job, product)]
    starts = start_tables(searches, {}, takes_best=job.courses.start == "best", kept=kept)
    coursed = _coursed(measured, starts, corners, job, product)
    notices = [n for w in walls for n in trim_notices(w, job.trim)]
    notices += course_notices(coursed, corners, starts, job, product)
    laid: tuple[WallTakeoff, ...] = tuple(coursed)
    plan = None
    if before.plan is not None:
        progress(message("keeping-plan"))
        with timed(_LOG, "keeping the plan") as counts:
            laid, plan = plan_kept(coursed, before.walls, before.plan, courses_laid, job, product)
            counts |= {"panels": plan.total, "before": before.plan.total}
        plan, found = _judged(laid, plan, job, product, progress, courses_laid)
        notices += found
    notices += check_laid(laid, corners, plan, job, product)
    return LaidOut(laid, plan, tuple(notices), with_panels(starts, plan) if plan else starts)


def _measured(
    walls: Sequence[Wall], job: Job, product: Product, progress: Progress
) -> list[WallQuantities]:
    measured = []
    with timed(_LOG, "measuring") as counts:
        for wall in walls:
            progress(message("measuring-wall", wall=wall.id))
            measured.append(measure_wall(wall, job, product))
        counts["walls"] = len(measured)
    return measured


def _starts(
    measured: Sequence[WallQuantities], corners: Sequence[Corner], job: Job, product: Product
) -> tuple[StartTable, ...]:
    """The tables of starts. Where the best is asked for, those that tie for it are laid out."""
    takes_best = job.courses.start == "best"
    with timed(_LOG, "search for starts") as counts:
        searches = [search_start(g) for g in course_groups(measured, corners, job, product)]
        counts["groups"] = len(searches)
        panels: dict[tuple[str, ...], dict[float, int]] = {}
        if takes_best and job.plan.panels:
            panels = {
                search.group.walls: _panels(search, measured, job, product)
                for search in searches
                if len(search.tied) > 1
            }
            counts["plans to compare starts"] = sum(map(len, panels.values()))
    return start_tables(searches, panels, takes_best=takes_best)


def _panels(
    search: StartSearch, measured: Sequence[WallQuantities], job: Job, product: Product
) -> dict[float, int]:
    """The panels that a group's walls take with each start that ties, laid out by themselves."""
    walls = [m for m in measured if m.wall.id in search.group.walls]
    return {
        start: panels_needed(coursed_at(walls, start, job, product), job, product)
        for start in search.tied
    }


def coursed_at(
    walls: Sequence[WallQuantities], start: float, job: Job, product: Product
) -> list[WallTakeoff]:
    """Walls with their courses at a start.

    Args:
        walls: The walls, measured.
        start: Shift of their course lines, in inches.
        job: The settings.
        product: The panel they are laid with.

    Returns:
        The walls, without pieces.
    """
    return [WallTakeoff(m.wall, m, course_wall(m, job, product, start)) for m in walls]


def _coursed(
    measured: Sequence[WallQuantities],
    starts: Sequence[StartTable],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
) -> list[WallTakeoff]:
    """Each wall with the courses of the start that its group is laid with, and their numbers."""
    coursed = [
        WallTakeoff(m.wall, m, course_wall(m, job, product, start_of(starts, m.wall.id)))
        for m in measured
    ]
    return numbered(coursed, corners, product.panel.height)


def planned(
    coursed: Sequence[WallTakeoff], job: Job, product: Product, progress: Progress = unwatched
) -> tuple[tuple[WallTakeoff, ...], CoursePlan | None, list[Notice]]:
    """Walls with their panels, and the judge's findings.

    Args:
        coursed: The walls with their courses; pieces that they have are laid anew.
        job: The settings.
        product: The panel they are laid with.
        progress: Is given each step as it begins.

    Returns:
        The walls with their pieces, the judged plan (None where the job asks for none or is too
        big for one), and notices.
    """
    if not job.plan.panels:
        return tuple(coursed), None, []
    about = sum(w.courses.field.area for w in coursed) / product.coverage_area
    if about > job.plan.most:
        report = message("plan-too-big", about=round(about), most=round(job.plan.most))
        return tuple(coursed), None, [Notice("PLAN_TOO_BIG", report)]
    progress(message("laying-panels"))
    with timed(_LOG, "planning") as counts:
        laid, plan = plan_panels(coursed, job, product)
        counts |= {"panels": plan.total, "at least": plan.bound, "crosscuts": plan.cuts}
    plan, notices = _judged(laid, plan, job, product, progress)
    return laid, plan, notices


def _judged(
    laid: Sequence[WallTakeoff],
    plan: CoursePlan,
    job: Job,
    product: Product,
    progress: Progress,
    courses_laid: Sequence[LaidCourse] = (),
) -> tuple[CoursePlan, list[Notice]]:
    """The plan with what the judge found, and its notices."""
    progress(message("judging-plan"))
    with timed(_LOG, "judging the plan") as counts:
        breaks, exceptions = with_reasons(
            judge(laid, plan, job, product), plan.exceptions, near_in=product.panel.length
        )
        breaks = with_laid(breaks, courses_laid)
        counts["broken rules"] = len(breaks)
    plan = dataclasses.replace(
        plan,
        breaks=breaks,
        exceptions=exceptions,
        look=look_of(laid, product),
        handling=handling_of(laid, plan, job.plan.offcut_wait),
        tolerance=tolerance_of(laid, job, product),
        spread=spread_of(laid, plan, job, product),
    )
    plan = dataclasses.replace(plan, mitres=mitres_of(laid, plan, job, product))
    notices = list(notices_of(breaks, laid))
    if plan.spread:
        notices += blend_notices(plan.spread, laid)
    if plan.is_cut_short:
        limit = message("search-ended-at-limit", branches=round(job.plan.search))
        notices.append(Notice("PLAN_SEARCH_ENDED", limit))
    return plan, notices


def refuse_unknown_bays(walls: Sequence[Wall], job: Job) -> None:
    """No setting names a bay corner that there is not.

    Args:
        walls: The walls.
        job: The settings.

    Raises:
        SettingsError: One does.
    """
    bays = [e for w in walls for e in w.edges if e.kind == "mitre"]
    known = {name for e in bays for name in (e.tag, e.corner) if name}
    for name in job.recognise.bay_inside:
        if name.upper() not in known:
            place = job.origin_of("recognise.bay_inside").place(folders=True)
            raise SettingsError(
                message(
                    "bay-unknown", place=place, name=name, known=tuple(sorted(known)) or ("none",)
                )
            )


def _refuse_short_corner_panels(walls: Sequence[Wall], job: Job, product: Product) -> None:
    """Raises SettingsError where walls ask for corner pieces and no panel can be cut into two."""
    least, longest = product.laying.least_piece, product.longest_corner_piece(job.plan.kerf)
    asks = any(e.kind in ("outside", "inside", "end") for w in walls for e in w.edges)
    if asks and longest < least:
        raise SettingsError(
            message(
                "corner-panel-too-short",
                place=product.origin.place(),
                length=Length(product.corner.length),
                least=Length(least),
                kerf=Length(job.plan.kerf),
            )
        )
