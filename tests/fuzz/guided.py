"""Mutations led by coverage: what reaches lines that nothing reached before is mutated further.

It needs the fuzzer atheris, which neither the package nor its tests ask for (Python 3.11 has a
wheel):

    pip install atheris
    python tests/fuzz/guided.py FOLDER -max_total_time=900

Each file goes through the command layers and a takeoff without a course plan. What fails is kept in
the folder as ``run.py`` keeps it, and the fuzzer goes on; what follows the folder are the fuzzer's
own options.
"""

from __future__ import annotations

import random
import sys
import tempfile
from pathlib import Path

import atheris  # type: ignore[import-not-found]

from dxf2veneer.wording import error_line, say

with atheris.instrument_imports(include=["dxf2veneer", "ezdxf"]):
    from mutations import mutated
    from run import keep
    from seeds import seeds
    from trial import SECONDS, SETTINGS, TooLongError, at_most, failure_from

    from dxf2veneer.app.pipeline import take_off
    from dxf2veneer.basics.notices import Level
    from dxf2veneer.config.job import load_job
    from dxf2veneer.drawing import DrawingError, survey_drawing

JOB = load_job(None, {**SETTINGS, "plan.panels": False})


def main() -> None:
    """Set the fuzzer going; it ends the process itself."""
    folder = Path(sys.argv.pop(1))
    start = folder / "seeds"
    start.mkdir(parents=True, exist_ok=True)
    pool = seeds()
    for number, content in enumerate(set(pool)):
        (start / f"{number}.dxf").write_bytes(content)

    def change(content: bytes, most: int, seed: int) -> bytes:
        return mutated(content, pool, random.Random(seed))[:most]

    def attempt(content: bytes) -> None:
        try:
            _take(content)
        except (Exception, TooLongError) as error:
            failure = failure_from(error)
            keep(folder, failure.key, content, failure.story)

    atheris.Setup(
        [
            *sys.argv,
            f"-artifact_prefix={folder}/",
            "-max_len=60000",
            "-rss_limit_mb=1024",
            str(start),
        ],
        attempt,
        custom_mutator=change,
    )
    atheris.Fuzz()


def _take(content: bytes) -> None:
    """The layers and a takeoff; one line that refuses the file is a good end."""
    with tempfile.TemporaryDirectory(prefix="fuzz-") as folder, at_most(SECONDS):
        source = Path(folder) / "odd.dxf"
        source.write_bytes(content)
        try:
            survey_drawing(source)
            takeoff = take_off([source], JOB)
        except DrawingError as error:
            assert "\n" not in error_line(error), "more than one line"
            return
    errors = [say(n.message) for n in takeoff.notices if n.level is Level.ERROR]
    assert not errors, f"numbers that do not agree: {errors[0]}"


if __name__ == "__main__":
    main()
