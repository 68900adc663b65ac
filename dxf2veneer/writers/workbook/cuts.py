"""The sheets to saw by: every piece by wall and course from the bottom up, and every unit with its
parts.

A unit is cut where the cut list meets it first; the row says where its rest goes, and the rows of
the rest say where it comes from.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from openpyxl.workbook import Workbook

from dxf2veneer.basics.tolerances import SPECK_IN
from dxf2veneer.model import (
    CourseNumbers,
    CoursePlan,
    Piece,
    PieceRef,
    StockUnit,
    Takeoff,
    WallTakeoff,
)
from dxf2veneer.model.parts import product_name
from dxf2veneer.wording.blend import boxes_line
from dxf2veneer.wording.cautions import Reader, caution_for
from dxf2veneer.wording.mitres import beside_words, piece_text
from dxf2veneer.writers.workbook.cells import PlacedTable, place, sheet_of
from dxf2veneer.writers.workbook.columns import COUNT, READING, Column, Display, Row, Strong
from dxf2veneer.writers.workbook.measures import HEADER, finish
from dxf2veneer.writers.workbook.page import write_title
from dxf2veneer.writers.workbook.shapes import shape_lines


@dataclass(frozen=True)
class PanelParts:
    """What every unit is cut into, in the order in which the cut list comes to it."""

    units: Mapping[str, StockUnit]
    order: Mapping[PieceRef, int]
    pieces: Mapping[PieceRef, Piece]
    beside: Mapping[PieceRef, str]
    """What to say of pieces that a miter parts from the next one in their panel."""
    numbers: CourseNumbers
    """Numbers of courses."""

    @classmethod
    def of(cls, takeoff: Takeoff, plan: CoursePlan) -> PanelParts:
        """Those of the plan."""
        pieces = {PieceRef(w.wall.id, p.course, p.number): p for w, p in listed(takeoff)}
        order = {ref: n for n, ref in enumerate(pieces)}
        numbers = takeoff.course_number
        beside = beside_words(plan.mitres, numbers)
        return cls({u.id: u for u in plan.units}, order, pieces, beside, numbers)

    @property
    def has_colors(self) -> bool:
        """Whether the product has several colors."""
        return any(unit.color for unit in self.units.values())

    def name(self, ref: PieceRef) -> str:
        """A piece as a person finds it, such as ``W1 course 1 piece 3``."""
        return piece_text(ref, self.numbers)

    def color_of(self, piece: Piece) -> str:
        """The name of a piece's color; empty where the product has but one."""
        return self.units[piece.stock].color if piece.stock in self.units else ""

    def part_of(self, wall: str, piece: Piece) -> PieceRef | None:
        """The unit's part that the piece is, or that it is one of the grounds of (a part with a
        slot through it)."""
        unit = self.units.get(piece.stock)
        found = (
            (r for r in unit.parts if r[:2] == (wall, piece.course) and self._at(r) == piece.at)
            if unit
            else iter(())
        )
        return next(found, None)

    def _at(self, ref: PieceRef) -> float | None:
        return self.pieces[ref].at if ref in self.pieces else None

    def cut_order(self, unit: StockUnit) -> list[PieceRef]:
        """The unit's parts, the one that the cut list meets first in front."""
        return sorted(unit.parts, key=lambda ref: self.order.get(ref, len(self.order)))


def listed(takeoff: Takeoff) -> Iterator[tuple[WallTakeoff, Piece]]:
    """Every piece with its wall in the order of the cut list, as a crew lays them (rule L26).

    Walls that meet at corners rise together, course by course; others one after the other.

    Args:
        takeoff: The takeoff.

    Returns:
        Walls and pieces.
    """
    number = {entry.wall.id: n for n, entry in enumerate(takeoff.walls)}
    plan = takeoff.plan
    first = {w.wall: number.get(w.rises_with, number[w.wall]) for w in plan.walls} if plan else {}
    pieces = [(entry, piece) for entry in takeoff.walls for piece in entry.courses.pieces]

    def laid(pair: tuple[WallTakeoff, Piece]) -> tuple[float, ...]:
        entry, piece = pair
        wall, rank = entry.wall.id, piece.course + entry.courses.rise
        own = number[wall]
        return first.get(wall, own), rank, own, piece.number, piece.x0, piece.y0

    yield from sorted(pieces, key=laid)


