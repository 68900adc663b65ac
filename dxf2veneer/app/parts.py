"""A job of several products: its walls parted by product, laid out each by itself, and joined.

walls + treatments -> parts -> lay_out, once for each -> one plan, whose panels are numbered on
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path, PurePath

from dxf2veneer.app.laying import LaidOut, lay_out, refuse_unknown_bays
from dxf2veneer.app.plans_joined import joined_plan, numbered_on
from dxf2veneer.app.stages import Progress, unwatched
from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.checks import plain
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product, load_product
from dxf2veneer.config.treatments import NOT_DRAWN, Treatment
from dxf2veneer.coursing.notices import bare_ground
from dxf2veneer.model import Corner, Drawing, Part, Recognised, Wall
from dxf2veneer.model.parts import product_name
from dxf2veneer.order.alternates import corners_without

_SECTION = {"breakage": "order", "scrap": "order", "backing": "order"}
"""The job's section of what goes with a product; trim for the others."""


def with_walls_named(job: Job, walls: Sequence[Wall], drawings: Sequence[Drawing]) -> Job:
    """The job whose treatments name every wall of their elevations and layers by its id.

    Args:
        job: The job.
        walls: The walls.
        drawings: The drawings.

    Returns:
        The job; the same where treatments name walls alone.

    Raises:
        SettingsError: There is no wall on such an elevation or layer.
    """
    treatments = tuple(_with_walls(t, job, walls, drawings) for t in job.walls.treatments)
    if treatments == job.walls.treatments:
        return job
    return dataclasses.replace(job, walls=dataclasses.replace(job.walls, treatments=treatments))


def _with_walls(
    treatment: Treatment, job: Job, walls: Sequence[Wall], drawings: Sequence[Drawing]
) -> Treatment:
    """A treatment with the ids of the walls that it means."""
    elevations = {w.id: _elevations_of(w, drawings) for w in walls}
    layers = {w.id: {w.layer} - {""} for w in walls}
    found = list(treatment.walls)
    for what, names, known in (
        ("elevation", treatment.elevations, elevations),
        ("layer", treatment.layers, layers),
    ):
        for name in names:
            ids = [id_ for id_, own in known.items() if plain(name) in map(plain, own)]
            if not ids:
                there = tuple(sorted({n for own in known.values() for n in own}, key=plain))
                place = _place(job)
                code = message("treatment-of-none", place=place, what=what, name=name, known=there)
                raise SettingsError(code)
            found += ids
    return treatment._replace(walls=tuple(dict.fromkeys(found)))


def _elevations_of(wall: Wall, drawings: Sequence[Drawing]) -> set[str]:
    """What the elevation of a wall may be called: its view, its drawing; of a wall that no drawing
    shows, its own name."""
    name = wall.name.removesuffix(NOT_DRAWN)
    if name != wall.name:
        return {name}
    drawing = drawings[wall.drawing]
    file = PurePath(drawing.file)
    return {name, drawing.elevation_at(wall.box), file.name, file.stem} - {""}


def _place(job: Job) -> Message:
    return job.origin_of("walls.treatments").place(folders=True)


def in_base_bid(found: Recognised, job: Job) -> Recognised:
    """The walls that are in the base bid, with their corners.

    Args:
        found: All walls and corners.
        job: The job; its treatments name walls.

    Returns:
        The walls in the bid, and a notice that names the others; the same where all are in it.

    Raises:
        SettingsError: None is.
    """
    kept = tuple(w for w in found.walls if job.walls.in_bid(w.id, w.name))
    if len(kept) == len(found.walls):
        return found
    if not kept:
        raise SettingsError(message("no-wall-in-bid", place=_place(job)))
    names = tuple(w.name or w.id for w in found.walls if w not in kept)
    told = Notice("OUT_OF_BID", message("out-of-bid", walls=names))
    return Recognised(kept, corners_without(found.corners, kept), (*found.notices, told))


# --------------------------------------------------------------------------- parts


def parts_of(
    walls: Sequence[Wall], corners: Sequence[Corner], job: Job, product: Product
) -> tuple[Part, ...]:
    """The walls parted by product.

    Args:
        walls: The walls.
        corners: The corners that join them.
        job: The job; its treatments name walls.
        product: The job's own product.

    Returns:
        A part for each product that has walls, the job's own first, and without any where the job
        adds quantities by hand; none where no treatment names a product.

    Raises:
        SettingsError: A product file can't be used; products or what is said of one differ; they
            can't be in one job.
    """
    named = [t for t in job.walls.treatments if t.product is not None]
    if not named:
        return ()
    if job.plan.panels:
        refuse_unknown_bays(walls, job)
    own = product.file.resolve() if product.file else None
    products: dict[Path | None, Product] = {own: product}
    said: dict[Path | None, dict[str, float | str]] = {own: {}}
    of_wall: dict[str, Path | None] = {}
    for treatment in named:
        path: Path | None = job.treatment_path(treatment).resolve()
        if path not in products:
            products[path] = load_product(path)
        if said.setdefault(path, treatment.own) != treatment.own:
            raise SettingsError(_said_twice(job, products[path], treatment, is_own=path == own))
        for wall in walls:
            if treatment in job.walls.treatments_of(wall.id, wall.name):
                of_wall[wall.id] = path
    _refuse_unlike(list(products.values()), job)
    found = []
    for path, one in products.items():
        ids = tuple(w.id for w in walls if of_wall.get(w.id, own) == path)
        if ids or (path == own and job.order.additions):
            inside = [w for w in walls if w.id in ids]
            its = corners_without(corners, inside)
            found.append(Part(one, _job_of(job, said[path], its), path == own, ids, its))
    _refuse_bays(corners, found, job)
    return tuple(found)


