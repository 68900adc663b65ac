"""The stages of a takeoff in order, from drawings to the order."""

from __future__ import annotations

import dataclasses
import logging
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from dxf2veneer.app.comparing import plans_compared
from dxf2veneer.app.laying import LaidOut, laid_before, lay_out_kept
from dxf2veneer.app.named_walls import refuse_wrong_names
from dxf2veneer.app.parts import in_base_bid, laid_out, with_walls_named
from dxf2veneer.app.parts_kept import laid_kept
from dxf2veneer.app.proposing import in_views
from dxf2veneer.app.second_look import second_look, unit_advice
from dxf2veneer.app.stages import Progress, timed, unwatched
from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.notices import Level, Notice, gathered
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.job import Job
from dxf2veneer.config.layer_names import prefix_amiss
from dxf2veneer.config.product import Product, load_product
from dxf2veneer.config.site_file import SiteSheet, load_site
from dxf2veneer.drawing import DrawingError, UnitMissingError, forget, load_drawing
from dxf2veneer.model import (
    CutChanges,
    Drawing,
    Order,
    Recognised,
    SiteMeasures,
    Takeoff,
    Totals,
    Wall,
)
from dxf2veneer.order.alternates import Whole, order_of
from dxf2veneer.order.assumptions import CAUTIONS, assumptions
from dxf2veneer.order.changed_cuts import changed_cuts
from dxf2veneer.order.experience import estimate_of
from dxf2veneer.order.shares import elevation_shares, phase_shares, wall_shares
from dxf2veneer.recognise import recognise
from dxf2veneer.site import as_measured, site_notices
from dxf2veneer.site.earlier import Earlier, load_earlier, refuse_other_job
from dxf2veneer.verify.kept import check_kept
from dxf2veneer.verify.totals import check_takeoff

_LOG = logging.getLogger(__name__)

Keep = Callable[[Path, Any], None]
"""Is given a file and the library's document of it."""

PlanBefore = Callable[[Recognised], LaidOut | None]
"""Is given the walls; gives the plan of an earlier drawing, by the ids of the walls now, that is to
be kept where it can be; None for none."""


def take_off(
    paths: Path | str | Sequence[Path | str],
    job: Job,
    *,
    progress: Progress = unwatched,
    keep: Keep = forget,
    coursed: Callable[[Takeoff], None] | None = None,
    before: PlanBefore = lambda _: None,
) -> Takeoff:
    """The takeoff of one job over one drawing or several.

    Job and takeoff are plain values that can be pickled, so that this can be mapped over drawings
    on other processes and machines.

    Args:
        paths: A drawing in DXF, or several that are one job.
        job: The settings; names at least one wall layer.
        progress: Is given each step as it begins.
        keep: Is given every document that was read whole, see ``drawing.load_drawing``.
        coursed: Is given, before panels are planned, a takeoff with walls, areas and course lines
            alone; not called where none are planned.
        before: Gives the plan of an earlier drawing that is to be kept.

    Returns:
        Walls, quantities, plan, order, notices and assumptions of the whole job.

    Raises:
        DrawingError: A drawing can't be used.
        SettingsError: A product or price file can't be used.
    """
    product = load_product(job.product_path)
    sheet = load_site(job.site_path) if job.site_path else None
    earlier = _earlier(job)
    whole: dict[Path, Any] = {}
    drawings, every, job = recognised(paths, job, product, progress, whole.__setitem__)
    out = tuple(w for w in every.walls if not job.walls.in_bid(w.id, w.name))
    found = in_base_bid(every, job)

    def early(bare: LaidOut) -> None:
        if coursed is not None and job.plan.panels:
            coursed(_takeoff(job, product, drawings, found, bare))

    site, changes = None, None
    plan_before = before(found)
    if plan_before is not None:
        laid = lay_out_kept(found.walls, found.corners, plan_before, (), job, product, progress)
    elif earlier is None:
        laid = laid_out(found.walls, found.corners, job, product, progress, early)
    else:
        refuse_other_job(earlier, job.before_path or Path(), found, product)
        laid = laid_before(found.walls, found.corners, earlier, job, product, progress)
    if sheet is not None:
        drawn = tuple(d.sha256 for d in drawings)
        found, laid, site, changes = _on_site(
            sheet, found, laid, earlier, drawn, job, product, progress
        )
    progress(message("making-order"))
    with timed(_LOG, "order") as counts:
        ordered = order_of(
            laid.walls,
            found.corners,
            laid.plan,
            job,
            product,
            lambda walls, corners, job, other: laid_out(walls, corners, job, other, progress),
            laid.parts,
            Whole((*found.walls, *out), every.corners) if out else None,
        )
        counts |= {"lines": len(ordered.lines), "alternates": len(ordered.alternates)}
    choices = None
    if job.plan.compare and laid.plan is not None:
        choices = plans_compared(
            laid.walls, found.corners, laid.plan, ordered, job, product, progress
        )
    progress(message("looking-whole", file=Path(drawings[0].file).name))
    with timed(_LOG, "second look") as counts:
        looked = [
            n
            for d in drawings
            for n in second_look(
                d, _walls_of(d, every), job, whole.get(Path(d.file)), whole.__setitem__
            )
        ]
        counts["found"] = len(looked)
    if not job.output.overlay_only:
        for path, document in whole.items():
            keep(path, document)
    takeoff = _checked(job, product, drawings, found, laid, ordered, looked, site)
    return dataclasses.replace(takeoff, choices=choices, changes=changes, out_of_bid=out)


