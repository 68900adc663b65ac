"""The report's list of changed cuts."""

from __future__ import annotations

from dxf2veneer.model import CourseNumbers, CutChanges
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.changes import CHANGE_HEAD, change_cells, change_lines
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.report.tables import table


def change_list(changes: CutChanges, numbers: CourseNumbers, display: str) -> Markup:
    """Every piece that is not cut as by the plan as drawn, and sums.

    Args:
        changes: What changes.
        numbers: Numbers of courses.
        display: Units for the reader: ``imperial`` or ``metric``.

    Returns:
        The sums and the table.
    """
    sums = (tag("p", None, legible(f"{line}.")) for line in change_lines(changes))
    head = tuple(name.capitalize() for name in CHANGE_HEAD)
    rows = [
        tuple(map(legible, change_cells(cut, numbers(cut.wall, cut.course), display)))
        for cut in changes.cuts
    ]
    return joined((*sums, table("Changed cuts", head, rows) if rows else ""))
