"""The job file of a proposal, to be looked at and confirmed by a person.

It gives every wall and opening as an outline, so that the takeoff measures just what the picture
shows. Every line says how sure the proposal is of it; a line taken out is not taken off.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from shapely.geometry import Polygon

from dxf2veneer.basics.tolerances import VIEW_STANDS
from dxf2veneer.basics.units import PLAUSIBLE
from dxf2veneer.config.job import Job
from dxf2veneer.config.settings import toml
from dxf2veneer.propose import Proposal, ProposedOpening, ProposedWall
from dxf2veneer.propose.proposal import Outline, ProposedCorner
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
        TOML with the sections proposal and drawing.
    """
    walls, openings = proposal.walls, proposal.openings
    lines = [
        f"# Proposed for {_plain(without_folder(str(drawing)))}, not confirmed by a person.",
        "# Look at the picture, take out the lines that are wrong, then take off. {BLANK_SEAL}",
        "",
        "[proposal]",
        "confirmed = false  # true once you have looked: until then every output says so on top",
        f"sha256 = {toml(sha256)}",
        "",
        "[drawing]",
        *_unit(proposal, job),
        *_reading(job),
        *_list("wall_outline", [(_wall(w, proposal), _about(w)) for w in walls]),
        *_list("opening_outline", [(_opening(o), _about_opening(o)) for o in openings]),
        *(
            f"# {_plain(f'{v.id} {v.title}'.rstrip())}: no wall was found in this elevation"
            for v in proposal.empty_elevations(VIEW_STANDS)
        ),
        *_corners([c for c in proposal.corners if len(c.edges) > 1], lone=False),
        *_corners([c for c in proposal.corners if len(c.edges) == 1], lone=True),
        *_levels(proposal),
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


def _reading(job: Job) -> list[str]:
    """The options by which the drawing was read, where they are not the defaults."""
    keys = ("scale", "encoding", "include_hidden")
    given = [k for k in keys if getattr(job.drawing, k) != getattr(Job().drawing, k)]
    return [f"{key} = {toml(getattr(job.drawing, key))}" for key in given]


def _wall(wall: ProposedWall, proposal: Proposal) -> str:
    titles = {v.id: _name(v.title) for v in proposal.views}
    name = titles.get(wall.view, "")
    if sum(titles.get(w.view) == name for w in proposal.walls) > 1:
        name = f"{name} {wall.id}"
    return f"{name}={_points(wall.outline)}" if titles.get(wall.view) else _points(wall.outline)


def _name(title: str) -> str:
    """A view's title as the name of a wall: without the scale, which is the drawing's."""
    return " ".join(_SCALE.sub("", title).replace("=", " ").split())


def _opening(opening: ProposedOpening) -> str:
    return f"{opening.kind}={_points(opening.outline)}"


def _about(wall: ProposedWall) -> str:
    return f"{wall.id} in {wall.view}: {wall.confidence:.0%}, {say(told(wall.reason))}"


def _about_opening(opening: ProposedOpening) -> str:
    why = say(told(opening.reason))
    return f"{opening.id}, {opening.kind} in {opening.wall}: {opening.confidence:.0%}, {why}"


def _corners(corners: Sequence[ProposedCorner], *, lone: bool) -> list[str]:
    """Corners that two elevations share as settings; edges without a partner as lines to be taken
    in, since a wall may as well end there."""
    rows = [
        (
            f"{c.kind} {c.id}={line[0]:.10g},{line[1]:.10g} {line[2]:.10g},{line[3]:.10g}",
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


def _levels(proposal: Proposal) -> list[str]:
    """Level marks as lines to be taken in: the courses would run from them."""
    reach = {v.id: (v.box[0], v.box[2]) for v in proposal.views}
    rows = [
        (
            f"level={reach[mark.view][0]:.10g},{mark.y:.10g} "
            f"{reach[mark.view][1]:.10g},{mark.y:.10g}",
            f"{mark.view}: {mark.value_text}",
        )
        for mark in proposal.levels
        if mark.view in reach
    ]
    return _to_take_in(
        "Level marks: the one that the courses are to run from goes into mark_line = [ ... ]", rows
    )


def _to_take_in(why: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    if not rows:
        return []
    return [f"# {why}", *(f"#    {_text(text)},  # {_plain(about)}" for text, about in rows)]


def _list(key: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    if not rows:
        return []
    return [f"{key} = [", *(f"    {_text(text)},  # {_plain(about)}" for text, about in rows), "]"]


def _points(outline: Outline) -> str:
    """The corners; points on a straight side are left out."""
    ring = Polygon(outline).normalize()
    size = max(ring.bounds[2] - ring.bounds[0], ring.bounds[3] - ring.bounds[1])
    corners = list(ring.simplify(_STRAIGHT * size).exterior.coords)[:-1]
    return " ".join(f"{x:.10g},{y:.10g}" for x, y in corners)


def _text(value: str) -> str:
    """A TOML basic string."""
    return '"' + "".join(_signs(legible(value))) + '"'


def _signs(value: str) -> Iterable[str]:
    return (c if c.isprintable() and c not in '"\\' else f"\\u{ord(c):04X}" for c in value)


def _plain(value: str) -> str:
    """Text that fits into one comment line."""
    return "".join(c if c.isprintable() else " " for c in legible(value))
