"""What reading costs: python tests/benchmarks/reading.py [--write] [--most ENTITIES]

Makes drawings of 10,000, 100,000 and 500,000 entities of which one in a hundred lies on the wanted
layers, reads each in several ways, every way in a process of its own, and prints processor time and peak
memory, as ratios too. ``--write`` puts the tables into docs/performance.md.
"""

from __future__ import annotations

import argparse
import datetime
import os
import platform
import random
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
PAGE = ROOT / "docs" / "performance.md"
SIZES = (10_000, 100_000, 500_000)
BEGIN, END = "<!-- reading -->", "<!-- end of reading -->"

_ALL, _HOUSE = ("A-WALL*", "A-OPNG*"), ("A-WALL-H", "A-OPNG-H")
"""The wanted layers: of all walls, and of one house of five."""

_WHERE = "Layer IN ('A-WALL', 'A-OPNG', 'A-WALL-H', 'A-OPNG-H')"
_TAKEOFF = """
import sys
from dxf2veneer.cli import main
drawing, folder, wall, opening, *others = sys.argv[1:]
main(["takeoff", drawing, "--wall-layer", wall, "--opening-layer", opening, "-o", folder, *others])
"""
_LOAD = """
import sys
from pathlib import Path
from dxf2veneer.drawing import load_drawing
from dxf2veneer.job import load_job
load_drawing(Path(sys.argv[1]), load_job(None, {"layers.wall": (sys.argv[3],), "layers.opening": (sys.argv[4],)}), 0)
"""
_SURVEY = 'import sys; from dxf2veneer.cli import main; main(["layers", sys.argv[1]])'
WHOLE = "`ezdxf.readfile`"
"""The way that the others are compared with."""
WAYS: dict[str, tuple[str, ...]] = {
    "the bytes alone": ("import sys; open(sys.argv[1], 'rb').read()",),
    "GDAL, wanted layers": (f"import sys, pyogrio.raw; pyogrio.raw.read(sys.argv[1], where={_WHERE!r})",),
    "`ezdxf.readfile`": ("import sys, ezdxf; ezdxf.readfile(sys.argv[1])",),
    "our reading, wanted layers": (_LOAD, *_ALL),
    "`layers`": (_SURVEY,),
    "`takeoff --overlay-only` of one house": (_TAKEOFF, *_HOUSE, "--overlay-only"),
    "the same with `--no-plan`": (_TAKEOFF, *_HOUSE, "--overlay-only", "--no-plan"),
    "`takeoff --overlay-only --no-plan` of all": (_TAKEOFF, *_ALL, "--overlay-only", "--no-plan"),
}
"""What runs in a process of its own, on the drawing named first, with an output folder and these words after it."""


@dataclass(frozen=True)
class Cost:
    """Processor seconds and peak memory in megabytes of one process."""

    seconds: float
    megabytes: float


def measure(way: str, drawing: Path, folder: Path) -> Cost:
    """The cost of one way, start of the process included; the least time of three where it is short."""
    script, *options = WAYS[way]
    costs: list[Cost] = []
    while len(costs) < 3 and sum(c.seconds for c in costs) < 10.0:
        command = [sys.executable, "-c", script, str(drawing), str(folder / "out"), *options]
        process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        said = process.stderr.read() if process.stderr else b""
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"{way} failed: {said.decode(errors='replace')}")
        costs.append(Cost(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024))
    return Cost(min(c.seconds for c in costs), max(c.megabytes for c in costs))


# ------------------------------------------------------------------ drawings


