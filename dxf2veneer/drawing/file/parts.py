"""The parts of a text DXF file: its sections, blocks and entities, by where they stand.

    SECTION HEADER, TABLES ...  ENDSEC             head
    SECTION BLOCKS  BLOCK entity entity ENDBLK ... ENDSEC
    SECTION ENTITIES  entity entity ...  ENDSEC

An entity here is one with its own (a polyline's vertices, a reference's attributes, the end of
either). Where the file is not laid out like this to the letter, there are no parts, and it is
read whole.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from dxf2veneer.drawing.file.string_table import Integers, Mask, StringTable, string_table
from dxf2veneer.drawing.file.tags import (
    GROUP,
    HANDLE,
    LAYER,
    NAME,
    PAPER,
    STRUCTURE,
    SUBCLASS,
    TagTable,
    tags_of,
)

IN_SPACE = -1
"""Stands for model and paper space where a block's number would stand."""

_OWNED = (b"VERTEX", b"ATTRIB", b"SEQEND")
_NAMED_AT_ONCE = re.compile(rb"\s*2\s*")


class UnsureError(Exception):
    """The file can't be parted for sure."""


@dataclass(frozen=True)
class FileParts:
    """The entities of blocks and spaces in the order of the file, and the blocks.

    Columns have one item for each entity, those owned by another included.
    """

    content: bytes
    """The whole file."""
    head: bytes
    """What stands before blocks and entities, as a file of its own."""
    start: Integers
    """Where each entity begins in the file."""
    end: Integers
    """Where it ends."""
    kind: StringTable
    """Its DXF type."""
    layer: StringTable
    """The word is empty where the entity names no layer, or several."""
    sure: Mask
    """Whether the layer is sure."""
    name: StringTable
    """The block that a reference or a dimension names; empty where it names none, or several."""
    has_handle: Mask
    """Whether the entity has a handle."""
    paper: Mask
    """Whether the entity is marked as being in paper space."""
    block: Integers
    """Number of the block that the entity stands in, or IN_SPACE."""
    parent: Integers
    """Number of the entity that it belongs to, its own where it belongs to none."""
    blocks: tuple[bytes, ...]
    """Names of the blocks."""

    def kinds(self, *kinds: bytes) -> Mask:
        """Which entities are of these kinds."""
        return self.kind.among(*kinds)

    @property
    def own(self) -> Mask:
        """Which entities belong to no other."""
        own: Mask = self.parent == np.arange(len(self.parent))
        return own

    def any_of_group(self, mask: Mask) -> Mask:
        """For each entity whether the mask holds for it, its parent, or another of its parent's."""
        of_parent = np.zeros(len(mask), bool)
        of_parent[self.parent[mask]] = True
        return of_parent[self.parent]

    def holding(self, word: bytes) -> Mask:
        """Which entities hold a word anywhere."""
        at = [found.start() for found in re.finditer(re.escape(word), self.content)]
        which = np.searchsorted(self.start, np.array(at, np.int64), side="right") - 1
        held = np.zeros(len(self.start), bool)
        held[which[which >= 0]] = True
        return held

    def without(self, dropped: Mask) -> bytes:
        """The file's content without some entities."""
        cuts = np.flatnonzero(dropped)
        if not len(cuts):
            return self.content
        first = np.flatnonzero(
            np.concatenate(([True], self.start[cuts[1:]] != self.end[cuts[:-1]]))
        )
        last = np.concatenate((first[1:], [len(cuts)])) - 1
        kept_from = [0, *self.end[cuts[last]].tolist()]
        kept_to = [*self.start[cuts[first]].tolist(), len(self.content)]
        return b"".join(self.content[a:b] for a, b in zip(kept_from, kept_to, strict=True))


def parts_of(content: bytes) -> FileParts:
    """The parts of a text file.

    Args:
        content: The file's bytes.

    Returns:
        Its entities and blocks in columns, by where they stand.

    Raises:
        UnsureError: The file can't be parted for sure.
    """
    tags = tags_of(content)
    if tags is None:
        raise UnsureError
    structure = np.flatnonzero(tags.code == STRUCTURE)
    kind = string_table(content, tags.start[structure], tags.end[structure])
    sections = _sections(content, tags, structure, kind)
    order = [sections[s] for s in (b"BLOCKS", b"ENTITIES") if s in sections]
    if b"ENTITIES" not in sections or order != sorted(order):
        raise UnsureError
    block, blocks, inside = _blocks(content, tags, structure, kind, sections)
    rows = np.flatnonzero(inside)
    owner = np.cumsum(tags.code == STRUCTURE) - 1
    layer, sure = _layers(content, tags, structure, owner)
    begin, kind = tags.at[structure], kind.take(rows)
    return FileParts(
        content=content,
        head=content[: begin[order[0][0]]] + b"0\nEOF\n",
        start=begin[rows],
        end=begin[rows + 1],
        kind=kind,
        layer=layer.take(rows),
        sure=sure[rows],
        name=_one_word(content, tags, owner, len(structure), NAME).take(rows),
        has_handle=_has(tags, owner, len(structure), HANDLE)[rows],
        paper=_paper(content, tags, owner, len(structure))[rows],
        block=block[rows],
        parent=_parents(kind),
        blocks=blocks,
    )


