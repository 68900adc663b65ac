"""How many clicks it takes on the page of ``confirm`` from a drawing to its confirmed takeoff.

    python tests/benchmarks/clicks.py [--seeds A..B]            sheets of tests/corpus
    python tests/benchmarks/clicks.py DRAWING TRUTH.json ...    drawings with what is true of them
    python tests/benchmarks/clicks.py --real DIR                drawings of other people

What is true has the JSON shape of a proposal; a wall is found where a mark is the same (IoU 0.95),
an opening likewise (0.9), and each mark that is none of them is wrong; so is a kind. The clicks are
made through the functions that the page itself calls, on what it offers at the place of the click:

- an outline under the pointer, made what fits by a click or any kind by its figure, or a line, at
  which a wall ends or is parted by a click with Shift: one;
- choosing how to point, or what it becomes, where that differs from the click before: one click;
- where no such click helps, opposite corners: two clicks, or each corner and one to close;
- a wrong mark taken out, a wrong kind: one click in the list;
- all elevations looked at, and the takeoff: one click each.

At each step the click is taken that leaves the fewest faults for its price, then the one that comes
nearest. Turns of the wheel to a larger outline are counted beside the clicks. The bound is one
click for each wrong or missing mark, plus two. The seconds are those of the machine: opening the
drawing, and the longest step with its numbers.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

sys.path.insert(0, str(Path(__file__).parent.parent))

import real_proposals
from corpus import KEPT_ASIDE, make_sheet
from shapely.geometry import Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.page.edits import edited
from dxf2veneer.page.marks import Marks
from dxf2veneer.page.session import Session

MOST_CLICKS = 4
"""Clicks on a wall before a person would rather draw it."""
SAME = {"wall": 0.95, "opening": 0.9}
BY_SHIFT = ("line", "fits")
"""What a click with Shift does, whatever is chosen. A figure over an outline makes it any kind."""
REACH = 1 / 150
"""How near to a line a click must be, as a share of a wall's size."""

True_ = tuple[str, Polygon]


@dataclass
class Count:
    """What one drawing took."""

    drawings: int = 1
    wrong: int = 0
    missing: int = 0
    pointing: int = 0
    """Clicks on the drawing and in the list for what was wrong or missing."""
    choosing: int = 0
    """Clicks to choose how to point and what it becomes."""
    turns: int = 0
    """Turns of the wheel to a larger outline."""
    drawn: int = 0
    """Walls and openings that had to be drawn by corners."""
    looking: int = 0
    """Click that says that all elevations were looked at."""
    opening_s: float = 0.0
    step_s: float = 0.0


class Faults(NamedTuple):
    """How marks differ from what is true."""

    missing: tuple[True_, ...]
    wrong: tuple[int, ...]
    """Ids of marks that are none."""
    kinds: tuple[tuple[int, str], ...]
    """Ids of openings of a wrong kind, and their kind."""
    near: float
    """How alike the marks are to what is missing, summed."""


class Step(NamedTuple):
    """One click."""

    edit: dict[str, Any]
    way: str
    becomes: str
    turns: int


def alike(a: BaseGeometry, b: BaseGeometry) -> float:
    """Intersection over union."""
    return float(a.intersection(b).area / a.union(b).area)


def faults_of(marks: Marks, true: list[True_]) -> Faults:
    """What is missing and wrong among marks."""
    left = {m.id: m for m in marks.marks}
    missing, kinds, near = [], [], 0.0
    for kind, area in true:
        is_wall = kind == "wall"
        ranked = [
            (alike(m.polygon, area), m.id)
            for m in left.values()
            if (m.kind == "wall") == is_wall and m.polygon.intersects(area)
        ]
        best, mark = max(ranked, default=(0.0, 0))
        if best >= SAME["wall" if is_wall else "opening"]:
            if left.pop(mark).kind != kind:
                kinds.append((mark, kind))
        else:
            missing.append((kind, area))
            near += best
    return Faults(tuple(missing), tuple(left), tuple(kinds), near)


def count_of(faults: Faults) -> int:
    """How many faults there are."""
    return len(faults.missing) + len(faults.wrong) + len(faults.kinds)


def steps(session: Session, kind: str, area: Polygon) -> Iterator[Step]:
    """Clicks that may help a wall or an opening that is missing."""
    places = [area.representative_point()]
    if kind == "wall":
        for wall in session.marks.walls:
            if alike(wall.polygon, area) > 0.02:
                rest = [area.difference(wall.polygon), wall.polygon.difference(area)]
                parts = [p for r in rest for p in getattr(r, "geoms", [r])]
                places += [p.representative_point() for p in parts if p.area > 0.004 * area.area]
    becomes = ("fits", "wall", "part", "nothing") if kind == "wall" else ("fits", kind, "part")
    for at in places:
        for turns, offered in enumerate(session.outlines_at(at.x, at.y)):
            for what in becomes:
                edit = {"do": "make", "kind": what, "outline": offered["points"]}
                yield Step(edit, "outline", what, turns)
    if kind == "wall":
        yield from line_steps(session, area)


