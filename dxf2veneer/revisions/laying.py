"""Walls before and now laid on each other, and where they changed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from statistics import median

import shapely

from dxf2veneer.basics.messages import Message
from dxf2veneer.geometry import Region, RegionPart
from dxf2veneer.model import (
    DRAFTING,
    ChangedPlace,
    LaidOpening,
    LaidWall,
    OpeningChange,
    PartChange,
    RecordedWall,
    Revision,
    WallChange,
)
from dxf2veneer.revisions.outlines import Box, Shift
from dxf2veneer.revisions.placing import scale_between


def laid_walls(revision: Revision) -> tuple[LaidWall, ...]:
    """The walls that changed, each as it was laid on what it is.

    Args:
        revision: The comparison.

    Returns:
        The walls in the order of the comparison; numbers of their places run through all.
    """
    scale = scale_between(revision.old.walls, revision.new.walls)
    sheets = _Sheets(revision)
    numbers = count(1)
    return tuple(
        _laid(wall, revision, scale, sheets, numbers) for wall in revision.walls if wall.touched
    )


class _Sheets:
    """Where what is gone would lie: as the walls beside it went from one drawing to the other."""

    def __init__(self, revision: Revision) -> None:
        self._went: dict[int, list[tuple[int, Shift]]] = {}
        for wall in revision.walls:
            if wall.old and wall.new:
                shift = wall.shift[0] - wall.moved[0], wall.shift[1] - wall.moved[1]
                found = self._went.setdefault(wall.old.wall.drawing, [])
                found.append((wall.new.wall.drawing, shift))

    def of(self, wall: RecordedWall) -> tuple[int, Shift]:
        """The new drawing that a wall that is gone would lie on, and its shift."""
        went = self._went.get(wall.wall.drawing, [])
        if not went:
            return 0, (0.0, 0.0)
        drawing = max({d for d, _ in went}, key=lambda d: sum(one == d for one, _ in went))
        shifts = [shift for one, shift in went if one == drawing]
        return drawing, (median(s[0] for s in shifts), median(s[1] for s in shifts))


def _laid(
    wall: WallChange, revision: Revision, scale: float, sheets: _Sheets, numbers: Iterator[int]
) -> LaidWall:
    if wall.new:
        drawing, shift = wall.new.wall.drawing, wall.shift
    else:
        assert wall.old is not None
        drawing, shift = sheets.of(wall.old)
    old = _moved(wall.old.wall.region, scale, shift) if wall.old else None
    new = wall.new.wall.region if wall.new else None
    openings = [o for o in revision.openings if _is_of(wall, o.wall_old, o.wall_new)]
    changed = [o for o in openings if o.change != "same"]
    ids_old, ids_new = {o.id_old for o in changed}, {o.id_new for o in changed}
    before = tuple(
        LaidOpening(m, _moved(m.opening.region, scale, shift), m.opening.id in ids_old)
        for m in (wall.old.openings if wall.old else ())
    )
    now = tuple(
        LaidOpening(m, m.opening.region, m.opening.id in ids_new)
        for m in (wall.new.openings if wall.new else ())
    )
    places: list[tuple[Message, Sequence[Box]]] = []
    if wall.change != "same":
        places.append((wall.told, _wall_boxes(wall, old, new, revision.tolerance)))
    places += [(o.told, _opening_boxes(o, before, now)) for o in changed]
    if wall.old and wall.new:
        places += [
            (part.told, _part_boxes(part, wall, revision, scale, shift))
            for part in revision.parts
            if part.change != "same"
            and part.what not in DRAFTING
            and _is_of(wall, part.wall_old, part.wall_new)
        ]
    return LaidWall(
        wall,
        drawing,
        old,
        new,
        before,
        now,
        tuple(ChangedPlace(next(numbers), told, tuple(boxes)) for told, boxes in places),
    )


def _is_of(wall: WallChange, old: str | None, new: str | None) -> bool:
    """Whether something is told with a wall: with that where it is now, or was."""
    return new == wall.id_new if new is not None else old is not None and old == wall.id_old


def _moved(region: Region, scale: float, shift: Shift) -> Region:
    if scale != 1.0:
        parts = (
            RegionPart(p.outer.scaled(scale), tuple(h.scaled(scale) for h in p.holes))
            for p in region.parts
        )
        region = Region(tuple(parts))
    return region.moved(*shift)


def _around(boxes: Iterable[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def _wall_boxes(
    wall: WallChange, old: Region | None, new: Region | None, tolerance: float
) -> list[Box]:
    """Where outlines differ; all of a wall that came, went or moved; nothing for a name."""
    if old is None or new is None or "moved" in wall.changes or "unsure" in wall.changes:
        return [_around(region.box for region in (old, new) if region is not None)]
    if "resized" not in wall.changes:
        return []
    apart = shapely.symmetric_difference(old.polygon, new.polygon).buffer(-tolerance / 2.0)
    parts = [part.bounds for part in shapely.get_parts(apart) if not part.is_empty]
    found = [(float(a), float(b), float(c), float(d)) for a, b, c, d in parts]
    return found or [_around((old.box, new.box))]


def _opening_boxes(
    change: OpeningChange, old: Sequence[LaidOpening], new: Sequence[LaidOpening]
) -> list[Box]:
    """Where an opening is and was in this wall."""
    if set(change.changes) == {"renamed"}:
        return [o.region.box for o in new if o.measured.opening.id == change.id_new]
    boxes = [
        o.region.box
        for openings, own in ((old, change.id_old), (new, change.id_new))
        for o in openings
        if o.measured.opening.id == own
    ]
    return [_around(boxes)] if boxes else []


def _part_boxes(
    part: PartChange, wall: WallChange, revision: Revision, scale: float, shift: Shift
) -> list[Box]:
    """Where a corner, end, cap or level line is or was."""
    assert wall.old is not None and wall.new is not None
    old, new = wall.old.wall, wall.new.wall

    def there(x0: float, y0: float, x1: float, y1: float) -> Box:
        dx, dy = shift
        return x0 * scale + dx, y0 * scale + dy, x1 * scale + dx, y1 * scale + dy

    match part.what:
        case "corner" | "end":
            is_end = part.what == "end"
            edges = [(e.x, e.y0, e.x, e.y1) for e in new.edges
                     if part.id_new in ((e.side,) if is_end else (e.corner,))]  # fmt: skip
            edges += [there(e.x, e.y0, e.x, e.y1) for e in old.edges
                      if part.id_old in ((e.side,) if is_end else (e.corner,))]  # fmt: skip
            return [_around(edges)] if edges else []
        case "cap":
            before = [there(c.x0, c.y, c.x1, c.y) for c in old.caps]
            now = [(c.x0, c.y, c.x1, c.y) for c in new.caps]
            return [*_lacking(now, before, revision), *_lacking(before, now, revision)]
        case "level":
            levels = [box.level_y for box in (new, old) if box.level_y is not None]
            x0, _, x1, _ = new.region.box
            if new.level_y is None:
                levels = [y * scale + shift[1] for y in levels]
            return [(x0, levels[0], x1, levels[0])]
    return []


def _lacking(boxes: Sequence[Box], others: Sequence[Box], revision: Revision) -> Iterator[Box]:
    """Boxes that lie in no place of another."""
    for box in boxes:
        if not any(math.dist(box, other) <= 2.0 * revision.tolerance for other in others):
            yield box
