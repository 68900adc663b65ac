"""Houses made at will: whole buildings of our own invention as drawings, the same at every run.

In plan a house is a chain of sides that turns at every corner; seen from outside, going round to
the right, each corner is the right edge of one elevation and the left edge of the next:

      box          wing           breast            bay
    .-----.      .-----.        .---------.      .---------.
    |     |      |     |        |         |      |         |
    '-----'      '--.  |        '--.   .--'      '--.   .--'    the front is below
                    '--'           '---'             \\_/

    elevations side by side, tags at the marks of their corners:

        A            A   ^    B           B             C
        .-----------.   / \\  .           .-----------.
        | [] |^| [] |  | o |              | []     [] |
        |    | |  __|  |   |              |__         |    the base steps, the side has a gable
        '----' '-'     '---'                 '--------'

Sizes are believable, in steps that the drawing's unit suggests. ``house(seed, folder)`` gives the
file and the job; seeds 1 to 20 are the houses that tests and the table of plans are about.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from pathlib import Path as File

from builders import JOB, ROLES, drawing, line, write_dxf

from dxf2veneer.config.job import Job, Layers, with_settings
from dxf2veneer.geometry import Path
from dxf2veneer.model import Drawing

SEEDS = range(1, 21)
STYLES = ("box", "wing", "breast", "bay", "wainscot")
STEPS = {"in": 0.5, "ft": 1.0, "mm": 10 / 25.4, "m": 50 / 25.4}
"""Units, and the step in inches in which their houses are drawn."""

_GAP, _FOOT = 96.0, 2.0
_MARKS = {"o": "outside_corner", "i": "inside_corner", "m": "bay"}
Box = tuple[float, float, float, float]


@dataclass
class _Side:
    """One elevation: its length, the turn at its right edge,
    and its ground at the left and right.
    """

    length: float
    turn: str
    left: float = 0.0
    right: float = 0.0
    gable: bool = False


@dataclass
class _Sheet:
    """What is drawn so far, and where the next elevation begins."""

    rng: random.Random
    step: float
    tag: str
    x: float = 0.0
    outlines: dict[str, list] = field(default_factory=dict)
    texts: list[tuple[str, str, tuple[float, float]]] = field(default_factory=list)

    def size(self, low: float, high: float) -> float:
        """A length at random, in steps of the drawing's unit."""
        return self.snap(self.rng.uniform(low, high))

    def snap(self, value: float) -> float:
        return round(value / self.step) * self.step

    def add(self, role: str, outline) -> None:
        self.outlines.setdefault(role, []).append(outline)

    def mark(self, turn: str, x: float, y0: float, y1: float, tag: str, beside: float) -> None:
        """A corner mark with its tag a little beside it."""
        self.add(_MARKS[turn], line(x, y0, x, y1))
        self.texts.append((_MARKS[turn], f"{self.tag}{tag}", (x + beside, y0 + 20.0)))


def style_of(seed: int) -> str:
    """What kind of house a seed makes."""
    return STYLES[seed % len(STYLES)]


