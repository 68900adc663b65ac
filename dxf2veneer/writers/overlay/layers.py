"""The overlay's layers, linetypes and entity tags: what each is called and how it looks.

Layer names follow the open standard (``config.layer_names``): discipline, major group and minor
groups of four characters each. The user's prefix stands for the first three, the suffix here is the
last. Its first letter is that of the set (walls, edges, courses, pieces and cuts, x for checks,
legend): in a list by name a set stands together, and one pattern such as ``*-VENR-P*`` finds it
alone. Colors are color numbers (DXF reference, group 62) whose contrast against black and against
white is at least 3 to 1 (a test computes it); line layers differ in linetype or lineweight too, so
that no color is needed.
``docs/overlay.md`` shows the same table and a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from dxf2veneer.model import EdgeKind

R12_NAME_LENGTH = 31
"""Longest layer name that an R12 drawing may hold (DXF reference)."""
NAME_LENGTH = 255
"""Longest layer name that later drawings may hold (DXF reference)."""

_LONGEST_PART = 200

Key = Literal[
    "wall",
    "opening",
    "label",
    "course",
    "number",
    "starter",
    "outside",
    "inside",
    "end",
    "butt",
    "mitre",
    "cap",
    "trim",
    "sliver",
    "notice",
    "height",
    "off",
    "joint",
    "shaped",
    "corner",
    "glued",
    "cut",
    "piece",
    "rule",
    "fragile",
    "change",
    "blend",
    "legend",
    "title",
    "before",
    "now",
    "cloud",
    "told",
]


@dataclass(frozen=True, slots=True)
class Look:
    """One layer: end of its name, color number, lineweight in 1/100 mm, linetype, content."""

    suffix: str
    color: int
    lineweight: int
    linetype: str
    content: str


SOLID = "Continuous"

LINETYPES: dict[str, tuple[float, ...]] = {
    "VENR-DASH": (0.5, -0.25),
    "VENR-LONG": (1.5, -0.25),
    "VENR-DOTS": (0.1, -0.2),
    "VENR-CHAIN": (1.0, -0.2, 0.1, -0.2),
}
"""Our linetypes: dashes and, negative, gaps, in course heights."""

LAYERS: dict[Key, Look] = {
    "wall": Look("WALL", 1, 50, SOLID, "recognized wall outlines"),
    "opening": Look("WOPN", 150, 50, "VENR-LONG", "recognized openings"),
    "label": Look("WTXT", 7, 18, SOLID, "texts of walls and openings: id, name, area"),
    "cap": Look("WCAP", 43, 50, "VENR-CHAIN", "caps"),
    "trim": Look("WTRM", 142, 25, "VENR-DASH", "trim bands"),
    "outside": Look("EOUT", 200, 70, SOLID, "outside corners"),
    "inside": Look("EINS", 132, 70, "VENR-DASH", "inside corners"),
    "end": Look("EEND", 32, 70, "VENR-LONG", "finished ends"),
    "butt": Look("EBUT", 8, 35, "VENR-DOTS", "plain (butt) edges"),
    "mitre": Look("EMIT", 213, 70, "VENR-DOTS", "mitered edges"),
    "course": Look("CRSE", 92, 18, SOLID, "course lines"),
    "number": Look("CNUM", 82, 18, SOLID, "course numbers"),
    "starter": Look("CSTR", 42, 70, "VENR-CHAIN", "starter strip"),
    "height": Look("CHGT", 72, 18, SOLID, "heights of the course lines"),
    "joint": Look("PJNT", 94, 15, SOLID, "joints between pieces"),
    "shaped": Look("PSHP", 33, 30, SOLID, "pieces cut to a shape: ripped, notched, raked"),
    "corner": Look("PCOR", 190, 40, SOLID, "corner pieces, with their hand"),
    "glued": Look("PGLU", 54, 9, SOLID, "pieces that are glued, hatched"),
    "cut": Look("PCUT", 230, 53, SOLID, "cut ends of pieces"),
    "piece": Look("PTXT", 163, 18, SOLID, "texts of pieces: unit and cut length"),
    "change": Look("PCHG", 171, 60, "VENR-DASH", "pieces cut otherwise since site measures"),
    "blend": Look("PCLR", 134, 5, SOLID, "pieces of minor colors, hatched closer the rarer"),
    "sliver": Look("XSLV", 20, 35, SOLID, "slivers, filled"),
    "notice": Look("XNOT", 6, 25, SOLID, "notices at their place, with their code"),
    "off": Look("XOFF", 220, 25, "VENR-LONG", "heads, sills, tops and caps off the course lines"),
    "rule": Look("XRUL", 240, 35, "VENR-LONG", "places where a rule of laying does not hold"),
    "fragile": Look("XTOL", 44, 13, SOLID, "places that do not hold with every edge off"),
    "legend": Look("LEGN", 155, 18, SOLID, "legend"),
    "title": Look("LTTL", 153, 18, SOLID, "title"),
}

REVISED_LAYERS: dict[Key, Look] = {
    "before": Look("RVBF", 32, 35, "VENR-DASH", "outlines before, where they differ"),
    "now": Look("RVNW", 150, 50, SOLID, "outlines now"),
    "cloud": Look("RVCL", 6, 35, SOLID, "clouds round changes, with their numbers"),
    "told": Look("RVTX", 7, 18, SOLID, "texts of changes"),
    "legend": Look("RVLG", 155, 18, SOLID, "legend"),
    "title": Look("RVTL", 153, 18, SOLID, "title"),
}
"""Those of a drawing that shows what changed."""

TEXT_LAYERS: tuple[Key, ...] = ("label", "number", "height", "piece", "legend", "title")
"""Layers that hold nothing but text."""

EDGE_LAYER: dict[EdgeKind, Key] = {
    "outside": "outside",
    "inside": "inside",
    "end": "end",
    "butt": "butt",
    "mitre": "mitre",
}


def layer_names(prefix: str, looks: Mapping[Key, Look] = LAYERS) -> dict[Key, str]:
    """The full name of every layer.

    Args:
        prefix: What every layer name begins with.
        looks: The layers.

    Returns:
        The names by key.
    """
    return {key: f"{prefix}-{look.suffix}" for key, look in looks.items()}


@dataclass(frozen=True, slots=True)
class EntityTags:
    """What an entity is and belongs to; ids and the course index as in the result file."""

    what: str
    wall: str | None = None
    opening: str | None = None
    course: int | None = None
    corner: str | None = None
    notice: str | None = None
    piece: str | None = None
    stock: str | None = None
    hand: str | None = None
    length: float | None = None
    rule: str | None = None
    color: str | None = None
    source: str | None = None
    """Handle of the entity in the drawing that this one shows."""

    def strings(self) -> list[str]:
        """The tags as ``key=value``, those that do not apply left out; a long list of handles takes
        several."""
        named = {key: getattr(self, key) for key in self.__slots__}
        texts = {
            k: f"{v:g}" if k == "length" else str(v) for k, v in named.items() if v is not None
        }
        return [f"{key}={part}" for key, text in texts.items() for part in _parts(text)]


def _parts(text: str) -> list[str]:
    """The text cut at commas so that each part has room in a string of extended data."""
    parts: list[str] = []
    for item in text.split(","):
        if parts and len(parts[-1]) + len(item) < _LONGEST_PART:
            parts[-1] += f",{item}"
        else:
            parts.append(item)
    return parts
