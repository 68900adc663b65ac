"""Two takeoffs compared."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import REVISION_MOVE_IN
from dxf2veneer.model import (
    DRAFTING,
    Change,
    OpeningChange,
    PartChange,
    Recorded,
    Revision,
    WallChange,
)
from dxf2veneer.revisions.amounts import added, deducted, difference, line_changes
from dxf2veneer.revisions.openings import opening_changes
from dxf2veneer.revisions.outlines import Outline, apart
from dxf2veneer.revisions.parts import part_changes
from dxf2veneer.revisions.placing import scale_between
from dxf2veneer.revisions.telling import told_of_wall
from dxf2veneer.revisions.walls import WallPair, wall_pairs


def compare(
    old: Recorded,
    new: Recorded,
    *,
    tolerance: float = REVISION_MOVE_IN,
    notes: Sequence[Message] = (),
) -> Revision:
    """What changed from one takeoff to another of the same job.

    Args:
        old: The takeoff before.
        new: The takeoff now.
        tolerance: Edges that are off by no more than this many inches did not move.
        notes: What there is to say beforehand.

    Returns:
        Walls, openings and all else that was matched, and what the changes do.
    """
    scale = scale_between(old.walls, new.walls)
    pairs = wall_pairs(old.walls, new.walls, scale)
    openings = opening_changes(pairs, tolerance, scale)
    parts = part_changes(old, new, pairs, tolerance, scale)
    walls = [_wall_change(pair, tolerance, scale) for pair in pairs]
    walls = [_touched(wall, openings, parts) for wall in walls]
    delta = difference(old.totals, new.totals)
    told = [*notes]
    if scale != 1.0:
        told.append(message("revision-other-scale", times=scale))
    return Revision(
        old=old,
        new=new,
        tolerance=tolerance,
        walls=tuple(walls),
        openings=tuple(openings),
        parts=tuple(parts),
        delta=delta,
        add=added(walls, delta),
        deduct=deducted(walls, delta),
        lines=tuple(line_changes(old.lines, new.lines)),
        notes=tuple(told),
    )


def _wall_change(pair: WallPair, tolerance: float, scale: float) -> WallChange:
    old, new = pair.old, pair.new
    delta = difference(old.figures if old else None, new.figures if new else None)
    if old is None or new is None:
        change: Change = "added" if old is None else "removed"
        told = told_of_wall(old, new, (change,), (0.0, 0.0), 0.0, ())
        return WallChange(old, new, change, told, (change,), delta=delta)
    here, there = Outline(old.wall.region, scale), Outline(new.wall.region)
    off = apart(here, there, pair.shift)
    moved = pair.shift[0] - pair.sheet[0], pair.shift[1] - pair.sheet[1]
    is_moved = max(map(abs, moved)) > tolerance
    changes: list[Change] = ["unsure"] if pair.unsure else []
    if off > tolerance or scale != 1.0:
        changes.append("resized")
    if is_moved:
        changes.append("moved")
    if old.wall.name != new.wall.name:
        changes.append("renamed")
    return WallChange(
        old=old,
        new=new,
        change=changes[0] if changes else "same",
        told=told_of_wall(old, new, tuple(changes), moved, off, pair.unsure),
        changes=tuple(changes),
        shift=pair.shift,
        moved=moved if is_moved else (0.0, 0.0),
        outline_off=off,
        delta=delta,
        why=pair.unsure,
    )


def _touched(
    wall: WallChange, openings: Sequence[OpeningChange], parts: Sequence[PartChange]
) -> WallChange:
    """The wall with whether anything of it changed."""
    changed = [(o.wall_old, o.wall_new) for o in openings if o.change != "same"]
    changed += [
        (p.wall_old, p.wall_new) for p in parts if p.change != "same" and p.what not in DRAFTING
    ]
    own = any(_is_of(wall, *walls) for walls in changed)
    return dataclasses.replace(wall, touched=wall.change != "same" or own)


def _is_of(wall: WallChange, old: str | None, new: str | None) -> bool:
    return (old is not None and old == wall.id_old) or (new is not None and new == wall.id_new)
