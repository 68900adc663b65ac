"""Advice on the courses of a job: drawings -> walls -> groups -> search -> proposals measured anew.

What a proposal leaves is counted on the walls with their openings moved, by the same code that
courses any wall; the search only says what to try. One that leaves more than the search said is
kept only where it still beats what stands, and nothing is called exhaustive then.
"""

from __future__ import annotations

import logging
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from dxf2veneer.app.laying import coursed_at
from dxf2veneer.app.parts import parts_of
from dxf2veneer.app.pipeline import Keep, recognised
from dxf2veneer.app.stages import Progress, timed, unwatched
from dxf2veneer.app.writing import write_together
from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import LINE_MEETS_IN
from dxf2veneer.config.advice import KINDS
from dxf2veneer.config.checks import plain
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product, load_product
from dxf2veneer.config.settings import nearest
from dxf2veneer.coursing.advice.movable import Movables, movables_of
from dxf2veneer.coursing.advice.picking import better_ones, picked
from dxf2veneer.coursing.advice.search import Found, search
from dxf2veneer.coursing.groups import CourseGroup, course_groups
from dxf2veneer.coursing.search import search_start
from dxf2veneer.drawing import forget
from dxf2veneer.geometry.boundary import boundary
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import (
    BareStretch,
    Corner,
    CourseProposal,
    CoursingAdvice,
    GroupAdvice,
    OpeningShift,
    Wall,
    WallQuantities,
    WallTakeoff,
)
from dxf2veneer.planning.plan import panels_needed
from dxf2veneer.site.shifted import shifted

_LOG = logging.getLogger(__name__)


def advise(
    paths: Path | str | Sequence[Path | str],
    job: Job,
    *,
    progress: Progress = unwatched,
    keep: Keep = forget,
) -> CoursingAdvice:
    """Starts and moves of openings that leave fewer slivers and rips than what stands.

    Args:
        paths: A drawing in DXF, or several that are one job.
        job: The settings of the takeoff; its section ``advice`` says what may move.
        progress: Is given each step as it begins.
        keep: Is given every document that was read whole.

    Returns:
        For each group of walls whose courses run together what stands and what is proposed.

    Raises:
        DrawingError: A drawing can't be used.
        SettingsError: A setting names what there is not, or a file can't be used.
    """
    product = load_product(job.product_path)
    drawings, found, job = recognised(paths, job, product, progress, keep)
    if parts_of(found.walls, found.corners, job, product):
        place = job.origin_of("walls.treatments").place(folders=True)
        raise SettingsError(message("products-with-advice", place=place))
    _refuse_unknown(found.walls, job)
    progress(message("searching-starts"))
    notices = (*(n for d in drawings for n in d.notices), *found.notices)
    groups = advice_for(found.walls, found.corners, job, product)
    return CoursingAdvice(job, product, tuple(drawings), found.walls, groups, notices)


def advice_for(
    walls: Sequence[Wall], corners: Sequence[Corner], job: Job, product: Product
) -> tuple[GroupAdvice, ...]:
    """Advice for recognized walls.

    Args:
        walls: The walls as drawn.
        corners: Corners that join them.
        job: The settings.
        product: The panel they are laid with.

    Returns:
        One for each group of walls whose courses run together.
    """
    measured = [measure_wall(w, job, product) for w in walls]
    advised = []
    for group in course_groups(measured, corners, job, product):
        own = [m for m in measured if m.wall.id in group.walls]
        ties = [c for c in corners if any(wall in group.walls for wall, _ in c.edges)]
        with timed(_LOG, f"advice for {', '.join(group.walls)}") as counts:
            one = _Advisor(own, ties, job, product, group).advice()
            counts |= {"starts": one.starts, "unbeaten": one.unbeaten}
        advised.append(one)
    return tuple(advised)


def _refuse_unknown(walls: Sequence[Wall], job: Job) -> None:
    """Raises SettingsError where a limit names no kind and no opening that there is."""
    openings = [o for w in walls for o in w.openings]
    known = {plain(n): n for n in (*KINDS, *(n for o in openings for n in (o.id, o.name) if n))}
    for key in ("may_move", "may_resize"):
        for leave in getattr(job.advice, key):
            if plain(leave.what) not in known:
                place = job.origin_of(f"advice.{key}").place(folders=True)
                hint = nearest(leave.what, list(known.values()))
                raise SettingsError(
                    message("advice-unknown", place=place, name=leave.what, hint=hint)
                )


