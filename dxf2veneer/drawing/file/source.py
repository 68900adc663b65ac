"""From a file's bytes to a document of the DXF library, or one line that says why not."""

from __future__ import annotations

import codecs
import hashlib
import io
import logging
import re
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ezdxf import recover
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import dxf_stream_info, read
from ezdxf.lldxf.const import DXFError
from ezdxf.lldxf.tagger import binary_tags_loader
from ezdxf.lldxf.validator import is_dxf_stream
from ezdxf.tools.codepage import is_supported_encoding

from dxf2veneer.basics.messages import Message, TakeoffError, message
from dxf2veneer.basics.tolerances import LIBRARY_TEXT_LETTERS
from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.drawing.file.columns import PlainEntities
from dxf2veneer.drawing.file.form import DWG, PDF, is_binary
from dxf2veneer.drawing.file.salvage import without_bad_entities
from dxf2veneer.drawing.file.skim import LeftOut, Skimmed, document_of
from dxf2veneer.drawing.file.weight import refuse_bombs, refuse_large
from dxf2veneer.textio.codepage import without_code_page
from dxf2veneer.textio.plain_files import NotPlainError, name_fault, read_plain

logging.getLogger("ezdxf").addHandler(
    logging.NullHandler()
)  # its warnings come to the user as notices

_DAMAGE = (Exception,)
"""What the library raises on damaged content: errors of many kinds, failed assertions of its own
among them."""

_NAMED_REPAIRS = 3
"""Repairs that a notice names; the others are only counted."""

Reduce = Callable[[bytes, str | None], Skimmed]
"""Leaves out of a file's content, given its code page if that is known, what need not be read."""


class _UnfitError(TakeoffError):
    """A document that the library gave lacks what every drawing has."""


@dataclass(frozen=True)
class SourceDocument:
    """A document that was read, the checksum of its file, and what had to be repaired."""

    document: Document
    """As the library gives it."""
    sha256: str
    """Checksum of the file."""
    repairs: Message | None
    """What was wrong and what was done about it; None where nothing was."""
    unit_code: int
    """The header's $INSUNITS; 0 where the file has none (the library would fill in its own)."""
    left_out: tuple[LeftOut, ...] = ()
    """What a sample left out."""
    size: int = 0
    """Bytes of the file."""
    is_whole: bool = False
    """Whether it is the whole file as the library reads it, nothing left out or repaired."""
    plain: PlainEntities | None = None
    """Entities of model space that the document lacks: they were read from the bytes."""

    @property
    def version(self) -> str:
        """The file's own version, such as AC1032."""
        return str(self.document.loaded_dxfversion or self.document.dxfversion)


def open_source(
    path: Path, encoding: str | None = None, reduce: Reduce | None = None, limits: Limits = Limits()
) -> SourceDocument:
    """Read a DXF file of any version, text or binary, repairing it where that can be done.

    Args:
        path: The file.
        encoding: Code page of an ASCII file, instead of the one it declares.
        reduce: Where given, only what it leaves of the file is read, if that is sure.
        limits: How large the file and its entities may be.

    Returns:
        The document and what there is to know of its file.

    Raises:
        DrawingError: The file can't be read.
    """
    refuse_large(path, limits)
    content = _bytes(path)
    _refuse_other_formats(path, content)
    refuse_bombs(path, content, limits)
    sha256 = hashlib.sha256(content).hexdigest()
    try:
        read = _partly(content, encoding, reduce) if reduce else None
    except DrawingError as error:
        raise DrawingError.of(path, error.message) from None
    if read is not None:
        document, rest = read
        code = _unit_code(document, content)
        return SourceDocument(
            document, sha256, None, code, rest.left_out, len(content), plain=rest.plain
        )
    document, repairs, is_whole = _whole(path, content, encoding)
    return SourceDocument(
        document,
        sha256,
        repairs,
        _unit_code(document, content),
        size=len(content),
        is_whole=is_whole,
    )


def _partly(
    content: bytes, encoding: str | None, reduce: Reduce
) -> tuple[Document, Skimmed] | None:
    """The document without some of its entities, and what was left of the file; None where the
    whole has to be read.

    Raises DrawingError where it is too much.
    """
    try:
        rest = reduce(content, encoding)
        document = _usable(document_of(rest.content, rest.encoding))
    except DrawingError:
        raise
    except _DAMAGE:
        return None  # what is wrong, if anything is, reading the whole will say
    return (document, rest) if len(document.modelspace()) == rest.in_model_space else None


