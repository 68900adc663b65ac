"""What a takeoff measures that a rate can go by: areas, runs, counts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from dxf2veneer.basics.units import square_feet
from dxf2veneer.config.wall_rows import Walls
from dxf2veneer.model import Corner, WallTakeoff
from dxf2veneer.order.sheets import caulk


class Pieces(NamedTuple):
    """How many pieces there are to lay, and cuts to make."""

    flat: float
    corner: float
    cuts: float
    partial: float
    """Ripped or glued ones among them."""


def measures(
    walls: Sequence[WallTakeoff], corners: Sequence[Corner], pieces: Pieces, treated: Walls
) -> dict[str, float]:
    """The takeoff's measures.

    Args:
        walls: The walls as laid out.
        corners: The job's corners.
        pieces: Pieces and cuts, of the plan or as plans of such walls had them.
        treated: Which walls have no barrier.

    Returns:
        By the keys of ``config.tasks.MEASURES``: areas in square feet, runs in feet, counts.
    """
    q = [w.quantities for w in walls]
    runs = {kind: 0.0 for kind in ("outside", "inside", "mitre")}
    for corner in corners:
        runs[corner.kind] += corner.run / 12.0
    joints = caulk(walls).methods[0].measured
    behind = [w for w in walls if treated.has_barrier(w.wall.id, w.wall.name)]
    openings = [o for one in q for o in one.openings]
    return {
        "net_area": square_feet(math.fsum(one.net_area for one in q)),
        "gross_area": square_feet(math.fsum(one.gross_area for one in q)),
        "barrier_area": square_feet(math.fsum(w.quantities.gross_area for w in behind)),
        "corner_run": math.fsum(runs.values()),
        "outside_corner_run": runs["outside"],
        "inside_corner_run": runs["inside"],
        "bay_corner_run": runs["mitre"],
        "starter_run": math.fsum(one.starter_run for one in q) / 12.0,
        "cap_run": math.fsum(one.cap_run for one in q) / 12.0,
        "trim_run": math.fsum(o.trim_head + o.trim_jambs + o.trim_sill for o in openings) / 12.0,
        "caulk_run": joints,
        "walls": float(len(walls)),
        "openings": float(sum(not o.opening.part_of for o in openings)),
        "pieces": pieces.flat + pieces.corner,
        "flat_pieces": pieces.flat,
        "corner_pieces": pieces.corner,
        "partial_pieces": pieces.partial,
        "cuts": pieces.cuts,
        "job": 1.0,
    }
