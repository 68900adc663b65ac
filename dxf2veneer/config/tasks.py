"""Work besides laying: what the trade does anyway, and tasks of the user's own.

A task has a quantity, which is a measure of the takeoff or is given by hand, and a rate: hours of
one person, or money, for one of it. Without a rate it is an open question, never money.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import WrongItemError
from dxf2veneer.config.checks import as_choice, as_name, as_number, as_tables, refuse_twice
from dxf2veneer.config.goods import METRIC

MEASURES: Mapping[str, str] = {
    "net_area": "sqft",
    "gross_area": "sqft",
    "barrier_area": "sqft",
    "corner_run": "ft",
    "outside_corner_run": "ft",
    "inside_corner_run": "ft",
    "bay_corner_run": "ft",
    "starter_run": "ft",
    "cap_run": "ft",
    "trim_run": "ft",
    "caulk_run": "ft",
    "walls": "each",
    "openings": "each",
    "pieces": "piece",
    "flat_pieces": "piece",
    "corner_pieces": "piece",
    "partial_pieces": "piece",
    "cuts": "cut",
    "job": "each",
}
"""What a takeoff measures that a rate can go by, and the unit of each; ``job`` is always one."""


def in_rate_unit(measure: str, is_metric: bool) -> tuple[str, float]:
    """The unit that rates by a measure go by.

    Args:
        measure: A key of ``MEASURES``; another word has no unit.
        is_metric: Whether rates go by square meters and meters.

    Returns:
        The unit, and how many of it make one of that of ``MEASURES``.
    """
    unit = MEASURES.get(measure, "")
    for ours, metric in METRIC.items():
        if is_metric and ours == unit:
            return metric
    return unit, 1.0


STANDARD: Mapping[str, str] = {
    "layout": "net_area",
    "barrier": "barrier_area",
    "strips": "starter_run",
    "caulk": "caulk_run",
    "setup": "job",
    "cleanup": "net_area",
    "scaffold": "gross_area",
}
"""What the trade does on every wall: settings of the section ``labour`` and what each goes by
(common practice, no published source)."""

UNITS = ("sqft", "ft", "m2", "m", "each", "piece", "cut", "hour", "day")
"""Units of a quantity given by hand; a day is one of the whole crew."""


class Task(NamedTuple):
    """Work of the user's own. Either ``measure`` or ``quantity`` with ``unit`` is given."""

    name: str
    measure: str | None
    """A key of ``MEASURES``."""
    quantity: float | None
    unit: str | None
    """One of ``UNITS``."""
    hours: float | None
    """Hours of one person for one; None where nobody says."""
    rate: float | None
    """Money for one, in place of hours times wage."""


def as_tasks(value: Any) -> tuple[Task, ...]:
    """Check a list of tasks.

    Args:
        value: What the file holds.

    Returns:
        The tasks.

    Raises:
        WrongValueError: A table has a wrong or no value, or two have one name.
        WrongItemError: A task has not one quantity.
    """
    tasks: tuple[Task, ...] = _as_tables(value)
    refuse_twice(task.name for task in tasks)
    for task in tasks:
        if (task.measure is None) == (task.quantity is None):
            raise WrongItemError(message("task-wants-quantity"), task.name)
        if (task.quantity is None) != (task.unit is None):
            raise WrongItemError(message("task-wants-unit", units=UNITS), task.name)
    return tasks


_as_tables = as_tables(
    Task,
    name=(as_name, ...),
    measure=(as_choice(*MEASURES), None),
    quantity=(as_number(0.0, 1e9), None),
    unit=(as_choice(*UNITS), None),
    hours=(as_number(0.0, 10_000.0), None),
    rate=(as_number(0.0, 1e9), None),
)
