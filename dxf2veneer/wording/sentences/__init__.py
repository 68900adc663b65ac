"""The catalog of sentences: code of a message to its English, by subject.

How a sentence is written stands in ``wording/phrases.py``. A test holds the codes and the names of
values against every message that the package makes.
"""

from collections import ChainMap

from dxf2veneer.wording.phrases import Sentence
from dxf2veneer.wording.sentences import (
    advice,
    bid,
    courses,
    drawing,
    files,
    notices,
    order,
    overlays,
    pages,
    plan,
    proposals,
    revisions,
    running,
    settings,
    site,
    totals,
    walls,
)

_SUBJECTS = (
    drawing,
    walls,
    courses,
    advice,
    plan,
    totals,
    order,
    bid,
    settings,
    files,
    notices,
    overlays,
    pages,
    proposals,
    revisions,
    running,
    site,
)
SENTENCES: dict[str, Sentence] = dict(ChainMap(*(s.SENTENCES for s in _SUBJECTS)))
if len(SENTENCES) != sum(len(s.SENTENCES) for s in _SUBJECTS):
    raise ValueError("a message code has two sentences")

__all__ = ["SENTENCES"]