def make(path: Path, count: int) -> None:
    """Write a drawing of that many entities, of which one in a hundred lies on the wanted layers.

    The wanted ones stand in rows: walls of 100 ft by 10 ft with 19 windows each; the first five are the house.
    The others are lines,
    polylines, arcs, circles, texts and references to a block, on forty layers.
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
    of_house = "-H" if wall < 5 else ""
    if place == 0:
        return _box(handle, f"A-WALL{of_house}", x, y, 1200.0, 120.0)
    return _box(handle, f"A-OPNG{of_house}", x + 60.0 * place, y + 40.0, 36.0, 48.0)


def _box(handle: int, layer: str, x: float, y: float, wide: float, high: float) -> str:
    corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    return _entity("LWPOLYLINE", handle, layer, "AcDbPolyline", (90, 4), (70, 1), *((c, v) for p in corners for c, v in zip((10, 20), p, strict=True)))


def _other(number: int, chance: random.Random) -> str:
    layer, handle, kind = f"A-DETL-{number % 40:02d}", number + 0x1000, number % 20
    x, y = chance.uniform(0, 9e4), chance.uniform(0, 9e4)
    at = ((10, x), (20, y))
    if kind < 9:
        return _entity("LINE", handle, layer, "AcDbLine", *at, (30, 0.0), (11, x + 9.5), (21, y + 4.25), (31, 0.0))
    if kind < 13:
        return _box(handle, layer, x, y, 7.5, 3.25)
    if kind < 15:
        return _entity("CIRCLE", handle, layer, "AcDbCircle", *at, (30, 0.0), (40, 2.5))
    if kind < 17:
        return _entity("ARC", handle, layer, "AcDbCircle", *at, (30, 0.0), (40, 2.5), (100, "AcDbArc"), (50, 15.0), (51, 90.0))
    if kind < 19:
        return _entity("TEXT", handle, layer, "AcDbText", *at, (30, 0.0), (40, 2.5), (1, f"NOTE {number}"), (100, "AcDbText"))
    return _entity("INSERT", handle, layer, "AcDbBlockReference", (2, "TREE"), *at, (30, 0.0))


def _entity(kind: str, handle: int, layer: str, marker: str, *tags: tuple[int, object]) -> str:
    head = ((0, kind), (5, f"{handle:X}"), (100, "AcDbEntity"), (8, layer), (100, marker))
    return "".join(f"{code:3d}\n{value}\n" for code, value in (*head, *tags))


# -------------------------------------------------------------------- tables


def tables(folder: Path, most: int) -> Iterator[str]:
    """The tables' lines, each as soon as it is known."""
    costs: dict[tuple[str, int], Cost] = {}
    sizes = [s for s in SIZES if s <= most]
    yield "| | " + " | ".join(f"{s:,} entities: s | MB | of readfile's time | of its memory" for s in sizes) + " |"
    yield "|---|" + "---:|" * (4 * len(sizes))
    drawings = {size: folder / f"{size}.dxf" for size in sizes}
    for size, path in drawings.items():
        make(path, size)
        costs[WHOLE, size] = measure(WHOLE, path, folder)
    for way in WAYS:
        cells = []
        for size, path in drawings.items():
            cost = costs.setdefault((way, size), costs.get((way, size)) or measure(way, path, folder))
            whole = costs[WHOLE, size]
            cells.append(f"{cost.seconds:.2f} | {cost.megabytes:.0f} | {cost.seconds / whole.seconds:.2f} | {cost.megabytes / whole.megabytes:.2f}")
        yield f"| {way} | " + " | ".join(cells) + " |"
    yield ""
    yield from _growth(costs, sizes)


def _growth(costs: dict[tuple[str, int], Cost], sizes: list[int]) -> Iterator[str]:
    """How time grows from one size to the next, beside how the entities do."""
    steps = list(pairwise(sizes))
    yield "| growth of time | " + " | ".join(f"{a:,} to {b:,}: {b // a} times the entities" for a, b in steps) + " |"
    yield "|---|" + "---:|" * len(steps)
    for way in WAYS:
        yield f"| {way} | " + " | ".join(f"{costs[way, b].seconds / costs[way, a].seconds:.1f}" for a, b in steps) + " |"


def main() -> None:
    """Print the tables, and write them where asked to."""
    parser = argparse.ArgumentParser(description="What reading costs.")
    parser.add_argument("--write", action="store_true", help=f"write the tables into {PAGE.relative_to(ROOT)}")
    parser.add_argument("--most", type=int, default=SIZES[-1], help="leave out larger drawings")
    asked = parser.parse_args()
    lines = []
    with tempfile.TemporaryDirectory() as folder:
        for text in tables(Path(folder), asked.most):
            print(text, flush=True)
            lines.append(text)
    if asked.write:
        machine = f"{platform.machine()} with {os.cpu_count()} cores, Python {platform.python_version()}"
        made = f"Made by `python tests/benchmarks/reading.py --write` on {datetime.date.today().isoformat()}, on {machine}."
        before, rest = PAGE.read_text(encoding="utf-8").split(BEGIN)
        page = "\n".join([before + BEGIN, made, "", *lines, END]) + rest.split(END)[1]
        PAGE.write_text(page, encoding="utf-8")


if __name__ == "__main__":
    main()
