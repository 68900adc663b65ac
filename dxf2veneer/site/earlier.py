"""The plan of an earlier takeoff, read from its result file: what is cut by it already is kept."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import Length, message
from dxf2veneer.basics.tolerances import EARLIER_BYTES, EXACT_IN
from dxf2veneer.config.errors import SettingsError
from dxf2veneer.config.named_files import read_named
from dxf2veneer.config.product import Product
from dxf2veneer.model import Piece, PieceRef, Recognised, StockUnit

RESULT = "dxf2veneer-takeoff-1"
"""The name of the format that is read."""


@dataclass(frozen=True)
class Earlier:
    """The plan of an earlier takeoff; lengths in inches."""

    file: str
    """Name of the result file."""
    pieces: Mapping[str, tuple[Piece, ...]]
    """By the id of each wall."""
    units: tuple[StockUnit, ...]
    starts: Mapping[tuple[str, ...], float]
    """By the ids of the walls whose courses run together the shift of their course lines."""
    panel: tuple[float, float]
    """Length and height of a panel."""
    drawings: tuple[str, ...]
    """SHA-256 of each drawing."""
    measured: frozenset[str]
    """Ids of the walls of which sizes were measured on site then."""

    def is_as_drawn(self, wall: str, drawings: tuple[str, ...]) -> bool:
        """Whether a wall stood as these drawings, by their SHA-256, show it."""
        return drawings == self.drawings and wall not in self.measured


def load_earlier(path: Path) -> Earlier:
    """Read the plan of a result file.

    Args:
        path: The file (JSON).

    Returns:
        Pieces, panels and heights of the starter.

    Raises:
        SettingsError: It can't be read, is no result of a takeoff, or has no course plan.
    """
    try:
        result = json.loads(read_named(path, EARLIER_BYTES).decode("utf-8-sig"))
    except (ValueError, RecursionError):
        raise SettingsError(message("earlier-not-json", file=str(path))) from None
    if not isinstance(result, dict) or result.get("schema") != RESULT:
        raise SettingsError(message("earlier-no-result", file=str(path), schema=RESULT))
    if result.get("stock") is None:
        raise SettingsError(message("earlier-without-plan", file=str(path)))
    try:
        return _earlier(path.name, result)
    except (KeyError, TypeError, ValueError, AttributeError, IndexError):
        raise SettingsError(message("earlier-no-result", file=str(path), schema=RESULT)) from None


def refuse_other_job(earlier: Earlier, path: Path, found: Recognised, product: Product) -> None:
    """See that an earlier plan is one of this job.

    Args:
        earlier: The plan.
        path: Its file.
        found: The walls.
        product: The panel they are laid with.

    Raises:
        SettingsError: It has other walls, walls elsewhere, or panels of another size.
    """
    walls = {w.id for w in found.walls}
    if other := sorted(walls ^ set(earlier.pieces)):
        is_new = other[0] in walls
        raise SettingsError(
            message("earlier-other-walls", file=str(path), wall=other[0], is_new=is_new)
        )
    for wall in found.walls:
        if beside := _beside(earlier.pieces[wall.id], wall.box, product.panel.length):
            raise SettingsError(
                message(
                    "earlier-elsewhere",
                    file=str(path),
                    wall=wall.id,
                    low=Length(beside[0]),
                    high=Length(beside[1]),
                )
            )
    now = product.panel.length, product.panel.height
    if any(abs(a - b) > EXACT_IN for a, b in zip(now, earlier.panel, strict=True)):
        length, height = map(Length, earlier.panel)
        raise SettingsError(
            message("earlier-other-panel", file=str(path), length=length, height=height)
        )


def _beside(
    pieces: Sequence[Piece], box: tuple[float, float, float, float], panel: float
) -> tuple[float, float] | None:
    """Least and greatest x of a wall's pieces where an end lies a panel or more from the wall's:
    sizes measured on site differ by less."""
    if not pieces:
        return None
    low, high = min(p.x0 for p in pieces), max(p.x1 for p in pieces)
    return None if max(abs(low - box[0]), abs(high - box[2])) < panel else (low, high)


def _earlier(file: str, result: dict[str, Any]) -> Earlier:
    product, site = result["product"], result["site"]
    return Earlier(
        file=file,
        pieces={w["id"]: tuple(_piece(p) for p in w["pieces"]) for w in result["walls"]},
        units=tuple(_unit(u) for u in result["stock"]["unit_list"]),
        starts={
            tuple(table["walls"]): float(option["start_in"])
            for table in result["starts"]
            for option in table["options"]
            if option["present"]
        },
        panel=(float(product["panel_length_in"]), float(product["panel_height_in"])),
        drawings=tuple(d["sha256"] for d in result["drawings"]),
        measured=frozenset(s["wall"] for s in site["sizes"]) if site else frozenset(),
    )


def _piece(found: dict[str, Any]) -> Piece:
    angle = found["angle_deg"]
    return Piece(
        course=int(found["course"]),
        x0=float(found["x0_in"]),
        x1=float(found["x1_in"]),
        y0=float(found["y0_in"]),
        y1=float(found["y1_in"]),
        unit=found["unit"],
        left=found["left"],
        right=found["right"],
        ripped=bool(found["ripped"]),
        glued=bool(found["glued"]),
        stock=str(found["stock"]),
        outline=tuple(_points(found["outline_in"])),
        holes=tuple(tuple(_points(hole)) for hole in found["holes_in"]),
        number=int(found["number"]),
        kind=found["kind"],
        at=float(found["at_in"]),
        angle=None if angle is None else float(angle),
    )


def _points(found: list[list[float]]) -> Iterator[tuple[float, float]]:
    for x, y in found:
        yield float(x), float(y)


def _unit(found: dict[str, Any]) -> StockUnit:
    return StockUnit(
        id=str(found["id"]),
        kind=found["unit"],
        length=float(found["length_in"]),
        parts=tuple(_ref(name) for name in found["parts"]),
        used=float(found["used_in"]),
        kerfs=float(found["kerfs_in"]),
        color=str(found.get("color", "")),
    )


def _ref(name: str) -> PieceRef:
    wall, course, number = name.split("/")
    return PieceRef(wall, int(course), int(number))
