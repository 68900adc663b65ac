"""Parts stay in the panels that they had; those that no longer fit get other ones.

First a panel that is there and has room, on the wall and within the wait that the job allows, and
that no laid course has been cut from, since what was left of it may be gone; then the number of a
panel that is no longer needed; then a new one.
"""

from __future__ import annotations

import math
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from dxf2veneer.basics.tolerances import EXACT_IN, SAW_FIT_IN, WHOLE_PANEL_IN
from dxf2veneer.model import PieceUnit, StockUnit
from dxf2veneer.planning.cutting_stock.panels import CutPanel, PartRef, SharedPart, cut_panel
from dxf2veneer.planning.offcuts import Hand
from dxf2veneer.planning.sizes import LayingSizes


class KeptPart(NamedTuple):
    """A part as it is laid now."""

    ref: PartRef
    length: float
    unit: PieceUnit
    hand: Hand
    stock: str | None
    """The panel that it had; None for a part that was not there."""
    is_changed: bool
    is_laid: bool
    is_alone: bool
    """Whether it fills its run."""
    mitres: tuple[bool, bool]
    """Whether its left and its right end are one side of a bay's mitre."""
    lost: tuple[float, float]
    """What those take of the panel behind its face."""
    corner: PartRef | None
    """The first of the parts round a bay's corners that are cut from one panel with it."""


@dataclass
class _Panel:
    id: str
    kind: PieceUnit
    parts: list[KeptPart] = field(default_factory=list)


def panels_for(
    parts: Iterable[KeptPart],
    units: Sequence[StockUnit],
    sizes: LayingSizes,
    may_share: Callable[[int, int], bool],
) -> tuple[CutPanel, ...]:
    """The panels of all parts.

    Args:
        parts: The parts of all runs.
        units: The panels of the plan before.
        sizes: Lengths and limits, in inches.
        may_share: Whether the parts of two runs, by their positions, may come to share a panel.

    Returns:
        The panels, those of the plan before by their numbers.
    """
    panels = {unit.id: _Panel(unit.id, unit.kind) for unit in units}
    homeless: list[list[KeptPart]] = []
    for group in _grouped(parts):
        for home, own in _homes(group, panels):
            if home is None:
                homeless.append(own)
            else:
                panels[home].parts += own
    for panel in panels.values():
        homeless += _taken_out(panel, sizes)
    homeless.sort(key=lambda group: (-sum(p.length for p in group), group[0].ref))
    free = [panel for panel in panels.values() if not panel.parts]
    for group in homeless:
        panel = _panel_for(group, panels, free, sizes, may_share)
        panel.parts += group
    made = [_cut(panel, sizes) for panel in panels.values() if panel.parts]
    return tuple(sorted(made, key=lambda u: (u.kind == "corner", int(u.id[1:]))))


def _grouped(parts: Iterable[KeptPart]) -> list[list[KeptPart]]:
    """The parts that are cut from one panel together, each other one by itself."""
    found: dict[PartRef, list[KeptPart]] = {}
    for part in parts:
        found.setdefault(part.corner or part.ref, []).append(part)
    return list(found.values())


def _homes(
    group: Sequence[KeptPart], panels: Mapping[str, _Panel]
) -> list[tuple[str | None, list[KeptPart]]]:
    """The panel of parts that are cut from one: that of the laid ones, else of most of them; by
    each's own panel where those laid come from several."""
    had = Counter(p.stock for p in group if p.stock in panels)
    laid = {p.stock for p in group if p.is_laid}
    if len(laid) > 1 or len(group) == 1:
        return [(p.stock if p.stock in panels else None, [p]) for p in group]
    home = next(iter(laid), None) or max(had, key=lambda stock: had[stock], default=None)
    if set(had) == {home} and had.total() == len(group):
        return [(home, list(group))]
    moved = [p._replace(hand="any") if p.is_alone else p for p in group]
    return [(home, moved)]


