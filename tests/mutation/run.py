"""Mutation testing by sample: does a test notice when one small thing in the code is wrong?

    python tests/mutation/run.py order measure --count 60 --seed 8

Everything happens in a copy of the checkout. From all mutants of a package (mutants.py) ``--count`` are drawn
at random. Each runs against the package's own tests (``tests/order`` for ``order``) and no others, so that scores
are low rather than high; a mutant counts as killed when a test fails, or when it takes far more time than the sound
code. What survives is listed; ``--again FILE`` runs the survivors of an earlier list once more, for after tests were
added.
"""

from __future__ import annotations

import argparse
import ctypes
import importlib
import json
import math
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Literal, NamedTuple

from mutants import Mutant, mutants

ROOT = Path(__file__).parent.parent.parent
LEFT_OUT = "houses or samples_agree or change_nothing"
"""Tests that are slow."""
PATIENCE = 3
"""So many times the processor time of the sound code (and ten seconds) may a mutant take: the clock says too little
on a busy machine, and a survivor ended early would pass for a killed one."""
HANGS_S = 900
"""A mutant that waits without working is ended after so long."""
Verdict = Literal["killed", "SURVIVES", "too slow"]


class Job(NamedTuple):
    """One mutant to run: the file in the package and its change."""

    file: str
    mutant: Mutant


def sample(root: Path, package: str, count: int, seed: int) -> tuple[list[Job], int]:
    """Mutants of a package drawn at random, and how many there are in all."""
    files = sorted((root / "dxf2veneer" / package).rglob("*.py"))
    every = [
        (str(f.relative_to(root)), make)
        for f in files
        for make in mutants(f.read_text(encoding="utf-8"))
    ]
    drawn = random.Random(f"{seed} {package}").sample(every, min(count, len(every)))
    return [Job(file, make()) for file, make in drawn], len(every)


def copied(target: Path) -> Path:
    """A copy of the files that git knows of, as they stand now."""
    names = subprocess.run(
        ["git", "ls-files", "-co", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    for name in names.stdout.splitlines():
        if (ROOT / name).is_file() and not name.startswith("tests/golden"):
            (target / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, target / name)
    return target


def run_tests(root: Path, tests: str, cpu_s: int) -> tuple[int, float]:
    """Exit code of a folder of tests in the copy (0 where all pass) and the processor time they took; run in a
    child of this process, which has the libraries loaded. A child that takes more than ``cpu_s`` is ended."""
    child = os.fork()
    if child == 0:
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s))
        signal.alarm(HANGS_S)
        ctypes.CDLL(None).prctl(1, signal.SIGKILL)  # dies with its parent
        os.chdir(root)
        sys.path[:0] = [str(root), str(root / "tests")]
        sink = os.open(os.devnull, os.O_WRONLY)
        os.dup2(sink, 1)
        os.dup2(sink, 2)
        import pytest

        code = pytest.main(
            [
                "-x",
                "-q",
                "-p",
                "no:cacheprovider",
                "--hypothesis-seed=0",
                "-k",
                f"not ({LEFT_OUT})",
                tests,
            ]
        )
        os._exit(int(code))
    _, status, usage = os.wait4(child, 0)
    return os.waitstatus_to_exitcode(status), usage.ru_utime + usage.ru_stime


def verdict(root: Path, job: Job, tests: str, cpu_s: int) -> Verdict:
    """What the tests say of the mutant."""
    file = root / job.file
    sound = file.read_text(encoding="utf-8")
    file.write_text(job.mutant.text, encoding="utf-8")
    try:
        code, _ = run_tests(root, tests, cpu_s)
    finally:
        file.write_text(sound, encoding="utf-8")
    return "SURVIVES" if code == 0 else "too slow" if code < 0 else "killed"


def interval(killed: int, tried: int) -> tuple[float, float]:
    """Wilson's interval of a share at 95 per cent (E. B. Wilson, JASA 22, 1927)."""
    if not tried:
        return 0.0, 1.0
    z, p = 1.96, killed / tried
    middle = (p + z * z / (2 * tried)) / (1 + z * z / tried)
    half = z * math.sqrt(p * (1 - p) / tried + z * z / (4 * tried * tried)) / (1 + z * z / tried)
    return middle - half, middle + half


def jobs_again(root: Path, package: str, listed: list[dict[str, str]]) -> list[Job]:
    """The mutants of a package that an earlier list names, wherever their lines are now."""
    wanted = {(s["file"], s["before"], s["after"]) for s in listed if s["package"] == package}
    every, _ = sample(root, package, 10**9, 0)
    return [job for job in every if (job.file, job.mutant.before, job.mutant.after) in wanted]


def survivors_of(
    root: Path, package: str, jobs: list[Job], every: int
) -> list[dict[str, str | int]]:
    """Run the mutants of a package, one line each, with the score at the end; those that no test notices."""
    tests = f"tests/{package}"
    code, took_s = run_tests(root, tests, 3600)
    assert code == 0, "the tests fail without a mutant"
    alive, slow = [], 0
    for number, (file, mutant) in enumerate(jobs, 1):
        began = time.monotonic()
        said = verdict(root, Job(file, mutant), tests, 10 + round(PATIENCE * took_s))
        slow += said == "too slow"
        if said == "SURVIVES":
            alive.append(
                {
                    "package": package,
                    "file": file,
                    "line": mutant.line,
                    "before": mutant.before,
                    "after": mutant.after,
                }
            )
        print(
            f"{number:3} {said:8} {time.monotonic() - began:5.1f} s {file}:{mutant.line}  {mutant.before!r:.70} -> {mutant.after!r:.70}",
            flush=True,
        )
    killed = len(jobs) - len(alive)
    low, high = interval(killed, len(jobs))
    print(
        f"{package}: {killed} of {len(jobs)} killed ({slow} of them too slow; {every} mutants in all), "
        f"{100 * killed / max(1, len(jobs)):.0f} %, 95 % interval {100 * low:.0f} to {100 * high:.0f} %", flush=True,
    )  # fmt: skip
    return alive


def main() -> None:
    """Run a sample for each package and write what survives."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("packages", nargs="*")
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=8)
    parser.add_argument("--again", type=Path, help="a list of survivors to run once more")
    parser.add_argument(
        "--list", type=Path, default=Path("survivors.json"), help="where survivors are written"
    )
    asked = parser.parse_args()
    for library in ("ezdxf", "hypothesis", "numpy", "pandas", "pytest", "shapely"):
        importlib.import_module(library)  # children find them loaded
    listed = json.loads(asked.again.read_text()) if asked.again else []
    alive = []
    with tempfile.TemporaryDirectory() as folder:
        root = copied(Path(folder))
        for package in asked.packages or list(dict.fromkeys(s["package"] for s in listed)):
            drawn, every = sample(root, package, asked.count, asked.seed)
            alive += survivors_of(
                root, package, jobs_again(root, package, listed) if listed else drawn, every
            )
            asked.list.write_text(json.dumps(alive, indent=1))


if __name__ == "__main__":
    main()
