"""What kind of view a group is: by its title, else by what is drawn and written in it."""

from __future__ import annotations

import math

from dxf2veneer.propose.constants import FRAMING, KIND_SURE, SYMBOL_MARKS, TITLED, TREES, VIEW_STRIP
from dxf2veneer.propose.proposal import Reason, ViewKind
from dxf2veneer.propose.views.clues import Clues
from dxf2veneer.propose.views.titles import Title


def judge(clues: Clues, title: Title | None, table: bool) -> tuple[ViewKind, float, Reason]:
    """The kind of a view, how sure it is (0 to 1), and why.

    A title that names the kind by its own word decides, unless what is drawn is clearly something
    else: a title may stand as near to the view next door. Without a title what is drawn decides.

    Args:
        clues: what is drawn.
        title: the view's title; None for none.
        table: whether the view is a table or a scrap.

    Returns:
        Kind, confidence and reason.
    """
    if title is not None and title.sure and title.kind in ("detail", "other", "sheet"):
        return title.kind, 0.95, Reason("VIEW_TITLED", {"title": title.text})
    if table:
        return "other", 0.8, Reason("VIEW_TABLE", {})
    scores: dict[ViewKind, float] = {
        "elevation": 0.0,
        "plan": 0.0,
        "section": -1.0,
        "detail": -1.5,
        "other": -1.0,
    }
    if title is not None:
        scores[title.kind] = max(scores[title.kind], 0.0) + (TITLED if title.sure else TITLED / 2)
    _weigh(clues, scores)
    ranked = sorted(scores, key=lambda k: -scores[k])
    margin = scores[ranked[0]] - scores[ranked[1]]
    if title is not None and title.sure and title.kind == ranked[0]:
        return (
            title.kind,
            max(0.95, 1.0 / (1.0 + math.exp(-margin))),
            Reason("VIEW_TITLED", {"title": title.text}),
        )
    return (
        ranked[0],
        1.0 / (1.0 + math.exp(-margin)),
        Reason("VIEW_DRAWN", {k: round(v, 1) for k, v in scores.items()}),
    )


def _weigh(clues: Clues, scores: dict[ViewKind, float]) -> None:
    """Add what each clue says of each kind, as log odds [our own]."""
    grounded = clues.ground > 0.02
    notes_only = clues.notes >= 2 and clues.levels == 0 and not clues.rooms and not grounded
    strip = clues.ratio > VIEW_STRIP[0] and 0.0 < clues.letters < VIEW_STRIP[1]
    odd = clues.strokes < 8 or clues.ratio > KIND_SURE or clues.ratio < 1 / KIND_SURE
    symbol = clues.ringed and clues.marks <= SYMBOL_MARKS
    said: tuple[tuple[bool, dict[ViewKind, float]], ...] = (
        (clues.cut, {"section": 3.0}),
        (clues.studs >= FRAMING and not grounded, {"section": 2.0}),
        (notes_only and (clues.strokes < 120 or clues.upright), {"detail": 3.0}),
        (clues.swings > 0, {"plan": 3.0}),
        (clues.rooms > 0, {"plan": 1.5, "elevation": -2.0}),
        (clues.levels >= 2, {"elevation": 1.5, "section": 1.5}),
        (grounded, {"elevation": 1.5, "section": 1.0}),
        (clues.trees >= TREES or clues.hips, {"plan": 2.5}),
        (clues.lot, {"plan": 2.5}),
        (clues.grid_both, {"plan": 2.0}),
        (strip, {"other": 2.5}),
        (odd, {"other": 2.0}),
        (symbol, {"other": 4.0}),
        (clues.ringed and not symbol, {"detail": 3.0}),
    )
    for holds, weights in said:
        if holds:
            for kind, weight in weights.items():
                scores[kind] += weight
