"""The rules of laying that concern pieces in their runs: L3, L4 (lengths), L5 to L9, L12, L13.

What the rules mean where the conventions leave it open:

- A rule that asks for a piece at least so long is told even where the run itself is shorter; the break
  is then ``forced``.
- A corner where this course belongs to the other wall counts as plain for L12: a narrow column takes
  one corner piece from edge to edge.
- Successive corner pieces at one edge differ (L4) unless both span their whole run, since one that is
  free could have been cut otherwise.
- A run is filled by one corner piece when it is no longer than the longest one that leaves a piece
  of least length of its unit: corner.length - least_piece - kerf, overhang included.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from dxf2veneer.config.job import Job
from dxf2veneer.config.product import Product
from dxf2veneer.model import Edge, RuleBreak, Side
from dxf2veneer.tolerances import JUDGE_ANGLE_DEG, JUDGE_LENGTH_IN, JUDGE_PLACE_IN
from dxf2veneer.verify.plan.cover import overhang_at
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, LaidPart, RunEnd
from dxf2veneer.wording.measures import length_text

_RULE_OF = {"outside": "L6", "inside": "L7", "end": "L8"}


def laying_breaks(walls: Sequence[JudgedWall], job: Job, product: Product) -> Iterator[RuleBreak]:
    """Every break of the rules of laying in the job's walls."""
    for ground in grounds:
        for run in ground.runs:
            if run.laid:
                yield from _run_breaks(run, job, product)
        yield from _stagger(ground, job, product)
        yield from _varying(ground, job, product)
    yield from _turns(grounds)
    yield from _bays(grounds, job)


def _run_breaks(run: JudgedRun, job: Job, product: Product) -> Iterator[RuleBreak]:
    for one in run.laid:
        yield from _own_breaks(run, one, job, product)
    yield from _end_breaks(run, run.left, run.laid[0], job)
    yield from _end_breaks(run, run.right, run.laid[-1], job)
    for before, after in pairwise(run.laid):
        yield from _joint_breaks(run, before, after)
    yield from _column(run, job, product)


def longest_corner_piece(job: Job, product: Product) -> float:
    """The longest corner piece that leaves one of least length of its unit."""
    return product.corner.length - product.laying.least_piece - job.plan.kerf


def _own_breaks(run: JudgedRun, one: LaidPart, job: Job, product: Product) -> Iterator[RuleBreak]:
    """L4 for the piece's length and L5 for its ends, whatever lies beside it."""
    least, ends, show = (
        product.laying.least_piece,
        sorted((one.end("left"), one.end("right"))),
        job.output.display,
    )
    if one.length < least - JUDGE_LENGTH_IN:
        forced = len(run.laid) == 1 and run.length < least - JUDGE_LENGTH_IN
        message = f"piece {one.numbers} is {length_text(one.length, show)} long, the least is {length_text(least, show)}; its run measures {length_text(run.length, show)}"
        yield run.broken("L4", one.middle, message, forced=forced)
    if one.unit == "flat":
        if "finished" in ends:
            yield run.broken(
                "L5",
                one.middle,
                f"piece {one.numbers} is cut from a flat panel and has a finished end",
            )
        return
    longest = longest_corner_piece(job, product)
    if one.length > longest + JUDGE_LENGTH_IN:
        message = f"corner piece {one.numbers} is {length_text(one.length, show)} long; from {length_text(longest, show)} on its unit gives no second piece"
        yield run.broken("L4", one.middle, message)
    if ends == ["finished", "finished"]:
        yield run.broken(
            "L5",
            one.middle,
            f"piece {one.numbers} keeps both ends of a corner panel, which is cut in two",
        )
    elif ends != ["cut", "finished"]:
        yield run.broken(
            "L5",
            one.middle,
            f"corner piece {one.numbers} has ends {one.end('left')} and {one.end('right')}, not one finished and one cut",
        )


