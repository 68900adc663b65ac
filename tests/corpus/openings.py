"""Windows, doors, garage doors and vents as offices show them in elevation.

A design is drawn about its own origin (lower left corner of the outermost frame). Its first shape
is the outermost frame, which is the outline that an estimator deducts; sills, shutters and steps
lie outside it.

      .---------.        .-.--.-.
      |.-------.|        | |\\/| |     shutters are outside, sashes and swing lines inside
      ||   |   ||        | |/\\| |
      ||___|___||        '-'--'-'
      '---------'
     =============  sill
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from corpus.shapes import Arc, Group, Path, Point, Shape, outline_polygon, rectangle, stroke


@dataclass(frozen=True)
class Design:
    """One kind of opening of one size; all openings of a design are drawn alike."""

    kind: str
    name: str
    width: float
    height: float
    head: str = "flat"
    frames: tuple[float, ...] = (60.0,)
    sashes: int = 1
    muntins: tuple[int, int] = (0, 0)
    swing: str = ""
    sill: bool = False
    shutters: bool = False
    panels: tuple[int, int] = (0, 0)
    glazed: bool = False
    lintel: bool = False

    @property
    def side(self) -> float:
        """How far the design reaches beyond its frame, left and right."""
        return self.width / (2 * max(1, self.sashes)) + 40.0 if self.shutters else 100.0


@dataclass(frozen=True)
class Taste:
    """What the windows and doors of a building have in common."""

    frames: tuple[float, ...]
    head: str
    muntins: tuple[int, int]
    swing: str
    sill: bool
    shutters: bool
    lintel: bool
    sashes_of: float


def make_taste(rng: random.Random) -> Taste:
    return Taste(
        frames=rng.choice([(60.0,), (50.0,), (90.0, 50.0), (70.0,), (100.0, 40.0, 30.0)]),
        head=rng.choices(["flat", "round", "segment"], [8, 1, 1])[0],
        muntins=rng.choice([(0, 0), (0, 0), (2, 3), (1, 2), (2, 2), (0, 2)]),
        swing=rng.choice(["", "", "", "cross", "vee", "diagonal"]),
        sill=rng.random() < 0.5,
        shutters=rng.random() < 0.2,
        lintel=rng.random() < 0.15,
        sashes_of=rng.choice([600.0, 800.0, 1000.0, 1300.0]),
    )


def window(taste: Taste, width: float, height: float) -> Design:
    sashes = max(1, min(4, round(width / taste.sashes_of)))
    head = taste.head if width < 1.2 * height else "flat"
    return Design(
        "window", f"W{width:.0f}x{height:.0f}", width, height, head, taste.frames, sashes,
        taste.muntins, taste.swing, taste.sill, taste.shutters and width < 1900,
        lintel=taste.lintel,
    )  # fmt: skip


def frame(design: Design, inset: float) -> Path:
    """The frame that lies ``inset`` within the outermost one."""
    x0, y0, x1, y1 = inset, inset, design.width - inset, design.height - inset
    if design.kind in ("door", "garage"):
        y0 = 0.0
    if design.head == "circle":
        points = ((x0, design.height / 2), (x1, design.height / 2))
        return Path("opening", points, True, (1.0, 1.0))
    if design.head == "triangle":
        return Path("opening", ((x0, y0), (x1, y0), (design.width / 2, y1)), closed=True)
    rise = {"round": (x1 - x0) / 2, "segment": (x1 - x0) / 8}.get(design.head, 0.0)
    points = ((x0, y0), (x1, y0), (x1, y1 - rise), (x0, y1 - rise))
    bulge = 2 * rise / (x1 - x0)  # rise over half the chord
    return Path("opening", points, True, (0.0, 0.0, bulge, 0.0) if rise else ())


def drawn(design: Design) -> tuple[Shape, ...]:
    """The shapes of a design, the outermost frame first."""
    outer = frame(design, 0.0)
    if design.kind == "vent":
        return (outer, *_louvers(design))
    if design.kind == "garage":
        return (outer, *_garage(design))
    if design.kind == "door":
        return (outer, *_door(design), *_around(design))
    return (outer, *_window(design), *_around(design))


def group(design: Design, at: Point, mirrored: bool = False) -> Group:
    """The opening where it stands: ``at`` is the lower left corner of its frame."""
    origin = (at[0] + design.width, at[1]) if mirrored else at
    return Group("opening", design.name, origin, drawn(design), mirrored)


def outline(design: Design, at: Point):
    """The polygon that is deducted."""
    from corpus.shapes import moved

    return outline_polygon(moved(frame(design, 0.0), *at))


def _window(design: Design) -> list[Shape]:
    shapes: list[Shape] = []
    inset = 0.0
    for width in design.frames[:-1]:
        inset += width
        shapes.append(frame(design, inset))
    inset += design.frames[-1]
    inner = frame(design, inset)
    shapes.append(inner)
    if design.head in ("circle", "triangle"):
        return shapes
    top = inner.points[2][1]
    left, right = inset, design.width - inset
    step = (right - left) / design.sashes
    for i in range(design.sashes):
        x0, x1 = left + i * step, left + (i + 1) * step
        shapes += _sash(design, x0, inset, x1, top, i)
    if design.head != "flat":
        shapes.append(stroke("sash", (left, top), (right, top)))
    return shapes


def _sash(design: Design, x0: float, y0: float, x1: float, y1: float, index: int) -> list[Shape]:
    shapes: list[Shape] = []
    if index:
        shapes.append(stroke("sash", (x0, y0), (x0, y1)))
    rail = 45.0
    if design.sashes > 1 or design.muntins != (0, 0):
        x0, y0, x1, y1 = x0 + rail, y0 + rail, x1 - rail, y1 - rail
        shapes.append(rectangle("sash", x0, y0, x1, y1))
    across, up = design.muntins
    for i in range(1, across):
        x = x0 + (x1 - x0) * i / across
        shapes.append(stroke("sash", (x, y0), (x, y1)))
    for i in range(1, up):
        y = y0 + (y1 - y0) * i / up
        shapes.append(stroke("sash", (x0, y), (x1, y)))
    return shapes + _swing(design.swing, x0, y0, x1, y1, index)


def _swing(swing: str, x0: float, y0: float, x1: float, y1: float, index: int) -> list[Shape]:
    if swing == "cross":
        return [stroke("sash", (x0, y0), (x1, y1)), stroke("sash", (x0, y1), (x1, y0))]
    if swing == "diagonal":
        return [stroke("sash", (x0, y0), (x1, y1))]
    if swing == "vee":
        near, far = (x0, x1) if index % 2 else (x1, x0)
        way = ((near, y0), (far, (y0 + y1) / 2), (near, y1))
        return [stroke("swing", *way, linetype="DASHED")]
    return []


def _around(design: Design) -> list[Shape]:
    """Sill, lintel and shutters: outside of the frame."""
    w, h = design.width, design.height
    shapes: list[Shape] = []
    if design.sill and design.kind == "window" and design.head != "circle":
        shapes.append(rectangle("trim", -60.0, -50.0, w + 60.0, 0.0))
    if design.lintel and design.head == "flat":
        shapes.append(rectangle("trim", -80.0, h, w + 80.0, h + 120.0))
    if design.shutters and design.kind == "window":
        leaf = w / (2 * max(1, design.sashes))
        for x0 in (-leaf - 20.0, w + 20.0):
            shapes.append(rectangle("trim", x0, 0.0, x0 + leaf, h))
            shapes.append(rectangle("trim", x0 + 40, 60.0, x0 + leaf - 40, h - 60.0))
            y = 130.0
            while y < h - 100:
                shapes.append(stroke("trim", (x0 + 40, y), (x0 + leaf - 40, y)))
                y += 70.0
    return shapes


def _door(design: Design) -> list[Shape]:
    w = design.width
    shapes: list[Shape] = [frame(design, f) for f in _steps(design.frames[:2])]
    inset = sum(design.frames[:2])
    top = shapes[-1].points[2][1]  # type: ignore[union-attr]
    step = (w - 2 * inset) / design.sashes
    across, up = design.panels
    for i in range(design.sashes):
        x0, x1 = inset + i * step, inset + (i + 1) * step
        if i:
            shapes.append(stroke("sash", (x0, 0.0), (x0, top)))
        if design.glazed:
            shapes.append(rectangle("sash", x0 + 110, 220.0, x1 - 110, top - 110))
            shapes += _swing(design.swing, x0 + 110, 220.0, x1 - 110, top - 110, i)
        elif across:
            shapes += _panels("sash", x0 + 40, 80.0, x1 - 40, top - 40, across, up, 60.0)
        knob = x1 - 70 if i == 0 else x0 + 70
        shapes.append(Arc("sash", (knob, 1020.0), 30.0))
    return shapes


def _garage(design: Design) -> list[Shape]:
    shapes: list[Shape] = [frame(design, f) for f in _steps(design.frames[:1])]
    inset = design.frames[0]
    across, up = design.panels
    left, right, top = inset, design.width - inset, design.height - inset
    if across:
        shapes += _panels("sash", left, 0.0, right, top, across, up, 70.0)
    for i in range(1, up):
        y = top * i / up
        shapes.append(stroke("sash", (left, y), (right, y)))
    return shapes


def _steps(widths: tuple[float, ...]) -> list[float]:
    total, found = 0.0, []
    for width in widths:
        total += width
        found.append(total)
    return found


def _panels(
    role: str, x0: float, y0: float, x1: float, y1: float, across: int, up: int, rail: float
) -> list[Shape]:
    dx, dy = (x1 - x0) / across, (y1 - y0) / up
    return [
        rectangle(
            role,
            x0 + i * dx + rail,
            y0 + j * dy + rail,
            x0 + (i + 1) * dx - rail,
            y0 + (j + 1) * dy - rail,
        )
        for i in range(across)
        for j in range(up)
    ]


def _louvers(design: Design) -> list[Shape]:
    shapes: list[Shape] = []
    w, h = design.width, design.height
    if design.head == "circle":
        return [frame(design, 30.0), stroke("sash", (30.0, h / 2), (w - 30.0, h / 2))]
    if design.head == "triangle":
        return [frame(design, 60.0)]
    y = 60.0
    shapes.append(frame(design, 25.0))
    while y < h - 40:
        shapes.append(stroke("sash", (25.0, y), (w - 25.0, y)))
        y += 50.0
    return shapes
