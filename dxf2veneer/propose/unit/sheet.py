"""What sheets say of the unit: scales of viewports, stated scales, frames of paper sizes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence

from dxf2veneer.basics.units import parse_plot_scale
from dxf2veneer.propose.constants import FRAME_WEIGHT, PAPER_INSET_MM, SCALE_SLACK, VIEWPORT_WEIGHT
from dxf2veneer.propose.scene import Paper, Scene, Viewport
from dxf2veneer.propose.unit.evidence import METRIC, MM, Evidence
from dxf2veneer.propose.views import View

_RATIO = re.compile(r"\b1\s*:\s*(\d{1,4})\b|\b1/(\d{2,4})\b(?!\s*(?:\"|''|in))")
_FEET = re.compile(
    r"(\d+(?:\s*-?\s*\d+/\d+)?|\d+/\d+)\s*(?:\"|''|in\.?)\s*=\s*(\d+)\s*'(?:\s*-?\s*0\s*\"?)?"
)
_PRIMES = str.maketrans({"’": "'", "′": "'", "”": '"', "″": '"'})

METRIC_SCALES = {
    20: 0.5,
    25: 0.4,
    50: 1.0,
    75: 0.4,
    100: 1.0,
    125: 0.3,
    150: 0.3,
    200: 0.9,
    250: 0.5,
    500: 0.5,
    1000: 0.3,
    10: 0.3,
    5: 0.2,
}
"""Scales of buildings in metric offices (ISO 5455), with how usual they are, 0 to 1."""
IMPERIAL_SCALES = {
    48: 1.0,
    96: 1.0,
    192: 0.7,
    64: 0.6,
    128: 0.5,
    32: 0.5,
    24: 0.5,
    16: 0.3,
    12: 0.3,
    120: 0.3,
    240: 0.3,
}
"""Scales in feet and inches, a quarter inch to the foot being 48, with how usual they are, 0 to
1."""

PAPERS_MM = (
    (1189.0, 841.0), (841.0, 594.0), (594.0, 420.0), (420.0, 297.0), (297.0, 210.0),
    (279.4, 215.9), (431.8, 279.4), (558.8, 431.8), (863.6, 558.8), (1117.6, 863.6),
    (304.8, 228.6), (457.2, 304.8), (609.6, 457.2), (914.4, 609.6), (1219.2, 914.4),
)  # fmt: skip
"""Sheets in millimetres: ISO 216 A0 to A4; ANSI/ASME Y14.1 A to E; ARCH A to E."""


def stated_scale(scene: Scene) -> float | None:
    """The one scale that texts state, 50 for 1:50; the commonest where most agree, None where
    they do not.

    Args:
        scene: everything visible in the drawing.

    Returns:
        The scale, or None.
    """
    said = Counter(scale for text in scene.texts if (scale := scale_in(text.text)))
    if not said:
        return None
    (scale, count), *_ = said.most_common(1)
    return scale if count > 0.6 * said.total() else None


def scale_in(text: str) -> float | None:
    """The scale that a text states; None where it states none.

    Args:
        text: a text of the drawing.

    Returns:
        Sizes in the world for one on paper, or None.
    """
    plain = text.translate(_PRIMES)
    feet = _FEET.search(plain)
    if feet:
        try:
            return parse_plot_scale(f"{feet[1]}\" = {feet[2]}'")
        except ValueError:
            return None
    ratio = _RATIO.search(plain)
    return float(ratio[1] or ratio[2]) if ratio and int(ratio[1] or ratio[2]) > 1 else None


def viewports(scene: Scene) -> list[Evidence]:
    """What the scales of viewports say: which unit makes them scales that offices plot at.

    Args:
        scene: everything visible in the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    found = []
    units = {p.name: p.unit or "mm" for p in scene.papers}
    for window in scene.viewports:
        per_paper = window.scale / MM[units.get(window.layout, "mm")]
        stated = _scale_beside(window, scene.papers)
        weights = {
            n: -VIEWPORT_WEIGHT * (1.0 - _usual(per_paper * mm, n, stated)) for n, mm in MM.items()
        }
        if max(weights.values()) > -0.9 * VIEWPORT_WEIGHT:
            found.append(
                Evidence(
                    "viewport",
                    {"layout": window.layout, "scale": window.scale, "stated": stated},
                    weights,
                    window.handle,
                )
            )
    if not found:
        return []
    mean = {n: sum(e.weights[n] for e in found) / len(found) for n in MM}
    return [Evidence("viewport", {**found[0].value, "count": len(found)}, mean, found[0].handle)]


def _usual(scale: float, unit: str, stated: float | None) -> float:
    """How usual a scale is, 0 to 1; where one is stated, whether it is that one."""
    if stated:
        return 1.0 if abs(scale / stated - 1.0) <= SCALE_SLACK else 0.0
    listed = METRIC_SCALES if unit in METRIC else IMPERIAL_SCALES
    other = IMPERIAL_SCALES if unit in METRIC else METRIC_SCALES
    own = max((w for s, w in listed.items() if abs(scale / s - 1.0) <= SCALE_SLACK), default=0.0)
    return max(
        own,
        0.4
        * max((w for s, w in other.items() if abs(scale / s - 1.0) <= SCALE_SLACK), default=0.0),
    )


def _scale_beside(window: Viewport, papers: Iterable[Paper]) -> float | None:
    """The scale stated on the sheet nearest under the viewport; None where several scales are as
    near."""
    x0, y0, x1, y1 = window.paper
    near = []
    for paper in papers:
        if paper.name != window.layout:
            continue
        for text in paper.texts:
            scale = scale_in(text.text)
            if (
                scale
                and text.box[2] >= x0
                and text.box[0] <= x1
                and y0 - 0.3 * (y1 - y0) <= text.box[1] <= y1
            ):
                near.append(scale)
    return near[0] if len(set(near)) == 1 else None


def frames(scene: Scene, views: Sequence[View], stated: float | None) -> list[Evidence]:
    """What a sheet frame in model space says: which unit makes it paper at the stated scale.

    Args:
        scene: everything visible in the drawing.
        views: the views of the drawing.
        stated: the scale that texts state, 50 for 1:50; None for none.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    if not stated:
        return []
    for view in views:
        if view.kind != "sheet":
            continue
        long, short = sorted((view.box[2] - view.box[0], view.box[3] - view.box[1]), reverse=True)
        fits = [
            n
            for n, mm in MM.items()
            if any(_is_paper(long * mm / stated, short * mm / stated, p) for p in PAPERS_MM)
        ]
        if len(fits) in (1, 2):
            weights = {n: 0.0 if n in fits else -FRAME_WEIGHT for n in MM}
            return [
                Evidence(
                    "frame",
                    {"width": long, "height": short, "scale": stated},
                    weights,
                    "",
                    view.box[:2],
                )
            ]
    return []


def _is_paper(long: float, short: float, paper: tuple[float, float]) -> bool:
    inset = paper[0] - long, paper[1] - short
    return all(-1.0 <= i <= PAPER_INSET_MM for i in inset)
