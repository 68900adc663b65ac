"""The user's drawing read and written by the library, where its bytes can't be kept: binary files,
another version or form asked for. Nothing of it is lost, or there is no copy."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from ezdxf.addons import r12export
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfentity import DXFTagStorage
from ezdxf.lldxf.const import DXF12, acad_release_to_dxf_version

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.basics.tolerances import ARC_SAGITTA_IN
from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.file.source import open_source
from dxf2veneer.writers.overlay.pen import remove_overlay

DAMAGE = (Exception,)
"""What the library raises on damaged content: errors of many kinds, failed assertions of its own
among them."""


class OverlayError(TakeoffError):
    """An overlay that can't be written."""


def one_line(error: Exception) -> str:
    """What the library says of a fault, in one line.

    Args:
        error: What it raised.

    Returns:
        Its text without line ends.
    """
    return " ".join(str(error).split())


def copy_of(
    source: Path,
    encoding: str | None,
    *,
    version: str | None,
    inches_per_unit: float,
    limits: Limits,
    document: Document | None = None,
) -> tuple[Document, bool]:
    """The source in memory, without an earlier overlay, in the wished version.

    Args:
        source: The drawing that is copied.
        encoding: Code page of the drawing where the job names one.
        version: A DXF release such as R2010; None for that of the source.
        inches_per_unit: Inches in one unit of the drawing.
        limits: How large the drawing may be.
        document: The source where it was read whole already; it is drawn into.

    Returns:
        The copy, and whether its entities still have the handles that they have in the source.

    Raises:
        OverlayError: It can't be read, or the version has no place for an entity of it.
    """
    try:
        doc = document or open_source(source, encoding, limits=limits).document
    except DAMAGE as error:
        raise OverlayError(
            message("overlay-not-copied-whole", file=str(source), reason=one_line(error))
        ) from error
    remove_overlay(doc)
    if version is None or doc.dxfversion == version_code(version):
        return doc, True
    lost = _lost(doc, version_code(version))
    if lost:
        listed = tuple(f"{count} {kind}" for kind, count in sorted(lost.items()))
        raise OverlayError(
            message("overlay-loses-entities", file=str(source), version=version, entities=listed)
        )
    if version_code(version) == DXF12:
        return r12export.convert(doc, max_sagitta=ARC_SAGITTA_IN / inches_per_unit), False
    doc.dxfversion = version_code(version)
    return doc, True


def version_code(version: str) -> str:
    """The DXF file's code of a release, such as AC1009 of R12.

    Args:
        version: A release such as R12.

    Returns:
        A code such as AC1009.
    """
    return str(acad_release_to_dxf_version[version])


def _lost(doc: Document, version: str) -> Counter[str]:
    """Entities, by type, that a version can't hold and for which there is no stand-in."""
    stand_ins = set(r12export.R12Exporter(doc).exporters) if version == DXF12 else set()
    entities = (e for block in doc.blocks for e in block)
    return Counter(
        e.dxftype()
        for e in entities
        if (
            version < e.MIN_DXF_VERSION_FOR_EXPORT
            or (version == DXF12 and isinstance(e, DXFTagStorage))
        )
        and e.dxftype() not in stand_ins
    )
