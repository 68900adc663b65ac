"""The file of site measures: sizes that a person measured on the wall, and courses already laid.

It is TOML like the job file: one reader with file and line in its messages, and lengths with their
units; a spreadsheet would turn 3/4 into a date. ``writers/site_sheet.py`` writes one with every
drawn size beside an empty field.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dxf2veneer.basics.messages import Message
from dxf2veneer.config.checks import as_choice, as_count, as_length, as_tables, as_text
from dxf2veneer.config.settings import fill, setting
from dxf2veneer.config.toml_file import SettingsFile, read

_OPENING = re.compile(r"W\d+-O\d+")
_WALL = re.compile(r"W\d+")
_MOST_COURSES = 100_000


@dataclass(frozen=True)
class Measure:
    """A size in inches as it stands in the sheet; None where the field is empty."""

    measured: float | None = None
    drawn: float | None = None


@dataclass(frozen=True)
class MeasureAt:
    """A wall's width at a height above its lowest point, in inches."""

    at: float
    measured: float | None = None
    drawn: float | None = None


@dataclass(frozen=True)
class RealJoints:
    """A course that was laid otherwise: its joints from the fixed edge, in inches."""

    course: int
    """1 the first."""
    at: tuple[float, ...] | None = None
    """None where the field is empty: it was laid as planned."""


def _as_blank(check: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """The same check for a field that may be empty."""
    return lambda value: None if value == "" else check(value)


_LENGTH = _as_blank(as_length())


def _as_lengths(value: Any) -> tuple[float, ...] | None:
    """A list of lengths; nothing for an empty field."""
    if value in ("", [], ()):
        return None
    listed = value if isinstance(value, list | tuple) else [value]
    return tuple(as_length()(one) for one in listed)


def _as_measure(value: Any) -> Measure:
    """A length, or a table with the drawn and the measured one. Raises WrongValueError."""
    if not isinstance(value, dict):
        return Measure(_LENGTH(value))
    read_table = as_tables(Measure, measured=(_LENGTH, None), drawn=(_LENGTH, None))
    (one,) = read_table(value)
    assert isinstance(one, Measure)
    return one


def _as_laid(value: Any) -> int:
    """How many courses; none for an empty field. Raises WrongValueError."""
    return 0 if value in ("", 0, "0") else as_count(_MOST_COURSES)(value)


_SIZE = '{ drawn = "36", measured = "36 1/4" }'


@dataclass(frozen=True)
class SheetSettings:
    """What holds for the whole sheet."""

    most_off: float = setting(
        6.0,
        "how far a measured size may be from the drawn one before it is taken for a slip",
        as_length(0.0, 120.0),
        '"6"',
    )
    note: str = setting("", "who measured, and when", as_text, '"measured 3 March"')


@dataclass(frozen=True)
class WallMeasures:
    """What was measured of one wall."""

    fixed: str = setting(
        "left",
        "the side edge, seen from outside, from which is measured: it stays where it is drawn",
        as_choice("left", "right"),
        '"left"',
    )
    widths: tuple[MeasureAt, ...] = setting(
        (),
        "widths at heights above the wall's lowest point",
        as_tables(
            MeasureAt, at=(as_length(), ...), measured=(_LENGTH, None), drawn=(_LENGTH, None)
        ),
        '[{ at = "0", measured = "24\'-0 1/2" }]',
    )
    height: Measure | None = setting(
        None, "height from its lowest point to its level top", _as_measure, _SIZE
    )
    laid: int = setting(0, "courses that are laid already, from the bottom", _as_laid, "3")
    joints: tuple[RealJoints, ...] = setting(
        (),
        "joints of laid courses that were not laid as planned, from the fixed edge where the wall "
        "is widest",
        as_tables(RealJoints, course=(as_count(_MOST_COURSES), ...), at=(_as_lengths, None)),
        '[{ course = 2, at = ["14 1/2", "50 1/2"] }]',
    )


@dataclass(frozen=True)
class OpeningMeasures:
    """What was measured of one opening."""

    edge: Measure | None = setting(
        None, "from the wall's fixed edge to its nearer side", _as_measure, _SIZE
    )
    width: Measure | None = setting(None, "width", _as_measure, _SIZE)
    sill: Measure | None = setting(
        None, "from the wall's lowest point to its sill", _as_measure, _SIZE
    )
    head: Measure | None = setting(
        None, "from the wall's lowest point to its head", _as_measure, _SIZE
    )


@dataclass(frozen=True)
class SiteSheet:
    """A file of site measures as read."""

    path: Path
    settings: SheetSettings
    walls: tuple[tuple[str, WallMeasures], ...]
    """By the wall's id, in the order of the file."""
    openings: tuple[tuple[str, OpeningMeasures], ...]
    """By the opening's id."""
    file: SettingsFile

    def place(self, section: str, key: str = "") -> Message:
        """Where a wall, an opening or a size of one stands."""
        return self.file.place(section, key)


def load_site(path: Path) -> SiteSheet:
    """Read a file of site measures.

    Args:
        path: The file (TOML).

    Returns:
        Its sizes in inches. Whether walls and openings of those names exist is not known here.

    Raises:
        SettingsError: It can't be read, or for the first thing in it that is wrong.
    """
    file = read(path)
    sections: dict[str, type] = {"site": SheetSettings}
    for name in file.values:
        if _OPENING.fullmatch(name):
            sections[name] = OpeningMeasures
        elif _WALL.fullmatch(name):
            sections[name] = WallMeasures
    values = fill(file, sections)
    made = {
        section: owner(**{key: value for (s, key), value in values.items() if s == section})
        for section, owner in sections.items()
    }
    return SiteSheet(
        path,
        made["site"],
        tuple((name, one) for name, one in made.items() if isinstance(one, WallMeasures)),
        tuple((name, one) for name, one in made.items() if isinstance(one, OpeningMeasures)),
        file,
    )
