"""Corners, ends, caps and level lines before and now; files, layers and units."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from typing import NamedTuple

import numpy as np

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.model import (
    CapMark,
    Change,
    Corner,
    Edge,
    PartChange,
    PartWhat,
    Recorded,
    RecordedDrawing,
    RecordedWall,
    Side,
)
from dxf2veneer.revisions.assignment import best_pairs
from dxf2veneer.revisions.walls import WallPair

_Both = tuple[RecordedWall, RecordedWall, WallPair]


def part_changes(
    old: Recorded, new: Recorded, pairs: Sequence[WallPair], tolerance: float, scale: float
) -> list[PartChange]:
    """Everything besides walls and openings.

    Args:
        old: The takeoff before.
        new: The takeoff now.
        pairs: The walls.
        tolerance: What is off by no more did not move, in inches.
        scale: What lengths before are multiplied by.

    Returns:
        Corners, ends, caps and level lines, each with the one that it was; then files, layers and
        units, of which only what changed.
    """
    found = list(_corners(old, new, pairs, tolerance))
    for pair in pairs:
        found += _ends(pair, tolerance, scale)
        found += _caps(pair, tolerance, scale)
        found += _level(pair, tolerance, scale)
    return [*found, *_files(old, new, pairs)]


# -------------------------------------------------------------------------- corners


def _corners(
    old: Recorded, new: Recorded, pairs: Sequence[WallPair], tolerance: float
) -> Iterator[PartChange]:
    """Corners are known by the sides of the walls that meet there."""
    now_of = {p.old.id: p.new.id for p in pairs if p.old and p.new}
    here: list[_Sides] = [{(now_of.get(wall), side) for wall, side in c.edges} for c in old.corners]
    there: list[_Sides] = [set(c.edges) for c in new.corners]
    worth = np.array([[_alike(a, b, p, q) for b, q in zip(there, new.corners, strict=True)]
                      for a, p in zip(here, old.corners, strict=True)])  # fmt: skip
    row_of = {column: row for row, column in best_pairs(worth)} if worth.size else {}
    for column, corner in enumerate(new.corners):
        row = row_of.get(column)
        yield _corner(None if row is None else old.corners[row], corner, tolerance)
    for row, corner in enumerate(old.corners):
        if row not in row_of.values():
            yield _corner(corner, None, tolerance)


_Sides = Set[tuple[str | None, Side]]
"""Walls by their ids now, and the sides of them that meet."""


def _alike(a: _Sides, b: _Sides, p: Corner, q: Corner) -> float:
    """How much two corners are one: sides in common, tag and kind, and how near their runs are."""
    common = len(a & b)
    if not common:
        return 0.0
    same_tag = p.tag is not None and p.tag == q.tag
    near = min(p.run, q.run) / max(p.run, q.run, 1e-9)
    return common / max(len(a), len(b)) + 0.5 * same_tag + 0.3 * (p.kind == q.kind) + 0.2 * near


def _corner(old: Corner | None, new: Corner | None, tolerance: float) -> PartChange:
    delta = (new.run if new else 0.0) - (old.run if old else 0.0)
    change: Change = "same"
    if old is None or new is None:
        change = "added" if old is None else "removed"
    elif old.kind != new.kind or old.tag != new.tag:
        change = "renamed"
    elif abs(delta) > 2.0 * tolerance:
        change = "resized"
    told = message(
        "revision-corner",
        change=change,
        id_old=old.id if old else None,
        id_new=new.id if new else None,
        kind_old=old.kind if old else None,
        kind_new=new.kind if new else None,
        old=Length(old.run) if old else None,
        new=Length(new.run) if new else None,
        tag_old=old.tag if old else None,
        tag_new=new.tag if new else None,
    )
    return PartChange(
        "corner",
        old.id if old else None,
        new.id if new else None,
        old.edges[0][0] if old else None,
        new.edges[0][0] if new else None,
        change,
        told,
        delta,
    )


# ----------------------------------------------------------- what a wall has in places


class _Stretch(NamedTuple):
    """A straight stretch of a wall, where it lies now or would lie had it stayed in its wall."""

    name: str
    along: str
    """What it has to have in common to be another: the side of an end; empty for a cap."""
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def run(self) -> float:
        """Its length."""
        return abs(self.x1 - self.x0) + abs(self.y1 - self.y0)


def _ends(pair: WallPair, tolerance: float, scale: float) -> Iterator[PartChange]:
    def ends(wall: RecordedWall | None, factor: float, dx: float, dy: float) -> list[_Stretch]:
        edges: Sequence[Edge] = wall.wall.edges if wall else ()
        return [
            _Stretch(
                e.side, e.side, e.x * factor + dx, e.y0 * factor + dy, e.x * factor + dx,
                e.y1 * factor + dy,
            )
            for e in edges if e.kind == "end"
        ]  # fmt: skip

    dx, dy = pair.shift
    yield from _stretches(
        "end", pair, ends(pair.old, scale, dx, dy), ends(pair.new, 1.0, 0.0, 0.0), tolerance
    )


def _caps(pair: WallPair, tolerance: float, scale: float) -> Iterator[PartChange]:
    def caps(wall: RecordedWall | None, factor: float, dx: float, dy: float) -> list[_Stretch]:
        marks: Sequence[CapMark] = wall.wall.caps if wall else ()
        return [
            _Stretch(
                "cap", "", c.x0 * factor + dx, c.y * factor + dy, c.x1 * factor + dx,
                c.y * factor + dy,
            )
            for c in marks
        ]  # fmt: skip

    dx, dy = pair.shift
    yield from _stretches(
        "cap", pair, caps(pair.old, scale, dx, dy), caps(pair.new, 1.0, 0.0, 0.0), tolerance
    )


def _stretches(
    what: PartWhat,
    pair: WallPair,
    old: Sequence[_Stretch],
    new: Sequence[_Stretch],
    tolerance: float,
) -> Iterator[PartChange]:
    """Stretches of one kind in one wall, each with the one that it was."""
    worth = np.array([[_near(a, b) for b in new] for a in old])
    row_of = {column: row for row, column in best_pairs(worth)} if worth.size else {}
    for column, stretch in enumerate(new):
        row = row_of.get(column)
        yield _stretch(what, pair, None if row is None else old[row], stretch, tolerance)
    for row, stretch in enumerate(old):
        if row not in row_of.values():
            yield _stretch(what, pair, stretch, None, tolerance)


def _near(a: _Stretch, b: _Stretch) -> float:
    """How near two stretches lie: 1 for one place, 0 for two sides of a wall."""
    if a.along != b.along:
        return 0.0
    return 1.0 / (1.0 + sum(abs(p - q) for p, q in zip(a[2:], b[2:], strict=True)))


def _stretch(
    what: PartWhat, pair: WallPair, old: _Stretch | None, new: _Stretch | None, tolerance: float
) -> PartChange:
    delta = (new.run if new else 0.0) - (old.run if old else 0.0)
    change: Change = "same"
    if old is None or new is None:
        change = "added" if old is None else "removed"
    elif abs(delta) > 2.0 * tolerance:
        change = "resized"
    elif max(abs(p - q) for p, q in zip(old[2:], new[2:], strict=True)) > tolerance:
        change = "moved"
    wall = pair.new or pair.old
    told = message(
        "revision-stretch",
        change=change,
        what=what,
        wall=wall.id if wall else "",
        name=(new or old or _Stretch("", "", 0, 0, 0, 0)).name,
        old=Length(old.run) if old else None,
        new=Length(new.run) if new else None,
        right=Length(new.x0 - old.x0) if old and new else None,
        up=Length(new.y0 - old.y0) if old and new else None,
    )
    return PartChange(
        what,
        old.name if old else None,
        new.name if new else None,
        pair.old.id if pair.old else None,
        pair.new.id if pair.new else None,
        change,
        told,
        delta,
    )


def _level(pair: WallPair, tolerance: float, scale: float) -> Iterator[PartChange]:
    """The level line that ties a wall's courses to those of others."""
    old_y = pair.old.wall.level_y if pair.old else None
    new_y = pair.new.wall.level_y if pair.new else None
    if old_y is None and new_y is None:
        return
    change: Change = "same"
    up = 0.0
    if old_y is None or new_y is None:
        change = "added" if old_y is None else "removed"
    else:
        up = new_y - (old_y * scale + pair.shift[1])
        change = "moved" if abs(up) > tolerance else "same"
    wall = pair.new or pair.old
    told = message("revision-level", change=change, wall=wall.id if wall else "", up=Length(up))
    yield PartChange(
        "level",
        None if old_y is None else "level",
        None if new_y is None else "level",
        pair.old.id if pair.old else None,
        pair.new.id if pair.new else None,
        change,
        told,
    )


