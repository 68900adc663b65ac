"""The overlay: the user's drawing copied whole, with the takeoff drawn on layers of our own.

    source.dxf --take an earlier overlay out--> put what is drawn between its bytes --> courses.dxf

A binary drawing, and one that is asked for in another version or form, is read and written by the
library instead.

The source is only read. What is written twice is byte for byte the same.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Output
from dxf2veneer.config.limits import Limits
from dxf2veneer.drawing.file.form import is_binary
from dxf2veneer.drawing.file.nearby import written_near
from dxf2veneer.drawing.file.source import open_source
from dxf2veneer.model import Drawing, Takeoff
from dxf2veneer.textio.plain_files import read_plain, size_of
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.writers.overlay.content import draw
from dxf2veneer.writers.overlay.copy import (
    DAMAGE,
    OverlayError,
    copy_of,
    one_line,
    version_code,
)
from dxf2veneer.writers.overlay.day import day_words
from dxf2veneer.writers.overlay.graft.anatomy import Anatomy, anatomy_of
from dxf2veneer.writers.overlay.graft.donor import donor_of
from dxf2veneer.writers.overlay.graft.splice import Splice
from dxf2veneer.writers.overlay.ground import ground_of
from dxf2veneer.writers.overlay.layers import LAYERS, Key, Look, layer_names
from dxf2veneer.writers.overlay.legend import LEGEND_REACH
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.overlay.saving import check_names, same_bytes_always, save
from dxf2veneer.writers.texts import Box

__all__ = ["OverlayError", "write_overlay"]

_NEW_VERSION = "R2010"
_MARGIN = 1.2


def write_overlay(
    takeoff: Takeoff, drawing: Drawing, source: Path, path: Path, document: Document | None = None
) -> None:
    """Write the overlay of one drawing.

    A copy of ``source`` with every byte of it and our layers; with ``output.overlay_only`` just
    our layers, at the drawing's own coordinates and in its unit.

    Args:
        takeoff: The takeoff.
        drawing: The drawing.
        source: The drawing that is copied.
        path: The file to write.
        document: The source where it was read whole already; it is drawn into.

    Raises:
        OverlayError: The source can't be read or copied, or the drawing would be
            overwritten; nothing is left behind.
        OSError: Nothing can be written there.
    """
    write_drawn(takeoff, drawing, source, path, partial(draw, takeoff, drawing), LAYERS, document)


def write_drawn(
    takeoff: Takeoff,
    drawing: Drawing,
    source: Path,
    path: Path,
    draw_on: Callable[..., Box | None],
    looks: Mapping[Key, Look],
    document: Document | None = None,
) -> None:
    """Write a copy of a drawing with something drawn on layers of our own.

    Args:
        takeoff: The takeoff.
        drawing: The drawing.
        source: The drawing that is copied.
        path: The file to write.
        draw_on: Draws with a pen, the boxes that texts keep clear of as ``taken`` and what the
            title says of the date as ``day``; returns the box around what it drew.
        looks: The layers.
        document: The source where it was read whole already; it is drawn into.

    Raises:
        OverlayError: As ``write_overlay``.
        OSError: Nothing can be written there.
    """
    if source.resolve() == path.resolve():
        raise OverlayError(message("overlay-over-drawing", file=str(path)))
    job = takeoff.job
    names = list(layer_names(job.output.layer_prefix, looks).values())
    content = read_plain(source, sys.maxsize) if size_of(source) is not None else b""
    base = _base(takeoff, drawing, source, content, document, names)
    check_names(base.doc, source, job.output.layer_prefix, names)
    try:
        pen = Pen(
            base.doc,
            prefix=job.output.layer_prefix,
            inches_per_unit=drawing.inches_per_unit,
            course_in=min(p.panel.height for p in takeoff.products),
            with_source=base.same_handles,
            looks=looks,
        )
    except DAMAGE as error:
        raise OverlayError(
            message("overlay-tables-damaged", file=str(source), reason=one_line(error))
        ) from error
    shown = draw_on(pen, taken=base.taken, day=day_words(content))
    if job.output.overlay_only and shown:
        _show(base.doc, shown, drawing.inches_per_unit)
    try:
        with same_bytes_always():
            write_whole(path, _saving(base, pen, job.output, content, names))
    except OSError:
        raise
    except DAMAGE as error:
        raise OverlayError(
            message("overlay-not-copied", file=str(source), reason=one_line(error))
        ) from error


@dataclass(frozen=True)
class _Base:
    """What the overlay is drawn into."""

    doc: Document
    taken: Sequence[Box] = ()
    """Boxes in inches that texts keep clear of."""
    same_handles: bool = True
    """Whether entities have the handles that they have in the source."""
    anatomy: Anatomy | None = None
    """Of the bytes that what is drawn is put into; None where the document is written itself."""


def _base(
    takeoff: Takeoff,
    drawing: Drawing,
    source: Path,
    content: bytes,
    document: Document | None,
    names: Collection[str],
) -> _Base:
    """An empty drawing, one that is put into the source's bytes, or the source as a document."""
    output, encoding = takeoff.job.output, takeoff.job.drawing.encoding
    inches, limits = drawing.inches_per_unit, takeoff.job.limits
    if output.overlay_only:
        return _Base(_new(drawing, output.dxf_version or _NEW_VERSION))
    walls = [w.wall.box for w in takeoff.walls_of(drawing.index)]
    anatomy = kept_anatomy(content, output, encoding)
    if anatomy:
        doc = _written_near(source, content, encoding, walls, inches, limits)
        ground = ground_of(doc, inches, walls) if doc else ()
        return _Base(donor_of(anatomy, names), ground, anatomy=anatomy)
    doc, same_handles = copy_of(
        source,
        encoding,
        version=output.dxf_version,
        inches_per_unit=inches,
        limits=limits,
        document=document,
    )
    return _Base(doc, ground_of(doc, inches, walls), same_handles)


