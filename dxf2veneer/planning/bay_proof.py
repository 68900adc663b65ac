"""The fewest corners of a bay that any layout leaves with their sides from two panels.

Rule L13 wants both sides of a mitred corner from one panel. Joints of adjacent courses keep the
stagger (L3), pieces their least length (L4), and inside a run factory end meets factory end (L9).
So a face between two mitres has few layouts: its first piece places all its joints, or it is one
piece.

**Proof.** All courses of a bay are looked at together, whatever the plan made of them: a
mixed-integer program over all real lengths finds the fewest corners that they leave parted. Left
out are the other ends of the rows (corner pieces, cuts that vary), legs beside openings, and what
else a panel may give, which only lets more layouts in: the number is never above the true one.

       way w: | t | w whole | rest - t |      u: what is taken of the panel at the right end;
     one piece: |        m       |            served: u + saw cut + t of the next <= panel
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence

from dxf2veneer.basics.tolerances import BAY_PROOF_NODES, BOUND_IN, EXACT_IN
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.program import Program, Term
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Chain = Sequence[Run]
"""Runs that meet one after another at mitred corners, from left to right."""
_ALONE = -1
"""The way of a run that is one piece; other ways are known by their whole panels."""


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
    faces: list[list[_Face]] = []
    parted: list[int] = []
    for chains in courses:
        own = [[_Face(program, run, sizes) for run in chain] for chain in chains]
        parted += [
            _corner(program, a, b, sizes, beside) for row in own for a, b in itertools.pairwise(row)
        ]
        faces.append([face for row in own for face in row])
    if any(not face.ways for row in faces for face in row):
        return 0
    for lower, upper in itertools.pairwise(faces):
        for a, b in itertools.product(lower, upper):
            if a.run.wall == b.run.wall:
                _keep_apart(program, a, b, sizes)
    values, is_proved = program.least(BAY_PROOF_NODES)
    return round(math.fsum(values[i] for i in parted)) if values and is_proved else 0


class _Face:
    """A run in the program: its ways, its piece at the mitre, what is taken at its right end."""

    def __init__(self, program: Program, run: Run, sizes: LayingSizes) -> None:
        """Columns and rows of the run."""
        self.run = run
        m, panel, least = run.length, sizes.panel, sizes.least
        self.ways: dict[int, tuple[int, float, float, float]] = {}
        self._most = panel + sizes.longest_corner + EXACT_IN
        for way, low, high, rest in _ways(run, sizes):
            self.ways[way] = (program.switch(), low - BOUND_IN, high + BOUND_IN, rest)
        program.row([(1.0, c) for c, *_ in self.ways.values()], 1.0, 1.0)
        self.piece = program.column(0.0, max(m, panel) + 1.0)
        """Length of the first piece; of the last one where the left end is a corner."""
        self.taken = program.column(0.0, 2.0 * panel + least)
        program.row([(1.0, self.piece), *[(-w[1], w[0]) for w in self.ways.values()]], low=0.0)
        program.row([(1.0, self.piece), *[(-w[2], w[0]) for w in self.ways.values()]], high=0.0)
        if run.left == "corner":
            program.row([(1.0, self.taken), (-1.0, self.piece)], low=-BOUND_IN, high=BOUND_IN)
        else:
            rests = [(-w[3], w[0]) for w in self.ways.values()]
            program.row([(1.0, self.taken), (1.0, self.piece), *rests], low=-BOUND_IN)
            if _ALONE in self.ways:
                rests.append((-panel, self.ways[_ALONE][0]))
            program.row([(1.0, self.taken), (1.0, self.piece), *rests], high=BOUND_IN)

    @property
    def may_be_loose(self) -> bool:
        """Whether its piece at the mitre may have a corner piece alone beside it."""
        has_corner = "corner" in (self.run.left, self.run.right)
        return has_corner and self.run.length <= self._most

    @property
    def joint(self) -> tuple[float, float]:
        """The first joint of a row: where the piece is measured from, and in which direction."""
        return (self.run.x1, -1.0) if self.run.left == "corner" else (self.run.x0, 1.0)


def _ways(run: Run, sizes: LayingSizes) -> list[tuple[int, float, float, float]]:
    """(way, least and greatest length of the piece at the mitre, what first and last make up)."""
    m, panel, least = run.length, sizes.panel, sizes.least
    if "corner" in (run.left, run.right):
        high = min(panel, m - least)
        return [(0, least, high, m)] if high >= least - EXACT_IN else []
    found = [(_ALONE, m, m, 2.0 * m)] if m <= panel + EXACT_IN else []
    for whole in range(int(m / panel + EXACT_IN) + 1):
        rest = m - whole * panel
        low, high = max(least, rest - panel), min(panel, rest - least)
        if low <= high + EXACT_IN:
            found.append((whole, low, max(low, high), rest))
    return found


def _corner(program: Program, before: _Face, after: _Face, sizes: LayingSizes, beside: bool) -> int:
    """A mitred corner: whether it is parted, which the program counts.

    Sides that keep the two ends of their panel lie side by side where they fill it; a piece alone
    in its run, or alone beside a corner piece, has no end to keep.
    """
    parted = program.switch(cost=1.0)
    far = 4.0 * sizes.panel
    room = sizes.panel - sizes.kerf - before.run.lost[1] - after.run.lost[0]
    program.row(
        [(1.0, before.taken), (1.0, after.piece), (-far, parted)],
        high=room + BOUND_IN,
    )
    if _ALONE in after.ways:  # one piece that is served: its panel has both
        m, alone = after.run.length, after.ways[_ALONE][0]
        program.row(
            [(1.0, after.taken), (-1.0, before.taken), (-far, alone), (far, parted)],
            low=sizes.kerf + m - far - BOUND_IN,
        )
    if beside and not (before.may_be_loose or after.may_be_loose):
        loose = [(far, face.ways[_ALONE][0]) for face in (before, after) if _ALONE in face.ways]
        program.row(
            [(1.0, before.taken), (1.0, after.piece), (far, parted), *loose],
            low=room - BOUND_IN,
        )
    return parted


def _keep_apart(program: Program, lower: _Face, upper: _Face, sizes: LayingSizes) -> None:
    """Joints of two rows keep the stagger: the first ones differ by what leaves all others apart.

    The joints stand a panel's length apart; of rows with v and w joints more the difference of the
    first ones is no nearer than the stagger to n panels, n from -v to w.
    """
    (a, up), (b, down) = lower.joint, upper.joint
    panel, stagger, terms = (
        sizes.panel,
        sizes.stagger - BOUND_IN,
        [
            (up, lower.piece),
            (-down, upper.piece),
        ],
    )
    for v, (one, low_1, high_1, _) in lower.ways.items():
        for w, (other, low_2, high_2, _) in upper.ways.items():
            if _ALONE in (v, w):
                continue
            least = a - b + min(up * low_1, up * high_1) - max(down * low_2, down * high_2)
            most = a - b + max(up * low_1, up * high_1) - min(down * low_2, down * high_2)
            edges = [n * panel for n in range(-v, w + 1)]
            gaps = [
                (low, high)
                for low, high in zip(
                    [-math.inf, *(e + stagger for e in edges)],
                    [*(e - stagger for e in edges), math.inf],
                    strict=True,
                )
                if low <= high and low <= most and high >= least
            ]
            if any(low <= least and most <= high for low, high in gaps):
                continue
            _one_of(program, terms, gaps, (a - b, least, most), (one, other))


def _one_of(
    program: Program,
    terms: Sequence[Term],
    gaps: Sequence[tuple[float, float]],
    reach: tuple[float, float, float],
    ways: tuple[int, int],
) -> None:
    """Where both ways are taken, the terms lie in one of the gaps.

    ``reach``: what is added to the terms, and the least and most that they come to.
    """
    offset, least, most = reach
    switches = [program.switch() for _ in gaps]
    program.row([*[(1.0, s) for s in switches], (-1.0, ways[0]), (-1.0, ways[1])], low=-1.0)
    far = 4.0 * (most - least) + 4.0 * abs(offset) + 1000.0
    for (low, high), switch in zip(gaps, switches, strict=True):
        if low > least:
            program.row([*terms, (-far, switch)], low=low - offset - far)
        if high < most:
            program.row([*terms, (far, switch)], high=high - offset + far)


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
