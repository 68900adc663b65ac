"""The job's section about deliveries: what a truck takes."""

from __future__ import annotations

from dataclasses import dataclass

from dxf2veneer.config.checks import as_count, as_number
from dxf2veneer.config.settings import setting


@dataclass(frozen=True)
class Trucks:
    """What a truck takes at a time; without it loads are not counted."""

    payload: float | None = setting(
        None,
        "weight that a truck takes, in pounds, or in kilograms where the product's goods are sold "
        "by them",
        as_number(1.0, 200_000.0),
        "12000",
    )
    pallets: int | None = setting(None, "pallets that a truck takes", as_count(100), "10")