def line_steps(session: Session, area: Polygon) -> Iterator[Step]:
    """Clicks on lines along the sides of a wall that is missing."""
    x0, y0, x1, y1 = area.bounds
    reach = REACH * max(x1 - x0, y1 - y0)
    corners = list(area.exterior.coords)
    for (ax, ay), (bx, by) in pairwise(corners):
        for share in (0.5, 0.23):
            x, y = ax + share * (bx - ax), ay + share * (by - ay)
            for how in ("fits", "end", "part"):
                found = session.bound_at(x, y, reach, how)
                if found is not None:
                    edit = {"do": "bound", "line": found["line"], "at": [x, y], "how": how}
                    yield Step(edit, "line", how, 0)


class Person:
    """Mends a proposal by clicks, one after the other."""

    def __init__(self, session: Session, true: list[True_], count: Count) -> None:
        self.session, self.true, self.count = session, true, count
        self.chosen = {"way": "outline", "outline": "fits", "line": "fits"}

    def price(self, step: Step) -> int:
        """Clicks that a step takes with what is chosen now."""
        if self.chosen["way"] in ("outline", "line") and (
            step.way == "outline" or (step.way, step.becomes) == BY_SHIFT
        ):
            return 1
        other = self.chosen["way"] != step.way
        return 1 + other + (self.chosen[step.way] != step.becomes)

    def make(self, step: Step) -> None:
        """A click."""
        self.count.choosing += self.price(step) - 1
        self.count.pointing += 1
        self.count.turns += step.turns
        if self.price(step) > 1:
            self.chosen["way"] = step.way
            self.chosen[step.way] = step.becomes
        began = time.perf_counter()
        self.session.edit(step.edit)
        self.session.figures()
        self.count.step_s = max(self.count.step_s, time.perf_counter() - began)

    def best(self, missing: Iterable[True_]) -> Step | None:
        """The click that leaves the fewest faults for its price, then the one that comes nearest;
        None where none helps."""
        now = faults_of(self.session.marks, self.true)
        found: tuple[float, float, int, Step] | None = None
        for step in (s for kind, area in missing for s in steps(self.session, kind, area)):
            try:
                after = faults_of(edited(self.session.marks, step.edit), self.true)
            except TakeoffError:
                continue
            gain = count_of(now) - count_of(after)
            closer = after.near + len(now.missing) - len(after.missing) - now.near
            if closer < (0.02 if gain == 0 else 0.5) and gain <= 0:
                continue
            rank = (self.price(step) - 1.5 * gain, -closer, step.turns)
            if found is None or rank < found[:3]:
                found = (*rank, step)
        return found[3] if found else None

    def left(self, is_wall: bool) -> list[True_]:
        """Walls or openings that are missing."""
        missing = faults_of(self.session.marks, self.true).missing
        return [(kind, area) for kind, area in missing if (kind == "wall") == is_wall]

    def mend(self) -> None:
        """The walls, then the openings, then what is wrong in the list."""
        for is_wall in (True, False):
            helped = 0
            while missing := self.left(is_wall):
                step = self.best(missing if is_wall else missing[:1])
                if step is not None and helped < MOST_CLICKS:
                    self.make(step)
                    helped = 0 if len(self.left(is_wall)) < len(missing) else helped + 1
                else:
                    self.draw(*missing[0])
                    helped = 0
            wrong = faults_of(self.session.marks, self.true).wrong
            walls = {m.id for m in self.session.marks.walls}
            for mark in wrong:
                if (mark in walls) == is_wall:
                    self.session.edit({"do": "drop", "mark": mark})
                    self.count.pointing += 1
        for mark, kind in faults_of(self.session.marks, self.true).kinds:
            self.session.edit({"do": "change", "mark": mark, "kind": kind})
            self.count.pointing += 1

    def draw(self, kind: str, area: Polygon) -> None:
        """A wall or an opening by its corners."""
        corners, way = fewest_corners(kind, area)
        self.count.pointing += len(corners) + 1 if way == "corners" else 2
        self.count.choosing += (self.chosen["way"] != way) + (self.chosen["outline"] != kind)
        self.chosen["way"], self.chosen["outline"] = way, kind
        self.count.drawn += 1
        self.session.edit({"do": "make", "kind": kind, "outline": corners})


