"""The sheet of places where a rule of laying does not hold."""

from __future__ import annotations

import math

from openpyxl.workbook import Workbook

from dxf2veneer.model import CoursePlan, RuleBreak, Takeoff
from dxf2veneer.wording import rule_name, say
from dxf2veneer.wording.rules import WHOSE_RULES
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import COUNT, Column, Display, Row, Strong, Value
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_title

BROKEN, FORCED, AS_LAID = "BROKEN", "forced", "as laid"
"""What a rule is that does not hold somewhere; others are kept."""


def add_rule_check(
    book: Workbook, takeoff: Takeoff, plan: CoursePlan, display: Display
) -> PlacedTable:
    """One row a place where a rule of laying does not hold, the broken ones first.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        plan: The course plan.
        display: Units of the sheets.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Rule check")
    columns = [
        Column("rule", "Code", 8),
        Column("name", "Rule", 18),
        Column("wall", "Wall", 8),
        Column("course", "Course", 9, COUNT),
        Column("left", f"From wall's\nleft edge\n{display.size_unit}", 11, display.fraction_format),
        Column("up", f"Above\nstarter line\n{display.size_unit}", 11, display.fraction_format),
        Column("what", "What does not hold", 48),
        Column("reason", "Reason", 48),
        Column("state", "State", 12),
        Column("x", "x\ndrawing's unit", 15, "#,##0.00"),
        Column("y", "y\ndrawing's unit", 15, "#,##0.00"),
    ]
    note = (
        "Places where an independent check of the plan found that a rule of laying does not hold. "
        "Forced: no layout of that run can keep it. As laid: the pieces are on the wall already. "
        "Broken: a fault of the plan, mend it on the wall. At all other places the rules are kept. "
        f"Whose rules: {WHOSE_RULES}. "
        "Courses count from 1, as on the overlay."
    )
    write_title(sheet, "Rule check", note, columns)
    ranked = sorted(plan.breaks, key=lambda b: b.state != "broken")
    rows = [_rule_row(b, takeoff, display) for b in ranked]
    placed = place(sheet, HEADER, columns, rows, empty="none")
    finish(sheet, takeoff, placed, last_row=placed.last, freeze="E")
    return placed


def _rule_row(broken: RuleBreak, takeoff: Takeoff, display: Display) -> Row:
    state: Value = Strong(BROKEN) if broken.state == "broken" else broken.state
    reason = say(broken.why, display.name) if broken.why else ""
    row: Row = {
        "rule": broken.rule,
        "name": rule_name(broken.rule),
        "wall": broken.wall,
        "course": takeoff.course_number(broken.wall, broken.course),
        "what": say(broken.message, display.name),
        "reason": reason,
        "state": state,
    }
    entry = next((w for w in takeoff.walls if w.wall.id == broken.wall), None)
    if entry is None or not all(map(math.isfinite, broken.at)):
        return row
    (x, y), per_unit = broken.at, takeoff.drawings[entry.wall.drawing].inches_per_unit
    return row | {
        "left": display.fraction(x - entry.wall.box[0]),
        "up": display.fraction(y - entry.courses.starter_y),
        "x": x / per_unit,
        "y": y / per_unit,
    }
