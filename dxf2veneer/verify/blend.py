"""How the colors of a plan lie on the walls (rule L22), from pieces and panels alone.

| B | B | T |     B and B touch, and so do T and T one above the other; the three B hang
|  B | T |  |     together. Left of an upright line through the middle lie more B than B's share
                  of the ground there: B is ahead by so many panels.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise, product
from typing import NamedTuple

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import BLEND_HALF_SHARE, BLEND_MOST_OFF, BLEND_TOUCH_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import CoursePlan, Piece, PieceRef, Spread, WallColor, WallTakeoff
from dxf2veneer.verify.plan.runs import JudgedWall, LaidPart, judged_wall


class _Part(NamedTuple):
    """A part of a panel as it lies."""

    wall: str
    laid: LaidPart
    color: str


def blend_notices(spread: Spread, walls: Sequence[WallTakeoff]) -> Iterator[Notice]:
    """Walls that have more or less of a color than its share, by more than a panel.

    Args:
        spread: How the colors lie.
        walls: The walls.

    Yields:
        A notice for each wall and color.
    """
    by_id = {w.wall.id: w.wall for w in walls}
    for one in spread.walls:
        if abs(one.off) > BLEND_MOST_OFF:
            wall = by_id[one.wall]
            yield Notice(
                "BLEND_UNEVEN",
                message(
                    "blend-uneven",
                    wall=one.wall,
                    color=one.color,
                    laid=100.0 * one.laid,
                    wanted=100.0 * one.share,
                    panels=abs(one.off),
                ),
                drawing=wall.drawing,
                layer=wall.layer,
                handle=wall.handles[0],
                at_in=wall.box[:2],
            )


def spread_of(
    walls: Sequence[WallTakeoff],
    plan: CoursePlan,
    job: Job,
    panel: Product,
) -> Spread | None:
    """How the colors lie.

    Args:
        walls: The walls with their pieces.
        plan: The panels with their parts and colors.
        job: The job, which may give walls shares of their own.
        panel: The product, for its colors and the face of a panel.

    Returns:
        The figures; None where the product has no colors.
    """
    names = [c.name for c in panel.blend.colors]
    if not names:
        return None
    shares = {
        w.wall.id: panel.blend.shares_on((w.wall.id, w.wall.name), job.plan.blend) for w in walls
    }
    color = {ref: u.color for u in plan.units for ref in u.parts}
    stock = {u.id: u.color for u in plan.units}
    judged = [judged_wall(w) for w in walls]
    parts = {
        wall.wall.wall.id: [
            _Part(run.wall, one, _color_of(run.wall, one, color, stock))
            for run in wall.runs
            for one in run.laid
        ]
        for wall in judged
    }
    by_laid = {id(part.laid): part for own in parts.values() for part in own}
    met = [(by_laid[id(a)], by_laid[id(b)]) for a, b in _touching(judged)]
    usual = panel.blend.shares
    minor = {name for name in names if usual[name] < BLEND_HALF_SHARE}
    alike = [(a, b) for a, b in met if a.color == b.color and a.color in minor]
    return Spread(
        walls=tuple(
            WallColor(w.wall.id, name, shares[w.wall.id][name], *figures)
            for w in walls
            for name, figures in _on_wall(
                parts[w.wall.id], shares[w.wall.id], panel.coverage_area
            ).items()
        ),
        pairs=len(met),
        touching=len(alike),
        own=sum(a.laid.stock == b.laid.stock for a, b in alike),
        chance=math.fsum(
            shares[a.wall][name] * shares[b.wall][name] for a, b in met for name in sorted(minor)
        ),
        largest=_largest([p for own in parts.values() for p in own if p.color in minor], alike),
    )


def _color_of(
    wall: str, laid: LaidPart, listed: Mapping[PieceRef, str], stock: Mapping[str, str]
) -> str:
    """The color of a part, by the panel that lists it; by the panel it names where none does."""
    refs = (PieceRef(wall, p.course, p.number) for p in laid.pieces)
    return next((listed[ref] for ref in refs if ref in listed), stock.get(laid.stock, ""))


# ------------------------------------------------------------------ shares


def _on_wall(
    parts: Sequence[_Part], shares: Mapping[str, float], face: float
) -> dict[str, tuple[float, ...]]:
    """By color its share, its area, how many panels it is off, and by how many it is ahead."""
    pieces = [(piece, part.color) for part in parts for piece in part.laid.pieces]
    every = math.fsum(_area(piece) for piece, _ in pieces)
    found: dict[str, tuple[float, ...]] = {}
    for name, share in shares.items():
        area = math.fsum(_area(piece) for piece, color in pieces if color == name)
        own = area / every if every else 0.0
        places = [
            (piece.x0 + piece.x1, piece.y0 + piece.y1, _area(piece) * ((color == name) - own))
            for piece, color in pieces
        ]
        ahead = max(_ahead([(p[axis], p[2]) for p in places]) for axis in (0, 1))
        found[name] = own, area, (area - share * every) / face, ahead / face
    return found


def _ahead(places: Sequence[tuple[float, float]]) -> float:
    """The greatest sum, up or down, of what lies before any place; places in line go together."""
    by_place: dict[float, list[float]] = defaultdict(list)
    for place, amount in places:
        by_place[round(place, 3)].append(amount)
    so_far, most = 0.0, 0.0
    for _, amounts in sorted(by_place.items()):
        so_far = math.fsum([so_far, *amounts])
        most = max(most, abs(so_far))
    return most


def _area(piece: Piece) -> float:
    """Area of a piece by its corners, holes off (the surveyor's formula)."""
    if not piece.outline:
        outer = (piece.x1 - piece.x0) * (piece.y1 - piece.y0)
    else:
        outer = _ring(piece.outline)
    return outer - math.fsum(_ring(hole) for hole in piece.holes)


def _ring(points: Sequence[tuple[float, float]]) -> float:
    around = [*points, points[0]]
    return abs(math.fsum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise(around))) / 2.0