def unit_of(seed: int) -> str:
    """The unit in which a seed's house is drawn."""
    return list(STEPS)[seed // 2 % len(STEPS)]


def house(seed: int, folder: File) -> tuple[File, Job]:
    """The drawing of a house, written into the folder, and the job that reads it; joints stay where
    the fewest panels and cuts want them."""
    trim = {"trim__head": 8.0, "trim__jambs": 4.0, "trim__sill": 4.0} if seed % 4 == 3 else {}
    drawn = drawing_of(seed)
    layers = {s.layer for s in drawn.shapes} | {t.layer for t in drawn.labels}
    settings = with_settings(
        Job(
            layers=Layers(**{role: (role.upper(),) for role in ROLES if role.upper() in layers}),
            plan=JOB.plan,
        ),
        recognise__edge_kind="end" if seed % 2 else "butt",
        courses__clearance=clearance_of(seed),
        **trim,
    )
    return write_dxf(drawn, folder / drawn.file, units=unit_of(seed)), settings


def clearance_of(seed: int) -> float:
    """How far above the ground the first course begins."""
    return 2.0 if seed % 6 == 5 else 0.0


def drawing_of(seed: int) -> Drawing:
    """The house in inches, before it is written."""
    sheet = _Sheet(random.Random(seed), STEPS[unit_of(seed)], f"{seed}")
    style = style_of(seed)
    sides = _sides(sheet, style)
    height = sheet.size(34, 44) if style == "wainscot" else sheet.size(96, 126)
    _lay_ground(sheet, sides, most=8.0 if style == "wainscot" else 24.0)
    if style in ("box", "wing"):
        for side, after in zip(sides, [*sides[1:], sides[0]], strict=True):
            side.gable = (
                side.length >= 150
                and side is not sides[0]
                and after.turn == "o"
                and sheet.rng.random() < 0.5
            )
    for number, side in enumerate(sides):
        before = sides[number - 1]
        tags = (f"C{(number - 1) % len(sides)}", f"C{number}")
        (_draw_wainscot if style == "wainscot" else _draw_wall)(sheet, side, height)
        _draw_marks(sheet, side, before.turn, tags, height)
        sheet.x += side.length + _GAP
    if style == "wainscot" or seed % 3 == 0:
        _draw_column(sheet, sheet.size(84, 108))
    if seed % 4 == 1:
        _draw_screen(sheet)
    sheet.add("level", line(-12.0, clearance_of(seed), sheet.x, clearance_of(seed)))
    return drawing(file=f"house-{seed:02}.dxf", texts=sheet.texts, **sheet.outlines)


# ------------------------------------------------------------------ in plan


def _sides(sheet: _Sheet, style: str) -> list[_Side]:
    """The sides of the house in order, from its front's left corner to the right."""
    width, depth = sheet.size(260, 430), sheet.size(190, 300)
    if style == "wing":
        wing, out = sheet.size(110, 170), sheet.size(36, 120)
        plan = [
            (width - wing, "i"),
            (out, "o"),
            (wing, "o"),
            (depth + out, "o"),
            (width, "o"),
            (depth, "o"),
        ]
    elif style in ("breast", "bay"):
        left, middle, out = sheet.size(70, 130), sheet.size(48, 110), sheet.size(18, 48)
        turns = "ioio" if style == "breast" else "mmmm"
        right = sheet.size(70, 130)
        back = left + middle + right + (0.0 if style == "breast" else sheet.snap(out * 2**0.5))
        order = (turns[0], turns[1], turns[1], turns[0]) if style == "breast" else turns
        plan = [
            *zip((left, out, middle, out), order, strict=True),
            (right, "o"),
            (depth, "o"),
            (back, "o"),
            (depth, "o"),
        ]
    else:
        plan = [(width, "o"), (depth, "o"), (width, "o"), (depth, "o")]
    return [_Side(length, turn) for length, turn in plan]


def _lay_ground(sheet: _Sheet, sides: list[_Side], most: float) -> None:
    """In two houses of three the ground rises along one long side and falls along a later one."""
    longer = [n for n, side in enumerate(sides) if side.length >= 144]
    rise = sheet.snap(sheet.rng.choice((0.0, 8.0, 12.0, 16.0, 24.0)))
    if len(longer) < 2 or not 0.0 < rise <= most:
        return
    up, down = sorted(sheet.rng.sample(longer, 2))
    for number, side in enumerate(sides):
        side.left = rise if up < number <= down else 0.0
        side.right = rise if up <= number < down else 0.0


# ------------------------------------------------------------- one elevation


def _draw_marks(
    sheet: _Sheet, side: _Side, turn: str, tags: tuple[str, str], height: float
) -> None:
    sheet.mark(turn, sheet.x, side.left, height, tags[0], -6.0)
    sheet.mark(side.turn, sheet.x + side.length, side.right, height, tags[1], 3.0)


def _base(sheet: _Sheet, side: _Side) -> tuple[list[tuple[float, float]], float]:
    """The base from left to right, with its step, and where the step is."""
    if side.left == side.right:
        return [(0.0, side.left), (side.length, side.right)], side.length
    at = sheet.snap(side.length * sheet.rng.uniform(0.3, 0.7))
    return [(0.0, side.left), (at, side.left), (at, side.right), (side.length, side.right)], at


def _draw_wall(sheet: _Sheet, side: _Side, height: float) -> None:
    """A wall with doors, windows and fixtures, and a gable where it has one."""
    base, step = _base(sheet, side)
    top = [(side.length, height), (0.0, height)]
    if side.gable:
        ridge, rise = sheet.snap(side.length * sheet.rng.uniform(0.4, 0.6)), sheet.size(36, 84)
        top.insert(1, (ridge, height + rise))
        if rise > 50:
            sheet.add("vent", _disc(sheet.x + ridge, height + rise / 3, 8.0))
    sheet.add("wall", [(sheet.x + x, y) for x, y in base + top])
    sheet.texts.append(
        ("name", f"WALL {len(sheet.outlines['wall'])}", (sheet.x + _FOOT, height - 8.0))
    )
    spans = [(0.0, 0.0)]
    at = sheet.size(14, 40)
    while (width := _draw_opening(sheet, side, at, step, height)) > 0.0:
        spans.append((at, at + width))
        at += width + sheet.size(14, 72)
    for (_, a), (b, _) in zip(spans, [*spans[1:], (side.length, 0.0)], strict=True):
        if b - a >= 34 and sheet.rng.random() < 0.6:
            _draw_fixture(sheet, sheet.snap((a + b) / 2), max(side.left, side.right), height)


def _draw_opening(sheet: _Sheet, side: _Side, at: float, step: float, height: float) -> float:
    """A door or window at a distance from the wall's left edge; its width, 0 where none fits."""
    width = sheet.size(24, 72)
    kind = sheet.rng.choice(("door", "window", "window", "arch"))
    if kind == "door":
        width = sheet.rng.choice((36.0, 40.0, 72.0, 108.0))
        width = sheet.snap(width)
    if at + width + 12 > side.length:
        return 0.0
    ground, x = (side.left if at < step else side.right), sheet.x + at
    head = sheet.snap(min(ground + 84, height - 10))
    sill = sheet.snap(max(side.left, side.right) + sheet.rng.uniform(24, 40))
    if kind == "door" and not at - 6 < step < at + width + 6:
        sheet.add("door", (x, ground, x + width, head))
    elif kind == "arch" and width <= 48 and head - width / 2 > sill + 12:
        spring = head - width / 2
        sheet.add(
            "window",
            Path(
                ((x, sill, 0.0), (x + width, sill, 0.0), (x + width, spring, 1.0), (x, spring, 0.0))
            ),
        )
    else:
        sheet.add("window", (x, sill, x + width, head))
    return width


def _draw_fixture(sheet: _Sheet, middle: float, ground: float, top: float) -> None:
    """A light beside an opening or a receptacle low in the wall."""
    x, (width, height, above) = (
        sheet.x + middle,
        sheet.rng.choice(((6.0, 10.0, 62.0), (5.0, 5.0, 16.0), (8.0, 8.0, 66.0))),
    )
    y = min(ground + above, sheet.snap(top - 20.0))
    sheet.add("fixture", (x - width / 2, y, x + width / 2, y + height))


def _draw_wainscot(sheet: _Sheet, side: _Side, height: float) -> None:
    """Veneer up to a cap, lower under windows, interrupted at doors."""
    base, step = _base(sheet, side)
    lower = sheet.snap(height - sheet.rng.uniform(4, 9))
    top, caps, at = [], [], sheet.size(30, 60)
    while at + 84 < side.length:
        width = sheet.size(36, 60)
        ground = side.left if at < step else side.right
        if sheet.rng.random() < 0.35 and not at - 6 < step < at + width + 6:
            sheet.add("door", (sheet.x + at, ground, sheet.x + at + width, height))
        else:
            caps.append((at, at + width))
            top += [(at, height), (at, lower), (at + width, lower), (at + width, height)]
        at += width + sheet.size(24, 90)
    outline = [*base, (side.length, height), *reversed(top), (0.0, height)]
    sheet.add("wall", [(sheet.x + x, y) for x, y in outline])
    sheet.add("cap", line(sheet.x, height, sheet.x + side.length, height))
    for a, b in caps:
        sheet.add("cap", line(sheet.x + a, lower, sheet.x + b, lower))


def _disc(x: float, y: float, radius: float) -> Path:
    return Path(((x - radius, y, 1.0), (x + radius, y, 1.0)))


# ------------------------------------------------------------- beside the house


def _draw_column(sheet: _Sheet, height: float) -> None:
    """A column of 16 x 16 in: four faces, outside corners all round."""
    width = sheet.snap(16.0)
    for face in range(4):
        sheet.add("wall", (sheet.x, 0.0, sheet.x + width, height))
        sheet.mark("o", sheet.x, 0.0, height, f"K{(face - 1) % 4}", -6.0)
        sheet.mark("o", sheet.x + width, 0.0, height, f"K{face}", 3.0)
        sheet.x += width + 48.0


def _draw_screen(sheet: _Sheet) -> None:
    """A wall that stands by itself; what its ends are, the job says."""
    width = sheet.size(84, 150)
    sheet.add("wall", (sheet.x, 0.0, sheet.x + width, sheet.size(44, 64)))
    sheet.x += width + _GAP