@dataclass(frozen=True)
class _Advisor:
    """One group of walls, measured, with what it takes to advise on it."""

    walls: Sequence[WallQuantities]
    corners: Sequence[Corner]
    job: Job
    product: Product
    group: CourseGroup

    def advice(self) -> GroupAdvice:
        """What is advised for the group."""
        present = self._present()
        found = movables_of(self.group, self.walls, self.job, self.product)
        searched = search(self._whole_course(), found, present, self._bare)
        better = better_ones(searched.front, searched.present)
        stands = self._proposal(searched.present, found)
        proposals, is_exact = [], searched.is_exact
        for one in picked(better, self.job.advice.proposals):
            proposal = self._proposal(one, found)
            is_exact = is_exact and proposal.rank == one.losses[:2]
            if (*proposal.rank, proposal.bare) < (*stands.rank, stands.bare):
                proposals.append(proposal)
        return GroupAdvice(
            walls=self.group.walls,
            present=stands,
            proposals=tuple(proposals),
            unbeaten=len(better),
            starts=searched.starts,
            moves=sum(m.can_move for m in found.movables),
            is_exact=is_exact,
            no_multiples=found.no_multiples,
            held=found.held,
        )

    def _present(self) -> float:
        """The start that stands: the job's own, or the best where it asks for that."""
        if self.job.courses.start == "best":
            return search_start(self.group).tied[0]
        return self.group.shift

    def _whole_course(self) -> CourseGroup:
        """The group with its starters anywhere in a course above the clearance, or as the job
        says."""
        if self.job.courses.clearance_most is not None:
            return self.group
        whole = self.group.clearance + self.group.height
        return replace(self.group, highest=tuple(max(h, whole) for h in self.group.highest))

    def _bare(self, start: float) -> float:
        """Level ground below the starter strip, in square inches."""
        heights = zip(self.group.starters(start), self.walls, strict=True)
        return math.fsum(max(0.0, above) * w.starter_run for above, w in heights)

    def _proposal(self, found: Found, movables: Movables) -> CourseProposal:
        """A start with moves, counted on the walls drawn so."""
        shifts = tuple(
            OpeningShift(m.ids, m.kind, m.drawn, option.head, option.sill)
            for index, option in found.chosen
            for m in (movables.movables[index],)
        )
        walls = [
            measure_wall(shifted(w.wall, shifts), self.job, self.product) if shifts else w
            for w in self.walls
        ]
        (group,) = course_groups(walls, self.corners, self.job, self.product)
        ((_, slivers, ripped, strips),) = group.scores([found.start])
        coursed = coursed_at(walls, found.start, self.job, self.product)
        return CourseProposal(
            start=found.start,
            height=group.starter(found.start),
            shifts=shifts,
            slivers=slivers,
            ripped=ripped,
            strips=strips,
            heads_out=found.losses[2],
            changed=found.losses[3],
            bare=math.fsum(w.quantities.veneer.area - w.courses.field.area for w in coursed),
            steps=tuple(step for w in coursed for step in _steps(w)),
            units=self._panels(coursed),
            walls=tuple(coursed),
        )

    def _panels(self, coursed: Sequence[WallTakeoff]) -> int | None:
        """The panels of the group's walls laid out by themselves, where the job asks for a plan."""
        about = sum(w.courses.field.area for w in coursed) / self.product.coverage_area
        if not self.job.plan.panels or about > self.job.plan.most:
            return None
        return panels_needed(coursed, self.job, self.product)


def _steps(wall: WallTakeoff) -> list[BareStretch]:
    """How high the starter stands above each level stretch of base, from the left."""
    above = wall.courses.starter_y - wall.wall.box[1]
    spans: Mapping[tuple[float, float], float] = {
        (min(xa, xb), max(xa, xb)): ya
        for side in boundary(wall.wall.region)
        if side.what == "base"
        for (xa, ya), (xb, yb) in ((side.segment.start, side.segment.end),)
        if abs(yb - ya) <= LINE_MEETS_IN
    }
    return [BareStretch(wall.wall.id, x0, x1, y, above) for (x0, x1), y in sorted(spans.items())]


def write_all(
    advice: CoursingAdvice,
    sources: Sequence[Path],
    *,
    picture: Path | None,
    copies: Sequence[Path],
    json_file: Path | None,
) -> None:
    """Write what was asked for of advice, all of it or nothing.

    Args:
        advice: The advice.
        sources: The drawings, in the order given.
        picture: The picture (SVG), or None.
        copies: For each drawing its copy with proposals (DXF); empty for none.
        json_file: The advice as JSON, or None.

    Raises:
        WriteError: A file can't be written.
        OverlayError: A drawing can't be copied.
    """
    from dxf2veneer.writers.advice import write_advice, write_picture
    from dxf2veneer.writers.overlay.advised import write_advised

    writings: list[tuple[Path, Callable[[Path], object]]] = []
    if picture:
        writings.append((picture, partial(write_picture, advice)))
    if copies:
        for drawing, source, copy in zip(advice.drawings, sources, copies, strict=True):
            writings.append((copy, partial(write_advised, advice, drawing, source)))
    if json_file:
        writings.append((json_file, partial(write_advice, advice)))
    if writings:
        write_together(writings)