def _end_breaks(run: JudgedRun, end: RunEnd, one: LaidPart, job: Job) -> Iterator[RuleBreak]:
    """What stands at a run's end: L6 to L8 at corners and ends, L13 at bays, L9 where it is plain."""
    own, kind, at, show = one.end(end.side), end.kind, (end.x, end.y), job.output.display
    what = f"{kind} {'corner' if kind in ('outside', 'inside') else 'edge'}"
    if kind in _RULE_OF and end.carries:
        if one.unit != "corner" or own != "finished":
            found = f"{one.unit} piece {one.numbers} with a {own} end"
            yield run.broken(
                _RULE_OF[kind],
                at,
                f"the {what} takes a {end.side}-hand corner piece in this course; there is {found}",
            )
        elif abs(out := _beyond(end, one) - overhang_at(end, job)) > JUDGE_PLACE_IN:
            message = f"corner piece {one.numbers} runs {length_text(abs(out), show)} {'farther' if out > 0 else 'less far'} past the {what} than the job's overhang"
            yield run.broken(_RULE_OF[kind], at, message)
    elif kind in _RULE_OF and own == "finished":
        yield run.broken(
            _RULE_OF[kind],
            at,
            f"in this course the other wall carries the corner piece of the {what}; piece {one.numbers} is finished there",
        )
    elif own == "finished":
        yield run.broken(
            "L9", at, f"piece {one.numbers} has its finished end where the run ends plain"
        )
    if (own == "mitre") != (kind == "mitre"):
        message = (
            "the bay takes a mitred end" if kind == "mitre" else f"there is no bay at the {what}"
        )
        yield run.broken("L13", at, f"{message}; piece {one.numbers} has a {own} end")


def _beyond(end: RunEnd, one: LaidPart) -> float:
    """How far a piece runs past the end of its run."""
    return one.x1 - end.x if end.side == "right" else end.x - one.x0


def _joint_breaks(run: JudgedRun, before: LaidPart, after: LaidPart) -> Iterator[RuleBreak]:
    """L9 for two flat pieces that meet, L5 and L13 for ends that never stand inside a run."""
    sides: tuple[tuple[LaidPart, Side], ...] = ((before, "right"), (after, "left"))
    for one, side in sides:
        at, end = (after.x0, one.middle[1]), one.end(side)
        if end == "finished":
            yield run.broken(
                "L5",
                at,
                f"piece {one.numbers} has its finished {side} end inside the run, not at an edge",
            )
        elif end == "mitre":
            yield run.broken(
                "L13",
                at,
                f"piece {one.numbers} has its mitred {side} end inside the run, not at a bay",
            )
        elif end == "cut" and before.unit == after.unit == "flat":
            yield run.broken(
                "L9",
                at,
                f"piece {one.numbers} has its cut {side} end inside the run, where panels meet factory end to factory end",
            )


def _column(run: JudgedRun, job: Job, product: Product) -> Iterator[RuleBreak]:
    """L12: where one corner piece can fill the run, no flat piece lies in it."""
    ends = (run.left, run.right)
    if not any(e.carries for e in ends) or any(e.kind == "mitre" for e in ends):
        return
    show, length = job.output.display, run.length + sum(overhang_at(e, job) for e in ends)
    flat = [one for one in run.laid if one.unit == "flat"]
    if flat and length <= longest_corner_piece(job, product) + JUDGE_LENGTH_IN:
        message = f"one corner piece can fill this run of {length_text(run.length, show)}; piece {flat[0].numbers} is flat"
        yield run.broken("L12", flat[0].middle, message)


# --------------------------------------------------- from course to course


def _stagger(wall: JudgedWall, job: Job, product: Product) -> Iterator[RuleBreak]:
    """L3: joints of adjacent courses stand apart; told at the upper joint."""
    least, show = product.laying.stagger, job.output.display
    joints = {
        i: [(b.x0, run) for run in runs for _, b in pairwise(run.laid)]
        for i, runs in ground.by_course.items()
    }
    for index, upper in joints.items():
        below = sorted(x for x, _ in joints.get(index - 1, []))
        for x, run in upper:
            for other in below:
                if abs(x - other) < least - JUDGE_LENGTH_IN:
                    message = f"the joint stands {length_text(abs(x - other), show)} from one of the course below, the least is {length_text(least, show)}"
                    yield run.broken("L3", (x, run.course.y0), message)


