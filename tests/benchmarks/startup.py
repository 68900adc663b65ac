"""How long `dxf2veneer --help` takes, beside a Python process that imports click and does nothing.

    python tests/benchmarks/startup.py [runs]

Prints the best of each and their ratio; the aim is three at most. The best of several runs, taken
in turns, is least disturbed by what else the machine does.
"""

from __future__ import annotations

import subprocess
import sys
import time

AIM = 3.0
HELP = [sys.executable, "-m", "dxf2veneer.cli", "--help"]
CLICK = [sys.executable, "-c", "import click"]


def seconds(command: list[str]) -> float:
    """Wall time of one run."""
    began = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


def best_of(runs: int) -> tuple[float, float]:
    """The shortest times of the help and of the empty process."""
    pairs = [(seconds(HELP), seconds(CLICK)) for _ in range(runs)]
    return min(p[0] for p in pairs), min(p[1] for p in pairs)


if __name__ == "__main__":
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 15
    ours, empty = best_of(runs)
    print(
        f"best of {runs}: --help {1000 * ours:.0f} ms, import click {1000 * empty:.0f} ms, ratio "
        f"{ours / empty:.2f} (aim: {AIM:g} at most)"
    )
    sys.exit(ours > AIM * empty)
