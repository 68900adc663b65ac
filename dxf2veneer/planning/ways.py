"""The divisions of a run that are worth trying, and what rules each of them breaks.

A run of length m is a corner piece, if its end is a finished one, then a first flat piece, whole
panels, a last flat piece, and perhaps a corner piece again:

    | corner a |  first t  |   whole   |   whole   |  last  | corner b |
    x0       joint       joint       joint       joint    joint       x1

Whole panels lie between, because inside a run factory end meets factory end (rule L9): so the few
numbers a, t, b place every joint of a run. Worth trying are those that make a piece whole or the
least there may be, those that use an offcut up, those that stand just far enough from the joints of
the course below, and the middles between.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from dxf2veneer.model import Side
from dxf2veneer.planning.ahead import Ahead, longest_alone
from dxf2veneer.planning.offcuts import EXACT_IN, CornerOffcut, Offcut, Sizes
from dxf2veneer.planning.runs import Run

BROKEN_IN = 2000.0
"""Cost of a rule that does not hold, as length of panel."""
REPEATED_IN = 500.0
"""Cost of a corner cut that does not vary."""
_SHORTFALL = 50.0
"""Cost of each inch by which a rule is missed."""
_CLOSE = 0.02
"""Cost of each inch that joints stand nearer to those below than half a panel: looks, among equals."""
_NARROW_IN = 5.0
"""Cost of a leg beside an opening narrower than the least strip."""

Lengths = tuple[float, ...]


class Place(NamedTuple):
    """A run to be laid: what is at hand, what lies below, and what is to come."""

    run: Run
    ahead: Ahead
    sizes: Sizes
    pool: tuple[Offcut, ...]
    halves: tuple[CornerOffcut, ...]
    under: Sequence[float]
    """Joints of the course below that could stand too near to one of this run's, from left to right."""
    last: Mapping[tuple[Side, float], float]
    """By side and x of an edge, the length of the corner piece before at it."""

    @property
    def inner(self) -> list[float]:
        """Joints of the course below between the run's ends, from its beginning."""
        return [x - self.run.x0 for x in self.under if self.run.x0 < x < self.run.x1]


def ways(place: Place) -> list[tuple[float, Lengths]]:
    """Divisions of the run into lengths from the left, each with the cost of the rules it breaks.

    Those that break rules are left out where others break none.
    """
    notes = [(_broken(place, lengths), lengths) for lengths in _divisions(place)]
    limit = max(REPEATED_IN, min(broken for broken, _ in notes) + EXACT_IN)
    return [note for note in notes if note[0] < limit]


def _divisions(place: Place) -> list[Lengths]:
    """Each division once; where none keeps the rules of length, the least bad one."""
    run, sizes = place.run, place.sizes
    m, two = run.length, run.left == run.right == "corner"
    found: list[Lengths] = []
    if m <= longest_alone(run, sizes) + EXACT_IN:
        found.append((m,))
    alone = found and "corner" in (run.left, run.right)  # a corner piece fills it alone (rule L12)
    if m >= 2.0 * sizes.least - EXACT_IN and not alone:
        residues = _unique([x % sizes.panel for x in place.inner])
        for left, right in _corner_pieces(place, residues):
            flat = m - left - right
            if flat <= EXACT_IN:
                found += [(left, right)] if two and flat >= -EXACT_IN else []
                continue
            before, behind = ((left,) if left else ()), ((right,) if right else ())
            found += [(*before, *lengths, *behind) for lengths in _flat_divisions(place, left, flat, residues)]
    if not found:
        found.append((m,) if m <= sizes.panel + EXACT_IN else _even(m, sizes.panel))
    return list({tuple([round(n, 6) for n in lengths]): lengths for lengths in found}.values())


