"""Builders that tests share: drawings as values, drawings as files, jobs, a product.

Layers are named after their role: outlines under ``wall=`` lie on layer WALL, and JOB reads it as
walls. An outline is a box (x0, y0, x1, y1), a list of corners, or a Path. All sizes are inches and
our own.
"""

from __future__ import annotations

import dataclasses
import random
from pathlib import Path as File

import ezdxf

from dxf2veneer.basics.messages import Message, message
from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job, Layers, Planning, with_settings
from dxf2veneer.config.product import About, Cap, CornerPanel, Laying, Panel, Product
from dxf2veneer.coursing.bands import course_wall
from dxf2veneer.coursing.choice import start_tables
from dxf2veneer.coursing.groups import course_groups
from dxf2veneer.coursing.notices import wall_notices
from dxf2veneer.coursing.search import search_start
from dxf2veneer.geometry import Path
from dxf2veneer.measure import measure_wall
from dxf2veneer.model import Drawing, Label, Shape, WallTakeoff
from dxf2veneer.recognise import recognise

ROLES = tuple(f.name for f in dataclasses.fields(Layers))
_PLAIN = {"look": "off", "tolerance": 0.0}
_STILL = {"offcuts": "job"} | {k: v for k, v in _PLAIN.items() if hasattr(Planning, k)}
"""Most tests of plans are about panels, not about looks or errors on site, so joints stay where
they are, and offcuts go anywhere; benchmarks lay houses by older code too, which knows no other
way."""
JOB = Job(
    layers=Layers(**{role: (role.upper(),) for role in ROLES}),
    plan=Planning(**_STILL),
)
PRODUCT = Product(
    File("test.toml"),
    About("test panel", "invented"),
    Panel(36.0, 8.0),
    CornerPanel(36.0),
    Laying(8.0, 8.0),
    Cap(2.25),
)

ARCH = Path(((80.0, 0.0, 0.0), (116.0, 0.0, 0.0), (116.0, 60.0, 1.0), (80.0, 60.0, 0.0)))
"""A door 36 wide, 60 to the springing, with a half-round head of radius 18 (bulge 1): top at 78."""


def as_written(text: str) -> Message:
    """A message whose line is the text, for tests that only look where a message goes."""
    return message("as-written", text=text)


def job(**changes) -> Job:
    """JOB with settings changed: ``job(trim__head=8.0)``."""
    return with_settings(JOB, **changes)


def as_path(outline) -> Path:
    """A box of four numbers, a list of corners, or a Path."""
    if isinstance(outline, Path):
        return outline
    if len(outline) == 4 and all(isinstance(v, int | float) for v in outline):
        return Path.box_of(*outline)
    return Path.polygon(outline)


def line(x0: float, y0: float, x1: float, y1: float) -> Path:
    """An open straight line: a corner mark, a cap, a level line."""
    return Path.polygon([(x0, y0), (x1, y1)], closed=False)


def drawing(*, index: int = 0, file: str = "front.dxf", texts=(), **outlines) -> Drawing:
    """A drawing of outlines by role, and of texts (role, text, (x, y)). Handles are WALL1, WALL2,
    …
    """
    shapes = [
        Shape(as_path(o), role.upper(), f"{role.upper()}{i}", "LWPOLYLINE")
        for role, listed in outlines.items()
        for i, o in enumerate(listed, 1)
    ]
    labels = tuple(
        Label(text, at, role.upper(), f"T{i}") for i, (role, text, at) in enumerate(texts, 1)
    )
    return Drawing(index, file, "0" * 64, "AC1032", "in", "header", 1.0, tuple(shapes), labels, ())


def example_wall() -> Drawing:
    """The wall of docs/order-example.md."""
    return drawing(
        wall=[(0, 0, 240, 74.25)],
        window=[(60, 30, 96, 54)],
        door=[(140, 0, 176, 60)],
        fixture=[(200, 40, 208, 52)],
        outside_corner=[line(0, 0, 0, 74.25)],
        cap=[line(0, 74.25, 240, 74.25)],
    )


def shuffled(original: Drawing, seed: int) -> Drawing:
    """The same drawing with its entities in another order."""
    order = random.Random(seed)
    shapes, labels = list(original.shapes), list(original.labels)
    order.shuffle(shapes)
    order.shuffle(labels)
    return dataclasses.replace(original, shapes=tuple(shapes), labels=tuple(labels))


def walls_of(*drawings: Drawing, job: Job = JOB):
    """The recognised walls."""
    return recognise(drawings, job).walls


def only_wall(one: Drawing, job: Job = JOB):
    """The one wall of a drawing."""
    (wall,) = walls_of(one, job=job)
    return wall


def codes(one: Drawing, job: Job = JOB) -> list[str]:
    """Codes of the notices about a drawing, sorted."""
    return sorted(n.code for n in recognise([one], job).notices)


def measured(one: Drawing, job: Job = JOB):
    """The measured quantities of the drawing's one wall."""
    return measure_wall(only_wall(one, job), job, PRODUCT)


def coursed(one: Drawing, job: Job = JOB):
    """The courses of the drawing's one wall, and the notices about them."""
    quantities = measured(one, job)
    courses = course_wall(quantities, job, PRODUCT)
    laid = WallTakeoff(quantities.wall, quantities, courses)
    return courses, list(wall_notices(laid, PRODUCT.panel.height))


def tables_of(walls, corners, job=JOB, panels_of=None):
    """The tables of starts of measured walls; where the best is asked for, ``panels_of`` says what
    a plan takes with each of the starts that tie."""
    searches = [search_start(group) for group in course_groups(walls, corners, job, PRODUCT)]
    best = job.courses.start == "best"
    panels = {
        s.group.walls: {start: panels_of(s.group.walls, start) for start in s.tied}
        for s in searches
        if best and panels_of and len(s.tied) > 1
    }
    return start_tables(searches, panels, takes_best=best)


def write_dxf(
    source: Drawing, file: File, *, units: str | None = "in", version: str = "R2018"
) -> File:
    """The drawing as a DXF file in that unit (None: a file that names no unit, drawn in inches)."""
    document = ezdxf.new(version)
    document.header["$INSUNITS"] = unit_by_name(units).code if units else 0
    factor = 1.0 / unit_by_name(units or "in").inches
    space = document.modelspace()
    for name in sorted({s.layer for s in source.shapes} | {t.layer for t in source.labels}):
        document.layers.add(name)
    add = space.add_polyline2d if version == "R12" else space.add_lwpolyline
    for shape in source.shapes:
        path = shape.path.scaled(factor)
        add(path.vertices, format="xyb", close=path.closed, dxfattribs={"layer": shape.layer})
    for label in source.labels:
        at = (label.at[0] * factor, label.at[1] * factor)
        space.add_text(
            label.text, height=6.0 * factor, dxfattribs={"layer": label.layer}
        ).set_placement(at)
    file.parent.mkdir(parents=True, exist_ok=True)
    document.saveas(file)
    return file
