"""What site measures change, looked at again from walls and pieces alone.

Laid courses have the joints that were stated; walls that stand as drawn keep their pieces; and the
changed cuts are as many as two cut lists differ by, each course a heap of lengths.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.notices import Notice
from dxf2veneer.basics.tolerances import CUT_SAME_IN, JUDGE_LENGTH_IN, SITE_JOINT_IN
from dxf2veneer.model import CutChanges, Piece, SiteMeasures, WallTakeoff


def check_kept(
    before: Sequence[WallTakeoff],
    walls: Sequence[WallTakeoff],
    site: SiteMeasures,
    changes: CutChanges,
    still: AbstractSet[str],
) -> list[Notice]:
    """What does not agree between site measures, the plan before and the plan now.

    Args:
        before: The walls as drawn, with their pieces.
        walls: The walls as measured, with their pieces.
        site: What was measured, and which courses are laid.
        changes: The list of changed cuts.
        still: Ids of the walls that stood as drawn in the plan before.

    Returns:
        One error for each thing that does not agree.
    """
    return [
        *_laid(walls, site),
        *_still(before, walls, site, still),
        *_counted(before, walls, site, changes),
    ]


def _laid(walls: Sequence[WallTakeoff], site: SiteMeasures) -> Iterator[Notice]:
    """Every stated joint that lies in a run is one of the plan, and none is there besides."""
    by_id = {w.wall.id: w for w in walls}
    for one in site.laid:
        if one.joints is None:
            continue
        pieces = _course(by_id[one.wall], one.course)
        number = by_id[one.wall].courses.number(one.course)
        ends = [p.x1 for p in pieces]
        there = [p.x0 for p in pieces if any(abs(p.x0 - x) <= JUDGE_LENGTH_IN for x in ends)]
        for x in there:
            if not any(abs(x - stated) <= SITE_JOINT_IN + JUDGE_LENGTH_IN for stated in one.joints):
                yield _wrong(
                    message("laid-joint-unstated", wall=one.wall, course=number, at=Length(x))
                )
        for x in one.joints:
            near = any(abs(x - own) <= SITE_JOINT_IN + JUDGE_LENGTH_IN for own in there)
            if not near and any(p.x0 + SITE_JOINT_IN < x < p.x1 - SITE_JOINT_IN for p in pieces):
                yield _wrong(
                    message("laid-joint-missing", wall=one.wall, course=number, at=Length(x))
                )


def _still(
    before: Sequence[WallTakeoff],
    walls: Sequence[WallTakeoff],
    site: SiteMeasures,
    still: AbstractSet[str],
) -> Iterator[Notice]:
    """A wall that stands as drawn keeps its pieces; one at a bay may give way with the other."""
    touched = {one.wall for one in site.laid if one.joints is not None}
    for old, new in zip(before, walls, strict=True):
        at_bay = any(edge.kind == "mitre" for edge in new.wall.edges)
        if (
            new.wall.id not in still
            or at_bay
            or new.wall.id in touched
            or new.wall.region != old.wall.region
        ):
            continue
        if [o.region for o in new.wall.openings] != [o.region for o in old.wall.openings]:
            continue
        places = [
            [(p.course, round(p.x0, 4), round(p.x1, 4), p.unit) for p in w.courses.pieces]
            for w in (old, new)
        ]
        moved = next((b for a, b in zip(*places, strict=False) if a != b), None)
        if moved or len(places[0]) != len(places[1]):
            course, x = (moved[0], moved[1]) if moved else (0, new.wall.box[0])
            number = new.courses.number(course)
            yield _wrong(
                message("still-wall-changed", wall=new.wall.id, course=number, at=Length(x))
            )


def _counted(
    before: Sequence[WallTakeoff],
    walls: Sequence[WallTakeoff],
    site: SiteMeasures,
    changes: CutChanges,
) -> Iterator[Notice]:
    """Lengths that are in one cut list and not in the other are listed as changed."""
    done = {(one.wall, one.course) for one in site.laid}
    listed = Counter((c.wall, c.course) for c in changes.cuts if c.what != "removed")
    total = 0
    for old, new in zip(before, walls, strict=True):
        for course in sorted({p.course for w in (old, new) for p in w.courses.pieces}):
            if (new.wall.id, course) in done:
                continue
            was, now = _course(old, course), _course(new, course)
            total += len(now)
            if _unmatched(was, now) > listed[new.wall.id, course]:
                yield _wrong(
                    message(
                        "changed-cut-unlisted",
                        wall=new.wall.id,
                        course=new.courses.number(course),
                        at=Length(new.wall.box[0]),
                    )
                )
    if total != changes.unchanged + listed.total():
        count = message("changed-cuts-miscounted", pieces=total)
        yield Notice("CROSS_CHECK", count)


def _course(wall: WallTakeoff, course: int) -> list[Piece]:
    return [p for p in wall.courses.pieces if p.course == course]


def _unmatched(old: Sequence[Piece], new: Sequence[Piece]) -> int:
    """How many pieces find none of their length and unit among those before."""
    left = [(p.unit, p.length) for p in old]
    missing = 0
    for unit, length in sorted((p.unit, p.length) for p in new):
        near = [one for one in left if one[0] == unit and abs(one[1] - length) <= CUT_SAME_IN]
        if near:
            left.remove(min(near, key=lambda one: abs(one[1] - length)))
        else:
            missing += 1
    return missing


def _wrong(what: Message) -> Notice:
    return Notice("CROSS_CHECK", what)
