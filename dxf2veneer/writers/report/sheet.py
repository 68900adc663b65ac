"""One elevation of the page: its title and measures, its picture, its legend, and what switches
layers of all pictures."""

from __future__ import annotations

from collections.abc import Sequence

from dxf2veneer.basics.units import square_feet
from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.textio.escaping import legible
from dxf2veneer.wording.measures import area_text, length_text
from dxf2veneer.writers.elevation.picture import elevation_svg
from dxf2veneer.writers.markup import Markup, joined, tag
from dxf2veneer.writers.report.legend import keys_of
from dxf2veneer.writers.words import Callout, datum_words, file_name, wall_title

_LAYERS = {
    "pieces": "Pieces",
    "labels": "Labels",
    "cuts": "Sawn ends",
    "trims": "Trim and cap",
    "offs": "Off the course lines",
    "places": "Notices",
}
_HOW = "how"
_HOW_WORDS = (
    "Point at a piece or tap it; in a drawing reached by Tab the arrow keys go from piece to "
    "piece. Enter leads to the other parts of its panel, Escape back."
)


def region(id: str, name: str) -> dict[str, str | float | None]:
    """Attributes of a part of the page that a screen reader can jump to.

    Args:
        id: The id that links lead to.
        name: What a screen reader calls it.

    Returns:
        The attributes by name.
    """
    return {"id": id, "aria-label": name}


def tools(takeoff: Takeoff) -> Markup:
    """The switch for layers, and how to get at the pieces.

    Args:
        takeoff: The takeoff.

    Returns:
        The boxes, and a line below where there are pieces.
    """
    drawn = (
        _LAYERS
        if takeoff.plan
        else {k: v for k, v in _LAYERS.items() if k not in ("pieces", "cuts")}
    )
    boxes = (
        tag(
            "label",
            None,
            tag("input", {"type": "checkbox", "data-layer": k, "checked": ""}),
            f" {v}",
        )
        for k, v in drawn.items()
    )
    switch = tag(
        "div",
        {"class": "tools", "role": "group", "aria-label": "Layers of the drawings"},
        tag("b", None, "Show"),
        *boxes,
    )
    how = tag("p", {"id": _HOW, "class": "quiet"}, _HOW_WORDS)
    return joined((switch, how if takeoff.plan else ""))


def sheet(takeoff: Takeoff, wall: WallTakeoff, places: Sequence[Callout]) -> Markup:
    """One elevation: title, measures, picture, legend.

    Args:
        takeoff: The takeoff.
        wall: The wall.
        places: What is marked in the pictures.

    Returns:
        A section of the page.
    """
    zooms = (
        tag("button", {"type": "button", "data-zoom": step, "aria-label": about}, sign)
        for step, about, sign in (
            ("1.6", "Zoom in", "+ Zoom in"),
            ("0.625", "Zoom out", "− Zoom out"),
            ("0", "Fit the elevation", "Fit"),
        )
    )
    keys, said = keys_of(takeoff, wall), f"about-{wall.wall.id}"
    has_pieces = bool(wall.courses.pieces)
    return tag(
        "section",
        {"class": "sheet", **region(wall.wall.id, wall_title(wall))},
        tag("h2", None, wall_title(wall)),
        tag("p", {"class": "quiet", "id": said}, about_wall(takeoff, wall)),
        tag("div", {"class": "zoom"}, *zooms),
        tag(
            "div",
            {
                "class": "stage",
                "tabindex": "0",
                "role": "application" if has_pieces else "group",
                "aria-label": f"Drawing of {wall_title(wall)}",
                "aria-describedby": f"{said} {_HOW}" if has_pieces else said,
            },
            elevation_svg(takeoff, wall, places, alone=False),
        ),
        tag("ul", {"class": "keys"}, *(tag("li", None, picture, text) for text, picture in keys)),
    )


def about_wall(takeoff: Takeoff, wall: WallTakeoff) -> str:
    """A wall's measures in one line.

    Args:
        takeoff: The takeoff.
        wall: The wall.

    Returns:
        One line.
    """
    show, q = takeoff.job.output.display, wall.quantities
    x0, y0, x1, y1 = wall.wall.box
    drawing = next(d for d in takeoff.drawings if d.index == wall.wall.drawing)
    count = next(
        (c for c in (takeoff.plan.walls if takeoff.plan else ()) if c.wall == wall.wall.id), None
    )
    words = [
        f"{length_text(x1 - x0, show)} wide, {length_text(y1 - y0, show)} high",
        f"net {area_text(square_feet(q.net_area), show)}",
        f"{len(wall.courses.courses)} courses",
        f"{count.pieces} pieces; {count.flat} flat and {count.corner} corner panels begun here"
        if count
        else "",
        f"same courses and joints as {count.like}" if count and count.like else "",
        f"{datum_words(wall)}; from {file_name(drawing)}",
    ]
    return legible("; ".join(filter(None, words)))
