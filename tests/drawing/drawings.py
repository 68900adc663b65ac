"""Making DXF files for the tests of reading, and reading them back."""

from __future__ import annotations

from pathlib import Path

import ezdxf

from dxf2veneer.config.job import load_job
from dxf2veneer.drawing import load_drawing
from dxf2veneer.model import Drawing

VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")
WALL = {"layer": "A-WALL"}
OPENING = {"layer": "A-OPNG"}


def new(version: str = "R2018", units: int = 1):
    """An empty document in the unit of that $INSUNITS code (1: inches)."""
    document = ezdxf.new(version)
    document.header["$INSUNITS"] = units
    return document


def job(**settings):
    """A job with walls on A-WALL and openings on A-OPNG; settings are written section__key."""
    values = {"layers.wall": ("A-WALL",), "layers.opening": ("A-OPNG",)}
    values |= {k.replace("__", "."): v for k, v in settings.items()}
    return load_job(None, values)


def read(document, folder: Path, fmt: str = "asc", **settings) -> Drawing:
    """Save a document and read it with ``job``'s settings."""
    path = folder / "drawing.dxf"
    document.saveas(path, fmt=fmt)
    return load_drawing(path, job(**settings), 0)


def only_shape(drawing: Drawing):
    """The path of a drawing that holds one shape."""
    (shape,) = drawing.shapes
    return shape.path


def told(drawing: Drawing) -> list[str]:
    """The codes of a drawing's notices."""
    return [n.code for n in drawing.notices]


def sheet(entities: str, units: int = 1) -> str:
    """The text of a minimal DXF file round hand-written entities (code and value lines)."""
    lines = [
        "0",
        "SECTION",
        "2",
        "HEADER",
        "9",
        "$INSUNITS",
        "70",
        str(units),
        "0",
        "ENDSEC",
        "0",
        "SECTION",
        "2",
        "ENTITIES",
    ]
    return "\n".join([*lines, *entities.split(), "0", "ENDSEC", "0", "EOF", ""])


AS_MARKS = {"layers__cap": ("A-WALL",)}
"""Settings under which A-WALL holds marks too, so that its open lines stay lines."""
