"""A drawing looked at as a whole beside what was taken of it: is anything missing or mistaken?

The first look reads what the user names. This one reads everything, proposes walls, openings and
unit by itself, and says where the two disagree. It changes no number.
"""

from __future__ import annotations

import dataclasses
import logging
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import shapely
from shapely import affinity
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

from dxf2veneer.app.cladding_sums import cladding_sums, taken_names, told_sums
from dxf2veneer.app.proposing import Document, Keep, Seen, see
from dxf2veneer.basics.messages import Length, Message, TakeoffError, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import (
    CLAIMED_SHARE,
    FLATTEN_IN,
    PROPOSAL_STANDS,
    SAME_OUTLINE_SHARE,
    SECOND_LOOK_BYTES,
    SECOND_LOOK_SEGMENTS,
    VIEW_STANDS,
    VIEW_SURE,
)
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.drawing import forget
from dxf2veneer.geometry import Region
from dxf2veneer.model import Drawing, Wall
from dxf2veneer.textio.plain_files import size_of

if TYPE_CHECKING:
    from dxf2veneer.propose.proposal import Outline

_LOG = logging.getLogger(__name__)


def second_look(
    drawing: Drawing,
    walls: Sequence[Wall],
    job: Job,
    document: Document | None = None,
    keep: Keep = forget,
) -> list[Notice]:
    """What a look at the whole drawing finds beside what was taken of it.

    Args:
        drawing: What was read.
        walls: The walls taken of it.
        job: Its views, windows and limits count.
        document: The library's document, where the drawing has been read whole already.
        keep: Given the document where it is read here, for the copy that the overlay needs.

    Returns:
        Warnings with place and remedy; one note where the look was not possible.
    """
    path = Path(drawing.file)
    if document is None and (size_of(path) or 0) > SECOND_LOOK_BYTES:
        why = message("second-look-large", megabytes=SECOND_LOOK_BYTES / 1e6)
        return [Notice("NOT_SEEN_WHOLE", why, drawing=drawing.index)]
    known = dataclasses.replace(
        job.drawing, units=drawing.units, scale=drawing.inches_per_unit / _inches(drawing)
    )
    try:
        asked = dataclasses.replace(job, drawing=known)
        seen = see(path, asked, document, keep, SECOND_LOOK_SEGMENTS)
    except TakeoffError as error:
        return [Notice("NOT_SEEN_WHOLE", error.message, drawing=drawing.index)]
    except Exception as error:  # it must not take a sound takeoff down: it is said instead
        _LOG.debug("the second look failed", exc_info=True)
        why = message("second-look-failed", kind=type(error).__name__)
        return [Notice("NOT_SEEN_WHOLE", why, drawing=drawing.index)]
    look = _Look(drawing, tuple(walls), seen, job)
    found = [
        *look.unit(),
        *look.openings(),
        *look.walls(),
        *look.elevations(),
        *look.other_views(),
        *look.claddings(),
    ]
    return [dataclasses.replace(n, drawing=drawing.index) for n in found]


def unit_advice(path: Path, job: Job) -> tuple[Message | None, str | None]:
    """What a look at the whole drawing says of its unit, for a drawing that names none.

    Args:
        path: The drawing.
        job: How it is read.

    Returns:
        The strongest evidence, and the unit where it is settled; None where there is none.
    """
    from dxf2veneer.propose.telling import told_evidence

    try:
        unit = see(
            path, dataclasses.replace(job, drawing=dataclasses.replace(job.drawing, view=()))
        ).unit
    except Exception:  # the error that is being told already is the one that matters
        _LOG.debug("the unit could not be looked for", exc_info=True)
        return None, None
    telling = [e for e in unit.evidence if not e.is_strange]
    if not telling:
        return None, unit.unit
    first = telling[0]
    seen = told_evidence(first.what, first.value)
    return message("evidence-fits", what=seen, units=first.best), unit.unit


def _inches(drawing: Drawing) -> float:
    return float(unit_by_name(drawing.units).inches)