def _taken_out(panel: _Panel, sizes: LayingSizes) -> list[list[KeptPart]]:
    """Parts that no longer fit into their panel: changed ones first, those of a bay's corner and
    laid ones last."""
    out: list[list[KeptPart]] = []
    while not _fits(panel.kind, panel.parts, sizes) and len(panel.parts) > 1:
        groups = _grouped(panel.parts)
        if len(groups) == 1:
            groups = [[part] for part in panel.parts]
        group = max(groups, key=_looseness)
        panel.parts = [p for p in panel.parts if p not in group]
        out.append(group)
    return out


def _looseness(group: Sequence[KeptPart]) -> tuple[bool, bool, bool, float, PartRef]:
    """The greater it is, the sooner parts are taken out of their panel."""
    length = math.fsum(p.length for p in group)
    is_changed = any(p.is_changed for p in group)
    is_laid = any(p.is_laid for p in group)
    return not is_laid, len(group) == 1, is_changed, length, group[0].ref


def _fits(kind: PieceUnit, parts: Sequence[KeptPart], sizes: LayingSizes) -> bool:
    """Whether parts can be cut from one panel."""
    length = sizes.corner if kind == "corner" else sizes.panel
    used = sum(p.length + sum(p.lost) + sizes.kerf for p in parts) - sizes.kerf
    hands = [p.hand for p in parts if p.hand != "any"]
    if len(parts) > 1 and (used > length + SAW_FIT_IN or len(set(hands)) < len(hands)):
        return False
    if kind == "corner" and len(parts) == 2 and not any(p.is_alone for p in parts):
        return abs(parts[0].length - parts[1].length) >= sizes.unequal - EXACT_IN
    return kind == "flat" or len(parts) <= 2


def _panel_for(
    group: Sequence[KeptPart],
    panels: dict[str, _Panel],
    free: list[_Panel],
    sizes: LayingSizes,
    may_share: Callable[[int, int], bool],
) -> _Panel:
    """The fullest panel that takes the parts, else one no longer needed, else a new one."""
    kind = group[0].unit
    is_whole = any(p.length >= sizes.panel - WHOLE_PANEL_IN for p in group)
    able = [
        panel
        for panel in panels.values()
        if panel.kind == kind
        and panel.parts
        and not is_whole
        and not any(p.is_laid for p in panel.parts)
        and _fits(kind, [*panel.parts, *group], sizes)
        and all(may_share(p.ref.run, q.ref.run) for p in panel.parts for q in group)
    ]
    if able:
        return max(able, key=lambda panel: (sum(p.length for p in panel.parts), panel.id))
    idle = next((panel for panel in free if panel.kind == kind), None)
    if idle is not None:
        free.remove(idle)
        return idle
    letter = "F" if kind == "flat" else "C"
    number = 1 + max((int(i[1:]) for i in panels if re.fullmatch(rf"{letter}\d+", i)), default=0)
    return panels.setdefault(f"{letter}{number}", _Panel(f"{letter}{number}", kind))


def _cut(panel: _Panel, sizes: LayingSizes) -> CutPanel:
    length = sizes.corner if panel.kind == "corner" else sizes.panel
    shared = [
        SharedPart(p.ref, p.length, p.hand, not p.is_alone, panel.id, p.mitres, p.lost)
        for p in panel.parts
    ]
    made = cut_panel(panel.kind, length, sizes.kerf, shared)
    return CutPanel(panel.id, made.kind, made.length, made.parts, made.used, made.kerfs, made.cuts)


def stocks_of(units: Sequence[CutPanel]) -> dict[PartRef, int]:
    """The number of the panel of each part.

    Args:
        units: The panels.

    Returns:
        Their positions by part.
    """
    found: dict[PartRef, int] = defaultdict(int)
    for number, unit in enumerate(units):
        found.update(dict.fromkeys((ref for ref, _ in unit.parts), number))
    return found
