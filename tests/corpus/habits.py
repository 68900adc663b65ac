"""How offices name layers: a habit turns the role of a shape into a layer name and a color."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from corpus.words import Language

GROUPS = {
    "wall": "wall", "opening": "opening", "sash": "sash", "swing": "sash", "trim": "opening",
    "roof": "roof", "fascia": "roof", "tiles": "texture", "texture": "texture", "ground": "ground",
    "steps": "ground", "post": "wall", "chimney": "roof", "note": "note", "title": "note",
    "dim": "dim", "level": "level", "grid": "grid", "plant": "plant", "figure": "plant",
    "frame": "frame", "plan": "plan", "cut": "plan", "hatch": "hatch", "hidden": "hidden",
    "pipe": "roof", "other": "note",
}  # fmt: skip
"""Role of a shape -> group that gets a layer of its own where layers are kept apart."""

_PENS = {
    "wall": 35, "opening": 25, "sash": 13, "roof": 25, "texture": 9, "ground": 50, "dim": 13,
    "note": 18, "level": 13, "grid": 9, "plant": 13, "frame": 35, "plan": 50, "hatch": 9,
    "hidden": 13,
}  # fmt: skip
"""Pen width of a group in hundredths of a millimeter."""

_STANDARD = {
    "wall": "A-ELEV-OTLN", "opening": "A-ELEV-GLAZ", "sash": "A-ELEV-FNSH", "roof": "A-ROOF-OTLN",
    "texture": "A-ELEV-PATT", "ground": "C-TOPO-GRAD", "dim": "A-ANNO-DIMS", "note": "A-ANNO-TEXT",
    "level": "A-ANNO-LEVL", "grid": "S-GRID", "plant": "L-PLNT-TREE", "frame": "A-ANNO-TTLB",
    "plan": "A-WALL-FULL", "hatch": "A-SECT-PATT", "hidden": "A-ELEV-DEMO",
}  # fmt: skip
"""Discipline, major and minor group in the manner of the U.S. National CAD Standard."""


@dataclass(frozen=True)
class Habit:
    """A way to name layers; ``layer`` takes a group and a language."""

    name: str
    layer: Callable[[str, Language], str]

    def of(self, role: str, language: Language) -> str:
        return self.layer(GROUPS[role], language)


def _few(group: str, language: Language) -> str:
    """Drawing, text, dimensions: three layers for everything."""
    if group in ("note", "level", "frame"):
        return language.layers["note"]
    return language.layers["dim"] if group in ("dim", "grid") else language.layers["all"]


def _numbered(group: str, language: Language) -> str:
    return str(1 + list(_PENS).index(group))


def _coded(group: str, language: Language) -> str:
    """A number and a word: 210_Fenster."""
    return f"{100 + 10 * list(_PENS).index(group)}_{language.layers[group]}"


HABITS = (
    Habit("zero", lambda group, language: "0"),
    Habit("pens", lambda group, language: f"PEN_{_PENS[group]:03d}"),
    Habit("standard", lambda group, language: _STANDARD[group]),
    Habit("words", lambda group, language: language.layers[group]),
    Habit("few", _few),
    Habit("numbers", _numbered),
    Habit("coded", _coded),
)


def color(group: str) -> int:
    """A color index for a group's layer."""
    return 1 + list(_PENS).index(group) % 7
