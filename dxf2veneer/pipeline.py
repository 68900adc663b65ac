"""The stages in order: the public Python interface.

    >>> from dxf2veneer.pipeline import take_off
    >>> takeoff = take_off(["front.dxf"], load_job(Path("job.toml")))
    >>> takeoff.totals.net_area / 144  # square feet
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from dxf2veneer.alternates import order_of
from dxf2veneer.assumptions import CAUTIONS, assumptions
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.start import UnitsOf, start_tables
from dxf2veneer.coursing.start_use import laid_with, tell_starts, with_units
from dxf2veneer.drawing import DrawingError, load_drawing
from dxf2veneer.job import Job, with_settings
from dxf2veneer.judging import judge, with_reasons
from dxf2veneer.judging.findings import tell_breaks
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import (
    Corner,
    CoursePlan,
    Drawing,
    Recognised,
    StartTable,
    Takeoff,
    Totals,
    Wall,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.notices import Level, Notice
from dxf2veneer.planning.plan import plan_panels
from dxf2veneer.product import Product, load_product
from dxf2veneer.recognise import recognise
from dxf2veneer.units import square_feet

_EXACT = 1e-7
"""Relative difference that two ways of computing one area may have: rounding, nothing else."""

_GRAZE = 0.005
"""Square inches that an overlay can miss where two arcs graze each other within flattening distance."""

Progress = Callable[[str], None]


def take_off(paths: Sequence[Path | str], job: Job, *, progress: Progress = lambda step: None) -> Takeoff:
    """The takeoff of one job over one or more drawings.

    ``progress`` is called with a few words at each step. Raises ``drawing.DrawingError`` for a
    drawing that can't be used and ``settings.SettingsError`` for a product or price file that can't.
    """
    product = load_product(job.product_path)
    drawings = []
    for index, path in enumerate(paths):
        progress(f"reading {Path(path).name}")
        drawings.append(load_drawing(Path(path), job, index))
    progress("recognising walls and openings")
    found = recognise(drawings, job)
    if not found.walls:
        raise DrawingError(_no_wall(drawings, found))
    laid = lay_out(found.walls, found.corners, job, product, progress)
    progress("making the order")
    ordered = order_of(
        laid.walls, found.corners, laid.plan, job, product,
        lambda walls, corners, other: lay_out(walls, corners, job, other, progress)[:2],
    )  # fmt: skip
    notices = [n for d in drawings for n in d.notices] + [*found.notices, *laid.notices, *ordered.notices]
    return Takeoff(
        job=job,
        product=product,
        drawings=tuple(drawings),
        walls=laid.walls,
        corners=found.corners,
        totals=Totals.of(w.quantities for w in laid.walls),
        assumptions=assumptions(job, product, drawings, laid.starts),
        cautions=CAUTIONS,
        notices=tuple(sorted(notices, key=_rank)),
        plan=laid.plan,
        starts=laid.starts,
        order=ordered,
    )


class LaidOut(NamedTuple):
    """Walls measured, coursed and planned, and what there was to tell."""

    walls: tuple[WallTakeoff, ...]
    plan: CoursePlan | None
    starts: tuple[StartTable, ...]
    notices: tuple[Notice, ...]


def lay_out(
    walls: Sequence[Wall], corners: Sequence[Corner], job: Job, product: Product, progress: Progress = lambda step: None
) -> LaidOut:
    """Measure, course and plan recognised walls with a product; an alternate comes through here too."""
    all_measured = []
    for wall in walls:
        progress(f"measuring {wall.id}")
        all_measured.append(measure_wall(wall, job, product))
    starts = start_tables(all_measured, corners, job, product, _units_of(all_measured, job, product) if job.plan.panels else None)
    notices = list(tell_starts(starts, walls, job))
    coursed: list[WallTakeoff] = []
    for wall, measured in zip(walls, all_measured, strict=True):
        courses, told = course_wall(measured, laid_with(job, starts, wall.id), product)
        coursed.append(WallTakeoff(wall, measured, courses))
        notices += [*_cross_check(measured), *told]
    about = sum(w.courses.field.area for w in coursed) / product.coverage_area
    if about > job.plan.most:
        message = f"about {about:,.0f} panels, more than the {job.plan.most:,.0f} that are laid out; they are estimated by area"
        notices.append(Notice("PLAN_TOO_BIG", message))
    if not job.plan.panels or about > job.plan.most:
        return LaidOut(tuple(coursed), None, starts, tuple(notices))
    progress("laying panels")
    laid, plan = plan_panels(coursed, job, product)
    progress("judging the plan")
    breaks = with_reasons(judge(laid, plan, job, product), plan.yielded, near_in=product.panel.length)
    notices += tell_breaks(breaks, walls)
    return LaidOut(laid, dataclasses.replace(plan, breaks=breaks), with_units(starts, plan), tuple(notices))


def _units_of(measured: Sequence[WallQuantities], job: Job, product: Product) -> UnitsOf:
    """The units that some of the walls take with another start, laid out by themselves."""

    def units(walls: tuple[str, ...], start: float) -> int:
        shifted = with_settings(job, courses__start=start)
        coursed = [WallTakeoff(m.wall, m, course_wall(m, shifted, product)[0]) for m in measured if m.wall.id in walls]
        return plan_panels(coursed, shifted, product)[1].total

    return units


def _no_wall(drawings: Sequence[Drawing], found: Recognised) -> str:
    """One line for a job without any wall: what stood in the way of the first outline, and what to do."""
    files = ", ".join(d.file for d in drawings)
    told = [n for n in (*(n for d in drawings for n in d.notices), *found.notices) if n.code in _WALL_TROUBLES]
    if not told:
        return f"{files}: no closed wall outline on the named layers; see: dxf2veneer layers {drawings[0].file if drawings else ''}"
    first = told[0]
    more = f" (and {len(told) - 1} more like it)" if len(told) > 1 else ""
    place = f", handle {first.handle}" if first.handle else ""
    return f"{files}: no usable wall outline; {first.message}{place}{more}. {first.remedy}"


_WALL_TROUBLES = ("OPEN_OUTLINE", "LOOSE_LINES_UNUSED", "SELF_CROSSING", "NO_AREA", "ENTITY_UNUSABLE", "HIDDEN_LAYER")


def _rank(notice: Notice) -> tuple[int, int, str, tuple[float, float]]:
    """Gravest first, then by drawing, code and place."""
    order = (Level.ERROR, Level.WARNING, Level.INFO)
    return order.index(notice.level), notice.drawing or 0, notice.code, notice.at_in or (0.0, 0.0)


def _cross_check(measured: WallQuantities) -> list[Notice]:
    """The net area by a second way: the veneer that is left plus openings that are not deducted."""
    second = measured.veneer.area + measured.opening_area - measured.deducted_area
    if abs(second - measured.net_area) <= max(_GRAZE, _EXACT * measured.gross_area):
        return []
    wall = measured.wall
    message = f"net area of {wall.id} is {square_feet(measured.net_area):.4f} sq ft by subtraction, {square_feet(second):.4f} by what is left"
    return [Notice("CROSS_CHECK", message, drawing=wall.drawing, layer=wall.layer, handle=wall.handles[0], at_in=wall.box[:2])]
