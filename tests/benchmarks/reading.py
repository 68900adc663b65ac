"""What large drawings cost: python tests/benchmarks/reading.py [--write] [--most ENTITIES]
[--minutes MINUTES]

Makes drawings of 10,000, 100,000 and 500,000 entities of which one in a hundred is a wall or a
window, and runs our takeoff and other readers on them, each in a process of its own. Prints
processor time and peak memory, as ratios too, how time grows with entities and pieces, the start of
the command, and the targets. ``--write`` puts it all into docs/performance.md. A way that fails, or
that the minutes don't suffice for, is left out and said to be.
"""

from __future__ import annotations

import argparse
import os
import platform
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Generator, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path

import startup
from big_drawings import make

ROOT = Path(__file__).parent.parent.parent
PAGE = ROOT / "docs" / "performance.md"
SIZES = (10_000, 100_000, 500_000)
BEGIN, END = "<!-- reading -->", "<!-- end of reading -->"

_HOUSE, _STREET, _ALL = (
    tuple(f"A-{kind}-{group}" for kind in ("WALL", "OPNG")) for group in ("HOUSE", "[HS]*", "*")
)
"""The wanted layers: of one house, of ten, of all walls."""
_TAKEOFF = """
import sys
from dxf2veneer.cli import main
drawing, folder, wall, opening, *others = sys.argv[1:]
layers = ["--wall-layer", wall, "--opening-layer", opening]
main(["takeoff", drawing, *layers, "-o", folder, "--overlay-only", *others])
"""
_LOAD = """
import sys
from pathlib import Path
from dxf2veneer.drawing import load_drawing
from dxf2veneer.config.job import load_job
job = load_job(None, {"layers.wall": (sys.argv[3],), "layers.opening": (sys.argv[4],)})
load_drawing(Path(sys.argv[1]), job, 0)
"""
_SURVEY = 'import sys; from dxf2veneer.cli import main; main(["layers", sys.argv[1]])'
_GDAL = """
import sys, pyogrio.raw
pyogrio.raw.read(sys.argv[1], where="Layer LIKE 'A-WALL-%' OR Layer LIKE 'A-OPNG-%'")
"""
WHOLE, GDAL = "`ezdxf.readfile`", "GDAL, the walls' layers"
HOUSE, STREET, ALL = "takeoff of one house", "takeoff of ten houses", "takeoff of all houses"
HOUSE_AREA, STREET_AREA, ALL_AREA = (f"{what}, `--no-plan`" for what in (HOUSE, STREET, ALL))
WAYS: dict[str, tuple[str, ...]] = {
    WHOLE: ("import sys, ezdxf; ezdxf.readfile(sys.argv[1])",),
    GDAL: (_GDAL,),
    "the bytes alone": ("import sys; open(sys.argv[1], 'rb').read()",),
    "our reading, the walls' layers": (_LOAD, *_ALL),
    "`layers`": (_SURVEY,),
    HOUSE_AREA: (_TAKEOFF, *_HOUSE, "--no-plan"),
    HOUSE: (_TAKEOFF, *_HOUSE),
    STREET_AREA: (_TAKEOFF, *_STREET, "--no-plan"),
    STREET: (_TAKEOFF, *_STREET),
    ALL_AREA: (_TAKEOFF, *_ALL, "--no-plan"),
    ALL: (_TAKEOFF, *_ALL),
}
"""What runs in a process of its own, on the drawing named first,
with an output folder and these words after it.
"""
TAKEOFFS = (HOUSE_AREA, HOUSE, STREET_AREA, STREET, ALL_AREA, ALL)
_MOST_ABOVE_LINEAR = 1.1


@dataclass(frozen=True)
class Cost:
    """Processor seconds and peak memory in megabytes of one process."""

    seconds: float
    megabytes: float


