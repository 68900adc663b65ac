"""Panels that give both sides of a bay's mitre, and the rows of runs that meet there (L13).

     wall A                face B               wall C
    | first | whole | a \\ / b | whole | c \\ / d | last |        a + saw cut + b <= panel

The sides keep their panel: of their lengths only the sum counts. Unrolled, the runs of a course are
one long row. Where the joints of a run move, those of the next one move too, by what is left of the
distance once their panel is used up: what a wins beyond that, b loses.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from dxf2veneer.basics.tolerances import EXACT_IN
from dxf2veneer.planning.balancing.divided import Division, Key, Shared
from dxf2veneer.planning.balancing.fitting import room_of
from dxf2veneer.planning.bays import chains_of
from dxf2veneer.planning.cutting_stock.panels import PartRef
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.relaying.ways import Name
from dxf2veneer.planning.sizes import LayingSizes


class MitrePanel(NamedTuple):
    """A panel of a mitre: its parts of runs whose joints move, the others, and the room that these
    leave."""

    keys: tuple[Key, ...]
    still: tuple[PartRef, ...]
    room: float


class MitrePanels:
    """The panels of a job's mitres."""

    def __init__(
        self,
        laid: Sequence[LaidRun],
        divisions: Mapping[int, Division],
        shared: Shared,
        sizes: LayingSizes,
    ) -> None:
        """Those of a plan, with the runs whose joints move."""
        self._laid, self._panel = laid, sizes.panel
        self.panels: list[MitrePanel] = []
        for refs in shared.mitred:
            keys = [(ref.run, _name(laid[ref.run], ref.piece)) for ref in refs]
            moved = tuple(key for key in keys if key[0] in divisions)
            still = tuple(ref for ref in refs if ref.run not in divisions)
            others = [laid[ref.run].lengths[ref.piece] for ref in still]
            room = room_of(sizes.panel, sizes.kerf, others, len(moved))
            room -= sum(sorted(laid[ref.run].lost(ref.piece) for ref in refs), start=0.0)
            self.panels.append(MitrePanel(moved, still, room))
        self.of = {key: panel for panel in self.panels for key in panel.keys}
        self._of_run: dict[int, list[Key]] = defaultdict(list)
        for key in self.of:
            self._of_run[key[0]].append(key)

    def panels_of(self, runs: Sequence[int]) -> list[MitrePanel]:
        """The panels that give parts of some runs, in the order of those."""
        keys = [key for i in runs for key in self._of_run.get(i, ())]
        return list(dict.fromkeys(self.of[key] for key in keys))

    def sum_of(
        self,
        panel: MitrePanel,
        lengths: Mapping[Key, NDArray[np.float64]],
        divisions: Mapping[int, Division],
    ) -> NDArray[np.float64]:
        """The length of a panel's parts, some of them at several places."""
        whole: NDArray[np.float64] = np.zeros(1)
        for key in panel.keys:
            whole = whole + (lengths[key] if key in lengths else self._length(key, divisions))
        return whole

    def apart(
        self,
        panels: Sequence[MitrePanel],
        lengths: Mapping[Key, NDArray[np.float64]],
        divisions: Mapping[int, Division],
    ) -> NDArray[np.float64]:
        """In how many panels the sides don't lie side by side, some of them at several places."""
        found: NDArray[np.float64] = np.zeros(1)
        for panel in panels:
            found = found + (self.sum_of(panel, lengths, divisions) < panel.room - EXACT_IN)
        return found

    def most(self, key: Key, divisions: Mapping[int, Division]) -> float:
        """How long a side may be beside the others as they are."""
        panel = self.of[key]
        others = (self._length(k, divisions) for k in panel.keys if k != key)
        return panel.room - sum(sorted(others), start=0.0)

    def _length(self, key: Key, divisions: Mapping[int, Division]) -> float:
        i, name = key
        return dict(divisions[i].parts(self._laid[i].run.length, self._panel))[name]

    def rows(self, divisions: Mapping[int, Division], sizes: LayingSizes) -> list[list[int]]:
        """The rows of two or more runs that push one another.

        Args:
            divisions: The runs whose joints move.
            sizes: Lengths and limits, in inches.

        Returns:
            Positions of runs from the left; runs of one piece, which have no joints, left out.
        """
        rows = chains_of([one.run for one in self._laid], sizes)
        number = {id(one.run): i for i, one in enumerate(self._laid)}
        return [
            row
            for turn in sorted(rows)
            for chain in rows[turn]
            for row in self._joined([number[id(run)] for run in chain], divisions)
            if len(row) > 1
        ]

    def _joined(
        self, chain: Sequence[int], divisions: Mapping[int, Division]
    ) -> Iterator[list[int]]:
        """The runs whose joints move, parted where two of them share no panel."""
        row: list[int] = []
        for i in chain:
            if i in divisions:
                if row and self._shared_by(row[-1], i) is None:
                    yield row
                    row = []
                row.append(i)
        yield row

    def spare(self, one: int, other: int, divisions: Mapping[int, Division]) -> float:
        """What the sides of two runs of a row leave of their panel."""
        panel = self._shared_by(one, other)
        lengths = (self._length(key, divisions) for key in panel.keys) if panel else ()
        return (panel.room if panel else 0.0) - sum(sorted(lengths), start=0.0)

    def _shared_by(self, one: int, other: int) -> MitrePanel | None:
        """The panel that two runs share."""
        panels = (self.of[key] for key in self._of_run[one])
        return next((p for p in panels if any(i == other for i, _ in p.keys)), None)


def _name(one: LaidRun, piece: int) -> Name:
    """The name of a mitred part."""
    flats = len(one.lengths) - (one.run.left == "corner") - (one.run.right == "corner")
    if flats == 1:
        return "single"
    return "first" if piece == 0 else "last"