# ---------------------------------------------------------------- touching


def _touching(walls: Sequence[JudgedWall]) -> Iterator[tuple[LaidPart, LaidPart]]:
    """Parts that touch: neighbors of a run, over and under, and round a corner in one course."""
    round_corner: dict[tuple[str, int], list[tuple[str, LaidPart]]] = defaultdict(list)
    for wall in walls:
        for run in wall.runs:
            yield from pairwise(run.laid)
            if not run.laid:
                continue
            for end, one in ((run.left, run.laid[0]), (run.right, run.laid[-1])):
                if end.edge and end.edge.corner:
                    round_corner[end.edge.corner, run.rank].append((run.wall, one))
        for course, runs in wall.by_course.items():
            over = [one for run in wall.by_course.get(course + 1, ()) for one in run.laid]
            for low, high in product([one for run in runs for one in run.laid], over):
                if any(_meet(a, b) for a in low.pieces for b in high.pieces):
                    yield low, high
    for ends in round_corner.values():
        for (here, one), (there, two) in combinations(ends, 2):
            if here != there:
                yield one, two


def _meet(low: Piece, high: Piece) -> bool:
    """Whether one piece lies on the other along more than a joint."""
    along = min(low.x1, high.x1) - max(low.x0, high.x0)
    return along >= BLEND_TOUCH_IN and abs(high.y0 - low.y1) <= BLEND_TOUCH_IN


def _largest(parts: Sequence[_Part], alike: Sequence[tuple[_Part, _Part]]) -> int:
    """The most parts that hang together by touching ones."""
    head = {id(part.laid): id(part.laid) for part in parts}

    def top(one: int) -> int:
        while head[one] != one:
            one = head[one]
        return one

    for a, b in alike:
        head[top(id(a.laid))] = top(id(b.laid))
    return max(Counter(top(one) for one in head).values(), default=0)
