"""What each layer could be, from geometry alone.

Of nested outlines on different layers the innermost are probably openings and those directly round
them walls; a frame round the walls holds no opening directly and is neither.

    .---------------------------.   frame: holds walls
    |  .--------.   .--------.  |
    |  | [] []  |   |   []   |  |   wall: directly holds innermost outlines
    |  '--------'   '--------'  |   []    innermost: openings
    '---------------------------'
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import shapely

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.tolerances import GUESS_SHARE, MARK_REACH_SHARE, MARK_WIDTH_SHARE
from dxf2veneer.geometry import Path, Point

GuessKind = Literal["wall", "openings", "corner marks", "names"]
"""What a layer could hold."""


@dataclass
class Found:
    """What was found on one layer while walking."""

    kinds: Counter[str] = field(default_factory=Counter)
    """How many entities of each kind."""
    outlines: list[Path] = field(default_factory=list)
    """Closed curves that were measured, in drawing units."""
    lines: list[Path] = field(default_factory=list)
    """Open curves that were measured, in drawing units."""
    texts: list[Point] = field(default_factory=list)
    """Insertion points, in drawing units."""
    unmeasured: int = 0
    """Curves that were only counted."""


@dataclass(frozen=True)
class Guess:
    """What a layer could be, and why."""

    what: GuessKind
    """What the layer could hold."""
    why: Message
    """What that rests on."""


def guess_layers(layers: dict[str, Found]) -> dict[str, Guess]:
    """What each layer could hold.

    Args:
        layers: What was found on each layer, by name.

    Returns:
        The guesses; a layer that looks like nothing known has none.
    """
    guesses = _outlines(layers)
    walls = [p for n, g in guesses.items() if g.what == "wall" for p in layers[n].outlines]
    for name, found in layers.items():
        if name not in guesses and walls:
            guess = _marks(found, walls) or _names(found, walls)
            if guess:
                guesses[name] = guess
    return guesses


def _outlines(layers: dict[str, Found]) -> dict[str, Guess]:
    """Walls and openings: who directly holds whom."""
    owners = [n for n, f in layers.items() for _ in f.outlines]
    paths = [p for f in layers.values() for p in f.outlines]
    parents = _parents(owners, paths)
    holders = set(parents.values())
    inner = [i for i in parents if i not in holders]
    held = Counter(owners[i] for i in inner)
    holding = Counter(owners[parents[i]] for i in inner)
    guesses: dict[str, Guess] = {}
    for name in dict.fromkeys(owners):
        total = len(layers[name].outlines)
        round_them = {parents[i] for i in inner if owners[parents[i]] == name}
        area = sum(paths[i].area for i in round_them)
        if round_them and area >= GUESS_SHARE * sum(p.area for p in layers[name].outlines):
            guesses[name] = Guess(
                "wall",
                message("guess-wall", holding=len(round_them), of=total, held=holding[name]),
            )
        elif held[name] >= GUESS_SHARE * total:
            guesses[name] = Guess("openings", message("guess-openings", held=held[name], of=total))
    return guesses


def _parents(owners: list[str], paths: list[Path]) -> dict[int, int]:
    """For each outline the smallest one of another layer that contains it, by their boxes."""
    if not paths:
        return {}
    boxes = shapely.box(*np.array([p.box for p in paths]).T)
    areas = [p.area for p in paths]
    parents: dict[int, int] = {}
    for inner, outer in zip(
        *shapely.STRtree(boxes).query(boxes, predicate="covered_by"), strict=True
    ):
        i, o = int(inner), int(outer)
        if (
            owners[i] != owners[o]
            and areas[o] > areas[i]
            and (i not in parents or areas[o] < areas[parents[i]])
        ):
            parents[i] = o
    return parents


def _marks(found: Found, walls: list[Path]) -> Guess | None:
    """Upright lines along the sides of walls."""
    if not found.lines or found.outlines:
        return None
    sides = np.array(
        [(x, b[1], b[3], b[2] - b[0]) for b in (p.box for p in walls) for x in (b[0], b[2])]
    )
    count = 0
    for x0, y0, x1, y1 in (p.box for p in found.lines):
        upright = y1 > y0 and x1 - x0 <= MARK_WIDTH_SHARE * (y1 - y0)
        near = np.abs(sides[:, 0] - (x0 + x1) / 2) <= MARK_REACH_SHARE * sides[:, 3]
        count += bool(upright and np.any(near & (sides[:, 1] < y1) & (sides[:, 2] > y0)))
    if count < GUESS_SHARE * len(found.lines) or count == 0:
        return None
    return Guess("corner marks", message("guess-corner-marks", n=count, of=len(found.lines)))


def _names(found: Found, walls: list[Path]) -> Guess | None:
    """Texts alone, at most a few in each wall."""
    if not found.texts or found.lines or found.outlines:
        return None
    boxes = np.array([p.box for p in walls])
    inside = [
        bool(
            np.any(
                (boxes[:, 0] <= x) & (x <= boxes[:, 2]) & (boxes[:, 1] <= y) & (y <= boxes[:, 3])
            )
        )
        for x, y in found.texts
    ]
    if sum(inside) < GUESS_SHARE * len(inside):
        return None
    return Guess("names", message("guess-names", n=sum(inside), of=len(inside)))
