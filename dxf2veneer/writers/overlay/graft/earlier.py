"""Where an earlier overlay stands in the bytes of a drawing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from dxf2veneer.drawing.entities.ours import APPID
from dxf2veneer.writers.overlay.graft.anatomy import Anatomy, Tag, tags, value_of

Span = tuple[int, int]
"""Where a stretch of bytes begins and ends."""

_OURS = APPID.encode()
_ENTITY = re.compile(rb"(?m)^[ \t]*0[ \t]*\r?\n[ \t]*([A-Za-z][A-Za-z0-9_]*)")
_OWNED = (b"VERTEX", b"ATTRIB", b"SEQEND")
_SEAL = re.compile(rb"[ \t]*999[ \t]*\r?\n[ \t]*dxf2veneer-[0-9a-f]{64}[ \t]*\r?\n")


def earlier_overlay(anatomy: Anatomy) -> list[Span]:
    """What is taken out before an overlay is drawn.

    Args:
        anatomy: The drawing.

    Returns:
        The stretches of an earlier overlay, in order: its seal, and every entity of model space
        that carries our extended data and still lies on the layer named in it.
    """
    seal = _SEAL.match(anatomy.content)
    spans = [seal.span()] if seal else []
    if anatomy.content.find(_OURS, *anatomy.entities) < 0:
        return spans
    return spans + [s for s in _entities(anatomy) if _is_ours(anatomy, s)]


def _entities(anatomy: Anatomy) -> Iterator[Span]:
    """Every entity, with the vertices and attributes that belong to it."""
    start, end = anatomy.entities
    begun: int | None = None
    for found in _ENTITY.finditer(anatomy.content, start, end):
        if found[1].upper() in _OWNED:
            continue
        if begun is not None:
            yield begun, found.start()
        begun = found.start()
    if begun is not None:
        yield begun, end


def _is_ours(anatomy: Anatomy, span: Span) -> bool:
    if anatomy.content.find(_OURS, *span) < 0:
        return False
    following = _ENTITY.search(anatomy.content, span[0] + 1, span[1])
    end = following.start() if following else span[1]
    entity = tuple(tags(anatomy.content, span[0], end))
    layer, paper = value_of(entity, 8), value_of(entity, 67)
    named = _layer_named(entity)
    if named is None or paper not in (None, b"0"):
        return False
    page = anatomy.page
    return (
        named.decode(page, "replace").casefold()
        == (layer or b"0").decode(page, "replace").casefold()
    )


def _layer_named(entity: tuple[Tag, ...]) -> bytes | None:
    """The layer that our extended data name."""
    application: bytes | None = None
    for tag in entity:
        if tag.code == 1001:
            application = tag.value
        elif tag.code == 1003 and application is not None and application.upper() == _OURS:
            return tag.value
    return None
