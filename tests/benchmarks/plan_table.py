"""The table of plans: python tests/benchmarks/plan_table.py [--write]

Takes off both samples, a traced front by other people where it stands beside the checkout, and the
twenty made houses, one by one and as one job, then columns, bays and piers, and prints what the
plan needs beside what no plan can do without. ``--write`` puts the tables into docs/plan-table.md
and the range of what lies between plan and bound into DEVELOPERS.md.
"""

from __future__ import annotations

import argparse
import itertools
import os
import platform
import re
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT / "tests"))

from builders import JOB  # noqa: E402  the folder of the tests is no package
from houses import SEEDS, house, style_of  # noqa: E402
from narrow_plans import groups  # noqa: E402

from dxf2veneer.app.pipeline import take_off  # noqa: E402
from dxf2veneer.config.job import Job, load_job, with_settings  # noqa: E402
from dxf2veneer.model import CoursePlan, Takeoff  # noqa: E402

PAGE = ROOT / "docs" / "plan-table.md"
DEVELOPERS = ROOT / "DEVELOPERS.md"
TRACED = ROOT.parent / "shared" / "drawings" / "woodshed-front-traced.dxf"
TRACED_LAYERS = {
    "wall": "VENEER-WALL",
    "opening": "VENEER-OPENING",
    "outside_corner": "VENEER-OUTSIDE-CORNER",
    "name": "VENEER-NAME",
}
HEAD = (
    "drawing", "walls", "pieces", "flat", "corner", "bound", "optimum", "above", "above, %",
    "above length, %", "cuts", "waste, %", "broken", "forced", "forced rules", "s",
)  # fmt: skip
INTRODUCTION = """# What the plans need

Made by `python tests/benchmarks/plan_table.py --write` on {machine}.

Two samples, a front that other people drew and somebody traced (where it is at hand), and \
twenty houses of our own invention (`tests/houses.py`): each planned by itself, and all houses as \
one job. Columns, bays and piers follow. All without a look for the joints \
or room for edges that are off, and with offcuts that may go anywhere (`--look off --tolerance 0 \
--offcuts job`).

- **flat, corner**: panels to buy. **bound**: what no plan of these pieces can do without; \
**optimum**: the fewest there can be, where the plan meets the bound, which proves it; **above**: \
units over the bound.
- **above length**: units over the summed length of all pieces divided by the length of a panel, \
in per cent.
- **cuts**: crosscuts. **waste**: share of the bought faces that ends on no wall.
- **broken**: places where a rule of laying does not hold though some layout may keep it. \
**forced**: places where it is proved that no layout keeps it; **forced rules** says which.
- **s**: seconds for the plan alone, without reading and measuring.

Units are a count for these drawings under these settings. Order by the maker's instructions and \
your own experience of breakage.
"""


@dataclass(frozen=True)
class Row:
    """One job: its takeoff, and how long the plan took."""

    name: str
    takeoff: Takeoff
    seconds: float

    @property
    def plan(self) -> CoursePlan:
        """The plan, which the job asked for."""
        if self.takeoff.plan is None:
            raise ValueError(f"{self.name} was not planned")
        return self.takeoff.plan

    def cells(self) -> tuple[str, ...]:
        """The row's cells under HEAD."""
        plan = self.plan
        forced = [b for b in plan.breaks if b.forced]
        rules = ", ".join(
            f"{rule} {count}" for rule, count in sorted(Counter(b.rule for b in forced).items())
        )
        over = plan.total - plan.bound
        return (
            self.name, f"{len(self.takeoff.walls)}", f"{plan.flat.pieces + plan.corner.pieces}",
            f"{plan.flat.units}",
            f"{plan.corner.units}", f"{plan.bound}", "" if over else f"{plan.total}", f"{over}",
            f"{over / plan.bound:.1%}".rstrip("%"),
            f"{plan.total / by_length(self.takeoff) - 1:.1%}".rstrip("%"), f"{plan.cuts}",
            f"{waste(self.takeoff):.1%}".rstrip("%"),
            f"{len(plan.breaks) - len(forced)}", f"{len(forced)}", rules or "none",
            f"{self.seconds:.1f}",
        )  # fmt: skip


def by_length(takeoff: Takeoff) -> float:
    """Panels by length alone: summed length of the pieces over the length of a panel."""
    plan, product = takeoff.plan, takeoff.product
    assert plan is not None
    return (
        plan.flat.pieces_length / product.panel.length
        + plan.corner.pieces_length / product.corner.length
    )


def waste(takeoff: Takeoff) -> float:
    """Share of the faces of the bought panels that covers no field."""
    plan, product = takeoff.plan, takeoff.product
    assert plan is not None
    bought = (
        plan.flat.units * product.panel.length + plan.corner.units * product.corner.length
    ) * product.panel.height
    return 1.0 - sum(w.courses.field.area for w in takeoff.walls) / bought


