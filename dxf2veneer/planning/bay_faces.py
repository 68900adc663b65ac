"""The layouts of a face at a bay that are worth trying: where its first piece may end.

mitre \\== first ==|== whole ==|== last ==/ mitre       or one piece
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from typing import NamedTuple

from dxf2veneer.basics.tolerances import BAY_STEPS, BAY_TRIES, EXACT_IN
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes


class Face(NamedTuple):
    """A run, and at which of its ends it meets another at a mitre."""

    run: Run
    left: bool
    right: bool

    @property
    def sign(self) -> Hashable:
        """What is the same for runs with the same layouts."""
        run = self.run
        return run.x0, run.x1, run.left, run.right, self.left, self.right, run.lost


class FaceLayout(NamedTuple):
    """A layout of a face: what it takes of the panels at its two ends, its joints, and at which
    ends it shares no panel with its neighbor."""

    left: float
    right: float
    joints: tuple[float, ...] = ()
    is_parted: tuple[bool, bool] = (False, False)


def suggested(
    face: Face,
    place: int,
    row: Sequence[Face | None],
    under: Sequence[float],
    sizes: LayingSizes,
) -> list[float]:
    """Lengths of a first piece that just fit: beside a neighbor that is one piece, or just far
    enough from a joint below.

    Args:
        face: The face.
        place: Its place in the row.
        row: The faces of the course from left to right, None where nothing is known of one.
        under: The x of the joints below it.
        sizes: Lengths and limits, in inches.

    Returns:
        Lengths in inches, whole panels taken off.
    """
    found = [x - face.run.x0 + d for x in under for d in (-sizes.stagger, sizes.stagger)]
    free = sizes.panel - sizes.kerf
    for side, met, sign in ((place - 1, face.left, 1.0), (place + 1, face.right, -1.0)):
        beside = row[side] if met and 0 <= side < len(row) else None
        room = free - 2.0 * face.run.lost[sign < 0.0]
        if beside and beside.run.length <= room - sizes.least:
            found.append(sign * (room - beside.run.length))
    return [n % sizes.panel if n > 0 else (face.run.length + n) % sizes.panel for n in found]


def layouts_of(face: Face, firsts: Sequence[float], sizes: LayingSizes) -> list[FaceLayout]:
    """The layouts of a face worth trying.

    Args:
        face: The face.
        firsts: Lengths of a first piece to try beside the usual ones, in inches.
        sizes: Lengths and limits, in inches.

    Returns:
        The layouts; one that shares no panel with its neighbors where there is none.
    """
    found = [*_rows(face, firsts, sizes), *_alone(face, sizes)]
    return found or [FaceLayout(0.0, 0.0, is_parted=(True, True))]


def _rows(face: Face, firsts: Sequence[float], sizes: LayingSizes) -> Iterator[FaceLayout]:
    """A mitred piece at each end that meets another, whole panels between."""
    run, m = face.run, face.run.length
    room = sizes.panel - sizes.kerf - sizes.least
    if "corner" in (run.left, run.right):
        for n in _between(sizes.least, min(room, m - sizes.least)):
            joint = run.x0 + n if face.left else run.x1 - n
            yield FaceLayout(n * face.left, n * face.right, (joint,))
        return
    for whole in range(int(m // sizes.panel) + 1):
        rest = m - whole * sizes.panel
        least, most = max(sizes.least, rest - sizes.panel), min(sizes.panel, rest - sizes.least)
        low, high = max(least, rest - room), min(most, room)
        tried = [*_between(low, high), *_between(least, low), *_between(high, most), *firsts]
        for t in sorted({t for t in tried if least <= t <= most}):
            joints = tuple(run.x0 + t + j * sizes.panel for j in range(whole + 1))
            yield FaceLayout(t * face.left, (rest - t) * face.right, joints)


def _alone(face: Face, sizes: LayingSizes) -> Iterator[FaceLayout]:
    """One piece: out of both neighbors' one panel where there is room, or out of one of theirs."""
    m, free = face.run.length, sizes.panel - sizes.kerf
    if "corner" in (face.run.left, face.run.right) or m > sizes.panel + EXACT_IN:
        return
    if not (face.left and face.right):
        yield FaceLayout(m, m)
        return
    left, right = (free - 2.0 * lost - sizes.least for lost in face.run.lost)
    spare = left + right - free - sizes.kerf - m
    for share in _between(0.0, spare):
        yield FaceLayout(left - share, right - (spare - share))
    yield FaceLayout(m, 0.0, is_parted=(False, True))
    yield FaceLayout(0.0, m, is_parted=(True, False))


def _between(low: float, high: float) -> list[float]:
    """A few lengths from low to high: the ends, some even steps, and the least steps from either
    end."""
    if high < low - EXACT_IN:
        return []
    if high - low < BAY_STEPS / BAY_TRIES:
        return [(low + high) / 2.0] if high - low < EXACT_IN else [low, (low + high) / 2.0, high]
    steps = [low + (high - low) * i / BAY_TRIES for i in range(BAY_TRIES + 1)]
    return sorted({*steps, *(x for x in (low + BAY_STEPS, high - BAY_STEPS) if low < x < high)})
