"""The course plan: which units are bought, what is cut from each, and how that was checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Message
from dxf2veneer.geometry import Point
from dxf2veneer.model.blend import Spread
from dxf2veneer.model.handling import Handling
from dxf2veneer.model.look import Look, Mend
from dxf2veneer.model.mitres import Mitres
from dxf2veneer.model.pieces import PieceRef, PieceUnit
from dxf2veneer.model.tolerance import Tolerance


@dataclass(frozen=True)
class StockUnit:
    """One panel as it is bought, and the pieces cut from it, from its left end to its right."""

    id: str
    kind: PieceUnit
    length: float
    parts: tuple[PieceRef, ...]
    used: float
    """Summed length of its parts."""
    kerfs: float
    """Summed width that the saw takes between its parts: two cuts' worth at most, and never more
    than lies there."""
    color: str = ""
    """Name of its color or texture; empty where the product has but one."""

    @property
    def waste(self) -> float:
        """Length that ends in no piece, saw cuts included."""
        return max(0.0, self.length - self.used)


@dataclass(frozen=True)
class Bound:
    """A number of units that no plan can do without, and why."""

    by: Literal["length", "hands", "pairing"]
    units: int
    why: Message


@dataclass(frozen=True)
class StockCount:
    """Units of one kind for the whole job, beside what no plan can do without.

    ``pieces_length`` is in inches. ``left`` and ``right`` count parts that keep the unit's left or
    right end: for corner panels the left-hand and right-hand pieces, for flat panels the parts with
    one factory end.
    """

    units: int
    pieces: int
    pieces_length: float
    cuts: int
    """Crosscuts made to get the pieces out of the units."""
    left: int
    right: int
    bounds: tuple[Bound, ...]

    @property
    def lower_bound(self) -> int:
        """The greatest of the bounds."""
        return max((b.units for b in self.bounds), default=0)


class ColorCount(NamedTuple):
    """Panels of one color, each counted for the wall that it is first cut or laid whole for."""

    color: str
    flat: int
    corner: int


@dataclass(frozen=True)
class WallCount:
    """One wall's share of the plan.

    ``flat`` and ``corner`` are units first cut or laid whole for this wall (offcuts from elsewhere
    cost it nothing); ``share`` is its fair share of all units, a unit shared out by the length of
    its parts, waste with them; ``bound`` is what the wall would need at least if laid alone, flat
    and corner units together.
    ``waste`` is 1 - (area of its pieces) / (area of its units), from 0 to 1; below 0 where it lives
    on other walls' offcuts. ``like`` is the earlier wall whose courses and joints it repeats,
    None where it has its own.
    """

    wall: str
    flat: int
    corner: int
    share: float
    pieces: int
    cuts: int
    bound: int
    waste: float
    like: str | None = None
    rises_with: str = ""
    """The first of the walls that meet it at a corner, and those that meet these: they rise
    together, course by course."""
    colors: tuple[ColorCount, ...] = ()
    """``flat`` and ``corner`` by color; empty where the product has but one."""


RuleState = Literal["forced", "as laid", "broken"]
"""What a rule is that does not hold: no layout keeps it; it was laid so; or the plan breaks it."""


@dataclass(frozen=True)
class RuleBreak:
    """A rule that does not hold somewhere, as the planner knows of it or the judge found it."""

    rule: str
    """Id of the rule in ``config.rules``."""
    wall: str
    """Id of the wall; empty for the counts of the whole job."""
    course: int
    """The course, 0 the first."""
    at: Point
    """The place, in inches."""
    message: Message
    """What does not hold."""
    why: Message | None = None
    """The plan's proof that it is forced; None where there is none."""
    forced: bool = False
    """Whether no layout of this run keeps the rule: the plan proves it, or the judge saw for itself
    that the run is shorter than the least piece or the strip lies between level lines of the field.
    A break that is neither forced nor as laid is the plan's fault."""
    beside: tuple[tuple[str, int], ...] = ()
    """Walls and courses of other pieces that have part in it."""
    as_laid: bool = False
    """Whether all of it is laid already, so that no plan can mend it."""

    @property
    def state(self) -> RuleState:
        """What the rule is here."""
        if self.forced:
            return "forced"
        return "as laid" if self.as_laid else "broken"


