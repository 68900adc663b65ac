"""The copy of the user's drawing that the overlay is drawn into: nothing of it is lost, or there is
no copy."""

from __future__ import annotations

import io
import math
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from ezdxf import recover
from ezdxf.addons import r12export
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfentity import DXFEntity, DXFTagStorage
from ezdxf.entities.mtext import MText
from ezdxf.entities.text import Text
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXF12, acad_release_to_dxf_version
from ezdxf.tools.text import plain_mtext, plain_text

from dxf2veneer.basics.messages import TakeoffError, message
from dxf2veneer.basics.tolerances import ARC_SAGITTA_IN
from dxf2veneer.textio.codepage import without_code_page
from dxf2veneer.writers.overlay.pen import remove_overlay, tags_of
from dxf2veneer.writers.texts import LETTER_WIDTH, LINE_STEP, Box

DAMAGE = (Exception,)
"""What the library raises on damaged content: errors of many kinds, failed assertions of its own
among them."""


_LONGEST = 2_000
"""Characters, codes included, of a text whose box is kept free; a longer one gets the box of its
beginning."""

_PAD = 0.3
"""Room left around a text for letters that reach below its line, in its height."""


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
    document: Document | None = None,
) -> tuple[Document, bool]:
    """The source in memory, without an earlier overlay, in the wished version.

    Args:
        source: The drawing that is copied.
        encoding: Code page of the drawing where the job names one.
        version: A DXF release such as R2010; None for that of the source.
        inches_per_unit: Inches in one unit of the drawing.
        document: The source where it was read whole already; it is drawn into.

    Returns:
        The copy, and whether its entities still have the handles that they have in the source.

    Raises:
        OverlayError: It can't be read, or the version has no place for an entity of it.
    """
    try:
        doc = document or _read(source, encoding)
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


def _read(source: Path, encoding: str | None) -> Document:
    """The source, repaired if need be, in its code page if that is known better than from the
    file."""
    try:
        return readfile(str(source), encoding)
    except DAMAGE:
        return recover.read(io.BytesIO(without_code_page(source.read_bytes(), encoding)))[0]


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


def text_boxes(doc: Document, inches_per_unit: float) -> list[Box]:
    """Boxes in inches around the texts that show in a drawing's model space, a little larger than
    most fonts draw them.

    Args:
        doc: The drawing in memory.
        inches_per_unit: Inches in one unit of the drawing.

    Returns:
        The boxes.
    """
    hidden = {layer.dxf.name.lower() for layer in doc.layers if layer.is_off() or layer.is_frozen()}
    texts = (
        e
        for e in doc.modelspace()
        if isinstance(e, Text | MText) and e.dxf.layer.lower() not in hidden and not tags_of(e)
    )
    boxes = (box for e in texts for box in _box_of(e))
    return [
        (x0 * inches_per_unit, y0 * inches_per_unit, x1 * inches_per_unit, y1 * inches_per_unit)
        for x0, y0, x1, y1 in boxes
    ]


def _box_of(entity: DXFEntity) -> Iterator[Box]:
    """The box of one text; none where its numbers are unusable."""
    if isinstance(entity, MText):
        height, turn = entity.dxf.char_height, entity.dxf.rotation
        lines = plain_mtext(entity.text[:_LONGEST], split=True) or [""]
        x, y, _ = entity.dxf.insert
        row, column = divmod(
            entity.dxf.attachment_point - 1, 3
        )  # 1 top left .. 9 bottom right (DXF reference)
        share_x, share_y = column / 2, 1 - row / 2
        high = height * LINE_STEP * len(lines)
    elif isinstance(entity, Text):
        height, turn, lines = (
            entity.dxf.height,
            entity.dxf.rotation,
            [plain_text(entity.dxf.text[:_LONGEST])],
        )
        is_aligned = entity.dxf.halign or entity.dxf.valign
        place = (
            entity.dxf.align_point
            if is_aligned and entity.dxf.hasattr("align_point")
            else entity.dxf.insert
        )
        x, y, high = place.x, place.y, height
        share_x = {1: 0.5, 2: 1.0, 4: 0.5}.get(entity.dxf.halign, 0.0)
        share_y = {2: 0.5, 3: 1.0}.get(entity.dxf.valign, 0.5 if entity.dxf.halign == 4 else 0.0)
    wide, pad = LETTER_WIDTH * height * max(map(len, lines)), _PAD * height
    across, along = (
        (-share_x * wide - pad, (1 - share_x) * wide),
        (-share_y * high - pad, (1 - share_y) * high + pad),
    )
    corners = [(dx, dy) for dx in across for dy in along]
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    xs = [x + dx * cos - dy * sin for dx, dy in corners]
    ys = [y + dx * sin + dy * cos for dx, dy in corners]
    box = (min(xs), min(ys), max(xs), max(ys))
    if all(map(math.isfinite, box)):
        yield box
