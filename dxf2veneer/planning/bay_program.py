"""The layouts of a bay as columns and rows of a mixed-integer program, over all real lengths.

A face between two mitres has few layouts: its first piece places all its joints, or it is one
piece.

       way w: | t | w whole | rest - t |      u: what is taken of the panel at the right end;
     one piece: |        m       |            served: u + saw cut + t of the next <= panel
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from dxf2veneer.basics.tolerances import BOUND_IN, EXACT_IN
from dxf2veneer.planning.relaying.program import Program, Term
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

ALONE = -1
"""The way of a run that is one piece; other ways are known by their whole panels."""


class FaceColumns:
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
            if ALONE in self.ways:
                rests.append((-panel, self.ways[ALONE][0]))
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
    found = [(ALONE, m, m, 2.0 * m)] if m <= panel + EXACT_IN else []
    for whole in range(int(m / panel + EXACT_IN) + 1):
        rest = m - whole * panel
        low, high = max(least, rest - panel), min(panel, rest - least)
        if low <= high + EXACT_IN:
            found.append((whole, low, max(low, high), rest))
    return found


def corner_parted(
    program: Program,
    before: FaceColumns,
    after: FaceColumns,
    sizes: LayingSizes,
    beside: bool = False,
    cost: float = 1.0,
) -> int:
    """A mitred corner: whether it is parted, which the program counts.

    Sides that keep the two ends of their panel lie side by side where they fill it; a piece alone
    in its run, or alone beside a corner piece, has no end to keep.

    Args:
        program: What the columns and rows go into.
        before: The run left of the corner.
        after: The run right of it.
        sizes: Lengths and limits, in inches.
        beside: Whether the two sides are to lie side by side in their panel.
        cost: What a parted corner costs.

    Returns:
        The column that says whether it is.
    """
    parted = program.switch(cost)
    far = 4.0 * sizes.panel
    room = sizes.panel - sizes.kerf - before.run.lost[1] - after.run.lost[0]
    program.row(
        [(1.0, before.taken), (1.0, after.piece), (-far, parted)],
        high=room + BOUND_IN,
    )
    if ALONE in after.ways:  # one piece that is served: its panel has both
        m, alone = after.run.length, after.ways[ALONE][0]
        program.row(
            [(1.0, after.taken), (-1.0, before.taken), (-far, alone), (far, parted)],
            low=sizes.kerf + m - far - BOUND_IN,
        )
    if beside and not (before.may_be_loose or after.may_be_loose):
        loose = [(far, face.ways[ALONE][0]) for face in (before, after) if ALONE in face.ways]
        program.row(
            [(1.0, before.taken), (1.0, after.piece), (far, parted), *loose],
            low=room - BOUND_IN,
        )
    return parted


def keep_apart(
    program: Program, lower: FaceColumns, upper: FaceColumns, sizes: LayingSizes
) -> None:
    """Joints of two rows keep the stagger: the first ones differ by what leaves all others apart.

    The joints stand a panel's length apart; of rows with v and w joints more the difference of the
    first ones is no nearer than the stagger to n panels, n from -v to w.

    Args:
        program: What the columns and rows go into.
        lower: A run.
        upper: One of the course above, of the same wall.
        sizes: Lengths and limits, in inches.
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
            if ALONE in (v, w):
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


def keep_apart_from(
    program: Program, face: FaceColumns, joints: Sequence[float], sizes: LayingSizes
) -> None:
    """Joints of a run keep the stagger from joints that stand where they stand.

    Args:
        program: What the columns and rows go into.
        face: The run.
        joints: The x of the joints of the course below or above.
        sizes: Lengths and limits, in inches.
    """
    origin, up = face.joint
    stagger = sizes.stagger - BOUND_IN
    for whole, (way, low, high, _) in face.ways.items():
        if whole == ALONE:
            continue
        least, most = origin + min(up * low, up * high), origin + max(up * low, up * high)
        near = sorted(x - n * up * sizes.panel for x in joints for n in range(whole + 1))
        near = [x for x in near if least - stagger < x < most + stagger]
        lows = [-math.inf, *(x + stagger for x in near)]
        highs = [*(x - stagger for x in near), math.inf]
        gaps = [
            (a, b) for a, b in zip(lows, highs, strict=True) if a <= b and a <= most and b >= least
        ]
        if near:
            _one_of(program, [(up, face.piece)], gaps, (origin, least, most), (way,))


def _one_of(
    program: Program,
    terms: Sequence[Term],
    gaps: Sequence[tuple[float, float]],
    reach: tuple[float, float, float],
    ways: Sequence[int],
) -> None:
    """Where all ways are taken, the terms lie in one of the gaps.

    ``reach``: what is added to the terms, and the least and most that they come to.
    """
    offset, least, most = reach
    switches = [program.switch() for _ in gaps]
    taken = [(-1.0, way) for way in ways]
    program.row([*[(1.0, s) for s in switches], *taken], low=1.0 - len(ways))
    far = 4.0 * (most - least) + 4.0 * abs(offset) + 1000.0
    for (low, high), switch in zip(gaps, switches, strict=True):
        if low > least:
            program.row([*terms, (-far, switch)], low=low - offset - far)
        if high < most:
            program.row([*terms, (far, switch)], high=high - offset + far)
