"""Cells of an earlier workbook that a person changed, and that the next one keeps."""

from __future__ import annotations

from dataclasses import dataclass

CellValue = str | float | None
"""What stands in a cell; None for an empty one."""


@dataclass(frozen=True)
class HandChange:
    """One cell that was changed by hand, by what stands above and beside it."""

    sheet: str
    row: str
    """The first cell of its row."""
    heading: str
    computed: CellValue
    """What this takeoff computes for it; what the earlier one did where there is no such cell."""
    by_hand: CellValue
    fits: bool
    """Whether this takeoff still has such a cell: then the change is kept."""
