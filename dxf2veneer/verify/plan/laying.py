"""The rules of laying that concern pieces in their runs: L3, L4 (lengths), L5 to L9, L12, L13.

What the rules mean where they leave it open:

- A rule that asks for a piece at least so long is reported even where the run itself is shorter;
  the break is then ``forced``.
- A narrow column (L12) is a run between two outside corners no wider than the product says: the
  16 in of the rule, where its file has no other. It says nothing of wider runs: corner piece and
  flat piece may share them.
- Successive corner pieces at one edge differ (L4) unless both span their whole run, since one that
  is free could have been cut otherwise.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import JUDGE_ANGLE_DEG, JUDGE_LENGTH_IN, JUDGE_PLACE_IN
from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.config.rules import RuleId
from dxf2veneer.model import Edge, RuleBreak, Side
from dxf2veneer.verify.plan.cover import length_to_cover, reach_at
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart, RunEnd

_RULE_OF = {
    "outside": RuleId.OUTSIDE_TURN,
    "inside": RuleId.INSIDE_TURN,
    "end": RuleId.WALL_END,
}


def laying_breaks(walls: Sequence[JudgedWall], job: Job, product: Product) -> Iterator[RuleBreak]:
    """Every break of the rules of laying in the job's walls.

    Args:
        walls: All walls of the job; corners are looked at from both sides.
        job: Saw cut, overhangs and the angle of bays.
        product: Stagger, least piece and what corner pieces differ by.

    Yields:
        The breaks, wall by wall, then those between walls.
    """
    for wall in walls:
        for run in wall.runs:
            if run.laid:
                yield from _run_breaks(run, job, product)
        yield from _stagger(wall, product)
        yield from _varying(wall, product)
    yield from _turns(walls)
    yield from _bays(walls, job)


def _run_breaks(run: JudgedRun, job: Job, product: Product) -> Iterator[RuleBreak]:
    for one in run.laid:
        yield from _length_breaks(run, one, job, product)
        yield from _finish_breaks(run, one)
    for end, one in ((run.left, run.laid[0]), (run.right, run.laid[-1])):
        yield from _end_breaks(run, end, one, job, product)
        yield from _mitre_breaks(run, end, one)
    for before, after in pairwise(run.laid):
        yield from _joint_breaks(run, before, after)
    yield from _column(run, job, product)


def _length_breaks(
    run: JudgedRun, one: LaidPart, job: Job, product: Product
) -> Iterator[RuleBreak]:
    """L4 for the piece's length, whatever lies beside it."""
    least, longest = product.laying.least_piece, product.longest_corner_piece(job.plan.kerf)
    if one.length < least - JUDGE_LENGTH_IN:
        whole = length_to_cover(run, job, product)
        yield run.broken(
            RuleId.LEAST_PIECE,
            one.middle,
            message(
                "piece-too-short",
                pieces=one.numbers,
                length=Length(one.length),
                least=Length(least),
                run=Length(whole),
            ),
            forced=len(run.laid) == 1 and whole < least - JUDGE_LENGTH_IN,
        )
    if one.unit == "corner" and one.length > longest + JUDGE_LENGTH_IN:
        yield run.broken(
            RuleId.LEAST_PIECE,
            one.middle,
            message(
                "corner-piece-leaves-none",
                pieces=one.numbers,
                length=Length(one.length),
                longest=Length(longest),
            ),
        )


def _finish_breaks(run: JudgedRun, one: LaidPart) -> Iterator[RuleBreak]:
    """L5 for the piece's own ends: one finished and one cut on a corner piece, none on a flat
    one."""
    ends = sorted((one.end("left"), one.end("right")))
    if one.unit == "flat":
        if "finished" not in ends:
            return
        what = message("flat-piece-finished", pieces=one.numbers)
    elif ends == ["finished", "finished"]:
        what = message("corner-panel-not-cut", pieces=one.numbers)
    elif ends != ["cut", "finished"]:
        what = message(
            "corner-piece-ends", pieces=one.numbers, left=one.end("left"), right=one.end("right")
        )
    else:
        return
    yield run.broken(RuleId.FINISHED_END, one.middle, what)