def fewest_corners(kind: str, area: Polygon) -> tuple[list[list[float]], str]:
    """The corners by which an area is drawn well enough, and the way in which a person points at
    them."""
    least = SAME["wall" if kind == "wall" else "opening"]
    x0, y0, x1, y1 = area.bounds
    middle = Point((x0 + x1) / 2, (y0 + y1) / 2)
    for way, drawn in (("box", box(x0, y0, x1, y1)), ("round", middle.buffer((x1 - x0) / 2))):
        if alike(area, drawn) >= least:
            return [list(p) for p in drawn.exterior.coords[:-1]], way
    drawn = area
    for share in (0.001, 0.003, 0.01, 0.03, 0.1):
        simple = area.simplify(share * max(x1 - x0, y1 - y0))
        if alike(area, simple) >= least + 0.01:
            drawn = simple
    return [list(p) for p in drawn.exterior.coords[:-1]], "corners"


def counted(drawing: Path, truth: dict[str, Any]) -> Count:
    """The clicks for one drawing."""
    began = time.perf_counter()
    session = Session(drawing, drawing.with_suffix(".clicks.toml"))
    count = Count(opening_s=time.perf_counter() - began)
    true: list[True_] = [("wall", Polygon(w["outline"])) for w in truth["walls"]]
    true += [(o["kind"], Polygon(o["outline"])) for o in truth["openings"]]
    unit = truth.get("unit")
    if unit and session.marks.unit.name != unit and true:  # chosen in the list
        session.edit({"do": "unit", "unit": unit})
        count.pointing = 1
    faults = faults_of(session.marks, true)
    count.missing, count.wrong = len(faults.missing), len(faults.wrong) + len(faults.kinds)
    count.wrong += count.pointing
    Person(session, true, count).mend()
    left = faults_of(session.marks, true)
    assert not count_of(left), f"{drawing.name}: {left}"
    if any(view["has_walls"] for view in session.state()["views"]):
        assert session.edit({"do": "look", "view": "*", "seen": True})["confirmed"]
        count.looking = 1
    return count


def clicks_of(count: Count) -> int:
    """All clicks, from the start to the takeoff."""
    return count.pointing + count.choosing + count.looking + count.drawings


def bound_of(count: Count) -> int:
    """One click for each fault, and two for each drawing."""
    return count.wrong + count.missing + 2 * count.drawings


def line(name: str, count: Count) -> str:
    """One row of the table."""
    every, bound = clicks_of(count), bound_of(count)
    over = "" if every <= bound else f"  over by {every - bound}"
    return (
        f"{name[:28]:<28} {count.wrong:5} {count.missing:7} {count.pointing:8} {count.choosing:8} "
        f"{count.turns:6} {count.drawn:6} {every:5} {bound:6} "
        f"{count.opening_s:8.1f} {count.step_s:7.2f}{over}"
    )


def sheets(seeds: range, folder: Path) -> Iterable[tuple[Path, dict[str, Any]]]:
    """Sheets of the corpus with their truth."""
    for seed in seeds:
        sheet = make_sheet(seed)
        if sheet.truth["walls"]:
            yield sheet.write(folder / f"sheet-{seed}.dxf"), sheet.truth


def main() -> None:
    """Print a row for each drawing."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("drawings", nargs="*", type=Path, metavar="DRAWING TRUTH.json")
    parser.add_argument("--seeds", default="0..9")
    parser.add_argument("--real", type=Path, metavar="DIR", help="drawings of other people")
    asked = parser.parse_args()
    first, _, last = asked.seeds.partition("..")
    print(
        f"{'drawing':<28} wrong missing pointing choosing  wheel  drawn clicks  bound   open s"
        "  step s"
    )
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        given = [
            (d, json.loads(t.read_text(encoding="utf-8")))
            for d, t in zip(asked.drawings[::2], asked.drawings[1::2], strict=True)
        ]
        if asked.real:
            given += real_proposals.truths(asked.real)
        for i, (drawing, truth) in enumerate(given):
            copied = folder / drawing.name
            copied.write_bytes(drawing.read_bytes())
            given[i] = copied, truth
        todo = given or list(sheets(range(int(first), int(last or first) + 1), folder))
        total = Count(drawings=0)
        for drawing, truth in todo:
            count = counted(drawing, truth)
            if given or int(first) not in KEPT_ASIDE:  # nobody looks at those one by one
                print(line(drawing.name, count), flush=True)
            for key, value in vars(count).items():
                setattr(total, key, getattr(total, key) + value)
        print(line("all", total))


if __name__ == "__main__":
    main()
