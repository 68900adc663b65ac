"""A drawing looked at as a whole: its views, its unit, and what it proposes for its takeoff."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shapely.geometry import Polygon

from dxf2veneer.app.writing import write_together
from dxf2veneer.basics.messages import Length, Message, TakeoffError, message
from dxf2veneer.basics.tolerances import (
    OPENING_REACHES,
    SECOND_LOOK_BYTES,
    SECOND_LOOK_SEGMENTS,
)
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.config.job_values import Window
from dxf2veneer.drawing import forget
from dxf2veneer.drawing.errors import DrawingError

if TYPE_CHECKING:
    from dxf2veneer.propose import Proposal, ProposedOpening, ProposedWall
    from dxf2veneer.propose.scene import Scene
    from dxf2veneer.propose.unit import UnitFinding


Document = Any
"""The library's document of a drawing."""
Keep = Callable[[Path, Document], None]
"""Is given a file and its document."""


@dataclass(frozen=True)
class Seen:
    """A drawing seen as a whole."""

    path: Path
    scene: Scene
    proposal: Proposal
    """Limited to the job's views."""
    unit: UnitFinding
    """What speaks for its unit."""
    units: str | None = None
    """The unit that the job names."""


def see(
    path: Path,
    job: Job,
    document: Document | None = None,
    keep: Keep = forget,
    most: int | None = None,
) -> Seen:
    """Look at a drawing as a whole.

    Args:
        path: The drawing.
        job: Its section ``drawing`` and its limits count.
        document: The library's document of it, where it has been read whole already.
        keep: Given the document where this reads it.
        most: Straight pieces up to which it is looked at; None for any number.

    Returns:
        What was seen, in drawing units.

    Raises:
        DrawingError: The file can't be read, it has no such view, or it holds more than ``most``.
    """
    scene = read(path, job, document, keep)
    if most is not None and len(scene.segments) > most:
        lines = message("second-look-lines", n=len(scene.segments), most=most)
        raise DrawingError.of(path, lines)
    return seen_of(path, scene, job)


def read(path: Path, job: Job, document: Document | None = None, keep: Keep = forget) -> Scene:
    """Read everything visible in a drawing, and look for nothing in it yet.

    Args:
        path: The drawing.
        job: Its section ``drawing`` and its limits count.
        document: The library's document of it, where it has been read whole already.
        keep: Given the document where this reads it.

    Returns:
        The scene, in drawing units.

    Raises:
        DrawingError: The file can't be read, or holds more than the limits.
    """
    from dxf2veneer.propose.reading import read_scene, scene_of

    asked = job.drawing
    if document is not None:
        return scene_of(document, include_hidden=asked.include_hidden, limits=job.limits)
    return read_scene(
        path,
        encoding=asked.encoding,
        include_hidden=asked.include_hidden,
        limits=job.limits,
        keep=keep,
    )


def seen_of(path: Path, scene: Scene, job: Job) -> Seen:
    """Look for views, walls and openings in a drawing that has been read.

    Args:
        path: The drawing.
        scene: Everything visible in it.
        job: Its section ``drawing`` counts.

    Returns:
        What was seen, in drawing units.

    Raises:
        DrawingError: The drawing has no such view.
    """
    from dxf2veneer.propose.proposing import look_at

    asked = job.drawing
    given = unit_by_name(asked.units).inches * asked.scale if asked.units else None
    proposal, unit = look_at(scene, inches=given)
    if asked.view:
        proposal = _limited(proposal, views_asked(path, proposal, asked.view))
    return Seen(path, scene, proposal, unit, asked.units)


def absurdities(seen: Seen) -> list[Message]:
    """Sizes that no building has in the unit that a takeoff would use.

    Args:
        seen: The drawing and its proposal.

    Returns:
        One message for each; none where no unit is named, or where no other would mend it.
    """
    from dxf2veneer.propose.unit import absurd

    used = seen.units or seen.proposal.unit or seen.unit.header
    if used is None:
        return []
    boxes = {o.id: Polygon(o.outline).bounds for o in seen.proposal.openings}
    doors = [boxes[o.id] for o in seen.proposal.openings if o.kind == "door"]
    walls = [Polygon(w.outline).bounds for w in seen.proposal.walls]
    letters = [t.height for t in seen.scene.texts]
    found = absurd(used, walls, doors, list(boxes.values()), letters)
    return [
        message(
            "units-absurd-other",
            unit=used,
            what=item.what,
            size=message("size-area", area=item.size) if item.what == "area" else Length(item.size),
            better=item.better,
        )
        for item in found
        if item.better
    ]


def see_if_small(path: Path, job: Job) -> Seen | None:
    """Look at a drawing as a whole where that takes seconds.

    Args:
        path: The drawing.
        job: As for ``see``.

    Returns:
        What was seen; None for a drawing that is larger, or holds more than the limits.

    Raises:
        DrawingError: The drawing has no such view.
    """
    if path.stat().st_size > SECOND_LOOK_BYTES:
        return None
    try:
        return see(path, job, most=SECOND_LOOK_SEGMENTS)
    except TakeoffError:
        if job.drawing.view:
            raise
        return None  # what can be counted of it is shown all the same


def views_asked(path: Path, proposal: Proposal, asked: Sequence[str]) -> tuple[str, ...]:
    """The ids of the views that were asked for.

    Args:
        path: The drawing.
        proposal: Its views.
        asked: Ids or numbers: ``V2``, ``v2``, ``2``.

    Returns:
        The ids.

    Raises:
        DrawingError: There is no such view.
    """
    known = {v.id.upper(): v.id for v in proposal.views}
    ids = []
    for text in asked:
        name = text.strip().upper()
        if name not in known and f"V{name}" in known:
            name = f"V{name}"
        if name not in known:
            told = message("no-such-view", view=text, views=tuple(known.values()))
            raise DrawingError.of(path, told)
        ids.append(known[name])
    return tuple(ids)


