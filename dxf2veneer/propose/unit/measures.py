"""Written measures against drawn lengths: dimensions and level marks."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from dxf2veneer.basics.units import parse_length
from dxf2veneer.propose.constants import (
    DIMENSION_MIDDLE_MM,
    DIMENSION_SLACK,
    DIMENSION_SPREAD,
    LEVEL_SLACK,
    MEASURE_MOST,
)
from dxf2veneer.propose.scene import Scene
from dxf2veneer.propose.unit.evidence import IMPERIAL, MM, Evidence, bounded, normal
from dxf2veneer.propose.views import View
from dxf2veneer.propose.views.dimlines import DrawnDimension

_PRIMES = str.maketrans({"’": "'", "′": "'", "”": '"', "″": '"'})
_ASIDE = re.compile(
    r"\[.*?\]|\(.*?\)|\b(?:typ|min|max|clr|approx|nom|ca)\b\.?|[±~≈]", re.IGNORECASE
)
_METRIC = re.compile(r"(?P<number>\d+(?:\.\d+)?)\s*(?P<unit>mm|cm|m)", re.IGNORECASE)
_BARE = re.compile(r"\d+(?:\.\d+)?")
_MOST = 400
"""Dimensions looked at [our own limit]."""

_WHOLE = {"mm": 0.55, "cm": 0.3, "in": 0.1, "m": 0.03, "ft": 0.02}
_TENTHS = {"m": 0.5, "cm": 0.3, "mm": 0.1, "ft": 0.05, "in": 0.05}
_HUNDREDTHS = {"m": 0.85, "cm": 0.02, "mm": 0.02, "ft": 0.08, "in": 0.03}
"""Chances that a bare number is in each unit, by its decimals [common practice, no published
source]."""

_RIGHT = 0.97
"""Chance that a dimension agrees with its length at all; others were typed or broken [our own]."""


def dimensions(scene: Scene, noted: str | None, lines: Sequence[DrawnDimension]) -> list[Evidence]:
    """What dimensions say: the entities, and those drawn of lines and texts.

    Args:
        scene: the scene.
        noted: unit that a note says dimensions are in; None for none.
        lines: dimensions drawn of lines and texts.
    Returns:
        One piece of evidence for all entities, one for all drawn ones, or none.
    """
    drawn = []
    for line in lines[:_MOST]:
        label = scene.texts[line.text]
        drawn.append(_Measure(label.text, line.measured, label.handle, (label.x, label.y)))
    own = [
        _Measure(d.text, d.measured, d.handle, ((d.x0 + d.x1) / 2, (d.y0 + d.y1) / 2))
        for d in scene.dimensions[:_MOST]
    ]
    return [e for e in (_weighed(own, noted), _weighed(drawn, noted)) if e is not None]


class _Measure(NamedTuple):
    text: str
    measured: float
    handle: str
    place: tuple[float, float]


def _weighed(measures: Sequence[_Measure], noted: str | None) -> Evidence | None:
    """What measures of one way of drawing say together; the fewer of them agree with a unit, the
    less."""
    stated = [m for m in measures if is_length(m.text)]
    counted = min(len(stated), 3)  # dimensions of one hand repeat each other
    said = [
        (m, w)
        for m in stated
        if (w := of_dimension(m.text, m.measured, noted, counted)) is not None
    ]
    if not said:
        return None
    total = {n: sum(w[n] for _, w in said) for n in MM}
    share = min(len(said), 3) / len(said) * (len(said) / len(stated)) ** 2
    first = said[0][0]
    value = {"count": len(said), "text": first.text, "measured": first.measured}
    return Evidence(
        "dimensions",
        value,
        bounded({n: w * share for n, w in total.items()}, MEASURE_MOST),
        first.handle,
        first.place,
    )


def of_dimension(
    text: str, measured: float, noted: str | None = None, counted: int = 1
) -> dict[str, float] | None:
    """How well a dimension agrees with each drawing unit, as log likelihoods.

    Args:
        text: what is written.
        measured: the length in drawing units.
        noted: unit that bare numbers are said to be in.
        counted: how many dimensions count together: one hand chose the unit of bare numbers once
            for all of them, whereas the size of each speaks anew.
    Returns:
        Log likelihoods; None where the text is no length, or agrees with no unit.
    """
    written = _written(_plain(text), noted)
    if not written or measured <= 0.0:
        return None
    chances = dict.fromkeys(MM, (1.0 - _RIGHT) / len(MM))
    agreed = False
    for mm, chance in written:
        for name, size in MM.items():
            if abs(measured * size / mm - 1.0) <= DIMENSION_SLACK:
                chances[name] += (
                    _RIGHT
                    * chance ** (1.0 / counted)
                    * math.exp(normal(mm, DIMENSION_MIDDLE_MM, DIMENSION_SPREAD))
                )
                agreed = True
    return {n: math.log(c) for n, c in chances.items()} if agreed else None


def is_length(text: str) -> bool:
    """Whether a dimension's text states a length.

    Args:
        text: as a person reads it.

    Returns:
        True for numbers, feet and inches; False for angles, counts, words.
    """
    return bool(_written(_plain(text), None))


def _plain(text: str) -> str:
    return _ASIDE.sub("", text.translate(_PRIMES)).strip().rstrip(",;").replace(",", ".")


def _written(plain: str, noted: str | None) -> list[tuple[float, float]]:
    """What a text may mean: lengths in millimetres and how likely each is."""
    metric = _METRIC.fullmatch(plain)
    if metric:
        return (
            [(float(metric["number"]) * MM[metric["unit"].lower()], 1.0)]
            if float(metric["number"]) > 0
            else []
        )
    if "'" in plain or '"' in plain:
        try:
            inches = parse_length(plain)
        except ValueError:
            return []
        return [(inches * 25.4, 1.0)] if inches > 0.0 else []
    if not _BARE.fullmatch(plain) or float(plain) <= 0.0:
        return []
    if noted:
        return [(float(plain) * MM[noted], 1.0)]
    decimals = len(plain.partition(".")[2])
    usual = _WHOLE if decimals == 0 else _TENTHS if decimals == 1 else _HUNDREDTHS
    return [(float(plain) * MM[unit], chance) for unit, chance in usual.items()]


def levels(views: Sequence[View]) -> list[Evidence]:
    """What level marks say: differences of written heights against those of the lines.

    The marks of one view have to lie on one scale, within a few per cent of their range.

    Args:
        views: the views of the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    found = []
    for view in views:
        by_notation: dict[str, list[tuple[float, float]]] = {}
        for mark in view.levels:
            by_notation.setdefault(mark.notation, []).append((mark.value, mark.y))
        for notation, pairs in by_notation.items():
            scale = scale_of(pairs)
            if scale is None:
                continue
            weights = _of_scale(scale, notation, len(set(pairs)))
            if weights is not None:
                place = view.levels[0].x, view.levels[0].y
                found.append(
                    Evidence(
                        "levels",
                        {"view": view.id, "text": view.levels[0].value_text, "per_unit": scale},
                        weights,
                        "",
                        place,
                    )
                )
    if not found:
        return []
    total = {n: sum(e.weights[n] for e in found) for n in MM}
    first = found[0]
    return [
        Evidence(
            "levels",
            {**first.value, "count": len(found)},
            bounded(total, MEASURE_MOST),
            "",
            first.place,
        )
    ]


