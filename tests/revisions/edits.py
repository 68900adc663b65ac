"""Random edits of drawings, each with what is true of it.

A drawing is a house of ``tests/houses.py`` whose openings bear names now and then. ``edited`` makes
some edits of it and says what each did: which wall or opening, where it was and where it is now. An
edit never lets openings meet one another or leave their wall, and no thing is edited twice, so that
what is true stays true.
"""

from __future__ import annotations

import dataclasses
import random
from collections.abc import Callable, Iterator
from pathlib import Path as File
from typing import NamedTuple

import ezdxf
from builders import ROLES
from houses import drawing_of
from shapely.geometry import Polygon, box

from dxf2veneer.basics.units import unit_by_name
from dxf2veneer.config.job import Job, Layers, Planning
from dxf2veneer.geometry import Path
from dxf2veneer.model import Drawing, Label, Shape

Box = tuple[float, float, float, float]
OPENINGS = ("WINDOW", "DOOR", "VENT", "FIXTURE")
JOB = Job(layers=Layers(**{role: (role.upper(),) for role in ROLES}), plan=Planning(panels=False))
"""Reads every drawing of this module; panels are left out."""


class Truth(NamedTuple):
    """What one edit did to one wall or opening."""

    what: str
    """``wall`` or ``opening``."""
    change: str
    old: Box | None
    new: Box | None


class Sheet:
    """A drawing that is being edited."""

    def __init__(self, source: Drawing, rng: random.Random) -> None:
        self.rng = rng
        self.shapes: dict[int, Shape] = dict(enumerate(source.shapes))
        self.labels: list[Label] = list(source.labels)
        self.done: set[int] = set()
        self.truths: list[Truth] = []
        self.right = max(s.path.box[2] for s in source.shapes if s.layer == "WALL")

    # ------------------------------------------------------------------ what there is

    def walls(self) -> list[int]:
        return [key for key, shape in self.shapes.items() if shape.layer == "WALL"]

    def openings(self, wall: int | None = None) -> list[int]:
        return [
            key for key, shape in self.shapes.items()
            if shape.layer in OPENINGS and (wall is None or self.inside(key, wall))
        ]  # fmt: skip

    def inside(self, key: int, wall: int) -> bool:
        x0, y0, x1, y1 = self.shapes[key].path.box
        a0, b0, a1, b1 = self.shapes[wall].path.box
        return a0 - 1 <= x0 and x1 <= a1 + 1 and b0 - 1 <= y0 and y1 <= b1 + 1

    def wall_of(self, key: int) -> int | None:
        return next((w for w in self.walls() if self.inside(key, w)), None)

    def pick(self, keys: list[int]) -> int | None:
        free = [key for key in keys if key not in self.done]
        return self.rng.choice(free) if free else None

    def is_free(self, one: Box, wall: int, but: int | None = None) -> bool:
        """Whether an opening can stand there, clear of the others and of the wall's boundary."""
        ground = Polygon(self.shapes[wall].path.flatten(rise_in=0.01))
        if not ground.buffer(-3.0).contains(box(*one)):
            return False
        return all(
            box(*self.shapes[key].path.box).distance(box(*one)) > 4.0
            for key in self.openings(wall)
            if key != but
        )

    def put(self, key: int, path: Path) -> None:
        self.shapes[key] = dataclasses.replace(self.shapes[key], path=path)
        self.done.add(key)

    def new_key(self) -> int:
        return max(self.shapes) + 1


# ---------------------------------------------------------------------------- edits


def _is_box(path: Path) -> bool:
    x0, y0, x1, y1 = path.box
    return abs(path.area - (x1 - x0) * (y1 - y0)) < 1e-6


def _with_labels(sheet: Sheet, old: Box, dx: float, dy: float) -> None:
    x0, y0, x1, y1 = old
    for at, label in enumerate(sheet.labels):
        x, y = label.at
        if label.layer == "NAME" and x0 <= x <= x1 and y0 <= y <= y1:
            sheet.labels[at] = dataclasses.replace(label, at=(x + dx, y + dy))


