"""The overlay: the user's drawing copied whole, with the takeoff drawn on layers of our own.

    source.dxf --read--> copy --take an earlier overlay out--> draw on our layers --> courses.dxf

The source is only read. What is written twice is byte for byte the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from ezdxf import options  # type: ignore[attr-defined]
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new
from ezdxf.lldxf.const import DXF12
from ezdxf.lldxf.validator import is_binary_dxf_file

from dxf2veneer.basics.messages import message
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.model import Drawing, Takeoff
from dxf2veneer.textio.whole_files import BLANK_SEAL, write_whole
from dxf2veneer.writers.overlay.content import draw
from dxf2veneer.writers.overlay.copy import DAMAGE, OverlayError, copy_of, one_line, text_boxes
from dxf2veneer.writers.overlay.day import day_words
from dxf2veneer.writers.overlay.layers import NAME_LENGTH, R12_NAME_LENGTH, layer_names
from dxf2veneer.writers.overlay.pen import Pen
from dxf2veneer.writers.texts import Box

__all__ = ["OverlayError", "write_overlay"]

_NEW_VERSION = "R2010"
_MARGIN = 1.2


def write_overlay(
    takeoff: Takeoff, drawing: Drawing, source: Path, path: Path, document: Document | None = None
) -> None:
    """Write the overlay of one drawing.

    A copy of ``source`` with every entity of it and our layers; with ``output.overlay_only`` just
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
    output, inches = takeoff.job.output, drawing.inches_per_unit
    if source.resolve() == path.resolve():
        raise OverlayError(message("overlay-over-drawing", file=str(path)))
    if output.overlay_only:
        doc, same_handles = _new(drawing, output.dxf_version or _NEW_VERSION), True
    else:
        doc, same_handles = copy_of(
            source,
            takeoff.job.drawing.encoding,
            version=output.dxf_version,
            inches_per_unit=inches,
            document=document,
        )
    _check_names(doc, source, output.layer_prefix)
    taken = [] if output.overlay_only else text_boxes(doc, inches)
    course = min(p.panel.height for p in takeoff.products)
    try:
        pen = Pen(
            doc,
            prefix=output.layer_prefix,
            inches_per_unit=inches,
            course_in=course,
            with_source=same_handles,
        )
    except DAMAGE as error:
        raise OverlayError(
            message("overlay-tables-damaged", file=str(source), reason=one_line(error))
        ) from error
    shown = draw(takeoff, drawing, pen, taken=taken, day=day_words(source.read_bytes()))
    pen.seal(BLANK_SEAL)
    if output.overlay_only and shown:
        _show(doc, shown, inches)
    binary = output.binary or (not output.overlay_only and is_binary_dxf_file(str(source)))
    try:
        with _same_bytes_always():
            write_whole(path, lambda part: _save(doc, part, binary=binary))
    except OSError:
        raise
    except DAMAGE as error:
        raise OverlayError(
            message("overlay-not-copied", file=str(source), reason=one_line(error))
        ) from error


def _check_names(doc: Document, source: Path, prefix: str) -> None:
    """Refuse a prefix whose layer names the drawing can't hold."""
    longest = max(map(len, layer_names(prefix).values()))
    is_old = doc.dxfversion <= DXF12
    room = R12_NAME_LENGTH if is_old else NAME_LENGTH
    if longest > room:
        raise OverlayError(
            message(
                "overlay-prefix-long",
                file=str(source),
                prefix=prefix[:room],
                old=is_old,
                most=room,
                over=longest - room,
            )
        )


def _new(drawing: Drawing, version: str) -> Document:
    """An empty drawing in the unit of the given one."""
    with _same_bytes_always():
        doc = new(version)
    doc.header["$INSUNITS"] = unit_by_name(drawing.units).code
    return doc


def _save(doc: Document, path: Path, *, binary: bool) -> None:
    """Write the drawing, a text drawing with the same line ends on every system."""
    if binary:
        doc.saveas(path, fmt="bin")
        return
    with path.open("w", encoding=doc.output_encoding, errors="dxfreplace", newline="\n") as file:
        doc.write(file)


def _show(doc: Document, box: Box, inches: float) -> None:
    """Set the view on opening to a box."""
    x0, y0, x1, y1 = box
    height = max(y1 - y0, (x1 - x0) / 2) * _MARGIN
    doc.set_modelspace_vport(height / inches, ((x0 + x1) / 2 / inches, (y0 + y1) / 2 / inches))


@contextmanager
def _same_bytes_always() -> Iterator[None]:
    """Fixed dates and ids in what is written, so that two runs can be compared."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
