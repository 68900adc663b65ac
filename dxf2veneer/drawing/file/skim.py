"""A drawing's file without the entities that a reading would pass over.

Whatever is not certainly passed over stays: entities of rare kinds, those whose layer is not
sure, those on no layer. So the walk over what is left finds, reports and orders everything as it
would in the whole. Left out are entities on other layers than the wanted ones, content of blocks
that takes its layer from references on other layers, and references whose blocks hold nothing
wanted. One entity stays for each layer that the file's table of layers lacks.

A drawing without these parts is never saved.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import dxf_stream_info, read

from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.file.columns import PlainEntities
from dxf2veneer.drawing.file.parts import IN_SPACE, FileParts, UnsureError, parts_of
from dxf2veneer.drawing.file.references import Names, leading
from dxf2veneer.drawing.file.string_table import Mask
from dxf2veneer.drawing.file.weight import refuse_many
from dxf2veneer.drawing.layers import clean_text

PLAIN = (
    b"3DFACE", b"ARC", b"ATTDEF", b"ATTRIB", b"CIRCLE", b"DIMENSION", b"ELLIPSE", b"HATCH",
    b"IMAGE", b"INSERT", b"LEADER", b"LINE", b"LWPOLYLINE", b"MTEXT", b"POINT", b"POLYLINE",
    b"RAY", b"SOLID", b"SPLINE", b"TEXT", b"TRACE", b"XLINE",
)  # fmt: skip
"""The kinds that may be left out: those whose layer the library reads as it stands in the file."""

_STATELESS = (
    "ascii",
    "utf-8",
    "latin-1",
    "iso8859",
    "cp",
    "gb",
    "big5",
    "euc",
    "shift_jis",
    "johab",
    "koi8",
    "mac",
)
"""Beginnings of names of code pages in which a line's end is one byte after any other."""


@dataclass(frozen=True)
class LeftOut:
    """How many entities of one layer and kind were left out although they are asked for."""

    layer: str
    """The layer that they name."""
    kind: str
    """Their DXF type."""
    count: int
    """How many there are."""


@dataclass(frozen=True)
class Skimmed:
    """What is left of a file, its code page, and how many entities model space must hold."""

    content: bytes
    """A file of its own."""
    encoding: str
    """Its code page."""
    in_model_space: int
    """Entities that model space must hold when it is read."""
    left_out: tuple[LeftOut, ...] = ()
    """What is asked for and was left out."""
    plain: PlainEntities | None = None
    """Entities that were read from the bytes and left out."""


@dataclass(frozen=True)
class Opened:
    """A file in parts, its code page, its layers by name, and which of its table are hidden."""

    parts: FileParts
    """Its entities and blocks."""
    page: str
    """Its code page."""
    layers: list[str]
    """Names in the order of ``parts.layer.all``."""
    hidden: dict[str, bool]
    """By lower-case name whether a layer of the table is off or frozen."""
    names: Names
    """Names of blocks."""


def skim(
    content: bytes, encoding: str | None, wanted: Callable[[str], bool], most: int = Limits().named
) -> Skimmed:
    """The file without what a reading of the wanted layers passes over.

    Args:
        content: The file's bytes.
        encoding: Its code page, where the user names one.
        wanted: Whether a layer is one to be read.
        most: How many entities may lie on those layers.

    Returns:
        What is left of the file.

    Raises:
        DrawingError: More entities lie on the wanted layers.
        UnsureError: What is passed over can't be told; so does whatever the library raises on
            damaged content.
    """
    file = opened(content, encoding)
    parts = file.parts
    on_wanted = parts.layer.where([bool(name) and wanted(name) for name in file.layers])
    refuse_many(int((on_wanted & parts.own).sum()), most)
    takes = parts.layer.where([name in ("0", "") for name in file.layers])
    doubtful = ~parts.sure | ~parts.kinds(*PLAIN)
    kept = on_wanted | doubtful | leading(parts, file.names, on_wanted | doubtful, takes | doubtful)
    kept |= _only_ones(file)
    return without(parts, file.page, ~kept[parts.parent])


def parted(content: bytes, encoding: str | None) -> tuple[FileParts, str]:
    """A text file in parts, and its code page.

    Args:
        content: The file's bytes.
        encoding: Its code page, where the user names one.

    Returns:
        Both.

    Raises:
        UnsureError: It can't be parted for sure; so does whatever the library raises on damaged
            content.
    """
    parts = parts_of(content)
    page = encoding or _code_page(parts.head)
    if not page.lower().startswith(_STATELESS):
        raise UnsureError
    return parts, page


def opened(content: bytes, encoding: str | None) -> Opened:
    """A text file in parts, with what its tables say.

    Args:
        content: The file's bytes.
        encoding: Its code page, where the user names one.

    Returns:
        The parts, with names decoded.

    Raises:
        UnsureError: It can't be parted for sure; so does whatever the library raises on damaged
            content.
    """
    parts, page = parted(content, encoding)
    head = document_of(parts.head, page)
    hidden = {
        clean_text(layer.dxf.get("name", "")).lower(): layer.is_off() or layer.is_frozen()
        for layer in head.layers
    }
    lower = (
        [_decoded(word, page).lower() for word in words] for words in (parts.name.all, parts.blocks)
    )
    return Opened(
        parts,
        page,
        [_decoded(word, page) for word in parts.layer.all],
        hidden,
        Names(parts.name, *lower),
    )


def without(
    parts: FileParts, page: str, dropped: Mask, left_out: tuple[LeftOut, ...] = ()
) -> Skimmed:
    """The file without some entities.

    Args:
        parts: The file in parts.
        page: Its code page.
        dropped: Which entities go.
        left_out: What is asked for among them.

    Returns:
        What is left of the file.

    Raises:
        UnsureError: The others would not be read as they are.
    """
    kept = ~dropped
    if not parts.has_handle[kept & (parts.own | parts.kinds(b"ATTRIB"))].all():
        raise UnsureError  # the library numbers such entities in the order of the file
    in_space = kept & parts.own & (parts.block == IN_SPACE) & ~parts.paper
    return Skimmed(parts.without(dropped), page, int(in_space.sum()), left_out)


def document_of(content: bytes, page: str) -> Document:
    """The document of a text file's content.

    Args:
        content: Bytes of the file.
        page: Its code page.

    Returns:
        The library's document. Whatever the library raises on damaged content comes through.
    """
    return read(io.TextIOWrapper(io.BytesIO(content), page, "surrogateescape"))


def _code_page(head: bytes) -> str:
    return dxf_stream_info(io.TextIOWrapper(io.BytesIO(head), "utf-8", "ignore")).encoding


def _decoded(word: bytes, page: str) -> str:
    return clean_text(word.decode(page, "surrogateescape"))


def _only_ones(file: Opened) -> Mask:
    """The first entity of each layer that no table has, outside and inside paper space."""
    parts = file.parts
    kept = np.zeros(len(parts.start), bool)
    undeclared = parts.layer.where(
        [bool(name) and name.lower() not in file.hidden for name in file.layers]
    )
    in_layout = np.array(
        [name.startswith(("*paper_space", "*model_space")) for name in file.names.blocks] + [False]
    )
    candidates = undeclared & ~in_layout[parts.block] & parts.own
    for paper in (False, True):
        found = np.flatnonzero(candidates & (parts.paper == paper))[::-1]
        first = np.full(len(file.layers), -1)
        first[parts.layer.of[found]] = found
        kept[first[first >= 0]] = True
    return kept
