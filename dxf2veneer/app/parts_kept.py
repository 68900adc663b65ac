"""A job of several products as measured on site: each keeps what it can of its own plan."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from dxf2veneer.app.laying import LaidOut, lay_out_kept
from dxf2veneer.app.parts import joined
from dxf2veneer.app.plans_joined import numbered_apart
from dxf2veneer.app.stages import Progress, unwatched
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Corner, LaidCourse, Part, Wall
from dxf2veneer.order.alternates import corners_without


def laid_kept(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    before: LaidOut,
    courses_laid: Sequence[LaidCourse],
    job: Job,
    product: Product,
    progress: Progress = unwatched,
) -> LaidOut:
    """Walls as they stand on site, each with what can be kept of its product's plan.

    Args:
        walls: The walls as measured on site.
        corners: Corners that join them.
        before: The walls as drawn, laid out.
        courses_laid: Courses that are laid already.
        job: The settings.
        product: The panel of a job of one product.
        progress: Is given each step as it begins.

    Returns:
        The walls together, in their order. Panels of the plan before keep their numbers; those of
        new ones are no other product's.
    """
    if not before.parts:
        return lay_out_kept(walls, corners, before, courses_laid, job, product, progress)
    taken = {u.id for u in before.plan.units} if before.plan else set()
    parts: list[Part] = []
    laid: list[LaidOut] = []
    for part in before.parts:
        own = [w for w in walls if w.id in part.walls]
        parts.append(dataclasses.replace(part, corners=corners_without(corners, own)))
        if own:
            started = [one for one in courses_laid if one.wall in part.walls]
            one = lay_out_kept(
                own, parts[-1].corners, _of(part, before), started, part.job, part.product, progress
            )
            laid.append(numbered_apart(one, part.plan, taken))
    return joined(walls, corners, laid, parts, job)


def _of(part: Part, before: LaidOut) -> LaidOut:
    """What the walls of a product were laid out with."""
    return LaidOut(
        tuple(w for w in before.walls if w.wall.id in part.walls),
        part.plan,
        (),
        tuple(table for table in before.starts if set(table.walls) <= set(part.walls)),
    )
