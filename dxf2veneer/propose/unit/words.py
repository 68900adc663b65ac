"""What words say of the unit: notes on dimensions, notations, scales, areas, the header."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from dxf2veneer.basics.units import unit_by_code, unit_by_name
from dxf2veneer.propose.constants import HEADER_WEIGHT, NOTATION_WEIGHT, NOTE_WEIGHT
from dxf2veneer.propose.scene import Header, Text
from dxf2veneer.propose.unit.evidence import IMPERIAL, METRIC, MM, Evidence
from dxf2veneer.propose.views.titles import plain

_UNIT = (
    r"(?P<both>(?:feet|ft)\s*(?:and|&|\+|-|/)\s*(?:inches|in))|"
    r"(?P<unit>milli?met(?:re|er)s?|milimetros|centimet(?:re|er)s?|centimetros|"
    r"millimetern|zentimetern?|met(?:re|er)s?|metern|metros|mm|cm|m|inch(?:es)?|feet|ft)"
)
_NOTE = re.compile(
    r"\b(?:dimensions?|dims?\.?|measurements?|units?|masse?|cotes|cotas|medidas|"
    r"maten|misure|quote|dimensiones|unites|unidades|einheit(?:en)?|alle masse)\b"
    r"[\w\s'.,:]{0,30}?(?:\b(?:in|en|sont en|son en|zijn in|are in|"
    r"expressed in|angaben in)\b|[:=])\s*(?:" + _UNIT + r")\b"
)
_WORDS = {
    "millimetern": "mm",
    "milimetros": "mm",
    "zentimeter": "cm",
    "zentimetern": "cm",
    "centimetros": "cm",
    "metern": "m",
    "metros": "m",
}
_FEET_SCALE = re.compile(r"\d\s*(?:\"|''|in\.?)\s*=\s*\d+\s*(?:'|ft)")
_FEET = re.compile(r"\b\d{1,3}\s*'\s*-?\s*\d{1,2}(?:\s+\d+/\d+)?\s*\"")
_RATIO = re.compile(r"\b1\s*:\s*(?:5|10|20|25|50|75|100|125|150|200|250|500|1000)\b")
_METRIC_WORD = re.compile(r"\d\s*(?:m2|m²|qm|mm|cm)\b")
_IMPERIAL_WORD = re.compile(r"\d\s*(?:sq\.?\s*ft|sf|s\.f\.|ft2)\b")
_PRIMES = str.maketrans({"’": "'", "′": "'", "”": '"', "″": '"'})


def header(said: Header) -> list[Evidence]:
    """What the file's header says: its unit, and the notation that lengths are shown in.

    Args:
        said: the file's header.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    found = []
    name = header_unit(said)
    if name is not None:
        found.append(
            Evidence(
                "header", {"unit": name}, {n: 0.0 if n == name else -HEADER_WEIGHT for n in MM}
            )
        )
    if said.lunits in (
        3,
        4,
    ):  # engineering and architectural show feet and inches, one drawing unit an inch
        found.append(
            Evidence(
                "header notation",
                {"lunits": said.lunits},
                {n: 0.0 if n == "in" else -HEADER_WEIGHT / 2 for n in MM},
            )
        )
    return found


def header_unit(said: Header) -> str | None:
    """The everyday unit that the header names; None for none or another.

    Args:
        said: the file's header.

    Returns:
        Short name of the unit, or None.
    """
    unit = unit_by_code(said.insunits)
    return unit.name if unit is not None and unit.name in MM else None


def noted_unit(texts: Iterable[Text]) -> tuple[str, Text] | None:
    """The unit that a note says dimensions are in, with the note; ``in`` for feet and inches.

    Args:
        texts: texts of the drawing.

    Returns:
        Unit and text of the first such note, or None.
    """
    for text in texts:
        found = _NOTE.search(" ".join(plain(text.text.translate(_PRIMES)).split()))
        if found:
            if found["both"]:
                return "in", text
            word = found["unit"]
            return _WORDS.get(word) or unit_by_name(word.replace("milime", "millime")).name, text
    return None


def notes(note: tuple[str, Text] | None) -> list[Evidence]:
    """What a note on dimensions says of the drawing: people draw in the unit that they write.

    Args:
        note: unit and text of a note; None for none.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    if note is None:
        return []
    name, text = note
    family = METRIC if name in METRIC else IMPERIAL
    weights = {
        n: 0.0 if n == name else -0.7 * NOTE_WEIGHT if n in family else -NOTE_WEIGHT for n in MM
    }
    return [Evidence("note", {"text": text.text}, weights, text.handle, (text.x, text.y))]


def notation(texts: Sequence[Text]) -> list[Evidence]:
    """What the way of writing says: feet and inches, scales as ratios, areas in square metres.

    Args:
        texts: texts of the drawing.

    Returns:
        Pieces of evidence; none where nothing speaks.
    """
    imperial, metric = [], []
    for text in texts:
        said = text.text.translate(_PRIMES).lower()
        if _FEET_SCALE.search(said) or _FEET.search(said) or _IMPERIAL_WORD.search(said):
            imperial.append(text)
        elif _RATIO.search(said) or _METRIC_WORD.search(said):
            metric.append(text)
    if not imperial and not metric:
        return []
    if (
        imperial
        and metric
        and min(len(imperial), len(metric)) > 0.2 * max(len(imperial), len(metric))
    ):
        return []
    family, shown = (METRIC, metric[0]) if len(metric) > len(imperial) else (IMPERIAL, imperial[0])
    weights = {n: 0.0 if n in family else -NOTATION_WEIGHT for n in MM}
    return [Evidence("notation", {"text": shown.text}, weights, shown.handle, (shown.x, shown.y))]
