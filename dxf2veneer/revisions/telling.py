"""What changed, as messages."""

from __future__ import annotations

from dxf2veneer.basics.messages import Area, Length, Message, message
from dxf2veneer.basics.units import SQUARE_INCHES_PER_SQUARE_FOOT
from dxf2veneer.model import Change, EdgeShifts, OpeningQuantities, RecordedWall


def told_of_wall(
    old: RecordedWall | None,
    new: RecordedWall | None,
    changes: tuple[Change, ...],
    moved: tuple[float, float],
    outline_off: float,
    why: tuple[Message, ...],
) -> Message:
    """What became of a wall.

    Args:
        old: The wall before.
        new: The wall now.
        changes: What holds of it.
        moved: How far it went on its sheet, right and up.
        outline_off: How far its outlines lie apart.
        why: What makes it unsure.

    Returns:
        The message.
    """
    return message(
        "revision-wall",
        changes=changes,
        id_old=old.id if old else None,
        id_new=new.id if new else None,
        name_old=old.wall.name if old else None,
        name_new=new.wall.name if new else None,
        size_old=_wall_size(old),
        size_new=_wall_size(new),
        area_old=_gross(old),
        area_new=_gross(new),
        right=Length(moved[0]),
        up=Length(moved[1]),
        off=Length(outline_off),
        why=why,
    )


def _wall_size(wall: RecordedWall | None) -> tuple[Length, ...]:
    if wall is None:
        return ()
    x0, y0, x1, y1 = wall.wall.box
    return Length(x1 - x0), Length(y1 - y0)


def _gross(wall: RecordedWall | None) -> Area | None:
    found = wall.figures["gross_area_sqft"] if wall else None
    return None if found is None else Area(float(found) * SQUARE_INCHES_PER_SQUARE_FOOT)


def told_of_opening(
    old: OpeningQuantities | None,
    new: OpeningQuantities | None,
    changes: tuple[Change, ...],
    edges: EdgeShifts | None,
    why: tuple[Message, ...],
) -> Message:
    """What became of an opening.

    Args:
        old: The opening before.
        new: The opening now.
        changes: What holds of it.
        edges: How its edges went.
        why: What makes it unsure.

    Returns:
        The message.
    """
    went = edges or EdgeShifts(0.0, 0.0, 0.0, 0.0)
    return message(
        "revision-opening",
        changes=changes,
        kind_old=old.opening.kind if old else None,
        kind_new=new.opening.kind if new else None,
        id_old=old.opening.id if old else None,
        id_new=new.opening.id if new else None,
        name_old=old.opening.name if old else None,
        name_new=new.opening.name if new else None,
        size_old=(Length(old.width), Length(old.height)) if old else (),
        size_new=(Length(new.width), Length(new.height)) if new else (),
        left=Length(went.left),
        right=Length(went.right),
        sill=Length(went.sill),
        head=Length(went.head),
        why=why,
    )