def move_opening(sheet: Sheet) -> bool:
    key = sheet.pick([k for k in sheet.openings() if sheet.shapes[k].layer != "DOOR"])
    wall = None if key is None else sheet.wall_of(key)
    if key is None or wall is None:
        return False
    old = sheet.shapes[key].path.box
    size = sheet.rng.choice((1.0, 2.0, 4.0, 6.0, 12.0, 24.0)) * sheet.rng.choice((-1.0, 1.0))
    dx, dy = sheet.rng.choice(((size, 0.0), (0.0, size), (size, size / 2)))
    new = (old[0] + dx, old[1] + dy, old[2] + dx, old[3] + dy)
    if not sheet.is_free(new, wall, key):
        return False
    _with_labels(sheet, old, dx, dy)
    sheet.put(key, sheet.shapes[key].path.moved(dx, dy))
    sheet.truths.append(Truth("opening", "moved", old, new))
    return True


def resize_opening(sheet: Sheet) -> bool:
    key = sheet.pick(
        [k for k in sheet.openings() if sheet.shapes[k].layer == "WINDOW"
         and _is_box(sheet.shapes[k].path)]
    )  # fmt: skip
    wall = None if key is None else sheet.wall_of(key)
    if key is None or wall is None:
        return False
    old = sheet.shapes[key].path.box
    new = list(old)
    for side in sheet.rng.sample(range(4), sheet.rng.choice((1, 1, 2))):
        grow = sheet.rng.choice((1.0, 2.0, 6.0, 10.0)) * sheet.rng.choice((-1.0, 1.0))
        new[side] += grow if side > 1 else -grow
    sizes = [(b[2] - b[0], b[3] - b[1]) for b in (old, new)]
    if sizes[0] == sizes[1] or min(sizes[1]) < 8.0 or not sheet.is_free(tuple(new), wall, key):
        return False
    sheet.put(key, Path.box_of(*new))
    sheet.truths.append(Truth("opening", "resized", old, tuple(new)))
    return True


def add_opening(sheet: Sheet) -> bool:
    wall = sheet.pick(sheet.walls())
    if wall is None:
        return False
    x0, y0, x1, y1 = sheet.shapes[wall].path.box
    for _ in range(40):
        width, height = sheet.rng.choice(((24.0, 36.0), (36.0, 48.0), (16.0, 16.0), (8.0, 8.0)))
        x, y = round(sheet.rng.uniform(x0, x1)), round(sheet.rng.uniform(y0, y1))
        one = (x, y, x + width, y + height)
        if sheet.is_free(one, wall):
            key = sheet.new_key()
            sheet.shapes[key] = Shape(Path.box_of(*one), "WINDOW", f"N{key}", "LWPOLYLINE")
            sheet.done.add(key)
            sheet.truths.append(Truth("opening", "added", None, one))
            return True
    return False


def remove_opening(sheet: Sheet) -> bool:
    key = sheet.pick(sheet.openings())
    if key is None or sheet.wall_of(key) is None:
        return False
    old = sheet.shapes.pop(key).path.box
    sheet.labels = [n for n in sheet.labels if n.layer != "NAME" or not _lies_in(n.at, old)]
    sheet.truths.append(Truth("opening", "removed", old, None))
    return True


def _lies_in(at: tuple[float, float], one: Box) -> bool:
    return one[0] <= at[0] <= one[2] and one[1] <= at[1] <= one[3]


def rename_opening(sheet: Sheet) -> bool:
    named = {
        key: at
        for key in sheet.openings()
        for at, label in enumerate(sheet.labels)
        if label.layer == "NAME" and _lies_in(label.at, sheet.shapes[key].path.box)
    }
    key = sheet.pick(list(named))
    if key is None:
        return False
    at = named[key]
    sheet.labels[at] = dataclasses.replace(sheet.labels[at], text=f"NEW {key}")
    sheet.done.add(key)
    old = sheet.shapes[key].path.box
    sheet.truths.append(Truth("opening", "renamed", old, old))
    return True


def retype_opening(sheet: Sheet) -> bool:
    key = sheet.pick([k for k in sheet.openings() if sheet.shapes[k].layer == "WINDOW"])
    if key is None:
        return False
    sheet.shapes[key] = dataclasses.replace(sheet.shapes[key], layer="VENT")
    sheet.done.add(key)
    old = sheet.shapes[key].path.box
    sheet.truths.append(Truth("opening", "renamed", old, old))
    return True


