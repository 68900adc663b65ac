"""The drawing's unit: where it comes from, and whether it makes sense.

A highest wall or opening of a size that no building has is reported, with the units that would make
sense, but the user's word counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import OPENING_HEIGHT_IN, WALL_HEIGHT_IN
from dxf2veneer.basics.units import PLAUSIBLE, Unit, unit_by_code, unit_by_name
from dxf2veneer.config.job import Job
from dxf2veneer.drawing.notice_collector import NoticeCollector
from dxf2veneer.model import Shape

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class UnitChoice:
    """The unit in use and where it came from; no unit where neither file nor user names one."""

    unit: Unit | None
    """None where nobody names one."""
    origin: Literal["header", "option", "job"]
    """Who names it."""
    scale: float
    """The drawing's scale."""

    @property
    def to_inches(self) -> float:
        """Inches in one drawing unit, scale included; the scale alone while there is no unit."""
        return self.scale * (self.unit.inches if self.unit else 1.0)


def choose_unit(code: int, job: Job) -> UnitChoice:
    """The user's unit where there is one, else the header's.

    Args:
        code: The header's $INSUNITS.
        job: Its section ``drawing`` counts.

    Returns:
        The unit, where it came from, and the scale.
    """
    if job.drawing.units is not None:
        by_option = job.origin_of("drawing.units").kind == "option"
        return UnitChoice(
            unit_by_name(job.drawing.units), "option" if by_option else "job", job.drawing.scale
        )
    return UnitChoice(unit_by_code(code), "header", job.drawing.scale)


def overall(boxes: Sequence[Box]) -> Box | None:
    """The box round all boxes.

    Args:
        boxes: Each as (x0, y0, x1, y1).

    Returns:
        Their common box; None where there is none.
    """
    if not boxes:
        return None
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def fitting_units(walls: Sequence[float], openings: Sequence[float]) -> tuple[str, ...]:
    """The everyday units in which the highest wall and opening have sizes that buildings have.

    Low scraps beside the highest say nothing of the unit.

    Args:
        walls: Heights of walls in drawing units, scale included.
        openings: Heights of openings in the same.

    Returns:
        Short names of the units.
    """
    wall, opening = max(walls, default=None), max(openings, default=0.0)
    sizes = {name: unit_by_name(name).inches for name in PLAUSIBLE}
    return tuple(
        n
        for n, size in sizes.items()
        if (wall is None or _is_wall(wall * size)) and _is_opening(opening * size)
    )


def _is_wall(height_in: float) -> bool:
    return WALL_HEIGHT_IN[0] <= height_in <= WALL_HEIGHT_IN[1]


def _is_opening(height_in: float) -> bool:
    return height_in <= OPENING_HEIGHT_IN


def missing_unit(code: int, walls: Sequence[Shape], openings: Sequence[Shape]) -> Message:
    """What is wrong with a drawing without a unit: its size in everyday units.

    Args:
        code: The header's $INSUNITS.
        walls: Shapes on wall layers, in drawing units times the scale.
        openings: Shapes on opening layers, in the same.

    Returns:
        The reason of the error; a look at the whole drawing may add evidence to it.
    """
    closed = [s for s in walls if s.path.closed] or list(walls)
    box = overall([s.path.box for s in closed])
    why = message("no-unit") if not code else message("unit-code-unknown", code=code)
    if box is None:
        return message("unit-missing", why=why, evidence=None)
    width, height = box[2] - box[0], box[3] - box[1]
    sizes = [(name, unit_by_name(name).inches) for name in PLAUSIBLE]
    likely = fitting_units([_height(s) for s in closed], [_height(s) for s in _closed(openings)])
    return message(
        "unit-missing-of-walls",
        why=why,
        width=width,
        height=height,
        sizes=tuple((name, Length(width * f), Length(height * f)) for name, f in sizes),
        likely=likely,
        evidence=None,
        unit=likely[0] if len(likely) == 1 else None,
    )


def _height(shape: Shape) -> float:
    return shape.path.box[3] - shape.path.box[1]


def _closed(shapes: Sequence[Shape]) -> list[Shape]:
    return [s for s in shapes if s.path.closed]


def check_sizes(
    choice: UnitChoice,
    walls: Sequence[Shape],
    openings: Sequence[Shape],
    collector: NoticeCollector,
) -> None:
    """Report where the unit in use makes the highest wall or opening absurd.

    Args:
        choice: The unit in use.
        walls: Shapes on wall layers, in inches.
        openings: Shapes on opening layers, in inches.
        collector: Takes the notices.
    """
    assert choice.unit is not None
    back = 1.0 / choice.unit.inches
    heights = [[_height(s) * back for s in _closed(shapes)] for shapes in (walls, openings)]
    better = tuple(n for n in fitting_units(*heights) if n != choice.unit.name)
    for what, shapes, fits in (("wall", walls, _is_wall), ("opening", openings, _is_opening)):
        highest = max(_closed(shapes), key=_height, default=None)
        if highest is None or fits(_height(highest)):
            continue
        x0, y0, x1, y1 = highest.path.box
        collector.add(
            "UNITS_ABSURD",
            message(
                "units-absurd",
                unit=choice.unit.name,
                what=what,
                width=Length(x1 - x0),
                height=Length(y1 - y0),
                better=better,
            ),
            layer=highest.layer,
            handle=highest.handle,
            at=((x0 + x1) / 2, (y0 + y1) / 2),
        )
