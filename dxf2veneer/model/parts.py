"""The walls of one product, where a job has several."""

from __future__ import annotations

from dataclasses import dataclass

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model.plan import CoursePlan
from dxf2veneer.model.walls import Corner


def product_name(product: Product) -> str:
    """What outputs call a product.

    Args:
        product: The panel line.

    Returns:
        Its name; without one that of its file.
    """
    return product.product.name or (product.file.stem if product.file else "")


@dataclass(frozen=True)
class Part:
    """A part of the job: nothing passes from its product to another's."""

    product: Product
    job: Job
    """The job with what it says of this product's walls alone."""
    is_own: bool
    """Whether the product is the job's own, of which prices are that name none."""
    walls: tuple[str, ...]
    """Ids; none where the product is bought for quantities added by hand alone."""
    corners: tuple[Corner, ...]
    """The corners as these walls have them: one that it shares with another product's walls has
    but the sides of its own."""
    plan: CoursePlan | None = None

    @property
    def name(self) -> str:
        """What outputs call the product."""
        return product_name(self.product)
