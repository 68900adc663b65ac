"""From a file's bytes to a document of the DXF library, or one line that says why not."""

from __future__ import annotations

import codecs
import hashlib
import io
import logging
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from ezdxf import recover
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError

from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.drawing.file.form import DWG, PDF, is_binary
from dxf2veneer.drawing.file.salvage import without_bad_entities
from dxf2veneer.drawing.file.skim import LeftOut, Skimmed, document_of
from dxf2veneer.drawing.file.weight import refuse_bombs, refuse_large
from dxf2veneer.textio.codepage import without_code_page

logging.getLogger("ezdxf").addHandler(
    logging.NullHandler()
)  # its warnings come to the user as notices

_DAMAGE = (Exception,)
"""What the library raises on damaged content: errors of many kinds, failed assertions of its own among them."""

_ANEW = "save it anew as DXF from your CAD program"

Part = Callable[[bytes, str | None], Skimmed]
"""Leaves out of a file's content, given its code page if that is known, what need not be read."""


@dataclass(frozen=True)
class SourceDocument:
    """A document that was read, the checksum of its file, and what had to be repaired."""

    document: Document
    sha256: str
    repairs: str | None
    unit_code: int
    """The header's $INSUNITS; 0 where the file has none (the library would fill in its own)."""
    left_out: tuple[LeftOut, ...] = ()
    """What a sample left out."""
    size: int = 0
    """Bytes of the file."""
    is_whole: bool = False
    """Whether the document is the whole file as the library reads it, nothing left out and nothing repaired."""

    @property
    def version(self) -> str:
        """The file's own version, such as AC1032."""
        return str(self.document.loaded_dxfversion or self.document.dxfversion)


def open_source(
    path: Path, encoding: str | None = None, part: Part | None = None, limits: Limits = Limits()
) -> SourceDocument:
    """Read a DXF file of any version, text or binary, repairing it where that can be done.

    ``encoding`` is the code page of an ASCII file, instead of the one it declares. With ``part``, only
    what it leaves of the file is read, where that is sure. Raises DrawingError with one line where the file
    can't be read.
    """
    refuse_large(path, limits)
    content = _bytes(path)
    _refuse_other_formats(path, content)
    refuse_bombs(path, content, limits)
    sha256 = hashlib.sha256(content).hexdigest()
    try:
        read = _partly(content, encoding, part) if part else None
    except DrawingError as error:
        raise DrawingError(f"{path}: {error}") from None
    if read is not None:
        document, left_out = read
        return SourceDocument(document, sha256, None, _unit_code(document, content), left_out, len(content))
    try:
        document = _usable(readfile(path, encoding))
        return SourceDocument(
            document,
            sha256,
            _repeated(content),
            _unit_code(document, content),
            size=len(content),
            is_whole=True,
        )
    except OSError:
        raise DrawingError(
            f"{path}: this is no DXF file, or its beginning is damaged; save the drawing as DXF and give that file"
        ) from None
    except _DAMAGE as error:
        reason = _one_line(error)
    if is_binary(content):
        raise DrawingError(f"{path}: the file is damaged or cut short ({reason}); {_ANEW}")
    repaired = _repair(content, encoding)
    if isinstance(repaired, str):
        raise DrawingError(f"{path}: the file is damaged beyond repair ({repaired}); {_ANEW}")
    document, messages = repaired
    if not len(document.modelspace()):
        raise DrawingError(
            f"{path}: the file is damaged ({reason}) and nothing could be rescued; {_ANEW}"
        )
    return SourceDocument(
        document,
        sha256,
        _repairs(reason, messages),
        _unit_code(document, content),
        size=len(content),
    )


def _partly(
    content: bytes, encoding: str | None, part: Part
) -> tuple[Document, tuple[LeftOut, ...]] | None:
    """The document without some of its entities, and which; None where the whole has to be read.

    Raises DrawingError where it is too much.
    """
    try:
        rest = part(content, encoding)
        document = _usable(document_of(rest.content, rest.encoding))
    except DrawingError:
        raise
    except _DAMAGE:
        return None  # what is wrong, if anything is, reading the whole will say
    return (document, rest.left_out) if len(document.modelspace()) == rest.in_model_space else None


def _usable(document: Document) -> Document:
    """The document, if damage to its blocks has not cost it the model space."""
    try:
        document.modelspace()
    except KeyError:
        raise ValueError("it has no model space") from None
    return document


def _repair(content: bytes, encoding: str | None) -> tuple[Document, list[str]] | str:
    """A repaired document and what was done, entities that stop the reading left out; or what is wrong."""
    plain = without_code_page(content, encoding)
    try:
        return _recovered(plain)
    except _DAMAGE as error:
        why = _one_line(error)
    saved = without_bad_entities(plain, _loads)
    if saved is None:
        return why
    rest, dropped = saved
    document, messages = _recovered(rest)
    return document, [f"left out what can't be read: {', '.join(dropped)}", *messages]


def _recovered(content: bytes) -> tuple[Document, list[str]]:
    document, auditor = recover.read(io.BytesIO(content))
    return _usable(document), [e.message for e in (*auditor.errors, *auditor.fixes)]


def _loads(content: bytes) -> bool:
    try:
        _recovered(content)
    except _DAMAGE:
        return False
    return True


def _unit_code(document: Document, content: bytes) -> int:
    code = document.header.get("$INSUNITS", 0) if b"$INSUNITS" in content else 0
    return code if isinstance(code, int) else 0


def _repeated(content: bytes) -> str | None:
    """What to tell of a text file with several ENTITIES sections, of which the library keeps the last."""
    count = len(re.findall(rb"\n[ \t]*2[ \t]*\r?\n[ \t]*ENTITIES[ \t]*\r?\n", content))
    return (
        f"it holds {count} ENTITIES sections, of which only the last was read"
        if count > 1
        else None
    )


def _repairs(reason: str, messages: list[str]) -> str:
    """What was wrong and what was done about it, the first repairs by name."""
    named = "".join(f"; {' '.join(m.split())[:120]}" for m in messages[:3])
    return f"the file is damaged ({reason}); it was read with {len(messages)} repairs, and parts may be missing{named}"


def _bytes(path: Path) -> bytes:
    if path.is_dir():
        raise DrawingError(f"{path}: this is a folder; give a DXF file")
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise DrawingError(f"{path}: there is no such file") from None
    except OSError as error:
        raise DrawingError(
            f"{path}: can't be read ({error.strerror or type(error).__name__})"
        ) from None


def _refuse_other_formats(path: Path, content: bytes) -> None:
    if not content.strip():
        raise DrawingError(f"{path}: the file is empty; save the drawing as DXF again")
    if content.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise DrawingError(
            f"{path}: the file was saved by a text editor, with a byte-order mark before its text; {_ANEW}"
        )
    if content.startswith(DWG):
        raise DrawingError(
            f"{path}: this is a DWG file, whatever its name; save it as DXF in your CAD program and give that file"
        )
    if content.startswith(PDF):
        raise DrawingError(
            f"{path}: this is a PDF; a DXF file is needed, saved from the CAD program that made the drawing"
        )


def _one_line(error: BaseException) -> str:
    told = isinstance(
        error, (DXFError, ValueError)
    )  # other errors speak of the reader, not of the file
    text = " ".join(str(error).split()) if told else ""
    text = text or "it breaks off"
    return text.removeprefix("DXFStructureError: ")[:160]
