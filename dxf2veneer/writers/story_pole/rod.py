"""The rod drawn as SVG: a ruler, the courses, and every mark with its words.

    ruler  courses   marks
    | 2'--|------|------- 2'-0"  course 4
    | 11  |  3   |---\\___ 1'-9"  head
    | 10  |      |        W1-O2: course 3 ripped to 5"
    |  9  |------|------- 1'-4"  course 3

Lengths in the picture are inches on paper.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dxf2veneer.basics.units import MM_PER_INCH
from dxf2veneer.model import PoleMark, StoryPole
from dxf2veneer.writers.markup import Markup, number, tag
from dxf2veneer.writers.story_pole.labels import Datum, beside

_RULER, _COURSES, _LEAD = 0.62, 0.36, 0.24
"""Widths of the ruler, of the courses and of the lines that lead to labels, in inches."""

_FIRST, _SECOND = 8.0 / 72.0, 7.0 / 72.0
"""Heights of a label's two lines in inches: 8 and 7 points."""

_LETTER = 0.66
"""Width of a bold letter in text heights; wider than most fonts draw it."""

_STEP = 1.25
"""Distance of lines of text, in text heights."""

_CHECK = 0.75
"""Length of a check mark at the right edge in inches."""

_LEAST_NUMBER = 5.0
"""A course's number smaller than this, in points, is left out."""

_MARK_COLORS = {
    "level": "#1f6f54",
    "starter": "#1f6f54",
    "course": "#57544d",
}
INK = "#17334f"
_ALARM, _QUIET, _BAND, _PLAIN = "#8a0f2c", "#57544d", "#ece6da", "#ffffff"
FONT = "Helvetica Neue, Arial, Liberation Sans, DejaVu Sans, sans-serif"


@dataclass(frozen=True)
class View:
    """The part of a rod that is drawn, and how large."""

    y0: float
    """Height above the datum where it begins, in inches."""
    y1: float
    """Where it ends."""
    width: float
    """Of the picture on paper, in inches."""
    scale: float = 1.0
    """How many times larger the rod is than the picture."""
    lap: float = 0.0
    """How much at its top is repeated by the next part, in inches."""

    @property
    def height(self) -> float:
        """Of the picture on paper, in inches."""
        return (self.y1 - self.y0) / self.scale

    def at(self, height: float) -> float:
        """Place of a height in the picture, from its top down."""
        return (self.y1 - height) / self.scale


@dataclass(frozen=True)
class _Label:
    """Words beside a mark, and where they would best stand."""

    mark: PoleMark
    lines: tuple[str, str]
    y: float

    @property
    def size(self) -> float:
        return _STEP * (_FIRST + (_SECOND if self.lines[1] else 0.0))


def rod_svg(pole: StoryPole, datum: Datum, view: View) -> Markup:
    """A part of a rod, or all of it.

    Args:
        pole: The rod.
        datum: What heights are counted from.
        view: What is drawn, and how large.

    Returns:
        An element ``svg`` with its size on paper.
    """
    about = {
        "xmlns": "http://www.w3.org/2000/svg",
        "viewBox": f"0 0 {number(view.width)} {number(view.height)}",
        "width": f"{number(view.width * MM_PER_INCH)}mm",
        "height": f"{number(view.height * MM_PER_INCH)}mm",
        "font-family": FONT,
        "fill": INK,
    }
    return tag("svg", about, rod(pole, datum, view))


def rod(pole: StoryPole, datum: Datum, view: View) -> Markup:
    """What ``rod_svg`` holds, to be placed in another picture.

    Args:
        pole: The rod.
        datum: What heights are counted from.
        view: What is drawn, and how large.

    Returns:
        An element ``g``; lengths in it are inches on paper.
    """
    checks = _checks(datum, view) if view.scale == 1.0 else ()
    parts = (*_bands(pole, view), *checks, *_ruler(datum, view), *_labels(pole, datum, view))
    return tag("g", None, *parts, *_numbers(pole, view))


def _bands(pole: StoryPole, view: View) -> Iterator[Markup]:
    """The courses, dark and light by turns."""
    for low, high, number_of in _courses(pole, view):
        box: dict[str, str | float | None] = {"x": _RULER, "width": _COURSES, "y": view.at(high)}
        box["height"] = view.at(low) - view.at(high)
        fill = _BAND if number_of % 2 else _PLAIN
        yield tag("rect", {**box, "fill": fill, "stroke": INK, "stroke-width": 0.01})