def _varying(wall: JudgedWall, job: Job, product: Product) -> Iterator[RuleBreak]:
    """L4: successive corner pieces at one edge differ in length."""
    show = job.output.display
    at_edge: dict[Edge, list[tuple[JudgedRun, LaidPart]]] = defaultdict(list)
    for run in ground.runs:
        for end, one in zip((run.left, run.right), (*run.laid[:1], *run.laid[-1:]), strict=False):
            if end.edge and one.unit == "corner" and one.end(end.side) == "finished":
                at_edge[end.edge].append((run, one))
    for placed in at_edge.values():
        for (lower, before), (run, one) in pairwise(placed):
            bound = len(lower.laid) == 1 and len(run.laid) == 1
            if (
                not bound
                and abs(one.length - before.length) < product.corner.vary - JUDGE_LENGTH_IN
            ):
                message = f"corner piece {one.numbers} is {length_text(one.length, show)} long, the one before it at this edge {length_text(before.length, show)}; they differ by {length_text(product.corner.vary, show)} at least"
                yield run.broken("L4", one.middle, message)


# ---------------------------------------------------- from wall to wall


def _turns(walls: Sequence[JudgedWall]) -> Iterator[RuleBreak]:
    """L6, L7: of the two walls at a corner just one carries the corner piece of a course."""
    for (corner, _), sides in sorted(_met(grounds, ("outside", "inside")).items()):
        carried = {side: any(end.carries for _, _, end in found) for side, found in sides.items()}
        if len(sides) == 2 and carried["left"] == carried["right"]:
            run, _, end = sides["left"][0]
            who = "both walls" if carried["left"] else "neither wall"
            yield run.broken(
                _RULE_OF[end.kind],
                (end.x, end.y),
                f"at {end.kind} corner {corner} {who} would carry the corner piece of this course; they take turns",
            )


def _bays(walls: Sequence[JudgedWall], job: Job) -> Iterator[RuleBreak]:
    """L13: both sides of a bay corner come from one panel in each course, at half the angle of the walls."""
    half = job.recognise.bay_angle / 2.0
    for (corner, _), sides in sorted(_met(grounds, ("mitre",)).items()):
        mitred = {
            side: [(run, one, end) for run, one, end in found if one.end(side) == "mitre"]
            for side, found in sides.items()
        }
        for run, one, _ in (each for found in mitred.values() for each in found):
            angle = one.pieces[0].angle
            if angle is not None and abs(angle - half) > JUDGE_ANGLE_DEG:
                yield run.broken(
                    "L13",
                    one.middle,
                    f"piece {one.numbers} is mitred at {angle:g} degrees; half the angle of the walls is {half:g}",
                )
        right, left = mitred.get("right"), mitred.get("left")
        if (
            right
            and left
            and {one.stock for _, one, _ in right} != {one.stock for _, one, _ in left}
        ):
            run, _, end = left[0]
            units = " and ".join(
                ", ".join(sorted({one.stock for _, one, _ in found})) for found in (right, left)
            )
            yield run.broken(
                "L13",
                (end.x, end.y),
                f"the two sides of bay corner {corner} come from {units}, not from one panel",
            )


def _met(
    walls: Sequence[JudgedWall], kinds: Sequence[str]
) -> Mapping[tuple[str, int], dict[Side, list[tuple[JudgedRun, LaidPart, RunEnd]]]]:
    """What stands at each corner of these kinds in each course, by side: (corner's id, rank of the course)."""
    found: dict[tuple[str, int], dict[Side, list[tuple[JudgedRun, LaidPart, RunEnd]]]] = (
        defaultdict(lambda: defaultdict(list))
    )
    for run in (run for wall in walls for run in wall.runs if run.laid):
        for end, one in ((run.left, run.laid[0]), (run.right, run.laid[-1])):
            if end.edge and end.kind in kinds and end.edge.corner:
                found[end.edge.corner, run.rank][end.side].append((run, one, end))
    return found
