"""The overlay: the user's drawing copied whole, with the takeoff drawn on layers of our own.

    source.dxf --read--> copy --take an earlier overlay out--> draw on our layers --> courses.dxf

The source is only read. What is written twice is byte for byte the same.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from ezdxf import options, recover  # type: ignore[attr-defined]
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new, readfile
from ezdxf.lldxf.const import DXF12, DXFError
from ezdxf.lldxf.validator import is_binary_dxf_file

from dxf2veneer.codepage import without_code_page
from dxf2veneer.model import Drawing, Takeoff
from dxf2veneer.units import unit_by_name
from dxf2veneer.writers.files import write_whole
from dxf2veneer.writers.overlay_content import draw
from dxf2veneer.writers.overlay_layers import R12_NAME_LENGTH, layer_names
from dxf2veneer.writers.overlay_pen import Pen, remove_overlay

_NEW_VERSION = "R2010"
_MARGIN = 1.2

_DAMAGE = (DXFError, ValueError, LookupError, ArithmeticError, TypeError, AttributeError, RecursionError)
"""What the library raises on damaged content."""


class OverlayError(ValueError):
    """An overlay that can't be written; the message is one line for the user."""


def write_overlay(takeoff: Takeoff, drawing: Drawing, source: Path, path: Path) -> None:
    """Write the overlay of one drawing to ``path``.

    A copy of ``source`` with every entity of it and our layers; with ``output.overlay_only`` just
    our layers, at the drawing's own coordinates and in its unit. Raises OverlayError in one line
    where the source can't be read or copied, leaving nothing behind.
    """
    only = takeoff.job.output.overlay_only
    if source.resolve() == path.resolve():
        raise OverlayError(f"{path}: the overlay would overwrite the drawing itself; name another folder")
    doc = _new(drawing) if only else _copy(source, takeoff.job.drawing.encoding)
    prefix = takeoff.job.output.layer_prefix
    longest = max(map(len, layer_names(prefix).values()))
    if doc.dxfversion <= DXF12 and longest > R12_NAME_LENGTH:
        raise OverlayError(
            f"{source}: output.layer_prefix {prefix!r} is too long for an R12 drawing, whose layer names hold "
            f"{R12_NAME_LENGTH} characters; shorten it by {longest - R12_NAME_LENGTH}"
        )
    pen = Pen(doc, prefix=prefix, inches_per_unit=drawing.inches_per_unit, course_in=takeoff.product.panel.height)
    draw(takeoff, drawing, pen)
    if only:
        _show_all(doc, takeoff, drawing)
    binary = not only and is_binary_dxf_file(str(source))
    try:
        with _same_bytes_always():
            write_whole(path, lambda part: doc.saveas(part, fmt="bin" if binary else "asc"))
    except _DAMAGE as error:
        raise OverlayError(f"{source}: can't be copied ({error}); add --overlay-only to write just our layers") from error


def _new(drawing: Drawing) -> Document:
    """An empty drawing in the unit of the given one."""
    with _same_bytes_always():
        doc = new(_NEW_VERSION)
    doc.header["$INSUNITS"] = unit_by_name(drawing.units).code
    return doc


def _copy(source: Path, encoding: str | None) -> Document:
    """The source in memory, without an earlier overlay."""
    try:
        doc = _read(source, encoding)
    except (OSError, *_DAMAGE) as error:
        raise OverlayError(
            f"{source}: can't be copied whole ({' '.join(str(error).split())}); add --overlay-only to write just our layers"
        ) from error
    remove_overlay(doc)
    return doc


def _read(source: Path, encoding: str | None) -> Document:
    """The source, repaired if need be, in its code page if that is known better than from the file."""
    try:
        return readfile(str(source), encoding)
    except _DAMAGE:
        return recover.read(io.BytesIO(without_code_page(source.read_bytes(), encoding)))[0]


def _show_all(doc: Document, takeoff: Takeoff, drawing: Drawing) -> None:
    """Set the view on opening to the walls of the drawing."""
    boxes = [w.wall.box for w in takeoff.walls_of(drawing.index)]
    if not boxes:
        return
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    height = max(y1 - y0, (x1 - x0) / 2) * _MARGIN + 8 * takeoff.product.panel.height
    inches = drawing.inches_per_unit
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
