"""The drawing's unit: where it comes from, and whether it makes sense.

The highest wall is between 1 and 500 ft high and the highest opening at most 30 ft [our own limits, wide
on purpose]; anything else is told, with the units that would make sense, but the user's word counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.config.job import Job
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.drawing.telling import Teller
from dxf2veneer.drawing.unit.evidence import Finding, Outline
from dxf2veneer.model import Shape
from dxf2veneer.units import PLAUSIBLE, Unit, unit_by_code, unit_by_name
from dxf2veneer.wording.measures import length_text, titles

LEAST_WALL_IN = 12.0
GREATEST_WALL_IN = 500 * 12.0
GREATEST_OPENING_IN = 30 * 12.0

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class UnitChoice:
    """The unit in use and where it came from; no unit where neither file nor user names one."""

    unit: Unit | None
    origin: Literal["header", "option", "job"]
    scale: float

    @property
    def to_inches(self) -> float:
        """Inches in one drawing unit, scale included; the scale alone while there is no unit."""
        return self.scale * (self.unit.inches if self.unit else 1.0)


def choose_unit(code: int, job: Job) -> UnitChoice:
    """The user's unit where there is one, else the header's ($INSUNITS)."""
    if job.drawing.units is not None:
        by_option = job.origin_of("drawing.units").kind == "option"
        return UnitChoice(
            unit_by_name(job.drawing.units), "option" if by_option else "job", job.drawing.scale
        )
    return UnitChoice(unit_by_code(code), "header", job.drawing.scale)


def overall(boxes: Sequence[Box]) -> Box | None:
    """The box round all boxes."""
    if not boxes:
        return None
    return (
        min(b[0] for b in boxes),
        min(b[1] for b in boxes),
        max(b[2] for b in boxes),
        max(b[3] for b in boxes),
    )


def fitting_units(walls: Sequence[float], openings: Sequence[float]) -> tuple[str, ...]:
    """The everyday units in which the highest wall and the highest opening have sizes that buildings have.

    Heights are in drawing units, scale included. Low scraps beside the highest say nothing of the unit.
    """
    wall, opening = max(walls, default=None), max(openings, default=0.0)
    sizes = {name: unit_by_name(name).inches for name in PLAUSIBLE}
    return tuple(
        n
        for n, size in sizes.items()
        if (wall is None or _is_wall(wall * size)) and _is_opening(opening * size)
    )


def _is_wall(height_in: float) -> bool:
    return LEAST_WALL_IN <= height_in <= GREATEST_WALL_IN


def _is_opening(height_in: float) -> bool:
    return height_in <= GREATEST_OPENING_IN


def outlines_of(
    walls: Sequence[Shape], openings: Sequence[Shape], choice: UnitChoice
) -> tuple[list[Outline], float]:
    """The closed outlines and the greatest height of a wall, both in drawing units."""
    back = 1.0 / choice.to_inches
    closed = [s for s in (*walls, *openings) if s.path.closed]
    outlines = [
        Outline((x0 * back, y0 * back, x1 * back, y1 * back), s.handle or "")
        for s in closed
        for x0, y0, x1, y1 in (s.path.box,)
    ]
    return outlines, max((_height(s) * back for s in walls if s.path.closed), default=0.0)


def missing_unit(
    path: str,
    code: int,
    walls: Sequence[Shape],
    openings: Sequence[Shape],
    finding: Finding,
    show: str,
) -> DrawingError:
    """The error of a drawing without a unit: its measured size in the everyday units, and the evidence."""
    closed = [s for s in walls if s.path.closed] or list(walls)
    box = overall([s.path.box for s in closed])
    why = (
        "the drawing names no unit"
        if not code
        else f"the drawing's unit code {code} ($INSUNITS) is unknown"
    )
    if box is None:
        return DrawingError(f"{path}: {why}{_told(finding)}; add --units in, ft, mm, cm or m")
    width, height = box[2] - box[0], box[3] - box[1]
    sizes = ", ".join(f"{n}: {_size(width, height, unit_by_name(n), show)}" for n in PLAUSIBLE)
    likely = fitting_units(
        [_height(s) for s in closed], [_height(s) for s in openings if s.path.closed]
    )
    hint = (f"; likely {' or '.join(likely)}" if likely else "") + _told(finding)
    unit = finding.recommendation or (
        likely[0] if len(likely) == 1 and not finding.conflicts else None
    )
    return DrawingError(
        f"{path}: {why}; its walls measure {width:g} x {height:g} units altogether, that is {sizes}{hint}; "
        f"add --units {unit or 'and the right one'}"
    )


def _told(finding: Finding) -> str:
    """The strongest thing written in the drawing, as a clause of the error; sizes are told as what is likely."""
    strongest = next((e for e in finding.evidence if e.source not in ("door", "height")), None)
    if strongest is None:
        return ""
    if finding.conflicts:
        return "; the evidence conflicts (see: dxf2veneer layers)"
    return f"; {strongest.what}, which fits {titles(finding.fitting)}"


def _size(width: float, height: float, unit: Unit, show: str) -> str:
    return f"{length_text(width * unit.inches, show)} x {length_text(height * unit.inches, show)}"


def _height(shape: Shape) -> float:
    return shape.path.box[3] - shape.path.box[1]


def check_sizes(
    choice: UnitChoice, walls: Sequence[Shape], openings: Sequence[Shape], teller: Teller
) -> None:
    """Tell where the unit in use makes the highest wall or opening absurd; shapes are in inches."""
    assert choice.unit is not None
    back = 1.0 / choice.unit.inches
    heights = [[_height(s) * back for s in shapes if s.path.closed] for shapes in (walls, openings)]
    better = [f"--units {n}" for n in fitting_units(*heights) if n != choice.unit.name]
    advice = (
        f"with {' or '.join(better)} it would make sense"
        if better
        else "no everyday unit would make sense of walls and openings"
    )
    for what, shapes, fits in (("wall", walls, _is_wall), ("opening", openings, _is_opening)):
        highest = max((s for s in shapes if s.path.closed), key=_height, default=None)
        if highest is None or fits(_height(highest)):
            continue
        x0, y0, x1, y1 = highest.path.box
        wide, high = (length_text(v, teller.show) for v in (x1 - x0, y1 - y0))
        teller.tell(
            "UNITS_ABSURD",
            f"the drawing is read in {choice.unit.title}, which makes its highest {what} {wide} wide and {high} high; {advice}",
            layer=highest.layer,
            handle=highest.handle,
            at=((x0 + x1) / 2, (y0 + y1) / 2),
        )


def check_evidence(choice: UnitChoice, finding: Finding, teller: Teller) -> None:
    """Tell where what is drawn and written contradicts the unit in use; the unit stays as it is."""
    assert choice.unit is not None
    against = finding.against(choice.unit)
    if against is None:
        return
    fitting = finding.fitting
    teller.tell(
        "UNITS_DOUBTFUL",
        f"the drawing is read in {choice.unit.title}, but {against.what}, which fits {titles(against.units)}; "
        f"if that is right, add {' or '.join(f'--units {n}' for n in fitting)}",
        handle=against.handle or None,
        at=(against.at[0] * choice.to_inches, against.at[1] * choice.to_inches)
        if against.at
        else None,
    )
