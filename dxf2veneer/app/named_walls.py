"""What the job file says of walls by name, against the walls that there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from dxf2veneer.basics.messages import message
from dxf2veneer.config.blend import color_key
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.treatments import NOT_DRAWN, called
from dxf2veneer.model import Wall


def refuse_wrong_names(walls: Sequence[Wall], job: Job, product: Product) -> None:
    """Look at every name of a wall in the job file, and at the colors that it gives shares to.

    Args:
        walls: The walls, drawn and not drawn.
        job: The job.
        product: The panel line, for its colors.

    Raises:
        SettingsError: A wall that no drawing shows is called like another; a name is none, or
            means one wall by its id and another by its name; treatments of a wall differ; a color
            is none of the product's.
    """
    _refuse_taken(walls, job)
    _refuse_doubtful(walls, job)
    _refuse_unknown_blend(walls, job, product)
    _refuse_unknown_treatments(walls, job)
    _refuse_different_treatments(walls, job)


def _refuse_taken(walls: Sequence[Wall], job: Job) -> None:
    """A wall given by its sizes, or known by its area, has a name that no other wall has as its
    name or id."""
    for wall in walls:
        name = wall.name.removesuffix(NOT_DRAWN)
        others = (w for w in walls if w is not wall)
        if name != wall.name and any(name.casefold() in called(w.id, w.name) for w in others):
            place = job.origin_of("walls.rows").place(folders=True)
            raise SettingsError(message("wall-name-taken", place=place, name=name))
    names = {name for w in walls for name in called(w.id, w.name)}
    for one in job.order.additions:
        if one.area and one.reason.casefold() in names:
            place = job.origin_of("order.additions").place(folders=True)
            raise SettingsError(message("wall-name-taken", place=place, name=one.reason))


def _names(job: Job) -> Iterator[tuple[str, str]]:
    """Every name of a wall in the job file, with the setting that it stands in."""
    for treatment in job.walls.treatments:
        yield from (("walls.treatments", name) for name in treatment.walls)
    for alternate in job.bid.alternates:
        both = (*alternate.without, *alternate.adds)
        yield from (("bid.alternates", name) for name in both)
    yield from (("plan.blend", given.wall) for given in job.plan.blend)


def _refuse_doubtful(walls: Sequence[Wall], job: Job) -> None:
    """No name may mean one wall by its id and another by its name."""
    for setting, name in _names(job):
        small = name.casefold()
        is_id = any(small == w.id.casefold() for w in walls)
        named = (w for w in walls if small in called(w.name) and small != w.id.casefold())
        other = next(named, None)
        if is_id and other is not None:
            place = job.origin_of(setting).place(folders=True)
            raise SettingsError(
                message("wall-name-doubtful", place=place, name=name, other=other.id)
            )


def _refuse_unknown_blend(walls: Sequence[Wall], job: Job, product: Product) -> None:
    """Shares of colors name walls and colors that there are."""
    given = job.plan.blend
    named = {name.casefold(): name for w in walls for name in (w.id, w.name) if name}
    colors = {color_key(c.name): c.name for c in product.blend.colors}
    wrong = [(g.wall, named) for g in given if g.wall.casefold() not in named]
    wrong += [(g.color, colors) for g in given if color_key(g.color) not in colors]
    for name, known in wrong:
        place = job.origin_of("plan.blend").place(folders=True)
        there = tuple(known.values()) or ("none",)
        raise SettingsError(message("blend-unknown", place=place, name=name, known=there))


def _refuse_unknown_treatments(walls: Sequence[Wall], job: Job) -> None:
    """Treatments name walls that there are."""
    known = {name for w in walls for name in called(w.id, w.name)}
    for name in (n for one in job.walls.treatments for n in one.walls):
        if name.casefold() not in known:
            place = job.origin_of("walls.treatments").place(folders=True)
            there = tuple(w.name or w.id for w in walls)
            raise SettingsError(message("treatment-unknown", place=place, name=name, known=there))


def _refuse_different_treatments(walls: Sequence[Wall], job: Job) -> None:
    """Treatments of one wall don't give it two products, clearances or phases, nor a barrier and
    none."""
    for wall in walls:
        found = job.walls.treatments_of(wall.id, wall.name)
        given: dict[str, set[float] | set[str] | set[bool] | set[Path]] = {
            "product": {job.treatment_path(t).resolve() for t in found if t.product is not None},
            "bid": {t.bid for t in found if t.bid is not None},
            "barrier": {t.barrier for t in found if t.barrier is not None},
            "clearance": {t.clearance for t in found if t.clearance is not None},
            "phase": {t.phase for t in found if t.phase},
        }
        for what, values in given.items():
            if len(values) > 1:
                place = job.origin_of("walls.treatments").place(folders=True)
                name = wall.name or wall.id
                raise SettingsError(message("treatments-differ", place=place, name=name, what=what))
