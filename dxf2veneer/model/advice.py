"""Coursing advice: starts and whole-opening moves that leave fewer slivers and rips."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dxf2veneer.basics.notices import Notice
from dxf2veneer.config.advice import CAP
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model.drawing import Drawing
from dxf2veneer.model.takeoff import WallTakeoff
from dxf2veneer.model.walls import Wall

HeldBy = Literal["across", "curve", "no-room", "stepped-top"]
"""Why something stays although it may move: it lies across several walls; curves bound it, so that
it can't change its height; nothing is free above and below it; the wall's top that goes with a cap
is not level."""


@dataclass(frozen=True)
class OpeningShift:
    """How far a row of like openings, or caps at one height, go from where they are drawn; inches,
    up where positive."""

    ids: tuple[str, ...]
    """Openings; of caps their walls."""
    kind: str
    """What they are: a kind of opening, or ``cap``."""
    drawn: tuple[float, ...]
    """Height at which the head of each, or the cap's line, is drawn."""
    head: float
    """The head; of a cap its line."""
    sill: float
    """The sill; of a cap as its line."""

    @property
    def is_whole(self) -> bool:
        """Whether they keep their height."""
        return self.head == self.sill


@dataclass(frozen=True)
class BareStretch:
    """A level stretch of a wall's base, and how high the starter stands above it. Inches."""

    wall: str
    x0: float
    x1: float
    y: float
    height: float


@dataclass(frozen=True)
class CourseProposal:
    """A start with its moves, and what it leaves. Counts are those of walls drawn so."""

    start: float
    """The ``courses.start`` that gives it, in inches."""
    height: float
    """The starter above the lowest base, in inches."""
    shifts: tuple[OpeningShift, ...]
    """What moves; empty where the start alone is changed."""
    slivers: int
    ripped: int
    """Pieces that strips at heads, sills, tops and caps take at least, in panel lengths."""
    strips: int
    """Heads, sills, tops and caps that are off the course lines."""
    heads_out: int
    """Heads that were in line with others and no longer are."""
    changed: int
    """Openings and caps that move or change their height."""
    bare: float
    """Ground below the starter that no panel covers, in square inches."""
    steps: tuple[BareStretch, ...] = ()
    """The same at each step of the grade, from the left of each wall."""
    units: int | None = None
    """Flat and corner panels; None where they were not planned."""
    walls: tuple[WallTakeoff, ...] = ()
    """The walls of the group drawn so, with their courses and without pieces."""

    @property
    def moved(self) -> dict[str, OpeningShift]:
        """By the id of each opening that changes how it does."""
        return {one: s for s in self.shifts if s.kind != CAP for one in s.ids}

    @property
    def rank(self) -> tuple[int, int]:
        """Less is better: slivers, then pieces to rip."""
        return self.slivers, self.ripped


@dataclass(frozen=True)
class NoMultiple:
    """Openings whose height is no whole number of courses: no single move clears head and sill.
    Inches."""

    ids: tuple[str, ...]
    height: float
    """From the panels under the sill to those over the head, trim included."""
    is_trimmed: bool
    """Whether that is more than the opening's own height."""
    over: float
    """How much it is more than a whole number of courses."""


@dataclass(frozen=True)
class Held:
    """Something that may move and can't."""

    ids: tuple[str, ...]
    why: HeldBy


@dataclass(frozen=True)
class GroupAdvice:
    """What is advised for walls whose courses run together."""

    walls: tuple[str, ...]
    """Their ids."""
    present: CourseProposal
    """What stands."""
    proposals: tuple[CourseProposal, ...]
    """Better than what stands, the fewest slivers first; none beats another."""
    unbeaten: int
    """How many there are that none beats, those included that are not listed."""
    starts: int
    """How many starts were tried."""
    moves: int
    """How many movable rows and caps."""
    is_exact: bool
    """Whether nothing that could be better was left out."""
    no_multiples: tuple[NoMultiple, ...] = ()
    held: tuple[Held, ...] = ()


@dataclass(frozen=True)
class CoursingAdvice:
    """Advice on the courses of a job."""

    job: Job
    product: Product
    drawings: tuple[Drawing, ...]
    walls: tuple[Wall, ...]
    """As drawn."""
    groups: tuple[GroupAdvice, ...]
    notices: tuple[Notice, ...] = ()
    """What there is to report of the drawings and the walls."""
