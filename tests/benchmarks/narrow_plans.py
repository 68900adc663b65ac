"""Plans of columns, bays and piers: python tests/benchmarks/narrow_plans.py

Lays the jobs of ``tests/narrow_walls.py`` one by one and prints, kind by kind, units over the
proven bound; the seeds that nobody tunes on stand by themselves. The bound leaves open whether
walls drawn alike are laid alike, so columns stand there a second time, each face by itself.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from builders import JOB, PRODUCT  # noqa: E402
from narrow_walls import ASIDE, KINDS, SEEDS, narrow_walls  # noqa: E402

from dxf2veneer.app.laying import lay_out  # noqa: E402
from dxf2veneer.config.job import Job, with_settings  # noqa: E402
from dxf2veneer.recognise import recognise  # noqa: E402


class Narrow(NamedTuple):
    """Jobs of one kind: units and bound in all, how many meet their bound, rules broken and forced
    somewhere.
    """

    kind: str
    jobs: int
    units: int
    bound: int
    met: int
    most: int
    """The most units that one of them is over its bound."""
    broken: int
    forced: int

    @property
    def over(self) -> float:
        """Units over the bound, as a share of it."""
        return self.units / self.bound - 1


def narrow(kind: str, seeds: range, job: Job = JOB) -> Narrow:
    """The columns, bays or piers of these seeds, each laid by itself."""
    found = Narrow(kind, len(seeds), 0, 0, 0, 0, 0, 0)
    for seed in seeds:
        recognised = recognise([narrow_walls(kind, seed)], job)
        plan = lay_out(recognised.walls, recognised.corners, job, PRODUCT).plan
        assert plan is not None
        over, forced = plan.total - plan.bound, sum(b.forced for b in plan.breaks)
        found = found._replace(
            units=found.units + plan.total,
            bound=found.bound + plan.bound,
            met=found.met + (over == 0),
            most=max(found.most, over),
            broken=found.broken + len(plan.breaks) - forced,
            forced=found.forced + forced,
        )
    return found


def groups() -> Iterator[Narrow]:
    """Every kind, those kept aside after the others."""
    unlike = with_settings(JOB, plan__alike=False)
    for title, seeds in (("", SEEDS), (", kept aside", ASIDE)):
        for kind in KINDS:
            yield narrow(kind, seeds)._replace(kind=kind + title)
        yield narrow("columns", seeds, unlike)._replace(kind=f"columns, no faces alike{title}")


def main() -> None:
    """Print a line for each group."""
    print(
        f"{'kind':35} {'jobs':>5} {'units':>6} {'bound':>6} {'over':>7} {'at bound':>9} "
        f"{'most over':>10} {'broken':>7} {'forced':>7}"
    )
    for n in groups():
        print(
            f"{n.kind:35} {n.jobs:5} {n.units:6,} {n.bound:6,} {n.over:7.2%} {n.met:9} "
            f"{n.most:10} {n.broken:7} {n.forced:7}",
            flush=True,
        )


if __name__ == "__main__":
    main()