@dataclasses.dataclass(frozen=True)
class _Look:
    """What was taken of a drawing, and what it proposes itself; all in inches."""

    drawing: Drawing
    taken: tuple[Wall, ...]
    seen: Seen
    job: Job

    def unit(self) -> Iterator[Notice]:
        """The unit in use against what is drawn and written, and sizes that no building has."""
        finding, used = self.seen.unit, self.drawing.units
        to_inches = self.drawing.inches_per_unit
        better = unit_by_name(finding.unit).inches if finding.unit else to_inches
        if finding.unit and abs(better / to_inches - 1.0) > 1e-3:
            from dxf2veneer.propose.telling import told_evidence

            against = next(
                e for e in finding.evidence if finding.unit in e.best and not e.is_strange
            )
            at = against.place and (against.place[0] * to_inches, against.place[1] * to_inches)
            yield Notice(
                "UNITS_DOUBTFUL",
                message(
                    "units-doubtful",
                    unit=used,
                    what=told_evidence(against.what, against.value),
                    units=against.best,
                    fitting=(finding.unit,),
                    times=max(better / to_inches, to_inches / better),
                ),
                handle=against.handle or None,
                at_in=at or None,
            )
        yield from self._absurd()

    def _absurd(self) -> Iterator[Notice]:
        from dxf2veneer.propose.unit import absurd

        back = 1.0 / unit_by_name(self.drawing.units).inches
        openings = [(o.kind, _scaled(o.box, back)) for w in self.taken for o in w.openings]
        scale = self.drawing.inches_per_unit * back
        found = absurd(
            self.drawing.units,
            [_scaled(w.box, back) for w in self.taken],
            [b for kind, b in openings if kind == "door"],
            [b for kind, b in openings if kind != "fixture"],
            [t.height * scale for t in self.seen.scene.texts],
        )
        for item in found:
            if item.what in ("wall height", "opening height"):
                continue  # reading has reported it, with the units that would make sense
            if item.what != "area" and not item.better:
                continue  # no unit would mend it
            if (
                item.what == "door height"
                and 2.0 * item.size > item.least
                and item.size < item.most
            ):
                continue  # a hatch by the ground counts as a door too
            size = (
                message("size-area", area=item.size) if item.what == "area" else Length(item.size)
            )
            at = item.place and (item.place[0] / back, item.place[1] / back)
            yield Notice(
                "UNITS_ABSURD",
                message(
                    "units-absurd-other",
                    unit=self.drawing.units,
                    what=item.what,
                    size=size,
                    better=item.better,
                ),
                at_in=at or None,
            )

    def openings(self) -> Iterator[Notice]:
        """Proposed openings in walls that were taken, which no opening of theirs claims."""
        walls = [(w, _polygon(w)) for w in self.taken]
        for proposed in self.seen.proposal.openings:
            if proposed.confidence < PROPOSAL_STANDS:
                continue
            face = self._outline(proposed.outline)
            for wall, ground in walls:
                claimed = [box(*o.box).intersection(face).area for o in wall.openings]
                inside = ground.intersection(face).area >= CLAIMED_SHARE * face.area
                if not inside or sum(claimed) > (1.0 - CLAIMED_SHARE) * face.area:
                    continue
                x0, y0, x1, y1 = face.bounds
                point = face.representative_point()
                at = self._units(point.x, point.y)
                yield Notice(
                    "OPENING_UNCLAIMED",
                    message(
                        "opening-unclaimed",
                        kind=proposed.kind,
                        width=Length(x1 - x0),
                        height=Length(y1 - y0),
                        wall=wall.id,
                        point=f"{at[0]:.8g},{at[1]:.8g}",
                    ),
                    at_in=(point.x, point.y),
                )

    def walls(self) -> Iterator[Notice]:
        """Walls taken that are openings by the proposal."""
        openings = [
            self._outline(o.outline)
            for o in self.seen.proposal.openings
            if o.confidence >= PROPOSAL_STANDS
        ]
        for wall in self.taken:
            ground = _polygon(wall)
            for face in openings:
                shared = ground.intersection(face).area
                if shared >= SAME_OUTLINE_SHARE * ground.union(face).area:
                    yield Notice(
                        "WALL_LIKE_OPENING",
                        message("wall-like-opening", wall=wall.id),
                        at_in=ground.representative_point().coords[0][:2],
                    )
                    break

    def elevations(self) -> Iterator[Notice]:
        """Elevations of the sheet of which nothing was taken. Where the proposal finds no wall
        either, it may be the proposal that fails: the title must then say that it is one. Walls of
        a proposal that are not in its job file were left out by somebody's choice."""
        asked = self.job.drawing
        pointed = asked.wall_outline and self.job.proposal.confirmed is not False
        if asked.window or asked.view or asked.wall_at or pointed:
            return  # whoever points at a part of the sheet means that part
        proposal = self.seen.proposal
        taken = shapely.union_all([_polygon(w) for w in self.taken])
        for view in proposal.views:
            has_walls = bool(proposal.walls_of(view.id))
            least = VIEW_STANDS if has_walls else VIEW_SURE
            if view.kind != "elevation" or view.confidence < least:
                continue
            if has_walls and asked.wall_outline:
                continue
            x0, y0, x1, y1 = (v * self.drawing.inches_per_unit for v in view.box)
            if box(x0, y0, x1, y1).intersects(taken):
                continue
            yield Notice(
                "ELEVATION_NOT_TAKEN",
                message("elevation-not-taken", view=view.id, title=view.title),
                at_in=((x0 + x1) / 2, (y0 + y1) / 2),
            )

    def other_views(self) -> Iterator[Notice]:
        """Walls that were taken from a view which is surely no elevation."""
        asked = self.job.drawing
        if asked.window or asked.view or asked.wall_at or asked.wall_outline:
            return  # whoever points at a part of the sheet means that part
        walls = [(w, _polygon(w)) for w in self.taken]
        for view in self.seen.proposal.views:
            if view.kind not in ("plan", "section", "detail") or view.confidence < VIEW_SURE:
                continue
            room = box(*(v * self.drawing.inches_per_unit for v in view.box))
            held = [w.id for w, ground in walls if room.covers(ground)]
            if held:
                x0, y0, x1, y1 = room.bounds
                yield Notice(
                    "WALLS_OF_OTHER_VIEW",
                    message(
                        "walls-of-other-view",
                        walls=tuple(held),
                        kind=view.kind,
                        view=view.id,
                        title=view.title,
                    ),
                    at_in=((x0 + x1) / 2, (y0 + y1) / 2),
                )

    def claddings(self) -> Iterator[Notice]:
        """What is drawn on the walls of a proposal that is taken off, and what is hatched as they
        are and lies in none: panels are laid on all walls, whatever is drawn on them."""
        confirmed = self.job.proposal.confirmed
        if confirmed is None:
            return  # whoever named layers knows what is on them
        from dxf2veneer.propose.telling import told_outside, told_traced

        proposal, per_inch = self.seen.proposal, 1.0 / self.drawing.inches_per_unit
        if proposal.waver:
            waver = told_traced(proposal.waver, self.drawing.inches_per_unit)
            yield Notice("DRAWING_TRACED", waver)
        walls = shapely.union_all([_polygon(w) for w in self.taken])
        regions = [o.region for w in self.taken for o in w.openings]
        net = affinity.scale(
            walls.difference(flattened(regions)), per_inch, per_inch, origin=(0.0, 0.0)
        )
        sums = cladding_sums(proposal, self.drawing.inches_per_unit, net)
        told = told_sums(proposal, sums, seen=confirmed)
        if told:
            yield Notice("CLADDINGS_DRAWN", told)
        taken = taken_names(sums)
        for found in proposal.outside:
            x, y = (v * self.drawing.inches_per_unit for v in found.at)
            if found.pattern in taken and not walls.covers(shapely.Point(x, y)):
                area = told_outside(found, self.drawing.inches_per_unit)
                yield Notice("HATCHED_OUTSIDE", area, at_in=(x, y))

    def _outline(self, outline: Outline) -> Polygon:
        factor = self.drawing.inches_per_unit
        return Polygon([(x * factor, y * factor) for x, y in outline]).buffer(0)

    def _units(self, x: float, y: float) -> tuple[float, float]:
        return x / self.drawing.inches_per_unit, y / self.drawing.inches_per_unit


def _scaled(
    bounds: tuple[float, float, float, float], factor: float
) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = bounds
    return x0 * factor, y0 * factor, x1 * factor, y1 * factor


def _polygon(wall: Wall) -> BaseGeometry:
    return flattened([wall.region])


def flattened(regions: Sequence[Region]) -> BaseGeometry:
    """The ground of regions together, flattened.

    Args:
        regions: Regions in inches.

    Returns:
        Their ground in inches, holes left in.
    """
    outers = [part.outer.flatten(rise_in=FLATTEN_IN * 50) for r in regions for part in r.parts]
    return shapely.union_all([Polygon(points).buffer(0) for points in outers])
