"""How the course plan's time grows with the walls: jobs of 2, 6 and 20 generated houses in one run.

    python tests/benchmarks/planning.py [--csv]

Prints pieces, processor seconds of the plan alone and units over the proven bound, and for each job
by what factor pieces and seconds have grown since the first one. Only the ratios of one run are
worth comparing.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests"))

from builders import JOB  # noqa: E402
from houses import SEEDS, house  # noqa: E402

from dxf2veneer.config.product import load_product  # noqa: E402
from dxf2veneer.coursing.bands import course_wall  # noqa: E402
from dxf2veneer.drawing import load_drawing  # noqa: E402
from dxf2veneer.measure import measure_wall  # noqa: E402
from dxf2veneer.model import WallTakeoff  # noqa: E402
from dxf2veneer.planning.plan import plan_panels  # noqa: E402
from dxf2veneer.recognise import recognise  # noqa: E402

HOUSES = (2, 6, 20)
"""One, three and ten times the first job, nearly."""


class Measured(NamedTuple):
    """One job and its plan: houses, wall area in square feet, pieces, units, bound,
    processor seconds.
    """

    houses: int
    area: float
    pieces: int
    units: int
    bound: int
    seconds: float


def walls_of(paths: list[Path]) -> list[WallTakeoff]:
    """The walls of drawings, measured and coursed."""
    product = load_product()
    found = recognise([load_drawing(path, JOB, i) for i, path in enumerate(paths)], JOB)
    measured = [measure_wall(wall, JOB, product) for wall in found.walls]
    return [WallTakeoff(m.wall, m, course_wall(m, JOB, product)) for m in measured]


def measured(folder: Path) -> Iterator[Measured]:
    """Each job's plan as soon as it is made."""
    paths = [house(seed, folder)[0] for seed in SEEDS]
    for count in HOUSES:
        walls = walls_of(paths[:count])
        began = time.process_time()
        done, plan = plan_panels(walls, JOB, load_product())
        seconds = time.process_time() - began
        pieces = sum(len(wall.courses.pieces) for wall in done)
        yield Measured(
            count,
            sum(w.courses.field.area for w in walls) / 144.0,
            pieces,
            plan.total,
            plan.bound,
            seconds,
        )


def main() -> None:
    """Print a line for each job, as a table or with ``--csv`` the bare numbers."""
    if "--csv" in sys.argv[1:]:
        with tempfile.TemporaryDirectory() as folder:
            for job in measured(Path(folder)):
                print(*job, sep=",", flush=True)
        return
    print(
        f"{'houses':>6} {'sq ft':>8} {'pieces':>8} {'times':>6} {'seconds':>8} {'times':>6} "
        f"{'units':>6} {'bound':>6} {'over':>7}"
    )
    with tempfile.TemporaryDirectory() as folder:
        first: Measured | None = None
        for job in measured(Path(folder)):
            first = first or job
            grown, slower = job.pieces / first.pieces, job.seconds / first.seconds
            over = job.units / job.bound - 1
            print(
                f"{job.houses:6} {job.area:8,.0f} {job.pieces:8,} {grown:6.1f} {job.seconds:8.2f} "
                f"{slower:6.1f} {job.units:6,} {job.bound:6,} {over:7.2%}",
                flush=True,
            )


if __name__ == "__main__":
    main()