def kept_anatomy(content: bytes, output: Output, encoding: str | None) -> Anatomy | None:
    """Where things stand in a drawing whose bytes can be kept.

    Args:
        content: Its bytes.
        output: The version and form that are asked for.
        encoding: Its code page, where the user names one.

    Returns:
        The places; None where the copy has to be read and written by the library.
    """
    if output.binary or is_binary(content):
        return None
    anatomy = anatomy_of(content, encoding)
    asked = version_code(output.dxf_version) if output.dxf_version else None
    return anatomy if anatomy and asked in (None, anatomy.version) else None


def _written_near(
    source: Path,
    content: bytes,
    encoding: str | None,
    walls: Sequence[Box],
    inches: float,
    limits: Limits,
) -> Document | None:
    """What is written near the walls; the whole source where that can't be found alone."""
    if not walls:
        return None
    x0, y0, x1, y1 = (f(box[n] for box in walls) for n, f in enumerate((min, min, max, max)))
    reach = max(x1 - x0, y1 - y0)
    region = (x0 - reach, y0 - LEGEND_REACH * reach, x1 + reach, y1 + reach)
    x0, y0, x1, y1 = (v / inches for v in region)
    near = written_near(content, encoding, (x0, y0, x1, y1))
    if near is not None:
        return near
    try:
        return open_source(source, encoding, limits=limits).document
    except DAMAGE:
        return None


def _saving(
    base: _Base, pen: Pen, output: Output, content: bytes, names: Collection[str]
) -> Callable[[Path], None]:
    """What writes the file."""
    if base.anatomy:
        return Splice(base.anatomy, base.doc, names).write
    pen.seal(BLANK_SEAL)
    binary = output.binary or (not output.overlay_only and is_binary(content))
    return partial(save, base.doc, binary=binary)


def _new(drawing: Drawing, version: str) -> Document:
    """An empty drawing in the unit of the given one."""
    with same_bytes_always():
        doc = new(version)
    doc.header["$INSUNITS"] = unit_by_name(drawing.units).code
    return doc


def _show(doc: Document, box: Box, inches: float) -> None:
    """Set the view on opening to a box."""
    x0, y0, x1, y1 = box
    height = max(y1 - y0, (x1 - x0) / 2) * _MARGIN
    doc.set_modelspace_vport(height / inches, ((x0 + x1) / 2 / inches, (y0 + y1) / 2 / inches))
