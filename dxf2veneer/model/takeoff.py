"""The whole result, and what it assumed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from dxf2veneer.basics.messages import Message, Value
from dxf2veneer.basics.notices import Level, Notice
from dxf2veneer.config.basis import Basis
from dxf2veneer.config.job import Job
from dxf2veneer.config.origin import Origin
from dxf2veneer.config.product import Product
from dxf2veneer.model.choices import PlanChoices
from dxf2veneer.model.courses import StartTable, WallCourses
from dxf2veneer.model.drawing import Drawing
from dxf2veneer.model.estimate import PanelEstimate
from dxf2veneer.model.hand_changes import HandChange
from dxf2veneer.model.order import Order
from dxf2veneer.model.parts import Part
from dxf2veneer.model.plan import CoursePlan
from dxf2veneer.model.quantities import WallQuantities
from dxf2veneer.model.shares import ElevationShare, OrderShare
from dxf2veneer.model.site import CutChanges, SiteMeasures
from dxf2veneer.model.walls import Corner, CornerKind, Wall


@dataclass(frozen=True)
class Assumption:
    """A setting or rule that changed a number."""

    key: str
    """``section.key`` of the setting or product value; a rule's begins with ``rule.``."""
    name: Message
    """What people call it."""
    value: Value
    """Its value; lengths and areas as such."""
    origin: Origin
    """Where the value came from."""
    effect: Message
    """What it does."""
    basis: Basis | None = None
    """What the value rests on; None where nothing is set."""


@dataclass(frozen=True)
class WallTakeoff:
    """Everything about one wall."""

    wall: Wall
    quantities: WallQuantities
    courses: WallCourses


@dataclass(frozen=True)
class Totals:
    """Sums over walls; areas in square inches, runs in inches."""

    gross_area: float
    opening_area: float
    deducted_area: float
    trim_area: float
    cap_area: float
    net_area: float
    base_run: float
    starter_run: float
    cap_run: float
    rake_run: float
    trim_head: float
    trim_jambs: float
    trim_sill: float
    openings: int

    @classmethod
    def of(cls, walls: Iterable[WallQuantities]) -> Totals:
        """The sums over the given walls."""
        listed = list(walls)
        openings = [o for w in listed for o in w.openings]

        def over(values: Iterable[float]) -> float:
            return math.fsum(values)

        return cls(
            gross_area=over(w.gross_area for w in listed),
            opening_area=over(w.opening_area for w in listed),
            deducted_area=over(w.deducted_area for w in listed),
            trim_area=over(w.trim_area for w in listed),
            cap_area=over(w.cap_area for w in listed),
            net_area=over(w.net_area for w in listed),
            base_run=over(w.base_run for w in listed),
            starter_run=over(w.starter_run for w in listed),
            cap_run=over(w.cap_run for w in listed),
            rake_run=over(w.rake_run for w in listed),
            trim_head=over(o.trim_head for o in openings),
            trim_jambs=over(o.trim_jambs for o in openings),
            trim_sill=over(o.trim_sill for o in openings),
            openings=sum(not o.opening.part_of for o in openings),
        )


@dataclass(frozen=True)
class Takeoff:
    """The whole result: what every writer renders and nothing computes again."""

    job: Job
    product: Product
    drawings: tuple[Drawing, ...]
    walls: tuple[WallTakeoff, ...]
    corners: tuple[Corner, ...]
    totals: Totals
    estimate: PanelEstimate
    """Panels by area, beside the plan or instead of it."""
    assumptions: tuple[Assumption, ...]
    cautions: tuple[Message, ...]
    notices: tuple[Notice, ...]
    plan: CoursePlan | None = None
    """None where the job asks for an estimate by area only."""
    starts: tuple[StartTable, ...] = ()
    order: Order | None = None
    shares: tuple[OrderShare, ...] = ()
    """Each wall's part of the order; empty without an order."""
    elevations: tuple[ElevationShare, ...] = ()
    """The same by elevation."""
    phases: tuple[ElevationShare, ...] = ()
    """The same by phase; empty where no wall has one."""
    choices: PlanChoices | None = None
    """Plans to choose from, where the job asks for them."""
    site: SiteMeasures | None = None
    """What was measured on site, where the job names a file of site measures."""
    hand_changes: tuple[HandChange, ...] = ()
    """Cells of the earlier workbook that were changed by hand."""
    changes: CutChanges | None = None
    """What site measures change in the cut list; None where there is no plan."""
    parts: tuple[Part, ...] = ()
    """The walls of each product, where the job has several; ``product`` is then the first one's."""

    out_of_bid: tuple[Wall, ...] = ()
    """Walls that the job file leaves out of the base bid: in alternates at most."""

    def product_of(self, wall: str) -> Product:
        """The product that a wall is laid with, by the wall's id."""
        return next((p.product for p in self.parts if wall in p.walls), self.product)

    def course_number(self, wall: str, index: int) -> int:
        """The number that every output gives a course, by the wall's id and its index there."""
        return self._first_numbers.get(wall, 1) + index

    @cached_property
    def _first_numbers(self) -> dict[str, int]:
        return {w.wall.id: w.courses.number(0) for w in self.walls}

    def by_product(self) -> Iterator[tuple[Product, tuple[WallTakeoff, ...]]]:
        """Each product of the job with the walls that are laid with it."""
        if not self.parts:
            yield self.product, self.walls
        for part in self.parts:
            yield part.product, tuple(w for w in self.walls if w.wall.id in part.walls)

    @property
    def products(self) -> tuple[Product, ...]:
        """All products of the job."""
        return tuple(p.product for p in self.parts) or (self.product,)

    @property
    def product_names(self) -> tuple[str, ...]:
        """What outputs call them; empty for the name of one that has none."""
        return tuple(p.name for p in self.parts) or (self.product.product.name,)

    @property
    def errors(self) -> tuple[Notice, ...]:
        """Notices that say that the numbers are not to be used; every output shows them on top."""
        return tuple(n for n in self.notices if n.level is Level.ERROR)

    @property
    def is_unconfirmed(self) -> bool:
        """Whether the job was proposed and no person has confirmed it; every output says so on
        top."""
        return self.job.proposal.confirmed is False

    def walls_of(self, drawing: int) -> tuple[WallTakeoff, ...]:
        """The walls that one drawing holds."""
        return tuple(w for w in self.walls if w.wall.drawing == drawing)

    @property
    def waste(self) -> float:
        """What of the planned panels' area ends in no piece, from 0 to 1; 0 without a plan."""
        if self.plan is None or not self.plan.total:
            return 0.0
        plans = [(part.product, part.plan) for part in self.parts] or [(self.product, self.plan)]
        bought = math.fsum(
            plan.flat.units * product.coverage_area
            + plan.corner.units * (product.corner.length * product.panel.height)
            for product, plan in plans
            if plan
        )
        return 1.0 - math.fsum(p.area for w in self.walls for p in w.courses.pieces) / bought

    def corner_run(self, kind: CornerKind) -> float:
        """Summed height of the corners of one kind, in inches;
        a bay's are ``mitre`` and take no corner panel.
        """
        return math.fsum(c.run for c in self.corners if c.kind == kind)

    @property
    def end_run(self) -> float:
        """Summed height of finished ends, in inches."""
        return math.fsum(e.length for w in self.walls for e in w.wall.edges if e.kind == "end")
