"""Lower bounds: numbers of panels that no layout of a job can do without, whatever its lengths.

**Rules kept**: inside a run flat pieces meet factory end to factory end (L9); no piece is shorter
than the least piece unless its run is (L4); a corner panel gives one left-hand and one right-hand
piece (L5), no longer than leaves a piece on the other side of the cut (L4); every corner end of a
run has its corner piece (L6 to L8); the face of a narrow column is laid in corner pieces alone
(L12), every other run as the lengths allow.

**Rules dropped**: the stagger (L3), cuts that vary and parts that differ (L4), a bay's two sides
out of one panel (L13), strips too low (L24), offcuts that stay on their wall or are cut before they
are used (L10, L26). Runs whose two finished ends are too near for two pieces are left out. Dropping
a rule lets more layouts in, and leaving a run out takes its panels away: either makes the bound
smaller, so that it stays true of the layouts that keep all rules.

Notation of the proofs
    L, k    length of a flat panel, width of a saw cut
    X       what two corner pieces of one panel cover together at most: its length less a cut
    m       the longest corner piece: X less the least piece
    t       the longest part that leaves room for another: L - k - least
    K(C)    the most that the corner pieces of a job can cover, cut from C corner panels

**What corner pieces cover.** Each piece has a greatest length u by its run and by m. Two pieces of
a panel cover at most f(u + v), f(s) = min(s, X); a piece alone covers u = f(u + 0). So K(C) is at
most the greatest sum of f over all pairings of C left with C right pieces, absent ones being 0. f
is concave, so the sum is greatest when the longest goes with the shortest: of two pairs, changing
partners so that both sums lie between the old ones makes the sum of f no smaller. The runs limit K
as well.

**Another corner panel never pays.** Take C + 1 panels that are more than the hands call for: one of
them lacks a left piece and one a right piece. Put their two pieces together on one panel and trim
them to X: that loses at most 2 m - X. So K(C + 1) <= K(C) + 2 m - X, and while a panel's worth of
that length is priced at no more than one panel, a plan with more corner panels than the least has
no fewer panels in all. Where it is priced higher, the bound is taken at the most corner panels
there can be.

**By length.** A flat panel of n parts holds n - 1 cuts, so its parts with a cut each make no more
than L + k. The runs less K are cut into at least N parts, N counted with the longest corner pieces:
at least (runs - K + k N) / (L + k) panels.

**By ends.** Give every flat part a weight: 1 if longer than t (nothing fits beside it), otherwise
1/2 for the factory end it keeps in a joint (a panel has one left and one right end), otherwise 0.
No panel weighs more than 1, so there are at least as many panels as all parts weigh. A stretch of
r = q L + rest between cut ends, joined factory end to factory end, is a first part, whole panels
and a last part:
    q - 1 whole ones, first + last = L + rest:  both within t: q (if rest <= 2 t - L);
                        one longer than t, the other no shorter than rest: q + 1/2,
                        or q + 1 if rest > t
    q whole ones, first + last = rest:          q + 1
and with q = 0 a single part: 0, or 1 if longer than t. ``_ends`` is the least of these. Where
corner pieces may cover c of a run, any price p >= 0 for their length gives
    sum over runs of (weight of the rest) >= sum of min over c of (weight of (run - c) + p c) - p K.
The price is a Lagrange multiplier; the best one is found by ternary search.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from dxf2veneer.basics.messages import Length, Message, message
from dxf2veneer.basics.tolerances import BOUND_IN, BOUND_ROUNDING
from dxf2veneer.model import Bound
from dxf2veneer.planning.cutting_stock.packing import CutPart, lower_bound
from dxf2veneer.planning.cutting_stock.run_kinds import PanelSizes, RunEnds, RunKind, run_kind


@dataclass(frozen=True)
class JobBounds:
    """What no plan of the runs can do without: flat panels, corner panels, and both together."""

    flat: tuple[Bound, ...]
    corner: tuple[Bound, ...]
    both: tuple[Bound, ...]

    @property
    def total(self) -> int:
        """The greatest of the bounds on flat and corner panels together."""
        return max(b.units for b in self.both)


def job_bounds(
    runs: Iterable[RunEnds], sizes: PanelSizes, *, corner_units: int | None = None
) -> JobBounds:
    """The bounds of a job's runs, by the proofs at the top of this module.

    Args:
        runs: Every run of the job.
        sizes: Lengths of panels, saw cut and least piece.
        corner_units: The flat bounds hold for plans that buy no more corner panels than this (more
            corner pieces cover more of the wall), for every plan if it is None. The others hold for
            every plan.

    Returns:
        Bounds on flat panels, corner panels, and both together.
    """
    job = _Job.of(runs, sizes)
    corner = job.corner_bounds()
    fewest = max(b.units for b in corner)
    most = job.pieces if corner_units is None else max(fewest, min(corner_units, job.pieces))
    flat = tuple(job.flat_bound(method, most, math.inf) for method in (_by_length, _by_ends))
    return JobBounds(
        flat, corner, tuple(job.both_bound(method, fewest) for method in (_by_length, _by_ends))
    )


class _Held(NamedTuple):
    """Panels that the flat parts of a job hold at least, and how they were counted."""

    panels: float
    price: float
    """Panels saved for each inch more of corner pieces."""
    why: Message


@dataclass(frozen=True)
class _Job:
    """The kinds of runs of a job with their numbers, the sizes, and the length of all runs."""

    kinds: Counter[RunKind]
    sizes: PanelSizes
    length: float

    @classmethod
    def of(cls, runs: Iterable[RunEnds], sizes: PanelSizes) -> _Job:
        """The runs counted by kind."""
        found = (run_kind(run, sizes) for run in runs)
        kinds = Counter(kind for kind in found if kind is not None)
        return cls(kinds, sizes, math.fsum(kind.length * n for kind, n in kinds.items()))

    @property
    def left(self) -> int:
        """Left-hand corner pieces."""
        return sum(n for kind, n in self.kinds.items() if kind.left)

    @property
    def right(self) -> int:
        """Right-hand corner pieces."""
        return sum(n for kind, n in self.kinds.items() if kind.right)

    @property
    def pieces(self) -> int:
        """Corner pieces, which is the most corner panels that serve a plan."""
        return self.left + self.right

    @property
    def gain(self) -> float:
        """The most that another corner panel adds to what corner pieces cover: 2 m - X."""
        return max(0.0, self.sizes.longest_corner - self.sizes.least + 2 * BOUND_IN)

    def lengths(
        self, hand: Literal["left", "right"], which: Literal["shortest", "longest"]
    ) -> list[float]:
        """Shortest or longest lengths of the corner pieces of a hand."""
        return [
            getattr(kind, which)
            for kind, n in self.kinds.items()
            if getattr(kind, hand)
            for _ in range(n)
        ]

    def covered(self, corner_units: int) -> float:
        """K: the most that corner pieces cover, cut from so many corner panels."""
        rows = []
        for hand in ("left", "right"):
            lengths = self.lengths(hand, "longest")
            rows.append(sorted([*lengths, *[0.0] * (corner_units - len(lengths))]))
        whole = self.sizes.corner - self.sizes.kerf + BOUND_IN
        paired = math.fsum(
            min(whole, a + b) for a, b in zip(rows[0], reversed(rows[1]), strict=True)
        )
        return min(paired, math.fsum(kind.most * n for kind, n in self.kinds.items()))

    def corner_bounds(self) -> tuple[Bound, ...]:
        """Corner panels by hands, and by which pieces fit together at their shortest."""
        left, right = self.left, self.right
        hands = Bound(
            "hands", max(left, right), message("corner-bound-by-hands", left=left, right=right)
        )
        parts = [CutPart(n, "left") for n in self.lengths("left", "shortest")]
        parts += [CutPart(n, "right") for n in self.lengths("right", "shortest")]
        units = lower_bound(_shortened(parts), self.sizes.corner, self.sizes.kerf)
        why = message("corner-bound-by-pairing", left=left, right=right, pairs=left + right - units)
        return (hands, Bound("pairing", units, why)) if units > hands.units else (hands,)

    def flat_bound(self, method: _Method, corner_units: int, most_price: float) -> Bound:
        """Flat panels of plans with no more than so many corner panels."""
        held = method(self, self.covered(corner_units), most_price)
        return Bound(_BY[method], _whole(held.panels), held.why)

    def both_bound(self, method: _Method, fewest: int) -> Bound:
        """Flat and corner panels together; ``fewest`` is the bound on corner panels."""
        held = method(self, self.covered(fewest), 1 / self.gain if self.gain else math.inf)
        most = self.pieces - fewest
        change = min(0.0, most * (1 - held.price * self.gain))
        why = held.why
        if fewest:
            why = message("bound-with-corner-panels", corners=fewest, flat=held.why)
        return Bound(_BY[method], max(fewest, _whole(fewest + held.panels + change)), why)


def _shortened(parts: Sequence[CutPart]) -> list[CutPart]:
    return [CutPart(max(0.0, p.length - BOUND_IN), p.hand) for p in parts]


# ------------------------------------------------- flat panels, two methods

_Method = Callable[[_Job, float, float], _Held]


def _by_length(job: _Job, covered: float, _: float) -> _Held:
    """Flat panels by the length that corner pieces leave, cuts counted."""
    panel, kerf = job.sizes.panel, job.sizes.kerf
    parts = sum(
        n * math.ceil(max(0.0, kind.length - kind.most - BOUND_IN) / panel)
        for kind, n in job.kinds.items()
    )
    flat = max(0.0, job.length - covered)
    panels = (flat + kerf * parts) / (panel + kerf)
    why = message(
        "bound-by-length",
        panels=_whole(panels),
        length=Length(job.length),
        covered=Length(covered) if covered else None,
        parts=parts if kerf else 0,
    )
    return _Held(panels, 1 / (panel + kerf), why)


def _by_ends(job: _Job, covered: float, most_price: float) -> _Held:
    """Flat panels by the factory ends that joints take and the parts beside which nothing fits."""
    splits = [(n, _splits(kind, job.sizes)) for kind, n in job.kinds.items()]

    def panels(price: float) -> float:
        return (
            math.fsum(
                n * min(weight + price * corner for corner, weight in found) for n, found in splits
            )
            - price * covered
        )

    price = _highest(panels, min(most_price, 2 / job.sizes.least)) if covered else 0.0
    held = panels(price)
    alone = job.sizes.panel - job.sizes.kerf - job.sizes.least
    why = message("bound-by-ends", panels=_whole(held), alone=Length(alone))
    return _Held(max(0.0, held), price, why)


_BY: dict[_Method, Literal["length", "hands"]] = {_by_length: "length", _by_ends: "hands"}


def _splits(kind: RunKind, sizes: PanelSizes) -> list[tuple[float, float]]:
    """(what corner pieces cover, least weight of the flat rest) where covering more saves
    weight."""
    alone, panel = sizes.panel - sizes.kerf - sizes.least, sizes.panel
    rests = [
        q * panel + step
        for q in range(int(kind.length / panel) + 1)
        for step in (0.0, 2 * alone - panel, alone)
    ]
    corners = {
        kind.low,
        kind.high,
        *(kind.length - r for r in rests if kind.low < kind.length - r < kind.high),
    }
    corners |= {kind.length} if kind.all else set()
    return [(max(0.0, c - BOUND_IN), _ends(kind.length - c, sizes)) for c in sorted(corners)]


def _ends(rest: float, sizes: PanelSizes) -> float:
    """The least weight of a flat stretch, by factory ends (see the proof at the top)."""
    alone = sizes.panel - sizes.kerf - sizes.least
    whole, more = divmod(max(0.0, rest - 3 * BOUND_IN), sizes.panel)
    if more > alone:
        return whole + 1
    return whole + 0.5 if whole and more > 2 * alone - sizes.panel else whole


def _highest(value: Callable[[float], float], end: float) -> float:
    """Where a concave function is greatest between 0 and ``end``, nearly."""
    low, high = 0.0, end
    for _ in range(20):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        low, high = (a, high) if value(a) < value(b) else (low, b)
    return max((0.0, low, end), key=value)


def _whole(panels: float) -> int:
    """Whole panels, rounding of sums forgiven."""
    return max(0, math.ceil(panels - BOUND_ROUNDING))
