"""All evidence for the unit weighed together.

    chance of a unit  ~  how usual it is  x  what each piece of evidence says of it

A unit is named where its chance is high enough and no strong piece speaks for another; else nothing
is said. A header that is there is only given up for evidence that measures something.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from dxf2veneer.propose.constants import (
    CONFLICT,
    HARD,
    SURE,
    SURE_AGAINST_HEADER,
    SURE_WITH_HEADER,
    USUAL_UNITS,
)
from dxf2veneer.propose.scene import Scene
from dxf2veneer.propose.unit import measures, roundness, sheet, sizes, words
from dxf2veneer.propose.unit.evidence import MM, Evidence, UnitFinding
from dxf2veneer.propose.views import View
from dxf2veneer.propose.views.dimlines import DrawnDimension, drawn_dimensions

_HARD = ("dimensions", "levels", "viewport", "frame", "door swings", "doors")
"""Evidence that measures something; the rest are habits."""


_WRITTEN = ("dimensions", "levels")


def find_unit(
    scene: Scene, views: Sequence[View], lines: Sequence[DrawnDimension] | None = None
) -> UnitFinding:
    """The drawing's unit, from all that is drawn and written.

    Args:
        scene: everything visible.
        views: its views.
        lines: its dimensions of lines and texts, where they have been looked for already.
    Returns:
        The finding; its unit is None where the evidence does not settle it.
    """
    lines = drawn_dimensions(scene)[0] if lines is None else lines
    note = words.noted_unit(scene.texts)
    stated = sheet.stated_scale(scene)
    evidence = [
        *words.header(scene.header),
        *words.notes(note),
        *words.notation(scene.texts),
        *measures.dimensions(scene, note[0] if note else None, lines),
        *measures.levels(views),
        *sizes.swings(scene, views),
        *sizes.openings(scene, views),
        *sizes.storeys(views),
        *sizes.courses(scene, views),
        *sizes.letters(scene, stated),
        *sheet.viewports(scene),
        *sheet.frames(scene, views, stated),
        *roundness.roundness(scene),
    ]
    return decide(evidence, words.header_unit(scene.header))


def decide(evidence: Sequence[Evidence], header: str | None) -> UnitFinding:
    """Weigh evidence.

    Args:
        evidence: independent pieces.
        header: the unit that the header names; None for none or another than an everyday one.

    Returns:
        The unit, None where the evidence is silent or at odds, with the chance of each.
    """
    scores = {n: math.log(USUAL_UNITS[n]) + sum(e.weights[n] for e in evidence) for n in MM}
    top = max(scores.values())
    total = sum(math.exp(s - top) for s in scores.values())
    chances = {n: math.exp(s - top) / total for n, s in scores.items()}
    best = max(chances, key=lambda n: chances[n])
    ranked = tuple(sorted(evidence, key=lambda e: min(e.weights.values())))
    sure = chances[best] >= {best: SURE_WITH_HEADER, None: SURE}.get(
        header, SURE_AGAINST_HEADER
    ) and not _conflicts(evidence, best, header)
    return UnitFinding(best if sure else None, sure, header, ranked, chances)


def _conflicts(evidence: Sequence[Evidence], best: str, header: str | None) -> bool:
    """Whether something that measures speaks strongly against the best unit, or nothing measures
    at all."""
    hard = [e for e in evidence if e.what in _HARD]
    written = max(
        (
            -min(e.weights.values())
            for e in evidence
            if e.what in _WRITTEN and e.weights[best] > -0.5
        ),
        default=0.0,
    )
    strange = sum(2 if e.what == "door swings" else 1 for e in evidence if e.is_strange)
    if strange >= 2 and written < HARD:
        return True  # not drawn in any everyday unit: at the scale of the sheet, perhaps
    if any(e.weights[best] < -CONFLICT for e in hard):
        return True
    told = sum(
        -min(e.weights.values()) * (1.0 if e.what in _HARD else 0.5)
        for e in evidence
        if e.weights[best] > -0.5 and e.what != "header"
    )
    return told < (HARD if header != best else 0.5)
