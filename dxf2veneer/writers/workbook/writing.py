"""The takeoff as a workbook: the summary, the price, the measured values, the checks; the piece
lists of a course plan as another.

Sums are live formulas, and the numbers below them may be overridden. The same takeoff gives
the same bytes: the date in the file is SOURCE_DATE_EPOCH's, or a fixed one.
"""

from __future__ import annotations

import dataclasses
from pathlib import Path

from openpyxl import Workbook

from dxf2veneer.config import printing
from dxf2veneer.model import CoursePlan, Order, Takeoff
from dxf2veneer.model.hand_changes import HandChange
from dxf2veneer.textio.escaping import for_cell
from dxf2veneer.writers.workbook.alert import add_alert, add_stale
from dxf2veneer.writers.workbook.alternates import Priced, add_alternates
from dxf2veneer.writers.workbook.cells import PlacedTable, sheet_of
from dxf2veneer.writers.workbook.changes import CHANGES_TITLE, add_changes
from dxf2veneer.writers.workbook.checks import add_assumptions, add_notices
from dxf2veneer.writers.workbook.choices import add_choices
from dxf2veneer.writers.workbook.columns import Display
from dxf2veneer.writers.workbook.computed import TITLE as COMPUTED
from dxf2veneer.writers.workbook.computed import InputCell, add_computed
from dxf2veneer.writers.workbook.counting import Sources
from dxf2veneer.writers.workbook.course_check import add_course_check
from dxf2veneer.writers.workbook.cuts import PanelParts, add_cut_list, add_stock
from dxf2veneer.writers.workbook.inputs import add_inputs
from dxf2veneer.writers.workbook.kept import (
    add_kept,
    fitted,
    put_back,
    read_changes,
)
from dxf2veneer.writers.workbook.labor import add_labour
from dxf2veneer.writers.workbook.links import Links
from dxf2veneer.writers.workbook.measures import add_corners, add_openings, add_trim, add_walls
from dxf2veneer.writers.workbook.order import add_order
from dxf2veneer.writers.workbook.page import keep_off_paper
from dxf2veneer.writers.workbook.plan import PanelTables, add_panels
from dxf2veneer.writers.workbook.price_sheet import add_price
from dxf2veneer.writers.workbook.quantities import add_quantities
from dxf2veneer.writers.workbook.rates import add_rates
from dxf2veneer.writers.workbook.rule_check import add_rule_check
from dxf2veneer.writers.workbook.saving import save_book
from dxf2veneer.writers.workbook.scope import scope_key
from dxf2veneer.writers.workbook.shares import add_shares
from dxf2veneer.writers.workbook.subjects import quantity_titles, subjects_of
from dxf2veneer.writers.workbook.summary import add_summary
from dxf2veneer.writers.workbook.summary_order import OrderCells
from dxf2veneer.writers.workbook.summary_parts import Sources as SummarySources
from dxf2veneer.writers.workbook.supplier import add_supplier

CUT_SHEETS = ("Cut list", "Stock")
"""The sheets of the piece lists; where site measures changed a plan, the changes come first."""


def write_workbook(takeoff: Takeoff, path: Path) -> None:
    """Write the takeoff as an .xlsx workbook, whole or not at all.

    Args:
        takeoff: The takeoff.
        path: Where the workbook belongs.

    Raises:
        OSError: It can't be written.
    """
    is_ours = not any(change.fits for change in takeoff.hand_changes)
    save_book(lambda: _with_changes(takeoff), path, sealed=is_ours)


def _with_changes(takeoff: Takeoff) -> Workbook:
    """The workbook with a person's changes in it."""
    book, cells = _book(takeoff)
    _about(book, takeoff)
    if takeoff.order:
        add_stale(book, has_plan=takeoff.plan is not None)
    put_back(takeoff.hand_changes, cells)
    return book


def write_cuts(takeoff: Takeoff, plan: CoursePlan, path: Path) -> None:
    """Write the piece lists of a course plan as an .xlsx workbook of their own, whole or not at
    all.

    Args:
        takeoff: The takeoff.
        plan: Its course plan.
        path: Where the workbook belongs.

    Raises:
        OSError: It can't be written.
    """
    save_book(lambda: _about(_piece_lists(takeoff, plan), takeoff), path)


def _piece_lists(takeoff: Takeoff, plan: CoursePlan) -> Workbook:
    book, display = Workbook(), Display(takeoff.job.output.display)
    del book["Sheet"]
    for title in ((CHANGES_TITLE,) if takeoff.changes else ()) + CUT_SHEETS:
        book.create_sheet(title)
    if takeoff.changes:
        add_changes(book, takeoff, takeoff.changes)
    parts = PanelParts.of(takeoff, plan)
    add_cut_list(book, takeoff, display, parts)
    add_stock(book, takeoff, display, parts)
    return book


