"""Layouts: the sheets to be plotted, their viewports into model space, the texts on them."""

from __future__ import annotations

import math
from typing import Any

from ezdxf.document import Drawing as Document

from dxf2veneer.drawing.entities.kinds import BAD_DATA
from dxf2veneer.propose.reading.placing import Placer
from dxf2veneer.propose.reading.reach import in_reach, within_reach
from dxf2veneer.propose.scene import Paper, Viewport

_UNITS = {0: "in", 1: "mm"}
"""Plot paper units (DXF reference, PLOTSETTINGS, code 72)."""
_MM_PER_INCH = 25.4


def papers_of(document: Document, placer: Placer) -> tuple[tuple[Paper, ...], tuple[Viewport, ...]]:
    """Every layout with its texts, and all their viewports; damaged ones are passed over.

    Args:
        document: of the DXF library.
        placer: flattens the texts of the layouts.

    Returns:
        The layouts and the viewports, in the order of the document.
    """
    papers: list[Paper] = []
    viewports: list[Viewport] = []
    for layout in document.layouts:
        if layout.name == "Model":
            continue
        try:
            texts = tuple(within_reach(placer.read(layout)).texts)
            dxf = layout.dxf
            unit = _UNITS.get(dxf.get("plot_paper_units", 1), "")
            width, height = float(dxf.get("paper_width", 0.0)), float(dxf.get("paper_height", 0.0))
            papers.append(Paper(layout.name, texts, width, height, unit))
            viewports += [
                v for v in (_viewport(e, layout.name) for e in layout.query("VIEWPORT")) if v
            ]
        except BAD_DATA:
            continue
    return tuple(papers), tuple(viewports)


def _viewport(entity: Any, layout: str) -> Viewport | None:
    """A viewport that is on and looks straight down; None for the sheet's own and others."""
    dxf = entity.dxf
    if dxf.get("id", 2) == 1 or dxf.get("status", 1) == 0:
        return None
    width, height, seen = (
        float(dxf.get("width", 0.0)),
        float(dxf.get("height", 0.0)),
        float(dxf.get("view_height", 0.0)),
    )
    direction = dxf.get("view_direction_vector", (0.0, 0.0, 1.0))
    sizes = (width, height, seen)
    centre, target = (
        dxf.get("view_center_point", (0.0, 0.0)),
        dxf.get("view_target_point", (0.0, 0.0, 0.0)),
    )
    if (
        not in_reach(*sizes, centre[0], centre[1], target[0], target[1], dxf.center.x, dxf.center.y)
        or min(sizes) <= 0.0
        or math.hypot(direction[0], direction[1]) > 1e-6
    ):
        return None
    scale = seen / height
    x, y = dxf.center.x, dxf.center.y
    paper = (x - width / 2, y - height / 2, x + width / 2, y + height / 2)
    return Viewport(
        layout,
        str(dxf.get("handle", "")),
        centre[0] + target[0],
        centre[1] + target[1],
        width * scale,
        seen,
        paper,
        scale,
    )
