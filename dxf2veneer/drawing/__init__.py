"""Reading DXF: the only place that knows how a drawing file is laid out.

    load.py       the stages of reading in order; content.py what lies on the wanted layers
    survey.py     what a file holds before any layer is named; guess.py what a layer could be

    file/         a file's bytes to a document, whole or the part that matters, or one line why not
    entities/     model space and blocks to entities in their places, each entity to a path
    outlines/     paths to closed outlines; which of them the user points at
    unit.py       the unit in use, and whether its sizes make sense
    layers.py     layer names: which are wanted, which can be shown
    notice_collector.py  collecting notices; errors.py what stops a reading

``load_drawing`` gives the shapes and labels of the layers a job names; ``survey`` says what a file
holds before any layer is named. The DXF library is imported when one of them is called, so that
importing this package costs nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from dxf2veneer.drawing.errors import DrawingError, UnitMissingError
from dxf2veneer.drawing.layers import layer_matches

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

    from dxf2veneer.config.job import Job
    from dxf2veneer.drawing.outlines.picking import Face
    from dxf2veneer.drawing.survey import Survey
    from dxf2veneer.model import Drawing

__all__ = [
    "DrawingError",
    "UnitMissingError",
    "forget",
    "layer_matches",
    "list_faces",
    "load_drawing",
    "survey_drawing",
]


def forget(path: Path, document: Document) -> None:
    """Keep no document: the ``keep`` of a reading whose document nobody needs.

    Args:
        path: The file.
        document: The library's document.
    """


def load_drawing(
    path: Path, job: Job, index: int, keep: Callable[[Path, Document], None] = forget
) -> Drawing:
    """What a drawing holds on the job's layers. What can't be used is a notice of the drawing.

    Args:
        path: The DXF file.
        job: What to read, and how.
        index: Number of the drawing in the takeoff.
        keep: Given the library's document where the whole file had to be read and the job asks for
            a copy of it, so that it need not be read again.

    Returns:
        Shapes and labels in inches, layers, and notices.

    Raises:
        DrawingError: The file can't be read, has no unit, or holds nothing on any wall layer.
    """
    from dxf2veneer.drawing.load import load

    return load(path, job, index, keep)


def survey_drawing(path: Path, job: Job | None = None) -> Survey:
    """What a file holds: its layers, their content, size and probable meaning.

    Args:
        path: The DXF file.
        job: Its unit, scale, gap, code page and limits count; the defaults where it is left out.

    Returns:
        The survey; sizes and areas in drawing units.

    Raises:
        DrawingError: The file can't be read.
    """
    from dxf2veneer.drawing.survey import survey

    return survey(path, job)


def list_faces(path: Path, job: Job) -> list[Face]:
    """The faces that lines on the job's wall and opening layers bound.

    Args:
        path: The DXF file.
        job: Its layers, windows and gap count.

    Returns:
        The faces in drawing units, largest first.

    Raises:
        DrawingError: The file can't be read, or nothing lies on those layers.
    """
    from dxf2veneer.drawing.load import load_faces

    return load_faces(path, job)
