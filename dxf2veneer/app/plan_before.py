"""The plan of an earlier drawing by the walls of a revised one, so that it can be kept."""

from __future__ import annotations

import dataclasses

from dxf2veneer.app.laying import LaidOut
from dxf2veneer.geometry import Point
from dxf2veneer.model import (
    CoursePlan,
    Piece,
    PieceRef,
    Recognised,
    RecordedWall,
    StartTable,
    StockUnit,
    Takeoff,
    Wall,
)
from dxf2veneer.revisions.placing import scale_between
from dxf2veneer.revisions.walls import WallPair, wall_pairs


def plan_before(old: Takeoff, found: Recognised) -> LaidOut | None:
    """The plan of an earlier takeoff under the ids that its walls have in a revised drawing, and in
    the places where they lie there.

    Args:
        old: The takeoff before.
        found: The walls of the revised drawing.

    Returns:
        The walls that are surely the same ones with their pieces, and the panels; None where there
        was no plan, or several products have plans of their own.
    """
    if old.plan is None or old.parts:
        return None
    here = [_bare(entry.wall) for entry in old.walls]
    there = [_bare(wall) for wall in found.walls]
    if scale_between(here, there) != 1.0:
        return None
    pairs = {p.old.id: p for p in wall_pairs(here, there, 1.0) if p.old and p.new and not p.unsure}
    walls = tuple(
        dataclasses.replace(
            entry,
            wall=dataclasses.replace(entry.wall, id=_id(pairs[entry.wall.id])),
            courses=dataclasses.replace(
                entry.courses,
                pieces=tuple(_moved(p, pairs[entry.wall.id]) for p in entry.courses.pieces),
            ),
        )
        for entry in old.walls
        if entry.wall.id in pairs
    )
    ids = {identifier: _id(pair) for identifier, pair in pairs.items()}
    starts = tuple(_start(table, ids) for table in old.starts)
    return LaidOut(walls, _plan(old.plan, ids), (), starts)


def _bare(wall: Wall) -> RecordedWall:
    return RecordedWall(wall, (), {})


def _id(pair: WallPair) -> str:
    return pair.new.id if pair.new else ""


def _start(table: StartTable, ids: dict[str, str]) -> StartTable:
    """The heights of the starter, by walls in the order that they have now."""
    known = [ids[wall] for wall in table.walls if wall in ids]
    return dataclasses.replace(table, walls=tuple(sorted(known, key=_number)))


def _number(identifier: str) -> tuple[int, str]:
    digits = identifier.removeprefix("W")
    return (int(digits), "") if digits.isdecimal() else (0, identifier)


def _plan(plan: CoursePlan, ids: dict[str, str]) -> CoursePlan:
    """Panels whose parts are named by the walls now; parts of walls that are gone are none."""
    units = (_unit(unit, ids) for unit in plan.units)
    return dataclasses.replace(plan, units=tuple(unit for unit in units if unit.parts))


def _unit(unit: StockUnit, ids: dict[str, str]) -> StockUnit:
    parts = tuple(PieceRef(ids[p.wall], p.course, p.number) for p in unit.parts if p.wall in ids)
    return dataclasses.replace(unit, parts=parts)


def _moved(piece: Piece, pair: WallPair) -> Piece:
    dx, dy = pair.shift

    def there(points: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple((x + dx, y + dy) for x, y in points)

    return dataclasses.replace(
        piece,
        x0=piece.x0 + dx,
        x1=piece.x1 + dx,
        y0=piece.y0 + dy,
        y1=piece.y1 + dy,
        outline=there(piece.outline),
        holes=tuple(there(hole) for hole in piece.holes),
    )
