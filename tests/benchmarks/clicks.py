"""How many clicks it takes on the page of ``confirm`` from a drawing to its confirmed takeoff.

    python tests/benchmarks/clicks.py [--seeds A..B]            sheets of tests/corpus
    python tests/benchmarks/clicks.py DRAWING TRUTH.json ...    drawings with what is true of them

What is true has the JSON shape of a proposal. A wall or opening that is missing takes one click
where an outline is offered that is the same (IoU 0.95 for walls, 0.9 for openings), else one for
each outline that is added to a wall or cut off it, else two for its opposite corners or one for
each corner and one to close; what is wrong and still there then
takes one. Besides, one click for each elevation that has been looked at, and one to take off. The
seconds are those of the machine: opening the drawing, and the longest edit with its numbers.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent))

from corpus import make_sheet
from shapely.geometry import Polygon, box

from dxf2veneer.basics.messages import TakeoffError
from dxf2veneer.page.session import Session

KINDS = {"garage": "door"}
MOST_PARTS = 6
"""Outlines added to a wall or cut off before a person would rather draw it."""
SAME = {"wall": 0.95, "opening": 0.9}


@dataclass
class Count:
    """What one drawing took."""

    wrong: int = 0
    missing: int = 0
    mending: int = 0
    """Clicks for what was wrong or missing."""
    by_one: int = 0
    """Missing walls and openings that one click made."""
    looking: int = 0
    """Clicks for elevations that were looked at."""
    opening_s: float = 0.0
    step_s: float = 0.0


def alike(a: Polygon, b: Polygon) -> float:
    """Intersection over union."""
    return float(a.intersection(b).area / a.union(b).area)


def missing_and_wrong(
    session: Session, truth: dict[str, Any]
) -> tuple[list[tuple[str, Polygon]], list[int]]:
    """True walls and openings that no mark is, and ids of marks that are none."""
    marks = [(m["id"], m["kind"], Polygon(m["outline"])) for m in session.state()["marks"]]
    true = [("wall", Polygon(w["outline"])) for w in truth["walls"]]
    true += [(KINDS.get(o["kind"], o["kind"]), Polygon(o["outline"])) for o in truth["openings"]]
    left = {id_: (kind == "wall", area) for id_, kind, area in marks}
    missing = []
    for kind, area in true:
        least = SAME["wall" if kind == "wall" else "opening"]
        found = [
            i for i, (w, a) in left.items() if w == (kind == "wall") and alike(a, area) >= least
        ]
        if found:
            del left[found[0]]
        else:
            missing.append((kind, area))
    return missing, list(left)


def reshaped(session: Session, area: Polygon) -> int:
    """Add outlines to the wall that is most like a true one, and cut others off, until it is the
    same; the clicks it took, 0 where that does not succeed (and nothing is changed)."""
    before = session.state()["undo"]
    for clicks in range(1, MOST_PARTS + 1):
        walls = [Polygon(m["outline"]) for m in session.state()["marks"] if m["kind"] == "wall"]
        wall = max(walls, key=lambda w: alike(w, area), default=None)
        if wall is None or alike(wall, area) < 0.4:
            break
        part = best_part(session, wall, area)
        if part is None:
            break
        kind, outline = part
        try:
            state = session.edit({"do": "make", "kind": kind, "outline": outline})
        except TakeoffError:
            break
        now = [Polygon(m["outline"]) for m in state["marks"] if m["kind"] == "wall"]
        if max(alike(w, area) for w in now) >= SAME["wall"]:
            return clicks
    while session.state()["undo"] > before:
        session.undo()
    return 0


def best_part(session: Session, wall: Polygon, area: Polygon) -> tuple[str, Any] | None:
    """The outline that brings a wall nearest to a true one: to be added or cut off."""
    best: tuple[float, tuple[str, Any] | None] = (alike(wall, area) + 0.005, None)
    for kind, rest in (("part", area.difference(wall)), ("nothing", wall.difference(area))):
        for piece in getattr(rest, "geoms", [rest]):
            if piece.area < 0.005 * area.area:
                continue
            at = piece.representative_point()
            for offered in session.outlines_at(at.x, at.y):
                ring = Polygon(offered["points"])
                shape = wall.union(ring) if kind == "part" else wall.difference(ring)
                best = max(best, (alike(shape, area), (kind, offered["points"])), key=first_of)
    return best[1]


def first_of(pair: tuple[float, Any]) -> float:
    """How alike."""
    return pair[0]


def make(session: Session, kind: str, area: Polygon) -> int:
    """Make a wall or an opening as a person would; the clicks it took."""
    at = area.representative_point()
    least = SAME["wall" if kind == "wall" else "opening"]
    offered = [o["points"] for o in session.outlines_at(at.x, at.y)]
    fitting = [o for o in offered if alike(Polygon(o), area) >= least]
    if kind == "wall" and not fitting and (clicks := reshaped(session, area)):
        return clicks
    corners = [list(p) for p in area.exterior.coords[:-1]]
    outline, clicks = (fitting[0], 1) if fitting else (corners, len(corners) + 1)
    if not fitting and alike(area, box(*area.bounds)) > 0.999:
        clicks = 2
    session.edit({"do": "make", "kind": kind, "outline": outline})
    return clicks


def counted(drawing: Path, truth: dict[str, Any]) -> Count:
    """The clicks for one drawing."""
    began = time.perf_counter()
    session = Session(drawing, drawing.with_suffix(".clicks.toml"))
    count = Count(opening_s=time.perf_counter() - began)
    missing, wrong = missing_and_wrong(session, truth)
    count.missing, count.wrong = len(missing), len(wrong)
    for kind, area in missing:
        began = time.perf_counter()
        clicks = make(session, kind, area)
        session.figures()
        count.step_s = max(count.step_s, time.perf_counter() - began)
        count.mending += clicks
        count.by_one += clicks == 1
    for mark in missing_and_wrong(session, truth)[1]:
        if any(m["id"] == mark for m in session.state()["marks"]):
            session.edit({"do": "drop", "mark": mark})
            count.mending += 1
    for view in session.state()["views"]:
        if view["has_walls"]:
            session.edit({"do": "look", "view": view["id"], "seen": True})
            count.looking += 1
    return count


def line(name: str, count: Count) -> str:
    """One row of the table."""
    most = count.wrong + count.missing
    return (
        f"{name[:28]:<28} {count.wrong:5} {count.missing:7} {count.by_one:7} {count.mending:7} "
        f"{most:5} {count.looking:7} {count.mending + count.looking + 1:5} "
        f"{count.opening_s:8.1f} {count.step_s:7.2f}"
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
    asked = parser.parse_args()
    first, _, last = asked.seeds.partition("..")
    print(f"{'drawing':<28} wrong missing one-cl. mending bound looking   all   open s  step s")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        given = [
            (folder / d.name, json.loads(t.read_text(encoding="utf-8")), d)
            for d, t in zip(asked.drawings[::2], asked.drawings[1::2], strict=True)
        ]
        for copied, _, drawing in given:
            copied.write_bytes(drawing.read_bytes())
        todo = [(copied, truth) for copied, truth, _ in given] or list(
            sheets(range(int(first), int(last or first) + 1), folder)
        )
        total = Count()
        for drawing, truth in todo:
            count = counted(drawing, truth)
            print(line(drawing.name, count), flush=True)
            for key, value in vars(count).items():
                setattr(total, key, getattr(total, key) + value)
        print(line("all", total))


if __name__ == "__main__":
    main()