@dataclass
class Bench:
    """What has been measured, and the time by which it must be over."""

    folder: Path
    until: float
    costs: dict[tuple[str, int], Cost] = field(default_factory=dict)

    @property
    def left(self) -> float:
        """Seconds that are left."""
        return self.until - time.monotonic()

    def measure(self, way: str, size: int) -> None:
        """The cost of one way, start of the process included;
        the least time of three where it is short.
        """
        costs: list[Cost] = []
        while len(costs) < 3 and sum(c.seconds for c in costs) < 6.0:
            cost = self._once(way, size)
            if cost is None:
                return
            costs.append(cost)
            self.costs[way, size] = Cost(
                min(c.seconds for c in costs), max(c.megabytes for c in costs)
            )

    def _once(self, way: str, size: int) -> Cost | None:
        if self.left <= 0:
            return None
        script, *options = WAYS[way]
        command = [
            sys.executable,
            "-c",
            script,
            str(self.folder / f"{size}.dxf"),
            str(self.folder / "out"),
            *options,
        ]
        with tempfile.TemporaryFile() as said:
            process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=said)
            ending = threading.Timer(self.left, process.kill)
            ending.start()
            _, status, used = os.wait4(process.pid, 0)
            ending.cancel()
            process.returncode = os.waitstatus_to_exitcode(status)
            if process.returncode:
                said.seek(0)
                print(
                    f"{way}, {size:,}: ended with {process.returncode}",
                    said.read()[-500:].decode(errors="replace"),
                    file=sys.stderr,
                )
                return None
        return Cost(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)

    def share(self, way: str, size: int, of: str = WHOLE) -> tuple[float, float] | None:
        """Time and memory of a way in those of another."""
        one, other = self.costs.get((way, size)), self.costs.get((of, size))
        return (
            (one.seconds / other.seconds, one.megabytes / other.megabytes)
            if one and other
            else None
        )

    def growth(self, way: str, small: int, large: int) -> float | None:
        """How many times as long a way takes on the larger drawing."""
        one, other = self.costs.get((way, small)), self.costs.get((way, large))
        return other.seconds / one.seconds if one and other else None


# -------------------------------------------------------------------- tables


def tables(bench: Bench, sizes: list[int]) -> Iterator[str]:
    """The tables' lines, each as soon as it is known."""
    yield (
        "| | "
        + " | ".join(f"{s:,} entities: s | MB | of readfile's time | of its memory" for s in sizes)
        + " |"
    )
    yield "|---|" + "---:|" * (4 * len(sizes))
    for size in sizes:
        make(bench.folder / f"{size}.dxf", size)
    for way in WAYS:
        for size in sizes:
            if (
                way not in (STREET, STREET_AREA) or size > 100_000
            ):  # smaller drawings hold no more than ten houses
                bench.measure(way, size)
        yield f"| {way} | " + " | ".join(_cells(bench, way, size) for size in sizes) + " |"
    yield ""
    yield from _growth(bench, sizes)
    yield ""
    pieces = yield from _plans(bench)
    ours, empty = startup.best_of(10)
    yield (
        f"`dxf2veneer --help` takes {1000 * ours:.0f} ms, "
        f"a Python process that imports click {1000 * empty:.0f} ms."
    )
    yield ""
    yield from _targets(bench, sizes, pieces, ours / empty)


def _cells(bench: Bench, way: str, size: int) -> str:
    cost, share = bench.costs.get((way, size)), bench.share(way, size)
    if cost is None:
        return "– | – | – | –"
    shares = f"{share[0]:.2f} | {share[1]:.2f}" if share else "– | –"
    return f"{cost.seconds:.2f} | {cost.megabytes:.0f} | {shares}"


def _growth(bench: Bench, sizes: list[int]) -> Iterator[str]:
    """How time grows from one size to the next, beside how the entities do."""
    steps = list(pairwise(sizes))
    yield (
        "| growth of time | "
        + " | ".join(f"{a:,} to {b:,}: {b // a} times the entities" for a, b in steps)
        + " |"
    )
    yield "|---|" + "---:|" * len(steps)
    for way in WAYS:
        if way not in (STREET, STREET_AREA):
            yield (
                f"| {way} | "
                + " | ".join(_shown(bench.growth(way, a, b), 1) for a, b in steps)
                + " |"
            )


