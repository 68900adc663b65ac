"""The job's sections about the order and the bid: allowances, labour, lines of the bid, alternates.

They stand in the job file beside those of ``job``, which puts them together. Wages and all money
are the user's own; hours of laying are starting points of our own.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple

from dxf2veneer.config.additions import Addition, as_additions
from dxf2veneer.config.basis import INVENTED, OWN, Basis, BasisKind
from dxf2veneer.config.charges import Charge, as_charges
from dxf2veneer.config.checks import (
    as_choice,
    as_file,
    as_flag,
    as_length,
    as_name,
    as_names,
    as_number,
    as_tables,
    refuse_twice,
)
from dxf2veneer.config.goods import ITEMS
from dxf2veneer.config.settings import setting
from dxf2veneer.config.tasks import Task, as_tasks


class ItemAllowance(NamedTuple):
    """How one item is counted and what is added: ``mode`` or ``percent`` may be None for the job's
    own.
    """

    item: str
    mode: str | None
    percent: float | None


class AlternateChoice(NamedTuple):
    """Another bid beside the first: without some walls (names or ids), with some that the base bid
    leaves out, or with another product file.
    """

    name: str
    without: tuple[str, ...]
    product: str | None
    adds: tuple[str, ...] = ()
    """Walls that are out of the base bid, and in here."""


def as_item(value: Any) -> str:
    """Check the key of an item of the order.

    Args:
        value: What the file holds.

    Returns:
        The key.

    Raises:
        WrongValueError: No item has it.
    """
    return as_choice(*ITEMS)(value)


def as_items(value: Any) -> tuple[str, ...]:
    """Check a list of keys of items.

    Args:
        value: What the file holds: one text or a list.

    Returns:
        The keys.

    Raises:
        WrongValueError: It is no list of texts, or no item has one of them.
    """
    return tuple(as_item(v) for v in as_names(value))


as_allowances = as_tables(
    ItemAllowance,
    item=(as_item, ...),
    mode=(as_choice("layout", "area"), None),
    percent=(as_number(0.0, 100.0), None),
)
_alternate_tables = as_tables(
    AlternateChoice,
    name=(as_name, ...),
    without=(as_names, ()),
    product=(as_file, None),
    adds=(as_names, ()),
)


def as_alternates(value: Any) -> tuple[AlternateChoice, ...]:
    """Check a list of alternates.

    Args:
        value: What the file holds.

    Returns:
        The alternates.

    Raises:
        WrongValueError: A table has a wrong or no value, or two have one name.
    """
    found: tuple[AlternateChoice, ...] = _alternate_tables(value)
    refuse_twice(one.name for one in found)
    return found


COMMON_SCRAP = 10.0
"""Per cent of scrap until a crew knows its own figure (rule L2)."""


@dataclass(frozen=True)
class Ordering:
    """The order: how much is added to what was measured, and how things are cut and fixed."""

    prices: str | None = setting(
        None,
        "price file, from the job file's folder: TOML, CSV or XLSX",
        as_file,
        '"prices.csv"',
        option="prices",
    )
    allowance: str = setting(
        "layout",
        "how panels, strips and stones are counted: layout (piece by piece, breakage added) or "
        "area (by area or run, scrap added); both are shown",
        as_choice("layout", "area"),
        '"area"',
        option="allowance",
        basis=OWN,
    )
    breakage: float = setting(
        3.0,
        "per cent added for breakage and picking to what was counted by layout",
        as_number(0.0, 100.0),
        "3",
        option="breakage",
        basis=OWN,
    )
    scrap: float | None = setting(
        None,
        "per cent added for scrap to what was counted by area or run; where it is not given, "
        f"panels by what course plans of each kind of wall took, and {COMMON_SCRAP:g} to all else",
        as_number(0.0, 100.0),
        "10",
        option="scrap",
        basis=Basis(BasisKind.COMMON, "10, until a crew knows its own figure"),
    )
    items: tuple[ItemAllowance, ...] = setting(
        (),
        "items that are counted or allowed for in another way: item, mode, percent",
        as_allowances,
        '[{ item = "caulk", percent = 5 }]',
    )
    by_others: tuple[str, ...] = setting(
        (),
        "items that others supply, of every product: counted, but neither priced nor weighed",
        as_items,
        '["wrb"]',
    )
    framing: float = setting(
        16.0,
        "distance of studs on center, such as 16, 19.2 or 24, from each wall's left edge",
        as_length(4.0, 96.0),
        "16",
        option="framing",
        basis=OWN,
    )
    backing: str = setting(
        "lath",
        "what glued panels are stuck to: lath or flashing",
        as_choice("lath", "flashing"),
        '"flashing"',
        option="backing",
        basis=OWN,
    )
    trim_joint: str = setting(
        "butt",
        "how trim stones meet at the corners of an opening: butt (heads and sills run over the "
        "jambs) or mitre",
        as_choice("butt", "mitre"),
        '"mitre"',
        option="trim-joint",
        basis=OWN,
    )
    rip_trim: bool = setting(
        False,
        "rip a trim stone into two where a band is at most half as wide",
        as_flag,
        "true",
        option="rip-trim",
        basis=OWN,
    )
    additions: tuple[Addition, ...] = setting(
        (),
        "what is added or, below 0, taken off, each with its reason: item and quantity in the "
        "item's unit, or a wall by its area (square feet, or text such as 12 m2) and the height "
        "of its corners and finished ends; its labor is that of pieces, cuts and areas alone",
        as_additions,
        '[{ item = "flat_panel", quantity = 6, reason = "Spare panels for the owner" }, '
        '{ area = 120, corners = "16\'", reason = "Garage side, by the owner" }]',
    )

    @property
    def other_scrap(self) -> float:
        """Per cent of scrap on what was counted by area or run and is no panel."""
        return COMMON_SCRAP if self.scrap is None else self.scrap


class Exclusion(NamedTuple):
    """What a bid leaves to others where the job file names nothing."""

    text: str
    words: tuple[str, ...]
    """Words that name such work in a task, a line of the bid or what the bid includes."""
    work: str
    """The work of ``config.tasks.STANDARD`` that is all of it, so that the bid includes it once
    that is rated; empty where none is."""


EXCLUSIONS = (
    Exclusion("Flashing and water management not listed", (), ""),
    Exclusion("Framing, sheathing and its repair", ("framing", "sheathing"), ""),
    Exclusion("Scaffolds", ("scaffold",), "scaffold"),
)
"""Common practice, no published source."""


_HOURS = as_number(0.0, 1000.0)
_AREA = "square foot (square meter by metric rates)"
_RUN = "foot (meter by metric rates)"
_ASKED = "0 where it is not yours to do; no default: without one the bid says that it is left out"


@dataclass(frozen=True)
class Labour:
    """Hours of work and what an hour costs. Your own records are better than these hours."""

    wage: float | None = setting(
        None, "cost of one person's hour", as_number(0.0, 10_000.0), "42.50", option="wage"
    )
    crew: float = setting(2.0, "people at work together", as_number(1.0, 100.0), "2", basis=OWN)
    day: float = setting(8.0, "hours of a working day", as_number(1.0, 24.0), "8", basis=OWN)
    rates: str | None = setting(
        None,
        "areas and runs that rates of work and of the bid go by: imperial (square feet, feet) or "
        "metric (square meters, meters); without it the units of [output] display in the job file",
        as_choice("imperial", "metric"),
        '"metric"',
        basis=OWN,
    )
    flat: float = setting(
        0.1, "hours to lay a flat piece", as_number(0.0, 100.0), "0.1", basis=INVENTED
    )
    corner: float = setting(
        0.15, "hours to lay a corner piece", as_number(0.0, 100.0), "0.15", basis=INVENTED
    )
    cut: float = setting(
        0.05, "hours for a crosscut", as_number(0.0, 100.0), "0.05", basis=INVENTED
    )
    partial: float = setting(
        0.15,
        "hours more for a ripped or glued piece",
        as_number(0.0, 100.0),
        "0.15",
        basis=INVENTED,
    )
    opening: float = setting(
        0.5, "hours more at an opening", as_number(0.0, 100.0), "0.5", basis=INVENTED
    )
    stone: float = setting(
        0.2, "hours to set a cap or trim stone", as_number(0.0, 100.0), "0.2", basis=INVENTED
    )
    layout: float | None = setting(
        None, f"hours to lay out a {_AREA} of net area; {_ASKED}", _HOURS, "0.005"
    )
    barrier: float | None = setting(
        None,
        f"hours to hang the barrier on a {_AREA} of the walls that have one; {_ASKED}",
        _HOURS,
        "0.01",
    )
    strips: float | None = setting(
        None, f"hours to set a {_RUN} of starter strip; {_ASKED}", _HOURS, "0.05"
    )
    caulk: float | None = setting(None, f"hours to caulk a {_RUN}; {_ASKED}", _HOURS, "0.02")
    setup: float | None = setting(None, f"hours to set up on site; {_ASKED}", _HOURS, "4")
    cleanup: float | None = setting(
        None, f"hours to clean up after a {_AREA} of net area; {_ASKED}", _HOURS, "0.005"
    )
    scaffold: float | None = setting(
        None,
        f"hours to put up, move and take down scaffold for a {_AREA} of gross area; {_ASKED}",
        _HOURS,
        "0.02",
    )
    tasks: tuple[Task, ...] = setting(
        (),
        "other work: name; measure, or quantity and unit; hours of one person, or rate in money, "
        "for one",
        as_tasks,
        '[{ name = "Protect the deck", quantity = 3, unit = "hour" }, { name = "Lift", '
        'quantity = 2, unit = "day", rate = 310 }, { name = "Wash down", measure = "net_area", '
        "hours = 0.004 }]",
    )


@dataclass(frozen=True)
class Bid:
    """The bid: lines in your own order, rounding, alternates, and what is and is not offered."""

    lines: tuple[Charge, ...] = setting(
        (),
        "lines after materials and labor, one after the other: name; kind; one of amount, rate "
        "with per, percent with of (kinds; the running total where there is none), margin (per "
        "cent of the price); least, the least it comes to; below, where it counts only while what "
        "it is taken of is less",
        as_charges,
        '[{ name = "Freight", kind = "freight", rate = 95, per = "pallets", least = 150 }, '
        '{ name = "Sales tax", kind = "tax", percent = 6, of = ["materials", "freight"] }, '
        '{ name = "Overhead", kind = "overhead", percent = 10 }, '
        '{ name = "Profit", kind = "profit", margin = 8 }]',
    )
    minimum: float | None = setting(
        None, "the least that any job is done for", as_number(0.0, 1e9), "2500"
    )
    round_to: float | None = setting(
        None,
        "the price is rounded to a multiple of this, never below the least",
        as_number(0.01, 1e6),
        "10",
    )
    rounding: str = setting(
        "nearest",
        "how the price is rounded: nearest (half up) or up",
        as_choice("nearest", "up"),
        '"up"',
        basis=OWN,
    )
    alternates: tuple[AlternateChoice, ...] = setting(
        (),
        "other bids beside this one, without some walls (names or ids), with another product file, "
        "or with walls that are out of the base bid (adds)",
        as_alternates,
        '[{ name = "Without the annex", without = ["ANNEX"] }, { name = "Low panel", '
        'product = "low.toml" }]',
    )
    include: tuple[str, ...] = setting(
        (), "what the bid includes besides the order's items", as_names, '["Delivery to the site"]'
    )
    exclude: tuple[str, ...] = setting(
        tuple(one.text for one in EXCLUSIONS),
        "what the bid leaves to others; of the defaults, those go whose work is priced",
        as_names,
        '["Scaffolds"]',
        basis=OWN,
    )
