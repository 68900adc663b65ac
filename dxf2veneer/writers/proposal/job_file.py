"""The job file of a proposal, to be looked at and confirmed by a person.

It gives every wall and opening as an outline, so that the takeoff measures just what the picture
shows. Every line says how sure the proposal is of it; a line taken out is not taken off.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from shapely.geometry import Polygon

from dxf2veneer.basics.tolerances import VIEW_STANDS
from dxf2veneer.basics.units import PLAUSIBLE, is_metric, unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.config.settings import toml
from dxf2veneer.propose import Proposal, ProposedOpening, ProposedWall
from dxf2veneer.propose.proposal import Outline, ProposedCorner, ProposedLevel
from dxf2veneer.propose.telling import told
from dxf2veneer.textio.escaping import legible, without_folder
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording import say

_SCALE = re.compile(
    r"""[\s,(–-]*\b(?:(?:scale|m|ma(?:ß|ss)stab|éch(?:elle)?|escala|schaal)\b\W*)?"""
    r"""(?:1\s*:\s*\d+|\d+(?:\s*/\s*\d+)?\s*(?:"|''|in)\s*=).*$""",
    re.IGNORECASE,
)
"""A scale at the end of a view's title, with what introduces it."""
_FINE_IN = 0.001
"""Outlines are given about this fine, in inches: finer than anybody draws or cuts, and coarse
enough that equal windows are equal again after lines were joined."""
_STRAIGHT = 1e-6
"""A corner this near to the line of its neighbors, as a share of the outline's size, is none."""


def write_job(proposal: Proposal, drawing: Path, sha256: str, job: Job, path: Path) -> None:
    """Write the job file, whole or not at all.

    Args:
        proposal: What was found in the drawing.
        drawing: The drawing.
        sha256: Its checksum.
        job: How it was read.
        path: The file to write.

    Raises:
        OSError: Nothing can be written there.
    """
    text = job_text(proposal, drawing, sha256, job)
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def job_text(proposal: Proposal, drawing: Path, sha256: str, job: Job) -> str:
    """A job file that takes off what is proposed.

    Args:
        proposal: What was found in the drawing.
        drawing: The drawing, named in the head of the file.
        sha256: Its checksum.
        job: How it was read.

    Returns:
        TOML with the sections proposal and drawing, and output where lengths are metric.
    """
    walls, openings = proposal.walls, proposal.openings
    digits = _digits(proposal, job)
    lines = [
        f"# Proposed for {_plain(without_folder(str(drawing)))}, not confirmed by a person.",
        "# Look at the picture, take out the lines that are wrong, then take off. {BLANK_SEAL}",
        *(
            f"# No wall was found in {_plain(f'{v.id} {v.title}'.strip())}, which is not taken off."
            for v in proposal.empty_elevations(VIEW_STANDS)
        ),
        "",
        "[proposal]",
        "confirmed = false  # true once you have looked: until then every output says so on top",
        f"sha256 = {toml(sha256)}",
        "",
        "[drawing]",
        *_unit(proposal, job),
        *_reading(job),
        *_elevations(proposal, digits),
        *_list("wall_outline", [(_wall(w, proposal, digits), _about(w)) for w in walls]),
        *_list("opening_outline", [(_opening(o, digits), _about_opening(o)) for o in openings]),
        *_corners([c for c in proposal.corners if len(c.edges) > 1], digits, lone=False),
        *_corners([c for c in proposal.corners if len(c.edges) == 1], digits, lone=True),
        *_levels(proposal, job, digits),
        *_display(job),
    ]
    return "\n".join(lines).replace("{BLANK_SEAL}", BLANK_SEAL) + "\n"


def _unit(proposal: Proposal, job: Job) -> list[str]:
    """The unit: the user's, or the one that the drawing shows; else a line to be filled in."""
    if job.drawing.units:
        return [f"units = {toml(job.drawing.units)}"]
    if proposal.unit:
        return [f"units = {toml(proposal.unit)}  # as what is drawn and written shows"]
    names = ", ".join(PLAUSIBLE)
    return [f'# units = "UNIT"  # the drawing does not show its unit clearly: one of {names}']


def _display(job: Job) -> list[str]:
    """The units in what people read, where they are metric."""
    if job.output.display != "metric":
        return []
    asked = job.origin_of("output.display").kind == "option"
    why = "as asked" if asked else "as the drawing's unit is; imperial for feet and inches"
    return ["", "[output]", f'display = "metric"  # {why}']


def _elevations(proposal: Proposal, digits: int | None) -> list[str]:
    """The boxes of the views that have walls, under their titles."""
    used = {w.view for w in proposal.walls}
    titled = [(v, title) for v in proposal.views if v.id in used and (title := _name(v.title))]
    rows = []
    for view, title in titled:
        x0, y0, x1, y1 = view.box
        corners = f"{_point((x0, y0), digits)},{_point((x1, y1), digits)}"
        rows.append((f"{title}={corners}", f"{view.id}: its walls are one elevation"))
    return _list("elevation", rows)


def _digits(proposal: Proposal, job: Job) -> int | None:
    """Decimals of the outlines' coordinates in drawing units; None where the unit is not known."""
    name = job.drawing.units or proposal.unit
    if name is None:
        return None
    inches = unit_by_name(name).inches * job.drawing.scale
    return math.ceil(math.log10(inches / _FINE_IN) - 0.5)


def _reading(job: Job) -> list[str]:
    """The options by which the drawing was read, where they are not the defaults."""
    keys = ("scale", "encoding", "include_hidden")
    given = [k for k in keys if getattr(job.drawing, k) != getattr(Job().drawing, k)]
    return [f"{key} = {toml(getattr(job.drawing, key))}" for key in given]


def _wall(wall: ProposedWall, proposal: Proposal, digits: int | None) -> str:
    """Its outline under the title of its view and what is drawn on it; its number stands before
    that in every output."""
    titles = {v.id: _name(v.title) for v in proposal.views}
    title = titles.get(wall.view)
    name = f"{', '.join([title, *wall.cladding])}=" if title else ""
    return f"{name}{_points(wall.outline, digits)}"


def _name(title: str) -> str:
    """A view's title as the name of a wall: without the scale, which is the drawing's."""
    return " ".join(_SCALE.sub("", title).replace("=", " ").split())


def _opening(opening: ProposedOpening, digits: int | None) -> str:
    return f"{opening.kind}={_points(opening.outline, digits)}"


def _about(wall: ProposedWall) -> str:
    return f"{wall.id} in {wall.view}: {wall.confidence:.0%}, {say(told(wall.reason))}"


def _about_opening(opening: ProposedOpening) -> str:
    why = say(told(opening.reason))
    return f"{opening.id}, {opening.kind} in {opening.wall}: {opening.confidence:.0%}, {why}"


def _corners(corners: Sequence[ProposedCorner], digits: int | None, *, lone: bool) -> list[str]:
    """Corners that two elevations share as settings; edges without a partner as lines to be taken
    in, since a wall may as well end there."""
    rows = [
        (
            f"{c.kind} {c.id}={_point(line[:2], digits)} {_point(line[2:], digits)}",
            f"{wall} {side}: {c.confidence:.0%}, {say(told(c.reason))}",
        )
        for c in corners
        for (wall, side), line in zip(c.edges, c.lines, strict=True)
    ]
    if not lone:
        return _list("mark_line", rows)
    return _to_take_in(
        "Edges that may turn a corner: where one does, put it into mark_line = [ ... ]", rows
    )


def _levels(proposal: Proposal, job: Job, digits: int | None) -> list[str]:
    """Level marks as lines to be taken in: the courses would run from them."""
    reach = {v.id: (v.box[0], v.box[2]) for v in proposal.views}
    unit = job.drawing.units or proposal.unit
    metric = unit is not None and is_metric(unit)
    rows = [
        (
            f"level={_point((reach[mark.view][0], mark.y), digits)} "
            f"{_point((reach[mark.view][1], mark.y), digits)}",
            f"{mark.view}: {mark.value_text}{_height(mark, metric=metric)}",
        )
        for mark in proposal.levels
        if mark.view in reach
    ]
    return _to_take_in(
        "Level marks: the one that the courses are to run from goes into mark_line = [ ... ]; its "
        "height for story poles goes under [output]",
        rows,
    )


def _height(mark: ProposedLevel, *, metric: bool) -> str:
    """The setting that goes with a level mark; nothing where its unit is not known."""
    height = mark.height(is_metric=metric)
    return f"; level_height = {toml(height)}" if height else ""


def _to_take_in(why: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    if not rows:
        return []
    return [f"# {why}", *(f"#    {_text(text)},  # {_plain(about)}" for text, about in rows)]


def _list(key: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    if not rows:
        return []
    return [f"{key} = [", *(f"    {_text(text)},  # {_plain(about)}" for text, about in rows), "]"]


def _points(outline: Outline, digits: int | None) -> str:
    """The corners; points on a straight side are left out."""
    ring = Polygon(outline).normalize()
    size = max(ring.bounds[2] - ring.bounds[0], ring.bounds[3] - ring.bounds[1])
    corners = list(ring.simplify(_STRAIGHT * size).exterior.coords)[:-1]
    least = 1e-9 * size  # what is nothing beside the outline is no digit of it
    kept = [[0.0 if abs(v) < least else v for v in point] for point in corners]
    return " ".join(_point(point, digits) for point in kept)


def _point(point: Sequence[float], digits: int | None) -> str:
    """A point in drawing units, ``x,y``."""
    rounded = point if digits is None else [round(v, digits) + 0.0 for v in point]
    return ",".join(f"{v:.10g}" for v in rounded)


def _text(value: str) -> str:
    """A TOML basic string."""
    return '"' + "".join(_signs(legible(value))) + '"'


def _signs(value: str) -> Iterable[str]:
    return (c if c.isprintable() and c not in '"\\' else f"\\u{ord(c):04X}" for c in value)


def _plain(value: str) -> str:
    """Text that fits into one comment line."""
    return "".join(c if c.isprintable() else " " for c in legible(value))
