"""How laid walls look: joints in line, ladders, stairs, repeated courses and the like (rule L25).

Worked out from the pieces alone, beside the planner and its own count.

   |     |        in line: two courses apart      |            stair: by one step
 |    |     |                                   |                each course
   |     |        ladder: at every second course  |
 |    |     |     repeat: all joints of a course    |
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise

from dxf2veneer.basics.tolerances import (
    LOOK_COLUMN,
    LOOK_LADDER,
    LOOK_LINE_IN,
    LOOK_SHORT_PANELS,
    LOOK_STAIR,
)
from dxf2veneer.config.product import Product
from dxf2veneer.model import Flaw, FlawKind, Look, Side, WallTakeoff
from dxf2veneer.verify.plan.runs import JudgedRun, JudgedWall, judged_wall


def look_of(walls: Sequence[WallTakeoff], product: Product) -> Look:
    """The look of all laid walls.

    Args:
        walls: The walls with their pieces.
        product: The panel, whose length says what is short, and what corner pieces differ by.

    Returns:
        The figures, and the places.
    """
    judged = [judged_wall(w) for w in walls]
    seen = [_Seen(wall, product) for wall in judged]
    turns, equal = _turns(judged, product.corner.vary)
    flaws = [flaw for one in seen for flaw in one.flaws] + equal
    order = {w.wall.id: i for i, w in enumerate(walls)}
    ladders = [1 + f.courses // 2 for f in flaws if f.kind in ("in-line", "ladder")]
    count = Counter(flaw.kind for flaw in flaws)
    joints = sum(len(xs) for one in seen for xs in one.joints.values())
    return Look(
        joints=joints,
        over=sum(one.over for one in seen),
        in_line=sum(one.in_line for one in seen),
        ladder=max(ladders, default=min(1, joints)),
        stair=max((n for one in seen for _, _, n in one.stairs), default=0),
        repeats=count["repeat"],
        turns=turns,
        equal_turns=count["corner"],
        jambs=count["jamb"],
        shorts=sum(f.courses for f in flaws if f.kind == "short"),
        flaws=tuple(sorted(flaws, key=lambda f: (order[f.wall], f.course, f.at, f.kind))),
    )


class _Seen:
    """One wall's joints and the patterns they make."""

    def __init__(self, wall: JudgedWall, product: Product) -> None:
        self._wall, self._product = wall, product
        self.joints = {
            i: sorted(b.x0 for run in runs for _, b in pairwise(run.laid))
            for i, runs in wall.by_course.items()
        }
        """The x of the joints of each course, from left to right."""
        self.over = sum(
            any(run.left.x < x < run.right.x for run in wall.by_course.get(i - 2, ()))
            for i, xs in self.joints.items()
            for x in xs
        )
        self.in_line = sum(
            self._below(i, x) is not None for i, xs in self.joints.items() for x in xs
        )

    @cached_property
    def flaws(self) -> list[Flaw]:
        """Every place of every kind."""
        return [
            *self._ladders(), *self._stairs(), *self._repeats(), *self._jambs(), *self._shorts()
        ]  # fmt: skip

    def _below(self, course: int, x: float, by: int = 2) -> float | None:
        """The joint in line so many courses below."""
        return _near(self.joints.get(course - by, ()), x)

    def _flaw(self, kind: FlawKind, course: int, x: float, courses: int) -> Flaw:
        run = self._wall.by_course[course][0]
        return Flaw(kind, self._wall.wall.wall.id, course, (x, run.course.y1), courses)

    def _ladders(self) -> Iterator[Flaw]:
        """Joints at every second course, each ladder once, at its top."""
        for i, xs in sorted(self.joints.items()):
            for x in xs:
                if self._above(i, x):
                    continue
                steps, at = 0, x
                while (below := self._below(i - 2 * steps, at)) is not None:
                    steps, at = steps + 1, below
                if steps:
                    kind: FlawKind = "ladder" if steps + 1 >= LOOK_LADDER else "in-line"
                    yield self._flaw(kind, i, x, 1 + 2 * steps)

    def _above(self, course: int, x: float) -> bool:
        return _near(self.joints.get(course + 2, ()), x) is not None

    @cached_property
    def stairs(self) -> list[tuple[int, float, int]]:
        """Joints that climb by one step from course to course, each stair at its top: the course,
        the joint's x, and how many courses it goes through."""
        reach = self._product.panel.length / 2.0 + LOOK_LINE_IN
        found: list[tuple[int, float, int]] = []
        going: list[tuple[float, float, int]] = []  # joints of the course below: x, step, courses
        for i in range(1 + max(self.joints, default=-1)):
            steps, ended = [], set(range(len(going)))
            for x in self.joints.get(i, ()):
                for below in self.joints.get(i - 1, ()):
                    step, courses = x - below, 2
                    if not LOOK_LINE_IN < abs(step) <= reach:
                        continue
                    for n, (at, by, so_far) in enumerate(going):
                        if at == below and abs(by - step) <= LOOK_LINE_IN:
                            courses = max(courses, so_far + 1)
                            ended.discard(n)
                    steps.append((x, step, courses))
            found += [(i - 1, going[n][0], going[n][2]) for n in sorted(ended)]
            going = steps
        top = max(self.joints, default=0)
        return found + [(top, x, courses) for x, _, courses in going]

    def _stairs(self) -> Iterator[Flaw]:
        """Stairs that are too long."""
        for course, x, courses in self.stairs:
            if courses >= LOOK_STAIR:
                yield self._flaw("stair", course, x, courses)

    def _repeats(self) -> Iterator[Flaw]:
        """Courses of three pieces and more whose joints all stand over those two below."""
        for run in self._wall.runs:
            xs, i = [b.x0 for _, b in pairwise(run.laid)], run.course.index
            under = [x for x in self.joints.get(i - 2, ()) if run.left.x < x < run.right.x]
            if (
                len(xs) > 1
                and len(xs) == len(under)
                and all(abs(a - b) <= LOOK_LINE_IN for a, b in zip(xs, under, strict=True))
            ):
                yield self._flaw("repeat", i, xs[0], 3)

    def _jambs(self) -> Iterator[Flaw]:
        """Joints in line with a jamb, just over the head or under the sill."""
        for opening in self._wall.wall.wall.openings:
            x0, y0, x1, y1 = opening.box
            for run in self._wall.runs:
                y = y1 if run.course.y0 - LOOK_LINE_IN <= y1 < run.course.y1 - LOOK_LINE_IN else y0
                is_under = run.course.y0 + LOOK_LINE_IN < y0 <= run.course.y1 + LOOK_LINE_IN
                if y == y0 and (not is_under or opening.touches_base):
                    continue
                for _, b in pairwise(run.laid):
                    if min(abs(b.x0 - x0), abs(b.x0 - x1)) <= LOOK_LINE_IN:
                        yield self._flaw("jamb", run.course.index, b.x0, 1)

    def _shorts(self) -> Iterator[Flaw]:
        """Columns of short pieces beside an opening, each at its top."""
        most = LOOK_SHORT_PANELS * self._product.panel.length
        for opening in self._wall.wall.wall.openings:
            sides: tuple[tuple[Side, float], ...] = (
                ("right", opening.box[0]),
                ("left", opening.box[2]),
            )
            for side, x in sides:
                beside = {
                    run.course.index
                    for run in self._wall.runs
                    if run.laid and _is_short(run, side, x, most)
                }
                for top, courses in _columns(beside):
                    if courses >= LOOK_COLUMN:
                        yield self._flaw("short", top, x, courses)


