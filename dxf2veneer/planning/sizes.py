"""The lengths and limits that the layout works with."""

from __future__ import annotations

from dataclasses import dataclass

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import CornerPanel, Product, longest_corner_piece


@dataclass(frozen=True)
class LayingSizes:
    """The lengths and limits that the layout works with, all in inches."""

    panel: float
    corner: float
    kerf: float
    stagger: float
    least: float
    unequal: float
    vary: float
    cut: float
    """What a crosscut costs, as length of panel."""
    strip: float
    height: float
    worth: float = 0.98
    """Share of a new panel's length that an offcut is worth, or the other half of a corner
    panel."""
    holding: float = 0.3
    """What keeping an offcut at hand costs, as length of panel."""
    column: float = CornerPanel.column
    """Width up to which a column's face is laid in corner pieces alone (rule L12)."""

    @classmethod
    def of(cls, job: Job, product: Product) -> LayingSizes:
        """The sizes of a product under a job's rules."""
        panel = product.panel.length
        return cls(
            panel=panel,
            corner=product.corner.length,
            kerf=job.plan.kerf,
            stagger=product.laying.stagger,
            least=product.laying.least_piece,
            unequal=product.corner.unequal,
            vary=product.corner.vary,
            cut=panel / job.plan.cuts_per_panel,
            strip=job.courses.sliver,
            height=product.panel.height,
            column=product.corner.column,
        )

    @property
    def longest_corner(self) -> float:
        """The longest corner piece that leaves a piece on the other side of the cut (rule L4)."""
        return longest_corner_piece(self.corner, self.kerf, self.least)
