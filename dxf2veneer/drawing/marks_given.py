"""What the job file marks by coordinates itself, made shapes and labels as if it were drawn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dxf2veneer.config.job import Reading
from dxf2veneer.config.job_values import Window
from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import Label, Shape

OPENING_KINDS = ("window", "door", "vent", "fixture")
"""What an opening of the job file can be."""
_CORNERS = {"outside": "outside", "inside": "inside", "bay": "mitre"}
"""What the model calls a kind of corner of the job file."""
_FROM = "job file"


@dataclass(frozen=True)
class MarksGiven:
    """The marks of a job file, in inches."""

    shapes: tuple[Shape, ...]
    """Outlines and lines, each traced as what it is."""
    labels: tuple[Label, ...]
    """The tags of corners."""
    names: tuple[Window, ...]
    """A window round each wall that has a name, which names the wall."""


def marks_given(asked: Reading, to_inches: float) -> MarksGiven:
    """The outlines and lines of a job file.

    Args:
        asked: Its section ``drawing``, in the drawing's units.
        to_inches: Inches in one of them.

    Returns:
        The same in inches.
    """

    def scaled(points: Iterable[Point]) -> list[Point]:
        return [(x * to_inches, y * to_inches) for x, y in points]

    outlines = [("wall", o.points) for o in asked.wall_outline]
    outlines += [(o.name, o.points) for o in asked.opening_outline]
    shapes = [_shape(Path.polygon(scaled(p)).counter_clockwise, role) for role, p in outlines]
    corners = [(_CORNERS[n.kind], n.tag, scaled(n.points)) for n in asked.corner_line]
    lines = [(kind, points) for kind, _, points in corners]
    lines += [("cap", scaled(n.points)) for n in asked.cap_line]
    lines += [("level", scaled(n.points)) for n in asked.level_line]
    shapes += [_shape(Path.polygon(points, closed=False), role) for role, points in lines]
    labels = [Label(tag, points[0], "", "", traced=kind) for kind, tag, points in corners if tag]
    boxes = [(o.name, Path.polygon(scaled(o.points)).box) for o in asked.wall_outline if o.name]
    return MarksGiven(tuple(shapes), tuple(labels), tuple(Window(*box) for box in boxes))


def _shape(path: Path, role: str) -> Shape:
    return Shape(path, "", "", _FROM, traced=role)
