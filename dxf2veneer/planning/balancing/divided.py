"""The runs whose joints may move, and what they share panels with.

Both sides of a bay's mitre come from one panel and stay in it (L13).

| corner a | first |  whole  |  whole  | last | corner b |      a row: its first joint at p
           a       p                          m - b
| corner a |    single    | corner b |                          no row: p is 0
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import WHOLE_PANEL_IN
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.relaying.ways import Name
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Key = tuple[int, Name]
"""A part: the position of its run, and its name."""


class Division(NamedTuple):
    """How a run is divided: its left corner piece, its first joint of a row, whole panels, its
    right corner piece; 0 for what is not there."""

    left: float
    first: float
    whole: int
    right: float

    def parts(self, m: float, panel: float) -> Iterator[tuple[Name, float]]:
        """The pieces of a run of length m that are no whole panels, with their lengths."""
        if self.left:
            yield "corner left", self.left
        if self.first:
            yield "first", self.first - self.left
            yield "last", m - self.right - self.first - self.whole * panel
        else:
            yield "single", m - self.left - self.right
        if self.right:
            yield "corner right", self.right

    def joints(self, run: Run, panel: float) -> list[float]:
        """The x of its joints from the left."""
        found = [run.x0 + self.left] if self.left else []
        if self.first:
            found += [run.x0 + self.first + n * panel for n in range(self.whole + 1)]
        return [*found, run.x1 - self.right] if self.right else found


def division_of(one: LaidRun, sizes: LayingSizes) -> Division | None:
    """How a run is divided; None where its joints have no choice, or break a rule.

    Args:
        one: The run as laid.
        sizes: Lengths and limits, in inches.

    Returns:
        The division.
    """
    run, n = one.run, len(one.lengths)
    left = one.lengths[0] if run.left == "corner" else 0.0
    right = one.lengths[-1] if run.right == "corner" else 0.0
    flats = one.lengths[bool(left) : n - bool(right)]
    if not flats or n < 2:
        return None
    corner_cuts = sum(cut.is_corner for cut in one.cuts)
    if corner_cuts != bool(left) + bool(right):
        return None
    if len(flats) == 1:
        return Division(left, 0.0, 0, right)
    if any(abs(x - sizes.panel) > WHOLE_PANEL_IN for x in flats[1:-1]):
        return None
    return Division(left, left + flats[0], len(flats) - 2, right)


@dataclass(frozen=True)
class Shared:
    """What the parts of a plan share.

    ``hands`` are the ends of their panels that the parts keep, lone ones given one; ``beside`` the
    lone parts, with their lengths and cuts, that go with a part wherever it goes; ``mitred`` the
    parts of each panel that gives both sides of a bay's mitre.
    """

    hands: Mapping[PartRef, Hand]
    beside: Mapping[PartRef, tuple[tuple[PartRef, ...], float]]
    mitred: tuple[tuple[PartRef, ...], ...]
    whole: frozenset[PartRef]

    @classmethod
    def of(cls, laid: Sequence[LaidRun], units: Sequence[CutPanel], sizes: LayingSizes) -> Shared:
        """What the parts of a plan share: of a lone part with others in its panel, those."""
        cuts = {PartRef(i, cut.piece): cut for i, one in enumerate(laid) for cut in one.cuts}
        hands: dict[PartRef, Hand] = {}
        beside: dict[PartRef, tuple[tuple[PartRef, ...], float]] = {}
        mitred, whole = [], set()
        for unit in units:
            refs = [ref for ref, _ in unit.parts]
            if sum(is_mitred(laid[ref.run], ref.piece) for ref in refs) > 1:
                mitred.append(tuple(refs))
                continue
            if refs[0] not in cuts:
                whole.add(refs[0])
                continue
            refs.sort(key=lambda ref: (cuts[ref].hand == "any", ref))
            hand = cuts[refs[0]].hand
            hands[refs[0]] = "left" if hand == "any" else hand
            hands.update({ref: cuts[ref].hand for ref in refs[1:] if cuts[ref].hand != "any"})
            lone = tuple(ref for ref in refs[1:] if cuts[ref].hand == "any")
            if lone:
                lengths = [laid[ref.run].lengths[ref.piece] + sizes.kerf for ref in lone]
                beside[refs[0]] = lone, sum(sorted(lengths), start=0.0)
        return cls(hands, beside, tuple(mitred), frozenset(whole))

    @classmethod
    def apart(cls, laid: Sequence[LaidRun], units: Sequence[CutPanel]) -> Shared:
        """The same where each part goes by itself, but for those of a mitre's panel."""
        cuts = {PartRef(i, cut.piece): cut for i, one in enumerate(laid) for cut in one.cuts}
        hands: dict[PartRef, Hand] = {}
        mitred, whole = [], set()
        for unit in units:
            refs = [ref for ref, _ in unit.parts]
            if sum(is_mitred(laid[ref.run], ref.piece) for ref in refs) > 1:
                mitred.append(tuple(refs))
            elif refs[0] not in cuts:
                whole.add(refs[0])
            else:
                hands.update({ref: cuts[ref].hand for ref in refs})
        return cls(hands, {}, tuple(mitred), frozenset(whole))

    def still(self, laid: Sequence[LaidRun]) -> set[int]:
        """Positions of runs whose joints stay: a part of theirs goes with another, or fills up the
        panel of a mitre."""
        refs = [ref for lone, _ in self.beside.values() for ref in lone]
        filling = [ref for panel in self.mitred for ref in panel]
        refs += [ref for ref in filling if not is_mitred(laid[ref.run], ref.piece)]
        return {ref.run for ref in refs}