def _numbers(pole: StoryPole, view: View) -> Iterator[Markup]:
    """The courses' numbers, over the lines that cross them."""
    for low, high, number_of in _courses(pole, view):
        size = min(0.25, 0.7 * (view.at(low) - view.at(high)))
        if size * 72.0 < _LEAST_NUMBER:
            continue
        about: dict[str, str | float | None] = {
            "x": _RULER + _COURSES / 2,
            "y": view.at((low + high) / 2) + 0.36 * size,
            "font-size": size,
            "font-weight": "700",
            "text-anchor": "middle",
            "stroke": _BAND if number_of % 2 else _PLAIN,
            "stroke-width": 0.2 * size,
            "paint-order": "stroke",
        }
        yield tag("text", about, str(number_of))


def _courses(pole: StoryPole, view: View) -> Iterator[tuple[float, float, int]]:
    """Lower and upper height of each course as far as it is in view, and its number."""
    for mark in pole.marks:
        low = max(mark.height, view.y0)
        high = min(mark.height + pole.course_height, view.y1, pole.top)
        if mark.what == "course" and mark.course is not None and low < high:
            yield low, high, mark.course


def _checks(datum: Datum, view: View) -> Iterator[Markup]:
    """Marks at both sides of the strip a foot or 300 mm apart, to be measured once parts are taped,
    and the line to which the next part is laid."""
    metric = datum.display == "metric"
    step, words = (300.0 / MM_PER_INCH, "300 mm check") if metric else (12.0, "12 in check")
    first = math.ceil((view.y0 + datum.height) / step - 1e-9)
    last = math.floor((view.y1 + datum.height) / step + 1e-9)
    for n in range(first, last + 1):
        y = view.at(n * step - datum.height)
        ends = f"M0 {number(y)}H{number(_RULER)}M{number(view.width - _CHECK)} {number(y)}h{_CHECK}"
        yield _mark(view, y, ends, "0.02 0.06", words)
    if view.lap:
        y = view.at(view.y1 - view.lap)
        across = f"M0 {number(y)}H{number(view.width)}"
        yield _mark(view, y, across, "0.15 0.08", "foot of the next part")


def _mark(view: View, y: float, path: str, dashes: str, words: str) -> Markup:
    """Broken lines with words over their right end."""
    line = {"d": path, "fill": "none", "stroke": _QUIET}
    end: dict[str, str | float | None] = {
        "x": view.width - 0.04,
        "y": y - 0.03,
        "font-size": 5.5 / 72.0,
        "text-anchor": "end",
    }
    return tag(
        "g",
        None,
        tag("path", {**line, "stroke-width": 0.01, "stroke-dasharray": dashes}),
        tag("text", {**end, "fill": _QUIET}, words),
    )


def _ruler(datum: Datum, view: View) -> Iterator[Markup]:
    """Ticks and numbers from the datum: feet and inches, or meters and centimeters."""
    metric = datum.display == "metric"
    step, whole = (10.0 / MM_PER_INCH, 10) if metric else (1.0, 12)
    unit = step if view.scale == 1.0 else step * whole
    shift = datum.height
    first, last = (round((y + shift) / unit + s) for y, s in ((view.y0, 0.49), (view.y1, -0.49)))
    ticks = []
    for n in range(first, last + 1):
        y = view.at(n * unit - shift)
        count = n if view.scale == 1.0 else n * whole
        is_whole = count % whole == 0
        ticks.append(f"M{number(_RULER)} {number(y)}h{number(-(0.18 if is_whole else 0.1))}")
        size = 8.0 if is_whole else 6.5
        words = _tick_words(count, whole, metric=metric)
        if view.scale == 1.0 or (unit / view.scale) * 72.0 >= size or n % 5 == 0:
            about: dict[str, str | float | None] = {
                "x": _RULER - 0.2,
                "y": y + 0.36 * size / 72.0,
                "text-anchor": "end",
                "font-size": size / 72.0,
                "font-weight": "700" if is_whole else None,
            }
            yield tag("text", about, words)
    yield tag("path", {"d": "".join(ticks), "fill": "none", "stroke": INK, "stroke-width": 0.012})
    yield tag(
        "path",
        {"d": f"M{number(_RULER)} 0V{number(view.height)}", "stroke": INK, "stroke-width": 0.015},
    )