def _end_breaks(
    run: JudgedRun, end: RunEnd, one: LaidPart, job: Job, product: Product
) -> Iterator[RuleBreak]:
    """What stands at a run's end: L6 to L8 at corners and ends, L9 where it is plain."""
    own, kind = one.end(end.side), end.kind
    what: Message | None = None
    if kind in _RULE_OF and end.carries:
        out = _beyond(end, one) - reach_at(end, job, product)
        if one.unit != "corner" or own != "finished":
            what = message(
                "no-corner-piece-at-edge",
                edge=kind,
                hand=end.side,
                unit=one.unit,
                pieces=one.numbers,
                end=own,
            )
        elif out > JUDGE_PLACE_IN:
            what = message("overhang-too-far", pieces=one.numbers, off=Length(abs(out)), edge=kind)
        elif out < -JUDGE_PLACE_IN:
            what = message(
                "overhang-too-short", pieces=one.numbers, off=Length(abs(out)), edge=kind
            )
    elif kind in _RULE_OF and own == "finished":
        what = message("corner-piece-out-of-turn", edge=kind, pieces=one.numbers)
    elif own == "finished":
        what = message("finished-where-plain", pieces=one.numbers)
    if what:
        yield run.broken(_RULE_OF.get(kind, RuleId.FACTORY_ENDS), (end.x, end.y), what)


def _mitre_breaks(run: JudgedRun, end: RunEnd, one: LaidPart) -> Iterator[RuleBreak]:
    """L13: a mitre where there is a bay, and nowhere else."""
    own = one.end(end.side)
    if (own == "mitre") == (end.kind == "mitre"):
        return
    what = (
        message("bay-without-mitre", pieces=one.numbers, end=own)
        if end.kind == "mitre"
        else message("mitre-without-bay", edge=end.kind, pieces=one.numbers, end=own)
    )
    yield run.broken(RuleId.BAY_MITRE, (end.x, end.y), what)


def _beyond(end: RunEnd, one: LaidPart) -> float:
    """How far a piece runs past the end of its run."""
    return one.x1 - end.x if end.side == "right" else end.x - one.x0


def _joint_breaks(run: JudgedRun, before: LaidPart, after: LaidPart) -> Iterator[RuleBreak]:
    """L9 for two flat pieces that meet, L5 and L13 for ends that never stand inside a run."""
    sides: tuple[tuple[LaidPart, Side], ...] = ((before, "right"), (after, "left"))
    for one, side in sides:
        at, end = (after.x0, one.middle[1]), one.end(side)
        if end == "finished":
            what = message("finished-inside-run", pieces=one.numbers, side=side)
            yield run.broken(RuleId.FINISHED_END, at, what)
        elif end == "mitre":
            what = message("mitre-inside-run", pieces=one.numbers, side=side)
            yield run.broken(RuleId.BAY_MITRE, at, what)
        elif end == "cut" and before.unit == after.unit == "flat":
            what = message("cut-inside-run", pieces=one.numbers, side=side)
            yield run.broken(RuleId.FACTORY_ENDS, at, what)


def _column(run: JudgedRun, job: Job, product: Product) -> Iterator[RuleBreak]:
    """L12: in the face of a narrow column there are corner pieces alone; forced where none is so
    long."""
    is_face = run.left.kind == run.right.kind == "outside"
    flat = [one for one in run.laid if one.unit == "flat"]
    if is_face and flat and run.length <= product.corner.column + JUDGE_LENGTH_IN:
        what = message("flat-in-column", length=Length(run.length), pieces=flat[0].numbers)
        longest = product.longest_corner_piece(job.plan.kerf)
        is_forced = length_to_cover(run, job, product) > longest + JUDGE_LENGTH_IN
        yield run.broken(RuleId.NARROW_COLUMN, flat[0].middle, what, forced=is_forced)


# --------------------------------------------------- from course to course


def _stagger(wall: JudgedWall, product: Product) -> Iterator[RuleBreak]:
    """L3: joints of adjacent courses stand apart; reported at the upper joint."""
    least = product.laying.stagger
    joints = {
        i: [(b.x0, run) for run in runs for _, b in pairwise(run.laid)]
        for i, runs in wall.by_course.items()
    }
    for index, upper in joints.items():
        below = sorted(x for x, _ in joints.get(index - 1, []))
        for x, run in upper:
            for other in below:
                if abs(x - other) < least - JUDGE_LENGTH_IN:
                    what = message(
                        "joint-near-below", apart=Length(abs(x - other)), least=Length(least)
                    )
                    yield run.broken(RuleId.STAGGER, (x, run.course.y0), what)


