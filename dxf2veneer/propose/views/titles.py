"""Titles under views: which texts are titles, and of what kind of view.

A title is short, larger than most texts, and made of the trade's words in one of the languages that
drawings come in. Words are compared without case and accents.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from dxf2veneer.propose.constants import TITLE_LARGER, TITLE_LETTERS, TITLE_TEXTS, TITLE_WORDS
from dxf2veneer.propose.proposal import ViewKind
from dxf2veneer.propose.scene import Box, Text


class Title(NamedTuple):
    """A text that names a view."""

    kind: ViewKind
    text: str
    box: Box
    height: float
    number: int
    """Number of the text in the scene."""
    sure: bool
    """Whether its words name the kind; False for a side or a floor alone (``North``)."""


_STEMS: tuple[tuple[ViewKind, tuple[str, ...], tuple[str, ...]], ...] = (
    # kind, beginnings of words or parts of long words, whole words
    (
        "other",
        (
            "schedul",
            "legend",
            "leyend",
            "leggend",
            "legende",
            "abbreviat",
            "symbollist",
            "kozijnstaat",
            "fensterliste",
            "turliste",
            "zestawien",
            "forteckning",
        ),
        (
            "renvooi",
            "legenda",
            "verklaring",
            "notes",
            "note",
            "key",
            "tabelle",
            "tabla",
            "index",
            "revisions",
            "tableau",
            "abaco",
            "uwagi",
            "hinweise",
            "anm",
            "notas",
            "opmerkingen",
            "remarques",
        ),
    ),
    (
        "detail",
        ("detail", "dettagl", "detalj", "szczegol", "detalh", "reszlet", "detay"),
        ("detalle", "detalles", "detal", "detale", "typ"),
    ),
    (
        "section",
        (
            "schnitt",
            "doorsned",
            "przekroj",
            "seccion",
            "sezion",
            "crosssection",
            "snitt",
            "leikkaus",
            "sektion",
            "sectiun",
            "metszet",
            "presjek",
            "kesit",
        ),
        (
            "section",
            "sections",
            "coupe",
            "coupes",
            "corte",
            "cortes",
            "secao",
            "sectie",
            "rez",
            "snit",
        ),
    ),
    (
        "elevation",
        (
            "elevat",
            "elevac",
            "ansicht",
            "facad",
            "fachad",
            "fassad",
            "alzad",
            "prospett",
            "facciat",
            "gevel",
            "aanzicht",
            "elewacj",
            "fasad",
            "julkisivu",
            "aufriss",
            "pignon",
            "hastial",
            "fatad",
            "homlokzat",
            "gorunus",
            "procelj",
        ),
        ("elev", "elevs", "alcado", "alcados", "vista", "vue", "pohled", "opstalt", "view"),
    ),
    (
        "plan",
        (
            "grundriss",
            "plattegrond",
            "draufsicht",
            "aufsicht",
            "untersicht",
            "lageplan",
            "planimetr",
            "plangrund",
            "siteplan",
            "floorplan",
            "pohjapiirros",
            "pudorys",
            "alaprajz",
            "tlocrt",
        ),
        (
            "plan",
            "plans",
            "planta",
            "plantas",
            "pianta",
            "piante",
            "rzut",
            "plane",
            "layout",
            "situation",
            "toiture",
            "cubierta",
            "copertura",
            "etage",
            "rdc",
            "podorys",
            "planritning",
            "rez-de-chaussee",
        ),
    ),
)
"""Words of the trade by kind, the stronger kind first: a section of a plan is a section."""

_ABOVE = ("dakaanzicht", "bovenaanzicht", "dachansicht", "dachaufsicht")
"""Views from above whose names hold the word for an elevation."""
_NOT = (
    "abschnitt",
    "ausschnitt",
    "zuschnitt",
    "einschnitt",
    "hinsicht",
    "absicht",
    "nachsicht",
    "facadepanel",
)
"""Words that hold a stem by chance."""

_SIDES = frozenset(
    [
        "north",
        "south",
        "east",
        "west",
        "front",
        "rear",
        "back",
        "left",
        "right",
        "side",
        "nord",
        "sud",
        "ost",
        "oest",
        "ouest",
        "est",
        "norte",
        "sur",
        "este",
        "oeste",
        "frente",
        "nord",
        "sued",
        "norden",
        "sueden",
        "osten",
        "westen",
        "avant",
        "arriere",
        "gauche",
        "droite",
        "devant",
        "voor",
        "achter",
        "links",
        "rechts",
        "vorne",
        "hinten",
        "delantera",
        "trasera",
        "principal",
        "posterior",
        "anteriore",
        "posteriore",
        "street",
        "garden",
        "strasse",
        "garten",
        "rue",
        "jardin",
        "calle",
    ]
)
"""Sides of a building by which an elevation is called without being called so."""
_FLOORS = frozenset(
    [
        "floor",
        "ground",
        "first",
        "second",
        "third",
        "basement",
        "attic",
        "begane",
        "grond",
        "verdieping",
        "kelder",
        "zolder",
        "erdgeschoss",
        "obergeschoss",
        "dachgeschoss",
        "untergeschoss",
        "kellergeschoss",
        "keller",
        "eg",
        "og",
        "ug",
        "dg",
        "rez",
        "chaussee",
        "etage",
        "combles",
        "sous-sol",
        "baja",
        "primera",
        "segunda",
        "sotano",
        "terra",
        "primo",
        "secondo",
        "piano",
        "interrato",
    ]
)
"""Floors of a building by which a plan is called without being called so."""
_FILLERS = frozenset(
    [
        "the",
        "of",
        "a",
        "an",
        "la",
        "le",
        "les",
        "el",
        "los",
        "der",
        "die",
        "das",
        "il",
        "lo",
        "du",
        "des",
        "de",
        "di",
        "del",
        "and",
        "et",
        "und",
        "y",
        "e",
        "view",
        "no",
        "nr",
    ]
)

_ASIDE = frozenset(
    [
        "see",
        "siehe",
        "voir",
        "ver",
        "zie",
        "vedi",
        "vide",
        "per",
        "refer",
        "verify",
        "check",
        "as",
        "dimensions",
        "dims",
        "scale",
        "typical",
        "by",
        "to",
    ]
)
"""Words that no title begins with or holds: the text points to another drawing, or is a note."""

_UNSPREAD = str.maketrans({"ß": "ss", "ł": "l", "ø": "o", "æ": "ae", "ı": "i", "đ": "d"})
"""Letters that have no accent to be taken off."""

_LEVEL = re.compile(r"\d[.,]\d{2,3}\b|\d\s*['\"]|[±=]|\bel\.")
_WORD = re.compile(r"[a-z]+(?:-[a-z]+)*")
_SCALE = re.compile(
    r"\(?\b(?:scale|massstab|echelle|escala|scala|schaal|m|sc)?\.?\s*[:=]?\s*1\s*[:/]\s*\d+.*$|\d+/\d+\s*(?:\"|in).*=.*$",
    re.IGNORECASE,
)


def plain(text: str) -> str:
    """Lower case, accents removed, German umlauts kept apart from their vowels only where written
    so.

    Args:
        text: as it is written.

    Returns:
        The text as names are looked up.
    """
    spread = unicodedata.normalize("NFKD", text.lower().translate(_UNSPREAD))
    return "".join(c for c in spread if not unicodedata.combining(c))


@lru_cache(maxsize=4096)
def kind_named(text: str) -> tuple[ViewKind, bool] | None:
    """The kind of view that a title names.

    Args:
        text: a title as written; further lines (a scale, a number) are passed over.
    Returns:
        The kind, and whether it is named by its own word (not by a side or a floor alone); None
        where the text is no title.
    """
    first = _SCALE.sub("", plain(text.split("\n")[0])).strip(" .:-_")
    words = _WORD.findall(first)
    if (
        not words
        or len(words) > TITLE_WORDS
        or len(first) > TITLE_LETTERS
        or _LEVEL.search(first)
        or _ASIDE.intersection(words)
    ):
        return None
    if any(word in _ABOVE for word in words):
        return "plan", True
    for kind, stems, whole in _STEMS:
        if any(_names(word, stems, whole) for word in words):
            return kind, True
    meant = [w for w in words if w not in _FILLERS]
    if meant and all(w in _SIDES for w in meant):
        return "elevation", False
    if meant and all(w in _FLOORS for w in meant):
        return "plan", False
    return None


def _names(word: str, stems: Sequence[str], whole: Sequence[str]) -> bool:
    if word in whole:
        return True
    return any(stem in word for stem in stems) and not any(n in word for n in _NOT)


def titles_of(texts: Sequence[Text]) -> list[Title]:
    """The texts of a scene that are titles, in the order of the scene.

    A text whose words name a kind counts if it is no smaller than most; one that only names a side
    or a floor has to be larger than most. Where some are much larger than most texts, those count,
    and what is as high as other titles are: the sheet's own name may be the largest of all.

    Args:
        texts: all texts of the scene.

    Returns:
        Titles of views, and those that name something else.
    """
    heights = np.array([t.height for t in texts if t.height > 0.0])
    usual = 0.0
    if len(heights):
        few = len(heights) < TITLE_TEXTS
        usual = float(heights.min() if few else np.median(heights))
    found = []
    for number, text in enumerate(texts):
        named = kind_named(text.text)
        if named is None or text.height < 0.99 * usual:
            continue
        kind, sure = named
        if sure or text.height > 1.01 * usual:
            found.append(Title(kind, text.text.split("\n")[0], text.box, text.height, number, sure))
    high = Counter(round(t.height, 9) for t in found if t.sure)
    large = [
        t
        for t in found
        if t.height > TITLE_LARGER * usual or (t.sure and high[round(t.height, 9)] > 1)
    ]
    return large if any(t.height > TITLE_LARGER * usual for t in large) else found