def _earlier(job: Job) -> Earlier | None:
    """The earlier plan that is kept. Raises SettingsError without site measures, and where the job
    has several products."""
    if job.before_path is None:
        return None
    if any(t.product is not None for t in job.walls.treatments):
        place = job.origin_of("walls.treatments").place(folders=True)
        raise SettingsError(message("products-with-before", place=place))
    if job.site_path is None:
        place = job.origin_of("site.before").place(folders=True)
        raise SettingsError(message("before-without-site", place=place))
    return load_earlier(job.before_path)


def recognised(
    paths: Path | str | Sequence[Path | str],
    job: Job,
    product: Product,
    progress: Progress,
    keep: Keep = forget,
) -> tuple[list[Drawing], Recognised, Job]:
    """The drawings of a job with its walls, before anything is measured.

    Args:
        paths: A drawing in DXF, or several that are one job.
        job: The settings.
        product: Height of a course and length of a panel bound a wall's size.
        progress: Is given each step as it begins.
        keep: Is given every document that was read whole.

    Returns:
        The drawings in the order given, what was recognized in them, and the job with its
        treatments by the ids of walls.

    Raises:
        DrawingError: A drawing can't be used, or there is no wall.
        SettingsError: The job names a wall that there is not.
    """
    drawings = _read(paths, job, progress, keep)
    progress(message("recognizing"))
    with timed(_LOG, "recognizing") as counts:
        found = recognise(drawings, job)
        counts |= {"walls": len(found.walls), "corners": len(found.corners)}
    if not found.walls:
        raise DrawingError(_no_wall(drawings, found))
    _refuse_vast(drawings, found.walls, job, product)
    job = with_walls_named(job, found.walls, drawings)
    refuse_wrong_names(found.walls, job, product)
    return drawings, found, job


def _read(
    paths: Path | str | Sequence[Path | str], job: Job, progress: Progress, keep: Keep
) -> list[Drawing]:
    """The drawings in the order given."""
    drawings = []
    for index, path in enumerate(map(Path, [paths] if isinstance(paths, Path | str) else paths)):
        progress(message("reading-drawing", file=path.name))
        with timed(_LOG, f"reading {path}") as counts:
            try:
                drawing = load_drawing(path, in_views(job, path), index, keep)
            except UnitMissingError as error:
                raise error.advised(*unit_advice(path, job)) from None
            counts |= {"shapes": len(drawing.shapes), "labels": len(drawing.labels)}
        drawings.append(drawing)
    return drawings