def _varying(wall: JudgedWall, product: Product) -> Iterator[RuleBreak]:
    """L4: successive corner pieces at one edge differ in length."""
    vary = product.corner.vary
    at_edge: dict[Edge, list[tuple[JudgedRun, LaidPart]]] = defaultdict(list)
    for run in wall.runs:
        for end, one in zip((run.left, run.right), (*run.laid[:1], *run.laid[-1:]), strict=False):
            if end.edge and one.unit == "corner" and one.end(end.side) == "finished":
                at_edge[end.edge].append((run, one))
    for placed in at_edge.values():
        for (lower, before), (run, one) in pairwise(placed):
            bound = len(lower.laid) == 1 and len(run.laid) == 1
            if not bound and abs(one.length - before.length) < vary - JUDGE_LENGTH_IN:
                what = message(
                    "corner-cut-not-varied",
                    pieces=one.numbers,
                    length=Length(one.length),
                    before=Length(before.length),
                    vary=Length(vary),
                )
                yield run.broken(RuleId.LEAST_PIECE, one.middle, what)


# ---------------------------------------------------- from wall to wall


def _turns(walls: Sequence[JudgedWall]) -> Iterator[RuleBreak]:
    """L6, L7: of the two walls at a corner just one carries the corner piece of a course."""
    for (corner, _), sides in sorted(met_at(walls, ("outside", "inside")).items()):
        carried = {side: any(end.carries for _, _, end in found) for side, found in sides.items()}
        if len(sides) != 2 or carried["left"] != carried["right"]:
            continue
        run, _, end = sides["left"][0]
        what = (
            message("both-walls-carry-corner", edge=end.kind, corner=corner)
            if carried["left"]
            else message("neither-wall-carries-corner", edge=end.kind, corner=corner)
        )
        others = [other for other, _, _ in sides["right"]]
        yield run.broken(_RULE_OF[end.kind], (end.x, end.y), what, beside=others)


def _bays(walls: Sequence[JudgedWall], job: Job) -> Iterator[RuleBreak]:
    """L13: both sides of a bay corner come from one panel in each course, at half its angle."""
    half = job.recognise.bay_angle / 2.0
    for (corner, _), sides in sorted(met_at(walls, ("mitre",)).items()):
        mitred = {
            side: [(run, one, end) for run, one, end in found if one.end(side) == "mitre"]
            for side, found in sides.items()
        }
        for run, one, _ in (each for found in mitred.values() for each in found):
            angle = one.pieces[0].angle
            if angle is not None and abs(angle - half) > JUDGE_ANGLE_DEG:
                what = message("mitre-angle-wrong", pieces=one.numbers, angle=angle, half=half)
                yield run.broken(RuleId.BAY_MITRE, one.middle, what)
        right, left = (
            sorted({one.stock for _, one, _ in mitred.get(side, [])}) for side in _RIGHT_LEFT
        )
        if right and left and right != left:
            run, _, end = mitred["left"][0]
            what = message(
                "bay-from-two-panels", corner=corner, right=tuple(right), left=tuple(left)
            )
            others = [other for other, _, _ in mitred["right"]]
            yield run.broken(RuleId.BAY_MITRE, (end.x, end.y), what, beside=others)


_RIGHT_LEFT: tuple[Side, Side] = ("right", "left")


def met_at(
    walls: Sequence[JudgedWall], kinds: Sequence[str]
) -> Mapping[tuple[str, int], dict[Side, list[tuple[JudgedRun, LaidPart, RunEnd]]]]:
    """What stands at each corner in each course.

    Args:
        walls: The walls with their runs.
        kinds: Kinds of corners that are looked at.

    Returns:
        By the corner's id and the rank of the course, by side, runs with the piece and the end that
        stand there.
    """
    found: dict[tuple[str, int], dict[Side, list[tuple[JudgedRun, LaidPart, RunEnd]]]] = (
        defaultdict(lambda: defaultdict(list))
    )
    for run in (run for wall in walls for run in wall.runs if run.laid):
        for end, one in ((run.left, run.laid[0]), (run.right, run.laid[-1])):
            if end.edge and end.kind in kinds and end.edge.corner:
                found[end.edge.corner, run.rank][end.side].append((run, one, end))
    return found
