"""From laid runs to panels: which parts are cut from which panel, and where in it each part lies.

The layout has put parts together as it went, the next course's first. Here they are packed once
more with all lengths known; where that saves panels it is taken, else the layout's choice stays,
because its offcuts travel less far.

    |== left-hand part ==|k|= any =|k|~ rest ~|k|=== right-hand part ===|      k: a saw cut
"""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from dxf2veneer.basics.tolerances import PLAN_PACKING_STEPS, SAW_HAIR_IN, WHOLE_PANEL_IN
from dxf2veneer.model import PieceUnit
from dxf2veneer.planning.cutting_stock.packing import CutPart, lower_bound, pack
from dxf2veneer.planning.layout import LaidRun
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.sizes import LayingSizes


class PartRef(NamedTuple):
    """A part by the position of its run among the laid ones and of its piece in the run."""

    run: int
    piece: int


@dataclass(frozen=True)
class CutPanel:
    """A panel: its id, its kind, and its parts from the left with where each begins."""

    id: str
    kind: PieceUnit
    length: float
    parts: tuple[tuple[PartRef, float], ...]
    used: float
    kerfs: float
    cuts: int


class SharedPart(NamedTuple):
    """A part that shares a panel with others, or may."""

    ref: PartRef
    length: float
    hand: Hand
    free: bool
    panel: Hashable
    """Parts of one panel share it."""
    mitres: tuple[bool, bool] = (False, False)
    """Whether its left and its right end are one side of a bay's mitre."""
    lost: tuple[float, float] = (0.0, 0.0)
    """What those take of the panel behind its face."""


def cut_stock(
    laid: Sequence[LaidRun],
    sizes: LayingSizes,
    *,
    within_walls: bool = False,
    effort: int = PLAN_PACKING_STEPS,
    is_packed: bool = False,
) -> tuple[CutPanel, ...]:
    """All panels of the laid runs, flat and corner ones.

    Args:
        laid: The runs as laid.
        sizes: Lengths and limits, in inches.
        within_walls: Whether parts of different walls share no panel.
        effort: Limit on the steps of the search for fewer panels.
        is_packed: Whether parts stay in the panels that they were laid with.

    Returns:
        The panels, each kind numbered in the order of first use, wall by wall.
    """
    flats, corners = _parts(laid, sizes)
    walls = [one.run.wall for one in laid]
    apart = walls if within_walls else None
    if is_packed:
        panels, pairs = _as_laid(flats), _as_laid(corners)
    else:
        panels = _repacked(flats, apart, sizes.panel, sizes.kerf, 0.0, effort)
        pairs = _repacked(corners, apart, sizes.corner, sizes.kerf, sizes.unequal, effort)
    whole = [[part] for part in _whole(laid)]
    made = [cut_panel("flat", sizes.panel, sizes.kerf, parts) for parts in (*panels, *whole)]
    made += [cut_panel("corner", sizes.corner, sizes.kerf, parts) for parts in pairs]
    return numbered(made, range(len(laid)))


def _parts(
    laid: Sequence[LaidRun], sizes: LayingSizes
) -> tuple[list[SharedPart], list[SharedPart]]:
    """The parts that share panels, flat and corner ones."""
    flats: list[SharedPart] = []
    corners: list[SharedPart] = []
    for i, one in enumerate(laid):
        count = len(one.lengths)
        for cut in one.cuts:
            mitres = (
                cut.piece == 0 and one.run.left == "mitre",
                cut.piece == count - 1 and one.run.right == "mitre",
            )
            part = SharedPart(
                PartRef(i, cut.piece),
                one.lengths[cut.piece],
                cut.hand,
                count > 1,
                cut.unit,
                mitres,
                (one.run.lost[0] * mitres[0], one.run.lost[1] * mitres[1]),
            )
            (corners if cut.is_corner else flats).append(part)
    return flats, corners


def _whole(laid: Sequence[LaidRun]) -> Iterable[SharedPart]:
    """Every piece that is a whole panel."""
    for i, one in enumerate(laid):
        shared = {cut.piece for cut in one.cuts}
        for j, length in enumerate(one.lengths):
            if j not in shared:
                yield SharedPart(PartRef(i, j), length, "left", False, None)


def _as_laid(parts: Sequence[SharedPart]) -> list[list[SharedPart]]:
    """The parts by panel, as laid."""
    panels: dict[Hashable, list[SharedPart]] = defaultdict(list)
    for part in parts:
        panels[part.panel].append(part)
    return list(panels.values())


