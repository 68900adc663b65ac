"""What it costs to lay equal walls alike: python tests/benchmarks/alike_walls.py [first] [seeds]

Each seed is a job of four equal walls with doors and windows, every second one the four sides of a
house with outside corners. Prints panels, crosscuts and processor seconds with each wall for itself
and with all alike, and the sums.
"""

from __future__ import annotations

import random
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from builders import PRODUCT, drawing, job, line  # noqa: E402

from dxf2veneer.app.laying import lay_out  # noqa: E402
from dxf2veneer.model import Drawing  # noqa: E402
from dxf2veneer.recognise import recognise  # noqa: E402

WALLS = 4


def equal_walls(seed: int) -> Drawing:
    """Four equal walls of believable sizes."""
    chance = random.Random(seed)
    width, height = chance.randint(96, 400), chance.randint(60, 120)
    openings, x = [], chance.randint(14, 40)
    while x + 40 < width:
        wide = chance.randint(24, 60)
        if x + wide + 14 < width:
            sill = chance.choice((0, 30))
            openings.append((x, sill, x + wide, min(height - 10, 84)))
        x += wide + chance.randint(20, 70)
    places = [i * (width + 100) for i in range(WALLS)]
    outlines: dict[str, list] = {"wall": [(x, 0, x + width, height) for x in places]}
    for role, on_ground in (("door", True), ("window", False)):
        own = [o for o in openings if (o[1] == 0) == on_ground]
        outlines[role] = [(x + a, y0, x + b, y1) for x in places for a, y0, b, y1 in own]
    texts = []
    if seed % 2:
        ends = [(i, x) for i, x in enumerate(places)]
        outlines["outside_corner"] = [
            line(at, 0, at, height) for _, x in ends for at in (x, x + width)
        ]
        texts = [("outside_corner", f"K{(i - 1) % WALLS}", (x - 2, 10)) for i, x in ends]
        texts += [("outside_corner", f"K{i}", (x + width + 2, 10)) for i, x in ends]
    return drawing(texts=texts, **outlines)


def measured(seed: int, *, alike: bool) -> tuple[int, int, float]:
    """Panels, crosscuts and seconds of a job."""
    settings = job(plan__alike=alike)
    found = recognise([equal_walls(seed)], settings)
    began = time.process_time()
    plan = lay_out(found.walls, found.corners, settings, PRODUCT).plan
    assert plan is not None
    return plan.total, plan.cuts, time.process_time() - began


def main() -> None:
    """Print a line for each seed, and the whole."""
    first, count = [int(text) for text in [*sys.argv[1:], *("0", "10")[len(sys.argv) - 1 :]]]
    sums = [0, 0]
    print(f"{'seed':>5} {'apart':>6} {'cuts':>5} {'s':>6} {'alike':>6} {'cuts':>5} {'s':>6}")
    for seed in range(first, first + count):
        apart, alike = (measured(seed, alike=alike) for alike in (False, True))
        sums = [sums[0] + apart[0], sums[1] + alike[0]]
        row = [f"{n:6} {cuts:5} {seconds:6.1f}" for n, cuts, seconds in (apart, alike)]
        print(f"{seed:5} {row[0]} {row[1]}", flush=True)
    print(f"all   {sums[0]:6} {'':12} {sums[1]:6}   {sums[1] / sums[0] - 1:.2%} more alike")


if __name__ == "__main__":
    main()