def _said_twice(job: Job, product: Product, treatment: Treatment, *, is_own: bool) -> Message:
    """What is wrong where treatments, or a treatment and the job's sections, say different things
    of a product."""
    place, name = _place(job), product_name(product)
    if is_own:
        keys = tuple(treatment.own)
        return message("product-said-of-own", place=place, product=name, keys=keys)
    return message("product-said-twice", place=place, product=name)


def _job_of(job: Job, said: dict[str, float | str], corners: Sequence[Corner]) -> Job:
    """The job as it is for the walls of a product."""
    for key, value in said.items():
        name = _SECTION.get(key, "trim")
        section = dataclasses.replace(getattr(job, name), **{key: value})
        job = dataclasses.replace(job, **{name: section})
    known = {name.upper() for c in corners for name in (c.id, c.tag) if name}
    inside = tuple(n for n in job.recognise.bay_inside if n.upper() in known)
    recognise = dataclasses.replace(job.recognise, bay_inside=inside)
    return dataclasses.replace(job, recognise=recognise)


def _refuse_unlike(products: Sequence[Product], job: Job) -> None:
    """SettingsError where products can't be in one job."""
    names = [product_name(p) for p in products]
    for name in names:
        if sum(plain(n) == plain(name) for n in names) > 1:
            raise SettingsError(message("product-names-alike", place=_place(job), name=name))
    if len({p.is_metric for p in products}) > 1:
        raise SettingsError(message("product-units-differ", place=_place(job)))
    if any(p.blend.colors for p in products):
        raise SettingsError(message("products-with-colors", place=_place(job)))
    if job.plan.compare:
        raise SettingsError(message("products-with-comparison", place=_place(job)))


def _refuse_bays(corners: Sequence[Corner], parts: Sequence[Part], job: Job) -> None:
    """SettingsError where a bay's corner joins walls of two products: both sides of it are cut
    from one panel."""
    for corner in (c for c in corners if c.kind == "mitre"):
        if len(_names_at(corner, parts)) > 1:
            raise SettingsError(
                message("product-parts-bay", place=_place(job), corner=corner.tag or corner.id)
            )


def _names_at(corner: Corner, parts: Sequence[Part]) -> tuple[str, ...]:
    """The products of the walls at a corner."""
    at = {wall for wall, _ in corner.edges}
    return tuple(p.name for p in parts if at & set(p.walls))


# -------------------------------------------------------------------------- laying


def laid_out(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    job: Job,
    product: Product,
    progress: Progress = unwatched,
    coursed: Callable[[LaidOut], None] = lambda _: None,
) -> LaidOut:
    """Walls measured, coursed, laid out and judged, each with its own product.

    Args:
        walls: The walls, in their order.
        corners: The corners that join them.
        job: The job; its treatments name walls.
        product: The job's own product.
        progress: Is given each step as it begins.
        coursed: Is given what is known before panels are planned, where there is one product.

    Returns:
        The walls together, in their order, with one plan. Where the walls of one product are too
        many to be laid out, there is none.

    Raises:
        SettingsError: A product can't be used, or not beside the others.
    """
    parts = parts_of(walls, corners, job, product)
    if not parts:
        return lay_out(walls, corners, job, product, progress, coursed)
    laid: list[LaidOut] = []
    flat = corner = 0
    for part in parts:
        own = [w for w in walls if w.id in part.walls]
        if not own:
            continue
        one = lay_out(own, part.corners, part.job, part.product, progress)
        laid.append(numbered_on(one, flat, corner))
        if one.plan is not None:
            flat, corner = flat + one.plan.flat.units, corner + one.plan.corner.units
    return joined(walls, corners, laid, parts, job)


def joined(
    walls: Sequence[Wall],
    corners: Sequence[Corner],
    laid: Sequence[LaidOut],
    parts: Sequence[Part],
    job: Job,
) -> LaidOut:
    """The walls of several products together.

    Args:
        walls: The walls, in their order.
        corners: The corners that join them.
        laid: Those of each product that has walls, with no panel's number twice.
        parts: The parts of the job.
        job: The job.

    Returns:
        The walls with one plan; none where the walls of one product have none.
    """
    if any(one.plan is None for one in laid):
        laid = [_without_plan(one) for one in laid]
    by_id = {w.wall.id: w for one in laid for w in one.walls}
    ordered = tuple(by_id[w.id] for w in walls)
    plans = [one.plan for one in laid if one.plan is not None]
    plan = joined_plan(plans, ordered, job) if plans else None
    notices = [n for one in laid for n in one.notices if n.code != "BELOW_STARTER"]
    notices += bare_ground(ordered)  # one for the job, not for each product
    notices += _corners_parted(corners, parts)
    starts = tuple(table for one in laid for table in one.starts)
    with_plans = iter(one.plan for one in laid)
    planned = tuple(
        dataclasses.replace(part, plan=next(with_plans)) if part.walls else part for part in parts
    )
    return LaidOut(ordered, plan, tuple(notices), starts, planned)


def _without_plan(one: LaidOut) -> LaidOut:
    walls = tuple(
        dataclasses.replace(w, courses=dataclasses.replace(w.courses, pieces=())) for w in one.walls
    )
    return one._replace(walls=walls, plan=None)


def _corners_parted(corners: Sequence[Corner], parts: Sequence[Part]) -> Iterator[Notice]:
    """Corners of which two products have a side each."""
    for corner in corners:
        names = _names_at(corner, parts)
        if len(names) > 1:
            what = message("corner-of-products", corner=corner.tag or corner.id, products=names)
            yield Notice("CORNER_OF_PRODUCTS", what)