def _repacked(
    parts: Sequence[SharedPart],
    walls: Sequence[str] | None,
    length: float,
    kerf: float,
    apart: float,
    effort: int,
) -> list[list[SharedPart]]:
    """The parts by panel: as laid, or packed anew where that takes fewer panels."""
    panels = _as_laid(parts)
    kept = [panel for panel in panels if _is_reserved(panel)]
    groups: dict[str, list[list[SharedPart]]] = defaultdict(list)
    for panel in panels:
        if not _is_reserved(panel):
            groups[walls[panel[0].ref.run] if walls else ""].append(panel)
    for group in groups.values():
        loose = [part for panel in group for part in panel]
        parts_cut = [CutPart(_taken(p, length), p.hand, p.free) for p in loose]
        if lower_bound(parts_cut, length, kerf) >= len(group):
            kept += group
            continue
        packed = pack(parts_cut, length, kerf, apart=apart, effort=effort)
        kept += (
            [[loose[i] for i in panel] for panel in packed] if len(packed) < len(group) else group
        )
    return kept


def _taken(part: SharedPart, length: float) -> float:
    """What a part takes of a panel with its mitres: at most all of it, for noise of the solver."""
    return part.length + min(sum(part.lost), max(0.0, length - part.length))


def _is_reserved(panel: Sequence[SharedPart]) -> bool:
    """Whether both sides of a mitre are in a panel: they stay together (L13)."""
    return sum(any(part.mitres) for part in panel) > 1


def cut_panel(kind: PieceUnit, length: float, kerf: float, parts: Sequence[SharedPart]) -> CutPanel:
    """A panel with its parts in their places.

    Args:
        kind: What it is.
        length: Its length in inches.
        kerf: Width of a saw cut, in inches.
        parts: What is cut from it.

    Returns:
        The panel, without an id.
    """
    ordered, seam = _in_order(parts)
    starts, at = [], 0.0
    for part in ordered[:seam]:
        starts.append(at + part.lost[0])
        at += part.length + sum(part.lost) + kerf
    at = length
    for part in reversed(ordered[seam:]):
        at -= part.length + part.lost[1]
        starts.insert(seam, at)
        at -= part.lost[0] + kerf
    cuts, kerfs, end = int(starts[0] > WHOLE_PANEL_IN), 0.0, 0.0
    for n, (part, start) in enumerate(zip(ordered, starts, strict=True)):
        if n:
            between = 1 if start - end <= kerf + SAW_HAIR_IN else 2
            cuts, kerfs = cuts + between, kerfs + max(0.0, min(between * kerf, start - end))
        end = start + part.length
    cuts += length - end > WHOLE_PANEL_IN
    placed = tuple((part.ref, start) for part, start in zip(ordered, starts, strict=True))
    return CutPanel("", kind, length, placed, sum(p.length for p in parts), kerfs, cuts)


def _in_order(parts: Sequence[SharedPart]) -> tuple[list[SharedPart], int]:
    """The parts from left to right, and from which one on they lie at the panel's right end.

    Left-hand parts come first, right-hand ones last. Those that meet at a mitre lie side by side,
    in the order in which they meet on the walls:

        | left \\ any \\ any | other |~ rest ~|= right =|
        | left | other |~ rest ~|= any \\ right =|
    """
    order: dict[Hand, int] = {"left": 0, "any": 1, "right": 2}
    leads = any(part.hand == "left" and part.mitres[1] for part in parts)

    def place(part: SharedPart) -> tuple[int, bool, int, PartRef]:
        is_lone, (left, right) = not any(part.mitres), part.mitres
        return order[part.hand], is_lone == leads, left + (not right), part.ref

    ordered = sorted(parts, key=place)
    seam = len(ordered) - (ordered[-1].hand == "right")
    while 0 < seam < len(ordered) and not leads and _meet(ordered[seam - 1], ordered[seam]):
        seam -= 1
    return ordered, seam


def _meet(one: SharedPart, other: SharedPart) -> bool:
    """Whether a part that may lie anywhere goes with the one right of it."""
    return one.hand == "any" and one.mitres[1] and other.mitres[0]


def numbered(units: Sequence[CutPanel], when: Sequence[int]) -> tuple[CutPanel, ...]:
    """Panels with ids in the order of first use, flat ones first.

    Args:
        units: The panels.
        when: By the position of each run, when it is laid.

    Returns:
        The panels.
    """
    found: list[CutPanel] = []
    for kind, letter in (("flat", "F"), ("corner", "C")):
        own = [unit for unit in units if unit.kind == kind]
        own.sort(key=lambda unit: min((when[ref.run], ref.piece) for ref, _ in unit.parts))
        found += [dataclasses.replace(unit, id=f"{letter}{n}") for n, unit in enumerate(own, 1)]
    return tuple(found)