def _near(xs: Sequence[float], x: float) -> float | None:
    """The nearest of ascending places that is in line with x."""
    at = bisect_left(xs, x)
    near = min(xs[max(0, at - 1) : at + 1], key=lambda other: abs(other - x), default=None)
    return near if near is not None and abs(near - x) <= LOOK_LINE_IN else None


def _is_short(run: JudgedRun, side: Side, x: float, most: float) -> bool:
    """Whether a run ends at x on that side with a piece that is short."""
    end, one = (run.left, run.laid[0]) if side == "left" else (run.right, run.laid[-1])
    return abs(end.x - x) <= LOOK_LINE_IN and one.length < most


def _columns(courses: set[int]) -> Iterator[tuple[int, int]]:
    """Courses that follow one another: the uppermost of each group, and how many they are."""
    for top in sorted(courses):
        if top + 1 not in courses:
            number = 1
            while top - number in courses:
                number += 1
            yield top, number


def _turns(walls: Sequence[JudgedWall], vary: float) -> tuple[int, list[Flaw]]:
    """Pairs of successive courses round a corner, and those with corner pieces of one length."""
    laid: dict[str, dict[int, tuple[float, JudgedRun, float]]] = defaultdict(dict)
    for wall in walls:
        for run in wall.runs:
            for end, one in zip(
                (run.left, run.right), (*run.laid[:1], *run.laid[-1:]), strict=False
            ):
                if end.edge and end.edge.corner and one.unit == "corner" and end.carries:
                    laid[end.edge.corner][run.rank] = one.length, run, end.x
    turns, equal = 0, []
    for by_rank in laid.values():
        for rank, (length, run, x) in sorted(by_rank.items()):
            below = by_rank.get(rank - 1)
            if below and (len(run.laid) > 1 or len(below[1].laid) > 1):  # else neither has a choice
                turns += 1
                if abs(below[0] - length) < vary:
                    at = x, run.course.y1
                    equal.append(Flaw("corner", run.wall, run.course.index, at, 2))
    return turns, equal
