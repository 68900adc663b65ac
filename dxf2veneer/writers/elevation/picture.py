"""The picture of one elevation: SVG to scale, the same on the report's page and in a file of its
own.

           course line heights
             |         .-''-.
    course   |      .-'      '-.   |-- 13'-4"
    numbers  | 3 -- |   [  ]   | --|-- 12'-8"
             | 2 -- |   [  ]   |
             | 1 -- '-----------'
               end   5 ft scale   outside corner C1

Lengths in the picture are inches of the building; width and height are those of the plot.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import Takeoff, WallTakeoff
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.writers.elevation.frame import Frame
from dxf2veneer.writers.elevation.marks import (
    draw_fragile,
    draw_off_course,
    draw_places,
    draw_pointers,
    draw_slivers,
)
from dxf2veneer.writers.elevation.openings import draw_openings
from dxf2veneer.writers.elevation.pieces import PATTERNS, draw_pieces, patterns
from dxf2veneer.writers.elevation.sides import draw_edges, draw_scale_bar, draw_sides
from dxf2veneer.writers.markup import Markup, joined, number, tag
from dxf2veneer.writers.sizes import TextSizes
from dxf2veneer.writers.texts import Sheet
from dxf2veneer.writers.words import (
    Callout,
    places_of,
    wall_title,
)


def elevation_svg(
    takeoff: Takeoff, wall: WallTakeoff, places: Sequence[Callout], *, alone: bool
) -> Markup:
    """The picture of one wall.

    Args:
        takeoff: The takeoff.
        wall: The wall.
        places: What is marked.
        alone: Whether it is for a file of its own, with its size, its style and a title to every
            piece.

    Returns:
        An element ``svg``; lengths in it are inches of the building.
    """
    frame = Frame.of(takeoff, wall)
    body = _body(takeoff, frame, places, alone=alone)
    view = f"0 0 {number(frame.width)} {number(frame.height)}"
    about: dict[str, str | float | None] = {"class": "elevation", "viewBox": view}
    if not alone:
        about |= {"role": "group", "data-width": frame.width, "data-text": frame.text}
        return tag("svg", about, body)
    drawing = next(d for d in takeoff.drawings if d.index == wall.wall.drawing)
    scale = TextSizes.of(takeoff, drawing).scale / MM_PER_INCH
    size = {
        "width": f"{number(frame.width / scale)}mm",
        "height": f"{number(frame.height / scale)}mm",
    }
    style = tag("style", None, Markup(style_text()))
    told = tag("desc", None, caution_for(Reader.SAW, Reader.INSTALLER, Reader.DESIGNER))
    return tag("svg", {"xmlns": "http://www.w3.org/2000/svg", **about, **size}, told, style, body)


def _body(takeoff: Takeoff, frame: Frame, places: Sequence[Callout], *, alone: bool) -> Markup:
    """All that is drawn. What can't move takes its area of the sheet before what can."""
    sheet, wall, ground, text = Sheet(), frame.wall, frame.ground, frame.text
    sides, edges = draw_sides(frame, sheet), draw_edges(frame, sheet)
    slivers = draw_slivers(wall, ground, text, sheet)
    pointers = draw_pointers(wall, ground, text, sheet)
    openings, names = draw_openings(frame, sheet)
    offs = draw_off_course(wall, pointers, ground, text, frame.display, sheet)
    own = [p for p in places if p.wall == wall.wall.id]
    size = (frame.width, frame.height)
    marks = draw_places(own, ground, text, sheet, size, linked=not alone)
    parts = (
        tag("title", None, wall_title(wall)),
        patterns(wall.wall.id, frame.course, *PATTERNS),
        _ground(frame),
        _courses(frame),
        draw_pieces(takeoff, wall, ground, sheet, titled=alone),
        draw_fragile(takeoff, wall, ground, titled=alone),
        openings,
        edges,
        slivers,
        offs,
        sides,
        draw_scale_bar(frame),
        marks,
        _alert(frame),
        names,  # a mark's line may cross them
    )
    return joined(parts)


def style_text() -> str:
    """The style of pictures.

    It holds no character that XML would take for markup.

    Returns:
        Style rules.
    """
    return (
        files("dxf2veneer.writers.elevation").joinpath("elevation.css").read_text(encoding="utf-8")
    )


def picture_name(wall: WallTakeoff) -> str:
    """The file name of a wall's picture.

    Args:
        wall: The wall.

    Returns:
        Its id, which is safe everywhere; names in drawings are not.
    """
    return f"{wall.wall.id}.svg"


def write_picture(takeoff: Takeoff, wall: WallTakeoff, path: Path) -> None:
    """Write the picture of one wall into a file, whole or not at all.

    Args:
        takeoff: The takeoff.
        wall: The wall.
        path: The file to write.

    Raises:
        OSError: It can't be written.
    """
    text = (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<!-- {BLANK_SEAL} '
        f"-->\n{elevation_svg(takeoff, wall, places_of(takeoff), alone=True)}\n"
    )
    write_whole(path, lambda draft: draft.write_text(text, encoding="utf-8", newline="\n"))


def _alert(frame: Frame) -> Markup:
    """One line on top where the takeoff has errors, so that nobody takes the picture for good."""
    if not frame.alert:
        return Markup()
    return tag(
        "text",
        {
            "class": "alarm",
            "x": 0.5 * frame.text,
            "y": 1.6 * frame.text,
            "font-size": 1.3 * frame.text,
        },
        f"{frame.alert}; see the notices",
    )


def _ground(frame: Frame) -> Markup:
    """The veneer's ground, trim bands and caps."""
    measured, ground = frame.wall.quantities, frame.ground
    trim = tag("path", {"class": "trim", "d": ground.region(measured.trim_region)})
    cap = tag("path", {"class": "cap", "d": ground.region(measured.cap_region)})
    return joined(
        (
            tag(
                "path",
                {"class": "veneer", "d": ground.region(measured.veneer), "fill-rule": "evenodd"},
            ),
            tag(
                "g",
                {"class": "trims", "stroke-width": 0.08 * frame.text, "fill-rule": "evenodd"},
                trim,
                cap,
            ),
        )
    )


def _courses(frame: Frame) -> Markup:
    courses = frame.wall.courses
    lines = "".join(frame.ground.line(line.x0, line.y, line.x1, line.y) for line in courses.lines)
    starters = "".join(
        frame.ground.line(line.x0, line.y, line.x1, line.y) for line in courses.starter_lines
    )
    return joined(
        (
            tag("path", {"class": "course", "d": lines, "stroke-width": 0.06 * frame.text}),
            tag("path", {"class": "starter", "d": starters, "stroke-width": 0.3 * frame.text}),
        )
    )
