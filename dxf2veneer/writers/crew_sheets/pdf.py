"""The set of crew sheets as a PDF."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Takeoff
from dxf2veneer.wording.cautions import CAUTION
from dxf2veneer.writers.crew_sheets.picture import part_svg
from dxf2veneer.writers.crew_sheets.sheets import (
    KEY,
    LEFT_PT,
    LIST,
    RIGHT_PT,
    SAFETY,
    CrewSheet,
    list_head,
    paper_of,
    sheets_of,
    title_of,
)
from dxf2veneer.writers.typeset import PAPERS, write_pages
from dxf2veneer.writers.words import alert_words


def write_crew_sheets(takeoff: Takeoff, path: Path) -> None:
    """Write the set, whole or not at all.

    Args:
        takeoff: The takeoff, with a course plan.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    write_pages("dxf2veneer.writers.crew_sheets", "sheet.typ", content_of(takeoff), path)


def content_of(takeoff: Takeoff) -> dict[str, Any]:
    """What stands on the sheets, as texts and pictures.

    Args:
        takeoff: The takeoff; without a course plan there is no sheet.

    Returns:
        What the template sets, by name.
    """
    return {
        "title": title_of(takeoff),
        "paper": PAPERS[paper_of(takeoff)],
        "list": LIST,
        "alert": alert_words(takeoff),
        "caution": f"{CAUTION} {SAFETY} {KEY}",
        "head": list_head(takeoff),
        "sheets": [_sheet(takeoff, sheet) for sheet in sheets_of(takeoff)],
    }


def _sheet(takeoff: Takeoff, sheet: CrewSheet) -> dict[str, Any]:
    window, scale = sheet.window, sheet.scale
    return {
        "title": sheet.title,
        "about": sheet.about,
        "picture": part_svg(takeoff, sheet),
        "wide": (window.x1 - window.x0) / scale * MM_PER_INCH
        + (LEFT_PT + RIGHT_PT) / 72.0 * MM_PER_INCH,
        "rows": sheet.rows,
    }
