"""What is wrong with the truth of a sheet."""

from __future__ import annotations

from itertools import combinations
from typing import Any

from shapely.geometry import Polygon
from shapely.ops import unary_union


def faults(truth: dict[str, Any]) -> list[str]:
    """Overlapping walls or openings, openings outside walls, walls outside their view."""
    walls = {w["id"]: (w["view"], Polygon(w["outline"])) for w in truth["walls"]}
    holes = {o["id"]: (o["wall"], Polygon(o["outline"])) for o in truth["openings"]}
    out = [f"{n} invalid" for n, (_, p) in {**walls, **holes}.items() if not p.is_valid]
    if out:
        return out
    for (a, (va, pa)), (b, (vb, pb)) in combinations(walls.items(), 2):
        if va == vb and pa.intersection(pb).area > 0.002 * min(pa.area, pb.area):
            out.append(f"{a} overlaps {b}")
    for (a, (_, pa)), (b, (_, pb)) in combinations(holes.items(), 2):
        if pa.intersection(pb).area > 1e-6 * pa.area:
            out.append(f"{a} overlaps {b}")
    for n, (w, p) in holes.items():
        view = walls[w][0]
        shares = {m: q.intersection(p).area for m, (v, q) in walls.items() if v == view}
        if shares[w] < max(shares.values()) - 1e-9:
            out.append(f"{n} lies more in another wall than {w}")
        if (
            unary_union([q for v, q in walls.values() if v == view]).intersection(p).area
            < 0.89 * p.area
        ):
            out.append(f"{n} lies outside the walls")
    boxes = {v["id"]: v["box"] for v in truth["views"]}
    for n, (v, p) in walls.items():
        x0, y0, x1, y1 = p.bounds
        b = boxes[v]
        tiny = 1e-3 * (b[2] - b[0])
        if x0 < b[0] - tiny or y0 < b[1] - tiny or x1 > b[2] + tiny or y1 > b[3] + tiny:
            out.append(f"{n} leaves {v}")
    return out
