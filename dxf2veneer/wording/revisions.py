"""What changed from one takeoff to another, in words and tables."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal

from dxf2veneer.basics.units import POUND_KG
from dxf2veneer.model import (
    DRAFTING,
    FIGURES,
    Change,
    Figure,
    FigureKind,
    LineChange,
    PartChange,
    Revision,
    WallChange,
)
from dxf2veneer.wording.measures import area_text, length_text
from dxf2veneer.wording.say import say
from dxf2veneer.wording.table import table

FIGURE_WORDS: dict[str, str] = {
    "gross_area_sqft": "gross area",
    "opening_area_sqft": "openings, area",
    "deducted_area_sqft": "openings deducted",
    "trim_area_sqft": "trim, area",
    "cap_area_sqft": "caps, area",
    "net_area_sqft": "net area",
    "outside_corner_run_in": "outside corners",
    "inside_corner_run_in": "inside corners",
    "mitre_corner_run_in": "mitered corners",
    "end_run_in": "finished ends",
    "base_run_in": "base",
    "starter_run_in": "starter",
    "cap_run_in": "caps",
    "rake_run_in": "rakes",
    "trim_head_in": "trim at heads",
    "trim_jamb_in": "trim at jambs",
    "trim_sill_in": "trim at sills",
    "openings": "openings",
    "flat_panels": "flat panels",
    "corner_panels": "corner panels",
    "panel_packages": "packages of panels",
    "weight_lb": "weight",
    "labour_hours": "hours",
    "materials": "materials",
    "labour": "labor",
    "price": "price",
}
"""What each figure is called."""
CHANGE_WORDS: dict[Change, str] = {
    "same": "the same",
    "moved": "moved",
    "resized": "resized",
    "added": "added",
    "removed": "removed",
    "renamed": "renamed",
    "unsure": "not sure",
}
"""What each change is called."""
TOTALS_HEAD = ("", "before", "now", "difference", "added", "deducted", "of no one wall")
"""Headings of the table of totals."""
LINES_HEAD = ("line", "before", "now", "cost before", "cost now", "difference")
"""Headings of the table of lines that differ."""
_LEAST: dict[FigureKind, float] = {
    "area": 0.005, "run": 1 / 32, "count": 0.005, "weight": 0.05, "hours": 0.005, "money": 0.005,
}  # fmt: skip
"""What is shown as nothing."""


def figure_text(key: str, value: Figure, display: str, currency: str = "") -> str:
    """A figure for a person.

    Args:
        key: One of ``model.FIGURES``.
        value: The amount; None for one that is not known.
        display: Units for the reader: ``imperial`` or ``metric``.
        currency: What money is in.

    Returns:
        Such as ``12.50 sq ft`` or ``-3'-6"``; a dash for None.
    """
    if value is None:
        return "-"
    number = float(value)
    if not is_shown(key, value):
        number = 0.0
    match FIGURES[key]:
        case "area":
            return area_text(number, display)
        case "run":
            return length_text(number, display)
        case "weight":
            return f"{number * POUND_KG:,.1f} kg" if display == "metric" else f"{number:,.1f} lb"
        case "hours":
            return f"{number:,.2f} h"
        case "money":
            return f"{number:,.2f} {currency}".rstrip()
    return f"{number:,.2f}".rstrip("0").rstrip(".")


def is_shown(key: str, value: Figure) -> bool:
    """Whether a figure is shown as more than nothing.

    Args:
        key: One of ``model.FIGURES``.
        value: The amount; None for one that is not known.

    Returns:
        False for None too.
    """
    return value is not None and abs(float(value)) >= _LEAST[FIGURES[key]]


def delta_text(key: str, value: Figure, display: str, currency: str = "") -> str:
    """A difference for a person.

    Args:
        key: One of ``model.FIGURES``.
        value: The difference; None for one that is not known.
        display: Units for the reader: ``imperial`` or ``metric``.
        currency: What money is in.

    Returns:
        As ``figure_text`` with a sign before it.
    """
    text = figure_text(key, value, display, currency)
    return f"+{text}" if value is not None and value > 0 and is_shown(key, value) else text


def compare_lines(revision: Revision) -> Iterator[str]:
    """What changed, wall by wall and in all.

    Args:
        revision: The comparison.

    Returns:
        Lines for the terminal; empty ones between paragraphs.
    """
    display = revision.new.display
    yield summary_line(revision)
    for note in revision.notes:
        yield f"note: {say(note, display)}"
    for wall in revision.walls:
        if wall.touched:
            yield ""
            yield from wall_lines(wall, revision)
    others = list(apart_lines(revision))
    if others:
        yield ""
        yield from others
    rows = list(totals_rows(revision))
    if rows:
        yield ""
        yield from table(TOTALS_HEAD, rows)
    lines = list(lines_rows(revision))
    if lines:
        yield ""
        yield from table(LINES_HEAD, lines)
    yield from _hand_lines(revision)


def apart_lines(revision: Revision) -> Iterator[str]:
    """What changed that no wall has: files, layers, units.

    Args:
        revision: The comparison.

    Returns:
        A line for each.
    """
    for part in revision.parts:
        if part.change != "same" and _is_apart(part):
            yield say(part.told, revision.new.display)


def _hand_lines(revision: Revision) -> Iterator[str]:
    changes = revision.new.hand_changes
    for fits, words in ((True, "carried over"), (False, "that no longer fit")):
        found = [change for change in changes if change.fits == fits]
        if found:
            yield ""
            yield f"Changes by hand {words}:"
            yield from (
                f"  {c.sheet}, {c.row}, {c.heading}: {c.by_hand} in place of {c.computed}"
                for c in found
            )


def _is_apart(part: PartChange) -> bool:
    """Whether it is told apart from walls."""
    return part.what in DRAFTING or (part.wall_old is None and part.wall_new is None)


def summary_line(revision: Revision) -> str:
    """What changed in one line.

    Args:
        revision: The comparison.

    Returns:
        How many walls, openings and other things are what.
    """
    counted = [
        ("wall", Counter(wall.change for wall in revision.walls)),
        ("opening", Counter(opening.change for opening in revision.openings)),
    ]
    for what, name in (
        ("corner", "corner"), ("end", "end"), ("cap", "cap"), ("level", "level line")
    ):  # fmt: skip
        found = Counter(part.change for part in revision.parts if part.what == what)
        if set(found) - {"same"}:
            counted.append((name, found))
    names = f"{revision.old.source} -> {revision.new.source}"
    if not revision.is_changed:
        return f"{names}: no difference"
    return f"{names}: {'; '.join(_counted(name, found) for name, found in counted if found)}"


def _counted(name: str, found: Counter[Change]) -> str:
    parts = [f"{found[change]} {words}" for change, words in CHANGE_WORDS.items() if found[change]]
    return f"{name}s: {', '.join(parts)}"


def wall_lines(wall: WallChange, revision: Revision) -> Iterator[str]:
    """What changed on one wall, and what that does.

    Args:
        wall: The wall.
        revision: The comparison.

    Returns:
        Lines, those of its openings and edges indented.
    """
    display, currency = revision.new.display, revision.new.currency
    yield say(wall.told, display)
    for opening in revision.openings:
        if opening.change != "same" and _is_of(wall, opening.wall_old, opening.wall_new):
            yield f"  {say(opening.told, display)}"
    for part in revision.parts:
        own = part.what not in DRAFTING and _is_of(wall, part.wall_old, part.wall_new)
        if part.change != "same" and own:
            yield f"  {say(part.told, display)}"
    figures = [
        f"{FIGURE_WORDS[key]} {delta_text(key, wall.delta[key], display, currency)}"
        for key in FIGURES
        if is_shown(key, wall.delta.get(key))
    ]
    if figures:
        yield f"  {', '.join(figures)}"


def _is_of(wall: WallChange, old: str | None, new: str | None) -> bool:
    """Whether something is told with a wall: with that where it is now, or was."""
    return new == wall.id_new if new is not None else old is not None and old == wall.id_old


def totals_rows(revision: Revision) -> Iterator[tuple[str, ...]]:
    """The table of totals that differ.

    Args:
        revision: The comparison.

    Returns:
        A text for each of ``TOTALS_HEAD``; add and deduct of money are of changed walls.
    """
    display, currency = revision.new.display, revision.new.currency
    for key, title in FIGURE_WORDS.items():
        old, new = revision.old.totals.get(key), revision.new.totals.get(key)
        off = revision.delta.get(key)
        if not (is_shown(key, off) or (off is None and (old, new) != (None, None))):
            continue
        yield (
            title,
            figure_text(key, old, display, currency),
            figure_text(key, new, display, currency),
            *(
                delta_text(key, figures.get(key), display, currency)
                for figures in (revision.delta, revision.add, revision.deduct)
            ),
            delta_text(key, revision.rest(key), display, currency),
        )


def lines_rows(revision: Revision) -> Iterator[tuple[str, ...]]:
    """The lines of order, work and charges that differ.

    Args:
        revision: The comparison.

    Returns:
        A text for each of ``LINES_HEAD``.
    """
    for change in revision.lines:
        sides = (change.old, change.new)
        costs = [line.cost if line else Decimal(0) for line in sides]
        old, new = costs
        off = None if old is None or new is None else new - old
        yield (
            change.line.title,
            *(_quantity(change, line.quantity if line else 0.0) for line in sides),
            *(figure_text("price", cost, "imperial") for cost in costs),
            delta_text("price", off, "imperial"),
        )


def _quantity(change: LineChange, quantity: float | None) -> str:
    if quantity is None:
        return ""
    return f"{quantity:,.2f}".rstrip("0").rstrip(".") + f" {change.line.unit}".rstrip()


def each_rows(revisions: Sequence[tuple[str, Revision]]) -> Iterator[tuple[str, ...]]:
    """A row for each pair of drawings.

    Args:
        revisions: What each is called, and the comparison.

    Returns:
        A text for each of ``EACH_HEAD``.
    """
    for name, revision in revisions:
        display, currency = revision.new.display, revision.new.currency
        changed = Counter(
            one.change for group in (revision.walls, revision.openings) for one in group
        )
        yield (
            name,
            *(str(changed[change]) for change in _EACH_CHANGES),
            delta_text("net_area_sqft", revision.delta["net_area_sqft"], display),
            delta_text("price", revision.delta.get("price"), display, currency),
        )


_EACH_CHANGES: tuple[Change, ...] = (
    "same", "moved", "resized", "added", "removed", "renamed", "unsure",
)  # fmt: skip
EACH_HEAD = ("drawing", *(CHANGE_WORDS[change] for change in _EACH_CHANGES), "net area", "price")
"""Headings of the table across drawings; walls and openings are counted together."""
