"""What the job file marks by coordinates itself, made shapes and labels as if it were drawn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from dxf2veneer.config.job import Reading
from dxf2veneer.config.job_values import Window
from dxf2veneer.geometry import Path, Point
from dxf2veneer.model import Shape

_KINDS = {"bay": "mitre"}
"""What the model calls what a line marks, where that is another word."""
_FROM = "job file"


@dataclass(frozen=True)
class MarksGiven:
    """The marks of a job file, in inches."""

    shapes: tuple[Shape, ...]
    """Outlines and lines, each traced as what it is."""
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
    shapes += [
        _shape(
            Path.polygon(scaled(n.points), closed=False),
            _KINDS.get(n.kind, n.kind),
            n.tag.upper(),
        )
        for n in asked.mark_line
    ]
    boxes = [(o.name, Path.polygon(scaled(o.points)).box) for o in asked.wall_outline if o.name]
    return MarksGiven(tuple(shapes), tuple(Window(*box) for box in boxes))


def _shape(path: Path, role: str, tag: str = "") -> Shape:
    return Shape(path, "", "", _FROM, traced=role, tag=tag)
