"""Where the offcuts of plans go: python tests/benchmarks/near_offcuts.py [--houses 1..20] [--each]
                                 [--aims]

Plans made houses of all styles with offcuts that may go anywhere, and with those that are used near
the panel that they come from (rule L26), and prints, in all, the panels and cuts, how many offcuts
go farther than the next wall round a corner, how many wait longer than the job allows, the most
that wait at once in a house, the different lengths of each house, and broken rules. The judge
counts them, which shares nothing with the planner. ``--aims`` does so for every word of
``plan.aim``.
"""

from __future__ import annotations

import argparse
import math
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from houses import house  # noqa: E402  the folder of the tests is no package

from dxf2veneer.app.pipeline import take_off  # noqa: E402
from dxf2veneer.config.aims import AIMS  # noqa: E402
from dxf2veneer.config.job import Planning, with_settings  # noqa: E402
from dxf2veneer.model import CoursePlan  # noqa: E402

OFFCUTS: dict[str, dict[str, Any]] = {
    word: {"plan__look": "quiet", "plan__offcuts": word} for word in ("job", "near")
}
ROOM = {"plan__tolerance": Planning.tolerance}
BY_AIM: dict[str, dict[str, Any]] = {
    word: {"plan__aim": word, **ROOM, **{k.replace(".", "__"): v for k, v in brought.items()}}
    for word, brought in AIMS.items()
}
HEAD = "offcuts  panels   cuts  offcuts    far   late  longest  waiting  lengths  broken  seconds"


def planned(seed: int, changes: dict[str, Any]) -> tuple[CoursePlan, float]:
    """The plan of a house, and the seconds of processor that it took."""
    with tempfile.TemporaryDirectory() as folder:
        path, job = house(seed, Path(folder))
        begun = time.process_time()
        plan = take_off([path], with_settings(job, **changes)).plan
        assert plan is not None
        return plan, time.process_time() - begun


def line(word: str, rows: list[tuple[CoursePlan, float]]) -> str:
    """The figures of some houses in all."""
    plans = [plan for plan, _ in rows]
    found = [plan.handling for plan in plans if plan.handling]
    broken = sum(not b.forced for plan in plans for b in plan.breaks)
    return (
        f"{word:8} {sum(p.total for p in plans):6} {sum(p.cuts for p in plans):6}"
        f" {sum(h.offcuts for h in found):8} {sum(h.far for h in found):6}"
        f" {sum(h.late for h in found):6} {max(h.longest for h in found):8}"
        f" {max(h.waiting for h in found):8} {sum(h.lengths for h in found):8} {broken:7}"
        f" {math.fsum(s for _, s in rows):8.1f}"
    )


def main() -> None:
    """Print the figures of all ways."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", default="1..20", help="seeds, as 1..20")
    parser.add_argument("--each", action="store_true", help="print each house too")
    parser.add_argument("--aims", action="store_true", help="for every word of plan.aim")
    given = parser.parse_args()
    ways = BY_AIM if given.aims else OFFCUTS
    first, last = map(int, given.houses.split(".."))
    print(HEAD)
    rows: dict[str, list[tuple[CoursePlan, float]]] = {word: [] for word in ways}
    for seed in range(first, last + 1):
        for word, changes in ways.items():
            rows[word].append(planned(seed, changes))
            if given.each:
                print(f"house {seed}: {line(word, rows[word][-1:])}", flush=True)
    for word in ways:
        print(line(word, rows[word]))


if __name__ == "__main__":
    main()
