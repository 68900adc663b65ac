"""What is known of drawings by other people, and whether proposals for them meet it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from corpus.matching import OPENING_IOU, greedy, shape_of

Engine = Callable[[Path], dict[str, Any]]


def _rectangle(x0: float, y0: float, x1: float, y1: float) -> list[list[float]]:
    return [[x0, y0], [x1, y0], [x1, y1], [x0, y1]]


WOODSHED_WALL = _rectangle(1100, 2280, 7335, 5064)
"""Millimeters, from the note that comes with the drawings; so are the openings."""
WOODSHED_OPENINGS = {
    "left window": ("window", _rectangle(2025, 3184, 2985, 4154)),
    "right window": ("window", _rectangle(5450, 3184, 6410, 4154)),
    "door": ("door", _rectangle(3750, 2280, 4685, 4344)),
}
UNITS = {"woodshed": "mm", "pavilion": "m"}
"""Beginning of a file's name -> the unit of its numbers, whatever its header says."""
WITHOUT_WALLS = ("plan", "section", "roof", "foundation")
"""Parts of names of woodshed drawings on which nothing is a clad wall."""
PAVILION_ELEVATIONS = 4
WITHIN = 0.01


def truths(folder: Path) -> list[tuple[Path, dict[str, Any]]]:
    """The drawings of the folder of which every wall and opening is known, with these.

    Nobody has said which walls the pavilion is clad with, so that its drawings are left out.
    """
    found: list[tuple[Path, dict[str, Any]]] = []
    for path in sorted(folder.glob("woodshed-*.dxf")):
        if any(part in path.stem for part in WITHOUT_WALLS):
            found.append((path, {"walls": [], "openings": []}))
        else:
            openings = [{"kind": k, "outline": o} for k, o in WOODSHED_OPENINGS.values()]
            found.append((path, {"walls": [{"outline": WOODSHED_WALL}], "openings": openings}))
    return found


def report(folder: Path, engine: Engine) -> str:
    """One line a question for every drawing of the folder, with ``ok`` or ``NO`` before it."""
    lines = []
    for path in sorted(folder.glob("*.dxf")):
        found = engine(path)
        lines += [
            f"{'ok' if good else 'NO'}  {path.name}: {text}" for good, text in _answers(path, found)
        ]
    return "\n".join(lines)


def _answers(path: Path, found: dict[str, Any]) -> list[tuple[bool, str]]:
    name = path.stem
    unit = UNITS[name.partition("-")[0]]
    answers = [(found["unit"] == unit, f"unit {found['unit']}, is {unit}")]
    if name.startswith("woodshed-front"):
        answers += _woodshed_front(found)
    elif any(part in name for part in WITHOUT_WALLS):
        answers.append((not found["walls"], f"{len(found['walls'])} walls, there are none"))
    if name == "pavilion-sheet":
        count = sum(v["kind"] == "elevation" for v in found["views"])
        answers.append(
            (count == PAVILION_ELEVATIONS, f"{count} elevations, there are {PAVILION_ELEVATIONS}")
        )
    if name.startswith("pavilion-view"):
        count = sum(v["kind"] == "elevation" for v in found["views"])
        answers.append((count == 1, f"{count} elevations, there is 1"))
    return answers


def _woodshed_front(found: dict[str, Any]) -> list[tuple[bool, str]]:
    true = shape_of(WOODSHED_WALL)
    walls = [shape_of(w["outline"]) for w in found["walls"]]
    areas = ", ".join(f"{w.area / true.area:.3f}" for w in walls) or "none"
    near = [
        w
        for w in walls
        if abs(w.area / true.area - 1) <= WITHIN and w.intersection(true).area > 0.98 * true.area
    ]
    answers = [(len(near) == 1 and len(walls) == 1, f"walls of {areas} times the true area")]
    shapes = [shape_of(o["outline"]) for o in found["openings"]]
    for name, (kind, outline) in WOODSHED_OPENINGS.items():
        pairs = greedy([shape_of(outline)], shapes, OPENING_IOU)
        kinds = [found["openings"][j]["kind"] for _, j, _ in pairs]
        answers.append((kinds == [kind], f"{name} found as {kinds[0] if kinds else 'nothing'}"))
    extra = len(shapes) - sum(
        bool(greedy([shape_of(o)], shapes, OPENING_IOU)) for _, o in WOODSHED_OPENINGS.values()
    )
    return [*answers, (not extra, f"{extra} openings that are none")]