class PanelCounts(NamedTuple):
    """Panels and crosscuts of a plan."""

    flat: int
    corner: int
    cuts: int

    @property
    def total(self) -> int:
        """Flat and corner panels together."""
        return self.flat + self.corner


@dataclass(frozen=True)
class CoursePlan:
    """The whole job laid out panel by panel: what is bought, what is cut from it, and the proof.

    ``bound`` is what no plan can do without, flat and corner units together. ``breaks`` are
    the places where the independent judge found that a rule does not hold, broken or forced; a rule
    without one is kept. ``exceptions`` are the plan's proofs that it is forced there.
    """

    units: tuple[StockUnit, ...]
    flat: StockCount
    corner: StockCount
    walls: tuple[WallCount, ...]
    bound: int
    bound_parted: int = 0
    """Of bay corners that have their two sides from two panels, as many as the bound allows for: it
    holds for layouts with no more of them (rule L13)."""
    exceptions: tuple[RuleBreak, ...] = ()
    breaks: tuple[RuleBreak, ...] = ()
    alike_over: int = 0
    """Panels that the walls drawn alike take more, by themselves, alike than each for itself."""
    is_cut_short: bool = False
    """Whether the exact search of a small job ended at its limit."""
    look_panels: int = 0
    """Panels more than before joints were moved for their look."""
    look_cuts: int = 0
    """Crosscuts more than then; below 0 where there are fewer."""
    near_panels: int = 0
    """Panels more than before its offcuts were kept near the panels that they come from."""
    near_cuts: int = 0
    """Crosscuts more than then; below 0 where there are fewer."""
    lengths_panels: int = 0
    """Panels more than before its pieces got few different lengths."""
    lengths_cuts: int = 0
    """Crosscuts more than then; below 0 where there are fewer."""
    plain: PanelCounts | None = None
    """The plan of fewest panels and cuts, before all of this; None where this is that one."""
    is_plain_anew: bool = False
    """Whether that one is made anew for sizes on site, as if nothing were cut or laid."""
    look: Look | None = None
    """How its joints look, by the judge."""
    mends: tuple[Mend, ...] = ()
    """What it would take to have fewer patterns, for each run whose joints stand in one."""
    handling: Handling | None = None
    """Where its offcuts go, by the judge."""
    room_panels: int = 0
    """Panels more than before it was given room for edges that are off."""
    room_cuts: int = 0
    """Crosscuts more than then; below 0 where there are fewer."""
    tolerance: Tolerance | None = None
    """Where it leaves no room for them, by the judge; None where the job allows for none."""
    forced_apart: tuple[tuple[str, int], ...] = ()
    """Pairs of mitred pieces that are not side by side in one panel, as many as any layout has: the
    wall right of each one's corner, and its course."""
    mitres: Mitres | None = None
    """How the two sides of bay corners lie in their panels, by the judge."""
    spread: Spread | None = None
    """How its colors lie, by the judge; None where the product has but one."""

    @property
    def over(self) -> int:
        """Panels more than in the plan of fewest panels and cuts."""
        return self.total - self.plain.total if self.plain else 0

    @property
    def cuts_over(self) -> int:
        """Crosscuts more than in that plan; below 0 where there are fewer."""
        return self.cuts - self.plain.cuts if self.plain else 0

    @property
    def total(self) -> int:
        """Flat and corner units together."""
        return self.flat.units + self.corner.units

    @property
    def cuts(self) -> int:
        """Crosscuts of flat and corner units together."""
        return self.flat.cuts + self.corner.cuts
