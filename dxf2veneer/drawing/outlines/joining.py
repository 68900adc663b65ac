"""Outlines that lines of several layers close together.

A ______________        What one layer leaves open the lines of another of the same meaning may
 |              |       close: here the corners lie on layer A, eaves and ground on layer B.
 |______________| B
"""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import COARSE_FLATTEN_IN
from dxf2veneer.drawing.notice_collector import Report
from dxf2veneer.drawing.outlines.loops import find_loops
from dxf2veneer.drawing.outlines.tidying import polygon_of
from dxf2veneer.model import Shape


def close_across(
    layers: Sequence[Sequence[Shape]], *, gap_in: float, report: Report
) -> tuple[list[Shape], set[Shape]]:
    """The outlines that no layer closes alone, and the lines that bound them.

    Args:
        layers: The shapes of each layer of one meaning, in inches.
        gap_in: The widest gap that is closed, in inches.
        report: Takes a notice of each such outline.

    Returns:
        The outlines, and the lines of the layers that lie along or in them, which are used up.
    """
    loose = [[s for s in own if not s.path.closed] for own in layers]
    if len(layers) < 2 or not any(loose):
        return [], set()
    alone = [find_loops(own, gap_in=gap_in) for own in loose]
    unused = [s for loops in alone for s in loops.unused]
    if not unused:
        return [], set()
    closed = [s for own in layers for s in own if s.path.closed]
    closed += [s for loops in alone for s in loops.outlines]
    together = find_loops(
        [s for own in layers for s in own],
        gap_in=gap_in,
        taken=[polygon_of(s.path, rise_in=COARSE_FLATTEN_IN) for s in closed],
    )
    layer_of = {s.handle: s.layer for s in unused}
    used: set[Shape] = set()
    outlines = []
    for outline in together.outlines:
        names = sorted({layer_of[h] for h in outline.handles if h in layer_of})
        if not names:
            continue
        outlines.append(outline)
        x0, y0, x1, y1 = outline.path.box
        bounding = {s.layer for own in layers for s in own if s.handle in outline.handles}
        size = {"width": Length(x1 - x0), "height": Length(y1 - y0)}
        report(
            "LAYERS_JOINED",
            message("layers-joined", layers=tuple(sorted(bounding)), **size),
            layer=names[0],
            handle=outline.handle,
            at=((x0 + x1) / 2, (y0 + y1) / 2),
        )
    if outlines:
        left = set(together.unused)
        used = {s for s in unused if s not in left}
    return outlines, used
