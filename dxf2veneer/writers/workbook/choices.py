"""The sheet of the plans to choose from."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from dxf2veneer.config.printing import PLANS
from dxf2veneer.model import PlanChoice, PlanChoices, Takeoff
from dxf2veneer.wording.choices import choice_notes, meant, plan_name
from dxf2veneer.writers.workbook.cells import lines_of, place, sheet_of
from dxf2veneer.writers.workbook.columns import COUNT, MONEY, Column, Row, Strong
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_note, write_title


def add_choices(book: Workbook, takeoff: Takeoff, choices: PlanChoices) -> None:
    """One row a plan that none of the others beats.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        choices: The plans.
    """
    sheet = sheet_of(book, PLANS)
    columns = [
        Column("plan", "Plan", 22),
        Column("meant", "Meant to have", 34),
        Column("flat", "Flat\npanels", 9, COUNT),
        Column("corner", "Corner\npanels", 9, COUNT),
        Column("flat_boxes", "Boxes,\nflat", 9, COUNT),
        Column("corner_boxes", "Boxes,\ncorner", 9, COUNT),
        Column("cuts", "Cross-\ncuts", 9, COUNT),
        Column("lengths", "Lengths\nto cut", 9, COUNT),
        Column("waiting", "Offcuts\nwaiting", 10, COUNT),
        Column("far", "Offcuts\nfar", 9, COUNT),
        Column("in_line", "Joints\nin line", 9, "0.0%"),
        Column("patterns", "Other\npatterns", 10, COUNT),
        Column("broken", "Rules\nbroken", 9, COUNT),
        Column("goods", "Goods", 12, MONEY),
        Column("cutting", "Labor for\ncrosscuts", 12, MONEY),
        Column("money", "Money", 12, MONEY),
    ]
    note = (
        "Plans of the same walls side by side; no other plan is as good in all that is shown. "
        "They were laid out and counted anew and do not follow the sheets of the walls."
    )
    write_title(sheet, "Plans to choose from", note, columns)
    placed = place(sheet, HEADER, columns, list(map(_row, choices.listed)), empty="none")
    row = placed.last + 1
    for text in choice_notes(choices, takeoff.order.currency if takeoff.order else ""):
        row += 1
        lines = lines_of(text, 0.85 * sum(c.width for c in columns))
        write_note(sheet, row, text, columns=len(columns), lines=lines)
    finish(sheet, takeoff, placed, last_row=row, freeze="B")


def _row(choice: PlanChoice) -> Row:
    name = plan_name(choice)
    return {
        "plan": Strong(name) if choice.is_taken else name,
        "meant": meant(choice),
        "flat": choice.flat,
        "corner": choice.corner,
        "flat_boxes": choice.flat_packages,
        "corner_boxes": choice.corner_packages,
        "cuts": choice.cuts,
        "lengths": choice.lengths,
        "waiting": choice.waiting,
        "far": choice.far,
        "in_line": choice.in_line,
        "patterns": choice.patterns,
        "broken": choice.broken,
        "goods": None if choice.goods is None else float(choice.goods),
        "cutting": None if choice.cutting is None else float(choice.cutting),
        "money": None if choice.money is None else float(choice.money),
    }
