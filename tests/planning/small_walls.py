"""Small walls at random, of every kind, on the grid of 1/8 in that people measure in.

butt     | 2 courses |      end      C finished at the left    two ends   C           C
outside, inside, mixed: corners at both sides, carried in turn, course by course
column   a face of 12 to 27 in between outside corners
pier     an opening between two piers, a course over it
stepped  the first course shorter                gabled    each course shorter at both sides
bay      two walls that meet at a mitre          stepped end    stepped, a finished end
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from exact_reals import Run as ExactRun
from shapely.geometry import box

from dxf2veneer.model import Edge
from dxf2veneer.planning.runs import Run

KINDS = (
    "butt", "end", "two ends", "outside", "inside", "mixed", "column", "pier", "stepped",
    "stepped end", "gabled", "bay",
)  # fmt: skip


@dataclass(frozen=True)
class Face:
    """One wall: the spans of its courses from the bottom up, and what is at its side edges."""

    courses: tuple[tuple[tuple[float, float], ...], ...]
    left: str = "butt"
    right: str = "butt"

    @property
    def x0(self):
        return min(a for course in self.courses for a, _ in course)

    @property
    def x1(self):
        return max(b for course in self.courses for _, b in course)

    def ends(self, index, span):
        """What happens at both ends of a span: corners take turns, the right side in even
        courses (L6, L7)."""
        for side, x, edge in (("left", self.x0, self.left), ("right", self.x1, self.right)):
            if span[side == "right"] != x or edge == "butt":
                yield "plain"
            elif edge in ("mitre", "end"):
                yield {"mitre": "mitre", "end": "corner"}[edge]
            else:
                yield "corner" if (index % 2 == 0) == (side == "right") else "plain"


def job_of(kind, chance):
    """The walls of a random small job of a kind."""

    def size(low, high):
        return chance.randint(8 * low, 8 * high) / 8

    width, count = size(38, 72), chance.randint(2, 3)
    if kind == "pier":
        a, gap, b = size(8, 40), size(12, 30), size(8, 40)
        return [Face((((0, a), (a + gap, a + gap + b)),) * 2 + (((0, a + gap + b),),))]
    if kind in ("stepped", "stepped end"):
        begin = size(3, 20)
        spans = (((begin, width),), *[((0, width),)] * (count - 1))
        return [Face(spans, right="end" if kind == "stepped end" else "butt")]
    if kind == "gabled":
        steps = [(size(2, 6), size(2, 6)) for _ in range(count)]
        return [
            Face(
                tuple(
                    ((sum(a for a, _ in steps[:i]), width - sum(b for _, b in steps[:i])),)
                    for i in range(count)
                )
            )
        ]
    if kind == "bay":
        other = size(20, 48)
        return [
            Face((((0, width - 18),),) * 2, right="mitre"),
            Face((((0, other),),) * 2, left="mitre"),
        ]
    if kind == "column":
        width, count = size(12, 27), 4
    left, right = {
        "butt": ("butt", "butt"),
        "end": ("end", "butt"),
        "two ends": ("end", "end"),
        "outside": ("outside", "outside"),
        "inside": ("inside", "inside"),
        "mixed": ("outside", "inside"),
        "column": ("outside", "outside"),
    }[kind]
    return [Face((((0, width),),) * min(count, 4), left, right)]


def exact_job(walls):
    """The courses as the exact model takes them, and the pairs of runs that meet at a mitre."""
    courses, pairs = [], []
    for number, wall in enumerate(walls):
        face = wall.x1 - wall.x0 if wall.left == wall.right == "outside" else float("inf")
        for i, course in enumerate(wall.courses):
            courses.append([ExactRun(*span, *wall.ends(i, span), face=face) for span in course])
            if wall.left == "mitre":
                rows = len(walls[number - 1].courses)
                pairs.append(((len(courses) - 2 - rows, 0), (len(courses) - 1, 0)))
        courses.append([])
    return courses, pairs


def planned_job(walls):
    """The runs of each course of each wall as the planner takes them."""
    found = []
    for number, wall in enumerate(walls):
        top = 8.0 * len(wall.courses)
        edges = {
            side: Edge(side, x, 0.0, top, kind, corner="B1" if kind == "mitre" else None)
            for side, x, kind in (("left", wall.x0, wall.left), ("right", wall.x1, wall.right))
        }
        found.append(
            [
                [
                    Run(
                        f"W{number + 1}",
                        i,
                        *span,
                        *wall.ends(i, span),
                        box(span[0], 8 * i, span[1], 8 * i + 8),
                        edges["left"] if span[0] == wall.x0 else None,
                        edges["right"] if span[1] == wall.x1 else None,
                        turn=i,
                    )
                    for span in course
                ]
                for i, course in enumerate(wall.courses)
            ]
        )
    return found


def random_job(kind, seed):
    """The job of a kind for a seed."""
    return job_of(kind, random.Random(f"{kind} {seed}"))
