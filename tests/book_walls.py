"""Walls out of books: drawn, written as a DXF file, taken off with a unit of the book's size."""

from __future__ import annotations

from pathlib import Path as File

from builders import ROLES, as_path, drawing, write_dxf

from dxf2veneer.app.pipeline import take_off
from dxf2veneer.config.job import load_job
from dxf2veneer.geometry import Path
from dxf2veneer.model import Takeoff

FOOT = 12.0
METER = 1 / 0.0254
SQFT = FOOT**2
SQM = METER**2


def taken_off(
    folder: File,
    *,
    measure: float = FOOT,
    written: str = "in",
    unit: tuple[str, str] | None = None,
    job: str = "",
    texts=(),
    **outlines,
) -> Takeoff:
    """The takeoff of a drawing.

    Args:
        folder: Where its files are written.
        measure: Inches in the unit of length that the outlines are given in.
        written: The file's unit of length.
        unit: Height and length of the unit of masonry, as a product file writes them.
        job: More lines of the job file.
        texts: (role, text, (x, y)), in the outlines' unit of length.
        outlines: By role, as :func:`builders.drawing` takes them.
    """
    scaled = {role: [as_path(o).scaled(measure) for o in each] for role, each in outlines.items()}
    placed = [(role, text, (x * measure, y * measure)) for role, text, (x, y) in texts]
    file = write_dxf(drawing(texts=placed, **scaled), folder / "wall.dxf", units=written)
    text = "\n".join(("[layers]", *(f'{role} = "{role.upper()}"' for role in ROLES), job, ""))
    if unit:
        (folder / "unit.toml").write_text(
            f'[panel]\nheight = "{unit[0]}"\nlength = "{unit[1]}"\n'
            "[laying]\nstagger = 2\nleast_piece = 2\n[cap]\nheight = 2\n"
        )
        text += '[product]\nfile = "unit.toml"\n'
    if "[plan]" not in job:
        text += "[plan]\npanels = false\n"
    (folder / "job.toml").write_text(text)
    return take_off([file], load_job(folder / "job.toml"))


def box(x: float, y: float, width: float, height: float) -> tuple[float, float, float, float]:
    """A box by its lower left corner and its size."""
    return (x, y, x + width, y + height)


def upright(x: float, y0: float, y1: float) -> Path:
    """An upright line, such as a mark of a corner."""
    return Path.polygon([(x, y0), (x, y1)], closed=False)


def sides(height: float, *widths: float, ends: str = "D") -> dict[str, list]:
    """Elevations side by side with their corners marked, each tagged A, B, C, D on both sides.

    Args:
        height: Of all of them.
        widths: One each, three or four.
        ends: The tag at the first one's left and the last one's right end; without one there is no
            corner.
    """
    walls: list = []
    marks: list = []
    texts: list = []
    x = 0.0
    tags = (ends, *"ABC"[: len(widths) - 1], ends)
    for width, left, right in zip(widths, tags, tags[1:], strict=False):
        walls.append(box(x, 0, width, height))
        for at, tag, step in ((x, left, 0.5), (x + width, right, -0.5)):
            if tag:
                marks.append(upright(at, 0, height))
                texts.append(("outside_corner", tag, (at + step, height / 2)))
        x += width + 12
    return {"wall": walls, "outside_corner": marks, "texts": texts}


def units(takeoff: Takeoff, area: float | None = None) -> float:
    """Units of masonry by area, as books count them: of the whole net area, or of some."""
    return (takeoff.totals.net_area if area is None else area) / takeoff.product.coverage_area
