"""What became of a cell that was changed by hand, in one line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from dxf2veneer.basics.messages import message
from dxf2veneer.wording.say import say
from dxf2veneer.wording.table import safe

if TYPE_CHECKING:
    from dxf2veneer.model.hand_changes import CellValue, HandChange


def hand_change_line(change: HandChange) -> str:
    """What became of a cell that was changed by hand, with the old and the new value.

    Args:
        change: The change.

    Returns:
        One line that is safe to print.
    """
    told = {
        "sheet": change.sheet,
        "row": change.row,
        "heading": change.heading,
        "computed": _cell(change.computed),
        "by_hand": _cell(change.by_hand),
    }
    kept, lost = message("hand-change-kept", **told), message("hand-change-lost", **told)
    return safe(say(kept if change.fits else lost))


def _cell(value: CellValue) -> str:
    if value is None or value == "":
        return "nothing"
    return value if isinstance(value, str) else f"{value:.10g}"
