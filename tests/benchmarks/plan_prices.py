"""Plans of one job at several prices: python tests/benchmarks/plan_prices.py [first seed] [seeds]

Lays houses (``tests/houses.py``) and columns, bays and piers (``tests/narrow_walls.py``) of random
seeds, each with a panel worth few and many cuts and with offcuts for the job and for their wall,
and prints what no user should see:

- dearer panels that buy more of them;
- a plan with another of ours beside it that has fewer panels and no more cuts, or fewer cuts and
  no more panels, and breaks no more rules;
- offcuts for the whole job that take more panels than those that stay on their wall;
- walls drawn alike whose pieces are not, and shares that don't add up.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator, Sequence
from itertools import pairwise, permutations
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests"), str(Path(__file__).parent)]

from builders import JOB  # noqa: E402
from houses import house  # noqa: E402
from narrow_walls import KINDS, narrow_walls  # noqa: E402
from planning import walls_of  # noqa: E402

from dxf2veneer.config.job import with_settings  # noqa: E402
from dxf2veneer.config.product import load_product  # noqa: E402
from dxf2veneer.coursing.bands import course_wall  # noqa: E402
from dxf2veneer.measure import measure_wall  # noqa: E402
from dxf2veneer.model import CoursePlan, WallTakeoff  # noqa: E402
from dxf2veneer.planning.plan import plan_panels  # noqa: E402
from dxf2veneer.recognise import recognise  # noqa: E402

CUTS_PER_PANEL = (2.0, 10.0, 50.0)
"""Each dearer panels than the one before."""


def jobs(first: int, count: int, folder: Path) -> Iterator[tuple[str, list[WallTakeoff]]]:
    """The name and the walls of each job."""
    product = load_product()
    for seed in range(first, first + count):
        yield f"house {seed}", walls_of([house(seed, folder)[0]])
        for kind in KINDS:
            found = recognise([narrow_walls(kind, seed)], JOB)
            measured = [measure_wall(wall, JOB, product) for wall in found.walls]
            courses = [course_wall(m, JOB, product) for m in measured]
            yield (
                f"{kind} {seed}",
                [WallTakeoff(m.wall, m, c) for m, c in zip(measured, courses, strict=True)],
            )


def faults(walls: Sequence[WallTakeoff]) -> Iterator[str]:
    """What is wrong with the plans of a job."""
    plans: list[CoursePlan] = []
    for cuts in CUTS_PER_PANEL:
        by_scope = {}
        for scope in ("job", "wall"):
            rules = with_settings(JOB, plan__cuts_per_panel=cuts, plan__offcuts=scope)
            done, by_scope[scope] = plan_panels(walls, rules, load_product())
            yield from _unlike(done, by_scope[scope])
        plans.append(by_scope["job"])
        job, wall = by_scope["job"], by_scope["wall"]
        if _cost(job, cuts) > _cost(wall, cuts) + 1e-9:
            yield f"at {cuts:g} cuts a panel offcuts for the job cost more: {_is(job)}, {_is(wall)}"
    for cheap, dear in pairwise(plans):
        if dear.total > cheap.total:
            yield f"dearer panels buy more: {_is(cheap)}, then {_is(dear)}"
    for one, other in permutations(plans, 2):
        is_no_worse = one.total <= other.total and one.cuts <= other.cuts
        if is_no_worse and (one.total, one.cuts) != (other.total, other.cuts):
            yield f"dominated: {_is(other)} by {_is(one)}"


def _cost(plan: CoursePlan, cuts_per_panel: float) -> float:
    return plan.total + plan.cuts / cuts_per_panel


def _is(plan: CoursePlan) -> str:
    return f"{plan.total} panels and {plan.cuts} cuts"


def _unlike(walls: Sequence[WallTakeoff], plan: CoursePlan) -> Iterator[str]:
    """Walls laid like another whose pieces differ; shares that don't add up."""
    pieces = {
        w.wall.id: [(p.course, round(p.x1 - p.x0, 6)) for p in w.courses.pieces] for w in walls
    }
    for count in plan.walls:
        if count.like and pieces[count.wall] != pieces[count.like]:
            yield f"{count.wall} is drawn like {count.like} and laid otherwise"
    if abs(sum(w.share for w in plan.walls) - plan.total) > 1e-6:
        yield f"shares add up to {sum(w.share for w in plan.walls):.3f} of {plan.total} panels"


def main() -> None:
    """Print every fault, and how many jobs were laid."""
    first, count = [int(text) for text in [*sys.argv[1:], *("21", "10")[len(sys.argv) - 1 :]]]
    number = wrong = 0
    with tempfile.TemporaryDirectory() as folder:
        for name, walls in jobs(first, count, Path(folder)):
            number += 1
            for fault in faults(walls):
                wrong += 1
                print(f"{name}: {fault}", flush=True)
    print(f"{wrong} faults in {number} jobs, each laid {2 * len(CUTS_PER_PANEL)} times")


if __name__ == "__main__":
    main()
