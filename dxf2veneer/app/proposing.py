"""A drawing looked at as a whole: its views, its unit, and what it proposes for its takeoff."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from shapely.geometry import Polygon

from dxf2veneer.app.narrowing import limited, views_asked
from dxf2veneer.app.writing import write_together
from dxf2veneer.basics.messages import Length, Message, TakeoffError, message
from dxf2veneer.basics.tolerances import SECOND_LOOK_BYTES, SECOND_LOOK_SEGMENTS
from dxf2veneer.basics.units import is_metric, unit_by_name
from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.config.job_values import Window
from dxf2veneer.drawing import forget
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.textio.plain_files import read_plain, size_of

if TYPE_CHECKING:
    from dxf2veneer.propose import Proposal
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
        DrawingError: The drawing has no such view, or its lines cross without end.
    """
    from dxf2veneer.propose.proposing import look_at

    asked = job.drawing
    given = unit_by_name(asked.units).inches * asked.scale if asked.units else None
    try:
        proposal, unit = look_at(scene, inches=given)
    except DrawingError as error:
        raise DrawingError.of(path, error.message) from None
    if asked.view:
        proposal = limited(proposal, views_asked(path, proposal, asked.view))
    return Seen(path, scene, proposal, unit, asked.units)


def displayed(job: Job, seen: Seen) -> Job:
    """A job that shows lengths in the system of the drawing's unit, unless somebody said in which.

    Args:
        job: The job.
        seen: The drawing and its proposal.

    Returns:
        The job, metric where the drawing is and nothing was said of it; imperial where the unit is
        not known.
    """
    unit = seen.units or seen.proposal.unit
    said = job.origin_of("output.display").kind != "default"
    if said or unit is None or not is_metric(unit):
        return job
    return with_settings(job, output__display="metric")


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
    if (size_of(path) or 0) > SECOND_LOOK_BYTES:
        return None
    try:
        return see(path, job, most=SECOND_LOOK_SEGMENTS)
    except TakeoffError:
        if job.drawing.view:
            raise
        return None  # what can be counted of it is shown all the same


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
    sha256 = hashlib.sha256(read_plain(seen.path, sys.maxsize)).hexdigest()
    writings: tuple[tuple[Path | None, Callable[[Path], None]], ...] = (
        *also,
        (picture, partial(writer.write_picture, proposal, seen.scene, seen.path, job)),
        (job_file, partial(writer.write_job, proposal, seen.path, sha256, job)),
        (json_file, partial(writer.write_result, proposal)),
    )
    asked = [(target, write) for target, write in writings if target is not None]
    if asked:
        write_together(asked)
