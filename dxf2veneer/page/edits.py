"""Each change of the marks that a person can make, as a function of the marks alone."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping
from typing import Any

from shapely.geometry import Polygon

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.basics.tolerances import FARTHEST_DRAWN
from dxf2veneer.basics.units import PLAUSIBLE, parse_length, unit_by_name
from dxf2veneer.config.job_values import LINE_KINDS
from dxf2veneer.page.bounds import HOWS, bounded
from dxf2veneer.page.cropping import cropped, uncropped
from dxf2veneer.page.edges import marked, tagged
from dxf2veneer.page.fitting import fitting_kind, kind_there
from dxf2veneer.page.marks import KINDS, Kind, Mark, Marks, Points, Unit, corners_of
from dxf2veneer.page.shaping import cleared, joined, made

_ROUND = 0.02
"""A pointed length this near to a whole unit means that unit: lines are pointed at within a hair.
Our own default."""
_LONGEST_NAME = 80


class EditError(TakeoffError):
    """A change that can't be made."""


def edited(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """The marks after a change.

    Args:
        marks: The marks before it.
        edit: What to do (``do``) and what it needs, as the page sends it.

    Returns:
        The marks after it.

    Raises:
        EditError: There is no such change, or it can't be made.
    """
    try:
        return _DOING[edit["do"]](marks, edit)
    except (KeyError, TypeError, ValueError) as error:
        if isinstance(error, TakeoffError):
            raise
        raise EditError(message("page-edit-wrong")) from error


def _make(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """An outline becomes what was chosen, ``fits`` what fits, ``part`` a part of the wall beside
    it, ``nothing`` nothing."""
    outline = _outline(edit["outline"])
    kind = str(edit["kind"])
    if kind == "fits":
        kind = kind_there(marks, outline) or fitting_kind(marks, outline)
    if kind == "nothing":
        return cleared(marks, outline)
    if kind == "part":
        return joined(marks, outline)
    return made(marks, _kind(kind), outline)


def unit_of(drawn: float, length: str) -> Unit:
    """The unit in which a distance in the drawing is a known length.

    Args:
        drawn: The distance in drawing units.
        length: What it is, as people write lengths: ``3'-0"``, ``36``, ``914 mm``.

    Returns:
        An everyday unit where one makes it that length, else the inch with a scale.

    Raises:
        EditError: The distance or the length is nothing.
        WrongValueError: The text is no length.
    """
    inches = parse_length(length)
    if not drawn > 0.0 or not inches > 0.0:
        raise EditError(message("page-unit-needs-length"))
    each = inches / drawn
    for name in PLAUSIBLE:
        if abs(each / unit_by_name(name).inches - 1.0) <= _ROUND:
            return Unit(name)
    return Unit("in", float(f"{each:.6g}"))


def _drop(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A mark is taken out; with a wall go the openings that lie in it alone."""
    if any(m.id == int(edit["mark"]) for m in marks.lines):
        left = tuple(m for m in marks.lines if m.id != int(edit["mark"]))
        return dataclasses.replace(marks, lines=left)
    gone = marks.by_id(int(edit["mark"]))
    rest = [m for m in marks.marks if m.id != gone.id]
    if gone.kind == "wall":
        others = [m.polygon for m in rest if m.kind == "wall"]
        rest = [m for m in rest if m.kind == "wall" or not _only_in(m, gone, others)]
    return marks.having(rest)


def _only_in(opening: Mark, wall: Mark, others: list[Polygon]) -> bool:
    point = opening.polygon.representative_point()
    return wall.polygon.covers(point) and not any(o.covers(point) for o in others)


def _change(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A mark becomes another kind."""
    mark, kind = marks.by_id(int(edit["mark"])), _kind(edit["kind"])
    return _replaced(marks, dataclasses.replace(mark, kind=kind))


def _rename(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A wall gets a name."""
    mark = marks.by_id(int(edit["mark"]))
    name = " ".join(str(edit["name"]).replace("=", " ").split())[:_LONGEST_NAME]
    return _replaced(marks, dataclasses.replace(mark, name=name))


def _replaced(marks: Marks, mark: Mark) -> Marks:
    return marks.having(mark if m.id == mark.id else m for m in marks.marks)


def _unit(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """The unit by its name, or by two points and what lies between them."""
    if "length" in edit:
        (x0, y0), (x1, y1) = (_point(p) for p in edit["points"])
        drawn = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
        return dataclasses.replace(marks, unit=unit_of(drawn, str(edit["length"])))
    name = edit["unit"]
    return dataclasses.replace(marks, unit=Unit(unit_by_name(name).name if name else None))


def _look(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A person says of a view whether it has been looked at."""
    view = frozenset({str(edit["view"])})
    seen = marks.looked_at | view if edit["seen"] else marks.looked_at - view
    return dataclasses.replace(marks, looked_at=seen)


def _bound(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A line becomes a border of a wall."""
    how = str(edit["how"])
    if how not in HOWS:
        raise EditError(message("page-edit-wrong"))
    start, end = (_point(p) for p in edit["line"])
    if start == end:
        raise EditError(message("page-edit-wrong"))
    return bounded(marks, (start, end), _point(edit["at"]), how)


def _mark_line(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """An edge, a cap or a level is marked, or its mark taken out."""
    kind = str(edit["kind"])
    if kind not in (*LINE_KINDS, "nothing"):
        raise EditError(message("page-edit-wrong"))
    return marked(marks, kind, _point(edit["at"]), float(edit["reach"]))


def _tag(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A marked edge gets a tag."""
    return tagged(marks, int(edit["mark"]), str(edit["tag"]))


def _kind(text: object) -> Kind:
    for kind in KINDS:
        if kind == text:
            return kind
    raise EditError(message("page-edit-wrong"))


def _outline(points: Any) -> Points:
    corners = corners_of(_point(p) for p in points)
    if not corners:
        raise EditError(message("page-outline-encloses-nothing"))
    return corners


def _point(pair: Any) -> tuple[float, float]:
    x, y = (float(v) for v in pair)
    if not (abs(x) < FARTHEST_DRAWN and abs(y) < FARTHEST_DRAWN):
        raise EditError(message("page-edit-wrong"))
    return x, y


def _crop(marks: Marks, edit: Mapping[str, Any]) -> Marks:
    """A view is cropped to a box, or everything is read again."""
    if edit["box"] is None:
        return uncropped(marks)
    x0, y0, x1, y1 = (float(v) for v in edit["box"])
    (x0, y0), (x1, y1) = _point((x0, y0)), _point((x1, y1))
    views = [(float(a), float(b), float(c), float(d)) for a, b, c, d in edit["views"]]
    return cropped(marks, (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)), views)


_DOING: Mapping[str, Callable[[Marks, Mapping[str, Any]], Marks]] = {
    "make": _make,
    "drop": _drop,
    "change": _change,
    "rename": _rename,
    "unit": _unit,
    "look": _look,
    "bound": _bound,
    "crop": _crop,
    "line": _mark_line,
    "tag": _tag,
}
EDITS = frozenset(_DOING)
"""Names of all changes."""
