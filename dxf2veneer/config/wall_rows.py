"""The job's section about walls: walls that no drawing shows, given by their sizes, and walls that
are treated in another way than the rest.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any, NamedTuple

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import ON_OUTLINE_IN
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.checks import (
    as_choice,
    as_flag,
    as_length,
    as_tables,
    as_text,
)
from dxf2veneer.config.job_values import OPENING_KINDS, each_of
from dxf2veneer.config.settings import setting
from dxf2veneer.config.treatments import Treatment, as_treatments, called

EDGES = ("outside", "inside", "bay", "end", "butt")
"""What a side of a wall can be."""
_OPENING = re.compile(r"(\w+)\s+(.+?)\s+x\s+(.+?)(?:\s+at\s+(.+))?")
_LONGEST = 4_800.0  # 400 ft, inches: no wall of panels is longer
_as_size = as_length(0.25, _LONGEST)
_as_place = as_length(0.0, _LONGEST)


class GivenOpening(NamedTuple):
    """An opening of a wall that is given by its sizes. Inches."""

    kind: str
    """One of ``OPENING_KINDS``."""
    width: float
    height: float
    left: float | None
    """Distance of its left side from the wall's left edge; None: spread evenly."""
    sill: float
    """Height of its bottom above the wall's base."""


class GivenEdge(NamedTuple):
    """A side of a wall: what it is, and the tag of its corner (empty without one)."""

    kind: str
    tag: str


class WallRow(NamedTuple):
    """A wall that no drawing shows. Inches."""

    name: str
    width: float
    height: float
    """At its sides."""
    peak: float
    """Height in the middle of a gable; 0 where the top is level."""
    left: GivenEdge | None
    right: GivenEdge | None
    """None: as ``recognise.edge_kind`` says."""
    cap: bool
    """Whether a cap runs along its level top."""
    openings: tuple[GivenOpening, ...]

    @property
    def lefts(self) -> tuple[float, ...]:
        """Distance of each opening's left side from the wall's left edge; those without a place
        have as much wall between them as beside them."""
        gap = (self.width - math.fsum(o.width for o in self.openings)) / (len(self.openings) + 1)
        found, spread = [], gap
        for o in self.openings:
            found.append(spread if o.left is None else o.left)
            spread += o.width + gap
        return tuple(found)


def as_given_opening(text: str) -> GivenOpening:
    """An opening in words.

    Args:
        text: ``KIND WIDTH x HEIGHT``, or that with ``at LEFT`` or ``at LEFT, SILL`` behind it.

    Returns:
        The opening, in inches.

    Raises:
        WrongValueError: It is not written so, or a size is wrong.
    """
    found = _OPENING.fullmatch(text.strip())
    if found is None:
        raise WrongValueError(message("wants-given-opening"))
    kind, width, height, at = found.groups()
    as_choice(*OPENING_KINDS)(kind)
    left, _, sill = (at or "").partition(",")
    if kind not in ("door", "garage") and not sill:
        raise WrongValueError(message("wants-sill"))
    return GivenOpening(
        kind,
        _as_size(width),
        _as_size(height),
        None if left.strip() in ("", "spread") else _as_place(left.strip()),
        _as_place(sill.strip()) if sill else 0.0,
    )


def _as_openings(value: Any) -> tuple[GivenOpening, ...]:
    found = each_of(value, as_given_opening)
    if len({o.left is None for o in found}) > 1:
        raise WrongValueError(message("wants-all-places"))
    return found


def _as_edge(value: Any) -> GivenEdge:
    kind, _, tag = as_text(value).strip().partition(" ")
    as_choice(*EDGES)(kind)
    return GivenEdge(kind, tag.strip())


_as_row_tables = as_tables(
    WallRow,
    name=(as_text, ...),
    width=(_as_size, ...),
    height=(_as_size, ...),
    peak=(_as_size, 0.0),
    left=(_as_edge, None),
    right=(_as_edge, None),
    cap=(as_flag, False),
    openings=(_as_openings, ()),
)


