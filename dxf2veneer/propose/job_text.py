"""The text of a job file from a proposal, to be looked at and confirmed by a person.

Each wall gets a window of its own, its own box, so that lines beyond it are cut away, a point that
picks its outline, and a point in each opening. Every line says how sure the proposal is of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from shapely.geometry import Polygon

from dxf2veneer.propose.proposal import Outline, Proposal, ProposedOpening, ProposedWall
from dxf2veneer.propose.wording import in_words

Point = tuple[float, float]


def job_text(proposal: Proposal, drawing: Path, walls: Sequence[str] | None = None) -> str:
    """A job file that takes off what is proposed.

    Args:
        proposal: what was found in the drawing.
        drawing: the drawing, named in the head of the file.
        walls: ids of the walls to be taken off; None for all.

    Returns:
        TOML with sections job, layers and drawing; each wall and opening with its confidence as a comment.
    """
    chosen = [w for w in proposal.walls if walls is None or w.id in walls]
    lines = [
        f"# Proposed for {_plain(drawing.name)}, not confirmed by a person.",
        "# Look at the picture, take out what is wrong, add what is missing, then take off.",
        "",
        "[layers]",
        f"wall = {_array(_text(n) for n in wall_layers(proposal))}",
        "",
        "[drawing]",
        *_unit(proposal),
        *_list("window", [(_window(w, proposal), _about(w)) for w in chosen]),
        *_list(
            "wall_at", [(_point(point_beside(w, proposal.openings_of(w.id))), w.id) for w in chosen]
        ),
        *_list(
            "opening_at",
            [
                (_point(_inside(o.outline)), _about_opening(o))
                for w in chosen
                for o in proposal.openings_of(w.id)
            ],
        ),
    ]
    return "\n".join(lines) + "\n"


def wall_layers(proposal: Proposal) -> tuple[str, ...]:
    """The layers that wall outlines lie on: the one that openings share where they share one."""
    walls, openings = proposal.layers.get("wall", ()), proposal.layers.get("opening", ())
    shared = tuple(name for name in walls if name in openings)
    return shared[:1] or walls


def point_beside(wall: ProposedWall, openings: Iterable[ProposedOpening]) -> Point:
    """A point in a wall and in none of its openings."""
    rest = Polygon(wall.outline)
    for opening in openings:
        rest = rest.difference(Polygon(opening.outline))
    point = rest.representative_point()
    return point.x, point.y


def _inside(outline: Outline) -> Point:
    point = Polygon(outline).representative_point()
    return point.x, point.y


def _unit(proposal: Proposal) -> list[str]:
    if proposal.unit is None:
        return ['# units = "mm"  # the drawing does not say its unit clearly: fill it in']
    return [f'units = "{proposal.unit}"']


def _window(wall: ProposedWall, proposal: Proposal) -> str:
    xs, ys = zip(*wall.outline, strict=True)
    title = next((v.title for v in proposal.views if v.id == wall.view), "")
    name = " ".join(f"{title} {wall.id}".replace("=", " ").replace(",", " ").split())
    return f"{name}={','.join(_number(v) for v in (min(xs), min(ys), max(xs), max(ys)))}"


def _about(wall: ProposedWall) -> str:
    return f"{wall.id} in {wall.view}: {wall.confidence:.0%}, {in_words(wall.reason)}"


def _about_opening(opening: ProposedOpening) -> str:
    return f"{opening.id}, {opening.kind} in {opening.wall}: {opening.confidence:.0%}, {in_words(opening.reason)}"


def _list(key: str, rows: Sequence[tuple[str, str]]) -> list[str]:
    return (
        [f"{key} = [", *(f"    {_text(value)},  # {_plain(about)}" for value, about in rows), "]"]
        if rows
        else []
    )


def _point(point: Point) -> str:
    return f"{_number(point[0])},{_number(point[1])}"


def _number(value: float) -> str:
    return f"{value:.10g}"


def _array(values: Iterable[str]) -> str:
    return f"[{', '.join(values)}]"


def _text(value: str) -> str:
    """A TOML basic string."""
    escaped = "".join(
        c if c.isprintable() and c not in '"\\' else f"\\u{ord(c):04X}"
        for c in value
        if not 0xD800 <= ord(c) <= 0xDFFF
    )
    return f'"{escaped}"'


def _plain(value: str) -> str:
    """Text that fits into one comment line."""
    return "".join(c if c.isprintable() else " " for c in value)
