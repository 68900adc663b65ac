"""Plans to choose from, side by side: what each takes and what it is good for."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True)
class PlanChoice:
    """One plan and its figures; fewer of any is better."""

    aims: tuple[str, ...]
    """The words of ``plan.aim`` that give it; none where only single settings do."""
    is_taken: bool
    """Whether it is the plan of this takeoff."""
    flat: int
    corner: int
    flat_packages: int | None
    """Packages to order, breakage with them; None where the product doesn't say what one holds."""
    corner_packages: int | None
    cuts: int
    """Crosscuts."""
    lengths: int
    """Different lengths to cut."""
    waiting: int
    """Offcuts that wait at once, at most."""
    far: int
    """Offcuts that go farther than round a corner."""
    in_line: float
    """Share of joints in line with one two courses below, from 0 to 1."""
    patterns: int
    """Places where joints make another pattern: stairs, repeated courses and the like."""
    broken: int
    """Places where a rule of laying does not hold though some layout may keep it."""
    goods: Decimal | None
    """Cost of the items that have a price; None where panels have none."""
    cutting: Decimal | None
    """Cost of the labor for crosscuts; None without a wage."""

    @property
    def total(self) -> int:
        """Flat and corner panels together."""
        return self.flat + self.corner

    @property
    def money(self) -> Decimal | None:
        """Goods, and labor for crosscuts where there is a wage; None where panels have no price."""
        return None if self.goods is None else self.goods + (self.cutting or Decimal(0))

    @property
    def figures(self) -> tuple[float, ...]:
        """All that is shown of it, in which fewer is better."""
        return (
            self.flat, self.corner, self.flat_packages or 0, self.corner_packages or 0, self.cuts,
            self.lengths, self.waiting, self.far, self.in_line, self.patterns, self.broken,
            float(self.money or 0),
        )  # fmt: skip

    def beats(self, other: PlanChoice) -> bool:
        """Whether it is worse in no figure, and better in one."""
        pairs = list(zip(self.figures, other.figures, strict=True))
        return all(a <= b for a, b in pairs) and any(a < b for a, b in pairs)


@dataclass(frozen=True)
class BeatenPlan:
    """A plan that is left out, and one that beats it in all that is shown."""

    plan: PlanChoice
    by: PlanChoice


@dataclass(frozen=True)
class PlanChoices:
    """The plans that none of the others beats, and those that are left out."""

    listed: tuple[PlanChoice, ...]
    beaten: tuple[BeatenPlan, ...]
