"""Columns, bays and piers made at will: the narrow walls of a house, the same at every run.

    column            bay                      piers
    .--. .--. ..      .-----.\\.--./.-----.    .----------------.
    |  | |  | ..      |     | |[]| |     |    |  .--.  .---.   |     openings stand on the base,
    |  | |  | ..      |     | |  | |     |    |  |  |  |   |   |     narrow stretches between them
    '--' '--' ..      '-----' '--' '-----'    '--'  '--'   '---'

Sizes are believable, in steps of half an inch. Nobody tunes on the seeds kept aside.
"""

from __future__ import annotations

import random

from builders import drawing, line

from dxf2veneer.model import Drawing

KINDS = ("columns", "bays", "piers")
SEEDS = range(1, 11)
ASIDE = range(101, 111)
_GAP = 60.0


def narrow_walls(kind: str, seed: int) -> Drawing:
    """The drawing of a kind for a seed, in inches."""
    chance = random.Random(f"{kind} {seed}")
    outlines: dict[str, list] = {}
    texts: list[tuple[str, str, tuple[float, float]]] = []
    {"columns": _columns, "bays": _bays, "piers": _piers}[kind](chance, outlines, texts)
    return drawing(file=f"{kind}-{seed}.dxf", texts=texts, **outlines)


def _size(chance, low, high):
    """A length from low to high, in steps of half an inch."""
    return chance.randint(2 * low, 2 * high) / 2


def _marks(outlines, texts, role, marks):
    """Corner marks (tag, x, height, beside) of a role."""
    for tag, x, height, beside in marks:
        outlines.setdefault(role, []).append(line(x, 0, x, height))
        texts.append((role, tag, (x + beside, 10.0)))


def _columns(chance, outlines, texts):
    """One to three columns, square or not, of four faces each."""
    x = 0.0
    for n in range(chance.randint(1, 3)):
        height, sides = _size(chance, 72, 120), (_size(chance, 12, 30), _size(chance, 12, 30))
        if chance.random() < 0.5:
            sides = (sides[0], sides[0])
        for face in range(4):
            width = sides[face % 2]
            outlines.setdefault("wall", []).append((x, 0, x + width, height))
            tags = (
                (f"K{n}{(face - 1) % 4}", x, height, -3.0),
                (f"K{n}{face}", x + width, height, 2.0),
            )
            _marks(outlines, texts, "outside_corner", tags)
            x += width + _GAP


def _bays(chance, outlines, texts):
    """A wall, two or three faces of a bay, and a wall; a window in wide faces."""
    height, x = _size(chance, 60, 110), 0.0
    narrow, front = _size(chance, 11, 34), _size(chance, 36, 96)
    faces = [narrow, front, narrow] if chance.random() < 0.7 else [narrow, narrow]
    widths = [_size(chance, 60, 150), *faces, _size(chance, 60, 150)]
    for n, width in enumerate(widths):
        outlines.setdefault("wall", []).append((x, 0, x + width, height))
        if width == front and front >= 56:
            side = _size(chance, 10, 16)
            outlines.setdefault("window", []).append((x + side, 30, x + width - side, height - 14))
        beside = [(f"B{n - 1}", x, height, -3.0)] if n else []
        beside += [(f"B{n}", x + width, height, 2.0)] if n < len(widths) - 1 else []
        _marks(outlines, texts, "bay", beside)
        x += width + _GAP


def _piers(chance, outlines, _):
    """A wall with two to five doors, piers of 8 to 40 in between."""
    height, head = _size(chance, 96, 120), _size(chance, 70, 88)
    x = _size(chance, 8, 40)
    for _n in range(chance.randint(2, 5)):
        width = _size(chance, 30, 108)
        outlines.setdefault("door", []).append((x, 0, x + width, head))
        x += width + _size(chance, 8, 40)
    outlines["wall"] = [(0, 0, x, height)]
