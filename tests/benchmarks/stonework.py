"""Stonework before and after: python tests/benchmarks/stonework.py [--houses 1..80] [--write]

Plans made houses of all styles twice: for the fewest panels and crosscuts alone (``--aim panels``),
and as a job is planned where nothing is said. For each kind of house, and for those that rules were
tuned on (1 to 20) and those that nobody looked at apart, it prints how the joints look (rule L25),
where the offcuts go (L26), what becomes of the plan when edges are off by half an inch (L27), and
what that costs. The judge counts all of it, which shares nothing with the planner. ``--write`` puts
the table into docs/stonework.md.
"""

from __future__ import annotations

import argparse
import math
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from houses import SEEDS, STYLES, house, style_of  # noqa: E402  the folder is no package

from dxf2veneer.app.pipeline import take_off  # noqa: E402
from dxf2veneer.config.job import Planning, with_settings  # noqa: E402
from dxf2veneer.model import Handling, Look  # noqa: E402
from dxf2veneer.verify.look import look_of  # noqa: E402
from dxf2veneer.verify.tolerance import tolerance_of  # noqa: E402

PAGE = ROOT / "docs" / "stonework.md"
MARKS = "<!-- made by tests/benchmarks/stonework.py -->", "<!-- end -->"
PLANS = {
    "fewest panels": {"plan__aim": "panels"},
    "default": {
        f"plan__{name}": getattr(Planning, name)
        for name in ("look", "offcuts", "tolerance", "cuts_per_panel")
    },
}
"""Settings of the two plans; the houses themselves ask for no look."""


class Seen(NamedTuple):
    """One plan of one house as the judge sees it, and the seconds of processor it took."""

    seed: int
    panels: int
    cuts: int
    broken: int
    look: Look
    handling: Handling
    runs: int
    held: int
    too_long: int
    seconds: float


Figure = Callable[[Sequence[Seen]], str]


def share(part: int, whole: int) -> str:
    """A part of a whole in per cent."""
    return f"{100.0 * part / whole:.1f}" if whole else "–"


def total(name: str) -> Figure:
    """The sum of a field of the plans."""
    return lambda rows: f"{sum(getattr(row, name) for row in rows):,}"


FIGURES: dict[str, Figure] = {
    "panels": total("panels"),
    "cuts": total("cuts"),
    "in line, %": lambda rows: share(
        sum(r.look.in_line for r in rows), sum(r.look.over for r in rows)
    ),
    "repeated": lambda rows: f"{sum(r.look.repeats for r in rows):,}",
    "ladder": lambda rows: f"{max(r.look.ladder for r in rows)}",
    "stair": lambda rows: f"{max(r.look.stair for r in rows)}",
    "alike corners, %": lambda rows: share(
        sum(r.look.equal_turns for r in rows), sum(r.look.turns for r in rows)
    ),
    "at jambs": lambda rows: f"{sum(r.look.jambs for r in rows):,}",
    "short": lambda rows: f"{sum(r.look.shorts for r in rows):,}",
    "offcuts": lambda rows: f"{sum(r.handling.offcuts for r in rows):,}",
    "far": lambda rows: f"{sum(r.handling.far for r in rows):,}",
    "late": lambda rows: f"{sum(r.handling.late for r in rows):,}",
    "waiting": lambda rows: f"{max(r.handling.waiting for r in rows)}",
    "lengths": lambda rows: f"{max(r.handling.lengths for r in rows)}",
    "hold, %": lambda rows: share(sum(r.held for r in rows), sum(r.runs for r in rows)),
    "can't grow, %": lambda rows: share(sum(r.too_long for r in rows), sum(r.runs for r in rows)),
    "broken": total("broken"),
    "s": lambda rows: f"{math.fsum(row.seconds for row in rows):.0f}",
}


def seen(seed: int, name: str) -> Seen:
    """A house planned one way, and looked at."""
    with tempfile.TemporaryDirectory() as folder:
        path, job = house(seed, Path(folder))
        job = with_settings(job, **PLANS[name])
        begun = time.process_time()
        takeoff = take_off([path], job)
        seconds = time.process_time() - begun
    off = with_settings(job, plan__tolerance=Planning.tolerance)
    plan, room = takeoff.plan, tolerance_of(takeoff.walls, off, takeoff.product)
    assert plan is not None and plan.handling is not None and room is not None
    return Seen(
        seed, plan.total, plan.cuts, sum(not b.forced for b in plan.breaks),
        look_of(takeoff.walls, takeoff.product), plan.handling,
        room.runs, room.held, room.count("long"), seconds,
    )  # fmt: skip


def table(rows: dict[str, list[Seen]]) -> Iterator[str]:
    """The table's lines: two for each group of houses."""
    yield "| houses | number | plan | " + " | ".join(FIGURES) + " |"
    yield "|---|---:|---|" + "---:|" * len(FIGURES)
    groups: dict[str, Callable[[int], bool]] = {
        style: lambda seed, style=style: style_of(seed) == style for style in STYLES
    }
    groups |= {
        "rules tuned on": lambda seed: seed in SEEDS,
        "kept aside": lambda seed: seed not in SEEDS,
        "all": lambda seed: True,
    }
    for group, belongs in groups.items():
        for name, every in rows.items():
            own = [row for row in every if belongs(row.seed)]
            if own:
                cells = (figure(own) for figure in FIGURES.values())
                yield f"| {group} | {len(own)} | {name} | " + " | ".join(cells) + " |"


def main() -> None:
    """Print the table, and write it where asked to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", default="1..80", help="seeds, as 1..80")
    parser.add_argument("--workers", type=int, default=2, help="processes at once")
    parser.add_argument("--write", action="store_true", help=f"write {PAGE.relative_to(ROOT)}")
    given = parser.parse_args()
    first, last = map(int, given.houses.split(".."))
    seeds = range(first, last + 1)
    with ProcessPoolExecutor(given.workers, mp_context=get_context("spawn")) as pool:
        rows = {name: list(pool.map(seen, seeds, [name] * len(seeds))) for name in PLANS}
    lines = list(table(rows))
    print("\n".join(lines))
    if given.write:
        text = PAGE.read_text(encoding="utf-8")
        before, rest = text.split(MARKS[0], 1)
        after = rest.split(MARKS[1], 1)[1]
        body = "\n".join((MARKS[0], "", *lines, "", MARKS[1]))
        PAGE.write_text(before + body + after, encoding="utf-8")


if __name__ == "__main__":
    main()