def raise_wall(sheet: Sheet) -> bool:
    """The top goes up by some inches; a wall with a cap stays."""
    caps = [shape.path.box for shape in sheet.shapes.values() if shape.layer == "CAP"]
    walls = [
        key for key in sheet.walls()
        if not any(_lies_in((c[0] + 1, c[1]), sheet.shapes[key].path.box) for c in caps)
    ]  # fmt: skip
    key = sheet.pick(walls)
    if key is None:
        return False
    path, up = sheet.shapes[key].path, sheet.rng.choice((4.0, 8.0, 12.0, 18.0))
    old = path.box
    raised = tuple((x, y + up if y > old[3] - 1.0 else y, bulge) for x, y, bulge in path.vertices)
    sheet.put(key, Path(raised))
    sheet.truths.append(Truth("wall", "resized", old, sheet.shapes[key].path.box))
    return True


def move_wall(sheet: Sheet) -> bool:
    """An elevation goes aside on its sheet, with all that is on it and its marks; of half a sheet
    that moved, nobody could tell which half."""
    key = sheet.pick(sheet.walls())
    before = sum(truth.what == "wall" and truth.change == "moved" for truth in sheet.truths)
    if key is None or 3 * (before + 1) > len(sheet.walls()):
        return False
    old, dx = sheet.shapes[key].path.box, sheet.rng.choice((6.0, 12.0, 18.0))
    around = (old[0] - 8.0, old[1] - 1.0, old[2] + 8.0, old[3] + 1.0)
    moved = set()
    for other, shape in sheet.shapes.items():
        x0, y0, x1, y1 = shape.path.box
        if other == key or (_lies_in((x0, y0), around) and _lies_in((x1, y1), around)):
            moved.add(other)
    if moved & sheet.done:
        return False
    for other in moved:
        sheet.shapes[other] = dataclasses.replace(
            sheet.shapes[other], path=sheet.shapes[other].path.moved(dx, 0.0)
        )
    for at, label in enumerate(sheet.labels):
        if _lies_in(label.at, around):
            sheet.labels[at] = dataclasses.replace(label, at=(label.at[0] + dx, label.at[1]))
    sheet.done |= moved
    sheet.truths.append(Truth("wall", "moved", old, (old[0] + dx, old[1], old[2] + dx, old[3])))
    return True


def remove_wall(sheet: Sheet) -> bool:
    key = sheet.pick(sheet.walls())
    if key is None or len(sheet.walls()) < 3:
        return False
    old = sheet.shapes[key].path.box
    own = [k for k in sheet.openings(key) if sheet.wall_of(k) == key]
    if set(own) & sheet.done:
        return False
    for opening in own:
        sheet.truths.append(Truth("opening", "removed", sheet.shapes.pop(opening).path.box, None))
    around = (old[0] - 8.0, old[1] - 1.0, old[2] + 8.0, old[3] + 1.0)
    for other, shape in list(sheet.shapes.items()):
        x0, y0, x1, y1 = shape.path.box
        inside = _lies_in((x0, y0), around) and _lies_in((x1, y1), around)
        if other == key or (shape.layer != "WALL" and inside):
            del sheet.shapes[other]
    sheet.labels = [n for n in sheet.labels if not _lies_in(n.at, around)]
    sheet.truths.append(Truth("wall", "removed", old, None))
    return True


def add_wall(sheet: Sheet) -> bool:
    x = sheet.right + 120.0
    sheet.right += 400.0
    width, height = round(sheet.rng.uniform(60, 240)), round(sheet.rng.uniform(60, 130))
    for layer, one in (
        ("WALL", (x, 0.0, x + width, float(height))),
        ("WINDOW", (x + 20.0, 24.0, x + 40.0, 44.0)),
    ):
        key = sheet.new_key()
        sheet.shapes[key] = Shape(Path.box_of(*one), layer, f"N{key}", "LWPOLYLINE")
        sheet.done.add(key)
        sheet.truths.append(Truth("wall" if layer == "WALL" else "opening", "added", None, one))
    return True


EDITS: tuple[Callable[[Sheet], bool], ...] = (
    move_opening, resize_opening, add_opening, remove_opening, rename_opening, retype_opening,
    raise_wall, move_wall, remove_wall, add_wall,
)  # fmt: skip


