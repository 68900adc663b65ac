"""Big drawings for the benchmarks: 1 % of their entities are walls and windows.

On the layers A-WALL-HOUSE and A-OPNG-HOUSE stands the first house, on -STREET the next nine, on
-TOWN the rest.
"""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path


def make(path: Path, count: int) -> None:
    """Write a drawing of that many entities, of which one in a hundred is a wall or a window.

    They stand in rows: walls of 100 ft by 10 ft with 19 windows each, five walls to a house. The
    others are lines, polylines, arcs, circles, texts and references to a block, on forty layers.
    """
    frame = (
        "import ezdxf, sys; d = ezdxf.new('R2010', units=1); b = d.blocks.new('TREE'); "
        "[b.add_line((0, 0), (3, n)) for n in range(20)]; d.saveas(sys.argv[1])"
    )
    subprocess.run([sys.executable, "-c", frame, str(path)], check=True)
    before, after = path.read_text(encoding="utf-8").split("ENTITIES\n", 1)
    chance = random.Random(count)
    with path.open("w", encoding="utf-8") as out:
        out.write(f"{before}ENTITIES\n")
        for number in range(count):
            if number % 100 == 50:
                out.write(_wanted(number // 100, number + 0x1000))
            else:
                out.write(_other(number, chance))
        out.write(after)


def _wanted(number: int, handle: int) -> str:
    wall, place = divmod(number, 20)
    x, y = 1e5 + wall % 10 * 1300.0, wall // 10 * 200.0
    group = "HOUSE" if wall < 5 else "STREET" if wall < 50 else "TOWN"
    if place == 0:
        return _box(handle, f"A-WALL-{group}", x, y, 1200.0, 120.0)
    return _box(handle, f"A-OPNG-{group}", x + 60.0 * place, y + 40.0, 36.0, 48.0)


def _box(handle: int, layer: str, x: float, y: float, wide: float, high: float) -> str:
    corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    return entity(
        "LWPOLYLINE",
        handle,
        layer,
        "AcDbPolyline",
        (90, 4),
        (70, 1),
        *((c, v) for p in corners for c, v in zip((10, 20), p, strict=True)),
    )


def _other(number: int, chance: random.Random) -> str:
    layer, handle, kind = f"A-DETL-{number % 40:02d}", number + 0x1000, number % 20
    x, y = chance.uniform(0, 9e4), chance.uniform(0, 9e4)
    at = ((10, x), (20, y))
    if kind < 9:
        return entity(
            "LINE",
            handle,
            layer,
            "AcDbLine",
            *at,
            (30, 0.0),
            (11, x + 9.5),
            (21, y + 4.25),
            (31, 0.0),
        )
    if kind < 13:
        return _box(handle, layer, x, y, 7.5, 3.25)
    if kind < 15:
        return entity("CIRCLE", handle, layer, "AcDbCircle", *at, (30, 0.0), (40, 2.5))
    if kind < 17:
        return entity(
            "ARC",
            handle,
            layer,
            "AcDbCircle",
            *at,
            (30, 0.0),
            (40, 2.5),
            (100, "AcDbArc"),
            (50, 15.0),
            (51, 90.0),
        )
    if kind < 19:
        return entity(
            "TEXT",
            handle,
            layer,
            "AcDbText",
            *at,
            (30, 0.0),
            (40, 2.5),
            (1, f"NOTE {number}"),
            (100, "AcDbText"),
        )
    return entity("INSERT", handle, layer, "AcDbBlockReference", (2, "TREE"), *at, (30, 0.0))


def entity(kind: str, handle: int, layer: str, marker: str, *tags: tuple[int, object]) -> str:
    """The text of one entity in a file."""
    head = ((0, kind), (5, f"{handle:X}"), (100, "AcDbEntity"), (8, layer), (100, marker))
    return "".join(f"{code:3d}\n{value}\n" for code, value in (*head, *tags))
