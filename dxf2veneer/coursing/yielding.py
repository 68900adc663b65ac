"""Where a rule of laying can't hold, and why: told by the plan beside what it did instead."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from dxf2veneer.coursing.layout import Laid
from dxf2veneer.coursing.offcuts import EXACT_IN, Sizes
from dxf2veneer.coursing.pieces import CLEAN_IN, levels_of, lowest_strip
from dxf2veneer.coursing.runs import Run
from dxf2veneer.model import Course, RuleBreak, WallTakeoff
from dxf2veneer.units import feet_inches


def yielded_of(laid: Sequence[Laid], walls: Sequence[WallTakeoff], sizes: Sizes) -> Iterator[RuleBreak]:
    """Every place where the wall leaves the plan no way to keep a rule, with the reason."""
    courses = {w.wall.id: w.courses.courses for w in walls}
    below: dict[tuple[str, int], list[float]] = {}
    for one in laid:
        below.setdefault((one.run.wall, one.run.course), []).extend(one.joints)
    for one in laid:
        yield from _short(one, courses, sizes)
        yield from _close(one, below, courses, sizes)
    for wall in walls:
        yield from _strips(wall, sizes)


def _short(one: Laid, courses: Mapping[str, Sequence[Course]], sizes: Sizes) -> Iterator[RuleBreak]:
    """Runs too short for the least piece, and runs between two finished ends too near for two pieces."""
    run, length = one.run, feet_inches(one.run.length)
    at = _middle(run, courses)
    if run.length < sizes.least - EXACT_IN:
        why = f"the run is {length} long, shorter than the least piece of {feet_inches(sizes.least)}"
        yield RuleBreak("L4", run.wall, run.course, at, "a piece shorter than the least", why)
    if run.left == run.right == "corner" and len(one.lengths) == 1:
        why = f"both ends of a run {length} long are finished, which takes two pieces of {feet_inches(sizes.least)}"
        for rule in ("L5", "L6", "L7", "L8"):
            yield RuleBreak(rule, run.wall, run.course, at, "one end without a corner piece, turn by turn", why)


def _close(one: Laid, below: Mapping[tuple[str, int], list[float]], courses: Mapping[str, Sequence[Course]], sizes: Sizes) -> Iterator[RuleBreak]:
    """Joints that no division of the run keeps away from those below."""
    run = one.run
    under = [x for x in below.get((run.wall, run.course - 1), ()) if run.x0 < x < run.x1]
    near = [x for x in one.joints if any(abs(x - u) < sizes.stagger - EXACT_IN for u in under)]
    why = _no_room(run, under, sizes) if near else ""
    if why:
        for x in near:
            yield RuleBreak("L3", run.wall, run.course, (x, _middle(run, courses)[1]), "joints nearer than the stagger", why)


def _no_room(run: Run, under: Sequence[float], sizes: Sizes) -> str:
    """Why the run's joints can't keep the stagger; empty where they could."""
    if "corner" in (run.left, run.right) and run.length <= 2.0 * sizes.longest_corner:
        low, high = run.x0 + sizes.least, run.x1 - sizes.least
        if all(any(abs(x - u) < sizes.stagger for u in under) for x in (low, high)) and high - low < 2.0 * sizes.stagger:
            return f"the run is {feet_inches(run.length)} long and takes two pieces, which leaves their joint no other place"
        return ""
    residues = sorted({(x - run.x0) % sizes.panel for x in under})
    gaps = [b - a for a, b in zip(residues, [*residues[1:], residues[0] + sizes.panel], strict=True)]
    if max(gaps) < 2.0 * sizes.stagger:
        return f"the joints of the runs below stand so that a row of whole panels meets one within {feet_inches(sizes.stagger)} wherever it begins"
    return ""


def _strips(wall: WallTakeoff, sizes: Sizes) -> Iterator[RuleBreak]:
    """Pieces with a strip lower than the least sensible one: the course lines and the wall leave no more."""
    levels = levels_of(wall)
    for piece in wall.courses.pieces:
        low = lowest_strip(piece, levels) if piece.outline or piece.holes else piece.height
        if low < sizes.strip - CLEAN_IN:
            at = ((piece.x0 + piece.x1) / 2.0, (piece.y0 + piece.y1) / 2.0)
            why = f"course lines and wall leave {feet_inches(low)} there; another starter height or a moved head may clear it"
            yield RuleBreak("L24", wall.wall.id, piece.course, at, "a strip lower than the least", why)


def _middle(run: Run, courses: Mapping[str, Sequence[Course]]) -> tuple[float, float]:
    course = courses[run.wall][run.course]
    return (run.x0 + run.x1) / 2.0, (course.y0 + course.y1) / 2.0
