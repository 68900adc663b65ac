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
PAVILION_SIDES: dict[str, tuple[list[list[list[float]]], list[list[list[float]]]]] = {
    "view-1": (
        [
            # the face of the platform, from the sloping ground to the top of its paving
            [[58.288, 23.159], [110.288, 22.359], [110.288, 23.959], [58.288, 23.959]],
            # left and right of the glass front, which is all panes between 88.288 and 99.596
            _rectangle(59.128, 23.959, 88.288, 26.959),
            _rectangle(99.621, 23.959, 109.448, 26.959),
        ],
        [],
    ),
    "view-2": (
        [
            # left and right of the glass front between 74.505 and 82.33
            [
                [61.145, 15.098],
                [73.305, 15.395],
                [74.505, 15.395],
                [74.505, 18.495],
                [61.145, 18.495],
            ],
            _rectangle(82.33, 15.395, 103.145, 18.495),
            # the wing on the slope, with two windows under its eaves
            [[103.145, 15.395], [111.465, 16.665], [111.465, 18.495], [103.145, 18.495]],
        ],
        [
            _rectangle(103.405, 17.595, 105.255, 17.995),
            _rectangle(105.355, 17.595, 107.205, 17.995),
        ],
    ),
    "view-3": (
        [
            [
                [57.362, 7.765],
                [69.458, 6.565],
                [78.682, 6.565],
                [78.682, 9.565],
                [57.362, 9.565],
            ],
            # the end of the platform; the triangle left of it has no joints and is not clad
            _rectangle(77.522, 5.765, 79.522, 6.565),
        ],
        [],
    ),
    "view-4": (
        [
            # above the platform, on the slope, and the wing with one window
            _rectangle(92.494, 7.032, 96.654, 10.032),
            [
                [96.654, 7.032],
                [97.654, 7.032],
                [97.654, 5.765],
                [107.814, 6.832],
                [107.814, 10.032],
                [96.654, 10.032],
            ],
            _rectangle(107.814, 6.832, 113.814, 10.032),
            # the platform left and right of the steps, which are not clad
            _rectangle(91.654, 5.765, 92.654, 7.032),
            _rectangle(95.654, 5.765, 97.654, 7.032),
        ],
        [_rectangle(109.914, 9.132, 111.714, 9.532)],
    ),
}
"""Side -> walls and windows in meters, read off the drawings' own lines by hand: clad is what shows
joints, the walls and the platform they stand on; panes, steps, roofs and the bare triangle of
ground are not. Where a wall stands before another with its joints going on, the two are one."""
SHEET = "pavilion-sheet"
WITHIN = 0.01


def truths(folder: Path) -> list[tuple[Path, dict[str, Any]]]:
    """The drawings of the folder, each with every wall and opening and the unit."""
    found: list[tuple[Path, dict[str, Any]]] = []
    for path in sorted(folder.glob("woodshed-*.dxf")):
        if any(part in path.stem for part in WITHOUT_WALLS):
            truth: dict[str, Any] = {"walls": [], "openings": []}
        else:
            openings = [{"kind": k, "outline": o} for k, o in WOODSHED_OPENINGS.values()]
            truth = {"walls": [{"outline": WOODSHED_WALL}], "openings": openings}
        found.append((path, {**truth, "unit": UNITS["woodshed"]}))
    for path in sorted(folder.glob("pavilion-*.dxf")):
        sides = [
            v for side, v in PAVILION_SIDES.items() if path.stem in (f"pavilion-{side}", SHEET)
        ]
        truth = {
            "unit": UNITS["pavilion"],
            "walls": [{"outline": wall} for walls, _ in sides for wall in walls],
            "openings": [{"kind": "window", "outline": o} for _, windows in sides for o in windows],
        }
        found.append((path, truth))
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
