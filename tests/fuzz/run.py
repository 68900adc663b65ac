"""The long run: python tests/fuzz/run.py --inputs 20000 --folder /tmp/fuzz [--seed 1]

Mutates the seeds, puts each file through ``trial.failure_of`` and keeps what fails in the folder:
the file, and beside it the story. One process tries and another watches it, so that a file which
stops the process altogether (a loop in a library, memory gone) is found as well. At the end it
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
import random
import resource
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path

from mutations import mutated
from seeds import seeds
from trial import BYTES, SECONDS, failure_of

_PER_FAILURE = 3
"""Files kept of each failure."""
_MOST_A_PROCESS = 2_000
"""Files after which the process is begun anew, so that its highest use of memory is that of few
files.
"""


def main() -> int:
    """Run or, as the process that tries, run a part."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--inputs", type=int, default=20_000)
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--seed", type=int, default=1, help="number of the first mutation")
    parser.add_argument("--part", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    return (
        _try(asked.folder, asked.seed, asked.inputs)
        if asked.part
        else _watch(asked.folder, asked.seed, asked.inputs)
    )


def _watch(folder: Path, first: int, inputs: int) -> int:
    began, done, failures, slowest = time.monotonic(), 0, Counter[str](), 0.0
    while done < inputs:
        part = min(_MOST_A_PROCESS, inputs - done)
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
            else {"done": 0, "failures": {}, "slowest": 0.0}
        )
        failures.update(told["failures"])
        slowest = max(slowest, told["slowest"])
        done += told["done"]
        if ended.returncode:
            key = "the process died"
            failures[key] += 1
            keep(
                folder,
                key,
                (folder / "current.dxf").read_bytes(),
                f"{first + done} {ended.stderr[-4000:]}",
            )
            done += 1
        print(
            f"{done} of {inputs} files in {time.monotonic() - began:.0f} s, the slowest "
            f"{slowest:.1f} s; failures: {dict(failures.most_common())}",
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
        content = mutated(chance.choice(pool), pool, chance)
        (folder / "current.dxf").write_bytes(content)
        faulthandler.dump_traceback_later(4 * SECONDS, exit=True)
        began = time.process_time()
        failure = failure_of(content, number)
        slowest = max(slowest, time.process_time() - began)
        faulthandler.cancel_dump_traceback_later()
        if failure:
            failures[failure.key] += 1
            keep(folder, failure.key, content, f"mutation {number}\n{failure.story}")
        if failure or done % 20 == 0 or done == inputs:
            (folder / "state.json").write_text(
                json.dumps({"done": done, "failures": failures, "slowest": slowest})
            )
        if failure and failure.key == "memory":
            break
    return 0


def keep(folder: Path, key: str, content: bytes, story: str) -> None:
    """Keep a file that failed, the first few of each failure."""
    stem = "".join(c if c.isalnum() else "-" for c in key)[:80]
    number = 1 + len(list(folder.glob(f"{stem}-[0-9].dxf")))
    if number <= _PER_FAILURE:
        (folder / f"{stem}-{number}.dxf").write_bytes(content)
        (folder / f"{stem}-{number}.txt").write_text(story)


if __name__ == "__main__":
    sys.exit(main())
