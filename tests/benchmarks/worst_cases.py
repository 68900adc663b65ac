"""Time and memory of drawings and files that ask for the most that the limits allow.

    python tests/benchmarks/worst_cases.py [FAMILY ...] [--picture docs/worst-cases.svg]

Each family grows one thing: lines of a scribble, loose lines that cross, openings over each other,
outlines inside each other, texts, dimensions, hatches, references to blocks, cells of a price
workbook, settings of single walls. Each size runs as a takeoff in a process of its own; its seconds
of the processor and its most memory are printed, and drawn over the size where a picture is asked
for. Promised is that none takes more than ``SECONDS`` or ``MEGABYTES``; what asks for more than the
limits allow ends early, in one line or with a note that the drawing was not looked at as a whole.
"""

from __future__ import annotations

import argparse
import io
import math
import os
import random
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import ezdxf
import openpyxl
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

SECONDS, MEGABYTES = 30.0, 1000.0
WIDE, HIGH = 400, 200
Curve = list[tuple[int, float, float]]
"""Size, seconds of the processor, megabytes."""


def _scribble(space: Modelspace, count: int) -> None:
    chance = random.Random(1)
    points = [(chance.uniform(450, 850), chance.uniform(0, 200)) for _ in range(count)]
    space.add_lwpolyline(points, close=True, dxfattribs={"layer": "A-WALL"})


def _loose(space: Modelspace, count: int) -> None:
    chance = random.Random(2)
    for _ in range(count):
        x, y, turn = chance.uniform(500, 2500), chance.uniform(0, 1000), chance.uniform(0, 7)
        end = x + 60 * math.cos(turn), y + 60 * math.sin(turn)
        space.add_line((x, y), end, dxfattribs={"layer": "A-WALL"})


def _overlapping(space: Modelspace, count: int) -> None:
    chance = random.Random(3)
    for _ in range(count):
        x, y = chance.uniform(1, WIDE - 13), chance.uniform(1, HIGH - 13)
        _box(space, x, y, x + 12, y + 12, "A-OPNG")


def _nested(space: Modelspace, count: int) -> None:
    for n in range(count):
        room = 2.0 * count
        _box(space, 500 + n, n, 500 + 2 * room - n, 2 * room - n, "A-WALL")