def named(source: Drawing, rng: random.Random) -> Drawing:
    """A drawing with a name in half of its larger openings."""
    labels = list(source.labels)
    for number, shape in enumerate(source.shapes):
        x0, y0, x1, y1 = shape.path.box
        is_large = shape.layer in ("WINDOW", "DOOR") and x1 - x0 > 20 and y1 - y0 > 30
        if is_large and 45 < y1 < 90 and rng.random() < 0.5:
            text = f"{shape.layer[0]}{number}"
            labels.append(Label(text, ((x0 + x1) / 2, (y0 + y1) / 2), "NAME", f"L{number}"))
    return dataclasses.replace(source, labels=tuple(labels))


def edited(source: Drawing, edits: int, rng: random.Random) -> tuple[Drawing, list[Truth]]:
    """A drawing with so many edits of all kinds, and what is true of them."""
    sheet, made = Sheet(source, rng), 0
    for _ in range(30 * edits):
        if made == edits:
            break
        made += rng.choice(EDITS)(sheet)
    return (
        dataclasses.replace(
            source, shapes=tuple(sheet.shapes.values()), labels=tuple(sheet.labels)
        ),
        sheet.truths,
    )


# ------------------------------------------------------------------------- on paper


class Look(NamedTuple):
    """How a drawing is written."""

    units: str = "in"
    shift: tuple[float, float] = (0.0, 0.0)
    jitter: float = 0.0
    """Inches that each corner of an outline is off at most."""
    loose: bool = False
    """Whether outlines are single lines."""
    shuffled: bool = False
    version: str = "R2018"


CLEAN = Look()


def rough_look(rng: random.Random) -> Look:
    """A drawing of another hand: moved, in another unit, loose, in another order."""
    return Look(
        units=rng.choice(("in", "ft", "mm", "m")),
        shift=(rng.uniform(-2000, 2000), rng.uniform(-500, 500)),
        jitter=0.01,
        loose=rng.random() < 0.5,
        shuffled=True,
        version=rng.choice(("R2000", "R2010", "R2018")),
    )


def written(source: Drawing, file: File, look: Look, rng: random.Random) -> File:
    """The drawing as a DXF file."""
    document = ezdxf.new(look.version)
    document.header["$INSUNITS"] = unit_by_name(look.units).code
    factor = 1.0 / unit_by_name(look.units).inches
    space = document.modelspace()
    shapes, labels = list(source.shapes), list(source.labels)
    if look.shuffled:
        rng.shuffle(shapes)
        rng.shuffle(labels)
    for shape in shapes:
        jitter = look.jitter if shape.path.closed else 0.0
        attributes = {"layer": shape.layer}
        vertices = [
            ((x + look.shift[0] + _off(jitter, rng)) * factor,
             (y + look.shift[1] + _off(jitter, rng)) * factor, bulge)
            for x, y, bulge in shape.path.vertices
        ]  # fmt: skip
        straight = not any(bulge for _, _, bulge in vertices)
        if look.loose and straight and shape.path.closed:
            for a, b in _sides(vertices):
                space.add_line(a, b, dxfattribs=attributes)
            continue
        space.add_lwpolyline(vertices, format="xyb", close=shape.path.closed,
                             dxfattribs=attributes)  # fmt: skip
    for label in labels:
        at = ((label.at[0] + look.shift[0]) * factor, (label.at[1] + look.shift[1]) * factor)
        space.add_text(
            label.text, height=6.0 * factor, dxfattribs={"layer": label.layer}
        ).set_placement(at)
    document.saveas(file)
    return file


def _off(jitter: float, rng: random.Random) -> float:
    return rng.uniform(-jitter, jitter) if jitter else 0.0


def _sides(
    vertices: list[tuple[float, float, float]],
) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    for (x0, y0, _), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1], strict=True):
        yield (x0, y0), (x1, y1)


def street(houses: int) -> Drawing:
    """Several houses side by side on one sheet, for drawings of many openings."""
    shapes: list[Shape] = []
    labels: list[Label] = []
    x = 0.0
    for seed in range(1, houses + 1):
        one = drawing_of(seed)
        own = [shape for shape in one.shapes if shape.layer != "LEVEL"]
        shapes += [dataclasses.replace(s, path=s.path.moved(x, 0.0)) for s in own]
        labels += [dataclasses.replace(t, at=(t.at[0] + x, t.at[1])) for t in one.labels]
        x = max(s.path.box[2] for s in shapes) + 300.0
    return dataclasses.replace(one, shapes=tuple(shapes), labels=tuple(labels))