def _tick_words(count: int, whole: int, *, metric: bool) -> str:
    """The number at a tick: whole feet or decimeters stand out, inches and centimeters between.
    Under the datum all count downwards."""
    sign = "-" if count < 0 else ""
    if metric:
        return f"{sign}{abs(count) * 10}" if count % whole == 0 else f"{sign}{abs(count) % whole}"
    feet = f"{sign}{abs(count) // whole}'"
    return feet if count % whole == 0 else f"{sign}{abs(count) % whole}"


def _labels(pole: StoryPole, datum: Datum, view: View) -> Iterator[Markup]:
    """Every mark in view with its words, moved apart where they would cover each other."""
    wanted = [
        _Label(m, beside(m, pole.course_height, datum), view.at(m.height))
        for m in pole.marks
        if view.y0 <= m.height < view.y1 or (m.height == view.y1 == pole.top)
    ]
    wanted.sort(key=lambda label: label.y)
    if sum(label.size for label in wanted) > view.height:
        wanted = [label for label in wanted if label.mark.what != "course"]
    places = spread([w.y for w in wanted], [w.size for w in wanted], view.height)
    left = _RULER + _COURSES
    for label, middle in zip(wanted, places, strict=True):
        mark = label.mark
        color = _ALARM if mark.is_sliver else _MARK_COLORS.get(mark.what, INK)
        line = (
            f"M{number(_RULER)} {number(label.y)}H{number(left + _LEAD / 3)}"
            f"L{number(left + _LEAD)} {number(middle)}"
        )
        wide = 0.012 if mark.what == "course" else 0.025
        yield tag("path", {"d": line, "fill": "none", "stroke": color, "stroke-width": wide})
        y = middle - label.size / 2 + _FIRST
        weight = None if mark.what == "course" else "700"
        place: dict[str, str | float | None] = {"x": left + _LEAD + 0.05, "y": y, "fill": color}
        room = view.width - (left + _LEAD + 0.05)
        first = {"font-size": fitted(label.lines[0], _FIRST, room), "font-weight": weight}
        yield tag("text", {**place, **first}, label.lines[0])
        if label.lines[1]:
            size = fitted(label.lines[1], _SECOND, room)
            below = {**place, "y": y + _STEP * _SECOND, "font-size": size}
            yield tag("text", below, label.lines[1])


def fitted(words: str, size: float, room: float) -> float:
    """The size at which words fit a room, which is the wished one where that does.

    Args:
        words: A line of text.
        size: The wished height.
        room: Width of the room, in the unit of the height.

    Returns:
        The height.
    """
    return min(size, room / (_LETTER * max(1, len(words))))


def spread(wanted: Sequence[float], sizes: Sequence[float], room: float) -> list[float]:
    """Places of labels one below the other, each as near as can be to where it is wanted.

    Labels that touch are moved as one block to the mean of what they want, until none overlap.

    Args:
        wanted: Where the middle of each is wanted, from the top down in order.
        sizes: Height of each.
        room: Height of the room that they must stay in, where they fit into it.

    Returns:
        The middle of each, in the same order.
    """
    blocks: list[list[float]] = []  # top as wanted, size, labels
    for want, size in zip(wanted, sizes, strict=True):
        blocks.append([want - size / 2, size, 1])
        while len(blocks) > 1 and _held(blocks[-2], room) + blocks[-2][1] > _held(blocks[-1], room):
            top, below, count = blocks.pop()
            first = blocks[-1]
            both = first[2] + count
            first[0] = (first[0] * first[2] + (top - first[1]) * count) / both
            first[1], first[2] = first[1] + below, both
    placed, left = [], iter(sizes)
    for block in blocks:
        at = _held(block, room)
        for _ in range(int(block[2])):
            size = next(left)
            placed.append(at + size / 2)
            at += size
    return placed


def _held(block: Sequence[float], room: float) -> float:
    """Top of a block, held inside the room."""
    return max(0.0, min(block[0], room - block[1]))