def _texts(space: Modelspace, count: int) -> None:
    for n in range(count):
        at = (n % 200 * 2, -20 - n // 200 * 2)
        space.add_text("STONE", height=10.0 ** (n % 9 - 1), dxfattribs={"insert": at})


def _dimensions(space: Modelspace, count: int) -> None:
    for n in range(count):
        space.add_linear_dim(base=(0, -20 - n), p1=(0, 0), p2=(n % WIDE + 1, 0)).render()


def _hatches(space: Modelspace, count: int) -> None:
    for n in range(count):
        x, y = n % 100 * 4, n // 100 * 4
        hatch = space.add_hatch(dxfattribs={"layer": "0"})
        hatch.paths.add_polyline_path([(x, y), (x + 5, y), (x + 5, y + 5), (x, y + 5)])


def _blocks(space: Modelspace, count: int) -> None:
    assert space.doc is not None
    block = space.doc.blocks.new("SASH")
    block.add_lwpolyline([(0, 0), (1, 0), (1, 1), (0, 1)], close=True)
    for n in range(count):
        at = (1.5 + n % 260 * 1.5, 1.5 + n // 260 * 1.5)
        space.add_blockref("SASH", at, dxfattribs={"layer": "A-OPNG"})


def _nothing(space: Modelspace, count: int) -> None:
    pass


def _prices(count: int) -> Mapping[str, bytes]:
    book = openpyxl.Workbook()
    book.active.append(["item", "unit", "price"])
    for n in range(count):
        book.active.append([f"stone {n}", "each", n / 7])
    held = io.BytesIO()
    book.save(held)
    return {"p.xlsx": held.getvalue(), "job.toml": b'[order]\nprices = "p.xlsx"\n'}


def _overrides(count: int) -> Mapping[str, bytes]:
    rows = "".join(f'[[walls.treatments]]\nwalls = ["W{n}"]\nhead = 4\n' for n in range(count))
    return {"job.toml": rows.encode()}


_Draw = Callable[[Modelspace, int], None]
_Files = Callable[[int], Mapping[str, bytes]]
FAMILIES: dict[str, tuple[_Draw, _Files | None, Sequence[int]]] = {
    "points of a scribble": (_scribble, None, (250, 500, 1000, 5000, 20_000)),
    "loose lines that cross": (_loose, None, (500, 1000, 2000, 4000, 8000)),
    "openings over each other": (_overlapping, None, (125, 250, 500, 1000, 2000)),
    "outlines inside each other": (_nested, None, (125, 250, 500, 1000, 2000)),
    "texts": (_texts, None, (1000, 5000, 20_000, 40_000)),
    "dimensions": (_dimensions, None, (100, 500, 1000, 2000)),
    "hatches": (_hatches, None, (500, 2000, 5000, 10_000)),
    "references to blocks": (_blocks, None, (500, 2000, 5000, 10_000)),
    "rows of prices": (_nothing, _prices, (1000, 10_000, 50_000)),
    "settings of walls": (_nothing, _overrides, (100, 500, 2000)),
}


def main() -> int:
    """Measure the families asked for; the exit code is 1 where one takes more than is promised."""
    parser = argparse.ArgumentParser()
    parser.add_argument("families", nargs="*", default=[*FAMILIES], metavar="FAMILY")
    parser.add_argument("--most", type=int, default=1 << 30, help="greatest size that is tried")
    parser.add_argument("--picture", type=Path)
    given = parser.parse_args()
    curves: dict[str, Curve] = {}
    for family in given.families:
        curves[family] = []
        for size in (s for s in FAMILIES[family][2] if s <= given.most):
            seconds, megabytes, last = measured(family, size)
            curves[family].append((size, seconds, megabytes))
            told = f"{family:28} {size:7,} {seconds:7.1f} s {megabytes:6.0f} MB  {last}"
            print(told, flush=True)
            if seconds > 2 * SECONDS:
                break
    if given.picture:
        given.picture.write_text(picture(curves), encoding="utf-8")
    worst = [point for curve in curves.values() for point in curve]
    return int(any(s > SECONDS or m > MEGABYTES for _, s, m in worst))


def measured(family: str, size: int) -> tuple[float, float, str]:
    """Seconds of the processor, megabytes and the last line of a takeoff of one size."""
    draw, files, _ = FAMILIES[family]
    with tempfile.TemporaryDirectory(prefix="worst-") as folder:
        place = Path(folder)
        (place / "a.dxf").write_bytes(_drawing(draw, size))
        for name, content in (files(size) if files else {}).items():
            (place / name).write_bytes(content)
        layers = [
            "--wall-layer",
            "A-WALL",
            *(["--opening-layer", "A-OPNG"] if draw is not _nested else []),
        ]
        job = ["--job", "job.toml"] if files else []
        words = [
            sys.executable,
            "-m",
            "dxf2veneer.cli",
            "takeoff",
            "a.dxf",
            "-o",
            "out",
            "--no-plan",
        ]
        with (place / "told").open("w+") as told:
            process = subprocess.Popen(
                [*words, *layers, *job], cwd=place, stdout=told, stderr=told, env={**os.environ}
            )
            _, status, used = os.wait4(process.pid, 0)
            process.returncode = os.waitstatus_to_exitcode(status)
            told.seek(0)
            lines = [line for line in told.read().splitlines() if line.strip()]
    code = f"exit {process.returncode}"
    refused = next((line[:90] for line in lines if line.startswith("Error: ")), "")
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, f"{code} {refused}".strip()


def _drawing(draw: _Draw, size: int) -> bytes:
    document: Drawing = ezdxf.new("R2010", units=1, setup=True)
    space = document.modelspace()
    if draw is not _nested:
        _box(space, 0, 0, WIDE, HIGH, "A-WALL")
        _box(space, 2, 2, 3, 3, "A-OPNG")
    draw(space, size)
    text = io.StringIO()
    document.write(text)
    return text.getvalue().encode()


def _box(space: Modelspace, x0: float, y0: float, x1: float, y1: float, layer: str) -> None:
    points = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    space.add_lwpolyline(points, close=True, dxfattribs={"layer": layer})


# ------------------------------------------------------------------ the picture

_COLORS = (
    "#1b6ca8",
    "#c0392b",
    "#1e8449",
    "#8e44ad",
    "#b9770e",
    "#117a65",
    "#2c3e50",
    "#d35400",
    "#7b241c",
    "#5d6d7e",
)
_PANE, _EDGE = 420, 60


def picture(curves: Mapping[str, Curve]) -> str:
    """Seconds and megabytes over the size, both ways by powers of ten, and what is promised."""
    parts = [
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1180 560" '
        'font-family="sans-serif" font-size="12"><rect width="1180" height="560" fill="#fff"/>'
    ]
    for pane, (title, low, high, limit) in enumerate(
        (
            ("seconds of the processor", 1.0, 100.0, SECONDS),
            ("megabytes", 10.0, 10_000.0, MEGABYTES),
        )
    ):
        left = _EDGE + pane * (_PANE + 80)
        parts += _axes(left, title, low, high, limit)
        for (_, curve), color in zip(curves.items(), _COLORS, strict=False):
            places = [_at(left, low, high, p[0], p[1 + pane]) for p in curve]
            line = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
            parts.append(
                f'<polyline points="{line}" fill="none" stroke="{color}" stroke-width="2"/>'
            )
            parts += [
                f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3" fill="{color}"/>' for x, y in places
            ]
    for n, (family, color) in enumerate(zip(curves, _COLORS, strict=False)):
        x, y = 60 + n % 5 * 220, 520 + n // 5 * 22
        parts.append(f'<text x="{x}" y="{y}" fill="{color}">{family}</text>')
    return "\n".join([*parts, "</svg>"]) + "\n"


def _axes(left: float, title: str, low: float, high: float, limit: float) -> list[str]:
    parts = [f'<text x="{left}" y="30" font-size="14">{title}</text>']
    for power in range(2, 6):
        x, _ = _at(left, low, high, 10**power, low)
        parts.append(f'<line x1="{x:.1f}" y1="50" x2="{x:.1f}" y2="470" stroke="#ddd"/>')
        parts.append(f'<text x="{x:.1f}" y="488" text-anchor="middle">{10**power:,}</text>')
    value = low
    while value <= high:
        _, y = _at(left, low, high, 100, value)
        parts.append(
            f'<line x1="{left}" y1="{y:.1f}" x2="{left + _PANE}" y2="{y:.1f}" stroke="#ddd"/>'
        )
        parts.append(f'<text x="{left - 6}" y="{y + 4:.1f}" text-anchor="end">{value:g}</text>')
        value *= 10
    _, y = _at(left, low, high, 100, limit)
    dash = 'stroke="#000" stroke-dasharray="6 4"'
    parts.append(f'<line x1="{left}" y1="{y:.1f}" x2="{left + _PANE}" y2="{y:.1f}" {dash}/>')
    parts.append(f'<text x="{left + 4}" y="{y - 5:.1f}">promised: at most {limit:g}</text>')
    return parts


def _at(left: float, low: float, high: float, size: float, value: float) -> tuple[float, float]:
    across = (math.log10(max(size, 100)) - 2.0) / 3.0
    up = math.log10(max(value, low) / low) / math.log10(high / low)
    return left + across * _PANE, 470 - up * _PANE


if __name__ == "__main__":
    sys.exit(main())