# ------------------------------------------------------------- files, layers, units


def _files(old: Recorded, new: Recorded, pairs: Sequence[WallPair]) -> Iterator[PartChange]:
    both: list[_Both] = [(p.old, p.new, p) for p in pairs if p.old and p.new]
    met = Counter((a.wall.drawing, b.wall.drawing) for a, b, _ in both)
    new_of: dict[int, int] = {}
    for (a, b), _count in met.most_common():
        new_of.setdefault(a, b)
    if not met and len(old.drawings) == len(new.drawings) == 1:
        new_of[0] = 0
    yield from _renamed_files(old, new, met, new_of)
    for a, b in new_of.items():
        yield from _unit(old.drawings[a], new.drawings[b])
    yield from _layers(old, new, both)


def _renamed_files(
    old: Recorded,
    new: Recorded,
    met: Mapping[tuple[int, int], int],
    new_of: Mapping[int, int],
) -> Iterator[PartChange]:
    """Files under another name, and files that are added or gone."""
    for at, drawing in enumerate(old.drawings):
        if at not in new_of:
            yield _file(drawing, None)
        elif drawing.file != new.drawings[new_of[at]].file:
            yield _file(drawing, new.drawings[new_of[at]])
    seen = {b for _, b in met} | set(new_of.values())
    begun = {b: a for (a, b) in met if new_of.get(a) != b}
    for at, drawing in enumerate(new.drawings):
        if at not in seen or at in begun:
            yield _file(None, drawing)


