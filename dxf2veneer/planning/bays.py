"""Bays: what share of its panel each side of a mitred corner may take (rule L13).

    wall A   \\   face   /   wall B        both sides of a corner come from one panel:
    ===== a | p ====== q | b =====        a + saw cut + p <= panel, q + saw cut + b <= panel
                                          one piece:  a + cut + face + cut + b <= panel

A face between two mitres has few layouts: its first piece places all its joints. So courses are
looked at from the bottom up, each together with the one above it, which its joints must leave a
place. For each face the layouts worth trying stand in a row, and the cheapest way along the row is
found by dynamic programming: it costs the corners whose sides can't share a panel, then what is
short of an easy fit. The layout search gets a room for each mitred piece from it, so that the walls
on both sides of a corner, laid one after the other, leave each other a place.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import (
    BAY_EASY_IN,
    EXACT_IN,
)
from dxf2veneer.model import Side
from dxf2veneer.planning.bay_faces import Face, FaceLayout, layouts_of, suggested
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

Array = NDArray[np.floating[Any]]
_CLOSE = 50.0
"""Cost of joints nearer than the stagger, where a corner in two panels costs 1."""
_WASTED = 0.15
"""What it costs that a whole panel between the two sides is wasted."""
_LATER = 0.6
"""What that costs in the course above: it is put off where it can be."""


class BayEnd(NamedTuple):
    """A run's end at a mitre whose two sides can come from one panel.

    ``room`` is the longest piece that leaves the other side its own, ``wanted`` the length that
    suits the other courses, ``is_second`` whether the other side is laid already. ``is_sure`` says
    whether one panel can serve both; if not, it does where it happens to.
    """

    key: str
    room: float
    wanted: float
    is_second: bool
    is_sure: bool


_Chain = tuple[Run, ...]


def bay_ends(
    walls: Sequence[Sequence[Sequence[Run]]], sizes: LayingSizes
) -> Mapping[int, Mapping[Side, BayEnd]]:
    """The ends of runs at mitres whose two sides can come from one panel.

    Args:
        walls: The runs of each course of each wall, in the order in which they are laid.
        sizes: Lengths and limits, in inches.

    Returns:
        By the run's number in that order, its ends by side.
    """
    runs = [run for courses in walls for course in courses for run in course]
    numbers = {id(run): i for i, run in enumerate(runs)}
    found: dict[int, dict[Side, BayEnd]] = defaultdict(dict)
    below: dict[str, tuple[float, ...]] = {}
    solved: dict[Hashable, list[FaceLayout]] = {}
    by_turn = chains_of(runs, sizes)
    for turn in sorted(by_turn):
        joints: dict[str, tuple[float, ...]] = {}
        above = _by_wall(by_turn.get(turn + 1, ()))
        for chain in by_turn[turn]:
            faces = _faces(chain)
            after = [above.get(run.wall) for run in chain]
            under = [below.get(run.wall, ()) for run in chain]
            sign = (*[f.sign for f in faces], *[f and f.sign for f in after], *under)
            if sign not in solved:
                solved[sign] = _cheapest(faces, after, under, sizes)
            layouts = solved[sign]
            for run, layout in zip(chain, layouts, strict=True):
                joints[run.wall] = joints.get(run.wall, ()) + layout.joints
            for i in range(len(chain) - 1):
                pair, own = (chain[i], chain[i + 1]), (layouts[i], layouts[i + 1])
                for side, run, end in _ends(pair, own, numbers, sizes):
                    found[numbers[id(run)]][side] = end
        below = joints
    return found


def chains_of(runs: Sequence[Run], sizes: LayingSizes) -> dict[int, list[_Chain]]:
    """Runs that meet one after another at mitred corners, from left to right.

    Args:
        runs: The runs of a job.
        sizes: Lengths and limits, in inches.

    Returns:
        By the course's number as corners count it, the rows of two runs or more. A ring of them
        begins anywhere.
    """
    at: dict[str, dict[Side, list[Run]]] = defaultdict(lambda: {"left": [], "right": []})
    for run in runs:
        for side, key in _keys(run, sizes):
            at[key][side].append(run)
    right_of = {
        id(sides["right"][0]): sides["left"][0]
        for sides in at.values()
        if len(sides["right"]) == len(sides["left"]) == 1
    }
    followers = {id(run) for run in right_of.values()}
    found: dict[int, list[_Chain]] = defaultdict(list)
    seen: set[int] = set()
    for run in sorted(runs, key=lambda r: id(r) in followers):
        if id(run) in seen or id(run) not in right_of:
            continue
        chain = [run]
        seen.add(id(run))
        while (after := right_of.get(id(chain[-1]))) is not None and id(after) not in seen:
            chain.append(after)
            seen.add(id(after))
        if len(chain) > 1:
            found[run.turn].append(tuple(chain))
    return found


def _keys(run: Run, sizes: LayingSizes) -> Iterator[tuple[Side, str]]:
    """(side, key) of the run's ends at a bay's corner; both sides of a corner share a key.

    Where a corner piece fills the run there is no mitre.
    """
    if "corner" in (run.left, run.right) and run.length < 2.0 * sizes.least - EXACT_IN:
        return
    for side, edge in run.edges:
        if edge.kind == "mitre" and edge.corner:
            yield side, f"{edge.corner}/{run.turn}"


def _faces(chain: _Chain) -> list[Face]:
    last = len(chain) - 1
    return [Face(run, i > 0, i < last) for i, run in enumerate(chain)]


def _by_wall(chains: Sequence[_Chain]) -> dict[str, Face]:
    """The faces of a course by their wall, of walls that have one."""
    faces = [face for chain in chains for face in _faces(chain)]
    count = Counter(face.run.wall for face in faces)
    return {face.run.wall: face for face in faces if count[face.run.wall] == 1}


def _ends(
    pair: tuple[Run, Run],
    layouts: tuple[FaceLayout, FaceLayout],
    numbers: Mapping[int, int],
    sizes: LayingSizes,
) -> Iterator[tuple[Side, Run, BayEnd]]:
    """Both sides of a corner with their rooms, the spare length shared."""
    one, other = layouts
    lost = pair[0].lost[1] + pair[1].lost[0]
    spare = sizes.panel - sizes.kerf - lost - one.right - other.left
    is_sure = spare >= -EXACT_IN and not one.is_parted[1] and not other.is_parted[0]
    key = next(key for side, key in _keys(pair[1], sizes) if side == "left")
    is_later = numbers[id(pair[1])] > numbers[id(pair[0])]
    half = max(0.0, spare / 2.0) if is_sure else sizes.panel
    yield "right", pair[0], BayEnd(key, one.right + half, one.right, not is_later, is_sure)
    yield "left", pair[1], BayEnd(key, other.left + half, other.left, is_later, is_sure)


# ------------------------------------------------------------ the best way along a row


def _cheapest(
    faces: Sequence[Face],
    above: Sequence[Face | None],
    under: Sequence[tuple[float, ...]],
    sizes: LayingSizes,
) -> list[FaceLayout]:
    """The layouts of a row of faces that part the fewest corners, here and in the course above."""
    own = [
        layouts_of(face, suggested(face, i, faces, under[i], sizes), sizes)
        for i, face in enumerate(faces)
    ]
    next_ = [
        layouts_of(face, suggested(face, i, above, (), sizes), sizes)
        if face
        else [FaceLayout(0.0, 0.0)]
        for i, face in enumerate(above)
    ]
    cost: Array = np.zeros((1, 1))
    ways: list[tuple[NDArray[np.intp], NDArray[np.intp]]] = []
    for i, (here, there) in enumerate(zip(own, next_, strict=True)):
        if i:
            lost = faces[i - 1].run.lost[1] + faces[i].run.lost[0]
            by_here = cost[:, None, :] + _corner_costs(own[i - 1], here, sizes, lost)[:, :, None]
            first = by_here.argmin(axis=0)
            cost = by_here.min(axis=0)
            later = _LATER * _corner_costs(next_[i - 1], there, sizes, lost)
            by_there = cost[:, :, None] + later[None, :, :]
            second = by_there.argmin(axis=1)
            cost = by_there.min(axis=1)
            ways.append((first, second))
        cost = cost + _stagger_costs(here, there, sizes)
        cost = cost + _stagger_costs(here, [FaceLayout(0.0, 0.0, under[i])], sizes)
    e, o = (int(v) for v in np.unravel_index(int(cost.argmin()), cost.shape))
    found = [own[-1][e]]
    for i in range(len(faces) - 2, -1, -1):
        first, second = ways[i]
        before = int(second[e, o])
        e, o = int(first[e, before]), before
        found.append(own[i][e])
    return found[::-1]


def _corner_costs(
    lefts: Sequence[FaceLayout], rights: Sequence[FaceLayout], sizes: LayingSizes, lost: float
) -> Array:
    """What each pair of layouts costs at the corner between them, where a panel loses so much."""
    a = np.array([lay.right for lay in lefts])[:, None]
    b = np.array([lay.left for lay in rights])[None, :]
    spare = sizes.panel - sizes.kerf - lost - a - b
    parted = np.array([lay.is_parted[1] for lay in lefts])[:, None] | np.array(
        [lay.is_parted[0] for lay in rights]
    )
    cost: Array = np.where(parted | (spare < -EXACT_IN), 1.0, _WASTED * spare / sizes.panel)
    return cost


def _stagger_costs(
    lowers: Sequence[FaceLayout], uppers: Sequence[FaceLayout], sizes: LayingSizes
) -> Array:
    """What each pair of layouts of one wall costs for joints that are too near, or hardly not."""
    widest = max([len(lay.joints) for lay in (*lowers, *uppers)], default=0)
    if not widest:
        return np.zeros((len(lowers), len(uppers)))
    a, b = (
        np.array([[*lay.joints, *[np.nan] * (widest - len(lay.joints))] for lay in own])
        for own in (lowers, uppers)
    )
    apart = np.abs(a[:, None, :, None] - b[None, :, None, :]).reshape(len(lowers), len(uppers), -1)
    least = np.where(np.isnan(apart), np.inf, apart).min(axis=2) - sizes.stagger
    easy = 1.0 - np.clip(least, 0.0, BAY_EASY_IN) / BAY_EASY_IN
    cost: Array = np.where(least < -EXACT_IN, _CLOSE, easy / 100.0)
    return cost
