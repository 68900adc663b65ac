"""The job's tables of walls that are treated in another way: without a barrier, with a clearance,
in a phase or of a product of their own.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongValueError
from dxf2veneer.config.checks import (
    as_choice,
    as_flag,
    as_length,
    as_name,
    as_names,
    as_number,
    as_tables,
    as_text,
)

NOT_DRAWN = " (not drawn)"
"""What stands behind the name of a wall that no drawing shows, in every output."""
OF_PRODUCT = ("breakage", "scrap", "head", "jambs", "sill", "backing")
"""What a treatment may say of its product's walls alone."""


class Treatment(NamedTuple):
    """Walls that are treated in another way."""

    walls: tuple[str, ...]
    """Names or ids; those of ``elevations`` and ``layers`` with them once the walls are known."""
    barrier: bool | None = None
    """Whether a water-resistive barrier is behind them; None: as where nothing is said."""
    clearance: float | None = None
    """Height of the starter line above their base, in inches; None: that of the job."""
    phase: str = ""
    """Name of the phase that they are built in; empty for none."""
    elevations: tuple[str, ...] = ()
    """Names of views or drawings all of whose walls are meant."""
    layers: tuple[str, ...] = ()
    """Layers whose walls are meant."""
    product: str | None = None
    """The product file that they are laid with; None: the job's own."""
    breakage: float | None = None
    """Per cent added to what is counted by layout; None: the job's. With a product alone."""
    scrap: float | None = None
    """Per cent added to what is counted by area; None: the job's. With a product alone."""
    head: float | None = None
    jambs: float | None = None
    sill: float | None = None
    """Widths of trim round openings, in inches; None: the job's. With a product alone."""
    backing: str | None = None
    """What partial panels are glued to; None: the job's. With a product alone."""
    bid: bool | None = None
    """Whether they are in the base bid; None: as where nothing is said, in it."""

    @property
    def own(self) -> dict[str, float | str]:
        """What goes with the product, by key."""
        return {k: v for k in OF_PRODUCT if (v := getattr(self, k)) is not None}


def called(*names: str) -> set[str]:
    """What the job file may call a wall.

    Args:
        *names: Its id and name.

    Returns:
        Both in small letters, and its name without the mark that no drawing shows it.
    """
    small = {n.casefold() for n in names if n}
    return small | {n.removesuffix(NOT_DRAWN) for n in small}


_treatment_tables = as_tables(
    Treatment,
    walls=(as_names, ()),
    elevations=(as_names, ()),
    layers=(as_names, ()),
    barrier=(as_flag, None),
    clearance=(as_length(0.0, 48.0), None),
    phase=(as_text, ""),
    product=(as_name, None),
    breakage=(as_number(0.0, 100.0), None),
    scrap=(as_number(0.0, 100.0), None),
    head=(as_length(0.0, 48.0), None),
    jambs=(as_length(0.0, 48.0), None),
    sill=(as_length(0.0, 48.0), None),
    backing=(as_choice("lath", "flashing"), None),
    bid=(as_flag, None),
)


def as_treatments(value: Any) -> tuple[Treatment, ...]:
    """The tables, checked each for itself.

    Args:
        value: What was written.

    Returns:
        The treatments.

    Raises:
        WrongValueError: A table is wrong, names no wall, or says nothing.
    """
    found: tuple[Treatment, ...] = _treatment_tables(value)
    for number, one in enumerate(found, 1):
        if not (one.walls or one.elevations or one.layers):
            raise WrongValueError(message("table-key-missing", number=number, key="walls"))
        if one.own and one.product is None:
            key = next(iter(one.own))
            raise WrongValueError(message("wants-product", number=number, key=key))
        says = False in (one.barrier, one.bid) or one.clearance is not None or one.phase.strip()
        if not says and one.product is None:
            raise WrongValueError(message("wants-change", number=number))
    return found