def _as_rows(value: Any) -> tuple[WallRow, ...]:
    rows: tuple[WallRow, ...] = _as_row_tables(value)
    for row in rows:
        if sum(r.name.casefold() == row.name.casefold() for r in rows) > 1 or not row.name.strip():
            raise WrongValueError(message("wants-row-names", name=row.name))
        if row.peak and (row.peak <= row.height or row.cap):
            raise WrongValueError(message("wants-peak", name=row.name))
        _refuse_misfits(row)
    return rows


def _refuse_misfits(row: WallRow) -> None:
    """WrongValueError where an opening is not inside its wall, or over another."""
    if math.fsum(o.width for o in row.openings) > row.width + ON_OUTLINE_IN:
        raise WrongValueError(message("wants-room-spread", name=row.name))
    places = row.lefts
    for number, (o, left) in enumerate(zip(row.openings, places, strict=True)):
        size = message("given-opening", kind=o.kind, width=Length(o.width), height=Length(o.height))
        head, right = o.sill + o.height, left + o.width
        if (
            right > row.width + ON_OUTLINE_IN
            or head > _lowest_top(row, left, right) + ON_OUTLINE_IN
        ):
            raise WrongValueError(message("wants-room", name=row.name, opening=size))
        for other, beside in zip(row.openings[:number], places, strict=False):
            wide = min(right, beside + other.width) - max(left, beside)
            high = min(head, other.sill + other.height) - max(o.sill, other.sill)
            if min(wide, high) > ON_OUTLINE_IN:
                raise WrongValueError(message("wants-room-beside", name=row.name, opening=size))


def _lowest_top(row: WallRow, left: float, right: float) -> float:
    """The least height of a wall's top between two places; a gable's is at one of them."""
    if not row.peak:
        return row.height
    half = row.width / 2.0
    away = max(abs(half - left), abs(right - half))
    return row.peak - (row.peak - row.height) * away / half


@dataclass(frozen=True)
class Walls:
    """Walls that no drawing shows, and walls that are treated in another way than the rest."""

    rows: tuple[WallRow, ...] = setting(
        (),
        "walls that no drawing shows, each with name, width, height and, where it has them, peak "
        "(height in the middle of a gable), left and right (outside, inside, bay, end or butt, "
        "with the tag of its corner), cap (along the top) and openings (KIND WIDTH x HEIGHT at "
        "LEFT, SILL; spread for LEFT spreads them evenly)",
        _as_rows,
        '[{ name = "Back", width = "24\'", height = "9\'-6\\"", left = "outside A", openings = '
        '["window 36 x 48 at 60, 30", "door 36 x 80 at 160"] }]',
    )
    treatments: tuple[Treatment, ...] = setting(
        (),
        "walls (names or ids), elevations (views or drawings) or layers of walls without a "
        "barrier, or with another clearance, such as a fireplace indoors, of a phase that is "
        "delivered by itself, out of the base bid, or of another product: barrier, clearance, "
        "phase, bid (false leaves them out), product (its file) and with a product breakage, "
        "scrap, head, jambs, sill, backing",
        as_treatments,
        '[{ walls = ["FIREPLACE"], barrier = false, clearance = 0 }]',
    )

    def treatments_of(self, *names: str) -> tuple[Treatment, ...]:
        """What treatments name the wall of that id and name."""
        known = called(*names)
        return tuple(t for t in self.treatments if any(w.casefold() in known for w in t.walls))

    def phase_of(self, *names: str) -> str:
        """Phase of the wall of that id and name; empty for none."""
        return next((t.phase for t in self.treatments_of(*names) if t.phase), "")

    def in_bid(self, *names: str) -> bool:
        """Whether the wall of that id and name is in the base bid."""
        return all(t.bid is not False for t in self.treatments_of(*names))

    def has_barrier(self, *names: str) -> bool:
        """Whether a barrier is behind the wall of that id and name."""
        return all(t.barrier is not False for t in self.treatments_of(*names))

    def clearance_of(self, *names: str) -> float | None:
        """Clearance of the wall of that id and name, in inches; None: that of the job."""
        found = (t.clearance for t in self.treatments_of(*names) if t.clearance is not None)
        return next(found, None)
