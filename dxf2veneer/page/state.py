"""The page's state as plain data."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

import shapely

from dxf2veneer.basics.tolerances import PROPOSAL_STANDS
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.page.edges import wall_at
from dxf2veneer.page.history import History
from dxf2veneer.page.marks import LineMark, Mark, Marks, Points
from dxf2veneer.page.opened import Opened
from dxf2veneer.propose import Proposal, ProposedView
from dxf2veneer.textio.escaping import visible
from dxf2veneer.wording.measures import length_text


def state_of(
    opened: Opened,
    history: History[Marks],
    *,
    revision: int,
    job_file: Path,
    is_saved: bool,
    trouble: str,
    unfit: frozenset[int],
    display: str,
    looking: str = "",
    problem: str = "",
) -> dict[str, Any]:
    """Everything that the page shows but lines and figures.

    Args:
        opened: The drawing.
        history: The marks and the steps that can be taken back.
        revision: Grows with every change.
        job_file: The job file's place.
        is_saved: Whether the job file holds the marks.
        trouble: Why it could not be saved; empty where it could.
        unfit: Ids of marks that no longer fit the drawing.
        display: Units for the reader.
        looking: What is still being done to find views, walls and openings; empty once they are.
        problem: What keeps the drawing from being read or looked at; empty where nothing does.

    Returns:
        Plain data; coordinates in drawing units.
    """
    marks = history.now
    return {
        "revision": revision,
        "sha256": opened.sha256,
        "drawing": visible(opened.path.name),
        "job_file": visible(job_file.name),
        "saved": is_saved,
        "trouble": trouble,
        "looking": looking,
        "undo": len(history.before),
        "redo": len(history.after),
        "confirmed": opened.is_confirmed(marks),
        "display": display,
        "unit": _unit(opened.proposal, marks),
        "views": [_view(v, opened, marks) for v in opened.proposal.views],
        "marks": [_mark(m, opened, marks) for m in marks.marks],
        "lines": [_line(m, marks) for m in marks.lines],
        "looked_at_rest": "" in marks.looked_at,
        "windows": [list(w.box) for w in marks.windows],
        "doubts": [] if looking else list(_doubts(opened, marks, unfit, problem)),
    }


def size_text(outline: Points, inches: float | None, display: str) -> str:
    """Width and height of an outline for a person.

    Args:
        outline: Its corners in drawing units.
        inches: Inches in a drawing unit; None where that is not known.
        display: Units for the reader.

    Returns:
        Such as ``3'-0" x 6'-8"``.
    """
    x0, y0, x1, y1 = shapely.Polygon(outline).bounds
    if inches is None:
        return f"{x1 - x0:.6g} x {y1 - y0:.6g} units"
    wide, high = (x1 - x0) * inches, (y1 - y0) * inches
    return f"{length_text(wide, display)} x {length_text(high, display)}"


def _unit(proposal: Proposal, marks: Marks) -> dict[str, Any]:
    name = marks.unit.name
    return {
        "name": name,
        "title": unit_by_name(name).title if name else "",
        "scale": marks.unit.scale,
        "proposed": proposal.unit,
        "sure": proposal.unit_sure,
    }


def _view(view: ProposedView, opened: Opened, marks: Marks) -> dict[str, Any]:
    return {
        "id": view.id,
        "kind": view.kind,
        "title": visible(view.title),
        "box": list(view.box),
        "looked_at": view.id in marks.looked_at,
        "has_walls": view.id in opened.views_with_walls(marks),
    }


def _mark(mark: Mark, opened: Opened, marks: Marks) -> dict[str, Any]:
    view = opened.view_of(mark)
    x0, y0, x1, y1 = mark.polygon.bounds
    return {
        "id": mark.id,
        "kind": mark.kind,
        "name": visible(mark.name),
        "outline": [list(p) for p in mark.outline],
        "box": [x0, y0, x1, y1],
        "note": mark.note,
        "sure": mark.sure,
        "view": view.id if view else "",
        "wall": _wall_of(mark, marks),
    }


def _line(line: LineMark, marks: Marks) -> dict[str, Any]:
    wall = wall_at(marks, line)
    return {
        "id": line.id,
        "kind": line.kind,
        "tag": visible(line.tag),
        "points": [list(p) for p in line.points],
        "wall": wall.id if wall else None,
    }


def _wall_of(mark: Mark, marks: Marks) -> int | None:
    """The wall that holds most of an opening."""
    if mark.kind == "wall":
        return None
    shares = [(w.polygon.intersection(mark.polygon).area, w.id) for w in marks.walls]
    best = max(shares, default=(0.0, 0))
    return best[1] if best[0] > 0.0 else None


def _doubts(
    opened: Opened, marks: Marks, unfit: frozenset[int], problem: str
) -> Iterable[dict[str, Any]]:
    """What a person had better look at: the unit, elevations without a wall, what is less sure,
    what no longer fits."""
    proposal = opened.proposal
    if problem:
        yield {"text": problem, "mark": None}
    if marks.unit.name is None:
        yield {"text": "The unit is not known: point at a length that you know", "mark": None}
    elif marks.unit.name == proposal.unit and not proposal.unit_sure:
        yield {"text": "The unit is not sure: check a size that you know", "mark": None}
    held = opened.views_with_walls(marks) | marks.looked_at
    for view in proposal.views:
        if view.kind == "elevation" and view.id not in held:
            text = f"{view.id} looks like an elevation, and no wall is marked there"
            yield {"text": text, "mark": None, "box": list(view.box)}
    for mark in marks.marks:
        if mark.id in unfit:
            yield {"text": "No longer fits the drawing, which has changed", "mark": mark.id}
        elif mark.sure is not None and mark.sure < PROPOSAL_STANDS:
            yield {"text": f"Only {mark.sure:.0%} sure", "mark": mark.id}
