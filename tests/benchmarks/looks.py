"""How the joints of plans look: python tests/benchmarks/looks.py [--houses 1..20] [--set K=V ...]

Plans made houses of all styles and prints, in all, the panels and cuts, and how many joints stand
in line two courses apart, the longest ladder and stair, repeated courses, equal corner pieces round
corners, joints in line with jambs and columns of short pieces (rule L25). The judge's look counts
them, which shares nothing with the planner. ``--set`` gives settings of the job, as
``--set plan__cuts_per_panel=20.0``.
"""

from __future__ import annotations

import argparse
import ast
import math
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from houses import STYLES, house, style_of  # noqa: E402  the folder of the tests is no package

from dxf2veneer.app.pipeline import take_off  # noqa: E402
from dxf2veneer.config.job import with_settings  # noqa: E402
from dxf2veneer.model import Look, Takeoff  # noqa: E402
from dxf2veneer.verify.look import look_of  # noqa: E402


@dataclass(frozen=True)
class Row:
    """One house."""

    seed: int
    takeoff: Takeoff
    look: Look
    seconds: float


def measured(seed: int, settings: dict[str, object]) -> Row:
    """The plan of a house, looked at."""
    with tempfile.TemporaryDirectory() as folder:
        path, job = house(seed, Path(folder))
        begun = time.process_time()
        takeoff = take_off([path], with_settings(job, **{"plan__look": "quiet", **settings}))
        return Row(
            seed, takeoff, look_of(takeoff.walls, takeoff.product), time.process_time() - begun
        )


def line(name: str, rows: list[Row]) -> str:
    """The figures of some houses in all."""
    looks = [row.look for row in rows]
    plans = [row.takeoff.plan for row in rows if row.takeoff.plan]
    over, turns = sum(n.over for n in looks), sum(n.turns for n in looks)
    in_line, equal = sum(n.in_line for n in looks), sum(n.equal_turns for n in looks)
    broken = sum(not b.forced for plan in plans for b in plan.breaks)
    return (
        f"{name:10} {sum(p.total for p in plans):6} {sum(p.cuts for p in plans):6}"
        f" {in_line / max(1, over):8.1%} {max(n.ladder for n in looks):7}"
        f" {max(n.stair for n in looks):6} {sum(n.repeats for n in looks):8}"
        f" {equal / max(1, turns):8.1%} {sum(n.jambs for n in looks):6}"
        f" {sum(n.shorts for n in looks):7} {broken:7} {math.fsum(r.seconds for r in rows):7.1f}"
    )


def main() -> None:
    """Print the figures by style and in all."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", default="1..20", help="seeds, as 1..20")
    parser.add_argument("--set", action="append", default=[], help="a setting, as plan__kerf=0.25")
    parser.add_argument("--each", action="store_true", help="print each house too")
    given = parser.parse_args()
    first, last = map(int, given.houses.split(".."))
    settings = {key: ast.literal_eval(value) for key, value in (s.split("=", 1) for s in given.set)}
    print(
        "houses     panels   cuts  in line  ladder  stair  repeats  corners  jambs  shorts"
        "  broken  seconds"
    )
    rows = []
    for seed in range(first, last + 1):
        rows.append(measured(seed, settings))
        if given.each:
            print(line(f"{seed} {style_of(seed)}"[:10], rows[-1:]), flush=True)
    for style in STYLES:
        own = [row for row in rows if style_of(row.seed) == style]
        if own:
            print(line(style, own))
    print(line("all", rows))


if __name__ == "__main__":
    main()
