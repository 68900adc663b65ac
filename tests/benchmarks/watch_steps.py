"""Seconds from a save to the two lines of `dxf2veneer watch`: course lines, then panels.

python tests/benchmarks/watch_steps.py [DRAWING --job JOB ...]     the Gatehouse where left out

The drawing is copied and saved again and again with another comment at its head; what the watch
prints is timed by the clock of the wall, so the machine should have nothing else to do.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SAMPLES = Path(__file__).parents[2] / "samples"
SAVES = 5


def main(words: list[str]) -> None:
    """Save a few times and print the medians."""
    given = words or [str(SAMPLES / "gatehouse.dxf"), "--job", str(SAMPLES / "gatehouse.toml")]
    with tempfile.TemporaryDirectory() as folder:
        drawing = Path(shutil.copy(given[0], folder))
        content = drawing.read_bytes()
        command = [sys.executable, "-u", "-m", "dxf2veneer", "watch", str(drawing), *given[1:]]
        told = subprocess.Popen(
            [*command, "-o", f"{folder}/out"],
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, encoding="utf-8",
        )  # fmt: skip
        assert told.stdout
        while "An aid to bidding" not in told.stdout.readline():
            assert told.poll() is None, "the watch ended"
        time.sleep(2.0)
        firsts, lasts = [], []
        for n in range(SAVES):
            drawing.write_bytes(f"999\nsave {n}\n".encode() + content)
            saved = time.monotonic()
            line = told.stdout.readline()
            firsts.append(time.monotonic() - saved)
            while "panels follow" in line or "course lines" in line:
                line = told.stdout.readline()
            lasts.append(time.monotonic() - saved)
            time.sleep(1.0)
        told.terminate()
    print(f"save to course lines {statistics.median(firsts):.2f} s ({max(firsts):.2f} at most)")
    print(f"save to panels       {statistics.median(lasts):.2f} s ({max(lasts):.2f} at most)")


if __name__ == "__main__":
    main(sys.argv[1:])
