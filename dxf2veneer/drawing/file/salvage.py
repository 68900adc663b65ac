"""A last try at a text file that neither reading nor repairing gets through: without the entities
that stop it.

The ENTITIES section is parted into entities (vertices and attributes stay with theirs). Those whose
own tags can't be read are left out first, which takes one pass however large the file; where that
is not enough, halves of the rest are tried until those that stop the reading are found, so that one
bad entity never costs the rest of the drawing.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable

from ezdxf.lldxf.const import DXFError
from ezdxf.lldxf.tagger import ascii_tags_loader, tag_compiler

from dxf2veneer.basics.tolerances import SALVAGE_BYTES, SALVAGE_TRIES

_FOLLOWERS = (b"VERTEX", b"ATTRIB", b"SEQEND")

Loads = Callable[[bytes], bool]
"""Whether the library gets through that content."""


class _TooManyTriesError(Exception):
    """The search for bad entities was given up."""


def without_bad_entities(content: bytes, loads: Loads) -> tuple[bytes, list[str]] | None:
    """The content without the entities that stop the reading.

    Args:
        content: Bytes of a text file.
        loads: Whether the library gets through some content.

    Returns:
        The content, and those entities by kind and handle. None where the file has no whole
        ENTITIES section, where something else stops it, or where there are too many to find.
    """
    parted = _part(content)
    if parted is None:
        return None
    before, entities, after = parted
    readable = [_has_readable_tags(e) for e in entities]
    sound = [e for e, is_readable in zip(entities, readable, strict=True) if is_readable]
    broken = [e for e, is_readable in zip(entities, readable, strict=True) if not is_readable]
    tries = 0

    def good(some: list[bytes]) -> bool:
        nonlocal tries
        tries += 1
        if tries > min(SALVAGE_TRIES, max(1, SALVAGE_BYTES // len(content))):
            raise _TooManyTriesError
        return loads(b"".join((before, *some, after)))

    def bad_of(some: list[bytes]) -> list[bytes]:
        if good(some):
            return []
        if len(some) == 1:
            return some
        half = len(some) // 2
        return bad_of(some[:half]) + bad_of(some[half:])

    try:
        if not good([]):
            return None
        bad = broken + bad_of(sound)
    except _TooManyTriesError:
        return None
    dropped = {id(e) for e in bad}
    kept = b"".join((before, *(e for e in entities if id(e) not in dropped), after))
    return (kept, [_named(e) for e in bad]) if bad and loads(kept) else None


def _part(content: bytes) -> tuple[bytes, list[bytes], bytes] | None:
    """What stands before the entities, the entities, and what stands after them."""
    section = re.search(rb"(?:^|\n)[ \t]*2[ \t]*\r?\n[ \t]*ENTITIES[ \t]*\r?\n", content)
    end = (
        re.compile(rb"[ \t]*0[ \t]*\r?\n[ \t]*ENDSEC").search(content, section.end())
        if section
        else None
    )
    if not section or not end:
        return None
    body = content[section.end() : end.start()]
    starts = [m.start() for m in re.finditer(rb"(?m)^[ \t]*0[ \t]*\r?\n(?=[ \t]*[A-Za-z])", body)]
    if not starts:
        return None
    pieces = [body[a:b] for a, b in zip(starts, [*starts[1:], len(body)], strict=True)]
    entities: list[bytes] = []
    for piece in pieces:
        if entities and _kind(piece) in _FOLLOWERS:
            entities[-1] += piece
        else:
            entities.append(piece)
    return content[: section.end()], entities, content[end.start() :]


def _has_readable_tags(entity: bytes) -> bool:
    """Whether every group code and value of an entity is of the form that it should have."""
    text = io.StringIO(entity.decode("latin-1"))
    try:
        for _ in tag_compiler(ascii_tags_loader(text)):
            pass
    except (DXFError, ValueError):
        return False
    return True


def _kind(entity: bytes) -> bytes:
    return entity.split(b"\n", 2)[1].strip().upper()


def _named(entity: bytes) -> str:
    handle = re.search(rb"(?m)^[ \t]*5[ \t]*\r?\n[ \t]*([0-9A-Fa-f]+)", entity)
    return _kind(entity).decode("ascii", "replace") + (
        f" {handle[1].decode('ascii')}" if handle else ""
    )
