"""The long run: python tests/fuzz/run.py --inputs 20000 --folder /tmp/fuzz [--seed 1]
or for a set time: python tests/fuzz/run.py --minutes 30 --folder /tmp/fuzz --seed 1

Three of four inputs are drawings: the seeds mutated, each through ``trial.failure_of``; every
fourth is a command with settings, options, picks and price files (``asking.py``). What fails is
kept in the folder: the file, and beside it the story. One process tries and another watches it, so
that a file which stops the process altogether (a loop in a library, memory gone) is found as well.
At the end it
prints how many files ran, how many seconds the slowest took and what failed, the most frequent
first; the exit code is 1 where anything failed.

What failed once and was mended belongs into corpus/, made
as small as it still shows the fault, under a name that says what it is; test_fuzz_corpus.py tries
all of it.
"""

from __future__ import annotations

import argparse
import faulthandler
import json
import math
import random
import resource
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

from asking import asked, failure_of_asked
from mutations import mutated
from seeds import seeds
from trial import BYTES, SECONDS, failure_of

_PER_FAILURE = 3
"""Files kept of each failure."""
_MOST_A_PROCESS = 2_000
"""Files after which the process is begun anew, so that its highest use of memory is that of few
files.
"""


_IN_A_SET_TIME = 200
"""The same where the run ends after a set time."""


def main() -> int:
    """Run or, as the process that tries, run a part."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--inputs", type=int, default=20_000)
    parser.add_argument("--minutes", type=float, help="end after so long, whatever is left")
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--seed", type=int, default=1, help="number of the first mutation")
    parser.add_argument("--part", action="store_true", help=argparse.SUPPRESS)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    return (
        _try(given.folder, given.seed, given.inputs)
        if given.part
        else _watch(given.folder, given.seed, given.inputs, 60.0 * (given.minutes or math.inf))
    )


def _watch(folder: Path, first: int, inputs: int, seconds: float) -> int:
    began, done, failures, slowest, largest = time.monotonic(), 0, Counter[str](), 0.0, 0
    most = _MOST_A_PROCESS if seconds == math.inf else _IN_A_SET_TIME
    while done < inputs and time.monotonic() - began < seconds:
        part = min(most, inputs - done)
        state = folder / "state.json"
        state.unlink(missing_ok=True)
        ended = subprocess.run(
            [sys.executable, __file__, "--part", "--inputs", str(part), "--seed", str(first + done),
            "--folder", str(folder)],
            check=False, capture_output=True, text=True,
        )  # fmt: skip
        told = (
            json.loads(state.read_text())
            if state.exists()
            else {"done": 0, "failures": {}, "slowest": 0.0, "megabytes": 0}
        )
        failures.update(told["failures"])
        slowest, largest = max(slowest, told["slowest"]), max(largest, told["megabytes"])
        done += told["done"]
        if ended.returncode:
            key = "the process died"
            failures[key] += 1
            keep(
                folder,
                key,
                (folder / "current").read_bytes(),
                f"{first + done} {ended.stderr[-4000:]}",
            )
            done += 1
        print(
            f"{done} of {inputs} files in {time.monotonic() - began:.0f} s, the slowest "
            f"{slowest:.1f} s of processor, at most {largest} MB; "
            f"failures: {dict(failures.most_common())}",
            flush=True,
        )
    return 1 if failures else 0


def _try(folder: Path, first: int, inputs: int) -> int:
    resource.setrlimit(
        resource.RLIMIT_AS, (3 * BYTES, 3 * BYTES)
    )  # mapped, not used: that is measured
    pool, failures, slowest = seeds(), Counter[str](), 0.0
    for done, number in enumerate(range(first, first + inputs), 1):
        chance = random.Random(number)
        trial = asked(chance) if number % 4 == 0 else None
        content = trial.packed() if trial else mutated(chance.choice(pool), pool, chance)
        (folder / "current").write_bytes(content)
        faulthandler.dump_traceback_later(30 * SECONDS, exit=True)  # a busy machine is slow
        began = time.process_time()
        failure = failure_of_asked(trial) if trial else failure_of(content, number)
        slowest = max(slowest, time.process_time() - began)
        faulthandler.cancel_dump_traceback_later()
        if failure:
            failures[failure.key] += 1
            keep(folder, failure.key, content, f"mutation {number}\n{failure.story}")
        if failure or done % 20 == 0 or done == inputs:
            used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss >> 10
            state = {"done": done, "failures": failures, "slowest": slowest, "megabytes": used}
            (folder / "state.json").write_text(json.dumps(state))
        if failure and failure.key == "memory":
            break
    return 0


def keep(folder: Path, key: str, content: bytes, story: str) -> None:
    """Keep a file that failed, the first few of each failure."""
    stem = "".join(c if c.isalnum() else "-" for c in key)[:80]
    ending = "json" if content.startswith(b'{\n "words"') else "dxf"
    number = 1 + len(list(folder.glob(f"{stem}-[0-9].{ending}")))
    if number <= _PER_FAILURE:
        (folder / f"{stem}-{number}.{ending}").write_bytes(content)
        (folder / f"{stem}-{number}.txt").write_text(story)


if __name__ == "__main__":
    sys.exit(main())