def _on_site(
    sheet: SiteSheet,
    drawn: Recognised,
    before: LaidOut,
    earlier: Earlier | None,
    drawings: tuple[str, ...],
    job: Job,
    product: Product,
    progress: Progress,
) -> tuple[Recognised, LaidOut, SiteMeasures, CutChanges | None]:
    """Walls as measured on site, laid out with what can be kept of the plan before, and what that
    changes in the cut list."""
    on_site = as_measured(
        drawn.walls, drawn.corners, sheet, {w.wall.id: w.courses.below for w in before.walls}
    )
    site = dataclasses.replace(on_site.measures, before=earlier.file if earlier else "")
    _refuse_unknown_courses(before, site)
    told = [*on_site.notices, *site_notices(site, job.plan.tolerance)]
    if earlier is not None:
        same = earlier.drawings == drawings
        kept = message("site-before-kept", file=earlier.file, same=same)
        told.append(Notice("SITE_BEFORE_KEPT", kept))
    found = Recognised(on_site.walls, on_site.corners, (*drawn.notices, *told))
    as_drawn = all(a is b for a, b in zip(on_site.walls, drawn.walls, strict=True))
    laid = before
    if earlier is not None or not as_drawn or any(one.joints is not None for one in site.laid):
        laid = laid_kept(found.walls, found.corners, before, site.laid, job, product, progress)
    if before.plan is None or laid.plan is None:
        return found, laid, site, None
    changes = changed_cuts(before.walls, before.plan, laid.walls, laid.plan, site.laid)
    still = {w.id for w in drawn.walls if earlier is None or earlier.is_as_drawn(w.id, drawings)}
    amiss = check_kept(before.walls, laid.walls, site, changes, still)
    return dataclasses.replace(found, notices=(*found.notices, *amiss)), laid, site, changes


def _refuse_unknown_courses(before: LaidOut, site: SiteMeasures) -> None:
    """Raises SettingsError where more courses are laid than a wall has."""
    courses = {w.wall.id: len(w.courses.courses) for w in before.walls}
    for one in site.laid:
        if one.course >= courses[one.wall]:
            raise SettingsError(
                message(
                    "site-courses-beyond",
                    place=one.origin.place(folders=True),
                    wall=one.wall,
                    courses=courses[one.wall],
                )
            )


def _checked(
    job: Job,
    product: Product,
    drawings: Sequence[Drawing],
    found: Recognised,
    laid: LaidOut,
    ordered: Order,
    looked: Sequence[Notice],
    site: SiteMeasures | None,
) -> Takeoff:
    """The takeoff with what its cross-checks found, the gravest notice first."""
    shares = wall_shares(laid.walls, found.corners, laid.plan, ordered, drawings, job, laid.parts)
    bare = _takeoff(job, product, drawings, found, laid)
    takeoff = dataclasses.replace(
        bare,
        assumptions=assumptions(
            job,
            product,
            drawings,
            laid.starts,
            bare.estimate,
            site,
            ordered.priced_on,
            laid.parts,
            laid.walls,
            {ITEMS[line.item_key].section for line in ordered.lines},
        ),
        order=ordered,
        shares=shares,
        elevations=elevation_shares(shares),
        phases=phase_shares(shares, job),
        site=site,
    )
    with timed(_LOG, "cross-checks") as counts:
        differences = check_takeoff(takeoff)
        counts["differences"] = len(differences)
    notices = [
        *(n for d in drawings for n in d.notices),
        *looked,
        *found.notices,
        *laid.notices,
        *ordered.notices,
        *differences,
    ]
    notices += [*_of_proposal(takeoff), *_of_layer_names(job)]
    listed = gathered(sorted(notices, key=_rank), job.limits.notices)
    return dataclasses.replace(takeoff, notices=tuple(listed))


