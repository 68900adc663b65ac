"""Rows of runs that meet at a bay's mitres, as measured: both sides of a corner in one panel (L13).

A face that is wider than drawn takes more of the panels at both its corners, and those beside it
have to give way. So where a corner would be parted, the rows about it are laid by a mixed-integer
program over all real lengths, with the courses below and above as they stand: the fewest corners
parted, then the fewest pieces at mitres that change. What it finds are lengths to try.
"""

from __future__ import annotations

import dataclasses
import itertools
from collections.abc import Iterator, Mapping, Sequence

from dxf2veneer.basics.tolerances import (
    BAY_PROOF_NODES,
    BOUND_IN,
    EXACT_IN,
    KEEP_BAY_IN,
    KEEP_PIECE_COST,
    KEEP_RULE_COST,
    SAW_FIT_IN,
)
from dxf2veneer.planning.bay_program import (
    ALONE,
    FaceColumns,
    corner_parted,
    keep_apart,
    keep_apart_from,
)
from dxf2veneer.planning.bay_proof import Chain, bays_of
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.keeping.before import OldRun
from dxf2veneer.planning.keeping.ways import Ends, Way, joints
from dxf2veneer.planning.relaying.program import Program
from dxf2veneer.planning.runs import Run
from dxf2veneer.planning.sizes import LayingSizes

_SCALE = 100.0
_TIE = 0.2
_HALF = 0.5


class BayRows:
    """The rows of a job's bays."""

    def __init__(
        self,
        runs: Sequence[Run],
        old: Sequence[OldRun | None],
        fixed: frozenset[int],
        sizes: LayingSizes,
    ) -> None:
        """Find them among runs as measured, some of which are laid already."""
        self._runs, self._old, self._fixed = runs, old, fixed
        self._sizes = dataclasses.replace(
            sizes, kerf=sizes.kerf + KEEP_BAY_IN, stagger=sizes.stagger + KEEP_BAY_IN
        )
        self._number = {id(run): i for i, run in enumerate(runs)}
        self._bays = bays_of(chains_of(runs, sizes))

    @property
    def rows(self) -> Iterator[list[int]]:
        """The positions of the runs of each row, from left to right."""
        for chain in (c for bay in self._bays for chains in bay for c in chains):
            yield self._positions(chain)

    def _positions(self, chain: Chain) -> list[int]:
        return [self._number[id(run)] for run in chain]

    def wanted(
        self,
        begun: set[int],
        near: Sequence[tuple[int, int]],
        reach: int,
        taken: Sequence[Way],
    ) -> Mapping[int, list[Ends]]:
        """Lengths to try where rules are broken.

        Args:
            begun: Positions of runs at which a rule is broken.
            near: Pairs of runs, of one wall, in neighboring courses.
            reach: How many courses below and above are laid anew with them.
            taken: How each run is laid now.

        Returns:
            By the position of a run what to try.
        """
        found: dict[int, list[Ends]] = {}
        for bay in self._bays:
            at = [
                k
                for k, chains in enumerate(bay)
                if any(begun & set(self._positions(chain)) for chain in chains)
            ]
            for k in at:
                for i, ends in self._laid(bay[max(0, k - reach) : k + reach + 1], near, taken):
                    found.setdefault(i, []).append(ends)
        return found

    def _laid(
        self,
        courses: Sequence[Sequence[Chain]],
        near: Sequence[tuple[int, int]],
        taken: Sequence[Way],
    ) -> Iterator[tuple[int, Ends]]:
        """The runs of some courses of a bay with their lengths at the mitres."""
        program, sizes = Program(), self._sizes
        faces: dict[int, FaceColumns] = {}
        for chain in (chain for chains in courses for chain in chains):
            own = self._positions(chain)
            faces |= {i: FaceColumns(program, self._runs[i], sizes) for i in own}
            for i, j in itertools.pairwise(own):
                corner_parted(program, faces[i], faces[j], sizes, cost=_SCALE * KEEP_RULE_COST)
        if any(not face.ways for face in faces.values()):
            return
        for i, face in faces.items():
            self._change(program, i, face, taken[i])
        for i, j in near:
            if i in faces and j in faces:
                keep_apart(program, faces[i], faces[j], sizes)
            elif i in faces or j in faces:
                free, other = (i, j) if i in faces else (j, i)
                stand = joints(self._runs[other], taken[other])
                keep_apart_from(program, faces[free], stand, sizes)
        program.tell_apart(_TIE)
        values, _ = program.least(BAY_PROOF_NODES)
        if values is None:
            return
        for i, face in faces.items():
            if i not in self._fixed and not _is_alone(face, values):
                at = max(self._sizes.least, values[face.piece])
                yield i, Ends(None, at) if face.run.left == "corner" else Ends(at, None)

    def _change(self, program: Program, i: int, face: FaceColumns, now: Way) -> None:
        """What it costs to change the pieces at a run's mitres; nothing can where it is laid."""
        at_right = face.run.left == "corner"
        if i in self._fixed:
            length = now.lengths[-1 if at_right else 0]
            program.row([(1.0, face.piece)], length - BOUND_IN, length + BOUND_IN)
            return
        old = self._old[i]
        if old is None:
            return
        far = 4.0 * self._sizes.panel + self._runs[i].length
        first, last = old.parts[0].length, old.parts[-1].length
        moved = program.switch(_SCALE * KEEP_PIECE_COST)
        before = last if at_right else first
        program.row([(1.0, face.piece), (-far, moved)], high=before + EXACT_IN)
        program.row([(1.0, face.piece), (far, moved)], low=before - EXACT_IN)
        if "corner" in (face.run.left, face.run.right):
            return
        moved = program.switch(_SCALE * KEEP_PIECE_COST)
        for whole, (way, _, _, rest) in face.ways.items():
            if whole != ALONE:  # rest - piece is the last one
                off = rest - last
                program.row([(1.0, face.piece), (-far, moved), (far, way)], high=off + far)
                program.row([(1.0, face.piece), (far, moved), (-far, way)], low=off - far)


def _is_alone(face: FaceColumns, values: Sequence[float]) -> bool:
    """Whether a run is laid in one piece."""
    return ALONE in face.ways and values[face.ways[ALONE][0]] > _HALF


def corners_kept(
    runs: Sequence[Run], taken: Sequence[Way], sizes: LayingSizes
) -> Mapping[PartRef, PartRef]:
    """Which parts round the corners of bays can be cut from one panel (rule L13).

    Args:
        runs: The runs as measured.
        taken: How each is laid.
        sizes: Lengths and limits, in inches.

    Returns:
        By part the first of those that it shares a panel with, the first one included.
    """
    found: dict[PartRef, PartRef] = {}
    for row in BayRows(runs, (None,) * len(runs), frozenset(), sizes).rows:
        first, used = PartRef(row[0], len(taken[row[0]].lengths) - 1), taken[row[0]].lengths[-1]
        for i, j in itertools.pairwise(row):
            lengths = taken[j].lengths
            lost = runs[i].lost[1] + runs[j].lost[0]
            both, last = used + sizes.kerf + lost + lengths[0], PartRef(j, len(lengths) - 1)
            fits = both <= sizes.panel + SAW_FIT_IN
            if fits:
                found |= {first: first, PartRef(j, 0): first}
            if not fits or len(lengths) > 1:
                first, used = last, lengths[-1]
            else:
                used = both
    return found
