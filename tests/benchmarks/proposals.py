"""How well drawings propose their own takeoff.

    python tests/benchmarks/proposals.py [--seeds A..B] [--only-worst N] [--workers N] [--real DIR]
    python tests/benchmarks/proposals.py --strangers A..B [--only-worst N] [--workers N]
    python tests/benchmarks/proposals.py --folder DIR [--only-worst N] [--workers N]
    python tests/benchmarks/proposals.py --entities N [--repeat TIMES]

Makes the sheets of ``tests/corpus``, has each proposed, and prints recall and precision of views
(IoU 0.6 and the right kind), walls (IoU 0.95) and openings (IoU 0.9), how often the kind of an
opening and the unit are right, the share of elevations whose net area is within 1 %, and the time.
Without ``--seeds``, for the sheets that rules may be tuned on and for those kept aside. ``--real``
also tries the drawings of other people in a folder, against what is known of them. ``--strangers``
takes the sheets of ``tests/strangers``, by a hand that knew none of the rules; ``--folder`` takes
drawings whose truth lies beside them, ``front.truth.json`` beside ``front.dxf``.
"""

from __future__ import annotations

import argparse
import gc
import json
import resource
import sys
import tempfile
import time
import traceback
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent))

import ezdxf
import real_proposals
import strangers
from corpus import KEPT_ASIDE, SEEN, make_sheet
from corpus.matching import Score, score
from estates import estate

from dxf2veneer.cli import COLLECT

BOTH = ("views", "elevations", "frames", "walls", "openings")
SHARES = ("opening kinds", "unit right", "unit wrong", "unit silent", "net area")


@dataclass
class Result:
    """What came out for one sheet; ``seconds`` is the time of the proposal alone."""

    name: str
    score: Score
    seconds: float
    entities: int
    tags: tuple[str, ...]
    crash: str = ""


def propose(path: Path) -> dict[str, Any]:
    """The proposal for a drawing as data."""
    from dxf2veneer.propose import propose as engine

    return engine(path).as_json()


def tried(seed: int) -> Result:
    """One sheet made, proposed and compared with its truth."""
    sheet = make_sheet(seed)
    with tempfile.TemporaryDirectory() as folder:
        path = sheet.write(Path(folder) / f"sheet-{seed}.dxf")
        entities = len(sheet.doc.modelspace())
        return _compared(f"seed {seed}", path, sheet.truth, entities, tuple(sorted(sheet.tags)))


def tried_stranger(seed: int) -> Result:
    """A sheet by another hand, made, proposed and compared with its truth."""
    doc, truth = strangers.make_sheet(seed)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"stranger-{seed}.dxf"
        doc.saveas(path)
        return _compared(f"stranger {seed}", path, truth, len(doc.modelspace()), ())


def tried_file(path: Path) -> Result:
    """A drawing proposed and compared with the truth that lies beside it."""
    truth = json.loads(path.with_suffix(".truth.json").read_text(encoding="utf-8"))
    return _compared(path.stem, path, truth, len(ezdxf.readfile(path).modelspace()), ())


def _compared(
    name: str, path: Path, truth: dict[str, Any], entities: int, tags: tuple[str, ...]
) -> Result:
    """A crash proposes nothing."""
    nothing = {"unit": None, "views": [], "walls": [], "openings": []}
    crash = ""
    start = time.perf_counter()
    try:
        found = propose(path)
    except ImportError:
        raise
    except Exception as error:  # a benchmark counts crashes and goes on
        found, crash = nothing, "".join(traceback.format_exception(error)[-3:])
    seconds = time.perf_counter() - start
    return Result(name, score(truth, found), seconds, entities, tags, crash)


def percent(value: float | None) -> str:
    return "    –" if value is None else f"{100 * value:5.1f}"


def table(name: str, results: list[Result]) -> str:
    """The sums of many sheets, as lines."""
    total = Score()
    for result in results:
        total.add(result.score)
    lines = [f"{name}: {len(results)} sheets", f"{'':16}recall %  precision %  true  proposed"]
    for what in BOTH:
        figures = f"{percent(total.recall(what)):>8}  {percent(total.precision(what)):>11}"
        lines.append(f"{what:16}{figures}  {total.true[what]:4}  {total.proposed[what]:8}")
    for what in SHARES:
        lines.append(f"{what:16}{percent(total.recall(what)):>8} % of {total.true.get(what, 0)}")
    times = sorted(r.seconds for r in results)
    lines.append(f"{'time':16}median {times[len(times) // 2]:.2f} s, longest {times[-1]:.2f} s")
    crashes = [r for r in results if r.crash]
    lines += [f"{len(crashes)} crashed"] if crashes else []
    return "\n".join(lines)


def by_tag(results: list[Result]) -> str:
    """What came out for the sheets of each tag, those with the fewest walls found first."""
    rows = []
    for tag in {tag for r in results for tag in r.tags}:
        total = Score()
        for result in results:
            if tag in result.tags:
                total.add(result.score)
        rows.append((total.recall("walls") or 0.0, tag, total))
    lines = [f"{'tag':20} walls: found, right; openings: found, right; unit right"]
    for _, tag, total in sorted(rows, key=lambda row: row[:2]):
        pairs = [
            (what, f) for what in ("walls", "openings") for f in (total.recall, total.precision)
        ]
        figures = [*(percent(f(what)) for what, f in pairs), percent(total.recall("unit right"))]
        lines.append(f"{tag:20}  {'  '.join(figures)}")
    return "\n".join(lines)