def _whole(
    path: Path, content: bytes, encoding: str | None
) -> tuple[Document, Message | None, bool]:
    """The whole document, what was repaired, and whether it is the file as it stands."""
    try:
        return _usable(document_in(content, encoding)), _repeated(content), True
    except DrawingError as error:
        raise DrawingError.of(path, error.message) from None
    except _DAMAGE as error:
        reason = _reason(error)
    if is_binary(content):
        raise DrawingError.of(path, message("file-damaged", reason=reason))
    repaired = _repair(content, encoding)
    if isinstance(repaired, Message):
        raise DrawingError.of(path, message("file-beyond-repair", reason=repaired))
    document, repairs = repaired
    if not len(document.modelspace()):
        raise DrawingError.of(path, message("nothing-rescued", reason=reason))
    done = message(
        "file-repaired", reason=reason, n=len(repairs), first=tuple(repairs[:_NAMED_REPAIRS])
    )
    return document, done, False


def document_in(content: bytes, encoding: str | None) -> Document:
    """The whole document of a file, text or binary, as the library's ``readfile`` makes it.

    Args:
        content: The file's bytes.
        encoding: Code page of a text file, instead of the one it declares.

    Returns:
        The library's document. Whatever the library raises on damaged content comes through.

    Raises:
        DrawingError: It is no DXF file.
    """
    if is_binary(content):
        return Document.load(binary_tags_loader(content, errors="surrogateescape"))

    def text(page: str, errors: str) -> io.TextIOWrapper:
        return io.TextIOWrapper(io.BytesIO(content), page, errors)

    if not is_dxf_stream(text("utf-8", "ignore")):
        raise DrawingError(message("not-dxf"))
    page = encoding or dxf_stream_info(text("utf-8", "ignore")).encoding
    document = read(text(page, "surrogateescape"))
    if encoding is not None and is_supported_encoding(encoding):
        document.encoding = encoding
    return document


def _usable(document: Document) -> Document:
    """The document, if damage to its blocks has not cost it the model space."""
    try:
        document.modelspace()
    except KeyError:
        raise _UnfitError(message("no-model-space")) from None
    return document


def _repair(content: bytes, encoding: str | None) -> tuple[Document, list[Message]] | Message:
    """A repaired document and what was done, entities that stop it left out; or what is wrong."""
    plain = without_code_page(content, encoding)
    try:
        return _recovered(plain)
    except _DAMAGE as error:
        why = _reason(error)
    saved = without_bad_entities(plain, _loads)
    if saved is None:
        return why
    rest, dropped = saved
    document, repairs = _recovered(rest)
    return document, [message("entities-unreadable", entities=tuple(dropped)), *repairs]


def _recovered(content: bytes) -> tuple[Document, list[Message]]:
    document, auditor = recover.read(io.BytesIO(content))
    return _usable(document), [_quoted(e.message) for e in (*auditor.errors, *auditor.fixes)]


def _loads(content: bytes) -> bool:
    try:
        _recovered(content)
    except _DAMAGE:
        return False
    return True


def _unit_code(document: Document, content: bytes) -> int:
    code = document.header.get("$INSUNITS", 0) if b"$INSUNITS" in content else 0
    return code if isinstance(code, int) else 0


def _repeated(content: bytes) -> Message | None:
    """What to report of a text file with several ENTITIES sections: the library keeps the last."""
    count = len(re.findall(rb"\n[ \t]*2[ \t]*\r?\n[ \t]*ENTITIES[ \t]*\r?\n", content))
    return message("several-entities-sections", n=count) if count > 1 else None


def _bytes(path: Path) -> bytes:
    if not name_fault(path) and path.is_dir():
        raise DrawingError.of(path, message("is-folder"))
    try:
        return read_plain(path, sys.maxsize)
    except NotPlainError:
        raise DrawingError.of(path, message("no-plain-file")) from None
    except FileNotFoundError:
        raise DrawingError.of(path, message("no-such-file")) from None
    except OSError as error:
        reason = error.strerror or type(error).__name__
        raise DrawingError.of(path, message("file-unreadable", reason=reason)) from None


def _refuse_other_formats(path: Path, content: bytes) -> None:
    if not content.strip():
        raise DrawingError.of(path, message("file-empty"))
    if content.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise DrawingError.of(path, message("byte-order-mark"))
    if content.startswith(DWG):
        raise DrawingError.of(path, message("is-dwg"))
    if content.startswith(PDF):
        raise DrawingError.of(path, message("is-pdf"))


def _reason(error: BaseException) -> Message:
    """What stopped a reading, in the library's own words where it speaks of the file."""
    if isinstance(error, TakeoffError):
        return error.message
    if isinstance(error, (DXFError, ValueError)) and str(error).strip():
        return _quoted(str(error))
    return message("breaks-off")


def _quoted(text: str) -> Message:
    """The library's words, cut where they are long."""
    words = " ".join(text.split()).removeprefix("DXFStructureError: ")
    return message("library-says", text=words[:LIBRARY_TEXT_LETTERS])
