"""Reading DXF: the only place that knows how a drawing file is laid out.

    load.py       the stages of reading in order; content.py what lies on the wanted layers
    survey.py     what a file holds before any layer is named; guess.py what a layer could be

    file/         a file's bytes to a document, whole or the part that matters, or one line why not
    entities/     model space and blocks to entities in their places, each entity to a path
    outlines/     paths to closed outlines; which of them the user points at
    unit/         the unit in use; what else in the drawing tells of it
    layers.py     layer names: which are wanted, which can be shown
    telling.py    collecting notices; errors.py what stops a reading

``load_drawing`` gives the shapes and labels of the layers a job names; ``survey`` tells what a file
holds before any layer is named. The DXF library is imported when one of them is called, so that
importing this package costs nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from dxf2veneer.drawing.errors import DrawingError
from dxf2veneer.drawing.layers import layer_matches

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

    from dxf2veneer.config.job import Job
    from dxf2veneer.drawing.outlines.picking import Face
    from dxf2veneer.drawing.survey import Survey
    from dxf2veneer.model import Drawing

__all__ = [
    "DrawingError",
    "forget",
    "layer_matches",
    "list_faces",
    "load_drawing",
    "survey_drawing",
]


def forget(path: Path, document: Document) -> None:
    """Keep no document."""


def load_drawing(
    path: Path, job: Job, index: int, keep: Callable[[Path, Document], None] = forget
) -> Drawing:
    """The shapes and labels on the job's layers, in inches; ``index`` numbers the drawing.

    Raises DrawingError with one line where the file can't be read, has no unit, or holds nothing
    on any wall layer. Everything smaller is a notice of the drawing. ``keep`` is given the library's document
    where the whole file had to be read and the job asks for a copy of it, so that it need not be read again.
    """
    from dxf2veneer.drawing.load import load

    return load(path, job, index, keep)


def survey_drawing(path: Path, job: Job | None = None) -> Survey:
    """What a file holds: its layers, their content, size and probable meaning.

    Raises DrawingError with one line where the file can't be read.
    """
    from dxf2veneer.drawing.survey import survey

    return survey(path, job)


def list_faces(path: Path, job: Job) -> list[Face]:
    """The faces that lines on the job's wall and opening layers bound, in drawing units, largest first.

    Raises DrawingError with one line where the file can't be read or nothing lies on those layers.
    """
    from dxf2veneer.drawing.load import load_faces

    return load_faces(path, job)