def run(name: str, paths: Sequence[Path], job: Job) -> Row:
    """Take off a job twice, with and without its plan; the difference is the plan's time."""
    job = with_settings(job, plan__look="off", plan__offcuts="job", plan__tolerance=0.0)
    began = time.perf_counter()
    take_off(paths, with_settings(job, plan__panels=False))
    bare = time.perf_counter()
    takeoff = take_off(paths, job)
    return Row(name, takeoff, max(0.0, time.perf_counter() - bare - (bare - began)))


def jobs(folder: Path) -> Iterator[tuple[str, list[Path], Job]]:
    """Every line of the table: its name, drawings and job; no drawing where it is not at hand."""
    for sample in ("gatehouse", "boathouse"):
        yield (
            f"sample {sample}",
            [ROOT / "samples" / f"{sample}.dxf"],
            load_job(ROOT / "samples" / f"{sample}.toml"),
        )
    traced = load_job(None, {f"layers.{role}": (layer,) for role, layer in TRACED_LAYERS.items()})
    yield "a woodshed's front, traced", [TRACED] if TRACED.is_file() else [], traced
    houses = {seed: house(seed, folder) for seed in SEEDS}
    for seed, (path, job) in houses.items():
        yield f"house {seed}, {style_of(seed)}", [path], job
    yield f"all {len(houses)} houses as one job", [path for path, _ in houses.values()], JOB


def table(folder: Path, rows: list[Row]) -> Iterator[str]:
    """The table's lines, each as soon as it is known; its rows go into the list."""
    yield "| " + " | ".join(HEAD) + " |"
    yield "|---|" + "---:|" * (len(HEAD) - 3) + "---|---:|"
    for name, paths, job in jobs(folder):
        cells: tuple[str, ...] = (name, "not at hand", *[""] * (len(HEAD) - 2))
        if paths:
            rows.append(run(name, paths, job))
            cells = rows[-1].cells()
        yield "| " + " | ".join(cells) + " |"
    units, bound = (sum(counts) for counts in zip(*map(counts_of, houses_of(rows)), strict=True))
    yield ""
    yield (
        f"The {len(SEEDS)} houses, each by itself: {units:,} units over a bound of {bound:,}, "
        f"{units / bound - 1:.2%}."
    )


def houses_of(rows: Sequence[Row]) -> list[Row]:
    """The rows of single houses."""
    return [row for row in rows if row.name.startswith("house ")]


def counts_of(row: Row) -> tuple[int, int]:
    """Units and bound."""
    return row.plan.total, row.plan.bound


def narrow_table() -> Iterator[str]:
    """Columns, bays and piers, those that nobody tunes on by themselves."""
    yield ""
    yield (
        "Columns, bays and piers of our own invention (`tests/narrow_walls.py`), each job by "
        "itself. **optimum**: jobs whose plan meets the bound, which proves it. **most**: units "
        "that one job is over its bound. Faces drawn alike are laid alike (`--alike`), of which "
        "the bound knows nothing; columns stand there a second time without that."
    )
    yield ""
    yield "| jobs | number | units | bound | above, % | optimum | most | broken | forced |"
    yield "|---|" + "---:|" * 8
    for n in groups():
        cells = (n.jobs, n.units, n.bound, f"{100 * n.over:.1f}", n.met, n.most, n.broken)
        yield f"| {n.kind} | " + " | ".join(map(str, (*cells, n.forced))) + " |"


def between(rows: Sequence[Row]) -> str:
    """What lies between the plans of the houses and their bounds, in a sentence."""
    over = {row.name: 100.0 * (row.plan.total / row.plan.bound - 1.0) for row in houses_of(rows)}
    bays = [value for name, value in over.items() if name.endswith("bay")]
    others = [value for name, value in over.items() if not name.endswith("bay")]
    return (
        f"Between the plan and the bound lies {min(others):.1f} to {max(others):.1f} % for houses "
        f"without bays, and {min(bays):.1f} to {max(bays):.1f} % with them (docs/plan-table.md)."
    )


def written(lines: Sequence[str], rows: Sequence[Row]) -> None:
    """The page of the tables, and the sentence about them in DEVELOPERS.md."""
    machine = (
        f"{platform.machine()} with {os.cpu_count()} cores, Python {platform.python_version()}"
    )
    introduction = INTRODUCTION.format(machine=machine)
    PAGE.write_text(introduction + "\n" + "\n".join(lines) + "\n", encoding="utf-8")
    text = DEVELOPERS.read_text(encoding="utf-8")
    sentence = re.compile(r"Between the plan and the bound lies .*? \(docs/plan-table\.md\)\.")
    DEVELOPERS.write_text(sentence.sub(between(rows), text), encoding="utf-8")


def main() -> None:
    """Print the tables, and write them where asked to."""
    parser = argparse.ArgumentParser(description="The table of plans.")
    parser.add_argument("--write", action="store_true", help=f"write {PAGE.relative_to(ROOT)}")
    write = parser.parse_args().write
    lines: list[str] = []
    rows: list[Row] = []
    with tempfile.TemporaryDirectory() as folder:
        for text in itertools.chain(table(Path(folder), rows), narrow_table()):
            print(text, flush=True)
            lines.append(text)
    if write:
        written(lines, rows)


if __name__ == "__main__":
    main()
