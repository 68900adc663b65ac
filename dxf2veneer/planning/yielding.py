"""Where a rule of laying can't hold, and why: told by the plan beside what it did instead."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from dxf2veneer.model import Course, RuleBreak, WallTakeoff
from dxf2veneer.planning.layout import Laid
from dxf2veneer.planning.offcuts import EXACT_IN, Sizes
from dxf2veneer.planning.pieces import CLEAN_IN, levels_of, lowest_strip
from dxf2veneer.planning.room import Joint, rooms
from dxf2veneer.planning.runs import Run
from dxf2veneer.wording.measures import length_text


def yielded_of(
    laid: Sequence[Laid], walls: Sequence[WallTakeoff], sizes: Sizes, display: str
) -> Iterator[RuleBreak]:
    """Every place where the wall leaves the plan no way to keep a rule, with the reason in ``display`` units."""
    courses = {w.wall.id: w.courses.courses for w in walls}
    below: dict[tuple[str, int], list[float]] = {}
    for one in laid:
        below.setdefault((one.run.wall, one.run.course), []).extend(one.joints)
    for one in laid:
        yield from _short(one, courses, sizes, display)
        yield from _close(one, below, courses, sizes, display)
    for wall in walls:
        yield from _strips(wall, sizes, display)
    yield from _parted(laid, courses, sizes, display)


def _short(
    one: Laid, courses: Mapping[str, Sequence[Course]], sizes: Sizes, show: str
) -> Iterator[RuleBreak]:
    """Runs too short for the least piece, and runs between two finished ends too near for two pieces."""
    run, length = one.run, length_text(one.run.length, show)
    at = _middle(run, courses)
    if run.length < sizes.least - EXACT_IN:
        why = f"the run is {length} long, shorter than the least piece of {length_text(sizes.least, show)}"
        yield RuleBreak("L4", run.wall, run.course, at, "a piece shorter than the least", why)
    room = min(sizes.longest_corner, run.length - sizes.least) - sizes.least
    if "corner" in (run.left, run.right) and len(one.lengths) > 1 and room < sizes.vary - EXACT_IN:
        why = f"a run {length} long takes a piece of {length_text(sizes.least, show)} beside the corner piece, which leaves its cut {length_text(room, show)} to vary"
        for x in (run.x0, run.x1):
            yield RuleBreak(
                "L4", run.wall, run.course, (x, at[1]), "corner cuts that do not vary", why
            )
    if {run.left, run.right} == {"corner", "mitre"} and len(one.lengths) == 1:
        why = f"a corner piece fills the {length} between a corner and a bay, too short for a mitred piece beside it"
        for x in (run.x0, run.x1):
            yield RuleBreak(
                "L13", run.wall, run.course, (x, at[1]), "no mitre at a bay corner", why
            )
    if run.left == run.right == "corner" and len(one.lengths) == 1:
        why = f"both ends of a run {length} long are finished, which takes two pieces of {length_text(sizes.least, show)}"
        for rule in ("L5", "L6", "L7", "L8"):
            yield RuleBreak(
                rule, run.wall, run.course, at, "one end without a corner piece, turn by turn", why
            )


def _close(
    one: Laid,
    below: Mapping[tuple[str, int], list[float]],
    courses: Mapping[str, Sequence[Course]],
    sizes: Sizes,
    show: str,
) -> Iterator[RuleBreak]:
    """Joints that no division of the run keeps away from those below."""
    run = one.run
    under = [x for x in below.get((run.wall, run.course - 1), ()) if run.x0 < x < run.x1]
    near = [x for x in one.joints if any(abs(x - u) < sizes.stagger - EXACT_IN for u in under)]
    why = _no_room(run, under, sizes, show) if near else ""
    if why:
        for x in near:
            yield RuleBreak(
                "L3",
                run.wall,
                run.course,
                (x, _middle(run, courses)[1]),
                "joints nearer than the stagger",
                why,
            )


def _no_room(run: Run, under: Sequence[float], sizes: Sizes, show: str) -> str:
    """Why the run's joints can't keep the stagger; empty where each kind of them has a place."""
    stagger = length_text(sizes.stagger, show)
    corner = f"the corner piece ends within {stagger} of a joint below, however long it is"
    reasons: dict[Joint, str] = {
        "left": corner,
        "right": corner,
        "one": f"the run is {length_text(run.length, show)} long and has one joint, which stands within {stagger} of a joint below wherever it is",
        "row": f"the joints below stand so that a row of whole panels meets one within {stagger} wherever it begins",
    }
    return next((reasons[joint] for joint, free in rooms(run, under, sizes) if free < 0.0), "")


def _parted(
    laid: Sequence[Laid], courses: Mapping[str, Sequence[Course]], sizes: Sizes, show: str
) -> Iterator[RuleBreak]:
    """Bays whose two sides do not come from one panel."""
    sides: dict[tuple[str, int], list[tuple[Laid, float]]] = {}
    for one in laid:
        for side, edge in one.run.edges:
            if edge.kind == "mitre" and edge.corner:
                sides.setdefault((edge.corner, one.run.turn), []).append(
                    (one, one.lengths[0 if side == "left" else -1])
                )
    for pair in (p for p in sides.values() if len(p) == 2):
        why = _why_parted(pair, sizes, show)
        for one, _ in pair:
            for x in (one.run.x0, one.run.x1):
                yield RuleBreak(
                    "L13",
                    one.run.wall,
                    one.run.course,
                    (x, _middle(one.run, courses)[1]),
                    "two panels at a bay corner",
                    why,
                )


def _why_parted(pair: Sequence[tuple[Laid, float]], sizes: Sizes, show: str) -> str:
    for one, length in pair:
        if len(one.lengths) == 1 and one.run.left == one.run.right == "mitre":
            return f"one piece fills the {length_text(length, show)} between two mitres, and a panel serves one of its neighbours at most"
    both = sum(length for _, length in pair)
    room = length_text(sizes.panel - sizes.kerf, show)
    return f"with the stagger kept no lengths were found that fit one panel: {length_text(both, show)} together, where a panel gives {room}"


def _strips(wall: WallTakeoff, sizes: Sizes, show: str) -> Iterator[RuleBreak]:
    """Pieces with a strip lower than the least sensible one: the course lines and the wall leave no more."""
    levels = levels_of(wall)
    for piece in wall.courses.pieces:
        low = lowest_strip(piece, levels) if piece.outline or piece.holes else piece.height
        if low < sizes.strip - CLEAN_IN:
            at = ((piece.x0 + piece.x1) / 2.0, (piece.y0 + piece.y1) / 2.0)
            why = f"course lines and wall leave {length_text(low, show)} there; another starter height or a moved head may clear it"
            yield RuleBreak(
                "L24", wall.wall.id, piece.course, at, "a strip lower than the least", why
            )


def _middle(run: Run, courses: Mapping[str, Sequence[Course]]) -> tuple[float, float]:
    course = courses[run.wall][run.course]
    return (run.x0 + run.x1) / 2.0, (course.y0 + course.y1) / 2.0
