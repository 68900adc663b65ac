"""What course plans take of walls of each kind: python tests/benchmarks/wall_experience.py

Lays the twenty made houses (`tests/houses.py`) and twenty plain walls drawn by chance, shares each
panel out among the walls by the length of its pieces, and prints the table of
`dxf2veneer/order/experience.py`: per 100 square feet of net area flat and corner pieces, cuts and
partial pieces, and panels bought over panels' worth of net area, the middle and what eight walls
of ten lie between.
"""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from builders import JOB, PRODUCT, drawing  # noqa: E402  the folder of the tests is no package
from houses import SEEDS, house  # noqa: E402

from dxf2veneer.app.laying import lay_out  # noqa: E402
from dxf2veneer.app.pipeline import take_off  # noqa: E402
from dxf2veneer.model import CoursePlan, WallTakeoff  # noqa: E402
from dxf2veneer.order.experience import kind_of  # noqa: E402
from dxf2veneer.recognise import recognise  # noqa: E402

Row = tuple[float, float, float, float, float, float]
"""Square feet, panels, flat pieces, corner pieces, cuts and partial pieces of one wall."""


def rows(walls: tuple[WallTakeoff, ...], plan: CoursePlan) -> Iterator[tuple[str, Row]]:
    """Each wall's kind and numbers."""
    used = {unit.id: unit.used for unit in plan.units}
    for wall, count in zip(walls, plan.walls, strict=True):
        own = {(p.course, p.stock, p.at): p for p in wall.courses.pieces}.values()
        yield (
            kind_of(wall, PRODUCT),
            (
                wall.quantities.net_area / 144.0,
                sum(p.length / used[p.stock] for p in own),
                sum(p.unit == "flat" for p in wall.courses.pieces),
                sum(p.unit == "corner" for p in wall.courses.pieces),
                count.cuts,
                sum(p.ripped or p.glued for p in wall.courses.pieces),
            ),
        )


def all_rows(folder: Path) -> Iterator[tuple[str, Row]]:
    """The rows of every house and plain wall."""
    for seed in SEEDS:
        path, job = house(seed, folder)
        takeoff = take_off([path], job)
        assert takeoff.plan is not None
        yield from rows(takeoff.walls, takeoff.plan)
    chance = random.Random(1)
    for _ in range(20):
        width, height = chance.randint(96, 480), chance.randint(40, 120)
        found = recognise([drawing(wall=[(0, 0, width, height)])], JOB)
        laid = lay_out(found.walls, found.corners, JOB, PRODUCT)
        assert laid.plan is not None
        yield from rows(laid.walls, laid.plan)


def main() -> None:
    """Print a line for each kind."""
    by_kind: dict[str, list[Row]] = defaultdict(list)
    with tempfile.TemporaryDirectory() as folder:
        for kind, row in all_rows(Path(folder)):
            by_kind[kind].append(row)
    face = PRODUCT.coverage_area / 144.0
    for kind, found in sorted(by_kind.items()):
        area = sum(r[0] for r in found)
        shares = [r[1] * face / r[0] for r in found]
        tenths = statistics.quantiles(shares, n=10)
        per = [round(100.0 * face * sum(r[i] for r in found) / area, 1) for i in range(2, 6)]
        numbers = (*per, round(sum(r[1] for r in found) * face / area, 2))
        spread = (round(tenths[0], 2), round(tenths[-1], 2))
        print(f'    "{kind}": Experience({", ".join(map(str, (*numbers, *spread)))}),')


if __name__ == "__main__":
    main()
