"""Whether two versions of the program give the same numbers.

    python tests/benchmarks/same_numbers.py make CASES [DRAWINGS]    drawings and job files, once
    python tests/benchmarks/same_numbers.py run CASES RESULTS
        results of the package on the path
    python tests/benchmarks/same_numbers.py compare BEFORE AFTER     every number that differs

``make`` writes the two samples, twenty houses and the drawings of a folder by other people; ``run``
takes each off on the command line, so that it works with any version of the package. Numbers are
compared exactly; fields that only one side has are listed apart.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parent.parent.parent
REAL = {
    "woodshed-front-traced": (
        "--wall-layer VENEER-WALL --opening-layer VENEER-OPENING "
        "--outside-corner-layer VENEER-OUTSIDE-CORNER --name-layer VENEER-NAME"
    ),
    "woodshed-front": (
        "--wall-layer front --window 1100,2280,7335,5064 --opening-at 2500,3600 "
        "--opening-at 5900,3600 --opening-at 4200,3300"
    ),
    "pavilion-view-1": "--wall-layer Cancel --units m",
    "pavilion-view-2": "--wall-layer Cancel --units m",
    "pavilion-view-4": "--wall-layer Cancel --units m",
    "pavilion-sheet": "--wall-layer Cancel --units m",
    "woodshed-plan": "--wall-layer *",
    "woodshed-section-a": "--wall-layer *",
    "woodshed-roof-front": "--wall-layer *",
    "woodshed-foundation-front": "--wall-layer *",
}
"""Drawings by other people and the options of their takeoff."""


MOST_SHOWN = 12
"""Kinds of fields that are named where only one side has them."""


def make(cases: Path, drawings: Path | None) -> None:
    """Write every case as NAME.dxf and NAME.args, its options, into the folder ``cases``."""
    sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]
    from houses import SEEDS, house

    cases.mkdir(parents=True, exist_ok=True)
    for name in ("gatehouse", "boathouse"):
        for file in ROOT.joinpath("samples").iterdir():
            if file.suffix in (".dxf", ".toml", ".csv"):
                shutil.copy(file, cases / file.name)
        (cases / f"{name}.args").write_text(f"--job {cases / name}.toml")
    for seed in SEEDS:
        path, job = house(seed, cases)
        layers = [
            f"{role} = {json.dumps(list(named))}\n" for role, named in vars(job.layers).items()
        ]
        target = cases / f"house-{seed:02}.dxf"
        target.with_suffix(".toml").write_text("[layers]\n" + "".join(layers))
        options = [f"--job {target.with_suffix('.toml')} --edges {job.recognise.edge_kind}"]
        options += [f"--clearance {job.courses.clearance:g}"]
        sides = ("head", "jambs", "sill")
        options += [f"--trim-{side} {getattr(job.trim, side):g}" for side in sides]
        path.rename(target)
        target.with_suffix(".args").write_text(" ".join(options))
    for name, options in REAL.items() if drawings else ():
        shutil.copy(drawings / f"{name}.dxf", cases / f"{name}.dxf")
        (cases / f"{name}.args").write_text(options)


def run(cases: Path, results: Path) -> None:
    """Take every case off into RESULTS/NAME.json; a case that ends in an error leaves its line."""
    results.mkdir(parents=True, exist_ok=True)

    def one(args: Path) -> None:
        target = results / f"{args.stem}.json"
        command = [sys.executable, "-m", "dxf2veneer.cli", "takeoff", str(args.with_suffix(".dxf"))]
        command += [*args.read_text().split(), "--overlay-only", "--json", str(target), "--force"]
        done = subprocess.run(
            [*command, "-o", str(results / args.stem)],
            capture_output=True,
            text=True,
            env=os.environ,
        )
        shutil.rmtree(results / args.stem, ignore_errors=True)
        if not target.exists():
            target.write_text(json.dumps({"exit": done.returncode}))

    with ThreadPoolExecutor(2) as pool:
        list(pool.map(one, sorted(cases.glob("*.args"))))


def numbers(value: Any, where: str = "") -> Iterator[tuple[str, Any]]:
    """Every number, flag and empty value of a result with its path. Texts are left out."""
    if isinstance(value, dict):
        for key, part in value.items():
            yield from numbers(part, f"{where}.{key}")
    elif isinstance(value, list):
        yield f"{where}.length", len(value)
        for index, part in enumerate(value):
            yield from numbers(part, f"{where}[{index}]")
    elif not isinstance(value, str):
        yield where, value


def compare(before: Path, after: Path) -> int:
    """Print every number that differs; returns how many do."""
    differing = count = 0
    new: set[str] = set()
    gone: set[str] = set()
    for file in sorted(before.glob("*.json")):
        old = dict(numbers(json.loads(file.read_text())))
        now = dict(numbers(json.loads((after / file.name).read_text())))
        count += len(old)
        new |= {re.sub(r"\[\d+\]", "[]", key) for key in now.keys() - old.keys()}
        gone |= {re.sub(r"\[\d+\]", "[]", key) for key in old.keys() - now.keys()}
        for key in old.keys() & now.keys():
            if old[key] != now[key]:
                differing += 1
                print(f"{file.stem}{key}: {old[key]} -> {now[key]}")
    print(f"{count:,} numbers compared, {differing} differ, {len(gone)} kinds of fields are gone")
    for title, fields in (("gone", gone), ("new", new)):
        print(f"{title}: {', '.join(sorted(fields)[:MOST_SHOWN]) or 'none'}")
    return differing + len(gone)


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["make", cases, *folder]:
            make(Path(cases), Path(folder[0]) if folder else None)
        case ["run", cases, results]:
            run(Path(cases), Path(results))
        case ["compare", before, after]:
            sys.exit(min(compare(Path(before), Path(after)), 1))
        case _:
            sys.exit(__doc__)
