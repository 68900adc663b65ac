"""The fewest corners of a bay that any layout leaves with their sides from two panels.

Rule L13 wants both sides of a mitred corner from one panel. Joints of adjacent courses keep the
stagger (L3), pieces their least length (L4), and inside a run factory end meets factory end (L9),
so that a face between two mitres has few layouts (``bay_program.py``).

**Proof.** All courses of a bay are looked at together, whatever the plan made of them: a
mixed-integer program over all real lengths finds the fewest corners that they leave parted. Left
out are the other ends of the rows (corner pieces, cuts that vary), legs beside openings, and what
else a panel may give, which only lets more layouts in: the number is never above the true one.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence

from dxf2veneer.basics.tolerances import BAY_PROOF_NODES, EXACT_IN
from dxf2veneer.planning.bay_program import FaceColumns, corner_parted, keep_apart
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.program import Program
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Chain = Sequence[Run]
"""Runs that meet one after another at mitred corners, from left to right."""


def fewest_parted(
    courses: Sequence[Sequence[Chain]], sizes: LayingSizes, *, beside: bool = False
) -> int:
    """The fewest corners of a bay whose two sides can't come from one panel.

    Args:
        courses: The rows of runs of each course, from the bottom up, none left out between.
        sizes: Lengths and limits, in inches.
        beside: Whether the two sides are to lie side by side in it.

    Returns:
        A number that no layout of these courses is below; 0 where nothing is proved.
    """
    program = Program()
    faces: list[list[FaceColumns]] = []
    parted: list[int] = []
    for chains in courses:
        own = [[FaceColumns(program, run, sizes) for run in chain] for chain in chains]
        parted += [
            corner_parted(program, a, b, sizes, beside)
            for row in own
            for a, b in itertools.pairwise(row)
        ]
        faces.append([face for row in own for face in row])
    if any(not face.ways for row in faces for face in row):
        return 0
    for lower, upper in itertools.pairwise(faces):
        for a, b in itertools.product(lower, upper):
            if a.run.wall == b.run.wall:
                keep_apart(program, a, b, sizes)
    values, is_proved = program.least(BAY_PROOF_NODES)
    return round(math.fsum(values[i] for i in parted)) if values and is_proved else 0


def parted_test(laid: Sequence[LaidRun], units: Sequence[CutPanel]) -> Callable[[Run, Run], bool]:
    """A test of a plan's corners: whether the runs left and right of one have their sides from two
    panels.

    Args:
        laid: The runs as laid.
        units: The panels that their parts are cut from.

    Returns:
        The test.
    """
    panel_of = {ref: unit.id for unit in units for ref, _ in unit.parts}
    numbers = {id(one.run): i for i, one in enumerate(laid)}

    def is_parted(left: Run, right: Run) -> bool:
        i, j = numbers[id(left)], numbers[id(right)]
        return panel_of[PartRef(i, len(laid[i].lengths) - 1)] != panel_of[PartRef(j, 0)]

    return is_parted


def stacks_of(
    laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes
) -> tuple[list[list[Chain]], int]:
    """The rows of a plan's bays, two by two where they are alike and keep the stagger.

    Args:
        laid: The runs as laid.
        units: The panels that their parts are cut from.
        sizes: Lengths and limits, in inches.

    Returns:
        One or two rows of two runs or more from left to right, from the bottom up; and how many of
        all their corners the plan leaves parted, which proves that no more need be.
    """
    is_parted = parted_test(laid, units)
    joints = {id(one.run): one.joints for one in laid}

    def is_apart(lower: Chain, upper: Chain) -> bool:
        return all(
            abs(x - y) >= sizes.stagger - EXACT_IN
            for a, b in zip(lower, upper, strict=True)
            for x, y in itertools.product(joints[id(a)], joints[id(b)])
        )

    found: list[list[Chain]] = []
    parted = 0
    for turn, chains in sorted(chains_of([one.run for one in laid], sizes).items()):
        for row in chains:
            parted += sum(is_parted(a, b) for a, b in itertools.pairwise(row))
            below = next(
                (s for s in found if _is_below(s, row, turn) and is_apart(s[0], row)), None
            )
            if below is None:
                found.append([row])
            else:
                below.append(row)
    return found, parted


def _is_below(stack: Sequence[Chain], row: Chain, turn: int) -> bool:
    """Whether a stack is one row, of equal runs in the course below."""
    if len(stack) > 1 or len(stack[0]) != len(row) or stack[0][0].turn + 1 != turn:
        return False
    return all(
        a.wall == b.wall
        and a.course + 1 == b.course
        and abs(a.x0 - b.x0) <= EXACT_IN
        and abs(a.x1 - b.x1) <= EXACT_IN
        for a, b in zip(stack[0], row, strict=True)
    )


def bays_of(by_turn: Mapping[int, Sequence[Chain]]) -> list[list[list[Chain]]]:
    """The rows of each bay by course: rows that share a wall belong together.

    Args:
        by_turn: By the number of a course as corners count it, rows of two runs or more.

    Returns:
        For each bay, and each stretch of it without a course between, its rows course by course.
    """
    bay_of: dict[str, int] = {}
    for chain in (chain for chains in by_turn.values() for chain in chains):
        walls = {run.wall for run in chain}
        old = {bay_of[w] for w in walls if w in bay_of}
        number = min(old, default=len(bay_of))
        bay_of |= dict.fromkeys([*walls, *(w for w, n in bay_of.items() if n in old)], number)
    rows: dict[int, dict[int, list[Chain]]] = defaultdict(lambda: defaultdict(list))
    for turn, chains in sorted(by_turn.items()):
        for chain in chains:
            rows[bay_of[chain[0].wall]][turn].append(chain)
    found: list[list[list[Chain]]] = []
    for own in rows.values():
        for turn, chains in own.items():
            if turn - 1 not in own:
                found.append([])
            found[-1].append(chains)
    return found