def _file(old: RecordedDrawing | None, new: RecordedDrawing | None) -> PartChange:
    change: Change = "added" if old is None else "removed" if new is None else "renamed"
    names = old.file if old else None, new.file if new else None
    told = message("revision-file", change=change, old=names[0], new=names[1])
    return PartChange("drawing", names[0], names[1], None, None, change, told)


def _unit(old: RecordedDrawing, new: RecordedDrawing) -> Iterator[PartChange]:
    if old.inches_per_unit != new.inches_per_unit:
        told = message("revision-unit", file=new.file, old=old.units, new=new.units)
        yield PartChange("unit", old.units, new.units, None, None, "renamed", told)


def _layers(old: Recorded, new: Recorded, both: Sequence[_Both]) -> Iterator[PartChange]:
    """Layers that hold walls under another name; then those that were added or are gone."""
    here = {name for d in old.drawings for name in d.layers}
    there = {name for d in new.drawings for name in d.layers}
    gone, come = here - there, there - here
    met = Counter((a.wall.layer, b.wall.layer) for a, b, _ in both)
    for (a, b), _count in met.most_common():
        if a in gone and b in come:
            gone, come = gone - {a}, come - {b}
            yield _layer(a, b)
    for name in sorted(gone):
        yield _layer(name, None)
    for name in sorted(come):
        yield _layer(None, name)


def _layer(old: str | None, new: str | None) -> PartChange:
    change: Change = "added" if old is None else "removed" if new is None else "renamed"
    told = message("revision-layer", change=change, old=old, new=new)
    return PartChange("layer", old, new, None, None, change, told)
