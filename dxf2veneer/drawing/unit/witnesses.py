"""What in a document speaks of its unit: dimensions, texts, outlines, read as evidence."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from ezdxf.document import Drawing as Document
from ezdxf.math import Matrix44, Vec3
from ezdxf.tools.text import plain_mtext

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.tolerances import EVIDENCE_ITEMS
from dxf2veneer.drawing.entities.blocks import own_layer
from dxf2veneer.drawing.entities.kinds import BAD_DATA, label_of
from dxf2veneer.drawing.layers import clean_text
from dxf2veneer.drawing.unit.evidence import (
    STRENGTH,
    Evidence,
    Finding,
    Outline,
    of_dimension,
    of_height,
    of_outlines,
    of_text,
)
from dxf2veneer.model import LayerState

WITNESSES = ("DIMENSION", "TEXT", "MTEXT")
"""Kinds of entities in model space that can speak of the unit."""

_LENGTHS = (0, 1, 3, 4)
"""Types of dimension: linear, aligned, diameter, radius (DXF reference, DIMENSION)."""

_LONGEST_QUOTE = 60
"""Letters of a text that are quoted."""


def gather(
    document: Document,
    states: Mapping[str, LayerState],
    outlines: Sequence[Outline],
    highest: float,
    scale: float,
) -> Finding:
    """All the evidence of a drawing.

    Args:
        document: The drawing.
        states: Its layers by lower-case name.
        outlines: Closed outlines, in drawing units.
        highest: Height of the highest wall, in drawing units.
        scale: The drawing's scale.

    Returns:
        The evidence, the strongest first.
    """
    found = [
        *_read(document, states, scale),
        *of_outlines(outlines, scale),
        *of_height(highest * scale),
    ]
    return Finding(tuple(sorted(found, key=lambda e: STRENGTH.index(e.source))), highest * scale)


def _read(document: Document, states: Mapping[str, LayerState], scale: float) -> Iterable[Evidence]:
    """Evidence of the dimensions and texts in model space on layers that are shown."""
    left = dict.fromkeys(WITNESSES, EVIDENCE_ITEMS)
    readers: dict[str, Callable[[Any], Evidence | None]] = {
        "DIMENSION": lambda e: _dimension(e, scale)
    }
    for entity in document.modelspace():
        kind = entity.dxftype()
        if not left.get(kind):
            continue
        state = states.get(own_layer(entity).lower())
        if state is not None and state.is_hidden:
            continue
        left[kind] -= 1
        try:
            item = readers.get(kind, _text)(entity)
        except BAD_DATA:
            continue  # it is reported where it is measured; here it is only one witness less
        if item is not None:
            yield item


def _text(entity: Any) -> Evidence | None:
    text, at = label_of(entity, Matrix44())
    said = of_text(text)
    return (
        Evidence(*said, message("evidence-text", text=_quoted(text)), entity.dxf.handle or "", at)
        if said
        else None
    )


def _dimension(entity: Any, scale: float) -> Evidence | None:
    if entity.dimtype not in _LENGTHS:
        return None
    text, measured = _shown_text(entity), abs(float(entity.get_measurement()))
    units = of_dimension(text, measured * scale)
    at = Vec3(entity.dxf.get("text_midpoint", entity.dxf.get("defpoint", (0, 0, 0))))
    what = message("evidence-dimension", length=measured, text=_quoted(text))
    return (
        Evidence("dimension", units, what, entity.dxf.handle or "", (at.x, at.y)) if units else None
    )


def _shown_text(entity: Any) -> str:
    """The text a person reads: the user's, else that of the block that draws the dimension."""
    own = str(entity.dxf.get("text", ""))
    if own.strip() and "<>" not in own:
        return " ".join(str(plain_mtext(own)).split())
    block = entity.get_geometry_block()
    return next(
        (label_of(e, Matrix44())[0] for e in block or () if e.dxftype() in ("MTEXT", "TEXT")), ""
    )


def _quoted(text: str) -> str:
    """The text, cut where it is long."""
    short = clean_text(text)
    return short if len(short) <= _LONGEST_QUOTE else short[: _LONGEST_QUOTE - 3] + "…"