def is_mitred(one: LaidRun, piece: int) -> bool:
    """Whether a piece ends at a bay's mitre.

    Args:
        one: A run as laid.
        piece: The piece's position from the left.

    Returns:
        Whether it does.
    """
    at_left = piece == 0 and one.run.left == "mitre"
    return at_left or (piece == len(one.lengths) - 1 and one.run.right == "mitre")


def lost_of(laid: Sequence[LaidRun], part: Key | PartRef) -> float:
    """What the mitres of a part take of its panel behind its face.

    Args:
        laid: The runs as laid.
        part: The part, by its name where its run's joints move, else by its place.

    Returns:
        Inches.
    """
    one = laid[part[0]]
    if isinstance(part, PartRef):
        return one.lost(part.piece)
    left, right = one.run.lost
    return left * (part[1] in ("first", "single")) + right * (part[1] in ("last", "single"))


def neighbors_of(laid: Sequence[LaidRun], reach: float, courses: int = 1) -> list[list[int]]:
    """For each run the runs of the courses below and above that its joints stand apart from.

    Args:
        laid: The runs as laid.
        reach: How far beyond its ends their joints count, in inches.
        courses: How many courses below and above.

    Returns:
        Positions of runs.
    """
    by_course: dict[tuple[str, int], list[int]] = defaultdict(list)
    for i, one in enumerate(laid):
        by_course[one.run.wall, one.run.course].append(i)
    return [
        [
            j
            for course in (one.run.course - courses, one.run.course + courses)
            for j in by_course.get((one.run.wall, course), ())
            if laid[j].run.x0 < one.run.x1 + reach and laid[j].run.x1 > one.run.x0 - reach
        ]
        for one in laid
    ]


def divisions_of(
    laid: Sequence[LaidRun],
    still: Set[int],
    twins: Mapping[int, Sequence[int]],
    sizes: LayingSizes,
) -> dict[int, Division]:
    """How the runs whose joints may move are divided, all that are laid alike or none of them.

    Args:
        laid: The runs as laid.
        still: Positions of those whose joints stay.
        twins: By the position of a run those that are laid like it.
        sizes: Lengths and limits, in inches.

    Returns:
        The divisions by position.
    """
    found = {i: division_of(one, sizes) for i, one in enumerate(laid) if i not in still}
    for i, others in twins.items():
        alike = (i, *others)
        is_mitred = "mitre" in (laid[i].run.left, laid[i].run.right)
        if is_mitred or any(found.get(j) is None for j in alike):
            found.update(dict.fromkeys(alike))
    return {i: division for i, division in sorted(found.items()) if division is not None}