def add_cut_list(
    book: Workbook, takeoff: Takeoff, display: Display, parts: PanelParts
) -> PlacedTable:
    """One row a piece, course by course from the bottom up, as a saw hand works.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.
        parts: What every panel is cut into.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Cut list")
    unit, fraction = display.size_unit, display.fraction_format
    columns = [
        Column("wall", "Wall", 8),
        Column("course", "Course", 8, COUNT),
        Column("piece", "Piece", 7, COUNT),
        Column("x", f"From left\nedge, {unit}", 11, fraction),
        Column("what", "What it is", 22),
        Column("unit", "From\npanel", 8),
        *([Column("color", "Color", 12)] if parts.has_colors else []),
        *([Column("product", "Product", 20)] if takeoff.parts else []),
        Column("length", f"Cut\nlength, {unit}", 11, fraction),
        Column("rip", f"Rip to\nheight, {unit}", 11, fraction),
        Column("angle", "Angle\ndegrees", 9, "0.0"),
        Column("left", "Left\nend", 9),
        Column("right", "Right\nend", 9),
        Column("glued", "Glued", 7),
        Column("rest", "Shape, measured on the piece; rest of its panel", 50),
    ]
    to = "whole millimeters" if display.is_metric else "1/16 in"
    note = (
        "In the order of laying: walls that meet at corners rise together, course by course. "
        "Course 1 is the lowest, piece 1 the leftmost; left and right as you face the "
        f"wall. Lengths to {to}. Keep factory and finished ends: "
        "cut the other one. F is a flat panel, C a corner panel. Glued: a partial panel "
        "without its flange. Whole panels are laid uncut: filter them out to see the "
        "saw's work. "
        "Check a length on the wall before you cut. "
        f"{boxes_line(takeoff.job, takeoff.product)} {caution_for(Reader.SAW, Reader.CARRIER)}"
    )
    write_title(sheet, "Cut list", note, columns)
    pieces = list(listed(takeoff))
    bands = [(entry.wall.id, piece.course) for entry, piece in pieces]
    begins = {n for n in range(1, len(bands)) if bands[n] != bands[n - 1]}
    rows = [_piece_row(entry, piece, display, parts) for entry, piece in pieces]
    for row, (entry, _) in zip(rows, pieces, strict=True) if takeoff.parts else ():
        row["product"] = product_name(takeoff.product_of(entry.wall.id))
    for n in (n for n in range(len(bands)) if n == 0 or bands[n][0] != bands[n - 1][0]):
        rows[n]["wall"] = Strong(bands[n][0])
    placed = place(sheet, HEADER, columns, rows, empty="no pieces", ruled=begins)
    finish(sheet, takeoff, placed, last_row=placed.last, freeze="D")
    return placed


def _piece_row(entry: WallTakeoff, piece: Piece, display: Display, parts: PanelParts) -> Row:
    full = entry.courses.courses[0].y1 - entry.courses.courses[0].y0
    low = piece.height < full - SPECK_IN
    own = PieceRef(entry.wall.id, piece.course, piece.number)
    return {
        "wall": entry.wall.id,
        "course": entry.courses.number(piece.course),
        "piece": piece.number,
        "x": display.fraction(piece.x0 - entry.wall.box[0]),
        "what": _what(piece),
        "unit": piece.stock,
        "color": parts.color_of(piece),
        "length": display.fraction(piece.length),
        "rip": display.fraction(piece.height) if low else None,
        "angle": piece.angle,
        "left": piece.left,
        "right": piece.right,
        "glued": Strong("yes") if piece.glued else "no",
        "rest": "\n".join(
            [
                *shape_lines(piece, display),
                *filter(None, [parts.beside.get(own)]),
                *_rest(own, piece, display, parts),
            ]
        ),
    }


def _what(piece: Piece) -> str:
    """The piece's kind in words; whatever is no whole panel stands out."""
    words: list[str] = [piece.kind]
    if piece.unit == "corner":
        hands = [
            side
            for side, end in (("left", piece.left), ("right", piece.right))
            if end == "finished"
        ]
        words = [
            f"corner, {hands[0]} hand" if len(hands) == 1 else "corner",
            *(w for w in words if w not in ("crosscut", "whole")),
        ]
    if piece.ripped and piece.kind != "ripped":
        words.append("ripped")
    text = ", ".join(words)
    return text if text == "whole" else Strong(text)


