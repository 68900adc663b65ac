"""Mutation testing by sample: does a test notice when one small thing in the code is wrong?

    python tests/mutation/run.py order measure --count 60 --seed 8

Everything happens in a copy of the checkout. From all mutants of a package (mutants.py) ``--count`` are drawn
at random. Each runs against the package's own tests (``tests/order`` for ``order``) and no others, so that scores
are low rather than high; a mutant counts as killed when a test fails or the time is up. What survives is listed; ``--again FILE`` runs
the survivors of an earlier list once more, for after tests were added.
"""

from __future__ import annotations

import argparse
import ctypes
import importlib
import json
import math
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from mutants import Mutant, mutants

ROOT = Path(__file__).parent.parent.parent
LEFT_OUT = "houses or samples_agree or change_nothing"
"""Tests that are slow."""
PATIENCE_S = 90


class Job(NamedTuple):
    """One mutant to run: the file in the package and its change."""

    file: str
    mutant: Mutant


def sample(root: Path, package: str, count: int, seed: int) -> tuple[list[Job], int]:
    """Mutants of a package drawn at random, and how many there are in all."""
    files = sorted((root / "dxf2veneer" / package).rglob("*.py"))
    every = [(str(f.relative_to(root)), make) for f in files for make in mutants(f.read_text(encoding="utf-8"))]
    drawn = random.Random(f"{seed} {package}").sample(every, min(count, len(every)))
    return [Job(file, make()) for file, make in drawn], len(every)


def copied(target: Path) -> Path:
    """A copy of the files that git knows of, as they stand now."""
    names = subprocess.run(["git", "ls-files", "-co", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True)
    for name in names.stdout.splitlines():
        if (ROOT / name).is_file() and not name.startswith("tests/golden"):
            (target / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, target / name)
    return target


def tests_pass(root: Path, tests: str) -> bool:
    """Whether a folder of tests passes in the copy; run in a child of this process, which has the libraries loaded."""
    child = os.fork()
    if child == 0:
        os.setpgid(0, 0)
        ctypes.CDLL(None).prctl(1, signal.SIGKILL)  # dies with its parent
        os.chdir(root)
        sys.path[:0] = [str(root), str(root / "tests")]
        sink = os.open(os.devnull, os.O_WRONLY)
        os.dup2(sink, 1)
        os.dup2(sink, 2)
        import pytest

        code = pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--hypothesis-seed=0", "-k", f"not ({LEFT_OUT})", tests])
        os._exit(int(code))
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status) == 0
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return False


def survives(root: Path, job: Job, package: str) -> bool:
    """Whether no test notices the mutant."""
    file = root / job.file
    sound = file.read_text(encoding="utf-8")
    file.write_text(job.mutant.text, encoding="utf-8")
    try:
        return tests_pass(root, f"tests/{package}")
    finally:
        file.write_text(sound, encoding="utf-8")


def interval(killed: int, tried: int) -> tuple[float, float]:
    """Wilson's interval of a share at 95 per cent (E. B. Wilson, JASA 22, 1927)."""
    if not tried:
        return 0.0, 1.0
    z, p = 1.96, killed / tried
    middle = (p + z * z / (2 * tried)) / (1 + z * z / tried)
    half = z * math.sqrt(p * (1 - p) / tried + z * z / (4 * tried * tried)) / (1 + z * z / tried)
    return middle - half, middle + half


def main() -> None:
    """Run a sample for each package and write what survives."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("packages", nargs="*")
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--seed", type=int, default=8)
    parser.add_argument("--again", type=Path, help="a list of survivors to run once more")
    parser.add_argument("--list", type=Path, default=Path("survivors.json"), help="where survivors are written")
    asked = parser.parse_args()
    for library in ("ezdxf", "hypothesis", "numpy", "pandas", "pytest", "shapely"):
        importlib.import_module(library)  # children find them loaded
    listed = json.loads(asked.again.read_text()) if asked.again else []
    survivors = []
    with tempfile.TemporaryDirectory() as folder:
        root = copied(Path(folder))
        for package in asked.packages or list(dict.fromkeys(s["package"] for s in listed)):
            jobs, every = sample(root, package, asked.count, asked.seed)
            if listed:
                wanted = {(s["file"], s["before"], s["after"]) for s in listed if s["package"] == package}
                jobs = [Job(j.file, j.mutant) for j in sample(root, package, 10**9, 0)[0] if (j.file, j.mutant.before, j.mutant.after) in wanted]
            assert tests_pass(root, f"tests/{package}"), "the tests fail without a mutant"
            alive = 0
            for number, job in enumerate(jobs, 1):
                began = time.monotonic()
                lives = survives(root, job, package)
                alive += lives
                if lives:
                    survivors.append({"package": package, "file": job.file, "line": job.mutant.line, "before": job.mutant.before, "after": job.mutant.after})
                    asked.list.write_text(json.dumps(survivors, indent=1))
                mark = "SURVIVES" if lives else "killed"
                print(f"{number:3} {mark:8} {time.monotonic() - began:5.1f} s {job.file}:{job.mutant.line}  {job.mutant.before!r:.70} -> {job.mutant.after!r:.70}", flush=True)
            killed = len(jobs) - alive
            low, high = interval(killed, len(jobs))
            print(f"{package}: {killed} of {len(jobs)} killed (of {every} mutants), {100 * killed / max(1, len(jobs)):.0f} %, 95 % interval {100 * low:.0f} to {100 * high:.0f} %", flush=True)


if __name__ == "__main__":
    main()