def scale_of(pairs: Sequence[tuple[float, float]]) -> float | None:
    """Drawing units for one unit of the written heights; None where the marks lie on no one scale.

    Args:
        pairs: written height and height in the drawing.

    Returns:
        The scale, or None.
    """
    values, ys = (
        np.array(sorted(set(pairs))).T if len(set(pairs)) > 1 else (np.zeros(0), np.zeros(0))
    )
    if len(values) < 2 or values.max() == values.min() or ys.max() == ys.min():
        return None
    scale = float((ys[-1] - ys[0]) / (values[-1] - values[0]))
    if scale <= 0.0:
        return None
    off = np.abs((ys - ys[0]) - scale * (values - values[0]))
    return scale if off.max() <= LEVEL_SLACK * (ys.max() - ys.min()) else None


def _of_scale(scale: float, notation: str, count: int) -> dict[str, float] | None:
    """Weights of a scale of level marks; None where no unit agrees."""
    written = {
        "ft": {"ft": 1.0},
        "mm": {"mm": 1.0},
        "cm": {"cm": 1.0},
        "m": {"m": 1.0},
        "m?": {"m": 0.9, "ft": 0.1},
    }
    meant = written.get(notation, {"mm": 0.6, "cm": 0.3, "m": 0.1})
    chances = dict.fromkeys(MM, 0.01 if count < 3 else 0.003)
    agreed = False
    for unit, chance in meant.items():
        for name, size in MM.items():
            if abs(scale * size / MM[unit] - 1.0) <= LEVEL_SLACK:
                chances[name] += chance * (0.3 if notation != "ft" and name in IMPERIAL else 1.0)
                agreed = True
    return bounded({n: math.log(c) for n, c in chances.items()}, MEASURE_MOST) if agreed else None