def _rest(own: PieceRef, piece: Piece, display: Display, parts: PanelParts) -> list[str]:
    """A line of where the rest of the piece's unit goes, or where the piece comes from when it is
    the rest of one."""
    part = parts.part_of(own.wall, piece)
    if part is None:
        return []
    if part != own:
        return [f"one part of the panel with piece {part.number}"]
    unit = parts.units[piece.stock]
    first, *others = parts.cut_order(unit)
    if part != first:
        return [f"is the rest of {parts.name(first)}"]
    words = [f"rest to {', then '.join(map(parts.name, others))}"] if others else []
    if unit.waste - unit.kerfs > SPECK_IN:
        words.append(f"waste {display.tape(unit.waste)}")
    return ["; ".join(words)] if words else []


def add_stock(book: Workbook, takeoff: Takeoff, display: Display, parts: PanelParts) -> PlacedTable:
    """One row a unit: its parts from left to right with their lengths, saw cuts, waste.

    Args:
        book: The workbook.
        takeoff: The takeoff.
        display: Units of the sheets.
        parts: What every panel is cut into.

    Returns:
        Where the table stands.
    """
    sheet = sheet_of(book, "Stock")
    columns = _stock_columns(display, has_colors=parts.has_colors)
    if takeoff.parts:
        columns.append(Column("product", "Product", 20))
    note = (
        "Every panel that the plan buys and what is cut from it; those laid whole stand "
        "last. Waste here is by length, as panels are cut; strips ripped off and ground "
        "cut out "
        "for openings come on top (sheet Panels, waste by layout). "
        f"{caution_for(Reader.SAW, Reader.CARRIER)}"
    )
    write_title(sheet, "Stock", note, columns)
    units = sorted(
        parts.units.values(), key=lambda u: (u.used >= u.length - SPECK_IN, u.kind != "flat")
    )
    placed = place(
        sheet,
        HEADER,
        columns,
        [_unit_row(u, display, parts) | _of_product(u, takeoff) for u in units],
        empty="no panels",
        total=True,
    )
    finish(sheet, takeoff, placed, last_row=placed.last + 1)
    return placed


def _stock_columns(display: Display, *, has_colors: bool) -> list[Column]:
    unit = display.size_unit
    number = "#,##0" if display.is_metric else "#,##0.00"
    return [
        Column("unit", "Panel", 9),
        Column("kind", "Kind", 10),
        *([Column("color", "Color", 12)] if has_colors else []),
        Column("length", f"Length\n{unit}", 11, number, summed=True),
        Column("parts", "Parts from left to right", 30),
        Column("cut", f"Their lengths\n{unit}", 14, READING),
        Column("count", "No. of\nparts", 9, "#,##0", summed=True),
        Column("used", f"In pieces\n{unit}", 12, number, summed=True),
        Column("kerfs", f"Saw cuts\n{unit}", 11, number, summed=True),
        Column(
            "waste", f"Waste with\nsaw cuts, {unit}", 13, number, "{length}-{used}", summed=True
        ),
        Column(
            "share",
            "Waste\nof length",
            11,
            "0.0%",
            "IF({length}=0,0,{waste}/{length})",
            summed=True,
            reads="share",
        ),
    ]


def _unit_row(unit: StockUnit, display: Display, parts: PanelParts) -> Row:
    return {
        "unit": unit.id,
        "kind": unit.kind,
        "color": unit.color,
        "length": display.size(unit.length),
        "parts": "\n".join(map(parts.name, unit.parts)),
        "cut": "\n".join(
            _length(parts.pieces[ref].length, display) for ref in unit.parts if ref in parts.pieces
        ),
        "count": len(unit.parts),
        "used": display.size(unit.used),
        "kerfs": display.size(unit.kerfs),
    }


def _of_product(unit: StockUnit, takeoff: Takeoff) -> Row:
    """A panel's product, where the job has several."""
    is_one = not takeoff.parts or not unit.parts
    return {} if is_one else {"product": product_name(takeoff.product_of(unit.parts[0].wall))}


def _length(inches: float, display: Display) -> str:
    """A length in words, without its unit: that stands in the heading."""
    return display.tape(inches).removesuffix(f" {display.size_unit}")