def _even(m: float, panel: float) -> Lengths:
    """A division that keeps no rule but the panel's length: as even as can be."""
    count = int(-(-m // panel))
    return (m / count,) * count


def _unique(values: Sequence[float]) -> list[float]:
    return list({round(v, 6): v for v in values}.values())


# ------------------------------------------------------------ corner pieces


def _corner_pieces(place: Place, residues: Sequence[float]) -> Iterator[tuple[float, float]]:
    """Lengths of the corner pieces at both ends worth trying; 0 where the end has none."""
    run, sizes = place.run, place.sizes
    lefts = _corner_lengths(place, "left", residues) if run.left == "corner" else [0.0]
    rights = _corner_lengths(place, "right", residues) if run.right == "corner" else [0.0]
    if not run.left == run.right == "corner":
        yield from ((a, b) for a in lefts for b in rights)
        return
    whole = sizes.corner - sizes.kerf
    for a in lefts:
        yield from ((a, b) for b in _within([*_filling(place, run.length - a), whole - a], sizes))
        yield from ((a, h.length) for h in place.halves if h.hand == "right")
    for b in rights:
        yield from ((a, b) for a in _within([*_filling(place, run.length - b), whole - b], sizes))


def _corner_lengths(place: Place, side: Side, residues: Sequence[float]) -> list[float]:
    """Lengths of one corner piece worth trying: halves at hand, limits, whole panels beside it, stagger."""
    run, sizes = place.run, place.sizes
    raw = [h.length for h in place.halves if h.hand == side]
    raw += [sizes.least, sizes.longest_corner, *_filling(place, run.length)]
    for residue in residues:
        at = residue if side == "left" else run.length - residue
        raw += [at - sizes.stagger, at + sizes.stagger]
    edge = run.left_edge if side == "left" else run.right_edge
    before = place.last.get((side, edge.x)) if edge else None
    raw += [0.5 * (sizes.least + sizes.longest_corner) - sizes.vary] if before is None else [before - sizes.vary, before + sizes.vary]
    return _within(raw, sizes)


def _filling(place: Place, m: float) -> list[float]:
    """Lengths of a corner piece that leave whole panels of the length m, or whole ones and an offcut."""
    half = 0.5 * (place.sizes.panel - place.sizes.kerf)
    return [m, m - half, *[m - o.length for o in place.pool if o.end != "none"]]


def _within(raw: Sequence[float], sizes: Sizes) -> list[float]:
    """Those lengths, whole panels added or taken off, that a corner piece may have; each once."""
    panel, least, longest = sizes.panel, sizes.least - EXACT_IN, sizes.longest_corner + EXACT_IN
    rests = [t % panel for t in raw]
    return _unique([u for u in [*rests, *[t + panel for t in rests]] if least <= u <= longest])


# -------------------------------------------------------------- flat pieces


def _flat_divisions(place: Place, start: float, m: float, residues: Sequence[float]) -> Iterator[Lengths]:
    """Divisions of a flat stretch of length m that begins ``start`` into the run: first, whole, last piece."""
    sizes = place.sizes
    panel, least, stagger = sizes.panel, sizes.least, sizes.stagger
    if m < least - EXACT_IN:
        return
    if m <= panel + EXACT_IN:
        yield (m,)
    raw = [panel, m, least, m - least, *_using_up(place, m)]
    beside_corner = "corner" in (place.run.left, place.run.right)
    if not beside_corner or len(residues) > 1:
        raw += [r - start + d for r in residues for d in (-stagger, stagger, panel / 2.0)]
    if not beside_corner:
        raw += [panel / 2.0, panel / 3.0, panel - panel / 3.0, *[x - place.run.x0 - start for x in place.run.notches]]
    rests = _unique([t % panel for t in raw])
    for t in [*rests, *[t + panel for t in rests if t < EXACT_IN]]:
        lengths = _division(t, m, sizes)
        if lengths:
            yield lengths


def _using_up(place: Place, m: float) -> Iterator[float]:
    """First pieces that use up an offcut, or whose last piece does, or that fill a bay's panel with the other side."""
    for side, mate in place.ahead.mates.items():
        beside = place.sizes.panel - place.sizes.kerf - max(mate, place.sizes.least)
        yield beside if side == "left" else m - beside
    for offcut in place.pool:
        if offcut.end in ("right", "either"):
            yield offcut.length
        if offcut.end in ("left", "either"):
            yield m - offcut.length


def _division(t: float, m: float, sizes: Sizes) -> Lengths | None:
    """First piece t, whole panels, last piece; None where a piece would be too short or too long."""
    if not sizes.least - EXACT_IN <= t <= sizes.panel + EXACT_IN or t > m - sizes.least + EXACT_IN:
        return None
    whole, last = divmod(m - t - EXACT_IN, sizes.panel)
    last += EXACT_IN
    return (t, *(sizes.panel,) * int(whole), last) if last >= sizes.least - EXACT_IN else None


# ------------------------------------------------------------ broken rules


def _broken(place: Place, lengths: Lengths) -> float:
    """Cost of rules that the lengths break: stagger, least piece, corner cuts that vary, narrow legs."""
    if len(lengths) == 1:
        return 0.0
    run, sizes = place.run, place.sizes
    shortest = min(lengths)
    cost = BROKEN_IN + _SHORTFALL * (sizes.least - shortest) if shortest < sizes.least - EXACT_IN else 0.0
    if "corner" in (run.left, run.right):
        cost += REPEATED_IN * _repeated(place, lengths)
    if place.under or run.notches:
        joints = joints_of(run, lengths)
        near = _nearest(joints, place.under, sizes.panel / 2.0)
        cost += _CLOSE * (sizes.panel / 2.0 - near)
        if near < sizes.stagger - EXACT_IN:
            cost += BROKEN_IN + _SHORTFALL * (sizes.stagger - near)
        for notch in run.notches:
            cost += sum([_NARROW_IN for x in joints if 1e-3 < abs(x - notch) < sizes.strip])
    return cost


def joints_of(run: Run, lengths: Lengths) -> list[float]:
    """The x of the joints between pieces of these lengths, from the left."""
    joints, x = [], run.x0
    for length in lengths[:-1]:
        x += length
        joints.append(x)
    return joints


def _nearest(ones: Sequence[float], others: Sequence[float], most: float) -> float:
    """The least distance between two rows of joints, both from left to right, and no more than ``most``."""
    near, i, count = most, 0, len(others)
    for x in ones:
        while i < count and others[i] < x:
            i += 1
        if i < count and others[i] - x < near:
            near = others[i] - x
        if i > 0 and x - others[i - 1] < near:
            near = x - others[i - 1]
    return near


def _repeated(place: Place, lengths: Lengths) -> int:
    """Corner pieces of the run as long as the one before at their edge, or as the next one there has to be."""
    count = 0
    for side, edge in place.run.edges:
        if place.run.end(side) == "corner":
            length = lengths[0 if side == "left" else -1]
            around = (place.last.get((side, edge.x)), place.ahead.forced.get(side))
            count += any(other is not None and abs(other - length) < place.sizes.vary - EXACT_IN for other in around)
    return count