def clad(seen: Seen, asked: Sequence[str]) -> Seen:
    """What was seen with only the walls on which some cladding is drawn.

    Args:
        seen: The drawing and its proposal.
        asked: Kinds of cladding or names of hatch patterns, in any case; all walls where none.

    Returns:
        The same with those walls, the openings that reach into them and their corners, numbered as
        a takeoff of them numbers them; elevations with other walls alone are left out.

    Raises:
        DrawingError: No wall is drawn so.
    """
    if not asked:
        return seen
    names = {name.strip().casefold() for name in asked}
    kept = {w.id for w in seen.proposal.walls if names & {c.casefold() for c in w.cladding}}
    if not kept:
        there = tuple(sorted({c for w in seen.proposal.walls for c in w.cladding}))
        told = message("no-such-cladding", asked=tuple(asked), there=there)
        raise DrawingError.of(seen.path, told)
    clad_views = {w.view for w in seen.proposal.walls if w.id in kept}
    bare = {v.id for v in seen.proposal.empty_elevations(0.0)}
    ids = [
        v.id
        for v in seen.proposal.views
        if v.kind != "elevation" or v.id in clad_views or v.id in bare
    ]
    return dataclasses.replace(seen, proposal=_limited(seen.proposal, ids, walls=kept))


def _limited(
    proposal: Proposal, ids: Sequence[str], walls: Collection[str] | None = None
) -> Proposal:
    """The proposal with only some views, and the walls and openings in them or some of these,
    numbered as a takeoff of them numbers them."""
    kept = [w for w in proposal.walls if w.view in ids and (walls is None or w.id in walls)]
    named = {w.id: f"W{n}" for n, w in enumerate(kept, 1)}
    openings = _of_walls(proposal.openings, kept)
    corners = [c for c in proposal.corners if all(wall in named for wall, _ in c.edges)]
    return dataclasses.replace(
        proposal,
        views=tuple(v for v in proposal.views if v.id in ids),
        walls=tuple(dataclasses.replace(w, id=named[w.id]) for w in kept),
        openings=tuple(
            dataclasses.replace(o, id=f"{named[o.wall]}-{o.short_id}", wall=named[o.wall])
            for o in openings
        ),
        corners=tuple(
            dataclasses.replace(c, edges=tuple((named[wall], side) for wall, side in c.edges))
            for c in corners
        ),
        levels=tuple(level for level in proposal.levels if level.view in ids),
    )


def _of_walls(
    openings: Sequence[ProposedOpening], walls: Sequence[ProposedWall]
) -> list[ProposedOpening]:
    """The openings of some walls: their own, and those of others that reach into them, as a door
    reaches into the base of stone under the boards that have most of it."""
    grounds = {w.id: Polygon(w.outline) for w in walls}
    held: dict[str, list[ProposedOpening]] = {name: [] for name in grounds}
    for opening in openings:
        shape = Polygon(opening.outline)
        shares = {name: g.intersection(shape).area for name, g in grounds.items()}
        name = opening.wall if opening.wall in held else max(shares, key=lambda n: shares[n])
        if name == opening.wall or shares[name] > OPENING_REACHES * shape.area:
            held[name].append(dataclasses.replace(opening, wall=name))
    return [
        dataclasses.replace(o, id=f"{name}-O{n}")
        for name, own in held.items()
        for n, o in enumerate(sorted(own, key=_lower_left), 1)
    ]


def _lower_left(opening: ProposedOpening) -> tuple[float, float]:
    return min(x for x, _ in opening.outline), min(y for _, y in opening.outline)


def in_views(job: Job, path: Path) -> Job:
    """A job with the boxes of the views that it names as its windows.

    Args:
        job: The job.
        path: The drawing.

    Returns:
        The job; itself where it names no view.

    Raises:
        DrawingError: The drawing has no such view.
    """
    if not job.drawing.view:
        return job
    views = see(path, job).proposal.views
    windows = tuple(Window(v.title.replace("=", " "), v.box) for v in views)
    return with_settings(job, drawing__window=windows, drawing__view=())


def write_proposal(
    seen: Seen,
    job: Job,
    *,
    picture: Path | None,
    job_file: Path | None,
    json_file: Path | None,
    also: Sequence[tuple[Path, Callable[[Path], None]]] = (),
) -> None:
    """Write what was asked for of a proposal, all of it or nothing.

    Args:
        seen: The drawing and its proposal.
        job: How it was read.
        picture: The picture (SVG), or None.
        job_file: The job file (TOML), or None.
        json_file: The outlines (JSON), or None.
        also: Further files, each with what makes it.

    Raises:
        WriteError: A file can't be written.
    """
    from dxf2veneer.writers import proposal as writer

    proposal = seen.proposal
    sha256 = hashlib.sha256(seen.path.read_bytes()).hexdigest()
    writings: tuple[tuple[Path | None, Callable[[Path], None]], ...] = (
        *also,
        (picture, partial(writer.write_picture, proposal, seen.scene, seen.path, job)),
        (job_file, partial(writer.write_job, proposal, seen.path, sha256, job)),
        (json_file, partial(writer.write_result, proposal)),
    )
    asked = [(target, write) for target, write in writings if target is not None]
    if asked:
        write_together(asked)