def _sections(
    content: bytes, tags: TagTable, structure: Integers, kind: StringTable
) -> dict[bytes, tuple[int, int]]:
    """Number of the first and the last structure tag of each section."""
    marks = np.flatnonzero(kind.among(b"SECTION", b"ENDSEC", b"EOF")).tolist()
    found = [kind.all[kind.of[m]] for m in marks]
    pairs = len(marks) // 2
    if (
        found != [b"SECTION", b"ENDSEC"] * pairs + [b"EOF"]
        or marks[0] != 0
        or marks[-1] != len(kind.of) - 1
    ):
        raise UnsureError
    if any(b != a + 1 for a, b in zip(marks[1::2], marks[2::2], strict=True)):
        raise UnsureError
    sections: dict[bytes, tuple[int, int]] = {}
    for first, last in zip(marks[0:-1:2], marks[1::2], strict=True):
        name = _name_at_once(content, tags, int(structure[first]))
        if name in sections:
            raise UnsureError
        sections[name] = first, last
    return sections


def _name_at_once(content: bytes, tags: TagTable, tag: int) -> bytes:
    """The name that stands right after a structure tag."""
    following = tag + 1
    between = content[tags.end[tag] : tags.start[following]] if following < len(tags.code) else b""
    if not _NAMED_AT_ONCE.fullmatch(between):
        raise UnsureError
    return content[tags.start[following] : tags.end[following]]


def _blocks(
    content: bytes,
    tags: TagTable,
    structure: Integers,
    kind: StringTable,
    sections: dict[bytes, tuple[int, int]],
) -> tuple[Integers, tuple[bytes, ...], Mask]:
    """For each structure tag its block's number; the blocks' names; which tags are entities."""
    block = np.full(len(structure), IN_SPACE)
    inside = np.zeros(len(structure), bool)
    first, last = sections[b"ENTITIES"]
    inside[first + 1 : last] = True
    names: list[bytes] = []
    marks = np.flatnonzero(kind.among(b"BLOCK", b"ENDBLK")).tolist()
    starts, ends = marks[0::2], marks[1::2]
    first, last = sections.get(b"BLOCKS", (0, 0))
    expected = first + 1
    for number, (a, b) in enumerate(zip(starts, ends, strict=False)):
        if a != expected or b > last:
            raise UnsureError
        names.append(_block_name(content, tags, int(structure[a]), int(structure[a + 1])))
        block[a + 1 : b], inside[a + 1 : b] = number, True
        expected = b + 1
    kinds = [kind.all[kind.of[m]] for m in marks]
    if kinds != [b"BLOCK", b"ENDBLK"] * len(starts) or (b"BLOCKS" in sections and expected != last):
        raise UnsureError
    return block, tuple(names), inside


def _block_name(content: bytes, tags: TagTable, tag: int, following: int) -> bytes:
    """The one name of a block, whose tags are those up to the following structure tag."""
    named = [i for i in range(tag + 1, following) if tags.code[i] == NAME]
    if len(named) != 1 or tags.start[named[0]] == tags.end[named[0]]:
        raise UnsureError
    return content[tags.start[named[0]] : tags.end[named[0]]]


def _layers(
    content: bytes, tags: TagTable, structure: Integers, owner: Integers
) -> tuple[StringTable, Mask]:
    """The layer that each structure tag's entity names, and where that is sure.

    The library takes it from what stands before the second subclass marker, outside of an
    application's groups; an entity that names several layers is not sure.
    """
    word = _one_word(content, tags, owner, len(structure), LAYER)
    sure = word.where([bool(w) for w in word.all])
    tag = structure.copy()
    named = np.flatnonzero(tags.code == LAYER)
    tag[owner[named]] = named
    markers, groups = np.cumsum(tags.code == SUBCLASS), np.cumsum(tags.code == GROUP)
    sure &= (markers[tag] - markers[structure] <= 1) & ((groups[tag] - groups[structure]) % 2 == 0)
    return word, sure


def _one_word(
    content: bytes, tags: TagTable, owner: Integers, count: int, code: int
) -> StringTable:
    """The value with a code of each structure tag's entity; empty where it has none or several."""
    which = np.flatnonzero(tags.code == code)
    which = which[np.bincount(owner[which], minlength=count)[owner[which]] == 1]
    words = string_table(content, tags.start[which], tags.end[which])
    of = np.zeros(count, np.int64)
    of[owner[which]] = words.of + 1
    return StringTable(of, (b"", *words.all))


def _has(tags: TagTable, owner: Integers, count: int, code: int) -> Mask:
    """Whether each structure tag's entity has a tag of that code."""
    found = np.zeros(count, bool)
    found[owner[tags.code == code]] = True
    return found


def _paper(content: bytes, tags: TagTable, owner: Integers, count: int) -> Mask:
    """Which entities are marked as being in paper space."""
    which = np.flatnonzero(tags.code == PAPER)
    found = np.zeros(count, bool)
    marked = [
        content[a:b].strip() != b"0"
        for a, b in zip(tags.start[which].tolist(), tags.end[which].tolist(), strict=True)
    ]
    found[owner[which]] = marked
    return found


def _parents(kind: StringTable) -> Integers:
    owned = kind.among(*_OWNED)
    if len(owned) and owned[0]:
        raise UnsureError
    return (
        np.maximum.accumulate(np.where(owned, -1, np.arange(len(owned))))
        if len(owned)
        else np.arange(0)
    )