def _plans(bench: Bench) -> Generator[str, None, float | None]:
    """How the plan grows with the pieces; returns the time for a piece of the largest job,
    in that of the smallest.
    """
    jobs: list[tuple[float, float]] = []
    with suppress(subprocess.TimeoutExpired):
        command = [sys.executable, str(Path(__file__).with_name("planning.py")), "--csv"]
        done = subprocess.run(
            command, capture_output=True, text=True, timeout=max(1.0, bench.left), check=False
        )
        jobs = [
            (float(pieces), float(seconds))
            for _, _, pieces, _, _, seconds in (
                text.split(",") for text in done.stdout.splitlines()
            )
        ]
    if len(jobs) < 2:
        yield "The growth of the plan was not measured."
        return None
    (few, short), *_, (many, long) = jobs
    times, longer = many / few, long / short
    yield (
        f"The plan alone: {few:,.0f} pieces take {short:.1f} s, {many:,.0f} take {long:.1f} s: "
        f"{times:.1f} times the pieces, {longer:.1f} times the time."
    )
    yield ""
    return longer / times


def _targets(bench: Bench, sizes: list[int], pieces: float | None, start: float) -> Iterator[str]:
    """What was aimed at for the largest drawing, and whether it is met."""
    size, small = sizes[-1], sizes[0]
    yield f"| aims at {size:,} entities | aim, at most | measured | met |"
    yield "|---|---:|---:|---|"
    for way in TAKEOFFS:
        time_share, memory_share = bench.share(way, size) or (None, None)
        yield _aim(f"{way}: of readfile's time", 0.1, time_share)
        yield _aim(f"{way}: of GDAL's time", 1.0, (bench.share(way, size, GDAL) or (None,))[0])
        yield _aim(f"{way}: of readfile's memory", 0.5, memory_share)
    for way in (ALL_AREA, ALL):
        grown = bench.growth(way, small, size)
        yield _aim(
            f"{way}: time for an entity, in that at {small:,}",
            _MOST_ABOVE_LINEAR,
            grown and grown * small / size,
        )
    yield _aim(
        "plan: time for a piece, in that of a tenth of the pieces", _MOST_ABOVE_LINEAR, pieces
    )
    yield _aim("`--help`: in the time of a process that imports click", startup.AIM, start)


def _aim(what: str, most: float, measured: float | None) -> str:
    met = "not measured" if measured is None else "yes" if measured <= most else "**no**"
    return f"| {what} | {most:g} | {_shown(measured, 2)} | {met} |"


def _shown(number: float | None, places: int) -> str:
    return "–" if number is None else f"{number:.{places}f}"


def main() -> None:
    """Print the tables, and write them where asked to."""
    parser = argparse.ArgumentParser(description="What large drawings cost.")
    parser.add_argument(
        "--write", action="store_true", help=f"write the tables into {PAGE.relative_to(ROOT)}"
    )
    parser.add_argument("--most", type=int, default=SIZES[-1], help="leave out larger drawings")
    parser.add_argument(
        "--minutes", type=float, default=7.5, help="leave out what can't be measured within them"
    )
    asked = parser.parse_args()
    lines: list[str] = []
    try:
        with tempfile.TemporaryDirectory() as folder:
            bench = Bench(Path(folder), time.monotonic() + 60.0 * asked.minutes)
            for text in tables(bench, [s for s in SIZES if s <= asked.most]):
                print(text, flush=True)
                lines.append(text)
    finally:
        if asked.write:
            machine = (
                f"{platform.machine()} with {os.cpu_count()} cores, "
                f"Python {platform.python_version()}"
            )
            made = f"Made by `python tests/benchmarks/reading.py --write` on {machine}."
            before, rest = PAGE.read_text(encoding="utf-8").split(BEGIN)
            PAGE.write_text(
                "\n".join([before + BEGIN, made, "", *lines, END]) + rest.split(END)[1],
                encoding="utf-8",
            )


if __name__ == "__main__":
    main()
