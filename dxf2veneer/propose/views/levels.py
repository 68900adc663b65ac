"""Level marks: heights written beside a triangle, a target or a line.

  +2.85           value       with a sign, or with a mark beside it
--\\/------        level line  level, near the value
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from dxf2veneer.propose.constants import LEVEL_MARK, LEVEL_REACH, LEVEL_TOUCH, STRAIGHT
from dxf2veneer.propose.scene import Box, Integers, Scene, Text
from dxf2veneer.propose.views.boxes import around, grown, may_touch, segments_near

_PRIMES = str.maketrans(
    {
        "’": "'",
        "′": "'",
        "”": '"',
        "″": '"',
        "−": "-",
        "–": "-",
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
    }
)
_ENTRY = re.compile(r"\d{1,2}[.)]\s+[^\W\d]")
"""An entry of a numbered list: a note, a material of a legend."""
_SIGNED = re.compile(
    r"(?<![A-Za-z0-9])(?P<sign>%%p|[±+-]|\+/-|\+-)\s*(?P<value>\d{1,5}(?:[.,]\d{1,3})?)\s*(?P<unit>mm|cm|m)?(?![\d'\"/])",
    re.IGNORECASE,
)
_DECIMAL = re.compile(
    r"(?P<sign>)(?P<value>\d{1,4}[.,]\d{2,3})\s*(?P<unit>mm|cm|m)?", re.IGNORECASE
)
_FEET = re.compile(
    r"(?P<sign>[±+-]?)\s*(?P<feet>\d{1,4}(?:\.\d{1,3})?)\s*'\s*-?\s*(?:(?P<inches>\d{1,2})(?:\s+(?P<num>\d+)/(?P<den>\d+))?\s*\")?"
)


@dataclass(frozen=True)
class LevelMark:
    """A height written in a view.

    Attributes:
        y: height in the drawing, in drawing units: of the line or of the tip beside the text.
        value_text: what is written.
        value: the number, in the notation's own unit.
        notation: unit that the notation names: ``ft`` for feet and inches (value in feet), ``m``,
            ``cm``, ``mm`` where written, ``m?`` for a decimal number, empty for a whole one.
        x: where the text stands.
        line: number of the level line's segment, -1 for none.
        text: number of the text in the scene.
    """

    y: float
    value_text: str
    value: float
    notation: str
    x: float
    line: int
    text: int


@lru_cache(maxsize=1 << 16)
def level_value(text: str) -> tuple[float, str, bool] | None:
    """The height that a text states.

    Args:
        text: as written, perhaps with words beside the number (``OKFF +3.00``).
    Returns:
        Value, notation (see ``LevelMark``) and whether the text alone makes it a level (a sign, or
        feet and inches after a word such as EL.); None where there is none.
    """
    plain = " ".join(text.translate(_PRIMES).split())
    if len(plain) > 40 or _ENTRY.match(plain):
        return None
    feet = _FEET.search(plain)
    if feet:
        value = float(feet["feet"]) + float(feet["inches"] or 0) / 12.0
        value += (
            float(feet["num"]) / float(feet["den"]) / 12.0
            if feet["num"] and float(feet["den"])
            else 0.0
        )
        spoken = (
            bool(feet["sign"])
            or re.search(r"(?i)\b(?:el|elev|level|t\.?o\.?|b\.?o\.?|f\.?f)\b", plain) is not None
        )
        return (-value if feet["sign"] == "-" else value), "ft", spoken
    signed = _SIGNED.search(plain)
    found = signed or _DECIMAL.fullmatch(plain)
    if not found or (signed and re.search(r"\d\s*$", plain[: signed.start()])):
        return None
    number = found["value"].replace(",", ".")
    unit = (found["unit"] or "").lower() or ("m?" if "." in number else "")
    value = float(number)
    return (-value if found["sign"] == "-" else value), unit, bool(signed)


def levels_of(scene: Scene) -> tuple[list[LevelMark], Integers]:
    """The level marks of a scene, and the numbers of the small entities that are their symbols.

    A bare number is one only where a symbol (a triangle, a circle, at most some letters wide)
    stands beside it; a signed one where a symbol or a level line does.

    Args:
        scene: everything visible in the drawing.

    Returns:
        The marks in the order of their texts, and the entity numbers in order.
    """
    stated = [
        (n, t, v)
        for n, t in enumerate(scene.texts)
        if t.height > 0.0 and (v := level_value(t.text))
    ]
    if not stated or not len(scene.segments):
        return [], np.zeros(0, np.int64)
    symbols = _symbols(scene, [t for _, t, _ in stated])
    lines = _lines(scene, [t for _, t, _ in stated], symbols)
    marks, drawn = [], []
    for place, (number, text, (value, notation, spoken)) in enumerate(stated):
        symbol, line = symbols.get(place), lines.get(place, -1)
        if symbol is None and (line < 0 or not spoken):
            continue
        y = float(scene.segments[line, 1]) if line >= 0 else _tip(scene, symbol or [])
        marks.append(
            LevelMark(y, text.text, value, notation, (text.box[0] + text.box[2]) / 2, line, number)
        )
        drawn += symbol or []
    return marks, np.unique(np.array(drawn, np.int64))


def drawn_for_marks(scene: Scene, marks: Sequence[LevelMark], symbols: Integers) -> Integers:
    """The level lines that were drawn for their marks, and not as edges of what is seen.

          +2.85      an eaves, a coping or a gutter is an edge: it ends on others at both ends, at
    |______\\/       a corner at one, or goes on in more of one polyline; a line drawn for a mark
    |______|         ends on nothing beside the symbol

    Args:
        scene: everything visible in the drawing.
        marks: the level marks.
        symbols: numbers of the entities that are their symbols.

    Returns:
        Numbers of segments in order.
    """
    lines = np.unique(np.array([m.line for m in marks if m.line >= 0], np.int64))
    if not len(lines):
        return lines
    letters = {m.line: scene.texts[m.text].height for m in marks}
    height = np.array([letters[n] for n in lines.tolist()])
    ends = scene.segments[lines].reshape(-1, 2)
    room = np.repeat(0.02 * height, 2)[:, None]
    others = segments_near(scene, np.hstack([ends - room, ends + room]))
    d = np.abs(scene.segments[others, 2:] - scene.segments[others, :2])
    upright = d[:, 0] <= STRAIGHT * d[:, 1]  # a fascia's short end may seem to be of a symbol
    others = others[(upright | ~np.isin(scene.owner[others], symbols)) & ~np.isin(others, lines)]
    others = others[scene.lengths[others] > room.max()]
    tree = shapely.STRtree(shapely.linestrings(scene.segments[others].reshape(-1, 2, 2)))
    end, other = tree.query(shapely.points(ends), predicate="dwithin", distance=room[:, 0])
    other, line = others[other], end // 2
    away = scene.segments[other].reshape(-1, 2, 2) - ends[end][:, None, :]
    corner = (np.abs(away).max(axis=2) <= room[end]).any(axis=1)
    met, turns = np.zeros(len(ends), bool), np.zeros(len(ends), bool)
    met[end], turns[end[corner]] = True, True
    edge = np.asarray(met.reshape(-1, 2).all(axis=1) & turns.reshape(-1, 2).any(axis=1))
    own = corner & (scene.owner[lines[line]] == scene.owner[other])
    edge[line[own & (scene.lengths[other] > LEVEL_MARK * height[line])]] = True
    return lines[~edge]


def _symbols(scene: Scene, texts: Sequence[Text]) -> dict[int, list[int]]:
    """For each text the entities beside it that are no larger than a mark and no straight line."""
    boxes = scene.boxes
    size = np.maximum(boxes[:, 2] - boxes[:, 0], boxes[:, 3] - boxes[:, 1])
    small = np.flatnonzero(size <= LEVEL_MARK * max(t.height for t in texts))
    reach = np.array([_grown(t) for t in texts])
    small = small[may_touch(boxes[small], reach)]
    if not len(small):
        return {}
    tree = shapely.STRtree(shapely.box(*boxes[small].T))
    found: dict[int, list[int]] = {}
    for t, e in zip(*tree.query(shapely.box(*reach.T)), strict=True):
        entity, text = int(small[e]), texts[int(t)]
        if size[entity] <= LEVEL_MARK * text.height and size[entity] >= 0.3 * text.height:
            found.setdefault(int(t), []).append(entity)
    return {t: es for t, es in found.items() if _is_symbol(scene, es)}


def _grown(text: Text) -> Box:
    by = LEVEL_REACH * text.height
    return text.box[0] - by, text.box[1] - by, text.box[2] + by, text.box[3] + by


def _is_symbol(scene: Scene, entities: Sequence[int]) -> bool:
    """Whether small entities make a triangle, an arrow or a target: some slanting or round
    stroke, not many."""
    if len(entities) > 12:
        return False
    strokes = np.concatenate([scene.segments_of(e) for e in entities])
    d = np.abs(strokes[:, 2:] - strokes[:, :2])
    return bool(((d[:, 0] > 0.2 * d[:, 1]) & (d[:, 1] > 0.2 * d[:, 0])).sum() >= 2)


def _lines(
    scene: Scene, texts: Sequence[Text], symbols: Mapping[int, Sequence[int]]
) -> dict[int, int]:
    """For each text the level segment that it stands by: one at its symbol before others, the
    nearest, and of those at one height one that looks drawn for it, then the longest."""
    d = np.abs(scene.segments[:, 2:] - scene.segments[:, :2])
    level = np.flatnonzero(
        (d[:, 1] <= STRAIGHT * d[:, 0]) & (d[:, 0] > min(t.height for t in texts))
    )
    if not len(level):
        return {}
    tree = shapely.STRtree(shapely.linestrings(scene.segments[level].reshape(-1, 2, 2)))
    rooms = [_symbol_box(scene, symbols.get(n)) for n in range(len(texts))]
    reach = np.array(
        [
            around([_grown(t), *([grown(r, LEVEL_TOUCH * t.height)] if r else [])])
            for t, r in zip(texts, rooms, strict=True)
        ]
    )
    best: dict[int, tuple[tuple[int, float, int, float], int]] = {}
    for t, s in zip(*tree.query(shapely.box(*reach.T), predicate="intersects"), strict=True):
        number, text = int(level[s]), texts[int(t)]
        if d[number, 0] < 1.5 * text.height or scene.owner[number] in symbols.get(int(t), ()):
            continue
        x0, y, x1, _ = scene.segments[number].tolist()
        slack = LEVEL_TOUCH * text.height
        rank, off = _met((min(x0, x1), y, max(x0, x1)), rooms[int(t)], slack)
        if rank == _APART:
            off = max(text.box[1] - y, y - text.box[3], 0.0)
        key = (
            rank,
            float(round(off / (slack if rank == _APART else slack / 50.0))),
            _unlike_mark(scene, number, text),
            -float(d[number, 0]),
        )
        if int(t) not in best or key < best[int(t)][0]:
            best[int(t)] = key, number
    return {t: number for t, (_, number) in best.items()}


def _unlike_mark(scene: Scene, segment: int, text: Text) -> int:
    """How unlike the line of a mark a level line is, which is often broken and on the layer of the
    mark's text: the ground, that ends where such a line ends, is neither."""
    entity = scene.owner[segment]
    drawn_full = scene.entities.linetype[entity] in ("CONTINUOUS", "BYBLOCK", "BYLAYER", "")
    return int(drawn_full) + int(scene.entities.layer[entity] != text.layer)