def _about(book: Workbook, takeoff: Takeoff) -> Workbook:
    """The workbook with what each of ours carries."""
    add_alert(book, takeoff)
    book.properties.title = for_cell(takeoff.job.job.name) or "Veneer takeoff"
    book.properties.creator = for_cell(takeoff.job.job.company) or "dxf2veneer"
    book.calculation.fullCalcOnLoad = True
    return book


def kept_changes(takeoff: Takeoff, path: Path) -> tuple[HandChange, ...]:
    """What was changed by hand in an earlier workbook, against what a takeoff computes now.

    Args:
        takeoff: The takeoff.
        path: The earlier workbook.

    Returns:
        The changes.

    Raises:
        UnreadableWorkbookError: It is no workbook of this tool.
        OSError: It can't be read.
    """
    changes = read_changes(path)
    return fitted(changes, _book(takeoff)[1]) if changes else ()


def _book(takeoff: Takeoff) -> tuple[Workbook, list[InputCell]]:
    """The workbook, and the cells of it that a person may change."""
    book = Workbook()
    del book["Sheet"]
    order_sheets = _order_sheets(takeoff, takeoff.order) if takeoff.order else ()
    plan_sheets = printing.PLAN if takeoff.plan else ()
    if takeoff.choices:
        plan_sheets = (*plan_sheets[:1], printing.PLANS, *plan_sheets[1:])
    kept = (printing.KEPT,) if takeoff.hand_changes else ()
    first, checks = printing.FIRST, printing.CHECKS
    for title in (first, *kept, *order_sheets, *plan_sheets, *checks, COMPUTED):
        book.create_sheet(title)
    display = Display(takeoff.job.output.display)
    openings = add_openings(book, takeoff, display)
    trim = add_trim(book, takeoff, display)
    walls = add_walls(book, takeoff, display, openings)
    corners, edges = add_corners(book, takeoff, display)
    add_course_check(book, takeoff, display)
    notices = add_notices(book, takeoff, display)
    add_assumptions(book, takeoff, display)
    if takeoff.choices:
        add_choices(book, takeoff, takeoff.choices)
    if takeoff.hand_changes:
        add_kept(book, takeoff)
    tables = _add_plan(book, takeoff, takeoff.plan, display, walls) if takeoff.plan else None
    panels, colors = tables or (None, None)
    prices = None
    if takeoff.order:
        prices = _add_order(
            book,
            takeoff,
            takeoff.order,
            display,
            Links(takeoff, walls, trim, corners, edges, panels, colors),
        )
    add_summary(
        sheet_of(book, "Summary"),
        takeoff,
        display,
        SummarySources(walls, openings, trim, corners, edges, notices, panels),
        prices,
    )
    cells = add_computed(book, 1 + len(takeoff.order.alternates) if takeoff.order else 0)
    keep_off_paper(book, takeoff.job.output.print)
    return book, cells


def _add_plan(
    book: Workbook, takeoff: Takeoff, plan: CoursePlan, display: Display, walls: PlacedTable
) -> PanelTables:
    """The sheets of the course plan; the tables of panels by wall and color."""
    rules = add_rule_check(book, takeoff, plan, display)
    return add_panels(book, takeoff, plan, display, walls=walls, rules=rules)


def _add_order(
    book: Workbook, takeoff: Takeoff, order: Order, display: Display, links: Links
) -> OrderCells:
    """The sheets of the order, from the inputs to the price."""
    net = links.walls.sum_where("net", **{scope_key(0): '"yes"'})
    inputs = add_inputs(book, takeoff, order)
    subjects = subjects_of(takeoff, order, links.walls, links.edges)
    quantities = [
        add_quantities(book, takeoff, order.currency, inputs, Sources(one, links, display))
        for one in subjects
    ]
    items = add_order(book, takeoff, order, display, inputs, quantities[0])
    supplier = add_supplier(book, takeoff, order, display, items, inputs)
    labour = add_labour(book, takeoff, order, inputs, links.walls, quantities[0], supplier)
    alternates = (
        add_alternates(book, takeoff, order, inputs, subjects, quantities)
        if order.alternates
        else []
    )
    pallets = supplier.total("pallets")
    base = Priced("Base bid", "", items, labour, order.bid, pallets, links.walls)
    is_metric = takeoff.product.is_metric
    priced = [dataclasses.replace(one, in_kilograms=is_metric) for one in (base, *alternates)]
    rates = add_rates(book, takeoff, order, inputs, priced, subjects, quantities)
    price = add_price(book, takeoff, order, inputs, priced, net, rates)
    cells = OrderCells(price, items, labour, supplier)
    if takeoff.shares:
        add_shares(book, takeoff, order, display, links.walls, cells)
    return cells


def _order_sheets(takeoff: Takeoff, order: Order) -> tuple[str, ...]:
    """The sheets of an order."""
    first = (*printing.ORDER, printing.SHARES) if takeoff.shares else printing.ORDER
    if not order.alternates:
        return first
    return (*first, printing.OTHERS, *quantity_titles(order)[1:])