def worst(results: list[Result], count: int) -> str:
    """The sheets with most faults and what they are."""
    lines = []
    for result in sorted(results, key=lambda r: (not r.crash, -len(r.score.faults), r.name))[
        :count
    ]:
        tags = "".join(f"; {tag}" for tag in result.tags)
        lines.append(f"{result.name}: {len(result.score.faults)} faults{tags}")
        lines += [f"    {line}" for line in result.crash.splitlines()]
        lines += [f"    {fault}" for fault in result.score.faults]
    return "\n".join(lines)


@dataclass
class Cost:
    """What a task took in a process of its own: seconds of the processor, megabytes at most."""

    seconds: float
    megabytes: float
    found: dict[str, Any]


def read_by_library(path: Path, first: Path) -> Cost:
    """The library's reading of a drawing; what is read first brings in what is not timed."""
    return _cost(lambda p: {"entities": len(ezdxf.readfile(p).modelspace())}, path, first)


def proposed(path: Path, first: Path) -> Cost:
    """The proposal for a drawing, reading included, with memory searched as the command does."""
    gc.set_threshold(*COLLECT)
    return _cost(propose, path, first)


def _cost(task: Callable[[Path], dict[str, Any]], path: Path, first: Path) -> Cost:
    task(first)
    start = time.process_time()
    found = task(path)
    seconds = time.process_time() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    return Cost(seconds, peak, found)


def timed(entities: int, repeat: int) -> str:
    """What the library takes to read a large drawing, and what its proposal takes, reading
    included, each in a process of its own, one after the other; the least of some times, since
    others use the machine too."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"{entities}.dxf"
        estate(path, entities)
        first = make_sheet(0).write(Path(folder) / "first.dxf")
        with ProcessPoolExecutor(1, get_context("spawn"), max_tasks_per_child=1) as pool:
            costs = [
                [pool.submit(task, path, first).result() for task in (read_by_library, proposed)]
                for _ in range(repeat)
            ]
    library, ours = (min(tries, key=lambda c: c.seconds) for tries in zip(*costs, strict=True))
    found = ours.found
    elevations = sum(view["kind"] == "elevation" for view in found["views"])
    return (
        f"{library.found['entities']} entities: read in {library.seconds:.1f} s and "
        f"{library.megabytes:.0f} MB, proposed in {ours.seconds:.1f} s and "
        f"{ours.megabytes:.0f} MB: {ours.seconds / library.seconds:.2f} of the time, "
        f"{ours.megabytes / library.megabytes:.2f} of the memory; {len(found['views'])} views, "
        f"{elevations} elevations, {len(found['walls'])} walls, {len(found['openings'])} openings"
    )


def parse_seeds(text: str) -> range:
    """``0..199`` as a range with both ends."""
    first, _, last = text.partition("..")
    return range(int(first), int(last or first) + 1)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--seeds", type=parse_seeds, help="A..B, both included")
    parser.add_argument(
        "--only-worst", type=int, default=0, metavar="N", help="list the N worst sheets and why"
    )
    parser.add_argument("--by-tag", action="store_true", help="recall for each tag")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument(
        "--real", type=Path, metavar="DIR", help="also try the drawings of other people here"
    )
    parser.add_argument(
        "--entities", type=int, metavar="N", help="only time a drawing of N entities"
    )
    parser.add_argument("--repeat", type=int, default=1, help="times it is timed")
    parser.add_argument("--strangers", type=parse_seeds, help="A..B of sheets by another hand")
    parser.add_argument("--folder", type=Path, metavar="DIR", help="drawings with their truth")
    options = parser.parse_args()
    if options.entities:
        print(timed(options.entities, options.repeat))
        return
    groups = {"tuned": SEEN, "kept aside": KEPT_ASIDE}
    if options.seeds:
        groups = {f"seeds {options.seeds[0]}..{options.seeds[-1]}": options.seeds}
    if options.real:
        print(real_proposals.report(options.real, propose))
        if not options.seeds:
            return
    tasks: dict[str, tuple[Callable[[Any], Result], Sequence[Any]]] = {
        name: (tried, seeds) for name, seeds in groups.items()
    }
    if options.strangers:
        tasks = {
            f"strangers {options.strangers[0]}..{options.strangers[-1]}": (
                tried_stranger,
                options.strangers,
            )
        }
    if options.folder:
        tasks = {str(options.folder): (tried_file, _with_truth(options.folder))}
    for name, (task, sheets) in tasks.items():
        with ProcessPoolExecutor(options.workers) as pool:
            results = list(pool.map(task, sheets, chunksize=4))
        print(table(name, results))
        aside = strangers.KEPT_ASIDE if task is tried_stranger else KEPT_ASIDE
        if not set(sheets) & set(aside):  # nobody looks at those one by one
            if options.by_tag:
                print(by_tag(results))
            if options.only_worst:
                print(worst(results, options.only_worst))
        print()


def _with_truth(folder: Path) -> list[Path]:
    found = [p for p in sorted(folder.glob("*.dxf")) if p.with_suffix(".truth.json").exists()]
    if not found:
        sys.exit(f"{folder}: no drawing with a .truth.json beside it")
    return found


if __name__ == "__main__":
    main()