def _symbol_box(scene: Scene, entities: Sequence[int] | None) -> Box | None:
    """The box round the entities of a symbol."""
    if not entities:
        return None
    rows = scene.boxes[list(entities)].tolist()
    return around((x0, y0, x1, y1) for x0, y0, x1, y1 in rows)


_TIP, _TOP, _APART = range(3)


def _met(line: tuple[float, float, float], symbol: Box | None, slack: float) -> tuple[int, float]:
    """Where a level line from x0 at y to x1 meets a symbol, and how far from there it lies: at its
    tip or its middle, at its upper side, not at all.

    ----O  +2.85        a line beside a circle, one under a triangle
    +2.85
    --\\/-----
    """
    if symbol is None:
        return _APART, 0.0
    x0, y, x1 = line
    left, foot, right, head = symbol
    if x1 < left - slack or x0 > right + slack:
        return _APART, 0.0
    tip, top = min(abs(y - foot), abs(y - (foot + head) / 2.0)), abs(y - head)
    if tip <= slack / 2.0:
        return _TIP, tip
    return (_TOP, top) if top <= slack / 2.0 else (_APART, 0.0)


def _tip(scene: Scene, entities: Sequence[int]) -> float:
    """The height that a symbol without a line stands for: the middle of a circle, else the lowest
    point, at which a triangle points."""
    rounds = [e for e in entities if scene.entities.kind[e] == "CIRCLE"]
    if rounds:
        largest = max(rounds, key=lambda e: float(scene.boxes[e, 3] - scene.boxes[e, 1]))
        return float((scene.boxes[largest, 1] + scene.boxes[largest, 3]) / 2.0)
    return float(min(scene.boxes[e, 1] for e in entities))
