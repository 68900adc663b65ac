"""What `compare` finds of random edits.

    python tests/benchmarks/revisions.py [HOUSES]     share found, falsely found, unsure; time

Houses of ``tests/houses.py`` get 1 to 10 edits of every kind, on clean drawings (as they were)
and rough ones (moved, in another unit, as loose lines, off by a hundredth of an inch, in another
order).
"""

from __future__ import annotations

import random
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "revisions"))

from edits import CLEAN, JOB, Box, Look, Truth, edited, named, rough_look, street, written
from houses import SEEDS, drawing_of

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.model import Recorded, Revision
from dxf2veneer.revisions import compare, recorded
from dxf2veneer.writers.result import result_dict

NEAR_IN = 0.3


def recorded_of(file: Path) -> Recorded:
    """A drawing taken off."""
    return recorded(result_dict(take_off(file, JOB)), file.name)


def boxes_of(revision: Revision) -> list[tuple[str, tuple[str, ...], Box | None, Box | None, str]]:
    """Every wall and opening: what it is, what holds of it, where it was and is, and its line."""
    found = []
    for wall in revision.walls:
        old, new = (one and one.wall.box for one in (wall.old, wall.new))
        found.append(("wall", wall.changes, old, new, str(wall.told)))
    for opening in revision.openings:
        old, new = (one and one.opening.box for one in (opening.old, opening.new))
        found.append(("opening", opening.changes, old, new, str(opening.told)))
    return found


def is_at(found: Box | None, wanted: Box | None, shift: tuple[float, float]) -> bool:
    """Whether a box lies where it is wanted."""
    if found is None or wanted is None:
        return found is wanted is None
    there = (wanted[0] + shift[0], wanted[1] + shift[1], wanted[2] + shift[0], wanted[3] + shift[1])
    return max(abs(a - b) for a, b in zip(found, there, strict=True)) < NEAR_IN


def judged(
    revision: Revision, truths: list[Truth], looks: tuple[Look, Look]
) -> tuple[Counter[str], list[str]]:
    """How many edits were found, missed or unsure, and how much was found that is none."""
    counts: Counter[str] = Counter()
    lines = []
    rows = boxes_of(revision)
    counts["things"] = len(rows)
    taken = set()
    for truth in truths:
        at = [
            n for n, (what, _, old, new, _) in enumerate(rows)
            if what == truth.what and is_at(old, truth.old, looks[0].shift)
            and is_at(new, truth.new, looks[1].shift)
        ]  # fmt: skip
        taken |= set(at)
        changes = rows[at[0]][1] if at else ()
        if "unsure" in changes:
            counts["unsure"] += 1
            lines.append(f"unsure {truth}: {rows[at[0]][4][-300:]}")
        elif truth.change in changes:
            counts["found"] += 1
        else:
            counts["missed"] += 1
            lines.append(f"missed {truth}: {changes}")
        counts["edits"] += 1
    for number, (what, changes, old, new, line) in enumerate(rows):
        if changes and number not in taken:
            counts["unsure besides" if "unsure" in changes else "false"] += 1
            lines.append(f"false {what} {changes} {old} {new} {line[:300]}")
    return counts, lines


def run(houses: int, folder: Path, *, is_rough: bool, first: int = 0) -> Counter[str]:
    """All of it for so many houses."""
    total: Counter[str] = Counter()
    for trial in range(first, first + houses):
        rng = random.Random(trial)
        source = named(drawing_of(rng.choice(SEEDS)), rng)
        after, truths = edited(source, rng.randint(1, 10), rng)
        looks = (CLEAN, rough_look(rng) if is_rough else CLEAN)
        files = [
            written(one, folder / name, look, rng)
            for one, name, look in zip((source, after), ("old.dxf", "new.dxf"), looks, strict=True)
        ]
        counts, lines = judged(compare(*map(recorded_of, files)), truths, looks)
        for line in lines:
            print(f"  trial {trial}: {line}")
        total += counts
    return total


def main(arguments: list[str]) -> None:
    """Print the table."""
    houses = int(arguments[0]) if arguments else 100
    first = int(arguments[1]) if len(arguments) > 1 else 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for is_rough in (False, True):
            found = run(houses, folder, is_rough=is_rough, first=first)
            edits, things = found["edits"], found["things"]
            print(
                f"{'rough' if is_rough else 'clean'}: {edits} edits, found "
                f"{100 * found['found'] / edits:.2f} %, missed {found['missed']}, unsure "
                f"{found['unsure']}; of {things} walls and openings falsely found "
                f"{found['false']} ({100 * found['false'] / things:.2f} %), unsure "
                f"{found['unsure besides']}"
            )
        rng = random.Random(0)
        source = named(street(30), rng)
        after, truths = edited(source, 10, rng)
        sides = [
            recorded_of(written(one, folder / name, CLEAN, rng))
            for one, name in ((source, "old.dxf"), (after, "new.dxf"))
        ]
        begun = time.process_time()
        revision = compare(*sides)
        print(
            f"{len(revision.openings)} openings in {len(revision.walls)} walls: "
            f"{time.process_time() - begun:.2f} s; {judged(revision, truths, (CLEAN, CLEAN))[0]}"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
