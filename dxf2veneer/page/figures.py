"""Walls and openings measured by the stages of a takeoff, so that the page and the command give
the same numbers."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from dxf2veneer.app.proposing import in_views
from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.basics.notices import Level, Notice
from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.job import Job, with_settings
from dxf2veneer.config.job_values import MarkLine, Outline
from dxf2veneer.config.product import Product, load_product
from dxf2veneer.drawing import load_drawing
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import Drawing, Recognised, WallQuantities
from dxf2veneer.page.marks import Marks
from dxf2veneer.recognise import recognise
from dxf2veneer.textio.escaping import visible
from dxf2veneer.wording import error_line, remedy, say
from dxf2veneer.wording.measures import area_text, length_text

_RISE_IN = 0.5
"""How far a picture's chord may lie off its arc, in inches."""
_CORNERS = {"outside": "Outside corners", "inside": "Inside corners", "mitre": "Bays"}
_APART_IN = 0.01
"""Boxes whose sides lie this near to each other are one, in inches."""


def job_of(job: Job, marks: Marks) -> Job:
    """A job with the marks of the page.

    Args:
        job: The job file's settings.
        marks: The marks.

    Returns:
        The job that the saved file gives.
    """
    return with_settings(
        job,
        drawing__wall_outline=tuple(Outline(m.name, m.outline) for m in marks.walls),
        drawing__opening_outline=tuple(Outline(m.kind, m.outline) for m in marks.openings),
        drawing__mark_line=tuple(MarkLine(m.kind, m.tag, m.points) for m in marks.lines),
        drawing__window=marks.windows,
        drawing__units=marks.unit.name,
        drawing__scale=marks.unit.scale,
    )


def figures(path: Path, job: Job, marks: Marks) -> dict[str, Any]:
    """What the marks come to.

    Args:
        path: The drawing.
        job: The settings, with the marks in them (``job_of``).
        marks: The marks.

    Returns:
        Keys ``walls``, ``openings`` (numbers and texts by the mark's id), ``others`` (walls that
        come from the job's layers), ``totals``, ``doubts``
        (what is to be looked at, with its place in drawing units), ``problem`` (why nothing could
        be measured; empty where it could).
    """
    if not (marks.walls or job.layers.wall):
        return _nothing("Nothing is measured yet: there is no wall")
    try:
        product = load_product(job.product_path)
        drawing = load_drawing(path, in_views(job, path), 0)
        found = recognise([drawing], job)
        measured = [measure_wall(w, job, product) for w in found.walls]
    except TakeoffError as error:
        return _nothing(error_line(error, job.output.display))
    return _told(drawing, found, measured, job, marks, product)


def _nothing(problem: str) -> dict[str, Any]:
    return {
        "walls": {},
        "openings": {},
        "others": [],
        "totals": None,
        "doubts": [],
        "problem": problem,
    }


def _told(
    drawing: Drawing,
    found: Recognised,
    measured: Sequence[WallQuantities],
    job: Job,
    marks: Marks,
    product: Product,
) -> dict[str, Any]:
    walls: dict[str, Any] = {}
    openings: dict[str, Any] = {}
    others: list[dict[str, Any]] = []
    inches, display = drawing.inches_per_unit, job.output.display
    for wall in measured:
        mark = _mark_of(wall.wall.box, marks, inches, is_wall=True)
        if mark is None:
            others.append({**_wall(wall, display), "outline": _outline(wall, inches)})
        else:
            walls[str(mark)] = _wall(wall, display)
        for opening in wall.openings:
            mark = _mark_of(opening.opening.box, marks, inches, is_wall=False)
            if mark is not None:
                openings[str(mark)] = {
                    "id": opening.opening.id,
                    "size": _size(opening.width, opening.height, display),
                    "area": area_text(square_feet(opening.area), display),
                }
    gross, out, net = (
        square_feet(sum(getattr(w, key) for w in measured))
        for key in ("gross_area", "deducted_area", "net_area")
    )
    notices = [n for n in (*drawing.notices, *found.notices) if n.level is not Level.INFO]
    return {
        "walls": walls,
        "openings": openings,
        "others": others,
        "totals": {
            "gross_sqft": gross,
            "net_sqft": net,
            "gross": area_text(gross, display),
            "openings": area_text(out, display),
            "net": area_text(net, display),
            "runs": _runs(found, display),
        },
        "doubts": [_doubt(n, inches, display) for n in notices],
        "problem": "",
    }


def _runs(found: Recognised, display: str) -> list[list[str]]:
    """Summed heights of corners, each counted once, and of finished ends."""
    runs: dict[str, list[float]] = {}
    for corner in found.corners:
        runs.setdefault(_CORNERS[corner.kind], []).append(corner.run)
    ends = [e.length for w in found.walls for e in w.edges if e.kind == "end"]
    if ends:
        runs["Finished ends"] = ends
    return [[f"{name}: {len(r)}", length_text(sum(r), display)] for name, r in runs.items()]


def _wall(wall: WallQuantities, display: str) -> dict[str, Any]:
    x0, y0, x1, y1 = wall.wall.box
    trim = sum(o.trim_head + o.trim_jambs + o.trim_sill for o in wall.openings)
    return {
        "id": wall.wall.id,
        "name": visible(wall.wall.name),
        "size": _size(x1 - x0, y1 - y0, display),
        "gross": area_text(square_feet(wall.gross_area), display),
        "openings": area_text(square_feet(wall.deducted_area), display),
        "net": area_text(square_feet(wall.net_area), display),
        "starter": length_text(wall.starter_run, display),
        "trim": length_text(trim, display),
        "net_sqft": square_feet(wall.net_area),
    }


def _outline(wall: WallQuantities, inches: float) -> list[list[float]]:
    """The outer border of a wall as points in drawing units."""
    outer = max(wall.wall.region.parts, key=lambda part: part.outer.area).outer
    return [[x / inches, y / inches] for x, y in outer.flatten(rise_in=_RISE_IN)]


def _size(wide: float, high: float, display: str) -> str:
    return f"{length_text(wide, display)} x {length_text(high, display)}"


def _mark_of(
    box: tuple[float, float, float, float], marks: Marks, inches: float, *, is_wall: bool
) -> int | None:
    """The mark that a measured wall or opening comes from: the one whose box is nearest to its."""
    listed = marks.walls if is_wall else marks.openings
    ranked = sorted(
        (max(abs(b * inches - v) for b, v in zip(m.polygon.bounds, box, strict=True)), m.id)
        for m in listed
    )
    if ranked and (not is_wall or ranked[0][0] <= _APART_IN):
        return ranked[0][1]
    return None


def _doubt(notice: Notice, inches: float, display: str) -> dict[str, Any]:
    at = None if notice.at_in is None else [v / inches for v in notice.at_in]
    return {
        "text": say(notice.message, display),
        "remedy": remedy(notice.code),
        "level": notice.level.value,
        "at": at,
    }