def _takeoff(
    job: Job, product: Product, drawings: Sequence[Drawing], found: Recognised, laid: LaidOut
) -> Takeoff:
    """The takeoff without order, assumptions and notices."""
    return Takeoff(
        job=job,
        product=laid.parts[0].product if laid.parts else product,
        drawings=tuple(drawings),
        walls=laid.walls,
        corners=found.corners,
        totals=Totals.of(w.quantities for w in laid.walls),
        estimate=estimate_of(laid.walls, product, job.order.scrap, laid.parts),
        assumptions=(),
        cautions=CAUTIONS,
        notices=(),
        plan=laid.plan,
        starts=laid.starts,
        parts=laid.parts,
    )


def _walls_of(drawing: Drawing, found: Recognised) -> list[Wall]:
    return [w for w in found.walls if w.drawing == drawing.index]


def _of_proposal(takeoff: Takeoff) -> list[Notice]:
    """What there is to say where the job file was proposed by the program."""
    asked = takeoff.job.proposal
    found = [
        Notice("PROPOSAL_OF_ANOTHER", message("proposal-of-another"), drawing=d.index)
        for d in takeoff.drawings
        if asked.sha256 and asked.sha256 != d.sha256
    ]
    if takeoff.is_unconfirmed:
        found.append(Notice("PROPOSAL_UNCONFIRMED", message("proposal-unconfirmed")))
    edges = [e for w in takeoff.walls for e in w.wall.edges]
    if asked.confirmed is not None and edges and all(e.kind == "butt" for e in edges):
        counts = message("sides-unmarked", sides=len(edges), walls=len(takeoff.walls))
        found.append(Notice("SIDES_UNMARKED", counts))
    return found


def _of_layer_names(job: Job) -> list[Notice]:
    """What there is to say of the overlay's layer names."""
    amiss = prefix_amiss(job.output.layer_prefix)
    return [] if amiss is None else [Notice("LAYER_PREFIX_FORM", amiss)]


def _rank(notice: Notice) -> tuple[int, int, str, tuple[float, float]]:
    """Gravest first, then by drawing, code and place."""
    order = (Level.ERROR, Level.WARNING, Level.INFO)
    return order.index(notice.level), notice.drawing or 0, notice.code, notice.at_in or (0.0, 0.0)


# ------------------------------------------------------------------------ refusals

_WALL_TROUBLES = (
    "OPEN_OUTLINE",
    "LOOSE_LINES_UNUSED",
    "SELF_CROSSING",
    "NO_AREA",
    "ENTITY_UNUSABLE",
    "HIDDEN_LAYER",
)
"""Notices of what can keep an outline from being a wall."""


def _no_wall(drawings: Sequence[Drawing], found: Recognised) -> Message:
    """Why a job has no wall at all: what stood in the way of the first outline."""
    files = tuple(d.file for d in drawings)
    notices = (*(n for d in drawings for n in d.notices), *found.notices)
    troubles = [n for n in notices if n.code in _WALL_TROUBLES]
    if not troubles:
        return message("no-outline", files=files, first=files[0] if files else "")
    first = troubles[0]
    return message(
        "no-usable-outline",
        files=files,
        trouble=first.message,
        handle=first.handle,
        more=len(troubles) - 1,
        notice=first.code,
    )


def _refuse_vast(
    drawings: Sequence[Drawing], walls: Sequence[Wall], job: Job, product: Product
) -> None:
    """Raises DrawingError for a wall beyond the limit: every course costs time and room in every
    output."""
    most = job.limits.courses
    for wall in walls:
        x0, base, x1, top = wall.box
        if (top - base) / product.panel.height > most or (x1 - x0) / product.panel.length > most:
            raise DrawingError(
                message(
                    "wall-too-big",
                    file=drawings[wall.drawing].file,
                    wall=wall.id,
                    layer=wall.layer,
                    handle=wall.handles[0],
                    width=Length(x1 - x0),
                    height=Length(top - base),
                    most=most,
                )
            )
