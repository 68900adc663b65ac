"""Layer names by the open standard for drawings of buildings.

The United States National CAD Standard, version 5, layer guidelines (its form read in two
summaries): fields between hyphens, namely the discipline (a letter, and a second one that may
follow), the major group and up to two minor groups (four signs each), and the status (one sign,
which we use none of).
"""

from __future__ import annotations

import re

from dxf2veneer.basics.messages import Message, message

STANDARD = "United States National CAD Standard, version 5, layer guidelines"
"""The standard's name, as the docs give it."""
DISCIPLINES = "ABCDEFGHILMOPQRSTVWXZ"
"""The letters of disciplines, from memory; the names of twenty-one lists in a table of contents of
the standard agree."""
SURVEY = "V"
"""The letter of survey and mapping, which veneer is none of."""

_FIELD = r"[A-Z0-9~]{4}"
_PREFIX = re.compile(rf"[{DISCIPLINES}][A-Z]?-{_FIELD}(-{_FIELD})?")


def prefix_amiss(prefix: str) -> Message | None:
    """What is wrong with the beginning of a layer name behind which a minor group follows.

    Args:
        prefix: Such as ``A-ELEV-VENR``; upper and lower case alike.

    Returns:
        What breaks the standard's form or letters; None where nothing does.
    """
    name = prefix.upper()
    if not _PREFIX.fullmatch(name):
        return message("layer-form-broken", prefix=prefix)
    if name[0] == SURVEY:
        return message("layer-letter-of-survey", prefix=prefix)
    return None
