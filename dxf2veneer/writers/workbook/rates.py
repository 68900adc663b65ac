"""What a rate of the bid can be for each of, and how many of it there are: below the inputs, beyond
what is printed.

Measures follow the sheet Walls as work by them does; a measure that no sheet has stays as computed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from openpyxl.workbook import Workbook
from openpyxl.worksheet.datavalidation import DataValidation

from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.config.charges import DELIVERED, WORKED
from dxf2veneer.config.tasks import MEASURES, in_rate_unit
from dxf2veneer.model import LabourLine, Order, Takeoff
from dxf2veneer.writers.workbook.alternates import Priced
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import QUANTITY, Column, Display, Formula, Row
from dxf2veneer.writers.workbook.input_items import NAMES, UNITS
from dxf2veneer.writers.workbook.inputs import Inputs
from dxf2veneer.writers.workbook.page import write_note
from dxf2veneer.writers.workbook.quantities import Quantities
from dxf2veneer.writers.workbook.scope import measure_of_walls
from dxf2veneer.writers.workbook.subjects import Subject

_OF_WORK = {
    "flat_pieces": "flat",
    "corner_pieces": "corner",
    "cuts": "cut",
    "partial_pieces": "partial",
    "openings": "opening",
}
"""Measures that are the quantity of a kind of work."""
_KNOWN = (*DELIVERED, *WORKED, *MEASURES)
_DOWN = 3
"""Rows below the lines of the bid at which the table begins."""


def rate_key(number: int) -> str:
    """Key of the column of an order.

    Args:
        number: 0 for the bid's own, from 1 for alternates.

    Returns:
        The key.
    """
    return f"many_{number}"


def add_rates(
    book: Workbook,
    takeoff: Takeoff,
    order: Order,
    inputs: Inputs,
    priced: Sequence[Priced],
    subjects: Sequence[Subject],
    quantities: Sequence[Quantities],
) -> PlacedTable:
    """Write the table below the lines of the bid, and let these choose from it.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        order: The order with its alternates.
        inputs: Where the inputs stand.
        priced: The bid's own order and the alternates.
        subjects: What each counts.
        quantities: Where the quantities of each stand.

    Returns:
        Where it stands: keys of what a rate is for each of, and a column for each order.
    """
    sheet = sheet_of(book, "Inputs")
    orders = (order, *(a.order for a in order.alternates))
    display = Display(inputs.display)
    columns = [Column("per", "A rate can be for each of", 30), Column("unit", "Unit", 11)]
    columns += [Column(rate_key(n), one.name, 11, QUANTITY) for n, one in enumerate(priced)]
    units = {key: in_rate_unit(key, takeoff.job.metric_rates)[0] for key in _KNOWN}
    of_order = [
        {
            **_delivered(one),
            **_measured(one, subject, counted, units, display, dict(made.measures)),
        }
        for one, subject, counted, made in zip(priced, subjects, quantities, orders, strict=True)
    ]
    rows: list[Row] = [
        {
            "per": key,
            "unit": UNITS.get(units[key], units[key]),
            **{rate_key(n): Formula(texts[key]) for n, texts in enumerate(of_order)},
        }
        for key in _KNOWN
    ]
    at = inputs.charges.last + _DOWN
    write_note(sheet, at, "What rates go by", columns=len(columns), bold=True)
    placed = place(sheet, at + 1, columns, rows)
    rule: Any = DataValidation(
        type="list", formula1=placed.range("per"), allow_blank=True, showErrorMessage=True
    )
    rule.error = "one of the list below the lines of the bid"
    letter = inputs.charges.letters["per"]
    rule.add(f"{letter}{inputs.charges.first}:{letter}{inputs.charges.last}")
    sheet.add_data_validation(rule)
    return placed


def _delivered(priced: Priced) -> dict[str, str]:
    """Formula texts of what deliveries and work come to, by key; empty texts for weights where one
    is not known."""
    items, hours = priced.items, priced.labour.total("hours")
    ours = f'({items.range("note")}<>"by others")*({items.range("weight")}="")'
    pounds = f"ROUND({items.sum('weight')},6)"
    pound = POUND_KG if priced.in_kilograms else 1.0  # in the unit of the sheets' weights
    units = {"pounds": pound, "hundredweight": 100.0 * pound, "kilograms": pound / POUND_KG}
    weights = {
        key: f'IF(SUMPRODUCT({ours})>0,"",{pounds}*{1.0 / one!r})' for key, one in units.items()
    }
    days = f"ROUNDUP(ROUND({hours}/({NAMES['crew']}*{NAMES['day']}),6),0)"
    return {"pallets": priced.pallets, **weights, "hours": hours, "days": days}


def _measured(
    priced: Priced,
    subject: Subject,
    counted: Quantities,
    units: Mapping[str, str],
    display: Display,
    measures: Mapping[str, float],
) -> dict[str, str]:
    """Formula texts of the takeoff's measures, by key."""
    work: dict[str, LabourLine] = {line.key: line for line in subject.labour}
    live = {line.measure: counted.work(line) for line in subject.labour if line.measure}
    live |= {key: counted.work(work[name]) for key, name in _OF_WORK.items()}
    live["pieces"] = f"{live['flat_pieces']}+{live['corner_pieces']}"
    for key in MEASURES:
        if priced.walls and key not in live:
            live[key] = measure_of_walls(key, priced.walls, display, units[key], priced.number)
    return {key: live.get(key) or repr(round(measures[key], 6)) for key in MEASURES}
