"""What plans need and how long they take: jobs of generated houses.

    python tests/benchmarks/planning.py [--csv]
    python tests/benchmarks/planning.py --against COMMIT [SEED ...]

The first lays jobs of 2, 6 and 20 houses and prints pieces, processor seconds of the plan alone and
units over the proven bound, and for each job by what factor pieces and seconds have grown since the
first one. The second lays every house by itself, in turn by the code of this checkout and by that
of an older commit (checked out beside it for the time), and prints panels, cuts and seconds of
both. Only the ratios of one run are worth comparing.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
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
        walls, product = walls_of(paths[:count]), load_product()
        began = time.process_time()
        done, plan = plan_panels(walls, JOB, product)
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


class LaidHouse(NamedTuple):
    """The plan of one house: panels, the bound, cuts, processor seconds."""

    panels: int
    bound: int
    cuts: int
    seconds: float


def laid_house(seed: int) -> LaidHouse:
    """One house, laid by the code that is imported here."""
    with tempfile.TemporaryDirectory() as folder:
        path, job = house(seed, Path(folder))
        walls, product = walls_of([path]), load_product()
        began = time.process_time()
        _, plan = plan_panels(walls, job, product)
        return LaidHouse(plan.total, plan.bound, plan.cuts, time.process_time() - began)


def laid_by(code: Path, seed: int) -> LaidHouse:
    """One house, laid by the code of a checkout in a process of its own."""
    command = [sys.executable, __file__, "--house", str(seed)]
    environment = {**os.environ, "PYTHONPATH": str(code)}
    done = subprocess.run(command, env=environment, check=True, capture_output=True, text=True)
    panels, bound, cuts, seconds = done.stdout.split(",")
    return LaidHouse(int(panels), int(bound), int(cuts), float(seconds))


def compare(commit: str, seeds: Sequence[int]) -> None:
    """Print a line for each house, laid by this code and by that of an older commit."""
    print(f"{'house':>5} {'bound':>6} {'panels':>6} {'then':>6} {'cuts':>6} {'then':>6} "
          f"{'seconds':>8} {'then':>8} {'ratio':>6}")  # fmt: skip
    both: list[tuple[LaidHouse, LaidHouse]] = []
    with tempfile.TemporaryDirectory() as folder:
        older = Path(folder) / "older"
        git = ["git", "-C", str(ROOT), "worktree"]
        subprocess.run([*git, "add", "--detach", str(older), commit], check=True)
        try:
            for seed in seeds:
                both.append((laid_by(ROOT, seed), laid_by(older, seed)))
                _print_pair(str(seed), *both[-1])
        finally:
            subprocess.run([*git, "remove", "--force", str(older)], check=True)
    now, then = (
        LaidHouse(*[sum(column) for column in zip(*[pair[k] for pair in both], strict=True)])
        for k in (0, 1)
    )
    _print_pair("all", now, then)
    print(
        f"over the bound: {now.panels / now.bound - 1:.2%}, then {then.panels / now.bound - 1:.2%}"
    )


def _print_pair(name: str, now: LaidHouse, then: LaidHouse) -> None:
    print(
        f"{name:>5} {now.bound:6,} {now.panels:6,} {then.panels:6,} {now.cuts:6,} {then.cuts:6,} "
        f"{now.seconds:8.2f} {then.seconds:8.2f} {now.seconds / then.seconds:6.2f}",
        flush=True,
    )


def main() -> None:
    """Compare with an older commit, or show how time grows with the job."""
    parser = argparse.ArgumentParser(description="Plans of generated houses.")
    parser.add_argument("--csv", action="store_true", help="bare numbers")
    parser.add_argument("--against", metavar="COMMIT", help="lay each house by its code too")
    parser.add_argument("--house", type=int, metavar="SEED", help="one house as bare numbers")
    parser.add_argument("seeds", nargs="*", type=int, help="houses to compare, all by default")
    asked = parser.parse_args()
    if asked.house is not None:
        print(*laid_house(asked.house), sep=",")
    elif asked.against:
        compare(asked.against, asked.seeds or SEEDS)
    else:
        growth(as_csv=asked.csv)


def growth(*, as_csv: bool) -> None:
    """Print a line for each job, as a table or with ``--csv`` the bare numbers."""
    if as_csv:
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
