"""What plans do when edges are off: python tests/benchmarks/tolerances.py [--houses 1..20] [--each]

Plans made houses of all styles without and with room for edges that are off (rule L27), and prints
the panels and cuts, the runs, those with no place where a rule gives way, the places by kind (a run
too long for its panels, one that leaves a piece below the least, joints nearer than the stagger,
corner pieces that come to be alike), and broken rules. The judge counts them for both plans, which
shares nothing with the planner.
"""

from __future__ import annotations

import argparse
import math
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from houses import house  # noqa: E402  the folder of the tests is no package

from dxf2veneer.app.pipeline import take_off  # noqa: E402
from dxf2veneer.config.job import with_settings  # noqa: E402
from dxf2veneer.model import CoursePlan, FragileKind, Tolerance  # noqa: E402
from dxf2veneer.verify.tolerance import tolerance_of  # noqa: E402

KINDS: tuple[FragileKind, ...] = ("long", "short", "stagger", "halves")
HEAD = "room   panels   cuts   runs   held    long   short  stagger  halves  broken  seconds"


class Row(NamedTuple):
    """A plan, what becomes of it when edges are off, and the seconds of processor it took."""

    plan: CoursePlan
    seen: Tolerance
    seconds: float


def planned(seed: int, off: float, *, has_room: bool) -> Row:
    """The plan of a house, with room for edges that are off by so much or without."""
    with tempfile.TemporaryDirectory() as folder:
        path, job = house(seed, Path(folder))
        told = with_settings(job, plan__look="quiet", plan__offcuts="near", plan__tolerance=off)
        begun = time.process_time()
        takeoff = take_off([path], told if has_room else with_settings(told, plan__tolerance=0.0))
        seconds = time.process_time() - begun
        seen = tolerance_of(takeoff.walls, told, takeoff.product)
        assert takeoff.plan is not None and seen is not None
        return Row(takeoff.plan, seen, seconds)


def line(has_room: bool, rows: list[Row]) -> str:
    """The figures of some houses in all."""
    runs, held = (sum(getattr(row.seen, name) for row in rows) for name in ("runs", "held"))
    long, short, stagger, halves = (sum(row.seen.count(kind) for row in rows) for kind in KINDS)
    broken = sum(not b.forced for row in rows for b in row.plan.breaks)
    return (
        f"{'with' if has_room else 'none':5} {sum(r.plan.total for r in rows):7}"
        f" {sum(r.plan.cuts for r in rows):6} {runs:6} {held / runs:6.1%} {long:7} {short:7}"
        f" {stagger:8} {halves:7} {broken:7} {math.fsum(r.seconds for r in rows):8.1f}"
    )


def main() -> None:
    """Print the figures of both in all."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", default="1..20", help="seeds, as 1..20")
    parser.add_argument("--off", type=float, default=0.5, help="inches that edges may be off")
    parser.add_argument("--each", action="store_true", help="print each house too")
    given = parser.parse_args()
    first, last = map(int, given.houses.split(".."))
    print(HEAD)
    rows: dict[bool, list[Row]] = {False: [], True: []}
    for seed in range(first, last + 1):
        for has_room, own in rows.items():
            own.append(planned(seed, given.off, has_room=has_room))
            if given.each:
                print(f"house {seed}: {line(has_room, own[-1:])}", flush=True)
    for has_room, own in rows.items():
        print(line(has_room, own))


if __name__ == "__main__":
    main()
